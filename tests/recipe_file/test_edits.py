"""A cook's hand in a recipe file: the field counts, its words go onto the page, and where the text says another thing it is asked."""

from __future__ import annotations

import difflib

import pytest

from overhaul import recipe_file
from overhaul.findings import Finding
from overhaul.house import House
from overhaul.sums.work import Sums
from tests.recipe_file.made import PAGE, again, edited, read, said, written

FILE = written(PAGE)
CURE = "amount: {low: 3.4, high: 3.4, unit: gram}"
ASKED = "The sums here are worked from the field. Which holds?"


def messages(text: str) -> list[str]:
    return [one.message for one in _findings(text) if one.rule == "field-and-text-differ"]


def _findings(text: str) -> tuple[Finding, ...]:
    return recipe_file.audit(text.encode(), "page.yaml", House()).findings


def page_changes(text: str) -> list[str]:
    new = read(text).page.text
    return [line for line in difflib.unified_diff(PAGE.splitlines(), new.splitlines(), lineterm="", n=0) if line[:1] in "+-" and line[:3] not in ("+++", "---")]


def test_an_untouched_file_says_nothing_of_its_own() -> None:
    assert messages(FILE) == []
    assert page_changes(FILE) == []


@pytest.mark.parametrize(
    ("edits", "line", "words", "message", "page"),
    [
        pytest.param(
            [(CURE, "amount: {low: 5, high: 5, unit: gram}")], 29, "{low: 5, high: 5, unit: gram}",
            f"The field says 5 grams for the amount of the cure #1, its text says 3.4 grams. {ASKED}",
            ["-3.4 g cure #1 (6.25 % nitrite)", "+5 grams cure #1 (6.25 % nitrite)"], id="an amount",
        ),
        pytest.param(
            [("- {low: 9, high: 9, unit: day}", "- {low: 12, high: 14, unit: day}")], 46, "{low: 12, high: 14, unit: day}",
            f"The field says 12 to 14 days for the times of the step, its text says 9 days. {ASKED}",
            ["-Rub it all on and bag it. Refrigerate at 38 F for 9 days, turning daily.", "+Rub it all on and bag it. Refrigerate at 38 F for 12 to 14 days, turning daily."], id="a time",
        ),
        pytest.param(
            [("  storage:\n    low: 5\n    high: 5\n", "  storage:\n    low: 7\n    high: 7\n")], 86, "storage",
            f"The field says 7 days for the storage, its text says 5 days. {ASKED}",
            ["-Keeps 5 days at 38 F.", "+Keeps 7 days at 38 F."], id="a fact of the process",
        ),
        pytest.param(
            [("    text: 1 1/4 oz kosher salt", "    text: 2 oz kosher salt")], 23, "{low: 1.25, high: 1.25, unit: ounce}",
            f"The field says 1.25 ounces for the amount of the kosher salt, its text says 2 ounces. {ASKED}",
            ["-1 1/4 oz kosher salt", "+1.25 ounces kosher salt"], id="a text",
        ),
        pytest.param(
            [("  rinse: {line: 8}", "  rinse:")], 83, "rinse",
            f"The field says nothing for the rinse, its text says that it is done. {ASKED}", [], id="what the text says denied",
        ),
        pytest.param(
            [("title: Loin in the bag", "title: Loin for Sunday")], 2, "Loin for Sunday",
            f"The field says “Loin for Sunday” for the title, its text says “Loin in the bag”. {ASKED}",
            ["-Loin in the bag", "+Loin for Sunday"], id="the title",
        ),
    ],
)  # fmt: skip
def test_a_hand_on_one_field(edits: list[tuple[str, str]], line: int, words: str, message: str, page: list[str]) -> None:
    text = edited(FILE, *edits)
    assert messages(text) == [message]
    (found,) = [one for one in said(text) if one[1] == "field-and-text-differ"]
    assert (found[0], found[2]) == (line, words)
    assert page_changes(text) == page


def test_a_hand_on_field_and_text_alike_is_not_asked_about() -> None:
    text = edited(FILE, ("text: '3.4 g cure #1", "text: '5 g cure #1"), (CURE, "amount: {low: 5, high: 5, unit: gram}"))
    assert messages(text) == []
    assert page_changes(text) == ["-3.4 g cure #1 (6.25 % nitrite)", "+5 g cure #1 (6.25 % nitrite)"]


def test_sums_and_grams_follow_the_field() -> None:
    """31.2 g of cure #1 at 6.25 % in 3 lb (1,360.78 g) are 1,433 ppm by 31.2 × 0.0625 ÷ 1,360.78."""
    text = edited(FILE, (CURE, "amount: {low: 31.2, high: 31.2, unit: gram}"))
    (back,) = read(text).backs
    worked = Sums(back.recipe, House()).all()["nitrite_direct"].value
    assert worked is not None and round(worked.likely) == 1433
    assert "curing-salt-over-limit" in [rule for _, rule, _ in said(text)]
    assert "mass: {low: 31.2, likely: 31.2, high: 31.2, unit: gram}" in again(text)


def test_the_weight_of_the_meat_follows_its_line() -> None:
    (back,) = read(edited(FILE, ("amount: {low: 3, high: 3, unit: pound}", "amount: {low: 6, high: 6, unit: pound}"))).backs
    meat = back.recipe.process.meat
    assert meat is not None and meat.mass is not None
    assert round(meat.mass.likely, 2) == 2721.55


def test_a_mass_and_a_sum_are_never_read() -> None:
    wrong = edited(FILE, ("mass: {low: 3.4, likely: 3.4, high: 3.4, unit: gram}", "mass: {low: 99, likely: 99, high: 99, unit: gram}"))
    assert messages(wrong) == []
    assert again(wrong) == FILE


def test_an_entry_put_in_and_one_struck() -> None:
    put_in = edited(FILE, ("steps:\n", "  - name: black pepper\n    role: spice\n    amount: {low: 2, high: 2, unit: tablespoon}\nsteps:\n"))
    assert messages(put_in) == [f"The field says “2 tablespoons black pepper” for an entry of its own, its text says nothing. {ASKED}"]
    assert page_changes(put_in) == ["+2 tablespoons black pepper"]
    start = FILE.index("  - line: 4\n")
    struck = FILE[:start] + FILE[FILE.index("  - line: 5\n") :]
    assert messages(struck) == [f"The field says nothing for an entry of its own, its text says “1 1/4 oz kosher salt”. {ASKED}"]
    assert page_changes(struck) == ["-1 1/4 oz kosher salt"]


@pytest.mark.parametrize("edit", [(CURE, "amount: {low: 5, high: 5, unit: gram}  # off the scale"), ("- {low: 9, high: 9, unit: day}", "- {low: 12, high: 14, unit: day}"), ("rinse: {line: 8}", "rinse:"), ("steps:\n", "# the method\nsteps:\n"), ("title: Loin in the bag", "title: Loin for Sunday")])
def test_hands_and_comments_stay_and_the_second_time_nothing_changes(edit: tuple[str, str]) -> None:
    text = edited(FILE, edit)
    once = again(text)
    assert edit[1] in once
    assert again(once) == once


def test_a_file_without_lines_gets_a_page_of_its_fields() -> None:
    bare = "format: overhaul/1\ntitle: Brine\nsections:\n- name: Brine\n  ingredients:\n  - name: water\n    amount: {low: 1, high: 1, unit: gallon}\n  - name: kosher salt\n    amount: {low: 8, high: 8, unit: ounce}\nsteps:\n- text: Chill to 38 F.\n"
    found = read(bare)
    assert found.page.text == "Brine\n\nBrine:\n1 gallon water\n8 ounces kosher salt\n\n1. Chill to 38 F.\n"
    assert [(item.name, item.role) for item in found.backs[0].recipe.ingredients] == [("water", "water"), ("kosher salt", "salt")]


def test_two_pages_put_into_one_file_stay_two_recipes() -> None:
    """Lines that by themselves would be one recipe: each document is read from its own."""
    second = FILE[: FILE.index("lines:")] + "lines:\n" + "".join(f"- line: {number}\n  text: '{line}'\n" for number, line in enumerate(PAGE.splitlines(), 10))
    found = read("---\n" + FILE + "---\n" + second)
    assert [back.recipe.title for back in found.backs] == ["Loin in the bag", "Loin in the bag"]
    assert [len(back.recipe.ingredients) for back in found.backs] == [3, 3]
