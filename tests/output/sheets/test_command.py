"""The sheets from the command line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tests.output.sheets.made import SMALL, words_of

Run = Callable[..., Result]


@pytest.fixture
def page(tmp_path: Path) -> Path:
    path = tmp_path / "flat.txt"
    path.write_text(SMALL, "utf-8")
    return path


@pytest.mark.parametrize(("kind", "name"), [("card", "Batch card"), ("labels", "Labels"), ("formula", "Formula page")])
def test_one_file_with_the_kitchen_the_version_and_the_caution(overhaul: Run, page: Path, tmp_path: Path, kind: str, name: str) -> None:
    (tmp_path / "house.yaml").write_text("kitchen: The Saltbox\n")
    out = tmp_path / "sheet.html"
    done = overhaul("sheet", page, "--kind", kind, "--out", out)
    assert (done.exit_code, done.output) == (0, "")
    made = out.read_text("utf-8")
    assert words_of(made, "//p[@class='kitchen']") == ["The Saltbox"]
    assert words_of(made, "//p[@class='what']")[0].startswith(f"{name} printed ")
    assert words_of(made, "//footer")[0].startswith("Decision support only. ")
    assert "://" not in made
    assert sorted(path.name for path in tmp_path.iterdir()) == ["flat.txt", "house.yaml", "sheet.html"]


def test_the_days_that_are_told(overhaul: Run, page: Path) -> None:
    labels = overhaul("sheet", page, "--kind", "labels", "--in", "2026-12-14", "--made", "2026-12-24").stdout
    assert {"InMon 14 Dec 2026", "Out (9 days)Wed 23 Dec 2026", "Made onThu 24 Dec 2026", "Use bySun 27 Dec 2026"} <= set(words_of(labels, "//dl/div"))
    card = overhaul("sheet", page, "--kind", "card", "--in", "2026-12-14").stdout
    assert "In, day and hourMon 14 Dec 2026" in words_of(card, "//dl/div")


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--kind", "formula", "--in", "2026-12-14"), "overhaul: --in is for --kind card and labels, --made for --kind labels; this is --kind formula\n"),
        (("--kind", "card", "--made", "2026-12-24"), "overhaul: --in is for --kind card and labels, --made for --kind labels; this is --kind card\n"),
        (("--kind", "labels", "--made", "2027-02-29"), "'2027-02-29' does not match the format"),
    ],
)
def test_a_day_that_no_sheet_takes_is_refused(overhaul: Run, page: Path, args: tuple[str, ...], said: str) -> None:
    done = overhaul("sheet", page, *args)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr


def test_the_end_of_the_calendar_leaves_a_blank(overhaul: Run, page: Path) -> None:
    words = words_of(overhaul("sheet", page, "--kind", "labels", "--in", "9999-12-30", "--made", "9999-12-31").stdout, "//dl/div")
    assert {"Out (9 days)", "Use by", "Made onFri 31 Dec 9999"} <= set(words)


@pytest.mark.parametrize("kind", ["card", "labels", "formula"])
def test_a_recipe_file_gives_the_same_sheet(overhaul: Run, page: Path, tmp_path: Path, kind: str) -> None:
    file = tmp_path / "flat.yaml"
    assert overhaul("convert", page, "--out", file).exit_code == 0
    of_page, of_file = (overhaul("sheet", path, "--kind", kind).stdout for path in (page, file))
    assert of_file.replace(str(file), str(page)) == of_page


def test_a_hand_on_the_recipe_file_counts(overhaul: Run, page: Path, tmp_path: Path) -> None:
    file = tmp_path / "flat.yaml"
    overhaul("convert", page, "--out", file)
    text = file.read_text("utf-8")
    assert text.count("amount: {low: 12, high: 12, unit: gram}") == 1
    file.write_text(text.replace("amount: {low: 12, high: 12, unit: gram}", "amount: {low: 13, high: 13, unit: gram}"), "utf-8")
    card = overhaul("sheet", file, "--kind", "card")
    assert card.exit_code == 0
    assert "13.0 g" in words_of(card.stdout, "//strong[@class='grams']")


@pytest.mark.parametrize("kind", ["card", "labels", "formula"])
def test_bad_input_is_a_message_and_no_sheet(overhaul: Run, tmp_path: Path, kind: str) -> None:
    path = tmp_path / "bad.txt"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\0\0")
    done = overhaul("sheet", path, "--kind", kind, "--out", tmp_path / "out.html")
    assert (done.exit_code, done.stdout, done.stderr) == (2, "", f"overhaul: {path}: a binary file, not text\n")
    assert not (tmp_path / "out.html").exists()
