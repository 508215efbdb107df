"""The card of a batch read word for word, the recipe file, the data, and the command."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result
from ruamel.yaml import YAML

from overhaul import recipe_file
from overhaul.house import House
from overhaul.output import batch_page
from overhaul.output.plain import CAUTION
from overhaul.sums.work import Sums
from tests.batch.made import BRINE, made
from tests.conftest import CORPUS

Run = Callable[..., Result]

CARD = """\
Corned flats
Batch for 4 flats, 20 lb: 2 times the recipe.
From page.txt, by weight. Spices and aromatics go with the meat.

Weigh
  4 pieces, 9,072 g in all  brisket flat    line 3: 2 brisket flats, 10 lb in all, 2 in. thick
                  15,128 g  water           line 4: 2 gal water (14,380 to 15,884 g)
                   1,110 g  kosher salt     line 5: 3 c kosher salt (750 to 1,530 g)
                     434 g  brown sugar     line 6: 1 c brown sugar, packed (400 to 480 g)
                      84 g  cure #1         line 7: 42 g cure #1 (6.25% nitrite)
                      29 g  pickling spice  line 8: 2 T pickling spice (21.6 to 38.4 g)
               8, some 2 g  bay leaf        line 9: 4 bay leaves
                    by eye  thyme           line 10: a handful of thyme
                as written  black pepper    line 11: black pepper to taste
  In brackets: what the measure as written may weigh at this size. The likely is taken, and is what
  the batch is from now on.

Days in the cure
  8 days, for 50.8 mm (2 in) thick: they go by the thickness, and no other was said.

Not scaled
  line 10  a handful of thyme: a handful is no measure: by eye, for 2 times as much.
  line 11  black pepper to taste: no amount is written: to taste, or as it comes.
"""


def test_the_card() -> None:
    page = batch_page.render(made(meats=("4 flats, 20 lb",)))
    assert page.startswith(CARD)
    assert "Worked forward again: as written, then as weighed\n" in page
    assert "Audit of the batch: " in page
    assert " ".join(page.split()).endswith(CAUTION)


@pytest.mark.parametrize("width", [40, 60, 100])
def test_prose_keeps_to_the_width(width: int) -> None:
    page = batch_page.render(made(meats=("4 flats, 20 lb, 3 in",)), width)
    prose = page[page.index("Days in the cure") :]
    assert max(len(line) for line in prose.splitlines()) <= width + 24  # a long source title is one word's overhang


def test_what_a_page_holds_is_shown_harmless() -> None:
    page = batch_page.render(made(BRINE.replace("pickling spice", "pickling \x1b[31mspice\u202e").replace("Corned flats", "Corned \x9b flats")))
    assert not set(page) & {"\x1b", "\u202e", "\x9b"}


def test_what_is_asked_is_shown_harmless(overhaul: Run, page: Path) -> None:
    done = overhaul("batch", page, "--meat", "9 lb\x1b[2J flat")
    assert "\x1b" not in done.output + done.stderr


def test_the_recipe_file_says_what_it_is_a_batch_of() -> None:
    found = made(meats=("4 flats, 20 lb",))
    text = batch_page.render_yaml(found, Sums(found.recipe, House()), BRINE.encode())
    tree = YAML(typ="safe").load(text)
    assert list(tree)[:6] == ["format", "title", "product", "source", "yield", "batch"]
    assert (tree["batch"]["for"], tree["batch"]["factor"], tree["batch"]["meat"]) == ("4 flats, 20 lb: 2 times the recipe", pytest.approx(2, abs=1e-9), {"gram": 9072})
    assert tree["batch"]["caution"] == CAUTION
    back = recipe_file.read(text, "x.yaml", House())
    assert isinstance(back, recipe_file.RecipeFile), back.reason


def test_the_data_is_the_same_tree() -> None:
    found = made(meats=("4 flats, 20 lb",))
    sums = Sums(found.recipe, House())
    assert json.loads(batch_page.render_json(found, sums, b"")) == YAML(typ="safe").load(batch_page.render_yaml(found, sums, b""))


# The command.


@pytest.fixture
def page(tmp_path: Path) -> Path:
    path = tmp_path / "flats.txt"
    path.write_text(BRINE)
    return path


def test_the_command_writes_a_recipe_file_that_audit_and_convert_take(overhaul: Run, page: Path, tmp_path: Path) -> None:
    out = tmp_path / "batch.yaml"
    assert overhaul("batch", page, "--times", "2", "--as", "yaml", "--out", out).exit_code == 0
    assert overhaul("audit", out, "--stop-at", "never").exit_code == 0
    again = overhaul("convert", out, "--to", "yaml")
    assert again.exit_code == 0
    assert again.output == out.read_text()
    words = overhaul("convert", out, "--to", "text").output
    assert words.splitlines()[2:5] == ["4 brisket flats, 9072 g in all, 2 in. thick", "15128 g water", "1110 g kosher salt"]


def test_a_recipe_file_is_scaled_too(overhaul: Run, page: Path, tmp_path: Path) -> None:
    first, text = tmp_path / "one.yaml", ""
    assert overhaul("convert", page, "--out", first).exit_code == 0
    text = first.read_text().replace("amount: {low: 42, high: 42, unit: gram}", "amount: {low: 40, high: 40, unit: gram}")
    assert text != first.read_text()
    first.write_text(text)
    done = overhaul("batch", first, "--times", "2")
    assert done.exit_code == 0
    assert "     80 g  cure #1 " in done.output


@pytest.mark.parametrize(
    ("options", "reason"),
    [
        (("--times", "0"), "--times “0” is out of all bounds; it must be more than 0.001 and at most 1,000"),
        (("--meat", "9 lb salt"), "--meat “9 lb salt”: “salt” is no meat that is known here; say the cut, or the weight alone"),
        (("--tub", "18 l", "--portions", "60"), "--tub and --portions together say two sizes; say one of them (--meat with --tub is this meat in this tub)"),
        (("--cure", "x"), "“x” cannot be read; say what the label says, as “6.25 % nitrite” or “6.25 % nitrite, 4 % nitrate”"),
    ],
)
def test_what_cannot_be_asked_is_a_message_and_status_2(overhaul: Run, page: Path, options: tuple[str, ...], reason: str) -> None:
    done = overhaul("batch", page, *options)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert reason in done.stderr
    assert "\x1b" not in done.stderr


def test_what_cannot_be_made_is_told_with_the_file(overhaul: Run) -> None:
    card = CORPUS / "corned-round-card.txt"
    done = overhaul("batch", card, "--times", "2")
    assert done.exit_code == 2
    assert done.stderr == f"overhaul: {card}: no batch: line 7: nothing tells the grams of the curing salt in “Cure #1 (6.25%) - 24”. Write its weight, and make the batch again\n"


def test_of_several_recipes_one_is_asked_for(overhaul: Run, tmp_path: Path) -> None:
    both = tmp_path / "both.txt"
    both.write_text("# Corned flats" + BRINE.removeprefix("Corned flats") + "\n# Bacon\n\n5 lb belly\n2 oz salt\n1 oz sugar\n5.6 g cure #1\n\nRub. Bag. 7 days in the fridge.\n")
    done = overhaul("batch", both, "--times", "2")
    assert done.exit_code == 2
    assert done.stderr == f"overhaul: {both}: 2 recipes, and a batch is of one; say --recipe with its number: 1 Corned flats, 2 Bacon\n"
    bacon = overhaul("batch", both, "--times", "2", "--recipe", "2")
    assert bacon.exit_code == 0
    assert "  113 g  salt " in bacon.output
    assert "kosher" not in bacon.output
    assert overhaul("batch", both, "--times", "2", "--recipe", "3").exit_code == 2
