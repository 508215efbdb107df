"""What the server knows of one text in an editor: its recipes, findings and sums, or why there are none.

Nothing here knows of the editor's protocol.
"""

from __future__ import annotations

import re
from functools import cached_property
from pathlib import PurePath
from typing import TYPE_CHECKING, Literal

from msgspec import Struct, field

from overhaul import documents
from overhaul.findings import Finding
from overhaul.house import House
from overhaul.recipe.model import Recipe
from overhaul.text import Page, Place

if TYPE_CHECKING:
    from overhaul.recipe_file.back import Back
    from overhaul.sums.worked import Sum

Kind = Literal["page", "recipe file", "house sheet"]

# Some three seconds; a binder of hundreds of pages in one file is work for `overhaul audit`.
MOST_CHARACTERS = 500_000
_PLAIN = ("plaintext", "text", "markdown", "")
_AT_LINE = re.compile(r"line (\d+): ")


class Problem(Struct, frozen=True):
    """Why a text has no findings: what is wrong, and where."""

    place: Place
    words: str


class Looked(Struct, frozen=True, dict=True):
    """One text, looked at. ``backs`` : of a recipe file, its documents with the places of their fields."""

    page: Page
    house: House = field(default_factory=House)
    recipes: tuple[Recipe, ...] = ()
    findings: tuple[Finding, ...] = ()
    backs: tuple[Back, ...] = ()
    problem: Problem | None = None

    @cached_property
    def _sums(self) -> dict[int, dict[str, Sum]]:
        return {}

    def sums(self, recipe: Recipe) -> dict[str, Sum]:
        """The sums of one of ``recipes``, or of one of its ways, worked once."""
        from overhaul.sums.work import Sums

        if id(recipe) not in self._sums:
            self._sums[id(recipe)] = Sums(recipe, self.house).all()
        return self._sums[id(recipe)]


def kind_of(name: str, language: str, text: str) -> Kind | None:
    """What a text of this name is; None for what is no recipe, and for a file whose own lines are not those that are read."""
    from overhaul.binder import HOUSE_SHEET

    path = PurePath(name)
    if path.name == HOUSE_SHEET:
        return "house sheet"
    if path.name.lower().startswith(("readme", ".")) or ".expect." in path.name or documents.converted(name):
        return None
    if documents.recipe_file(text[:8000].encode("utf-8", "replace"), name) is not None:
        return "recipe file"
    if documents.data_file(name) or not (documents.readable(name) or language in _PLAIN):
        return None
    return "page"


def look(text: str, name: str, kind: Kind, house: House) -> Looked:
    """``text`` read and judged. Never raises."""
    page = Page(text, name)
    if not text.strip():
        return Looked(page, house)  # somebody is about to write
    if len(text) > MOST_CHARACTERS:
        return Looked(page, house, problem=Problem(Place(0, 0), f"Longer than {MOST_CHARACTERS:,} characters, too long to be read at every key; use `overhaul audit`."))
    try:
        return _recipe_file(page, house) if kind == "recipe file" else _page(page, house)
    except Exception as problem:  # a failure of ours ends this look, not the editor's session
        return Looked(page, house, problem=Problem(Place(0, 0), f"The program failed ({type(problem).__name__}: {problem}); please report it."))


def _page(page: Page, house: House) -> Looked:
    from overhaul import pipeline, signing

    found = pipeline.read_text(page, house)
    if found.unreadable is not None:
        return Looked(page, house, problem=Problem(Place(0, 0), _sentence(found.unreadable)))
    return Looked(page, house, found.recipes, tuple(signing.applied(page, list(pipeline.findings_of(found.recipes, house)))))


def _recipe_file(page: Page, house: House) -> Looked:
    from overhaul import recipe_file

    found = recipe_file.read(page.text, page.name, house)
    if isinstance(found, documents.Unreadable):
        return Looked(page, house, problem=told_at(page, found.reason))
    return Looked(page, house, tuple(back.recipe for back in found.backs), recipe_file.findings_of(found, house), found.backs)


def look_at_sheet(text: str, name: str) -> Looked:
    """A house sheet that somebody writes on: the first thing that cannot stand, at its line."""
    from overhaul.house_sheet import BadSheet, read_sheet

    page = Page(text, name)
    try:
        read_sheet(text)
    except BadSheet as problem:
        return Looked(page, problem=told_at(page, f"line {problem.line}: {problem.problem}"))
    except Exception as problem:
        return Looked(page, problem=Problem(Place(0, 0), f"The program failed ({type(problem).__name__}: {problem}); please report it."))
    return Looked(page)


def told_at(page: Page, reason: str) -> Problem:
    """A reason that begins with its line, at that line."""
    at = _AT_LINE.match(reason)
    line = min(int(at[1]), len(page.lines)) if at else 1
    return Problem(page.lines[line - 1].place, _sentence(reason[at.end() :] if at else reason))


def _sentence(reason: str) -> str:
    return f"{reason[:1].upper()}{reason[1:].rstrip('.')}."
