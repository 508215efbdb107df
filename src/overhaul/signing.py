"""Sign-offs: lines of a recipe by which a named cook accepts one finding and says why.

    Signed off: RULE on "WORDS", INITIALS, YYYY-MM-DD: reason

One covers that rule where those words of the recipe stand. When they stand there no longer it is stale, and says so.
"""

from __future__ import annotations

import re
from datetime import date
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from overhaul.findings import Finding, SignOff
from overhaul.text import Page, Place

_BEGINS = re.compile(r"^[ \t>*_#-]*signed[ -]off\b[ \t]*:", re.I | re.M)
_WHOLE = re.compile(
    r"\s*(?P<rule>[a-z][a-z -]*?)\s+on\s+\"(?P<words>[^\"]+)\"\s*,\s*(?P<by>[^,:\n]{1,60}?)\s*,\s*(?P<date>\d{4}-\d{2}-\d{2})\s*:\s*(?P<reason>\S.*?)\s*[*_]*\s*",
    re.I,
)
FORM = 'Signed off: RULE on "WORDS", INITIALS, YYYY-MM-DD: reason'


class Signed(Struct, frozen=True):
    """One sign-off as it stands on the page; ``words`` in small letters with single blanks."""

    rule: str
    words: str
    signed: SignOff
    place: Place


class NotRead(Struct, frozen=True):
    """A line that begins like a sign-off and is none, and why."""

    place: Place
    why: str


def sign_offs(page: Page) -> tuple[list[Signed], list[NotRead]]:
    """Every sign-off of the page, and every line that would be one."""
    found: list[Signed] = []
    unread: list[NotRead] = []
    if "signed" not in page.told:
        return found, unread
    for begins in _BEGINS.finditer(page.plain, page.begin):
        line = page.lines[page.line_at(begins.end()) - 1].place
        place = Place(begins.start() + len(begins[0]) - len(begins[0].lstrip(" \t>*_#-")), line.end)
        whole = _WHOLE.fullmatch(page.plain[begins.end() : line.end])
        if whole is None:
            unread.append(NotRead(place, f"it must read: {FORM}"))
            continue
        try:
            date.fromisoformat(whole["date"])
        except ValueError:
            unread.append(NotRead(place, f"there is no day {whole['date']}"))
            continue
        rule = whole["rule"].strip().lower().replace(" ", "-")
        found.append(Signed(rule, _one(whole["words"]), SignOff(whole["by"], whole["date"], whole["reason"]), place))
    return found, unread


def _one(words: str) -> str:
    return " ".join(words.lower().split())


def stands(page: Page, signed: Signed) -> bool:
    """Whether its words stand on the page anywhere but in a sign-off."""
    return signed.words in _unsigned(page)


@lru_cache(maxsize=2)
def _unsigned(page: Page) -> str:
    """The page without its sign-offs; the rules ask for each of them."""
    return _one("".join(page.low[line.place.start : line.place.end] + "\n" for line in page.told_lines if not _BEGINS.match(page.plain[line.place.start : line.place.end])))


def applied(page: Page, findings: list[Finding]) -> list[Finding]:
    """``findings``, each with the sign-off that covers it. One whose words are gone is shown, stale, on what its rule says now."""
    signs, _ = sign_offs(page)
    if not signs:
        return findings
    stale = {id(one) for one in signs if not stands(page, one)}
    return [_with(page, finding, signs, stale) for finding in findings]


def _with(page: Page, finding: Finding, signs: list[Signed], stale: set[int]) -> Finding:
    own = [one for one in signs if one.rule == finding.rule]
    if not own:
        return finding
    about = _about(page, finding)
    covers = next((one for one in own if id(one) not in stale and one.words in about), None)
    if covers is not None:
        return replace(finding, signed_off=covers.signed)
    gone = next((one for one in own if id(one) in stale), None)
    return replace(finding, signed_off=replace(gone.signed, stale=True)) if gone is not None else finding


def _about(page: Page, finding: Finding) -> str:
    """The words that the finding is about: its lines, whole."""
    first, last = page.line_at(finding.place.start), page.line_at(finding.place.end)
    return _one(page.low[page.lines[first - 1].place.start : page.lines[last - 1].place.end])
