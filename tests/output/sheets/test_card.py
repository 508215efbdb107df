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
    rows_of,
    sheet_of,
    sound,
    words_of,
)


def test_what_is_called_for_stands_beside_blanks() -> None:
    assert rows_of(sheet_of(SMALL, "card"), "Weigh") == [
        ["", "brisket flat, green weight, 4.5 cm (1.8 in) thick line 3", "2,000 g written: 2 kg", "", "", ""],
        ["", "water line 4", "2,000 g written: 2 kg", "", "", ""],
        ["", "salt line 5", "180 g", "", "", ""],
        ["", "cure no. 1 line 6", "12.0 g written: 12 g", "", "", ""],
        ["", "pickling spice line 7", "1 T weigh it once: 5.4 to 9.6 g (likely 7.2)", "", "", ""],
        ["", "worcestershire sauce line 8", "2 tbsp weigh it once: 31 to 37.2 g (likely 34.8)", "", "", ""],
        ["", "bay leaf line 9", "3", "", "", ""],
    ]


def test_two_persons_stand_for_the_curing_salt() -> None:
    page = sheet_of(SMALL, "card")
    assert rows_of(page, "Curing salt: two persons") == [["cure no. 1, 12.0 g written: 12 g", "6.25 % nitrite", "", "", "", "", ""]]
    assert words_of(page, "//h2[.='Curing salt: two persons']/following::table[1]//th")[-2:] == ["Weighed by", "Watched and checked by"]
    bare = sheet_of(SMALL.replace(" (6.25 % nitrite)", ""), "card")
    assert rows_of(bare, "Curing salt: two persons")[0][1] == "5.88 to 6.25 % (likely 6.25) nitrite assumed: the page does not say"
    assert "Curing salt: two persons" not in words_of(sheet_of(SMALL.replace("12 g cure no. 1 (6.25 % nitrite)\n", ""), "card"))[0]


def test_scales_of_the_house() -> None:
    page = sheet_of(SMALL.replace("12 g", "12.34 g").replace("180 g", "183 g"), "card", House(scale={"cure": 0.01, "other": 5}))
    assert [row[2] for row in rows_of(page, "Weigh")][2:4] == ["185 g written: 183 g", "12.34 g"]


def test_limits_stand_beside_blanks_and_what_to_do() -> None:
    rows = rows_of(sheet_of(SMALL, "card"), "Limits")
    assert [row[0] for row in rows] == [
        "Weigh the cure no. 1, two persons The recipe: 12.0 g, line 6",
        "Brine cold before the meat goes in The recipe: 3 °C, line 11",
        "Cure stays cold, read every day The recipe: 3 °C, line 12",
        "Time in the cure The recipe: 9 days, line 12",
        "Heat inside, at the thickest place The recipe: 92 °C, line 13",
        "Cooling, first part The recipe: 57 °C to 21 °C: 2 hours, line 14",
        "Cooling, all of it The recipe: 21 °C to 5 °C: 4 more, line 14",
        "Kept cold, with its date The recipe: 4 days, line 14",
    ]
    assert rows[1][1:] == ["4.4 °C (40 °F) or colder the National Center for Home Food Preservation, 6.1.3 (second-hand)", "° time by", "No meat in. Ice bath or freezer, stir, read again; the meat waits in the cold."]
    assert rows[5][1] == "from 57 °C (135 °F) to 21 °C (70 °F) within 2 hours Food Code 2022, 3-501.14(A)(1)"
    assert all(row[3] for row in rows)


def test_the_log_is_headed_by_what_the_page_says() -> None:
    page = sheet_of(SMALL.replace("Simmer 3 hours, to 92 °C inside.", "Smoke at 110 °C to 68 °C inside."), "card")
    assert [row[0] for row in rows_of(page, "Heat and cooling log")] == [
        "Into the heat: 110 °C", "", "", "Out of the heat: 68 °C inside", "Cooling starts", "from 57 °C (135 °F) to 21 °C (70 °F) within 2 hours", "to 5 °C (41 °F) within 6 hours in all",
    ]  # fmt: skip


def test_a_pumped_piece_is_weighed_before_and_after() -> None:
    ham = next(path for path in PAGES if path.stem == "pumped-ham")
    words = words_of(sheets.render(of_file(ham), Asked("card", TODAY)), "//dl/div")
    assert "Green weight, called for 4,536 g" in words
    assert "Pump 10 %, to weigh 4,990 g" in words  # 10 lb and a tenth of it
    assert "Percent pumped: (weighed − green) ÷ green × 100" in words
    assert "Pumped" not in words_of(sheet_of(SMALL, "card"), "//h2")


def test_in_and_out_and_turning() -> None:
    page = sheet_of(SMALL, "card", put_in=date(2026, 2, 20))
    words = words_of(page, "//dl/div")
    assert {"In, day and hourFri 20 Feb 2026", "Out, day and hour (9 days)Sun 1 Mar 2026", "Turn: Sun 22 Feb, Wed 25 Feb"} <= set(words)
    assert len(words_of(page, "//ol[@class='days']/li")) == 9
    blank = words_of(sheet_of(SMALL, "card"), "//dl/div")
    assert {"In, day and hour", "Out, day and hour (9 days)", "Turn: days 3, 6 (day 1: in)"} <= set(blank)
    assert "Turn: every other day" in words_of(sheet_of(SMALL.replace("Turn it on day 3 and day 6.", "Turn it every other day."), "card"), "//dl/div")


@pytest.mark.parametrize(("stay", "boxes"), [("9 days", 9), ("8 to 10 days", 10), ("2 weeks", 14), ("12 hours", 1), ("36 hours", 2), ("3 months", 31), ("until they feel firm", 7)])
def test_a_box_for_every_day_in_the_cold(stay: str, boxes: int) -> None:
    assert words_of(sheet_of(SMALL.replace("9 days", stay), "card"), "//ol[@class='days']/li") == [str(number) for number in range(1, boxes + 1)]


def test_what_became_of_it_and_who_stands_for_it() -> None:
    page = sheet_of(SMALL, "card")
    assert words_of(page, "//p[@class='choices']") == ["released held (kept apart) thrown away"]
    assert words_of(page, "//div[@class='together']//dt")[-3:] == ["Made by, day, signature", "Checked by, day, signature", "Person in charge, day, signature"]


def test_hazards_stand_first_with_rule_and_line() -> None:
    page = sheet_of(SMALL.replace("12 g cure", "120 g cure"), "card")
    (stop,) = words_of(page, "//div[@class='stop']")
    assert stop.startswith("Stop: do not work from this yet The audit of this recipe found 1 hazard; do not work from it before it is put right. curing-salt-over-limit, line 6 (possible): ")
    assert page.index('class="stop"') < page.index("<h2>Weigh</h2>")
    assert 'class="stop"' not in sheet_of(SMALL, "card")


def test_a_possible_hazard_that_was_signed_off_is_settled_and_a_certain_one_is_not() -> None:
    signed = 'Signed off: {} on "{}", jb, 2026-11-02: asked the inspector\n'
    possible = SMALL.replace("12 g cure", "120 g cure") + signed.format("curing-salt-over-limit", "120 g cure no. 1")
    certain = SMALL.replace("Fridge at 3 °C, 9 days", "In the shed at 15 °C, 9 days") + signed.format("cured-too-warm", "In the shed at 15 °C")
    assert not words_of(sheet_of(possible, "card"), "//div[@class='stop']")
    assert "cured-too-warm, line 12 (certain)" in words_of(sheet_of(certain, "card"), "//div[@class='stop']")[0]


def test_a_percent_is_worked_again_from_the_weight_as_weighed() -> None:
    loin = next(path for path in PAGES if path.stem == "smoked-loin")
    page = sheets.render(of_file(loin), Asked("card", TODAY))
    assert ["", "cure #1 line 7", "5.8 g 0.24 % of the meat", "", "", ""] in rows_of(page, "Weigh")
    assert "Percent is of the green weight as weighed" in words_of(page)[0]
    bare = sheet_of("Loin\n\npork loin, boneless\nsalt – 2.2 % of the meat\ncure #1 (6.25 % nitrite) – 0.24 % of the meat\n\nRub it. Bag, fridge at 3 °C, 14 days.\n", "card")
    assert ["", "cure #1 line 5", "0.24 % of the meat work the grams from the weight as weighed", "", "", ""] in rows_of(bare, "Weigh")


def test_a_plain_brine_has_no_days_to_keep_and_no_curing_salt() -> None:
    turkey = next(path for path in PAGES if path.stem == "turkey-for-sunday")
    page = sheets.render(of_file(turkey), Asked("card", TODAY))
    assert "In the brine" in words_of(page, "//h2")
    assert [row[0].split(" The recipe")[0] for row in rows_of(page, "Limits")][:3] == ["Brine cold before the meat goes in", "Brine stays cold, read every day", "Heat inside, at the thickest place"]


def test_each_way_of_finishing_has_a_card_of_its_own() -> None:
    two = next(path for path in PAGES if path.stem == "two-beefs-one-bucket")
    page = sheets.render(of_file(two), Asked("card", TODAY))
    assert words_of(page, "//h1") == ["Two beefs out of one bucket: Corned beef", "Two beefs out of one bucket: Pastrami"]
    assert len({words.split("recipe ")[1].split(" ")[0] for words in words_of(page, "//p[@class='what']")}) == 1  # one version of one page


def test_another_law_than_that_of_the_limits_is_said() -> None:
    assert "ask its authority" in words_of(sheet_of(SMALL, "card", House(law="uk")))[0]
    assert "ask its authority" not in words_of(sheet_of(SMALL, "card"))[0]


def test_a_page_of_nothing_but_a_title_makes_a_card_to_fill_in() -> None:
    page = sheet_of("Corned beef\n", "card")
    assert rows_of(page, "Weigh") == [["", "Meat, green weight: the page names none", "", "", "", ""]]


@pytest.mark.parametrize("path", [*PAGES, *HARD], ids=lambda path: path.stem)
def test_no_ingredient_of_the_corpus_is_lost(path: Path) -> None:
    recipes = of_file(path)
    rows = rows_of(sheets.render(recipes, Asked("card", TODAY)), "Weigh")
    for recipe, _ in recipes:
        for item in recipe.ingredients:
            assert any(f"{' '.join(clean(name_of(item)).split())}" in row[1] and f"line {item.line}" in row[1] for row in rows if len(row) > 1), item


_AMOUNTS = st.sampled_from(["5 g", "2 T", "1 cup", "3", "a pinch of", "1/2 oz", "2.5 %", ""])
_NAMES = st.text(alphabet="abcdefghijklmnop <>&\"'{}%\u202e\u0000", min_size=1, max_size=30).filter(lambda name: name.strip(" \u202e\u0000"))


@settings(max_examples=40)
@given(st.lists(st.tuples(_AMOUNTS, _NAMES), min_size=1, max_size=12))
def test_no_ingredient_is_lost_whatever_it_is_called(lines: list[tuple[str, str]]) -> None:
    text = "Corned flat\n\n2 kg brisket flat\n" + "".join(f"{amount} {name}\n" for amount, name in lines) + "\nCure it in the fridge at 3 °C, 9 days.\n"
    rows = [row for row in rows_of(sheet_of(text, "card"), "Weigh") if len(row) == 6]
    assert len(rows) == max(1, len(recipe_of(text).ingredients) + (not recipe_of(text).of_role("meat", use=None)))


# In a real browser.


@pytest.mark.parametrize("path", [*PAGES, *HARD], ids=lambda path: path.stem)
def test_it_is_read_well_on_a_phone(browser: Any, path: Path, tmp_path: Path) -> None:
    is_seen_well(browser, sheets.render(of_file(path), Asked("card", TODAY)), tmp_path)


def test_the_corpus_is_seen_well_on_a_tablet_and_printed(browser: Any, tmp_path: Path) -> None:
    page = sheets.render([recipe for path in [*PAGES, *HARD] for recipe in of_file(path)], Asked("card", TODAY))
    is_seen_well(browser, page, tmp_path, TABLET)
    is_seen_well(browser, page, tmp_path, DESK, printed=True)


@pytest.mark.parametrize("path", [path for path in PAGES if sound(path)], ids=lambda path: path.stem)
def test_a_sound_recipe_prints_on_two_pages(browser: Any, path: Path, tmp_path: Path) -> None:
    for recipe in of_file(path):
        printed = pages_printed(browser, sheets.render([recipe], Asked("card", TODAY)), tmp_path)
        most = 2 * max(1, len(recipe[0].ways))
        assert printed["A4"] <= most
        assert printed["Letter"] <= most + (len(recipe[0].ingredients) > 12) * len(recipe[0].ways)


def test_a_hostile_page_is_inert_and_whole(browser: Any, tmp_path: Path) -> None:
    page = sheet_of(HOSTILE, "card")
    shown = is_inert(browser, page, tmp_path)
    recipe = recipe_of(HOSTILE)
    assert len(recipe.ingredients) == 300
    assert [item.name for item in recipe.ingredients if " ".join(clean(name_of(item)).split()) not in shown] == []
    assert WORD in shown
    assert "[pepper](javascript:window.ran=1)" in shown  # no name was read: the line stands
    assert "\u202e" not in shown
    is_seen_well(browser, page, tmp_path)
    is_seen_well(browser, page, tmp_path, DESK, printed=True)
