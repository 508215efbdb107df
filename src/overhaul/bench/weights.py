"""What the page calls for, as a scale shows it: one row an ingredient, none left out."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from overhaul import facts
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Ingredient, Recipe
from overhaul.rules import words
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case
from overhaul.span import Span
from overhaul.sums import share, solving
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, figure

_AGENTS = ("nitrite", "nitrate")


class Called(Struct, frozen=True):
    """One ingredient: its weight where the page settles it, else its span and the words of the page."""

    section: str | None
    name: str
    line: int
    cure: bool
    role: str
    grams: str | None  # "16.0 g": what the scale should show
    spread: str | None  # "375 to 765 g (likely 555)": what the page's measure may weigh
    written: str  # the amount in the page's own words, or the whole line where it has none
    rate: str | None = None  # "0.25 % of the meat"
    strength: str | None = None  # "6.25 % nitrite"
    stated: bool = False  # the page or the house sheet gives the strength
    percent: Span | None = None  # of green weight
    counted: bool = False  # by the piece: nobody weighs six bay leaves
    optional: bool = False
    instead: tuple[str, ...] = ()


def called_for(recipe: Recipe, sums: Sums) -> tuple[Called, ...]:
    """Every ingredient in the order of the page."""
    green = stated_green(sums)
    return tuple(_row(recipe, sums, section.name, item, green) for section in recipe.sections for item in section.ingredients)


def stated_green(sums: Sums) -> Span | None:
    """The green weight in gram where the page states it."""
    try:
        return sums.stated_meat().value
    except CannotTell:
        return None


def step_of(sums: Sums, cure: bool) -> float:
    """What the kitchen's scale shows, gram."""
    name = "cure" if cure else "other"
    return sums.house.scale.get(name, facts.table("sums")[f"scale.{name}"].value)


def shown(gram: float, step: float) -> str:
    """``gram`` as a scale of this step shows it: ``16.0 g``, ``1,134 g``; what is less than a step stands as it is."""
    places = max(0, len(f"{step:.9f}".rstrip("0").split(".")[1]))
    on_scale = solving.weighable(gram, step)
    return f"{on_scale:,.{places}f} g" if on_scale > 0 else figure(Span(gram, gram, gram), "gram")


def name_of(item: Ingredient) -> str:
    """What it is called; where no word of the line was understood as a name, the line."""
    return item.name or " ".join(item.text.strip(" |\t").split()) or item.role


def _row(recipe: Recipe, sums: Sums, section: str | None, item: Ingredient, green: Span | None) -> Called:
    cure = item.role in CURING_SALTS
    step = step_of(sums, cure)
    grams = spread = None
    if (mass := item.mass) is not None and mass.low >= 0:
        if mass.exact and item.weighed:
            grams = shown(mass.likely, step)
        elif mass.exact:
            spread = f"about {shown(mass.likely, step)}"
        else:
            spread = figure(mass, "gram")
    percent = share.percent_of_green(mass, green) if mass is not None and mass.low >= 0 and green is not None and green.low > 0 else None
    strength, stated = _strength(recipe, sums, item) if cure else (None, False)
    counted = item.amount is not None and not item.weighed and units.dimension(item.amount.unit) == "thing" and item.role not in (*CURING_SALTS, "salt", "meat", "water", "ice")
    instead = tuple(f"{one.name}{f', {words.amount_words(recipe, one.amount)}' if one.amount is not None else ''}" for one in item.instead)
    return Called(section, name_of(item), item.line, cure, item.role, grams, spread, _written(recipe, item), _rate(item), strength, stated, percent, counted, item.optional, instead)


def _written(recipe: Recipe, item: Ingredient) -> str:
    if item.amount is None:
        return " ".join(item.text.strip(" |\t").split())
    amount = " ".join(words.amount_words(recipe, item.amount).split())
    if item.amount.vague is not None and item.amount.vague not in amount:
        amount = f"{item.amount.vague} {amount}"
    if item.count is None or item.count.place.start <= item.amount.place.start < item.count.place.end:
        return amount if item.count is None else " ".join(words.amount_words(recipe, item.count).split())
    return f"{' '.join(words.amount_words(recipe, item.count).split())} × {amount}" if item.each else amount


def _rate(item: Ingredient) -> str | None:
    if item.per is None or item.amount is None or item.amount.unit != "percent":
        return None
    low, high = float(item.amount.low), float(item.amount.high)
    told = f"{low:g} %" if low == high else f"{low:g} to {high:g} %"
    return f"{told} of the {item.per.of or 'meat'}"


def _strength(recipe: Recipe, sums: Sums, item: Ingredient) -> tuple[str | None, bool]:
    """What the curing salt holds, and whether the page or the house sheet says so."""
    case = Case(recipe, sums, sums.house)
    told = [f"{figure(held, 'percent')} {agent}" for agent in _AGENTS if (held := judging.share(case, item, agent)) is not None and held.high > 0]
    return ", ".join(told) or None, item.strength is not None or item.role in sums.house.strengths or item.role in _AGENTS


def by_section(rows: tuple[Called, ...]) -> Iterator[tuple[str | None, list[Called]]]:
    """The rows list by list, in order."""
    start = 0
    for at in range(1, len(rows) + 1):
        if at == len(rows) or rows[at].section != rows[start].section:
            yield rows[start].section, list(rows[start:at])
            start = at
