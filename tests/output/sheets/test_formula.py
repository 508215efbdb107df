from __future__ import annotations

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
from overhaul.output.sheets.formula import AGENTS, METHODS
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
from tests.sums.test_two_ways import HAM

POINTS = "Suggested control points, to be confirmed by the person in charge"
GOES_IN = "What goes in, by each sum"


def test_every_ingredient_by_percent_of_green_weight() -> None:
    page = sheet_of(SMALL, "formula")
    assert rows_of(page, "Formula") == [
        ["brisket flat line 3", "2,000 g", "100 %"],
        ["water line 4", "2,000 g", "100 %"],
        ["salt line 5", "180 g", "9 %"],
        ["cure no. 1 line 6", "12.0 g", "0.6 %"],
        ["pickling spice line 7", "1 T: 5.4 to 9.6 g (likely 7.2)", "0.27 to 0.48 %"],
        ["worcestershire sauce line 8", "2 tbsp: 31 to 37.2 g (likely 34.8)", "1.55 to 1.86 %"],
        ["bay leaf line 9", "3", "0.015 to 0.06 %"],
    ]
    assert "corned beef, whole muscle in brine · limits of: us · green weight: 2,000 g" in words_of(page, "//p")


def test_without_a_weight_of_meat_no_percent_is_guessed() -> None:
    rows = rows_of(sheet_of(SMALL.replace("2 kg brisket flat", "1 brisket flat"), "formula"), "Formula")
    assert [row[2] for row in rows] == ["not known"] * 7
    assert "green weight: not stated" in words_of(sheet_of(SMALL.replace("2 kg brisket flat", "1 brisket flat"), "formula"))[0]


@pytest.mark.computed
def test_what_goes_in_by_each_sum_beside_its_limit() -> None:
    """0.75 g nitrite in 12 g of 6.25 %; 2,000 g meat and 2,223 to 2,229 g pickle: 177.3 to 177.6 ppm by hand."""
    page = sheet_of(SMALL, "formula")
    rows = rows_of(page, GOES_IN)
    assert [row[0] for row in rows] == ["Nitrite, soaked, by pick-up", "Nitrite, soaked, meat and pickle as one system", "Nitrite, soaked, by diffusion over the days stated"]
    assert rows[1] == ["Nitrite, soaked, meat and pickle as one system", "177 to 178 ppm (likely 177)", "0.75 g nitrite ÷ (2,000 g meat + 2,223 to 2,229 g (likely 2,227) pickle) × 1,000,000 = 177 to 178 ppm (likely 177)", "200 ppm for whole muscle in brine (9 CFR 424.21(c))"]
    assert [row[3] for row in rows[::2]] == ["not judged by"] * 2


def test_a_limit_is_that_of_the_law_and_the_class() -> None:
    assert rows_of(sheet_of(SMALL, "formula", House(law="uk")), GOES_IN)[1][3] == "150 ppm for whole muscle in brine (SI 2007/1778)"
    belly = next(path for path in PAGES if path.stem == "farm-bacon-wet")
    assert rows_of(sheets.render(of_file(belly), Asked("formula", TODAY)), GOES_IN)[1][3] == "120 ppm for pork belly in brine (9 CFR 424.22(b))"


def test_a_rub_beside_a_brine_has_the_limit_of_a_dry_cure() -> None:
    found = {row[0]: row[3] for row in rows_of(sheet_of(HAM, "formula"), GOES_IN)}
    assert found["Nitrite, rubbed on or mixed in"] == "625 ppm for dry-cured whole muscle (9 CFR 424.21(c))"
    assert found["Nitrite, pumped"] == "200 ppm for pumped whole muscle (9 CFR 424.21(c))"


def test_why_nitrite_is_not_worked() -> None:
    page = sheet_of(SMALL.replace("12 g cure", "cure"), "formula")
    assert "Nitrite is not worked:" in words_of(page)[0]
    assert rows_of(page, GOES_IN) == []


def test_the_flow_in_order_with_its_points() -> None:
    assert words_of(sheet_of(SMALL, "formula"), "//ol[@class='flow']/li") == [
        "1. make the brine line 11 point 1, 2",
        "2. chill: 3 °C (brine) line 11 point 2",
        "3. cure: 3 °C (cold room), 9 days lines 11 to 12 point 1, 3, 4",
        "4. rinse, then soak: 2 hours line 13",
        "5. cook: 3 hours, 92 °C (inside) line 13 point 5",
        "6. rest: 15 minutes line 13",
        "7. cool: 57 to 21 °C (inside), 2 hours, 5 °C (inside) line 14 point 6, 7",
        "8. keep: 4 days, 4 °C (cold room) line 14 point 8",
    ]


def test_points_with_limit_and_source_to_confirm() -> None:
    rows = rows_of(sheet_of(SMALL, "formula"), POINTS)
    assert [row[0].split(" ", 1)[0] for row in rows] == [f"{number}." for number in range(1, 9)]
    assert rows[0] == ["1. Weigh the cure no. 1, two persons too much is a poison; too little does not hold germs back", "12.0 g line 6", "what is called for, to a tenth of a gram; at most 200 ppm for whole muscle in brine (9 CFR 424.21(c))", ""]
    assert rows[6] == ["7. Cooling, all of it the slow end of a cool-down has made the most people ill", "21 °C to 5 °C: 4 more line 14", "to 5 °C (41 °F) within 6 hours in all Food Code 2022, 3-501.14(A)(2)", ""]


def test_what_a_variance_file_asks_for_in_three_states() -> None:
    page = sheet_of(SMALL.replace("180 g salt", "1 cup salt"), "formula", House(sold=True, scale={"cure": 0.1}))
    lists = {head: words_of(page, f"//h3[.='{head}']/following-sibling::ul/li") for head in ("Here", "Missing from the recipe", "For the kitchen to add")}
    assert lists["Here"] == [
        "Food category: corned beef", "Strength of cure no. 1: 6.25 % nitrite line 6", "Sum of the ingoing ppm: meat and pickle as one system", "Flow of the work: above; vessels and rooms to be drawn in", "Limits in the recipe's own words: above",
        "What is done when a limit is missed: suggested on the batch card; confirm or strike", "Shelf life, and how cold: “4 days” line 14", "Scale for the curing salt: shows 0.1 g, by the house sheet; add make, number and last check",
    ]  # fmt: skip
    assert lists["Missing from the recipe"] == [
        "Standard batch by weight: not weighed: salt line 5", "Allergens on the label: the page names none", "Version, date and who answers for it: not on the page", "The authority's written leave: it is cured for sale, and the page names no variance",
    ]  # fmt: skip
    assert [one.split(":")[0] for one in lists["For the kitchen to add"]] == ["How often, how and by whom each is read", "Records", "Who verifies, and how often", "Cold room, smoker, thermometers", "Where the curing salt is kept, who may touch it", "Training; supporting papers"]


def test_what_the_page_has_is_here() -> None:
    page = sheet_of(SMALL + "Allergens: mustard, fish.\nChecked by J. B., 2026-11-02. Variance no. 17.\n", "formula", House(sold=True))
    here = words_of(page, "//h3[.='Here']/following-sibling::ul/li")
    assert "Standard batch by weight: above line 3" in here
    assert "Allergens on the label: by the page line 15" in here
    assert "The authority's written leave: “Variance no. 17” line 16" in here
    assert any(one.startswith("Version, date and who answers for it: ") for one in here)


def test_no_curing_salt_no_file_but_a_word_on_smoking() -> None:
    page = sheet_of(SMALL.replace("12 g cure no. 1 (6.25 % nitrite)\n", ""), "formula")
    assert "What a variance file asks for" not in words_of(page, "//h2")
    assert "ask the local authority" in words_of(page)[0]


def test_hazards_stand_first() -> None:
    page = sheet_of(SMALL.replace("12 g cure", "120 g cure"), "formula")
    assert words_of(page, "//div[@class='stop']/ul/li")[0].startswith("curing-salt-over-limit, line 6 (possible): 1,")
    assert page.index('class="stop"') < page.index("<h2>Formula</h2>")


@pytest.mark.parametrize("path", [*PAGES, *HARD], ids=lambda path: path.stem)
def test_no_ingredient_and_no_ingoing_sum_of_the_corpus_is_lost(path: Path) -> None:
    for recipe in of_file(path):
        page = sheets.render([recipe], Asked("formula", TODAY))
        rows = rows_of(page, "Formula")
        for item in recipe[0].ingredients:
            assert any(" ".join(clean(name_of(item)).split()) in row[0] and row[0].endswith(f"line {item.line}") for row in rows), item
        if not recipe[0].ways:
            worked = [name for name in recipe[1].all() if name.partition("_")[0] in AGENTS and name.partition("_")[2] in METHODS]
            assert len(rows_of(page, GOES_IN)) == len(worked)


@settings(max_examples=40)
@given(st.lists(st.text(alphabet="abcdefghijklmnop <>&\"'{}%\u202e\u0000", min_size=1, max_size=30), min_size=1, max_size=12))
def test_no_ingredient_is_lost_whatever_it_is_called(names: list[str]) -> None:
    text = "Corned flat\n\n2 kg brisket flat\n" + "".join(f"5 g {name}\n" for name in names) + "\nCure it in the fridge at 3 °C, 9 days.\n"
    rows = [row for row in rows_of(sheet_of(text, "formula"), "Formula") if len(row) == 3]
    assert len(rows) == len(recipe_of(text).ingredients)


# In a real browser.


@pytest.mark.parametrize("path", [*PAGES, *HARD], ids=lambda path: path.stem)
def test_it_is_read_well_on_a_phone(browser: Any, path: Path, tmp_path: Path) -> None:
    is_seen_well(browser, sheets.render(of_file(path), Asked("formula", TODAY)), tmp_path)


def test_the_corpus_is_seen_well_on_a_tablet_and_printed(browser: Any, tmp_path: Path) -> None:
    page = sheets.render([recipe for path in [*PAGES, *HARD] for recipe in of_file(path)], Asked("formula", TODAY))
    is_seen_well(browser, page, tmp_path, TABLET)
    is_seen_well(browser, page, tmp_path, DESK, printed=True)


@pytest.mark.parametrize("path", [path for path in PAGES if sound(path)], ids=lambda path: path.stem)
def test_a_sound_recipe_prints_on_one_page(browser: Any, path: Path, tmp_path: Path) -> None:
    for recipe in of_file(path):
        assert pages_printed(browser, sheets.render([recipe], Asked("formula", TODAY)), tmp_path) == {"A4": 1, "Letter": 1}


def test_a_hostile_page_is_inert_and_whole(browser: Any, tmp_path: Path) -> None:
    page = sheet_of(HOSTILE, "formula")
    shown = is_inert(browser, page, tmp_path)
    recipe = recipe_of(HOSTILE)
    assert len(recipe.ingredients) == 300
    assert [item.name for item in recipe.ingredients if " ".join(clean(name_of(item)).split()) not in shown] == []
    assert WORD in shown
    assert "[pepper](javascript:window.ran=1)" in shown  # no name was read: the line stands
    assert "\u202e" not in shown
    is_seen_well(browser, page, tmp_path)
    is_seen_well(browser, page, tmp_path, DESK, printed=True)
