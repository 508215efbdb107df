from __future__ import annotations

import re

import pytest

from overhaul.findings import Finding, Grade
from overhaul.output import plain
from overhaul.pipeline import Audited
from overhaul.text import Page, Place
from tests.output.made import FAULT, HAZARD, PAGE, POSSIBLE, QUERY, RECIPE, UNREADABLE, audited

WHOLE = """\
Corned flat — 2 hazards (1 certain), 1 fault

corned.txt:4:1: certain hazard: curing-salt-over-limit
    Far over.
    | 3 cups salt
    | ^^^^^^
    Sum: 3 ÷ 1 = 3
    Source: 9 CFR 424.21(c), use of food ingredients: curing agents and
    accelerators (US Department of Agriculture, Food Safety and Inspection
    Service, 2026), (c)
    Remedy: Weigh 2.
    Signed off by jb, 2026-11-02: made it for years

corned.txt:6:22: possible hazard: brine-warm
    It may be warm.
    | Cure 7 to 10 days at 38 F, weighed down.
    |                      ^^^^

corned.txt:6:6: possible fault: cure-time-short
    Too few days.
    | Cure 7 to 10 days at 38 F, weighed down.
    |      ^^^^^^^^^^^^
    Signed off by jb, 2026-11-02: thin (stale: those words no longer stand
    there)

Corned flat — 1 query

a.txt:7:23: query: rest-missing
    No rest is written.
    | Then cook to 203 F ¿4.
    |                       ^ here

Summary
  corned.txt: 2 hazards (1 certain), 1 fault
  a.txt: 1 query
  scan.txt: not read: a binary file, not text
  2 recipes read, 2 hazards (1 certain), 1 fault, 1 query; 3 other files passed over

Decision support only. A figure within a limit is within the limit it was
checked against, no more. Local food code, the kitchen's food-safety plan and a
licensed or qualified person decide.
"""


def test_a_whole_report_worst_first() -> None:
    files = [audited(QUERY, file="a.txt"), UNREADABLE, audited(FAULT, POSSIBLE, HAZARD)]
    assert re.sub(r", 20\d\d\), \(c\)", ", 2026), (c)", plain.render(files, 80, False, 3)) == WHOLE


def test_one_certain_hazard_outweighs_many_possible_ones() -> None:
    shown = plain.render([audited(POSSIBLE, POSSIBLE, FAULT, file="many.txt"), audited(HAZARD, file="one.txt")])
    assert shown.index("one.txt:") < shown.index("many.txt:")


def test_a_sound_recipe_says_so_with_the_caution() -> None:
    shown = plain.render([audited()])
    assert "  corned.txt: nothing found\n  1 recipe read, nothing found\n" in shown
    assert shown.endswith("decide.\n")


def test_nothing_read_is_not_nothing_found() -> None:
    assert "  0 recipes read\n" in plain.render([])


def test_colour_adds_nothing_but_colour() -> None:
    files = [audited(HAZARD, FAULT, QUERY)]
    coloured = plain.render(files, 80, True)
    assert "\x1b[" in coloured
    assert re.sub(r"\x1b\[[\d;]*m", "", coloured) == plain.render(files, 80, False)


@pytest.mark.parametrize("width", [40, 60, 100])
def test_a_long_line_is_quoted_round_its_place_and_marked_there(width: int) -> None:
    text = "x" * 500 + "9 lb" + "y" * 500
    finding = Finding("brine-weak", Grade.FAULT, False, Place(500, 504), "Weak.")
    shown = plain.finding_lines(finding, Audited("p.txt"), Page(text, "p.txt"), width, False)
    quote, mark = shown[2:4]
    assert len(quote) <= width
    assert quote[mark.index("^") : mark.rindex("^") + 1] == "9 lb"


@pytest.mark.parametrize("place", [Place(0, 60), Place(13, 13), Place(len(PAGE.text), len(PAGE.text))])
def test_any_place_can_be_marked(place: Place) -> None:
    shown = plain.finding_lines(Finding("brine-weak", Grade.FAULT, False, place, "Weak."), audited(), PAGE, 80, False)
    assert "^" in shown[3]


def test_a_finding_in_a_file_of_several_names_its_recipe() -> None:
    assert plain.render([audited(HAZARD.of_recipe(1, "Corned flat"))]).splitlines()[2] == "corned.txt:4:1: certain hazard: curing-salt-over-limit (in “Corned flat”)"


def test_what_stands_on_the_page_cannot_reach_the_terminal() -> None:
    page = Page("1 \x1b]0;owned\x07lb \u202esalt\n", "a\x1b[2Jb.txt")
    finding = Finding("brine-weak", Grade.FAULT, False, Place(0, 1), "Weak\x1b[1m.")
    shown = plain.render([Audited(page.name, page, titles=(RECIPE.title,), findings=(finding,))])
    assert not re.search("[\x1b\x07\u202e]", shown)


def test_a_page_number_stands_with_the_rule() -> None:
    one = Audited("corned.pdf", Page(PAGE.text, "corned.pdf", (1, 4)), (), ("Corned flat",), (HAZARD,))
    assert "corned.pdf:4:1: certain hazard: curing-salt-over-limit (page 2)\n" in plain.render([one], 80, False, 0)
