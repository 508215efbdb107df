"""Recipes by hand: no text is read, so that the sums are tested and not the reading."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, cast

from msgspec.structs import replace

from overhaul.recipe.model import Amount, Cure, Fact, Ingredient, Meat, Process, Recipe, Role, Section, Strength
from overhaul.span import Span, exactly
from overhaul.text import Page, Place

POUND, OUNCE = 453.59237, 28.349523125
QUART_OF_WATER = 946.352946 * 0.99902  # litres by law, density at 60 °F
NOWHERE = Place(0, 0)


def span(value: float | tuple[float, float, float]) -> Span:
    return Span(*value) if isinstance(value, tuple) else exactly(value)


def item(role: Role, gram: float | tuple[float, float, float] | None, line: int = 1, nitrite: float | None = None, percent_of_meat: float | None = None) -> Ingredient:
    """An ingredient of this role, weighed when its grams are one figure."""
    unit, figure = ("percent", percent_of_meat) if percent_of_meat is not None else ("gram", span(gram).likely if gram is not None else None)
    amount = Amount(Fraction(str(figure)), Fraction(str(figure)), unit, NOWHERE) if figure is not None else None
    strength = Strength(exactly(nitrite), None, NOWHERE) if nitrite is not None else None
    return Ingredient(line, role, NOWHERE, role, NOWHERE, role, amount=amount, mass=span(gram) if gram is not None else None, weighed=not isinstance(gram, tuple), strength=strength)


def fact(low: float, high: float, unit: str) -> Fact:
    return Fact(low, high, unit, 1, NOWHERE)


def recipe(
    *items: Ingredient, meat: float | tuple[float, float, float] | None = 2000, mm: float | tuple[float, float, float] | None = 45, method: str | None = "immersion",
    species: str = "beef", days: float | None = 7, **process: Any,
) -> Recipe:  # fmt: skip
    """``items`` (numbered from line 2) around one piece of lean meat, cured at 3 °C."""
    lines = tuple(replace(one, line=number) for number, one in enumerate(items, 2))
    piece = Meat(
        1, NOWHERE, "meat", species, None, (1, 1), span(meat) if meat is not None else None, True, span(mm) if mm is not None else None, True,
    )  # fmt: skip
    cure = Cure(cast("Any", method), None, 1, NOWHERE) if method is not None else None
    stay = fact(days, days, "day") if days is not None else None
    settled = Process(meats=(piece,), meat=piece, cure=cure, cure_time=stay, cure_temperature=fact(37.4, 37.4, "degF"))
    return Recipe(Page("Made by hand\n"), "Made by hand", NOWHERE, None, (Section(None, 1, NOWHERE, lines),), (), replace(settled, **process))
