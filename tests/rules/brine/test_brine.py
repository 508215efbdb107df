"""The salt and brine rules on whole pages: everything that is said, and where."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from overhaul.findings import Finding
from overhaul.house import House
from overhaul.rules.brine import brine_weak, more_salt_than_water_holds, salt_not_weighed
from overhaul.rules.rule import Case
from overhaul.rules.texts import BACON, CORNED, TURKEY, changed
from overhaul.span import Span
from overhaul.sums.worked import Sum
from tests.conftest import findings_of
from tests.rules.cases import HOUSE, Given, case_with, edited, said, says

SALT = "10 oz kosher salt"
WEAK, FULL, SALTY, BLAND = "brine-weak", "more-salt-than-water-holds", "too-salty-as-eaten", "too-little-salt-as-eaten"
BY_CUP, UNMEASURED, WATER, MEAT = "salt-not-weighed", "salt-unmeasured", "water-not-stated", "meat-weight-not-stated"


def salted(new: str) -> str:
    return changed(CORNED, (SALT, new))


def one(text: str, rule: str) -> Finding:
    (found,) = [finding for finding in findings_of(text) if finding.rule == rule]
    return found


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("10 oz kosher salt", []),
        ("283 g salt", []),
        ("1 cup table salt", []),  # a kind whose cup is known within 15 %
        ("2 oz kosher salt", [(WEAK, "certain fault", "7:1-5")]),
        ("1/4 cup kosher salt", [(WEAK, "fault", "7:1-8")]),  # the query on the same cup is silent
        ("4 oz kosher salt", [(BLAND, "query", "7:1-5")]),
        ("1 1/2 cups kosher salt", [(BY_CUP, "query", "7:1-11")]),
        ("6 cups kosher salt", [(SALTY, "certain fault", "7:1-7")]),
        ("3 handfuls of kosher salt", [(UNMEASURED, "query", "7:1-11")]),
        ("plenty of kosher salt", [(UNMEASURED, "query", "7:1-22")]),
        ("salt to float an egg", [(UNMEASURED, "query", "7:6-21")]),
    ],
)
def test_the_salt_of_a_corned_brisket(line: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(salted(line)) == wanted


def test_more_salt_than_water_holds_is_said_and_not_its_taste() -> None:
    """10 lb to a gallon is 54 %; brine is full at 26.4 % (Kaufmann, Sodium Chloride; 100 degrees of the salometer)."""
    assert [(rule, grade) for rule, grade, _ in said(salted("10 lb kosher salt")) if "salt" in rule and "curing" not in rule] == [(FULL, "certain fault")]


# 26.4 % at 60 °F is saturated: Preparation of Salt Brines for the Fishing Industry, table 1, 100 degrees.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("low", "likely", "high", "wanted"), [(20, 26.3, 30, []), (20, 26.5, 30, [(FULL, False)]), (26.5, 27, 30, [(FULL, True)])],
)  # fmt: skip
def test_saturation(low: float, likely: float, high: float, wanted: list[tuple[str, bool]]) -> None:
    full = Span(*(percent / (100 - percent) * 73.6 / 26.4 for percent in (low, likely, high)))
    sums = Sum("brine_strength", Span(low, likely, high), "percent", "as given", ()), Sum("brine_fullness", full, "ratio", "as given", ())
    found = says(more_salt_than_water_holds.RULE, case_with(*sums))
    assert [(one.rule, one.certain) for one in found] == wanted


@pytest.mark.parametrize(("low", "likely", "high", "wanted"), [(1.5, 2.0, 2.5, []), (1.5, 1.9, 2.5, [False]), (1.5, 1.9, 1.95, [True])])
def test_under_two_percent(low: float, likely: float, high: float, wanted: list[bool]) -> None:
    """Common practice, no source."""
    assert [one.certain for one in says(brine_weak.RULE, case_with(Sum("brine_strength", Span(low, likely, high), "percent", "as given", ())))] == wanted


def test_the_remedy_for_a_weak_brine_is_a_weight_that_settles_it() -> None:
    """6 g of salt to 94 g of the rest: 3,770.5 g water + 141.7 g sugar + 1.25 g nitrite → 249.8 g, of which 20 g cure bring 18.75."""
    text = salted("2 oz kosher salt")
    found = one(text, WEAK)
    assert found.remedy is not None
    assert found.remedy.text == "For a 6 % brine weigh 231 g of salt (worked again, 6 %)."
    assert said(edited(text, found)) == []


def test_the_remedy_for_a_cup_is_its_likely_weight() -> None:
    text = salted("1 1/2 cups kosher salt")
    found = one(text, BY_CUP)
    assert found.message.startswith("1 1/2 cups of kosher salt may weigh 188 to 382 g (likely 278), because the kind of salt is not named; that moves the salt 2.0 times")
    assert said(edited(text, found)) == []


def test_the_house_sheet_settles_the_kind_of_salt() -> None:
    assert said(salted("1 1/2 cups kosher salt"), House(salt_kinds={"kosher": "kosher_dense_rolled"})) == []


@pytest.mark.parametrize(
    ("strength", "level", "speaks"),
    [
        ((5, 7, 9.3), (1.0, 1.7, 2.65), True),  # bands of taste at 1.2 and 2.6
        ((5, 7, 9.3), (1.75, 1.9, 2.5), False),  # crosses nothing
        ((1.9, 2.4, 3.5), (1.75, 1.9, 2.5), True),  # 2 %
        ((20, 24, 28), (1.75, 1.9, 2.5), True),  # saturation
        ((5, 7, 9.3), (2.7, 3.0, 3.4), True),  # 3.2 %
    ],
)
def test_salt_by_the_cup_asks_only_where_the_span_crosses_something(strength: tuple[float, float, float], level: tuple[float, float, float], speaks: bool) -> None:
    recipe = case_with().recipe
    cup = replace(recipe.of_role("salt")[0], mass=Span(190, 280, 390), weighed=False, kind="kosher_kind_unknown")
    section = replace(recipe.sections[0], ingredients=tuple(cup if item.role == "salt" else item for item in recipe.ingredients))
    made = replace(recipe, sections=(section,))
    sums = {"brine_strength": Sum("brine_strength", Span(*strength), "percent", "", ()), "salt_as_eaten": Sum("salt_as_eaten", Span(*level), "percent", "", ())}
    found = says(salt_not_weighed.RULE, Case(made, Given(made, HOUSE, sums), HOUSE))
    assert bool(found) is speaks


# Saltiness of cooked ham, sensory study: saltiest at 2.6 %; above 3.2 % too salty for most is our reading of it.
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (BACON, []),
        (changed(BACON, ("55 g kosher", "69 g kosher")), []),  # (69 + 5.2) ÷ (2,268 + 74.2) = 3.17 % raw
        (changed(BACON, ("55 g kosher", "110 g kosher")), [(SALTY, "certain fault", "4:1-6")]),
        (changed(TURKEY, ("8 oz", "2 oz")), [(WEAK, "certain fault", "5:1-5")]),
    ],
)
def test_the_salt_of_other_pages(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(text) == wanted


def test_a_lost_line_of_salt_is_asked_for_at_the_curing_salt() -> None:
    assert said(changed(CORNED, (f"{SALT}\n", ""), ("Stir the salt, sugar", "Stir the sugar"))) == [(BLAND, "query", "8:1-5")]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(CORNED, ("1 gallon cold water, weighed: 8 lb 5 oz", "cold water to cover")), [(WATER, "query", "6:1-11")]),
        (changed(CORNED, ("1 gallon cold water, weighed: 8 lb 5 oz\n", "")), [(WATER, "query", "11:67-67")]),
        (changed(CORNED, ("2 brisket flats, 9 lb in all, trimmed", "2 brisket flats, trimmed")), [(MEAT, "query", "5:3-16")]),
        (changed(CORNED, ("2 brisket flats, 9 lb in all, trimmed of fat, 1 3/4 inches thick\n", "")), [(MEAT, "query", "13:104-104")]),
        (changed(TURKEY, ("1 bone-in turkey breast, 6 lb", "1 bone-in turkey breast")), []),  # no curing salt: nothing hangs on it
    ],
    ids=["to cover", "no water", "no weight", "no meat", "turkey"],
)
def test_what_nothing_can_be_worked_without(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert [one for one in said(text) if one[0] in (WATER, MEAT, SALTY, BLAND)] == wanted


def test_a_missing_line_is_absent_and_stands_at_an_end() -> None:
    for text, rule in ((changed(CORNED, ("1 gallon cold water, weighed: 8 lb 5 oz\n", "")), WATER), (changed(CORNED, ("2 brisket flats, 9 lb in all, trimmed of fat, 1 3/4 inches thick\n", "")), MEAT)):
        found = one(text, rule)
        assert found.absent
        assert found.place.start == found.place.end
        assert text[found.place.end] == "\n"


def test_a_brine_that_any_amount_of_meat_is_within_says_so() -> None:
    weak = "Corned tongue\n\n4 beef tongues\n4 kg water\n300 g salt\n10 g cure no. 1 (6.25 % nitrite)\n\nChill. Brine the tongues 7 days at 38 F.\n"
    (message,) = (one.message for one in findings_of(weak) if one.rule == "meat-weight-not-stated")
    assert message.endswith(" Any amount of meat is within 200 ppm for whole muscle in brine (9 CFR 424.21(c)), for the brine itself holds 145 ppm; whether it is enough hangs on the weight.")
    strong = weak.replace("10 g cure", "42 g cure")
    (message,) = (one.message for one in findings_of(strong) if one.rule == "meat-weight-not-stated")
    # 2.625 g ÷ 200 ppm − 4,342 g
    assert message.endswith(" From 8,783 g of meat up it is within 200 ppm for whole muscle in brine (9 CFR 424.21(c)).")


@pytest.mark.printed
def test_sugar_does_not_hide_salt_that_the_water_cannot_hold() -> None:
    """Kaufmann: 26.4 % at 15 to 20 °C, 359 g to a kilogram of water. 380 g are too many, sugar or not, though they are 20 % of the brine."""
    text = "Ham\n\n6 lb ham\n1 kg water\n380 g salt\n500 g sugar\n20 g cure no. 1\n\nBrine the ham 10 days at 38 F.\n"
    (found,) = (one for one in findings_of(text) if one.rule == "more-salt-than-water-holds")
    assert found.certain
    assert found.message.startswith("This works out at 21 % salt, 1.11 times what the water takes; ")


def test_no_remedy_makes_a_brine_that_nobody_would() -> None:
    """Two days of a thick breast: salt enough for the plate in that time would be a third of the brine."""
    page = "Turkey pastrami\n\n2 turkey breast lobes, 5 lb each\n3 qts water\n8 oz kosher salt\n1 oz cure #1\n\nChill to 36 F. Meat in, plate on top. Brine 2 days in the fridge.\nRinse. Smoke 250F to 165F.\n"
    (found,) = (one for one in findings_of(page) if one.rule == "too-little-salt-as-eaten")
    assert found.remedy is not None
    assert found.remedy.text == "Look for a line of salt that was lost; fry a slice and taste before the batch is finished."


def test_a_brine_without_any_water_fails_no_rule() -> None:
    page = "Odd brine\n\n2 lb beef\n{}\n1 lb salt\n1 oz cure #1\n\nBrine 5 days in the fridge.\n"
    told = {first: [one.rule for one in findings_of(page.format(first)) if "failed" in one.message or one.rule == "water-not-stated"] for first in ("0 gal water", "1/2 cup vinegar", "1 qt vinegar")}
    assert told == {"0 gal water": [], "1/2 cup vinegar": ["water-not-stated"], "1 qt vinegar": []}
