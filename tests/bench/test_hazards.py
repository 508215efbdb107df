from __future__ import annotations

from msgspec.structs import replace

from overhaul.bench.hazards import hazards, told
from overhaul.house import House
from overhaul.sums.work import Sums
from overhaul.text import Place
from tests.conftest import recipe_of
from tests.output.sheets.made import SMALL

WARM = SMALL.replace("Fridge at 3 °C, 9 days", "In the shed at 15 °C, 9 days").replace("12 g cure", "120 g cure")


def test_certain_ones_first_and_faults_not_at_all() -> None:
    recipe = recipe_of(WARM.replace("Keeps 4 days", "Keeps 3 weeks"))
    found = hazards(recipe, Sums(recipe, House()))
    assert [(told(recipe, one), one.certain) for one in found] == [("cured-too-warm, line 12", True), ("curing-salt-over-limit, line 6", False)]


def test_a_field_that_stands_on_no_line() -> None:
    recipe = recipe_of(WARM)
    found = hazards(recipe, Sums(recipe, House()))[0]
    end = len(recipe.page.text) + 5
    assert told(recipe, replace(found, place=Place(end, end + 3))) == "cured-too-warm, a field of the recipe file"
