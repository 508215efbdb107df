"""Cases for the rules: from hand-made model objects with sums that are given, or from a page of text."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, cast

from overhaul.findings import Finding
from overhaul.house import House
from overhaul.recipe.model import Amount, Cure, Fact, Ingredient, Meat, Process, Product, Recipe, Role, Section
from overhaul.rules.rule import Case, Rule
from overhaul.span import Span, exactly
from overhaul.sums.work import Sums
from overhaul.sums.worked import Input, Sum
from overhaul.text import Page, Place
from tests.conftest import findings_of, where

HOUSE = House()


class Given(Sums):
    """Sums that a test gives by name; every other one is worked as usual."""

    def __init__(self, recipe: Recipe, house: House, given: dict[str, Sum]) -> None:
        super().__init__(recipe, house)
        self.given = given

    def get(self, name: str) -> Sum | None:
        return self.given.get(name) or super().get(name)


def ppm(name: str, low: float, likely: float, high: float, gain_stated: bool = False) -> Sum:
    """A nitrite or nitrate sum of this span, ppm; a pick-up has its gain in percent."""
    inputs = (Input("weight picked up", exactly(10), "percent", None, gain_stated),) if name.endswith("pick_up") else ()
    return Sum(name, Span(low, likely, high), "ppm", "as given", inputs)


def item(page: Page, line: int, role: Role, gram: float, name: str) -> Ingredient:
    """Line ``line`` of ``page``, which reads ``GRAM g NAME``."""
    place = page.lines[line - 1].place
    amount = Place(place.start, place.start + len(f"{gram:g} g"))
    stated = Amount(Fraction(str(gram)), Fraction(str(gram)), "gram", amount)
    return Ingredient(line, page.line(line), place, name, Place(amount.end + 1, place.end), role, amount=stated, mass=exactly(gram), weighed=True)


def recipe_with(
    role: Role = "cure1", gram: float = 20, method: str = "immersion", product: Product = "corned beef", cut: str | None = "beef_brisket_flat", species: str | None = "beef",
    ground: bool = False, skin: bool = False, pump: float | None = None, wet: bool = True,
) -> Recipe:  # fmt: skip
    """Two kilograms of meat, two of water, 100 g salt and ``gram`` of one curing salt on line 5; no text was read for it."""
    page = Page(f"Corned beef\n2000 g brisket\n2000 g water\n100 g salt\n{gram:g} g cure")
    water = (item(page, 3, "water", 2000, "water"),) if wet else ()
    lines = (item(page, 2, "meat", 2000, "brisket"), *water, item(page, 4, "salt", 100, "salt"), item(page, 5, role, gram, "cure #1"))
    meat = Meat(2, lines[0].name_place, "brisket", species, cut, (1, 1), exactly(2000), True, None, False, skin=skin, ground=ground)
    pumped = Fact(pump, pump, "percent", 1, Place(0, 0)) if pump is not None else None
    process = Process(meats=(meat,), meat=meat, cure=Cure(cast("Any", method), None, 1, Place(0, 0)), pump=pumped)
    return Recipe(page, "Corned beef", Place(0, 11), product, (Section(None, 2, Place(0, 0), lines),), (), process, cured=True)


def case_with(*sums: Sum, house: House = HOUSE, **recipe: Any) -> Case:
    """``recipe_with``, and exactly these sums in place of the worked ones of their names."""
    made = recipe_with(**recipe)
    return Case(made, Given(made, house, {one.name: one for one in sums}), house)


def says(rule: Rule, case: Case) -> list[Finding]:
    """What one rule says."""
    return list(rule.check(case))


def said(text: str, house: House = HOUSE) -> list[tuple[str, str, str]]:
    """Everything that all rules say of ``text``: rule, grade (``certain hazard``), place as ``line:column-end``."""
    page = Page(text)
    return sorted((one.rule, f"certain {one.grade}" if one.certain else str(one.grade), where(one, page)) for one in findings_of(text, house))


def edited(text: str, finding: Finding) -> str:
    """``text`` with the finding's remedy made."""
    edits = finding.remedy.edits if finding.remedy is not None else ()
    for edit in sorted(edits, key=lambda one: -one.place.start):
        text = text[: edit.place.start] + edit.new + text[edit.place.end :]
    return text
