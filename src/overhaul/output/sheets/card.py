"""The batch card: what is called for beside what was weighed, limits beside blanks, and who stands for it."""

from __future__ import annotations

from math import ceil
from typing import Any

from msgspec import Struct

from overhaul.bench import hazards, labelling
from overhaul.bench.control_points import control_points, stand_of
from overhaul.bench.weights import by_section, called_for, shown, stated_green, step_of
from overhaul.output.paper import day
from overhaul.output.sheets import Asked
from overhaul.recipe.model import Recipe
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case
from overhaul.span import Span
from overhaul.sums import share
from overhaul.sums.work import Sums

_MOST_DAYS, _SOME_DAYS = 31, 7  # boxes of the cold-room log: no more, and where the page gives no days


class Pump(Struct, frozen=True):
    """What a pumped piece is to weigh."""

    percent: str | None
    green: str | None
    target: str | None


def body(recipe: Recipe, sums: Sums, asked: Asked) -> dict[str, Any]:
    case = Case(recipe, sums, sums.house)
    rows = called_for(recipe, sums)
    points = control_points(recipe, sums)
    cure = recipe.process.cure
    cured = cure is not None and cure.method != "none"
    meat = recipe.process.meat
    return {
        "hazards": hazards.hazards(recipe, sums), "told": lambda one: hazards.told(recipe, one), "meats": [row for row in rows if row.role == "meat"],
        "thickness": judging.length(recipe, meat.thickness.likely) if meat is not None and meat.thickness is not None and meat.thickness_stated else None,
        "lists": [(name, own) for name, own in by_section(tuple(row for row in rows if row.role != "meat")) if own], "cures": [row for row in rows if row.cure], "rates": any(row.rate for row in rows),
        "columns": any(item.columns for item in recipe.ingredients), "pump": _pump(recipe, sums), "cured": cured, "stay": words.told(recipe.process.cure_time) if recipe.process.cure_time is not None else None,
        "dates": _dates(recipe, asked), "turn": turning(recipe, asked), "boxes": _boxes(recipe) if cured else 0, "points": points, "heated": recipe.process.smoke is not None or any(point.key == "end" for point in points), "stand": stand_of(recipe),
        "log": _log(case), "cooling": [point for point in points if point.key.startswith("cool")], "law": sums.house.law,
    }  # fmt: skip


def turning(recipe: Recipe, asked: Asked) -> str | None:
    """When it is turned: the days, or the page's own sentence."""
    process = recipe.process
    if process.turning is None:
        return None
    if process.turning_days:
        days = labelling.turning_days(asked.put_in, process.turning_days) if asked.put_in is not None else ()
        return ", ".join(day(one).rsplit(" ", 1)[0] for one in days) if days else f"days {', '.join(str(one) for one in process.turning_days)} (day 1: in)"
    return labelling.how_often(recipe)


def _dates(recipe: Recipe, asked: Asked) -> tuple[str, str | None] | None:
    """The day in and the day out, where the day in is told."""
    if asked.put_in is None:
        return None
    stay = recipe.process.cure_time
    out = labelling.out_of_cure(asked.put_in, stay) if stay is not None else None
    return day(asked.put_in), None if out is None else day(out[0]) if out[0] == out[1] else f"{day(out[0])} to {day(out[1])}"


def _boxes(recipe: Recipe) -> int:
    stay = recipe.process.cure_time
    return _SOME_DAYS if stay is None else max(1, min(ceil(judging.days(stay)[1]), _MOST_DAYS))


def _pump(recipe: Recipe, sums: Sums) -> Pump | None:
    process = recipe.process
    if process.cure is None or not process.cure.method.startswith("pumped"):
        return None
    green = stated_green(sums)
    step = step_of(sums, cure=False)
    if process.pump is None:
        return Pump(None, _weight(green, step), None)
    target = Span(share.pumped_gram(green.low, process.pump.low), share.pumped_gram(green.likely, process.pump.span.likely), share.pumped_gram(green.high, process.pump.high)) if green is not None else None
    return Pump(words.span(process.pump.low, process.pump.high, "percent"), _weight(green, step), _weight(target, step))


def _weight(span: Span | None, step: float) -> str | None:
    if span is None:
        return None
    low, high = shown(span.low, step), shown(span.high, step)
    return low if low == high else f"{low} to {high}"


def _log(case: Case) -> dict[str, str | None]:
    """What the page says of the heat, for the head of the log."""
    process = case.process
    return {
        "air": " ".join(case.recipe.page.words(process.smoke_temperature.place).split()) if process.smoke_temperature is not None else None,
        "end": " ".join(case.recipe.page.words(process.final_temperature.place).split()) if process.final_temperature is not None else None,
        "rest": " ".join(case.recipe.page.words(process.rest.place).split()) if process.rest is not None else None,
    }  # fmt: skip
