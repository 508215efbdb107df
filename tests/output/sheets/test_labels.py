from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from overhaul.bench.weights import name_of
from overhaul.house import House
from overhaul.output import sheets
from overhaul.output.clean import clean
from overhaul.output.sheets import Asked
from tests.browsing import DESK, TABLET
from tests.conftest import recipe_of
from tests.output.sheets.made import (
    HARD,
    HOSTILE,
    PAGES,
    SMALL,
    TODAY,
    WORD,
    is_inert,
    is_seen_well,
    of_file,
    pages_printed,
    sheet_of,
    words_of,
)

BACON = "Bacon\n\n2 kg pork belly, 40 mm thick\n46 g salt\n4.8 g cure #1 (6.25 % nitrite)\n\nRub it. Bag, fridge at 3 °C, 12 days. Slice. It is raw: fry every slice.\n"


def labels(page: str) -> list[str]:
    return words_of(page, "//article")


def test_the_tub_and_the_food_to_the_letter() -> None:
    page = sheet_of(SMALL, "labels", House(kitchen="The Saltbox"), put_in=date(2028, 2, 20), made=date(2028, 2, 28))
    found = labels(page)
    assert len(found) == 6
    assert found[0] == found[1]
    version = found[0].rsplit(" ", 1)[1]
    assert found[0] == (
        "brisket flat in brine Contains nitrite. Raw: the brine is not for cooking, not for tasting, not for another batch. "
        "Corned flat: water, salt, cure no. 1, pickling spice, worcestershire sauce, bay leaf InSun 20 Feb 2028 Out (9 days)Tue 29 Feb 2028 Weight2.00 kg (4.4 lb) TurnTue 22 Feb, Fri 25 Feb "
        f"Keep at 3 °C (37.4 °F). The Saltbox Batch no. ________ By ________ · recipe {version}"
    )
    assert found[2] == (
        "Corned flat Made onMon 28 Feb 2028 Use byThu 2 Mar 2028 Day 1 is the day it was made; day 4 is the last, line 14. Keep at 4 °C (39.2 °F) or colder. "
        f"Contains: fish, mustard Check the label of: pickling spice, worcestershire sauce The Saltbox Batch no. ________ By ________ · recipe {version}"
    )
    assert words_of(page, "//div[@class='whole']") == [
        "In it, heaviest first brisket flat, water, salt, worcestershire sauce, cure no. 1 (nitrite), pickling spice, bay leaf Allergens by the words of the page: fish (worcestershire sauce); mustard (pickling spice). "
        "Words tell what is usually in a thing; only its own label tells what is not. Check the label of: pickling spice, worcestershire sauce."
    ]


def test_without_days_they_are_written_by_hand() -> None:
    found = labels(sheet_of(SMALL, "labels"))
    assert "In Out (9 days) Weight2.00 kg (4.4 lb) Turndays 3, 6 (day 1: in) Keep" in found[0]
    assert "Made on Use by Day 1 is the day it was made; day 4 is the last, line 14." in found[2]


def test_a_page_that_gives_no_days_has_none_put_on_it() -> None:
    page = SMALL.replace(" Keeps 4 days at 4 °C.", "")
    food = labels(sheet_of(page, "labels", made=date(2026, 12, 24)))[2]
    assert "Made onThu 24 Dec 2026 Use by The recipe does not say how long it keeps. No later than Wed 30 Dec 2026: day 7, with the day it was made as day 1; 7 days is the most it was checked against (Food Code 2022, 3-501.17(A))." in food
    assert "Use by The recipe does not say how long it keeps. Day 1 is the day it was made; 7 days is the most" in labels(sheet_of(page, "labels"))[2]


def test_more_days_than_the_limit_are_cut_and_said() -> None:
    page = SMALL.replace("Keeps 4 days", "Keeps 3 weeks")
    assert "Use byWed 30 Dec 2026 Day 1 is the day it was made; day 7 is the last, line 14; the recipe says 21, and 7 days is the most it was checked against (Food Code 2022, 3-501.17(A))." in labels(sheet_of(page, "labels", made=date(2026, 12, 24)))[2]
    home = labels(sheet_of(page, "labels", House(sold=False), made=date(2026, 12, 24)))[2]
    assert "Use bySun 27 Dec 2026" in home
    assert "4 days is the most it was checked against" in home


def test_raw_on_purpose_is_cooked_before_it_is_eaten() -> None:
    assert "Raw: cook it through before anybody eats it." in labels(sheet_of(BACON, "labels"))[2]
    assert "Raw: cook" not in "".join(labels(sheet_of(SMALL, "labels")))


def test_frozen_has_its_own_words() -> None:
    food = labels(sheet_of(SMALL.replace("Keeps 4 days at 4 °C.", "Keeps 2 months in the freezer."), "labels", made=date(2026, 12, 24)))[2]
    assert "Frozen on Frozen: the day it was made stays on it. Days already used in the cold count; freezing stops the count and does not start it again." in food
    assert "Keep frozen; thaw in the cold, at 5 °C (41 °F) or colder." in food


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("12 g cure no. 1 (6.25 % nitrite)", "30 g saltpetre", "brisket flat in brine Contains nitrate. Raw: the brine is not"),
        ("12 g cure no. 1 (6.25 % nitrite)\n", "", "brisket flat in brine Raw: the brine is not"),
        ("Chill the brine to 3 °C. Flat in, a plate on it to keep it under.", "Pump 10 % of the green weight. Into a bag.", "brisket flat, pumped Contains nitrite. Raw: the brine is not"),
    ],
)
def test_what_the_tub_holds(old: str, new: str, said: str) -> None:
    assert labels(sheet_of(SMALL.replace(old, new), "labels"))[0].startswith(said)


def test_dry_and_ground() -> None:
    assert labels(sheet_of(BACON, "labels"))[0].startswith("pork belly in dry cure Contains nitrite. Raw: the cure and its juice are not for cooking")
    links = next(path for path in PAGES if path.stem == "garlic-sausage-smoked")
    assert labels(sheets.render(of_file(links), Asked("labels", TODAY)))[0].startswith("pork shoulder and beef chuck, mixed, raw Contains nitrite. Raw: not to be tasted before it is cooked.")


def test_nothing_in_a_cure_has_no_label_for_a_tub() -> None:
    found = labels(sheet_of("Roast beef\n\n2 kg beef round\n10 g pepper\n\nRoast at 160 °C to 63 °C inside. Rest 10 minutes. Keeps 3 days at 4 °C.\n", "labels"))
    assert len(found) == 6
    assert all(one.startswith("Roast beef Made on") for one in found)


def test_hazards_are_named_on_the_sheet() -> None:
    page = sheet_of(SMALL.replace("12 g cure", "120 g cure"), "labels")
    assert words_of(page, "//p[@class='stop']") == ["Stop: the audit of this recipe found 1 hazard; do not work from it before it is put right (curing-salt-over-limit, line 6)."]


@pytest.mark.parametrize("path", [*PAGES, *HARD], ids=lambda path: path.stem)
def test_no_ingredient_of_the_corpus_is_lost(path: Path) -> None:
    recipes = of_file(path)
    shown = " ".join(words_of(sheets.render(recipes, Asked("labels", TODAY)), "//div[@class='whole']/p[1]"))
    assert [item.name for recipe, _ in recipes for item in recipe.ingredients if " ".join(clean(name_of(item)).split()) not in shown] == []


@settings(max_examples=40)
@given(st.lists(st.text(alphabet="abcdefghijklmnop <>&\"'{}%\u202e\u0000", min_size=1, max_size=30), min_size=1, max_size=12), st.dates(max_value=date(9999, 12, 1)))
def test_no_ingredient_is_lost_whatever_it_is_called(names: list[str], made: date) -> None:
    text = "Corned flat\n\n2 kg brisket flat\n" + "".join(f"5 g {name}\n" for name in names) + "\nCure it in the fridge at 3 °C, 9 days.\n"
    shown = " ".join(words_of(sheet_of(text, "labels", made=made, put_in=made), "//div[@class='whole']/p[1]"))
    for item in recipe_of(text).ingredients:
        assert " ".join(clean(name_of(item)).split()) in shown


# In a real browser.


@pytest.mark.parametrize("path", [*PAGES, *HARD], ids=lambda path: path.stem)
def test_it_is_read_well_on_a_phone(browser: Any, path: Path, tmp_path: Path) -> None:
    is_seen_well(browser, sheets.render(of_file(path), Asked("labels", TODAY, put_in=date(2026, 12, 10), made=date(2026, 12, 24))), tmp_path)


def test_the_corpus_is_seen_well_on_a_tablet_and_printed(browser: Any, tmp_path: Path) -> None:
    page = sheets.render([recipe for path in [*PAGES, *HARD] for recipe in of_file(path)], Asked("labels", TODAY, put_in=date(2026, 12, 10), made=date(2026, 12, 24)))
    is_seen_well(browser, page, tmp_path, TABLET)
    is_seen_well(browser, page, tmp_path, DESK, printed=True)


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_a_sheet_of_labels_is_one_page(browser: Any, path: Path, tmp_path: Path) -> None:
    for recipe in of_file(path):
        page = sheets.render([recipe], Asked("labels", TODAY, put_in=date(2026, 12, 10), made=date(2026, 12, 24)))
        assert pages_printed(browser, page, tmp_path) == dict.fromkeys(("A4", "Letter"), max(1, len(recipe[0].ways)))


def test_a_hostile_page_is_inert_and_whole(browser: Any, tmp_path: Path) -> None:
    page = sheet_of(HOSTILE, "labels")
    shown = is_inert(browser, page, tmp_path)
    recipe = recipe_of(HOSTILE)
    assert len(words_of(page, "//div[@class='whole']/p[1]")[0].split(", ")) >= 300
    assert len(recipe.ingredients) == 300
    assert [item.name for item in recipe.ingredients if " ".join(clean(name_of(item)).split()) not in shown] == []
    assert WORD in shown
    assert "[pepper](javascript:window.ran=1)" in shown  # no name was read: the line stands
    assert "\u202e" not in shown
    is_seen_well(browser, page, tmp_path)
    is_seen_well(browser, page, tmp_path, DESK, printed=True)
