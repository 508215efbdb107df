"""A copy with the remedies put in: what stays beside, what is settled, what is left to the cook."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from overhaul.cli import main
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.remedying import Remedied, remedied
from overhaul.text import Page
from tests.conftest import CORPUS

CARD = """Bucket corned beef

2 brisket flats, 9.4 lb in all, trimmed, 1 3/4 in thick
12 lb cold water
2 cups kosher salt
5 tsp curing salt no. 1

Stir it all into the water and chill to 38 F.
Flats in, plate on top. Refrigerate at 38 F 7 days, turning every day.
Rinse. Simmer 3 1/2 hours to 200 F inside.
Keeps 21 days in the cooler.
"""


def done(text: str, house: House | None = None) -> Remedied:
    page, home = Page(text, "card.txt"), house or House()
    return remedied(page, audit_text(page, home).findings, home)


def test_what_is_replaced_is_crossed_out_and_what_is_added_says_so() -> None:
    lines = done(CARD).text.splitlines()
    assert lines[4] == "~~2 cups~~ 370 g kosher salt"
    assert "Rest 20 minutes before slicing.  (added)" in lines
    assert lines[11] == "Keeps ~~21 days~~ 7 days in the cooler."


def test_what_is_settled_is_gone_when_the_copy_is_audited() -> None:
    found = done(CARD)
    assert {one.rule for one in found.settled} >= {"salt-not-weighed", "rest-missing", "keeps-too-long"}
    again = {one.rule for one in audit_text(Page(found.text), House()).findings}
    assert again == {one.rule for one in found.left}


def test_a_remedy_in_words_stands_below_as_a_note() -> None:
    found = done(CARD.replace("7 days", "1 day"))
    (left,) = (one for one in found.left if one.rule == "cure-time-short")
    assert left.remedy is not None
    assert f"Note: cure-time-short, line 9: {left.remedy.text}" in found.text.splitlines() or "~~1 day~~" in found.text


def test_a_sound_page_stays_as_it_is() -> None:
    page = (CORPUS / "belly-in-a-bag.md").read_text("utf-8")
    assert done(page).text == page


def test_a_finding_that_is_signed_off_is_left_as_it_is() -> None:
    text = CARD + '\nSigned off: keeps-too-long on "Keeps 21 days", KM, 2026-03-02: vacuum packed.\n'
    found = done(text)
    assert "Keeps 21 days in the cooler." in found.text
    assert "keeps-too-long" in {one.rule for one in found.left}


@pytest.mark.parametrize("path", sorted(path for path in CORPUS.rglob("*") if path.suffix in (".txt", ".md") and path.name != "README.md"), ids=lambda path: path.stem)
def test_no_copy_of_the_corpus_is_worse_than_its_page(path: Path) -> None:
    """Nothing new is said of the copy, what is settled is not said again, and every word of the page is still there."""
    text = path.read_text("utf-8")
    page = Page(text, path.name)
    before = audit_text(page, House()).findings
    found = remedied(page, before, House())
    after = [one.rule for one in audit_text(Page(found.text, path.name), House()).findings]
    assert sorted(after) == sorted(one.rule for one in found.left) or len(after) <= len(found.left)
    assert set(after) <= {one.rule for one in before}
    words = iter(found.text.replace("~~", " ").split())
    assert all(any(word == other for other in words) for word in text.replace("~~", " ").split() if word.isalpha())


def test_the_command_never_writes_over_the_recipe(tmp_path: Path) -> None:
    card, copy = tmp_path / "card.txt", tmp_path / "copy.txt"
    card.write_text(CARD, "utf-8")
    result = CliRunner().invoke(main, ["audit", str(card), "--stop-at", "never", "--remedied", str(copy)])
    assert result.exit_code == 0
    assert copy.read_text("utf-8") == done(CARD).text
    assert card.read_text("utf-8") == CARD
    assert f"{copy}: " in result.stderr
    same = CliRunner().invoke(main, ["audit", str(card), "--remedied", str(card)])
    assert same.exit_code == 2
    assert "the recipe itself is never written over; name another file" in same.stderr
    assert card.read_text("utf-8") == CARD


def test_the_command_copies_one_recipe_only(tmp_path: Path) -> None:
    for name in ("a.txt", "b.txt"):
        (tmp_path / name).write_text(CARD, "utf-8")
    result = CliRunner().invoke(main, ["audit", str(tmp_path), "--remedied", str(tmp_path / "copy.txt")])
    assert result.exit_code == 2
    assert "--remedied writes a copy of one recipe; these are 2 files" in result.stderr
