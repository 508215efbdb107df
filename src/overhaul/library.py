"""The program as a library: one page in, values out.

A page is given as a ``Path`` (a file of any kind that is read), as ``bytes`` (what such a file holds; ``name`` then tells the kind
by its suffix) or as ``str`` (the text itself). Of a file, the house sheet in its folder or above it counts, as on the command line;
``house`` gives another, by its values or by its file, and ``law`` goes before both. Nothing is printed, and nothing is written.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NoReturn, get_args

from msgspec import Struct
from msgspec.structs import replace

from overhaul.house import House, Law
from overhaul.houses import CannotDo, house_of
from overhaul.pipeline import Audited
from overhaul.recipe.model import Recipe
from overhaul.sums.worked import Sum

if TYPE_CHECKING:
    from overhaul.batch import Batch
    from overhaul.recipe_file import RecipeFile
    from overhaul.sums.work import Sums
    from overhaul.text import Page

Form = Literal["yaml", "json", "jsonld", "text", "markdown"]
_OPTION = re.compile(r"--(?=[a-z])")
_AT_LINE = re.compile(r"line (\d+): ")

__all__ = ["CannotDo", "Form", "Worked", "audit", "batch", "convert", "read", "sums"]


class Worked(Struct, frozen=True):
    """The sums of one recipe: those that could be worked, by name (``NAMES`` in ``sums/work.py``), and why the rest could not."""

    recipe: Recipe
    sums: dict[str, Sum]
    missing: dict[str, str]


def read(page: Path | bytes | str, *, name: str | None = None, house: House | Path | None = None, law: Law | None = None) -> tuple[Recipe, ...]:
    """The recipes of ``page``, in its order.

    Raises CannotDo, with file and line, for what cannot be read.
    """
    return tuple(_read(_Given(page, name, house, law)).recipes)


def audit(page: Path | bytes | str, *, name: str | None = None, house: House | Path | None = None, law: Law | None = None) -> Audited:
    """What is to say about ``page``: ``findings`` in the order of the page, with ``page`` (its text) and ``titles`` beside them.

    ``placed(finding, audited.page)`` gives lines and columns, from 1. A plug-in that does not load is told of by a warning.
    Decision support only. Raises CannotDo, with file and line, for what cannot be read.
    """
    from overhaul import recipe_file
    from overhaul.rules import plug_ins

    given = _Given(page, name, house, law)
    found = recipe_file.audit(given.data, given.name, given.house)
    if found.unreadable is not None:
        _cannot(given.name, found.unreadable)
    for line in plug_ins.found().left_out:
        import warnings

        warnings.warn(line, stacklevel=2)
    return found


def sums(page: Path | bytes | str, *, name: str | None = None, house: House | Path | None = None, law: Law | None = None) -> tuple[Worked, ...]:
    """The sums of each recipe of ``page``, in its order; each a span (low, likely, high) with its unit, inputs and sources.

    Raises CannotDo, with file and line, for what cannot be read.
    """
    from overhaul.sums.work import NAMES

    found = []
    for one in _sums(_read(given := _Given(page, name, house, law)), given.house):
        worked = one.all()
        found.append(Worked(one.recipe, worked, {sum: one.why_not(sum) or "" for sum in NAMES if sum not in worked}))
    return tuple(found)


def convert(page: Path | bytes | str, to: Form = "yaml", *, name: str | None = None, house: House | Path | None = None, law: Law | None = None) -> str:
    """``page`` as a recipe file (``yaml``, ``json``), in schema.org's words (``jsonld``), or as a page again (``text``, ``markdown``).

    A recipe file given as a page is read back, and keeps its comments. Raises CannotDo, with file and line, for what cannot be read,
    and ValueError for another form.
    """
    from overhaul import recipe_file
    from overhaul.output import convert as forms

    if to not in get_args(Form):
        raise ValueError(f"{to!r} is not one of {', '.join(get_args(Form))}")
    given = _Given(page, name, house, law)
    found = _read(given)
    worked = _sums(found, given.house)
    if found.file is not None and to in ("yaml", "json"):
        return recipe_file.again(found.file, worked, to)
    return found.page.text if to == "text" else forms.render([(one.recipe, one) for one in worked], to, given.data, found.page)


def batch(
    page: Path | bytes | str, *, meat: str | Sequence[str] = (), tub: str | None = None, times: str | float | None = None, portions: str | None = None, cure: str | None = None,
    spices: str | float | None = None, recipe: int | None = None, name: str | None = None, house: House | Path | None = None, law: Law | None = None,
) -> Batch:  # fmt: skip
    """One recipe of ``page`` by weight, in the words of ``overhaul batch``: for this ``meat`` ("2 flats, 9.4 lb, 2.5 inch", or several), this ``tub``
    ("18 litre"), so many ``portions`` ("60 at 5 oz"), or so many ``times``; with the ``cure`` in hand ("0.6 % nitrite"), ``spices`` by a factor of their own.

    ``recipe`` (from 1) is the one of a page of several. ``Batch.lines`` has grams as the scale is to show them; ``Batch.recipe`` is a recipe as any other.
    Decision support only. Raises CannotDo, with file and line, for what cannot be read or made, and ValueError for words that say no size.
    """
    from overhaul.batch import NotMade, asked_for, make

    given = _Given(page, name, house, law)
    words = [f"{one:.12f}" if isinstance(one, (int, float)) else one for one in (times, spices)]
    try:
        asked = asked_for((meat,) if isinstance(meat, str) else tuple(meat), tub, words[0], portions, cure, words[1], given.house)
    except ValueError as problem:
        raise ValueError(_OPTION.sub("", str(problem))) from None
    recipes = _read(given).recipes
    if recipe is None and len(recipes) > 1:
        raise CannotDo(given.name, f"{len(recipes)} recipes, and a batch is of one; recipe=1 to {len(recipes)}")
    if not 1 <= (recipe or 1) <= len(recipes):
        raise CannotDo(given.name, f"no recipe {recipe}; there {'is 1' if len(recipes) == 1 else f'are {len(recipes)}'}")
    made = make(recipes[(recipe or 1) - 1], given.house, asked)
    if isinstance(made, NotMade):
        raise CannotDo(given.name, f"no batch: {made.why}")
    return made


class _Given:
    """The bytes of a page, what it is called, and the house it stands in."""

    def __init__(self, page: Path | bytes | str, name: str | None, house: House | Path | None, law: Law | None) -> None:
        from overhaul import binder, documents

        self.name = name if name is not None else str(page) if isinstance(page, Path) else "-"
        if isinstance(page, Path):
            try:
                self.data = binder.bytes_of(page)
            except (OSError, ValueError) as problem:
                raise CannotDo(self.name, binder.why(problem)) from None
        elif isinstance(page, str):
            if "\n" not in page and (documents.readable(page) or documents.data_file(page)):
                raise CannotDo(page, "a text is a page itself; to read a file, give Path(…)")
            self.data = page.encode("utf-8", "replace")
        else:
            self.data = page
        if isinstance(house, House):
            self.house = replace(house, law=law) if law is not None else house
        else:
            self.house = house_of(house if house is not None or not isinstance(page, Path) else binder.house_sheet_for(page), law)


class _Read(Struct, frozen=True):
    recipes: tuple[Recipe, ...]
    page: Page
    file: RecipeFile | None = None


def _read(given: _Given) -> _Read:
    from overhaul import documents, pipeline, recipe_file

    text = documents.recipe_file(given.data, given.name)
    if text is not None:
        kept = recipe_file.read(text, given.name, given.house)
        if isinstance(kept, documents.Unreadable):
            _cannot(given.name, kept.reason)
        return _Read(tuple(back.recipe for back in kept.backs), kept.page, kept)
    found = pipeline.read(given.data, given.name, given.house)
    if found.page is None or found.unreadable is not None:
        _cannot(given.name, found.unreadable or "not read")
    return _Read(found.recipes, found.page)


def _sums(found: _Read, house: House) -> list[Sums]:
    from overhaul.sums.work import Sums

    return [Sums(recipe, house) for recipe in found.recipes]


def _cannot(file: str, reason: str) -> NoReturn:
    at = _AT_LINE.match(reason)
    raise CannotDo(file, reason[at.end() :] if at else reason, int(at[1]) if at else None)
