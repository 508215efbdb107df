"""Planting every kind in every page, and what comes of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from overhaul.findings import WEIGHT, Finding
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.text import Page
from tests.conftest import recipe_of
from tests.planted.edits import Planted
from tests.planted.kinds import KINDS, Kind
from tests.planted.pages import sound_pages


@dataclass
class Result:
    """One planted page: what was found of it, and what else was said."""

    kind: Kind
    page: str
    planted: Planted
    caught: bool
    misplaced: list[str] = field(default_factory=list)
    extra: list[str] = field(default_factory=list)


def results(*kinds: Kind) -> Iterator[Result]:
    for name, text in sound_pages().items():
        recipe = recipe_of(text)
        for kind in kinds or KINDS:
            for planted in kind.plant(recipe):
                yield _result(kind, name, planted)


def _result(kind: Kind, name: str, planted: Planted) -> Result:
    page = Page(planted.text, name)
    found = audit_text(page, House()).findings
    own = [one for one in found if one.rule in kind.rules]
    right = [one for one in own if _there(page, one, kind, planted) and WEIGHT[one.grade] <= WEIGHT[kind.grade]]
    misplaced = [f"{one.rule} {one.grade.value} on line {page.line_at(one.place.start)}" for one in own if one not in right] if not right else []
    return Result(kind, name, planted, bool(right), misplaced, [one.rule for one in found if one.rule not in (*kind.rules, *kind.also)])


def _there(page: Page, one: Finding, kind: Kind, planted: Planted) -> bool:
    return abs(page.line_at(one.place.start) - planted.line) <= kind.near


def table(found: list[Result]) -> str:
    """Kind by kind: planted, wordings, caught, missed, extra findings."""
    by_kind: dict[str, list[Result]] = defaultdict(list)
    for one in found:
        by_kind[one.kind.name].append(one)
    lines = [f"{'kind':44} {'planted':>8} {'words':>6} {'caught':>7} {'missed':>7} {'extra':>6}"]
    for kind in KINDS:
        own = by_kind.get(kind.name, [])
        caught, extra = sum(one.caught for one in own), sum(bool(one.extra) for one in own)
        lines.append(f"{kind.name:44} {len(own):8} {len({one.planted.wording for one in own}):6} {caught:7} {len(own) - caught:7} {extra:6}")
    caught, extra = sum(one.caught for one in found), sum(bool(one.extra) for one in found)
    lines.append(f"{f'{len(KINDS)} kinds on {len(sound_pages())} pages':44} {len(found):8} {'':6} {caught:7} {len(found) - caught:7} {extra:6}")
    return "\n".join(lines)
