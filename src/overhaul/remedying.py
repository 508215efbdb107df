"""A copy of a page with its remedies put in, each one worked again before it stays: the finding gone, and nothing new broken.

What was there stays beside it, crossed out, and what was added says so; the remedies that are words only stand below as notes.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable

from msgspec import Struct

from overhaul.findings import WEIGHT, Edit, Finding
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.text import Page

_ADDED = "  (added)"


class Remedied(Struct, frozen=True):
    """The marked-up text, the findings that it settles, and those that are left to the cook."""

    text: str
    settled: tuple[Finding, ...]
    left: tuple[Finding, ...]


def remedied(page: Page, findings: Iterable[Finding], house: House) -> Remedied:
    """``page`` with every remedy that has an exact edit and holds when the page is audited again, heaviest first."""
    every = sorted(findings, key=lambda one: (WEIGHT[one.grade], not one.certain, one.place.start))
    edits: list[Edit] = []
    now = Counter(one.rule for one in every)
    by_hand: list[Finding] = []
    for one in every:
        wanted = one.remedy.edits if one.remedy is not None else ()
        if not now[one.rule] or one.signed_off is not None:
            continue
        if not wanted or _overlap([*edits, *wanted]):
            by_hand.append(one)
            continue
        trial = [*edits, *wanted]
        after = _rules(page, _marked(page.text, trial), house)
        if after is not None and after[one.rule] < now[one.rule] and not after - now:
            edits, now = trial, after
        else:
            by_hand.append(one)
    left = tuple(one for one in every if one.signed_off is not None or (one in by_hand and now[one.rule]))
    settled = tuple(one for one in every if one not in left)
    return Remedied(_marked(page.text, edits) + _notes(page, left, house, edits, now), settled, left)


def _rules(page: Page, text: str, house: House) -> Counter[str] | None:
    """How often each rule speaks of ``text``; None where it cannot be read any more."""
    found = audit_text(Page(text, page.name), house)
    return Counter(one.rule for one in found.findings) if found.unreadable is None else None


def _overlap(edits: list[Edit]) -> bool:
    places = sorted(edit.place for edit in edits)
    return any(later.start < earlier.end for earlier, later in itertools.pairwise(places))


def _marked(text: str, edits: Iterable[Edit]) -> str:
    """``text`` with what is replaced crossed out before what replaces it, and what is added marked."""
    for edit in sorted(edits, key=lambda one: (one.place.start, one.place.end), reverse=True):
        old = text[edit.place.start : edit.place.end]
        new = f"~~{old}~~ {edit.new}" if old else f"{edit.new}{_ADDED}"
        text = text[: edit.place.start] + new + text[edit.place.end :]
    return text


def _notes(page: Page, left: tuple[Finding, ...], house: House, edits: list[Edit], now: Counter[str]) -> str:
    """The remedies in words, as notes at the foot; left off where they would themselves be read as part of the recipe."""
    told = [f"Note: {one.rule}, line {page.line_at(one.place.start)}: {one.remedy.text}" for one in left if one.remedy is not None]
    if not told:
        return ""
    foot = "\n\n" + "\n".join(told) + "\n"
    return foot if _rules(page, _marked(page.text, edits) + foot, house) == now else ""
