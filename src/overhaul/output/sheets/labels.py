"""Labels to cut out: for the tub in cure, for the finished food, and one of all that is in it."""

from __future__ import annotations

from datetime import date
from typing import Any

from msgspec import Struct

from overhaul.bench import hazards, labelling
from overhaul.bench.control_points import stand_of
from overhaul.bench.weights import called_for, name_of
from overhaul.output.paper import day
from overhaul.output.sheets import Asked
from overhaul.output.sheets.card import turning
from overhaul.recipe.model import Recipe
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case
from overhaul.span import Span
from overhaul.sums.work import Sums

_IN = {"immersion": " in brine", "pumped": ", pumped", "pumped-immersion": ", pumped, in brine", "dry": " in dry cure"}
TUBS, FOODS = 2, 4  # labels on a sheet
_HOLDS = {"cure1": "nitrite", "cure2": "nitrite and nitrate", "nitrite": "nitrite", "nitrate": "nitrate", "ready-mix": "nitrite"}
_FEW = 8  # names on a tub: the rest stand on the list of all that is in it


class Tub(Struct, frozen=True):
    """What the label of a tub in cure says."""

    what: str
    weight: str | None
    holds: tuple[str, ...]
    more: int
    warning: str
    put_in: str | None
    out: str | None
    stay: str | None
    turn: str | None
    keep: str


class Food(Struct, frozen=True):
    """What the label of the finished food says."""

    made: str | None
    use_by: str | None
    counted: str  # how the days are counted, or who fills them in
    keep: str
    raw: bool
    frozen: bool


def body(recipe: Recipe, sums: Sums, asked: Asked) -> dict[str, Any]:
    case = Case(recipe, sums, sums.house)
    tub = _tub(case, asked)
    told = labelling.allergens_of(recipe)
    return {
        "hazards": hazards.hazards(recipe, sums), "told": lambda one: hazards.told(recipe, one), "tub": tub, "tubs": TUBS if tub is not None else 0, "food": _food(case, asked.made), "foods": FOODS if tub is not None else FOODS + TUBS,
        "product": recipe.title, "allergens": told, "contents": tuple(dict.fromkeys(_contents(case))),
    }  # fmt: skip


def _contents(case: Case) -> list[str]:
    """Every ingredient, those with a weight first, heaviest first."""
    weighed = [(-item.mass.likely if item.mass is not None else 0.0, index, name_of(item)) for index, item in enumerate(case.recipe.ingredients)]
    return [f"{name} ({held})" if (held := _HOLDS.get(case.recipe.ingredients[index].role)) is not None and held not in name else name for _, index, name in sorted(weighed)]


def _tub(case: Case, asked: Asked) -> Tub | None:
    recipe, process = case.recipe, case.process
    if process.cure is None or process.cure.method == "none":
        return None
    brined = process.cure.method != "dry"
    names = list(dict.fromkeys(row.name for row in called_for(recipe, case.sums) if row.role != "meat" and any(item.line == row.line and item.use == "cure" for item in recipe.ingredients)))
    stay = process.cure_time
    out = labelling.out_of_cure(asked.put_in, stay) if asked.put_in is not None and stay is not None else None
    limit = judging.degrees(recipe, labelling.keeping(case).degf) if process.cure_temperature is None else judging.degrees(recipe, process.cure_temperature.low, process.cure_temperature.high)
    ground = judging.is_ground(case)
    return Tub(
        f"{' and '.join(dict.fromkeys(one.name for one in process.meats)) or 'meat'}{', mixed, raw' if ground else _IN[process.cure.method] if stand_of(recipe) == 'cure' or brined else ' in salt'}",
        _weight(case), tuple(names[:_FEW]), max(0, len(names) - _FEW), _warning(recipe, brined, ground), day(asked.put_in) if asked.put_in is not None else None,
        None if out is None else day(out[0]) if out[0] == out[1] else f"{day(out[0])} to {day(out[1])}", words.told(stay) if stay is not None else None, turning(recipe, asked), limit,
    )  # fmt: skip


def _weight(case: Case) -> str | None:
    meat = case.process.meat
    if meat is None or meat.mass is None or not meat.mass_stated:
        return None
    return _grams(meat.mass)


def _grams(mass: Span) -> str:
    low, high = (f"{value / 1000:.2f} kg ({value / 453.59237:.1f} lb)" for value in (mass.low, mass.high))
    return low if low == high else f"{low} to {high}"


def _warning(recipe: Recipe, brined: bool, ground: bool) -> str:
    agent = "nitrite" if recipe.of_role("cure1", "cure2", "nitrite", "ready-mix") else "nitrate" if recipe.of_role("nitrate") else None
    held = f"Contains {agent}. " if agent is not None else ""
    if ground:
        return f"{held}Raw: not to be tasted before it is cooked."
    what = "the brine is" if brined else f"the {stand_of(recipe)} and its juice are"
    return f"{held}Raw: {what} not for cooking, not for tasting, not for another batch."


def _food(case: Case, made: date | None) -> Food:
    kept = labelling.keeping(case)
    days = kept.days
    last = labelling.last_day(made, days) if made is not None and days is not None else None
    return Food(day(made) if made is not None else None, day(last) if last is not None else None, _counted(kept, made), judging.degrees(case.recipe, kept.degf), kept.raw, kept.frozen)


def _counted(kept: labelling.Keeping, made: date | None) -> str:
    """How the last day is found, or what is missing to find it."""
    if kept.dried:
        return "Dried or fermented: this program does not judge how long it keeps. The kitchen fills it in."
    if kept.frozen:
        return "Frozen: the day it was made stays on it. Days already used in the cold count; freezing stops the count and does not start it again."
    limit = f"{kept.most} days is the most it was checked against ({kept.source})" if kept.most is not None else ""
    if kept.days is not None:
        line = f", line {kept.line}" if kept.line is not None else ""
        cut = f"; the recipe says {kept.said}, and {limit}" if kept.cut else ""
        return f"Day 1 is the day it was made; day {kept.days} is the last{line}{cut}."
    last = labelling.last_day(made, kept.most) if made is not None and kept.most is not None else None
    most = f" No later than {day(last)}: day {kept.most}, with the day it was made as day 1; {limit}." if last is not None else f" Day 1 is the day it was made; {limit}." if limit else ""
    return f"The recipe does not say how long it keeps.{most}"
