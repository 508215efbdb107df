"""The rules on the page's own arithmetic: everything that is said, and where."""

from __future__ import annotations

import pytest

from overhaul.rules.texts import CORNED, PASTRAMI, changed
from tests.conftest import findings_of
from tests.rules.cases import said

TWICE, METHOD, DOUBT = "amounts-disagree", "list-and-method-disagree", "amount-in-doubt"
CURE = "20 g cure #1 (6.25 % nitrite)"
WATER = "1 gallon cold water, weighed: 8 lb 5 oz"


# A teaspoon of cure holds 4.2 to 7.5 g, a cup of kosher salt of no named kind 125 to 255 g, of table salt 265 to 306 g
# (published kitchen weighings); a quart of water 2.08 lb (a gallon 8.33 lb, NIST Handbook 44).
@pytest.mark.printed
@pytest.mark.parametrize(
    ("old", "new", "wanted"),
    [
        ("10 oz kosher salt", "1 1/2 c (10 oz) kosher salt", []),
        ("10 oz kosher salt", "1 1/2 c (12 oz) kosher salt", []),
        ("10 oz kosher salt", "10 oz (4 cups) kosher salt", [(TWICE, "query", "7:8-14")]),
        ("10 oz kosher salt", "1 1/2 c (12 oz) table salt", [(TWICE, "query", "7:10-15")]),
        (CURE, "20 g / 4 tsp cure #1 (6.25 % nitrite)", []),
        (CURE, "20 g / 8 tsp cure #1 (6.25 % nitrite)", [(TWICE, "query", "9:8-13")]),
        (WATER, "3 quarts (6 lb 4 oz) cold water", []),
        (WATER, "3 quarts (8 lb 4 oz) cold water", [(TWICE, "query", "6:11-20")]),
        ("5 oz brown sugar", "5 oz brown sugar\n2 (12 oz) cans stout", []),
    ],
)
def test_an_amount_told_twice(old: str, new: str, wanted: list[tuple[str, str, str]]) -> None:
    assert [one for one in said(changed(CORNED, (old, new))) if one[0] == TWICE] == wanted


def test_both_readings_are_named() -> None:
    (found,) = [one for one in findings_of(changed(CORNED, (CURE, "20 g / 8 tsp cure #1 (6.25 % nitrite)"))) if one.rule == TWICE]
    assert found.message == "20 g of cure #1 is 20 g, and 8 tsp is 33.6 to 60 g (likely 45.4): the two amounts differ. Which one holds?"


def test_forty_two_grams_are_eight_teaspoons() -> None:
    """5.25 g a spoon: the two agree, so it is the dose that is wrong and not the page's arithmetic."""
    assert [rule for rule, _, _ in said(changed(CORNED, (CURE, "42 g / 8 tsp cure #1 (6.25 % nitrite)")))] == ["curing-salt-over-limit"]


@pytest.mark.parametrize(
    ("old", "new", "wanted"),
    [
        ("Stir in the cure #1", "Stir in 40 g cure #1", [(METHOD, "query", "13:37-41")]),
        ("Stir in the cure #1", "Stir in 10 g cure #1", [(METHOD, "query", "13:37-41")]),
        ("Stir in the cure #1", "Stir in the 20 g cure #1", []),
        ("Stir in the cure #1", "Stir in 10 g of the cure #1, then the other 10 g", []),
        ("Stir in the cure #1", "Stir in half the cure #1, 10 g", []),
        ("Stir the salt, sugar", "Stir the 14 oz salt, sugar", [(METHOD, "query", "12:13-18")]),
        ("Stir the salt, sugar", "Stir the 10 oz salt, sugar", []),
        ("Stir the salt, sugar", "Warm 1 quart out of the gallon of water. Stir the salt, sugar", []),
        ("Simmer in fresh water", "Simmer in 2 gallons fresh water", []),
        ("Soak 2 hours in cold water", "Soak 2 hours in 3 gallons cold water", []),
    ],
)
def test_list_and_method(old: str, new: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(changed(CORNED, (old, new))) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(CORNED, ("2 tbsp pickling", "11/2 tbsp pickling")), [(DOUBT, "query", "10:1-10")]),
        (changed(CORNED, ("2 tbsp pickling", "2 /14 tbsp pickling")), [(DOUBT, "query", "10:1-11")]),
        (changed(CORNED, ("2 tbsp pickling", "1 1/2 tbsp pickling")), []),
    ],
)
def test_figures_in_doubt(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(text) == wanted


# A gallon of ice as poured holds 1,510 to 2,650 g (bulk density); a gallon of water 3,782 g.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("line", "wanted"),
    [("1 gallon ice", ["5:1-9"]), ("3 lb ice", []), ("1 gallon ice (3 lb)", []), ("1 gallon ice by weight, that is as heavy as the water", []), ("1 gallon crushed ice", [])],
)
def test_ice_by_the_gallon_has_two_readings(line: str, wanted: list[str]) -> None:
    found = [place for rule, _, place in said(changed(PASTRAMI, ("3 lb ice", line))) if rule == DOUBT]
    assert found == wanted


def test_ice_is_told_both_ways() -> None:
    (found,) = [one for one in findings_of(changed(PASTRAMI, ("3 lb ice", "1 gallon ice"))) if one.rule == DOUBT]
    assert found.message == "1 gallon of ice can be read two ways: filled with ice it is about 2,000 g (as little as 1,510 g when it lies loose), as heavy as so much water it is 3,782 g. Which is meant?"


@pytest.mark.parametrize(("share", "said"), [("2", []), ("3.5", []), ("9", ["70 grams of salt is 70 g, and 9 % is 180 g"])])
def test_a_percentage_beside_a_weight_may_be_of_the_meat_or_of_meat_and_water(share: str, said: list[str]) -> None:
    text = f"# Turkey\n\n| what | grams | % |\n|---|---|---|\n| turkey breast | 2000 | |\n| water | 1500 | |\n| salt | 70 | {share} |\n\n1. Submerge in the fridge 5 days.\n"
    found = [finding.message.split(":")[0] for finding in findings_of(text) if finding.rule == "amounts-disagree"]
    assert found == said


@pytest.mark.parametrize(
    ("old", "new", "place", "message"),
    [
        (CURE, "11/2 tsp cure #1 (6.25 % nitrite)", "9:1-9", "This may be a slip of the pen or of the scan, on the line that matters most: “11/2”: 1 1/2, or 11 over 2?"),
        (CURE, "l 1/2 tsp cure #1 (6.25 % nitrite)", "9:1-10", "This may be a slip of the pen or of the scan, on the line that matters most: “l 1/2”: 1 1/2, or 1/2 alone?"),
        (CURE, "50 tsp cure #1 (6.25 % nitrite)", "9:1-7", "This may be a slip of the pen or of the scan, on the line that matters most: “50 tsp” is 1.0 cups: so many spoons, or 5?"),
        (CURE, "1 cup cure #1 (6.25 % nitrite)", "9:1-6", "This may be a slip of the pen or of the scan, on the line that matters most: “1 cup” of curing salt is about 272 g to 7.9 kg of meat and water: a smaller spoon, another salt, or is so much meant?"),
        ("10 oz kosher salt", "50 tbsp kosher salt", "7:1-8", "This may be a slip of the pen or of the scan, on the line that matters most: “50 tbsp” is 3.1 cups: so many spoons, or 5?"),
        ("10 oz kosher salt", "1.000 g kosher salt", "7:1-8", "This may be a slip of the pen or of the scan, on the line that matters most: “1.000 gram”: 1000, or 1?"),
        ("2 tbsp pickling spice", "2 tbsp P.S.", "10:8-11", "This can be read two ways: “P.S.”: pickling spice, or pink salt (curing salt)?"),
    ],
)
def test_a_slip_is_asked_about_before_anything_else(old: str, new: str, place: str, message: str) -> None:
    text = changed(CORNED, (old, new))
    assert (DOUBT, "query", place) in said(text)
    assert [found.message for found in findings_of(text) if found.rule == DOUBT] == [message]


@pytest.mark.parametrize("new", ["11/2 tsp cure #1 (6.25 % nitrite)", "3 tsp cure #1 (6.25 % nitrite)", "15 tsp cure #1 (6.25 % nitrite)"])
def test_spoons_that_a_cook_would_write_are_not_doubted_by_their_number(new: str) -> None:
    assert not any("spoons" in found.message or "so much" in found.message for found in findings_of(changed(CORNED, (CURE, new))))


def test_a_doubted_number_never_makes_a_certain_finding_that_its_other_reading_clears() -> None:
    """5 1/2 and 51/2 teaspoons: the first is about 31 g, the second 145."""
    text = changed(CORNED, (CURE, "51/2 tsp cure #1 (6.25 % nitrite)"))
    found = [one for one in findings_of(text) if one.rule == "curing-salt-over-limit"]
    assert found == [] or not found[0].certain
