"""Keeping: how long and how cold."""

from __future__ import annotations

import pytest

from overhaul.house import House
from overhaul.rules.texts import BACON, CORNED, TURKEY, changed
from tests.conftest import findings_of
from tests.rules.cases import edited, said
from tests.rules.smoke_and_cook.test_final_temperature import TROUT

LONG, WARM = "keeps-too-long", "keeping-not-cold"
KEEPS = "9. Keeps 4 days at 40 F or colder."


def of(rule: str, text: str, sold: bool | None = None) -> list[tuple[str, str]]:
    return [(grade, place) for one, grade, place in said(text, House(sold=sold)) if one == rule]


# Cold Food Storage Chart: cooked corned beef 3 to 4 days, bacon 7 days. Food Code 2022, 3-501.17(A): 7 days, the first counted.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("words", "sold", "wanted"),
    [
        ("9. Keeps 4 days at 40 F.", False, []),
        ("9. Keeps 5 days at 40 F.", False, [("fault", "20:10-16")]),
        ("9. Keeps 3 to 5 days at 40 F.", False, [("fault", "20:10-21")]),
        ("9. Keeps 7 days at 40 F.", True, []),
        ("9. Keeps 8 days at 40 F.", True, [("fault", "20:10-16")]),
        ("9. Keeps 7 days at 40 F.", None, []),
        ("9. Keeps 1 week at 40 F.", None, []),
        ("9. Keeps 8 days at 40 F.", None, [("fault", "20:10-16")]),
        ("9. Keeps 3 weeks.", None, [("fault", "20:10-17")]),
        ("9. Freeze up to 3 months.", None, []),
        ("9. Keeps 4 days in the refrigerator, or 2 months frozen.", None, []),
        ("9. Eat at once.", None, []),
    ],
)
def test_cooked_meat_in_the_cold(words: str, sold: bool | None, wanted: list[tuple[str, str]]) -> None:
    assert of(LONG, changed(CORNED, (KEEPS, words)), sold) == wanted


@pytest.mark.printed
@pytest.mark.parametrize(("stay", "speaks"), [("7 days", False), ("8 days", True)])
@pytest.mark.parametrize("sold", [True, False, None])
def test_raw_bacon_keeps_a_week_whoever_eats_it(stay: str, speaks: bool, sold: bool | None) -> None:
    found = of(LONG, changed(BACON, ("Keeps 7 days", f"Keeps {stay}")), sold)
    assert [grade for grade, _ in found] == (["fault"] if speaks else [])


@pytest.mark.parametrize(("sold", "speaks"), [(None, False), (False, False), (True, True)])
def test_fish_stands_under_the_date_mark_only(sold: bool | None, speaks: bool) -> None:
    assert bool(of(LONG, f"{TROUT}Cool it in an ice bath. Keeps 10 days at 38 F.\n", sold)) is speaks


def test_the_message_says_what_it_is_held_to() -> None:
    (found,) = [one for one in findings_of(changed(TURKEY, ("and serve.", "and serve. Cool the rest in an ice bath. Keeps 10 days in the refrigerator.")), House(sold=False)) if one.rule == LONG]
    assert found.message == "It is said to keep 10 days cold; the limit for cooked meat in the house is 4 days, the day it was made counted as the first, by the federal cold storage chart."


# Food Code 2022, 3-501.16(A)(2): 41 °F.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("9. Keeps 4 days at 41 F.", []),
        ("9. Keeps 4 days at 5 °C.", []),
        ("9. Keeps 4 days at 45 F.", [("certain hazard", "20:20-24")]),
        ("9. Keeps 4 days at 38 to 45 F.", [("hazard", "20:20-30")]),
        ("9. Keeps 4 days at room temperature.", [("hazard", "20:17-36")]),
        ("9. Keep it on the shelf, it lasts a month.", [("hazard", "20:12-24")]),
        ("9. Keep it on the shelf of the walk-in, 4 days.", []),
        ("9. Keep it somewhere cool.", [("fault", "20:12-26")]),
        ("9. Store in the pantry.", [("fault", "20:10-23")]),
        ("9. Keep it in the cellar.", [("fault", "20:12-25")]),
        ("9. Keep it in the refrigerator.", []),
        ("9. Freeze.", []),
    ],
)
def test_where_it_is_kept(words: str, wanted: list[tuple[str, str]]) -> None:
    assert of(WARM, changed(CORNED, (KEEPS, words))) == wanted


def test_a_dry_cured_ham_hangs_in_the_cellar() -> None:
    text = "Farm ham\n\n1 fresh ham, 15 lb\n12 oz kosher salt\n2 oz saltpetre\n\nRub the salt and saltpetre into the ham. Keep it six weeks in the refrigerator, turning it.\nHang in the smokehouse and smoke for six weeks.\nKeep it in the cellar.\n"
    assert of(WARM, text) == []


@pytest.mark.parametrize("words", ["9. Keeps 21 days at 40 F.", "9. Keeps 4 days at 50 F."])
def test_the_remedy_settles_it(words: str) -> None:
    text = changed(CORNED, (KEEPS, words))
    (found,) = [one for one in findings_of(text) if one.rule in (LONG, WARM)]
    assert said(edited(text, found)) == []
