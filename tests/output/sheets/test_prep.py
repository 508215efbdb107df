"""The prep sheet: its words, its dates, and how it looks in a browser and on paper."""

from __future__ import annotations

import io
import re
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from overhaul.house import House
from overhaul.output import sheets
from overhaul.output.sheets.prep_rows import Row, Sheet, sheet
from overhaul.recipe import read_page
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.browsing import DESK, PHONE, TABLET, look
from tests.conftest import CORPUS, recipe_of
from tests.scheduling.made import HAM, corned
from tests.test_cli import Run

EVE, TODAY = datetime(2026, 12, 24, 11), date(2026, 11, 25)
RECIPES = sorted(path for path in CORPUS.rglob("*") if path.suffix in (".txt", ".md") and path.name != "README.md")
# A recipe of two ways, each with two mixes by the spoon, is let run over.
OF_NORMAL_SIZE = [path for path in RECIPES if path.parent.name != "hard-writing" and path.stem not in ("two-beefs-one-bucket", "festival-corned-beef")]  # of two ways; of nine findings


def asked(**changes: Any) -> sheets.Asked:
    return sheets.Asked(**{"kind": "prep", "made_on": TODAY, "serve": EVE, **changes})


def made(text: str, **changes: Any) -> Sheet:
    recipe = recipe_of(text)
    return sheet(recipe, Sums(recipe, House()), asked(**changes))


def row(found: Sheet, key: str) -> Row:
    return next(one for one in found.rows if one.key == key)


def html(text: str, name: str = "page.txt", **changes: Any) -> str:
    house = House()
    return sheets.render([(recipe, Sums(recipe, house)) for recipe in read_page(Page(text, name), house)], asked(**changes))


def words(page: str) -> str:
    """What a reader sees, blanks made single."""
    import html as unescaping

    page = re.sub(r"<(style|title).*?</\1>", " ", page, flags=re.S)
    return " ".join(unescaping.unescape(re.sub(r"<[^>]*>", " ", page)).split())


# -- words


def test_a_row_has_its_time_grams_tool_and_limit_with_its_source() -> None:
    found = made(corned())
    brine = row(found, "brine")
    assert (brine.day, brine.clock, brine.title) == ("Mon 14 Dec", "16:15", "Make the brine")
    assert [(one.name, one.grams) for one in brine.weigh] == [("cold water", "2,722 g"), ("kosher salt", "227 g"), ("cure #1", "16.0 g")]
    assert brine.limits[0].words == "curing salt to 0.1 g, never by the spoon; two people read the scale"
    chill = row(found, "chill")
    assert [(limit.words, limit.source) for limit in chill.limits] == [
        ("to 38 °F (3 °C) (line 8)", None),
        ("40 °F (4 °C) or less before meat goes in", "Curing and Smoking Meats for Home Food Preservation"),
    ]
    assert chill.lasts == "4 hours assumed, the limit of Food Code 2022"
    assert row(found, "out").tool == "sink, clean tub"


def test_the_house_scale_is_what_is_weighed_to() -> None:
    recipe = recipe_of(corned())
    found = sheet(recipe, Sums(recipe, House(scale={"cure": 0.5, "other": 5})), asked())
    assert [one.grams for one in row(found, "brine").weigh] == ["2,720 g", "225 g", "16.0 g"]


def test_what_is_measured_by_the_spoon_shows_its_span() -> None:
    found = made(corned().replace("8 oz kosher salt", "1 cup kosher salt"))
    salt = row(found, "brine").weigh[1]
    assert salt.more == "125 to 255"
    assert any(note.startswith("Grams with a span in brackets") for note in found.notes)


def test_a_range_names_its_ends_and_which_was_used() -> None:
    found = made(corned("7 to 10 days").replace("Simmer 3 hours", "Simmer 2 to 3 hours"))
    assert found.summary == ("Served Thu 24 Dec 2026, 11:00", "In the brine by Sun 13 Dec, out Sun 20 Dec to Wed 23 Dec")
    assert row(found, "cook").lasts == "2 to 3 hours; 3 hours planned, the long end"
    assert row(found, "cure").notes == ("At the latest Wed 16 Dec 20:45, for 7 days",)
    assert row(found, "out").notes == ("Not before Sun 20 Dec 20:45",)
    assert "Where there is a range, the long end is planned, or as near to it as the days allow." in found.notes


def test_day_1_is_told() -> None:
    found = made(corned())
    assert found.notes[0] == "Day 1 is the day it goes in, and it comes out on day 10; a day of cure is 24 hours."
    assert [tick.words for tick in row(found, "turn").ticks] == ["Wed 16 Dec (d3)", "Fri 18 Dec (d5)", "Sun 20 Dec (d7)", "Tue 22 Dec (d9)"]
    # Cooked on the 24th, which is day 1 of four.
    assert row(found, "keep").notes == ("Made Thu 24 Dec, day 1; use by Sun 27 Dec 2026",)


def test_cooked_ahead_tells_cooling_by_the_clock_and_the_last_day() -> None:
    found = made(HAM.format(keeps=7))
    cool = row(found, "cool")
    assert [limit.words for limit in cool.limits] == ["135 to 70 °F (57 to 21 °C) in 2 h, by Wed 23 Dec 17:00", "to 41 °F (5 °C) in 6 h in all, by Wed 23 Dec 21:00"]
    assert [limit.source for limit in cool.limits] == ["Food Code 2022, 3-501.14(A)(1)", "Food Code 2022, 3-501.14(A)(2)"]
    assert cool.notes == ("Then stands, covered, in the cold, until Thu 24 Dec 11:00", "Made Wed 23 Dec, day 1; use by Tue 29 Dec 2026 (7 days, as the page says)")
    assert row(found, "serve").limits[0].words == "cold, or heated again to 165 °F (74 °C) within 2 h"


def test_a_page_that_cools_slower_than_the_limit_is_planned_by_the_limit() -> None:
    cool = row(made(HAM.format(keeps=7).replace("Cool 135 to 70 F in 2 hours, 41 F in 4 more.", "Cool from 135 to 41 F in 12 hours.")), "cool")
    assert cool.notes[0] == "The page gives 12 hours, over the limit of 6"
    assert cool.start is not None and cool.end is not None and cool.end - cool.start == timedelta(hours=6)


def test_a_page_that_keeps_too_long_is_held_to_the_limit() -> None:
    assert "use by Tue 29 Dec 2026 (7 days, Food Code 2022; the page says 21)" in row(made(HAM.format(keeps=21)), "cool").notes[1]


def test_no_time_on_the_page_is_told_with_where_it_must_fit() -> None:
    smoke = row(made(HAM.format(keeps=7).replace(", 6 hours", "")), "smoke")
    assert smoke.lasts == "time not on the page: the plan leaves 8 hours"
    assert smoke.notes[0] == "Must fit between Wed 23 Dec 06:30 and Wed 23 Dec 14:30"


def test_pumping_tells_the_grams_of_brine() -> None:
    pump = row(made(HAM.format(keeps=7)), "pump")
    assert [(one.name, one.grams, one.more) for one in pump.weigh] == [("brine for the needle", "454 g", "10 % of green weight")]


def test_too_late() -> None:
    found = made(corned(), made_on=date(2026, 12, 20))
    assert found.late == "This had to be started on Mon 14 Dec 2026 at 16:15; it is too late: next possible serving Thu 31 Dec 2026, 11:00, begun after today."


def test_without_a_serving_days_are_counted_back() -> None:
    found = made(corned(), serve=None, closed=("Mon",))
    assert (row(found, "cure").day, row(found, "cure").clock) == ("9 days 6 h 15 min", "before serving")
    assert (row(found, "rest").day, row(found, "rest").clock) == ("1 h", "before serving")
    assert "Give --serve for days and times; closed days count only then." in found.notes
    assert all(one.start is None or one.key != "serve" for one in found.rows)


def test_closed_days_are_named_and_moves_told() -> None:
    found = made(corned(), closed=("Mon",))
    assert "Closed: Mon." in found.notes
    assert row(found, "brine").notes == ("Moved from Mon 14 Dec, a closed day",)


def test_what_stands_on_no_row_is_named() -> None:
    found = made(corned().replace("Left over:", "Sing a song. Left over:"))
    assert found.notes[-1] == "On no row of this sheet: line 11 (“Sing a song.”)."


def test_hazards_stand_at_the_top_with_rule_and_line() -> None:
    page = words(html(corned().replace("16 g cure", "16 oz cure")))
    assert "The audit of this recipe found 1 hazard; do not work from it before it is put right: curing-salt-over-limit, line 6 Served" in page
    page = words(html(corned().replace("16 g cure", "16 oz cure").replace("Walk-in at 38 F", "On the counter")))
    assert "hazards; do not work from it before they are put right:" in page


def test_a_sound_page_has_no_alarm_and_every_page_the_caution() -> None:
    page = words(html(corned()))
    assert "do not work from it" not in page
    assert "Decision support only." in page


def test_a_recipe_finished_two_ways_has_a_sheet_for_each() -> None:
    text = (CORPUS / "two-beefs-one-bucket.txt").read_text("utf-8")
    page = html(text)
    assert page.count('<section class="sheet"') == 2
    assert page.count("<b>Simmer</b>") == 1 and page.count("<b>Smoke</b>") == 1
    assert page.count("One of 2 sheets of this recipe. What stands on all of them is done once, at the earliest time on any.") == 2


def test_two_recipes_of_one_file_are_no_ways_of_one() -> None:
    page = html(f"{corned()}\n\n{HAM.format(keeps=7)}")
    assert page.count('<section class="sheet"') == 2 and "sheets of this recipe" not in page
    both = html(f"{(CORPUS / 'two-beefs-one-bucket.txt').read_text('utf-8')}\n\n{corned()}")
    assert both.count('<section class="sheet"') == 3 and both.count("One of 2 sheets of this recipe.") == 2


def test_no_method_and_nothing_to_weigh() -> None:
    assert made("Only a title\n").notes == ("The page has no method and nothing to weigh: there is nothing to work back.",)


def test_a_mix_by_itself_is_weighed_and_lies_in_nothing() -> None:
    assert [one.key for one in made("Rub for ribs\n\n20 g salt\n10 g pepper\n\nMix it all.\n").rows] == ["spice", "serve"]


# -- the command


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--zone", "Mars/Base"), "no time zone is called “Mars/Base”; they are named like Europe/Berlin"),
        (("--serve", "2027-03-28T02:30", "--zone", "Europe/Berlin"), "the clocks of Europe/Berlin leave out 02:30 on 2027-03-28"),
        (("--serve", "0001-01-02T11:00"), "the work would begin before the first year of the calendar, or end after its last"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(overhaul: Run, tmp_path: Path, args: tuple[str, ...], said: str) -> None:
    page = tmp_path / "corned.txt"
    page.write_text(corned(), "utf-8")
    args = args if "--serve" in args else ("--serve", "2026-12-24T11:00", *args)
    done: Result = overhaul("sheet", page, *args)
    assert (done.exit_code, done.stdout, done.stderr) == (2, "", f"overhaul: {page}: {said}\n")


def test_written_only_where_it_was_told(overhaul: Run, tmp_path: Path) -> None:
    page, out = tmp_path / "corned.txt", tmp_path / "prep.html"
    page.write_text(corned(), "utf-8")
    done: Result = overhaul("sheet", page, "--serve", "2099-12-24T11:00", "--closed", "mon", "--closed", "Tue", "--out", out)
    assert (done.exit_code, done.stdout) == (0, "")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["corned.txt", "prep.html"]
    assert "Closed: Mon, Tue." in words(out.read_text("utf-8"))


# -- the page


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_every_recipe_of_the_corpus_in_a_browser(browser: Any, tmp_path: Path, path: Path) -> None:
    file = tmp_path / "sheet.html"
    file.write_text(html(path.read_text("utf-8"), path.name, closed=("Mon",)), "utf-8")
    for size, printed in ((PHONE, False), (TABLET, False), (DESK, True)):
        seen = look(browser, file, size, printed=printed)
        assert (seen.complaints, seen.asked, seen.wider, seen.barriers) == ([], [], [], []), size


@pytest.mark.parametrize("path", OF_NORMAL_SIZE, ids=lambda path: path.stem)
def test_a_normal_recipe_is_one_page_of_a4_and_of_letter(browser: Any, tmp_path: Path, path: Path) -> None:
    file = tmp_path / "sheet.html"
    file.write_text(html(path.read_text("utf-8"), path.name), "utf-8")
    tab = browser.new_page()
    try:
        tab.goto(file.as_uri())
        for paper in ("A4", "Letter"):
            assert len(PdfReader(io.BytesIO(tab.pdf(format=paper))).pages) == 1, paper
    finally:
        tab.close()


HOSTILE = """<script>alert(1)</script> & "corned" \u202e beef \x1b[31m
{{ 7 * 7 }} {% raw %}

1 brisket flat <img src=x onerror=alert(1)>, 6 lb, 1 1/2 in. thick
6 lb cold water
8 oz kosher salt from [here](javascript:alert(1))
16 g cure #1 (6.25% nitrite)
""" + "".join(f"{number} g {'x' * 80}{number}\n" for number in range(1, 301)) + """
Stir salt and cure into the cold water, chill to 38 F. </td></table><iframe src="https://example.org/">
Flat in under a plate. Walk-in at 38 F, 9 days, turning daily. javascript:alert(1)
Rinse. Soak 2 hours in the walk-in. Simmer 3 hours, to 195 F inside. Rest 20 minutes, slice.
"""  # fmt: skip


def test_a_hostile_recipe_is_inert_and_whole(browser: Any, tmp_path: Path) -> None:
    page = html(HOSTILE, "<b>&.txt")
    assert "<script" not in page and "<img" not in page and "<iframe" not in page and "\u202e" not in page and "\x1b" not in page and "href" not in page
    assert "49" not in re.findall(r"<h1[^>]*>.*?</h1>", page, re.S)[0]
    assert "300 g" in page  # to the last of three hundred
    file = tmp_path / "sheet.html"
    file.write_text(page, "utf-8")
    for size in (PHONE, TABLET):
        seen = look(browser, file, size)
        assert (seen.complaints, seen.asked, seen.wider, seen.barriers) == ([], [], [], [])


@settings(max_examples=60)
@given(st.text(max_size=80), st.text(max_size=80), st.sampled_from(["", "Mon", "Thu"]))
def test_whatever_the_page_says_only_our_own_tags_stand_in_the_sheet(title: str, more: str, closed: str) -> None:
    text = f"{title}\n\n1 brisket flat, 6 lb\n100 g salt\n\nPut it in the walk-in for 9 days. {more}\nSimmer 3 hours.\n"
    house = House()
    page = sheets.render([(recipe, Sums(recipe, house)) for recipe in read_page(Page(text, "page.txt"), house)], asked(closed=(closed,) if closed else ()))
    tags = set(re.findall(r"<\s*/?\s*([a-zA-Z!]+)", page))
    assert tags <= {"html", "head", "meta", "title", "style", "body", "main", "section", "header", "footer", "p", "h", "strong", "div", "ul", "li", "table", "thead", "tbody", "tr", "th", "td", "b", "span", "!doctype", "!DOCTYPE"}
