"""From the brine to the smoke."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from overhaul.recipe.model import Cure, Mention, Recipe, Step
from overhaul.rules.rinse_soak_dry import no_rinse_or_soak
from overhaul.rules.rule import Case
from overhaul.rules.texts import BACON, CORNED, PASTRAMI, changed
from overhaul.text import Place
from tests.conftest import findings_of
from tests.rules.cases import HOUSE, Given, edited, recipe_with, said, says

NAME = "no-rinse-or-soak"
SOAK = "5. Rinse, then soak 4 hours in the refrigerator.\n"


def of(text: str) -> list[tuple[str, str]]:
    return [(grade, place) for rule, grade, place in said(text) if rule == NAME]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (PASTRAMI, []),
        (changed(PASTRAMI, (SOAK, "")), [("query", "14:60-60")]),
        (changed(PASTRAMI, (SOAK, "5. Rinse it.\n")), []),
        (changed(PASTRAMI, (SOAK, "5. Soak 4 hours in the refrigerator.\n")), []),
        (changed(CORNED, ("5. Rinse well. Soak 2 hours in cold water in the refrigerator.\n", "")), []),  # simmered, not smoked
        (changed(PASTRAMI, (SOAK, ""), ("8. Steam, covered, 2 hours,", "8. Simmer in fresh water 2 hours,")), []),  # the pot soaks it
        (changed(BACON, ("3. Rinse and pat dry. Dry on", "3. Dry on")), []),  # a weighed dry cure
    ],
    ids=["sound", "neither", "rinse", "soak", "simmered", "smoked and simmered", "dry cure"],
)
def test_neither_rinse_nor_soak(text: str, wanted: list[tuple[str, str]]) -> None:
    assert of(text) == wanted


def test_the_line_to_add_settles_it() -> None:
    text = changed(PASTRAMI, (SOAK, ""))
    (found,) = [one for one in findings_of(text) if one.rule == NAME]
    assert said(edited(text, found)) == []


def smoked(recipe: Recipe) -> Case:
    place = Place(12, 19)
    step = Step(2, 2, "Smoke it.", place, "smoke", ("smoke",))
    made = replace(recipe, steps=(step,), process=replace(recipe.process, smoke=Mention(2, place, "Smoke")))
    return Case(made, Given(made, HOUSE, {}), HOUSE)


def test_no_soak_is_wanted_after_a_weighed_brine() -> None:
    recipe = recipe_with()
    assert says(no_rinse_or_soak.RULE, smoked(recipe))
    weighed = replace(recipe, process=replace(recipe.process, cure=Cure("immersion", "equilibrium", 1, Place(0, 0))))
    assert says(no_rinse_or_soak.RULE, smoked(weighed)) == []


def test_fish_is_not_held_to_it() -> None:
    assert says(no_rinse_or_soak.RULE, smoked(recipe_with(product="fish", species="fish", cut=None))) == []
