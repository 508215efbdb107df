"""The way of a recipe, in order. Read this first.

    bytes - page - blocks - items - recipe - sums - findings - report

``documents`` gives the page, ``recipe.read_page`` the recipes (through ``reading``), ``sums.work`` the sums when a
rule asks for them, ``rules`` the findings; ``output`` shows them. Bad input never raises: it ends as a finding or
as the reason why a file is unreadable.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from time import perf_counter

from overhaul import documents
from overhaul.findings import Finding, in_order
from overhaul.house import House
from overhaul.recipe.model import Recipe
from overhaul.sums.work import Sums
from overhaul.text import Page


@dataclass(frozen=True, slots=True)
class Audited:
    """One file, audited. ``unreadable`` is the reason when it could not be read; then the rest is empty."""

    file: str
    page: Page | None = None
    recipes: tuple[Recipe, ...] = ()
    findings: tuple[Finding, ...] = ()
    unreadable: str | None = None
    seconds: dict[str, float] = field(default_factory=dict)

    @property
    def title(self) -> str | None:
        return self.recipes[0].title if self.recipes else None


class _Clock:
    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        start = perf_counter()
        yield
        self.seconds[name] = self.seconds.get(name, 0.0) + perf_counter() - start


def audit(data: bytes, name: str, house: House) -> Audited:
    """Everything that is to say about one file."""
    clock = _Clock()
    with clock.stage("document"):
        page = documents.read(data, name)
    if isinstance(page, documents.Unreadable):
        return Audited(name, unreadable=page.reason)
    from overhaul import recipe, rules

    with clock.stage("recipe"):
        recipes = recipe.read_page(page, house)
    if not recipes:
        return Audited(name, page, unreadable="an empty page: nothing to audit")
    found: list[Finding] = []
    with clock.stage("rules"):
        for one in recipes:
            said = rules.run(rules.Case(one, Sums(one, house), house))
            found += [finding.of_recipe(one.index, one.title) for finding in said] if len(recipes) > 1 else said
    return Audited(name, page, tuple(recipes), tuple(in_order(found)), None, clock.seconds)
