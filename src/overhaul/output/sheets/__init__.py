"""What a kitchen works from, one page each: black on white, big, printed on A4 or US letter.

A kind of sheet is a module here with one function ``body(recipe, sums, asked)`` that gives what the template
``templates/<kind>.html.j2`` is filled with besides ``head``. It raises ``CannotMake`` where the sheet cannot be made.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from importlib import import_module
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from overhaul import __version__
from overhaul.output import paper
from overhaul.output.version import version
from overhaul.recipe.model import Recipe
from overhaul.sums.work import Sums

Kind = Literal["prep", "card", "labels", "formula"]


class CannotMake(ValueError):
    """Why a sheet cannot be made of this recipe, in words for the cook."""


class Asked(Struct, frozen=True):
    """What the cook asked for."""

    kind: Kind
    made_on: date
    serve: datetime | None = None  # local time of the kitchen, or with its zone
    closed: tuple[str, ...] = ()  # Mon Tue Wed Thu Fri Sat Sun
    put_in: date | None = None  # the day it goes into the cure
    made: date | None = None  # the day the food is made
    zone: str | None = None  # of the kitchen's clocks, like Europe/Berlin


class Head(Struct, frozen=True):
    """What stands at the head of every sheet."""

    kitchen: str | None
    title: str
    kind: str  # "Prep sheet"
    file: str
    version: str  # of the page's own words, and of what the page says of itself
    made_on: date
    program: str


NAMES: dict[Kind, str] = {"prep": "Prep sheet", "card": "Batch card", "labels": "Labels", "formula": "Formula page"}


def render(recipes: Sequence[tuple[Recipe, Sums]], asked: Asked) -> str:
    """One HTML file, a page (or more, where it does not fit) for each recipe and each way it is finished."""
    body = import_module(f"overhaul.output.sheets.{asked.kind}").body
    # The version is that of the whole page: a way's own page has the lines of the other ways left blank.
    pages = [{"head": head(replace(recipe, title=way.title), sums, asked), **body(way, Sums(way, sums.house), asked)} for recipe, sums in recipes for way in _finished(recipe)]
    return paper.page(f"{asked.kind}.html.j2", name=NAMES[asked.kind], pages=pages)


def _finished(recipe: Recipe) -> list[Recipe]:
    """The recipe, or each way it is finished with the way's name behind the title."""
    return [replace(way, title=f"{recipe.title}: {branch.name}") for way, branch in zip(recipe.ways, recipe.branches, strict=True)] or [recipe]


def calendar(recipes: Sequence[tuple[Recipe, Sums]], asked: Asked) -> str:
    """The tasks of the prep sheet as a calendar (RFC 5545)."""
    from overhaul.output import calendar_file

    return calendar_file.render(recipes, asked)


def head(recipe: Recipe, sums: Sums, asked: Asked) -> Head:
    return Head(sums.house.kitchen, recipe.title, NAMES[asked.kind], recipe.page.name, version(recipe.page), asked.made_on, f"Overhaul {__version__}")
