"""The way of a recipe, in order. Read this first.

    bytes - page - blocks - items - recipe - sums - findings - report

``documents`` gives the page, ``recipe.read_page`` the recipes (through ``reading``), ``sums.work`` the sums when a
rule asks for them, ``rules`` the findings; ``output`` shows them. Bad input never raises, and a stage that fails
does not end the binder: either becomes the reason why this one file is unreadable.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import perf_counter
from typing import TYPE_CHECKING

from msgspec import Struct, field
from msgspec.structs import replace

from overhaul import documents, signing
from overhaul.findings import Finding, in_order
from overhaul.house import House
from overhaul.listing import Listed
from overhaul.text import Page

if TYPE_CHECKING:
    from overhaul.recipe.model import Recipe


class Audited(Struct, frozen=True):
    """One file, read or audited. ``unreadable`` is the reason when it could not be; then the rest is empty.

    An audit keeps the titles of the recipes and what an index has of them, not the recipes, so that a whole binder can be held. ``seconds`` is what each stage took. Sums are worked when a rule asks, so their time is in that of the rules.
    """

    file: str
    page: Page | None = None
    recipes: tuple[Recipe, ...] = ()
    titles: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    unreadable: str | None = None
    seconds: dict[str, float] = field(default_factory=dict)
    shown: bytes | None = None  # its recipes as the HTML report shows them, where that is asked for (showing.py)
    listed: tuple[Listed, ...] = ()  # what a binder's index has of its recipes, where it was audited

    @property
    def title(self) -> str | None:
        return self.titles[0] if self.titles else None


class _Unreadable(Exception):
    """Ends the way of one file, with the reason."""


def read(data: bytes, name: str, house: House) -> Audited:
    """The page and the recipes of one file, without findings."""
    return _way(Audited(name), data, None, house, findings=False)


def read_text(page: Page, house: House) -> Audited:
    """The recipes of a page that is text already, without findings."""
    return _way(Audited(page.name), b"", page, house, findings=False)


def audit(data: bytes, name: str, house: House) -> Audited:
    """Everything that is to say about one file."""
    return _way(Audited(name), data, None, house, findings=True)


def audit_text(page: Page, house: House) -> Audited:
    """Everything that is to say about a page that is text already."""
    return _way(Audited(page.name), b"", page, house, findings=True)


def guarded(file: str, work: Callable[[], Audited]) -> Audited:
    """``work``, a failure of ours in it told as the reason why ``file`` is not read."""
    try:
        with _stage("recipe file", {}):
            return work()
    except _Unreadable as reason:
        return Audited(file, unreadable=str(reason))


def _way(file: Audited, data: bytes, page: Page | None, house: House, *, findings: bool) -> Audited:
    """The stages in order; ``page`` skips the first."""
    try:
        if page is None:
            with _stage("document", file.seconds):
                page = _page(data, file.file)
        with _stage("recipe", file.seconds):
            recipes = _recipes(page, house)
        titles = tuple(recipe.title for recipe in recipes)
        if not findings:
            return replace(file, page=page, recipes=recipes, titles=titles)
        with _stage("rules", file.seconds):
            found = tuple(signing.applied(page, list(findings_of(recipes, house))))
        with _stage("index", file.seconds):
            listed = listed_of(recipes)
        return replace(file, page=Page(page.text, page.name, page.pages), titles=titles, listed=listed, findings=found)
    except _Unreadable as reason:
        return replace(file, unreadable=str(reason))


def _page(data: bytes, name: str) -> Page:
    page = documents.read(data, name)
    if isinstance(page, documents.Unreadable):
        raise _Unreadable(page.reason)
    return page


def _recipes(page: Page, house: House) -> tuple[Recipe, ...]:
    from overhaul.recipe import TooMuch, read_page

    try:
        recipes = tuple(read_page(page, house))
    except TooMuch as problem:
        raise _Unreadable(str(problem)) from None
    if not recipes:
        raise _Unreadable("an empty page: nothing to read")
    return recipes


def listed_of(recipes: tuple[Recipe, ...]) -> tuple[Listed, ...]:
    """What a binder's index has of the recipes of one page."""
    from overhaul.recipe.pointing import listed

    return tuple(listed(recipe) for recipe in recipes)


def findings_of(recipes: tuple[Recipe, ...], house: House) -> tuple[Finding, ...]:
    """What the rules say of the recipes of one page."""
    found: list[Finding] = []
    for recipe in recipes:
        said = _said(recipe, house)
        found += [finding.of_recipe(recipe.index, recipe.title) for finding in said] if len(recipes) > 1 else said
    return tuple(in_order(found))


def _said(recipe: Recipe, house: House) -> list[Finding]:
    """The findings of one recipe; where it is finished several ways, of each, and what is said of one way only names it."""
    from overhaul.rules import Case, run
    from overhaul.sums.work import Sums

    if not recipe.ways:
        return run(Case(recipe, Sums(recipe, house), house))
    said = [run(Case(way, Sums(way, house), house)) for way in recipe.ways]
    heads = [{_head(finding) for finding in own} for own in said]
    found: dict[tuple[object, ...], Finding] = {}
    for branch, own in zip(recipe.branches, said, strict=True):
        for finding in own:
            if all(_head(finding) in other for other in heads):
                found.setdefault(_head(finding), finding)
            else:
                found[(branch.name, *_head(finding))] = replace(finding, message=f"{branch.name}: {finding.message}")
    return list(found.values())


def _head(finding: Finding) -> tuple[object, ...]:
    """What two ways of one recipe have in common when both have this finding, though their sums differ."""
    return finding.rule, finding.place, finding.grade, finding.certain, finding.absent


@contextmanager
def _stage(name: str, seconds: dict[str, float]) -> Iterator[None]:
    """One stage, timed. What fails inside it is told with the stage's name."""
    start = perf_counter()
    try:
        yield
    except _Unreadable:
        raise
    except Exception as problem:
        raise _Unreadable(f"the program failed at the stage “{name}” ({type(problem).__name__}: {problem}); please report it") from problem
    finally:
        seconds[name] = perf_counter() - start
