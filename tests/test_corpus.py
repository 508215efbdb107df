"""The made-up binder: the complete expected findings of every page, place by place."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from overhaul.findings import placed
from overhaul.house import House
from overhaul.house_sheet import read_sheet
from overhaul.recipe import read_page
from overhaul.rules import Case, run
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.conftest import CORPUS

EXPECTED = sorted(CORPUS.rglob("*.expect.yaml"))


def page_of(expected: Path) -> Path:
    return next(path for suffix in (".txt", ".md") if (path := expected.with_name(expected.name.replace(".expect.yaml", suffix))).exists())


def house_of(page: Path) -> House:
    sheet = page.parent / "house.yaml"
    return read_sheet(sheet.read_text("utf-8")) if sheet.exists() else House()


def load(path: Path) -> dict[str, Any]:
    loaded: dict[str, Any] = YAML(typ="safe").load(path)
    return loaded


@pytest.mark.parametrize("expected", EXPECTED, ids=lambda path: path.name.removesuffix(".expect.yaml"))
def test_exactly_these_findings(expected: Path) -> None:
    source = page_of(expected)
    house = house_of(source)
    page = Page(source.read_text("utf-8"), source.name)
    (recipe,) = read_page(page, house)
    found = []
    for finding in run(Case(recipe, Sums(recipe, house), house), strict=True):
        line, column, end_line, end_column = placed(finding, page)
        found.append((finding.rule, finding.grade.value, finding.certain, f"{line}:{column}-{end_line}:{end_column}"))
    wanted = [(one["rule"], one["grade"], one["certain"], one["at"]) for one in load(expected)["findings"]]
    assert sorted(found) == sorted(wanted)


CASES = [(path, name) for path in EXPECTED for name in load(path).get("sums", {})]


@pytest.mark.computed
@pytest.mark.parametrize(("expected", "name"), CASES, ids=[f"{path.name.removesuffix('.expect.yaml')}: {name}" for path, name in CASES])
def test_these_sums(expected: Path, name: str) -> None:
    source = page_of(expected)
    house = house_of(source)
    (recipe,) = read_page(Page(source.read_text("utf-8")), house)
    found = Sums(recipe, house).get(name)
    wanted = load(expected)["sums"][name]
    assert found is not None
    assert found.unit == wanted["unit"]
    assert [found.value.low, found.value.likely, found.value.high] == pytest.approx([wanted["low"], wanted["likely"], wanted["high"]], rel=6e-3)


def test_there_are_enough_pages_and_half_of_them_are_sound() -> None:
    sound = [path for path in EXPECTED if not load(path)["findings"]]
    assert len(EXPECTED) >= 14
    assert len(sound) * 3 >= len(EXPECTED)
