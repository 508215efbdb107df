"""Brine temperature when the meat goes in: stated, left at room temperature, worked from the ice, never cooled."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from msgspec.structs import replace

from overhaul.findings import Grade
from overhaul.recipe.model import Amount, Cure, Fact, Ingredient, Mention, Recipe, Section
from overhaul.rules.cold_and_time import brine_warm
from overhaul.rules.rule import Case
from overhaul.rules.texts import CORNED, PASTRAMI, TURKEY, changed
from overhaul.span import Span, exactly
from overhaul.sums.worked import Sum
from overhaul.text import Page, Place
from tests.conftest import findings_of
from tests.rules.cases import HOUSE, Given, edited, recipe_with, said, says

NAME = "brine-warm"
CHILLED = "2. Chill the brine to 38 F. Stir in the cure #1."
COLD_MADE = "1. Stir the salt, sugar and spice into the cold water until clear."
BOILED = "1. Boil the water with the salt, sugar and spice."


def boiled(then: str) -> str:
    return changed(CORNED, (COLD_MADE, BOILED), (CHILLED, then))


def warm(text: str) -> list[tuple[str, str]]:
    return [(grade, place) for rule, grade, place in said(text) if rule == NAME]


# National Center for Home Food Preservation, 6.1.3: cure below 40 °F. Food Code 2022, 3-501.14(B): food made of things at
# room temperature has four hours to 41 °F; 70 °F is the room of 3-501.14(A)(1).
@pytest.mark.printed
@pytest.mark.parametrize(
    ("then", "wanted"),
    [
        (CHILLED, []),
        ("2. Chill the brine to 40 F. Stir in the cure #1.", []),
        ("2. Chill the brine to 42 F. Stir in the cure #1.", [("hazard", "13:23-27")]),
        ("2. Chill the brine to 36 to 45 F. Stir in the cure #1.", [("hazard", "13:23-33")]),
        ("2. Chill the brine to 70 F. Stir in the cure #1.", [("hazard", "13:23-27")]),
        ("2. Cool the brine to 75 F. Stir in the cure #1.", [("certain hazard", "13:22-26")]),
        ("2. Cool the brine to 65 to 75 F. Stir in the cure #1.", [("hazard", "13:22-32")]),
        ("2. Let the brine cool to room temperature. Stir in the cure #1.", [("fault", "13:26-42")]),
        ("2. Let the brine cool to room temperature, then refrigerate it overnight. Stir in the cure #1.", []),
        ("2. Stir in the cure #1.", [("hazard", "14:104-104")]),
    ],
)
def test_a_boiled_brine(then: str, wanted: list[tuple[str, str]]) -> None:
    assert warm(boiled(then)) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(CORNED, (CHILLED, "2. Stir in the cure #1.")), []),  # made cold, nothing to cool
        (changed(CORNED, (CHILLED, "2. Stir in the cure #1."), ("pour the brine over", "pour the brine over milk-warm")), [("certain hazard", "14:70-79")]),
        (changed(CORNED, (CHILLED, "2. Stir in the cure #1."), ("pour the brine over", "pour the brine over while hot")), [("certain hazard", "14:70-79")]),
        (boiled("2. The brine must be 38 F or less before the beef goes in. Stir in the cure #1."), []),
        (boiled("2. Let it stand till cold. Stir in the cure #1."), []),
        (boiled("2. Take it off, and put it in the walk-in till it's under 38. Stir in the cure #1."), []),
        (changed(TURKEY, ("Stir salt and sugar into the cold water until clear. Chill the brine to 38 F.", "Boil the water with the salt and sugar.")), [("hazard", "9:88-88")]),
    ],
    ids=["made cold", "milk-warm", "while hot", "a check", "till cold", "till it is under", "plain brine"],
)
def test_the_words_of_a_page(text: str, wanted: list[tuple[str, str]]) -> None:
    assert warm(text) == wanted


def test_a_dry_cure_has_no_brine_to_cool() -> None:
    recipe = recipe_with(method="dry", wet=False)
    recipe = replace(recipe, process=replace(recipe.process, brine_heated=Mention(1, Place(0, 6), "Corned")))
    assert says(brine_warm.RULE, Case(recipe, Given(recipe, HOUSE, {}), HOUSE)) == []


def test_room_temperature_with_no_cold_after_it_is_a_hazard() -> None:
    text = changed(boiled("2. Let the brine cool to room temperature. Stir in the cure #1."), ("Refrigerate at 36 to 40 F for 12 days", "Leave it for 12 days"))
    assert warm(text) == [("hazard", "13:26-42")]


def test_the_chilling_line_goes_in_before_the_meat() -> None:
    text = boiled("2. Stir in the cure #1.")
    (found,) = [one for one in findings_of(text) if one.rule == NAME]
    assert found.absent
    mended = edited(text, found)
    assert mended.index("Chill the brine to 38 F before the meat goes in.") < mended.index("Put the flats in")
    assert warm(mended) == []


def test_in_running_prose_the_chilling_stands_between_the_two_sentences() -> None:
    text = "Corned brisket\n\n1 brisket flat, 5 lb, 1 1/2 in thick\n1 gallon water\n10 oz kosher salt\n20 g cure #1 (6.25 % nitrite)\n\nBoil the water with the salt. Put the flat in and weigh it down with a plate. Refrigerate 10 days, turning daily.\n"
    (found,) = [one for one in findings_of(text) if one.rule == NAME]
    mended = edited(text, found)
    assert "Boil the water with the salt. Chill the brine to 38 F before the meat goes in. Put the flat in" in mended
    assert warm(mended) == []


def test_a_stated_temperature_is_put_right_where_it_stands() -> None:
    text = boiled("2. Cool the brine to 75 F. Stir in the cure #1.")
    (found,) = [one for one in findings_of(text) if one.rule == NAME]
    assert "Cool the brine to 38 F. Stir" in edited(text, found)
    assert found.message == "The brine is 75 °F (24 °C) when the meat goes in; the limit is 40 °F (4.4 °C) by the National Center for Home Food Preservation, 6.1.3."


def iced(span: Span, cold: bool) -> Case:
    """A boiled brine with ice that comes to ``span`` °C, the meat going into the cold or not said where."""
    page = Page("Corned beef\n2000 g brisket\n900 g water\n1100 g ice\n100 g salt\n20 g cure")
    lines = page.lines
    ice_place = Place(lines[3].place.start, lines[3].place.start + 6)
    ice = Ingredient(4, "1100 g ice", lines[3].place, "ice", lines[3].place, "ice", amount=Amount(Fraction(1100), Fraction(1100), "gram", ice_place), mass=exactly(1100), weighed=True)
    made = recipe_with()
    process = replace(
        made.process, cure=Cure("immersion", None, 1, Place(0, 0)), brine_heated=Mention(1, Place(0, 6), "Boil"), brine_cooled=Mention(1, Place(0, 6), "ice"),
        cure_temperature=Fact(38, 38, "degF", 1, Place(0, 6)) if cold else None,
    )  # fmt: skip
    recipe: Recipe = replace(made, page=page, sections=(Section(None, 2, Place(0, 0), (ice,)),), process=process)
    return Case(recipe, Given(recipe, HOUSE, {NAME.replace("warm", "temperature").replace("-", "_"): Sum("brine_temperature", span, "degC", "as given", ())}), HOUSE)


# 40 °F is 4.44 °C, 70 °F is 21.11 °C; half a degree of slack on the likely value is ours.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("span", "cold", "wanted"),
    [
        (Span(0, 2, 4.4), True, None),
        (Span(2, 4.4, 8), True, None),  # only its warm end: the ice may do it
        (Span(2, 4.9, 8), True, None),
        (Span(2, 5.0, 8), True, (Grade.FAULT, False)),
        (Span(6, 9, 21.1), True, (Grade.FAULT, False)),
        (Span(6, 9, 21.2), True, (Grade.HAZARD, False)),
        (Span(6, 9, 12), False, (Grade.HAZARD, False)),
        (Span(30, 35, 40), True, (Grade.HAZARD, False)),  # worked, never certain
    ],
)
def test_ice_is_judged_by_what_the_mix_comes_to(span: Span, cold: bool, wanted: tuple[Grade, bool] | None) -> None:
    found = says(brine_warm.RULE, iced(span, cold))
    assert [(one.grade, one.certain) for one in found] == ([wanted] if wanted else [])
    for one in found:
        assert one.place == Place(39, 45)  # the ice's amount
        assert one.sum is not None


def test_ice_enough_is_silent_on_a_whole_page() -> None:
    assert warm(changed(PASTRAMI, ("2. Chill until it is below 38 F, then stir in the cure #1.", "2. Stir in the cure #1."))) == []


@pytest.mark.parametrize("told", ["Bring the water to a boil with the salt. Leave it till it's just warm to the hand, stir in the cure and pour it over the beef.", "Bring the brine to a boil, leave until just warm, and pour it over the beef."])
def test_just_warm_is_warm(told: str) -> None:
    text = f"Corned beef\n\n5 lb brisket\n1 gal water\n10 oz salt\n15 g cure #1\n\n{told}\nRefrigerate 7 days.\n"
    assert [one.grade.value for one in findings_of(text) if one.rule == "brine-warm"] == ["hazard"]


def test_a_brine_at_the_limit_of_cold_holding_is_cold() -> None:
    """5 °C is 41 °F: where cold food may stand (Food Code 2022, 3-501.16(A)(2))."""
    text = "Salt beef\n\n2 kg brisket\n3 litres water\n200 g salt\n12 g cure #1\n\nBoil the water with the salt and chill in the fridge overnight until below 5C. Put the beef in, 7 days at 4 C.\n"
    assert "brine-warm" not in [one.rule for one in findings_of(text)]


HOT = """\
Corned brisket, iced

5 lb brisket flat, 2 in thick
8 lb water
10 oz kosher salt
18 g cure #1 (6.25 % nitrite)
1 lb ice

Boil the water with the salt and take it off the heat. Stir in the ice and the cure. Put the meat in, plate on top, at 38 F for 10 days, turning daily.
Rinse. Simmer to 200 F inside. Rest 30 minutes. Serve hot.
"""


@pytest.mark.parametrize("text", [HOT, HOT.replace("1 lb ice\n", "").replace("Stir in the ice and", "Stir in")])
def test_the_remedy_weighs_the_ice_and_is_worked_again(text: str) -> None:
    (found,) = [one for one in findings_of(text) if one.rule == "brine-warm"]
    assert found.remedy is not None
    told = re.search(r"Or put ([\d,]+) g of its water in as ice and ([\d,]+) g as water: worked again, (\d+\.?\d*) °F", found.remedy.text)
    assert told is not None, found.remedy.text
    ice, water = (int(one.replace(",", "")) for one in told.groups()[:2])
    assert ice + water == pytest.approx(8 * 453.6 + (453.6 if "ice\n" in text else 0), abs=1.5)
    assert float(told[3]) <= 40
    changed_page = re.sub(r"^1 lb ice\n", "", text, flags=re.M).replace("8 lb water", f"{water} g water\n{ice} g ice").replace("Stir in the cure", "Stir in the ice and the cure")
    assert "brine-warm" not in [one.rule for one in findings_of(changed_page)]


def test_nothing_is_said_of_ice_where_there_is_no_water_to_freeze() -> None:
    (found,) = [one for one in findings_of(HOT.replace("8 lb water", "8 lb apple cider").replace("Boil the water", "Boil the cider").replace("1 lb ice\n", "").replace("Stir in the ice and", "Stir in")) if one.rule == "brine-warm"]
    assert found.remedy is not None
    assert "as ice" not in found.remedy.text
