"""What a new cook would ask of a page, and what the page answers."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from overhaul.cli import main
from overhaul.handing_over import HandOver, Item, hand_over
from overhaul.house import House
from overhaul.reading.allergens import allergens, names
from overhaul.span import Span, exactly
from tests.conftest import findings_of, recipe_of

WHOLE = """Corned flat

Makes 12 plates
Checked by KM, 2026-03-02
Allergens: mustard, celery

5 lb brisket flat, 1 3/4 in thick, trimmed of fat
8 lb 5 oz cold water
8 oz salt
16 g cure no. 1 (6.25 % nitrite)
15 g mustard seed

1. Stir salt and cure into the water until clear. Chill the brine to 38 F.
2. Flat in a 12 litre food plastic tub, brine over it, a plate on top. Refrigerate at 38 F for 10 days, turning daily.
3. Rinse. Soak 2 hours in cold water in the refrigerator.
4. Simmer in fresh water 3 hours, until 200 F inside. Rest 20 minutes, then slice.
5. Cool from 135 to 70 F in 2 hours, and to 41 F in 4 hours more. Keeps 4 days at 38 F.
"""


def handed(text: str) -> HandOver:
    return hand_over(recipe_of(text), findings_of(text))


def item(text: str, name: str) -> Item:
    return next(one for one in handed(text).items if one.name == name)


def test_a_whole_page_is_ready() -> None:
    found = handed(WHOLE)
    assert [one.question for one in found.items if one.question is not None] == []
    assert (found.ready, found.verdict) == (True, "ready to hand over")
    assert [one.name for one in found.items] == ["yield", "batch", "weights", "vessel", "days", "cold", "end", "cooling", "keeping", "allergens", "signed"]


@pytest.mark.parametrize(
    ("old", "new", "name", "question"),
    [
        ("Makes 12 plates\n", "", "yield", "How much does it make, in portions or by weight?"),
        (" in a 12 litre food plastic tub, brine over it,", " in,", "vessel", "In what tub, how large, and of what?"),
        ("12 litre food plastic tub", "12 litre tub", "vessel", "What is the tub of 12 litres made of (line 14)?"),
        ("Refrigerate at 38 F for", "In the walk-in for", "cold", "“walk-in” on line 14: how cold is that, and on which scale?"),
        (" Keeps 4 days at 38 F.", "", "keeping", "How long does it keep, how cold, and the day it was made counted as what?"),
        ("Allergens: mustard, celery\n", "", "allergens", "The page names no allergens. By its words it may hold mustard (mustard seed, line 10). Which are in it?"),
        ("Checked by KM, 2026-03-02\n", "", "signed", "Who has checked it, and when was it last changed?"),
        ("until 200 F inside", "until 200 inside", "scale", "“200” on line 16: Fahrenheit or Celsius?"),
        ("16 g cure", "3 tsp cure", "weights", "What do these weigh: cure no. 1 (line 10)?"),
    ],
)  # fmt: skip
def test_what_is_taken_out_is_asked_for(old: str, new: str, name: str, question: str) -> None:
    assert old in WHOLE
    found = item(WHOLE.replace(old, new), name)
    assert found.question == question or found.asked


def test_what_the_audit_asks_is_not_asked_twice() -> None:
    found = handed(WHOLE.replace("5 lb brisket", "brisket"))
    batch = next(one for one in found.items if one.name == "batch")
    assert batch.asked
    assert "meat-weight-not-stated" in {one.rule for one in found.asked}
    assert found.questions == len(found.asked)


def test_the_verdict_counts_in_words() -> None:
    found = handed(WHOLE.replace("16 g cure", "16 oz cure").replace("Makes 12 plates\n", ""))
    assert not found.ready
    assert found.verdict.startswith("not ready: 1 hazard")
    assert found.verdict.endswith(" to put right, and 1 question")


def test_what_is_signed_off_is_settled_but_never_a_certain_hazard() -> None:
    text = WHOLE.replace(" Rest 20 minutes, then slice.", " Slice.")
    assert "rest-missing" in {one.rule for one in handed(text).asked}
    from overhaul.house import House
    from overhaul.pipeline import audit_text
    from overhaul.text import Page

    signed = text + '\nSigned off: rest-missing on "until 200 F inside", KM, 2026-03-02: rests in the pot.\n'
    assert hand_over(recipe_of(signed), audit_text(Page(signed), House()).findings).asked == ()
    over = text.replace("16 g cure", "16 oz cure") + '\nSigned off: curing-salt-over-limit on "16 oz cure", KM, 2026-03-02: no.\n'
    assert "curing-salt-over-limit" in {one.rule for one in hand_over(recipe_of(over), audit_text(Page(over), House()).findings).wrong}


def test_raw_bacon_is_not_asked_when_it_is_done() -> None:
    text = "Bacon\n\n2 kg pork belly, 40 mm thick\n46 g salt\n4.8 g cure no. 1\n\nRub and bag it, 12 days at 3 °C, turning daily. Rinse. It is raw: fry it before eating.\n"
    assert "end" not in [one.name for one in handed(text).items]
    assert "vessel" not in [one.name for one in handed(text).items]


# Regulation (EU) 1169/2011, annex II, has fourteen; 21 U.S.C. 321(qq) nine of the same. Both from memory.
def test_fourteen_allergens_are_known() -> None:
    assert len(names()) == 14


@pytest.mark.parametrize(
    ("name", "brought"),
    [
        ("yellow mustard seeds", ["mustard"]), ("soy sauce", ["cereals with gluten", "soy"]), ("Worcestershire", ["fish"]), ("celery salt", ["celery"]), ("stout", ["cereals with gluten"]),
        ("dry white wine", ["sulphites"]), ("kosher salt", []), ("nutmeg", []), ("buttermilk", ["milk"]), ("peanut oil", ["peanuts"]), ("pickling spice", ["mustard"]),
    ],
)  # fmt: skip
def test_what_a_name_may_bring(name: str, brought: list[str]) -> None:
    assert allergens(name) == brought


def test_the_command(tmp_path: Path) -> None:
    card = tmp_path / "card.txt"
    card.write_text(WHOLE.replace("Makes 12 plates\n", ""), "utf-8")
    result = CliRunner().invoke(main, ["audit", str(card), "--handoff"])
    assert result.exit_code == 0
    assert result.stdout.splitlines()[:2] == [f"Corned flat ({card})", "Not ready: 1 question."]
    assert "  ? how much it makes: How much does it make, in portions or by weight?" in result.stdout
    assert "  ✓ who answers for it: checked by (line" not in result.stdout
    tree = json.loads(CliRunner().invoke(main, ["audit", str(card), "--handoff", "--as", "json"]).stdout)
    assert tree["files"][0]["handoff"][0]["verdict"] == "not ready: 1 question"
    assert CliRunner().invoke(main, ["audit", str(card), "--handoff", "--as", "sarif"]).exit_code == 2


def test_what_the_house_sheet_tells_is_not_asked() -> None:
    text = WHOLE.replace("Refrigerate at 38 F for", "In the walk-in for").replace("a 12 litre food plastic tub", "the blue bucket, plastic")
    house = House(cooler=Span(36, 37, 38), tubs={"blue bucket": exactly(22)})
    found = {one.name: one for one in hand_over(recipe_of(text, house), findings_of(text, house), house).items}
    assert (found["cold"].told, found["cold"].line) == ("walk-in, 36 to 38 °F by the house sheet", 14)
    assert (found["vessel"].told, found["vessel"].line) == ("22 litres, plastic", 14)


# Curing food needs a variance first: Food Code 2022, 3-502.11, as Washington adopted it in WAC 246-215-03535.
@pytest.mark.parametrize(
    ("text", "house", "told"),
    [
        (WHOLE, House(), None), (WHOLE, House(sold=False), None), (WHOLE.replace("Makes", "For sale. Makes"), House(), "?"), (WHOLE, House(sold=True), "?"),
        (WHOLE.replace("Makes", "For sale. Makes"), House(sold=False), None), (WHOLE.replace("16 g cure no. 1 (6.25 % nitrite)\n", ""), House(sold=True), None),
        (WHOLE.replace("Checked by", "Variance no. 14-22. Checked by"), House(sold=True), "Variance no. 14-22"), (WHOLE.replace("Checked by", "HACCP plan 7, checked by"), House(sold=True), "HACCP plan 7"),
    ],
)  # fmt: skip
def test_what_is_cured_for_sale_needs_leave(text: str, house: House, told: str | None) -> None:
    items = [one for one in hand_over(recipe_of(text), findings_of(text), house).items if one.name == "variance"]
    assert [one.told or "?" for one in items] == ([] if told is None else [told])
    if told == "?":
        assert items[0].question == "It is cured for sale: does a variance or HACCP plan of the local authority cover it (Food Code 2022, 3-502.11), and where is it kept?"


@pytest.mark.parametrize("to", ["text", "yaml"])
def test_what_comes_from_the_standard_input_is_handed_over_too(tmp_path: Path, to: str) -> None:
    card = tmp_path / "card.txt"
    card.write_text(WHOLE, "utf-8")
    given = CliRunner().invoke(main, ["convert", str(card), "--to", to]).stdout
    result = CliRunner().invoke(main, ["audit", "-", "--handoff"], input=given)
    assert result.stdout.splitlines()[:2] == ["Corned flat (-)", "Ready to hand over."]
