"""Findings: one thing to look at, at one place, with its sum and its source."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from overhaul.text import Page, Place


class Grade(StrEnum):
    """How bad a finding is. The order of the members is the order of weight."""

    HAZARD = "hazard"  # could make somebody ill, or breaks a published limit
    FAULT = "fault"  # the food comes out wrong
    QUERY = "query"  # the recipe does not say, or can be read two ways


WEIGHT = {grade: weight for weight, grade in enumerate(Grade)}


class Cite(Struct, frozen=True, array_like=True):
    """A key of ``facts/sources.toml`` and where in that source the figure stands."""

    key: str
    where: str = ""


class Edit(Struct, frozen=True, array_like=True):
    """Put ``new`` where ``place`` is now. An empty place is an insertion."""

    place: Place
    new: str


class Remedy(Struct, frozen=True, array_like=True):
    """What to change, in words, and as exact edits where arithmetic can settle it."""

    text: str
    edits: tuple[Edit, ...] = ()


class SignOff(Struct, frozen=True, array_like=True):
    """A named cook's acceptance of one finding; ``stale`` when its words no longer stand on the page."""

    by: str
    date: str
    reason: str
    stale: bool = False


class Finding(Struct, frozen=True, array_like=True):
    """One finding. ``place`` is the number, not the line; for something ``absent`` it is the end of the
    line after which it should stand. A query is never certain (ValueError)."""

    rule: str
    grade: Grade
    certain: bool
    place: Place
    message: str
    absent: bool = False
    sum: str | None = None
    remedy: Remedy | None = None
    sources: tuple[Cite, ...] = ()
    recipe: tuple[int, str] | None = None  # index and title, in a file of several
    signed_off: SignOff | None = None
    settled_by: str | None = None  # a key of the house sheet that answers it, whatever the answer is

    def __post_init__(self) -> None:
        if self.grade is Grade.QUERY and self.certain:
            raise ValueError(f"{self.rule}: a query is never certain")

    def of_recipe(self, index: int, title: str) -> Finding:
        return replace(self, recipe=(index, title))


def in_order(findings: list[Finding]) -> list[Finding]:
    """By place, then by weight, then by rule, so that the order never depends on who found what first."""
    return sorted(findings, key=lambda f: (f.place.start, WEIGHT[f.grade], not f.certain, f.rule, f.place.end))


def placed(finding: Finding, page: Page) -> tuple[int, int, int, int]:
    """Line, column, end line and end column of a finding, from 1, end exclusive."""
    return (*page.position(finding.place.start), *page.position(finding.place.end))
