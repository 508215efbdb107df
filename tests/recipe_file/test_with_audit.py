"""The audit's further outputs on a recipe file: hand-over, house questions, remedied copies, sign-offs."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from overhaul.cli import main
from tests.conftest import CORPUS

PAGE = CORPUS / "bacon-with-the-wrong-cure.txt"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


@pytest.fixture
def recipe_file(tmp_path: Path) -> Path:
    page, file = tmp_path / "bacon.txt", tmp_path / "bacon.yaml"
    page.write_text(PAGE.read_text("utf-8") + '\nSigned off: keeps-too-long on "3 weeks", M.K., 2026-11-02: sold within the week\n', "utf-8")
    assert run("convert", page, "--to", "yaml", "--out", file).exit_code == 0
    return file


def test_the_hand_over_of_a_recipe_file_is_that_of_its_page(recipe_file: Path) -> None:
    told = [run("audit", path, "--handoff", "--stop-at", "never").output.replace(str(path), "").splitlines() for path in (recipe_file, recipe_file.with_suffix(".txt"))]
    assert "Not ready: 2 hazards to put right" in told[0][1]
    assert len(told[0]) > 15
    assert told[0] == told[1]


def test_a_sign_off_holds_in_a_recipe_file(recipe_file: Path) -> None:
    assert "Signed off by M.K., 2026-11-02: sold within the week" in run("audit", recipe_file, "--stop-at", "never").output


def test_the_marked_up_copy_of_a_recipe_file_is_its_page(recipe_file: Path) -> None:
    copies = [recipe_file.with_name(name) for name in ("of-file.txt", "of-page.txt")]
    done = [run("audit", path, "--remedied", copy, "--stop-at", "never") for path, copy in zip((recipe_file, recipe_file.with_suffix(".txt")), copies, strict=True)]
    assert [one.exit_code for one in done] == [0, 0]
    assert done[0].stderr.strip() == f"overhaul: {copies[0]}: 2 of 3 findings remedied; 1 is left to you; a page in words, not a recipe file"
    assert "~~1 oz cure #2~~ 11.6 g" in copies[0].read_text("utf-8")
    assert copies[0].read_text("utf-8") == copies[1].read_text("utf-8")


def test_a_house_sheet_is_written_from_pages_beside_it(recipe_file: Path) -> None:
    sheet = recipe_file.with_name("asked.yaml")
    (recipe_file.parent / "card.txt").write_text("Corned flat\n\n5 lb brisket flat, 1 3/4 in thick\n8 lb cold water\n1 1/2 cups kosher salt\n3 tsp pink salt\n\nRefrigerate at 38 F for 8 days, turning daily.\n", "utf-8")
    assert run("audit", recipe_file.parent, "--out-house", sheet, "--stop-at", "never").exit_code == 0
    assert "card.txt" in sheet.read_text("utf-8")
    assert "bacon.yaml" not in sheet.read_text("utf-8")
