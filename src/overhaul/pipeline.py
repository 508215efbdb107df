"""The way of a recipe, in order. Read this first.

    bytes - page - blocks - items - recipe - sums - findings - report

``documents`` gives the page, ``recipe.read_page`` the recipes (through ``reading``), ``sums.work`` the sums when a
rule asks for them, ``rules`` the findings; ``output`` shows them. Bad input never raises, and a stage that fails
does not end the binder: either becomes the reason why this one file is unreadable.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Iterator
from time import perf_counter
from types import TracebackType
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
    from overhaul.rules import Case


class Audited(Struct, frozen=True):
    """One file, read or audited. ``unreadable`` is the reason when it could not be; then the rest is empty.

    An audit keeps the titles of the recipes and what an index has of them, not the recipes, so that a whole binder can be held. ``seconds`` is what each stage took. Sums are worked when a rule asks, so their time is in that of the rules, which of files audited together is that of all of them.
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
    return _side_by_side([_way(Audited(name), data, None, house, findings=False)])[0]


def read_text(page: Page, house: House) -> Audited:
    """The recipes of a page that is text already, without findings."""
    return _side_by_side([_way(Audited(page.name), b"", page, house, findings=False)])[0]


def audit(data: bytes, name: str, house: House) -> Audited:
    """Everything that is to say about one file."""
    return audit_each([(data, name, house)])[0]


def audit_each(given: Iterable[tuple[bytes, str, House]]) -> list[Audited]:
    """Everything that is to say about each of several files; what one says of it depends on none of the others."""
    return _side_by_side([_way(Audited(name), data, None, house, findings=True) for data, name, house in given])


def audit_text(page: Page, house: House) -> Audited:
    """Everything that is to say about a page that is text already."""
    return _side_by_side([_way(Audited(page.name), b"", page, house, findings=True)])[0]


def guarded(file: str, work: Callable[[], Audited]) -> Audited:
    """``work``, a failure of ours in it told as the reason why ``file`` is not read."""
    try:
        with _stage("recipe file", {}):
            return work()
    except _Unreadable as reason:
        return Audited(file, unreadable=str(reason))


_Way = Generator["list[Case]", list[list[Finding]], Audited]


def _way(file: Audited, data: bytes, page: Page | None, house: House, *, findings: bool) -> _Way:
    """The stages in order; ``page`` skips the first. What the rules say of its cases is sent in."""
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
            cases = _cases(recipes, house)
            found = tuple(signing.applied(page, _told(recipes, (yield cases))))
        with _stage("index", file.seconds):
            listed = listed_of(recipes)
        return replace(file, page=Page(page.text, page.name, page.pages), titles=titles, listed=listed, findings=found)
    except _Unreadable as reason:
        return replace(file, unreadable=str(reason))


def _side_by_side(ways: list[_Way]) -> list[Audited]:
    """Each way to its end; the rules look at the recipes of all of them together."""
    done: dict[int, Audited] = {}
    cases: dict[int, list[Case]] = {}
    for number, way in enumerate(ways):
        try:
            cases[number] = next(way)
        except StopIteration as end:
            done[number] = end.value
    said, failed = _said([case for own in cases.values() for case in own])
    for number, own in cases.items():
        try:
            if failed is not None:
                ways[number].throw(failed)
            ways[number].send([next(said) for _ in own])
        except StopIteration as end:
            done[number] = end.value
    return [done[number] for number in range(len(ways))]


def _said(cases: list[Case]) -> tuple[Iterator[list[Finding]], Exception | None]:
    """What the rules say of each, or why they could not be asked; a rule that fails is a finding."""
    from overhaul.rules import run_each

    try:
        return iter(run_each(cases) if cases else []), None
    except Exception as problem:
        return iter([]), problem


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
    from overhaul.rules import run_each

    return tuple(_told(recipes, run_each(_cases(recipes, house))))


def _cases(recipes: tuple[Recipe, ...], house: House) -> list[Case]:
    """What the rules look at, in order: each recipe, or each of the ways in which it is finished."""
    from overhaul.rules import Case
    from overhaul.sums.work import Sums

    return [Case(one, Sums(one, house), house) for recipe in recipes for one in recipe.ways or (recipe,)]


def _told(recipes: tuple[Recipe, ...], said: list[list[Finding]]) -> list[Finding]:
    """What the rules ``said`` of each case, as findings of the page, in order."""
    found: list[Finding] = []
    rest = iter(said)
    for recipe in recipes:
        own = _of_ways(recipe, [next(rest) for _ in recipe.ways]) if recipe.ways else next(rest)
        found += [finding.of_recipe(recipe.index, recipe.title) for finding in own] if len(recipes) > 1 else own
    return in_order(found)


def _of_ways(recipe: Recipe, said: list[list[Finding]]) -> list[Finding]:
    """The findings of a recipe that is finished several ways; what is said of one way only names it."""
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


class _stage:  # noqa: N801 - used as a function
    """One stage, timed. What fails inside it is told with the stage's name."""

    __slots__ = ("_name", "_seconds", "_start")

    def __init__(self, name: str, seconds: dict[str, float]) -> None:
        self._name, self._seconds = name, seconds

    def __enter__(self) -> None:
        self._start = perf_counter()

    def __exit__(self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None) -> None:
        self._seconds[self._name] = perf_counter() - self._start
        if isinstance(problem, Exception) and not isinstance(problem, _Unreadable):
            raise _Unreadable(f"the program failed at the stage “{self._name}” ({type(problem).__name__}: {problem}); please report it") from problem
