"""After the fire: rest, hot hold, cool-down."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from overhaul.findings import Grade
from overhaul.house import House
from overhaul.recipe.model import Cooling
from overhaul.rules.rest_hold_cool import cooling_slow
from overhaul.rules.rule import Case
from overhaul.rules.texts import BACON, CORNED, PASTRAMI, TURKEY, changed
from overhaul.span import exactly
from overhaul.sums.worked import Sum
from overhaul.text import Place
from tests.conftest import findings_of
from tests.rules.cases import Given, edited, recipe_with, said, says
from tests.rules.smoke_and_cook.test_final_temperature import FINISH, TROUT

REST, HOLD, NO_COOL, COUNTER, SLOW = "rest-missing", "hot-hold-low", "cool-down-not-written", "cooled-at-room-temperature", "cooling-slow"
COOL = "8. Cool what is left from 135 to 70 F in 2 hours, and to 41 F in 4 hours more."


def of(rule: str, text: str) -> list[tuple[str, str]]:
    return [(grade, place) for one, grade, place in said(text) if one == rule]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(CORNED, ("7. Rest 20 minutes. Slice", "7. Slice")), [("query", "17:58-58")]),
        (changed(CORNED, ("7. Rest 20 minutes. Slice", "7. Let it stand 15 minutes. Slice")), []),
        (changed(TURKEY, ("4. Rest 20 minutes and serve.", "4. Serve.")), [("query", "10:46-46")]),
        (changed(TURKEY, ("4. Rest 20 minutes and serve.", "4. Cool in an ice bath from 135 to 70 F in 2 hours, to 41 F in 4 more. Slice.")), []),  # cooled whole
        (changed(PASTRAMI, (FINISH, "7. Smoke at 250 F until 145 F inside.")), [("query", "16:53-53")]),  # the rest is part of the cook
        (changed(BACON, ("Rest 10 minutes. ", "")), []),
        (TROUT, []),
    ],
    ids=["sliced", "stands", "poultry", "cooled whole", "145", "bacon", "fish"],
)
def test_no_rest(text: str, wanted: list[tuple[str, str]]) -> None:
    assert of(REST, text) == wanted


# FSIS chart: 145 °F counts with 3 minutes of rest; Appendix A of 2021, Table 2: 152 °F wants 43 s, which no knife beats.
@pytest.mark.printed
@pytest.mark.parametrize(("point", "counts"), [(145, True), (150, True), (152, False), (203, False)])
def test_the_rest_that_is_part_of_the_cook(point: int, counts: bool) -> None:
    (found,) = [one for one in findings_of(changed(PASTRAMI, (FINISH, f"7. Smoke at 250 F until {point} F inside.\n9. Slice."))) if one.rule == REST]
    assert ("counts only with a rest of 3 minutes" in found.message) is counts


# Food Code 2022, 3-501.16(A)(1): 135 °F, 130 °F for a roast cooked by the roast chart.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("Hold at 140 F.", []),
        ("Hold at 135 F.", []),
        ("Hold at 58 °C.", []),
        ("Hold at 134 F.", [("hazard", "18:44-49")]),
        ("Hold at 130 F.", [("hazard", "18:44-49")]),
        ("Hold at 130 to 140 F.", [("hazard", "18:44-56")]),
        ("Hold at 129 F.", [("certain hazard", "18:44-49")]),
        ("Hold at 52 °C.", [("certain hazard", "18:44-49")]),
        ("Keep warm for service.", []),
    ],
)
def test_the_hot_hold(words: str, wanted: list[tuple[str, str]]) -> None:
    assert of(HOLD, changed(PASTRAMI, ("Hold at 140 F.", words))) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(CORNED, (f"{COOL}\n", "")), [("query", "19:35-35")]),
        (changed(CORNED, (f"{COOL}\n", ""), ("9. Keeps 4 days at 40 F or colder.\n", "")), []),  # eaten at once
        (changed(CORNED, (COOL, "8. Cool it in an ice bath, in shallow pans.")), []),
        (changed(TURKEY, ("4. Rest 20 minutes and serve.", "4. Rest 20 minutes and slice when cold.")), [("query", "11:40-40")]),
        (changed(BACON, (" until 150 F inside, and hold there 5 minutes", " for 4 hours"), ("5. Rest 10 minutes. Cool from 135 to 70 F in 2 hours, to 41 F in 4 more.\n", "")), []),  # raw
    ],
    ids=["kept", "eaten", "cooled", "sliced cold", "raw bacon"],
)
def test_a_cool_down_that_is_not_written(text: str, wanted: list[tuple[str, str]]) -> None:
    assert of(NO_COOL, text) == wanted


def test_the_cool_down_is_added_in_the_scale_of_the_page() -> None:
    text = changed(CORNED, (f"{COOL}\n", ""))
    (found,) = [one for one in findings_of(text) if one.rule == NO_COOL]
    assert "\nCool from 135 to 70 F in 2 hours, and to 41 F in 4 hours more; write down both." in edited(text, found)
    assert said(edited(text, found)) == []
    metric = "Roast loin\n\n1 pork loin, 2 kg\n30 g salt\n\nRub the salt over the loin and refrigerate at 3 °C for 18 hours.\nRoast at 180 °C until 70 °C inside.\nRest 20 minutes. Keeps 4 days in the refrigerator.\n"
    (found,) = [one for one in findings_of(metric) if one.rule == NO_COOL]
    assert "\nCool from 57 to 21 °C in 2 hours, and to 5 °C in 4 hours more; write down both." in edited(metric, found)
    assert [rule for rule, _, _ in said(edited(metric, found)) if rule in (NO_COOL, SLOW)] == []


# Two hours out, as the FSIS says of cooked meat.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("8. Cool what is left on the counter, then refrigerate.", [("hazard", "19:22-36")]),
        ("8. Let it cool at room temperature, then slice.", [("hazard", "19:16-35")]),
        ("8. Leave to cool on the counter overnight.", [("hazard", "19:18-32")]),
        ("8. Cool in the broth on the porch overnight.", [("hazard", "19:29-34")]),
        ("8. Cool in the garage fridge overnight.", []),
        ("8. Cool on the counter 4 hours, then refrigerate.", [("hazard", "19:9-23")]),
        ("8. Leave it out to cool overnight.", [("hazard", "19:4-16")]),
        ("8. Cool on the counter for 1 hour, then refrigerate.", []),
        ("8. Cool on the counter for 30 minutes, then refrigerate.", []),
        ("8. Chill in the refrigerator, in shallow pans.", []),
    ],
)
def test_cooled_on_the_counter(words: str, wanted: list[tuple[str, str]]) -> None:
    assert of(COUNTER, changed(CORNED, (COOL, words))) == wanted


def cooled(*legs: tuple[float, float, float, float], role: str = "cure1", nitrite: float | None = 150, accelerator: float | None = None, sold: bool | None = None) -> list[tuple[Grade, bool]]:
    """What is said of legs told as (from °F, to °F, least hours, most hours)."""
    made = recipe_with(role=role)  # type: ignore[arg-type]
    recipe = replace(made, process=replace(made.process, cooling=tuple(Cooling(*leg, 1, Place(0, 6)) for leg in legs)))
    house = House(sold=sold)
    sums = {"nitrite_equilibrium": nitrite, "accelerator_equilibrium": accelerator}
    given = {name: Sum(name, exactly(value), "ppm", "as given", ()) for name, value in sums.items() if value is not None}
    return [(one.grade, one.certain) for one in says(cooling_slow.RULE, Case(recipe, Given(recipe, house, given), house))]


POSSIBLE, CERTAIN = [(Grade.HAZARD, False)], [(Grade.HAZARD, True)]


# Food Code 2022, 3-501.14(A): 135 to 70 °F in 2 h, to 41 °F in 6 h in all; a fast first stage leaves more for the second.
# Appendix B of 1999, item 1: 6.5 h in all for meat without nitrite.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("legs", "wanted"),
    [
        ([(135, 70, 1.9, 1.9), (70, 41, 4, 4)], []),
        ([(135, 70, 2, 2), (70, 41, 4, 4)], []),
        ([(135, 70, 1, 1), (70, 41, 5, 5)], []),
        ([(135, 70, 2.2, 2.2), (70, 41, 3.7, 3.7)], POSSIBLE),
        ([(135, 70, 1, 1), (70, 41, 5.1, 5.1)], POSSIBLE),
        ([(135, 70, 2, 3), (70, 41, 3, 3)], POSSIBLE),
        ([(135, 70, 4, 4), (70, 41, 4, 4)], CERTAIN),
        ([(135, 41, 8, 8)], CERTAIN),
        ([(135, 41, 6, 6)], []),
        ([(135, 41, 6, 8)], POSSIBLE),
        ([(57 * 1.8 + 32, 21 * 1.8 + 32, 2, 2), (21 * 1.8 + 32, 41, 4, 4)], []),
    ],
)
def test_cooling_of_meat_without_curing_salt(legs: list[tuple[float, float, float, float]], wanted: list[tuple[Grade, bool]]) -> None:
    assert cooled(*legs, role="sugar", nitrite=None) == wanted


# Appendix B of 1999, item 3: 130 to 80 °F in 5 h, on to 45 °F in 10 h, with 100 ppm nitrite.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("first", "second", "nitrite", "accelerator", "sold", "wanted"),
    [
        (4.8, 10, 120, 300, None, []),
        (4.8, 10, 120, 300, True, POSSIBLE),  # over a counter the food code holds
        (4.8, 10, 120, None, None, POSSIBLE),
        (4.8, 10, 90, 300, None, POSSIBLE),
        (5.2, 9, 120, 300, None, POSSIBLE),
        (4.8, 10.4, 120, 300, None, POSSIBLE),
        (9, 9, 120, None, None, POSSIBLE),  # cured: never certain
    ],
)
def test_cooling_of_cured_meat(first: float, second: float, nitrite: float, accelerator: float | None, sold: bool | None, wanted: list[tuple[Grade, bool]]) -> None:
    assert cooled((135, 70, first, first), (70, 41, second, second), nitrite=nitrite, accelerator=accelerator, sold=sold) == wanted


def test_cooling_points_at_the_time() -> None:
    assert of(SLOW, changed(CORNED, ("to 70 F in 2 hours", "to 70 F in 5 hours"))) == [("hazard", "19:42-49")]


@pytest.mark.parametrize(
    ("last", "words"),
    [
        ("8. LEAVE PANS OUT OVERNIGHT TO COOL.", "LEAVE PANS OUT"),
        ("8. Leave the pans on the rack by the dish pit overnight to cool.", "Leave the pans on the rack by the dish pit overnight"),
        ("8. Tip: leftovers can be left on the counter overnight to cool.", "on the counter"),
        ("8. Leave to go cold in the pot overnight, press under 4 lb, slice thin.", "go cold in the pot"),
    ],
)
def test_cooled_anywhere_but_in_the_cold(last: str, words: str) -> None:
    text = changed(CORNED, ("8. Cool what is left from 135 to 70 F in 2 hours, and to 41 F in 4 hours more.", last))
    (found,) = [one for one in findings_of(text) if one.rule == "cooled-at-room-temperature"]
    assert text[found.place.start : found.place.end] == words


@pytest.mark.parametrize("last", ["8. Leave in the walk-in overnight to cool.", "8. Rest 30 minutes, then wrap and into the fridge o/n.", "8. Leave in the ice bath overnight to cool."])
def test_cold_is_no_counter(last: str) -> None:
    text = changed(CORNED, ("8. Cool what is left from 135 to 70 F in 2 hours, and to 41 F in 4 hours more.", last))
    assert "cooled-at-room-temperature" not in [one.rule for one in findings_of(text)]
