"""A figure that may be a misprint, or that can be read two ways."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe import masses
from overhaul.recipe.model import CURING_SALTS, Amount, Ingredient
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    seen: set[Place] = set()
    for amount, what, doubt in (*_listed(case), *_told(case)):
        if amount.place not in seen:
            seen.add(amount.place)
            yield Finding(
                RULE.name, Grade.QUERY, False, amount.place, f"This may be a slip of the pen or of the scan, on {what}: {doubt}",
                remedy=Remedy("Look at the original, and write the number plainly."), sources=(Cite("common-practice"),),
            )  # fmt: skip
    for item in case.recipe.ingredients:
        if item.doubt is not None and (item.amount is None or item.amount.doubt is None):
            yield Finding(
                RULE.name, Grade.QUERY, False, item.name_place, f"This can be read two ways: {item.doubt}",
                remedy=Remedy("Write the name out, or give it in the house sheet under names."), sources=(Cite("common-practice"),),
            )  # fmt: skip
    for item in case.recipe.of_role("ice"):
        yield from _ice(case, item)


def _listed(case: Case) -> Iterator[tuple[Amount, str, str]]:
    for item in case.recipe.ingredients:
        what = "the line that matters most" if item.role in CURING_SALTS or item.role == "salt" else f"the {item.name or 'ingredient'}"
        for amount in (item.amount, *item.also):
            if amount is not None and amount.doubt is not None:
                yield amount, what, amount.doubt


def _told(case: Case) -> Iterator[tuple[Amount, str, str]]:
    for step in case.recipe.steps:
        for taken in step.uses:
            if taken.amount is not None and taken.amount.doubt is not None:
                yield taken.amount, f"the {taken.name}", taken.amount.doubt
        for measured in (*step.times, *step.temperatures, *step.lengths):
            if measured.amount.doubt is not None:
                yield measured.amount, "the method", measured.amount.doubt


def _ice(case: Case, item: Ingredient) -> Iterator[Finding]:
    """Ice by the gallon is a bucket of cubes to one cook and eight pounds to the next."""
    if item.amount is None or item.mass is None or item.weighed or item.mass.exact or units.dimension(item.amount.unit) != "volume":
        return
    as_water = masses.in_grams(item.amount, "ice", item.kind, case.house, by_weight=True)[0]
    if as_water is None or item.mass.high < as_water.likely:
        return  # a kind of ice whose measure is known
    said = words.amount_words(case.recipe, item.amount)
    yield Finding(
        RULE.name, Grade.QUERY, False, item.amount.place,
        f"{said} of ice can be read two ways: filled with ice it is about {words.gram(item.mass.likely)} (as little as {words.gram(item.mass.low)} when it lies loose), as heavy as so much water it is {words.gram(as_water.likely)}. Which is meant?",
        remedy=Remedy("Weigh the ice, and write the weight."), sources=(Cite("kitchen-weighings", "ice by the measure"), Cite("iapws")),
    )  # fmt: skip


RULE = Rule(
    name="amount-in-doubt",
    family="page",
    check=check,
    reports="A number that no cook would write so, and its likelier reading; ice by the gallon, which has two.",
    why="Copies lose strokes and points. A plausible misprint is worse than an obvious one.",
    silent="Numbers in any usual form; ice by weight, or said to be as heavy as water.",
    sources=(Cite("common-practice"),),
    sound=CORNED,
    faulty=changed(CORNED, ("2 tbsp pickling", "11/2 tbsp pickling")),
    expect=("10:1-10", "This may be a slip of the pen or of the scan, on the pickling spice: “11/2”: 1 1/2, or 11 over 2?"),
)
