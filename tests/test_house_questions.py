"""The questions of a house sheet, by what their answers settle over a binder."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from overhaul import house_questions
from overhaul.cli import main
from overhaul.house import House
from overhaul.house_questions import HouseQuestion, asked_most, sheet, told
from overhaul.house_sheet import read_sheet
from overhaul.output import plain
from overhaul.pipeline import audit, audit_text
from overhaul.rules import all_rules
from overhaul.span import Span
from overhaul.text import Page
from tests.conftest import CORPUS

CARD = """Corned flat

5 lb brisket flat, 1 3/4 in thick, trimmed
8 lb 5 oz cold water
1 1/2 cups kosher salt
3 tsp pink salt

Stir until clear, chill to 38 F. Flat in, plate on top. Refrigerate at 38 F for 8 days, turning daily.
Rinse. Smoke until 150 F inside. Rest 20 minutes.
"""


def questions(*texts: str, house: House | None = None) -> list[HouseQuestion]:
    home = house or House()
    pages = [Page(text, f"card{number}.txt") for number, text in enumerate(texts, 1)]
    return house_questions.house_questions((page, home, audit_text(page, home).findings) for page in pages)


def test_what_settles_most_comes_first_with_its_pages() -> None:
    found = questions(CARD, CARD.replace("Smoke until 150 F inside", "Simmer to 200 F inside"))
    assert next((one.line, one.pages) for one in found) == ("salt: {kosher: dense rolled}  # or: light flake", ("card1.txt", "card2.txt"))
    assert [one.settles for one in found] == sorted((one.settles for one in found), reverse=True)
    assert ("smoker: {low: 225, high: 250, unit: degF}", ("card1.txt",)) in [(one.line, one.pages) for one in found]


def test_what_the_sheet_has_answered_is_not_asked_again() -> None:
    known = House(salt_kinds={"kosher": "kosher_light_flake"}, smoker=Span(225, 230, 235))
    assert not {"Which kosher salt does the house use?", "How hot is the smoker run?"} & {one.question for one in questions(CARD, house=known)}


def test_every_answer_is_a_house_sheet_and_the_one_that_was_tried() -> None:
    for one in house_questions._QUESTIONS:
        text = f"{one.under}:\n  {one.line}\n" if one.under is not None else f"{one.line}\n"
        house = read_sheet(text)
        for field, value in one.answers[0].items():
            assert getattr(house, field) == value, one.question


def test_the_sheet_says_nothing_until_it_is_filled_in_and_then_what_it_says() -> None:
    text = sheet([HouseQuestion(one.question, one.line, 1, ("a.txt",), one.under) for one in house_questions._QUESTIONS])
    assert read_sheet(text) == House()
    filled = read_sheet(re.sub(r"^# (?=[ a-z])", "", text, flags=re.M))
    assert filled.strengths == {"cure1": {"nitrite": 6.25}, "cure2": {"nitrite": 6.25, "nitrate": 4}, "ready-mix": {"nitrite": 0.6}}
    assert (filled.sold, filled.cooler) == (True, Span(36, 37, 38))


@pytest.mark.parametrize(
    ("found", "words"),
    [
        ([], "no answer of a house sheet settles any query here"), ([HouseQuestion("?", "x", 1, ("a",))], "1 answer settles 1 query on 1 page"),
        ([HouseQuestion("?", "x", 5, ("a", "b")), HouseQuestion("?", "y", 4, ("b", "c"))], "2 answers settle 9 queries on 3 pages"),
    ],
)  # fmt: skip
def test_how_it_is_told(found: list[HouseQuestion], words: str) -> None:
    assert told(found) == words


def test_answering_settles_what_was_counted() -> None:
    page = Page(CARD, "card.txt")
    before = len(audit_text(page, House()).findings)
    (salt,) = (one for one in questions(CARD) if one.line.startswith("salt"))
    after = len(audit_text(page, read_sheet(salt.line)).findings)
    assert before - after == salt.settles


def test_the_command_writes_a_sheet_and_never_over_one(tmp_path: Path) -> None:
    new = tmp_path / "house.yaml"
    result = CliRunner().invoke(main, ["audit", str(CORPUS), "--stop-at", "never", "--out-house", str(new)])
    assert result.exit_code == 0
    assert re.search(r"\d answers settle \d+ queries on \d pages", result.stderr)
    assert read_sheet(new.read_text("utf-8")) == House()
    again = CliRunner().invoke(main, ["audit", str(CORPUS), "--out-house", str(new)])
    assert again.exit_code == 2
    assert "a house sheet is never written over; name another file" in again.stderr


SHEETS = {
    "salt.kosher": ("salt: {kosher: dense rolled}\n", "salt: {kosher: light flake}\n"), "smoker": ("smoker: {low: 225, high: 250, unit: degF}\n", "smoker: {low: 180, high: 200, unit: degF}\n"),
    "curing_salts.cure1": ("curing_salts: {cure1: {nitrite: 6.25}}\n",), "curing_salts.cure2": ("curing_salts: {cure2: {nitrite: 6.25, nitrate: 4}}\n",),
    "curing_salts.ready-mix": ("curing_salts: {ready-mix: {nitrite: 0.6}}\n",),
}  # fmt: skip


def test_what_a_rule_says_would_answer_it_does_whatever_the_answer() -> None:
    tried = set()
    texts = [rule.faulty for rule in all_rules() if rule.name in ("salt-not-weighed", "curing-salt-kind-not-named", "smoke-temperature-missing")]
    for text in [CARD, CARD.replace("pink salt", "complete cure mix"), *texts]:
        page = Page(text, "card.txt")
        for finding in audit_text(page, House()).findings:
            for answer in SHEETS.get(finding.settled_by or "", ()):
                tried.add(finding.settled_by)
                assert (finding.rule, finding.place) not in [(one.rule, one.place) for one in audit_text(page, read_sheet(answer)).findings], answer
    assert tried >= {"salt.kosher", "smoker", "curing_salts.cure1", "curing_salts.ready-mix"}


def test_over_a_binder_the_answers_that_settle_most_come_first() -> None:
    audited = [audit(CARD.encode(), name, House()) for name in ("a.txt", "b.txt")] + [audit(CARD.replace("Smoke until", "Simmer to").encode(), "c.txt", House())]
    said = "3 answers in a house sheet settle 8 queries in 3 recipes: curing_salts.cure1 (3), salt.kosher (3), smoker (2)"
    assert asked_most((one.file, finding) for one in audited for finding in one.findings) == said
    assert plain.render(audited, 200).splitlines()[0] == f"{said}. --out-house FILE writes them down to fill in."
    assert not plain.render(audited[:1], 200).startswith("3 answers")
    assert asked_most([]) is None
