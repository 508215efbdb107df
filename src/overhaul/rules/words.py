"""Words that the rules share: figures as a cook says them, and findings about something missing."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe.model import Amount, Fact, Ingredient, Recipe
from overhaul.rules.rule import Case
from overhaul.span import Span
from overhaul.sums.work import Sums
from overhaul.sums.worked import figure, round_
from overhaul.text import Place


def ppm(value: float) -> str:
    return f"{round_(value)} ppm"


def percent(value: float) -> str:
    return f"{value:.1f} %"


def gram(value: float) -> str:
    """Curing salt is weighed to a tenth of a gram, everything else to the gram."""
    return f"{value:.1f} g" if value < 100 else f"{value:,.0f} g"


def degrees(low: float, high: float | None = None) -> str:
    """Fahrenheit with Celsius beside it."""
    high = low if high is None else high
    if round(low) == round(high):
        return f"{low:.0f} °F ({(low - 32) * 5 / 9:.0f} °C)"
    return f"{low:.0f} to {high:.0f} °F ({(low - 32) * 5 / 9:.0f} to {(high - 32) * 5 / 9:.0f} °C)"


def celsius(value: float) -> str:
    """Celsius with Fahrenheit beside it."""
    return f"{value:.0f} °C ({value * 9 / 5 + 32:.0f} °F)"


def span(low: float, high: float, unit: str) -> str:
    """``7 to 10 days``, ``1 day``."""
    name = units.in_words(unit, several=not low == high == 1)
    return f"{low:g} {name}" if low == high else f"{low:g} to {high:g} {name}"


def told(fact: Fact) -> str:
    """A stated time in its own unit."""
    return span(fact.low, fact.high, fact.unit)


def amount_words(recipe: Recipe, amount: Amount) -> str:
    return recipe.page.words(amount.place).replace("\n", " ")


def short(cite: Cite) -> str:
    """A source as a message names it: the first words of its title, ``9 CFR 424.21(c)``."""
    return facts.source(cite.key).title.split(",")[0].split(":")[0]


def plain_line(item: Ingredient) -> bool:
    """Whether the line's amount can be replaced by a weight and the line still says what it means.

    Not a rate or a percentage, not told twice or another way, not one of several columns, not so much for each piece.
    """
    return item.amount is not None and not (item.per is not None or item.also or item.instead or item.columns or item.count is not None or item.amount.unit == "percent")


def weighed_instead(item: Ingredient, weight: str) -> tuple[Edit, ...]:
    """``weight`` in place of the amount, where the line is a plain one; else no edit."""
    return (Edit(item.amount.place, weight),) if item.amount is not None and plain_line(item) else ()


def worked_with(case: Case, item: Ingredient, mass: Span, **changes: Any) -> Sums:
    """The recipe's sums worked again with ``item`` weighing ``mass`` gram: how a remedy is checked before it is given."""
    changed = replace(item, mass=mass, weighed=True, **changes)
    sections = tuple(replace(section, ingredients=tuple(changed if one is item else one for one in section.ingredients)) for section in case.recipe.sections)
    return Sums(replace(case.recipe, sections=sections), case.house)


def missing(recipe: Recipe, rule: str, line: int, message: str, text: str, new: str | None = None, grade: Grade = Grade.QUERY, certain: bool = False, sources: tuple[Cite, ...] = (), sum_: str | None = None, settled_by: str | None = None) -> Finding:
    """A finding about something absent: it points at the end of the line after which it should stand."""
    place = recipe.page.end_of(line)
    edits = (Edit(place, f"\n{new}"),) if new is not None else ()
    return Finding(rule, grade, certain, place, message, True, sum_, Remedy(text, edits), sources, settled_by=settled_by)


def last_line_of(recipe: Recipe, *phases: str) -> int | None:
    """The last line of the last step in one of these phases."""
    lines = [step.end_line for step in recipe.steps if step.does(*phases)]
    return max(lines) if lines else None


def first_line_of(recipe: Recipe, *phases: str) -> int | None:
    """The last line of the first step in one of these phases."""
    return next((step.end_line for step in recipe.steps if step.does(*phases)), None)


def empty(place: Place) -> Place:
    return Place(place.end, place.end)


__all__ = ["amount_words", "celsius", "degrees", "empty", "figure", "first_line_of", "gram", "last_line_of", "missing", "percent", "plain_line", "ppm", "round_", "short", "span", "told", "weighed_instead", "worked_with"]
