"""Shared helpers: a recipe from text, an audit of text, the command line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, settings

from overhaul import recipe_file
from overhaul.cache import FOLDER
from overhaul.cli import main
from overhaul.findings import Finding, placed
from overhaul.house import House
from overhaul.recipe import read_page
from overhaul.recipe.model import Recipe
from overhaul.recipe_file.places import on_its_lines
from overhaul.rules import Case, run
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.browsing import chromium

settings.register_profile("overhaul", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("overhaul")

ROOT = Path(__file__).resolve().parent.parent
CORPUS = ROOT / "corpus"


def recipe_of(text: str, house: House | None = None) -> Recipe:
    """The one recipe of ``text``."""
    (recipe,) = read_page(Page(text, "page.txt"), house or House())
    return recipe


def findings_of(text: str, house: House | None = None) -> list[Finding]:
    """Every finding on ``text``, a page or a recipe file; a rule that fails raises."""
    house = house or House()
    if text.startswith("format: overhaul/1\n"):
        file = recipe_file.read(text, "recipe.yaml", house)
        assert isinstance(file, recipe_file.RecipeFile), file.reason
        return [on_its_lines(finding, back, file.file) for back in file.backs for finding in run(Case(back.recipe, Sums(back.recipe, house), house), strict=True)]
    recipe = recipe_of(text, house)
    return run(Case(recipe, Sums(recipe, house), house), strict=True)


def where(finding: Finding, page: Page) -> str:
    """``line:column-end_column``, or with the end's line where it is another."""
    line, column, end_line, end_column = placed(finding, page)
    return f"{line}:{column}-{end_column}" if line == end_line else f"{line}:{column}-{end_line}:{end_column}"


@pytest.fixture
def overhaul() -> Callable[..., Result]:
    """Run the command line in this process."""

    def call(*args: str | Path, input: bytes | None = None) -> Result:
        return CliRunner().invoke(main, [str(arg) for arg in args], input=input, catch_exceptions=False)

    return call


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """No test reads or writes the cache of whoever runs it; commands that a test starts inherit the place."""
    with pytest.MonkeyPatch.context() as patched:
        place = tmp_path_factory.mktemp("cache")
        patched.setenv(FOLDER, str(place))
        yield place


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """A real browser, or the test is skipped."""
    with chromium() as found:
        yield found
