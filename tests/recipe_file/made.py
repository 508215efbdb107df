"""A recipe file made from a page, edits of it, and what comes of them."""

from __future__ import annotations

from pathlib import Path

from overhaul import pipeline, recipe_file
from overhaul.findings import Finding, placed
from overhaul.house import House
from overhaul.output import convert
from overhaul.recipe_file import RecipeFile
from overhaul.sums.work import Sums
from tests.conftest import CORPUS

PAGES = sorted(path for path in CORPUS.rglob("*") if path.suffix in {".txt", ".md"} and path.name != "README.md")
PAGE = """\
Loin in the bag

3 lb pork loin, 2 in thick
1 1/4 oz kosher salt
3.4 g cure #1 (6.25 % nitrite)

Rub it all on and bag it. Refrigerate at 38 F for 9 days, turning daily.
Rinse. Smoke at 200 F until 150 F inside.
Keeps 5 days at 38 F.
"""


def written(text: str, to: str = "yaml", house: House | None = None) -> str:
    """A page as a recipe file."""
    house = house or House()
    read = pipeline.read(text.encode(), "page.txt", house)
    assert read.unreadable is None and read.page is not None, read.unreadable
    return convert.render([(recipe, Sums(recipe, house)) for recipe in read.recipes], to, text.encode(), read.page)


def read(text: str, name: str = "page.yaml") -> RecipeFile:
    found = recipe_file.read(text, name, House())
    assert isinstance(found, RecipeFile), found.reason
    return found


def again(text: str, to: str = "yaml") -> str:
    """A recipe file converted anew."""
    found = read(text)
    return recipe_file.again(found, [Sums(back.recipe, House()) for back in found.backs], to)


def refused(text: str, name: str = "page.yaml") -> str:
    """Why a recipe file is not read."""
    found = recipe_file.audit(text.encode("utf-8", "surrogatepass"), name, House())
    assert found.unreadable is not None
    return found.unreadable


def edited(text: str, *edits: tuple[str, str]) -> str:
    for old, new in edits:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    return text


def said(text: str) -> list[tuple[int, str, str]]:
    """Line, rule and the words marked, of every finding on a recipe file."""
    audited = recipe_file.audit(text.encode(), "page.yaml", House())
    assert audited.unreadable is None and audited.page is not None, audited.unreadable
    found = []
    for finding in audited.findings:
        line, column, end_line, end = placed(finding, audited.page)
        assert line == end_line, finding
        found.append((line, finding.rule, audited.page.line(line)[column - 1 : end - 1]))
    return found


def heads(findings: tuple[Finding, ...]) -> list[tuple[str, ...]]:
    """All of the findings but where they stand and their edits, which are words of the page."""
    return sorted((one.rule, one.grade.value, str(one.certain), one.message, one.sum or "", one.remedy.text if one.remedy else "") for one in findings)


def page_of(path: Path) -> str:
    return path.read_bytes().decode("utf-8")
