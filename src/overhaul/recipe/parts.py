"""Sections while they are filled: what each is for, lists told again, percentages of the meat."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from overhaul.reading import lexicon, units
from overhaul.reading.lines import Block
from overhaul.reading.patterns import Pattern
from overhaul.reading.tree import unit_word
from overhaul.recipe.bits import AmountBit, Bit, LabelBit, RateBit, WordBit
from overhaul.recipe.model import (
    CURING_SALTS,
    Amount,
    Column,
    Per,
    Product,
    Use,
)  # fmt: skip
from overhaul.recipe.naming import Draft
from overhaul.text import Page, Place, bare

_SECTION_USES: tuple[tuple[Pattern, Use], ...] = (
    (Pattern(r"\b(?:variations?|substitut\w*|options?|alternatives?|nutrition\w*|leftovers?)\b"), "aside"),
    (Pattern(r"\b(?:brine|cure|curing|pickle|corning|dry salt|wet cure|meat|beef|pork|fish|salmon|turkey|injection|pump)\b"), "cure"),
    (Pattern(r"\b(?:rub|crust|coat\w*|bark|outside)\b"), "rub"),
    (Pattern(r"\b(?:pot|cook\w*|simmer\w*|braise\w*|boil\w*|glaze|mop|spritz|roast\w*|finish\w*|steam\w*|wrap|baste|oven|smok\w*)\b"), "cook"),
    (Pattern(r"\b(?:serv\w+|sauce|slaw|plate|sandwich|garnish|dress\w*|mustard sauce|accompan\w+)\b"), "serve"),
    (Pattern(r"\b(?:spices?|spice mix|blend|seasoning|mix)\b"), "blend"),
    (Pattern(r"\b(?:soak\w*|rinse)\b"), "soak"),
)

_LINE_USES: tuple[tuple[Pattern, Use], ...] = (
    (Pattern(r"\bfor (?:the )?(?:pot|glaze|simmer\w*|cook\w*|braise|pan|roast\w*|steam\w*|mop|spritz)\b|\bto (?:cook|simmer|glaze|braise)\b"), "cook"),
    (Pattern(r"\bfor (?:the )?(?:rub|crust|coating|outside)\b|^\W*(?:the )?(?:rub|crust|coating)\s*:"), "rub"),
    (Pattern(r"\bfor (?:serving|garnish)\b|\bto serve\b"), "serve"),
    (Pattern(r"\bfor (?:the )?(?:soak|soaking|rinsing)\b"), "soak"),
)

_PUT_BY = Pattern(r"\(?(?:\b(?:plus|and)|\+)\s+(?:\w+\s+)?(?:more|extra|additional|some)\b.*|\(?\b(?:save|keep|reserve|rest|remainder|leftover)\b.*")
_CELLS = re.compile(r"\||\t|\s{3,}")

LEAST_ALIKE = 3  # ingredients: two lists with fewer in common may both be meant


class Part(Struct):
    """A section while it is being filled."""

    name: str | None
    line: int
    place: Place
    use: Use
    drafts: list[tuple[Draft, Use, bool]]  # the draft, what for, from the method


class Rated(Struct, frozen=True):
    """A line that says what the list below it is for: ``Per kilo of meat:``. ``led`` : what the line was read as by itself."""

    per: Per
    part: Part
    begins: int  # of the part's drafts, behind ``led``
    led: tuple[Draft, ...]


def rate_above(items: list[Bit]) -> Per | None:
    """The rate that is all a line says, but for what it is of: ``Per kilo of meat:``, ``Rub (per kg meat)``."""
    rates = [bit for bit in items if isinstance(bit, RateBit)]
    if len(rates) != 1 or units.dimension(rates[0].unit) not in ("mass", "volume") or any(isinstance(bit, (AmountBit, LabelBit)) for bit in items):
        return None
    at = items.index(rates[0])
    before, after = ([bit.low for bit in part if isinstance(bit, WordBit)] for part in (items[:at], items[at + 1 :]))
    if len(before) > _MOST_WORDS or len(after) > _MOST_WORDS:
        return None
    named = lexicon.known(lexicon.plain_words(" ".join(after)))
    if after and (named is None or named.role not in ("meat", "water")):
        return None
    if named is None and units.dimension(rates[0].unit) == "volume":
        return None  # "Brine per 5 gal:" is the brine's own size, and meat goes by weight
    of = "meat" if named is None or named.role == "meat" else "water"
    return Per(rates[0].amount or Fraction(1), rates[0].unit, of, Place(rates[0].start, rates[0].end))


_MOST_WORDS = 4


def rate_lists(parts: list[Part], rated: list[Rated]) -> None:
    """Each list under a rate, where the page has the meat (or the water) itself as well: so much for so much of that.

    Where it has not, the line itself is the meat, and the list is for just so much.
    """
    led = {id(draft) for one in rated for draft in one.led}
    there = {draft.role for part in parts for draft, _, _ in part.drafts if id(draft) not in led and draft.amount is not None and units.dimension(draft.amount.unit) in ("mass", "volume", "thing")}
    for one in reversed(rated):
        if one.per.of not in there:
            if not any(draft.role == one.per.of for draft in one.led):
                _stands_for_itself(one)
            continue
        ends = min((other.begins - len(other.led) for other in rated if other.part is one.part and other.begins > one.begins), default=len(one.part.drafts))
        for draft, _, _ in one.part.drafts[one.begins : ends]:
            if draft.per is None and draft.amount is not None and draft.amount.unit != "percent" and draft.role not in ("meat", one.per.of):
                draft.per = one.per
        one.part.drafts = [entry for entry in one.part.drafts if not any(entry[0] is draft for draft in one.led)]


def _stands_for_itself(rated: Rated) -> None:
    """``PER KILO`` on a page that names no other weight: a kilo of meat."""
    per, of = rated.per, rated.per.of or "meat"
    known = lexicon.known((of,))
    draft = Draft(per.place, of, per.place, known.role if known is not None else "other", known.kind if known is not None else None, Amount(per.amount or Fraction(1), per.amount or Fraction(1), per.unit or "each", per.place))  # type: ignore[arg-type]
    begins = rated.begins - len(rated.led)
    rated.part.drafts[begins : rated.begins] = [(draft, rated.part.use, False)]


def section_name(text: str) -> str:
    text = bare(text)
    return re.split(r"\s+[-–—]\s+|\s{3,}|\(", text)[0].strip() or text


@lru_cache(maxsize=1024)
def use_of(name: str | None) -> Use:
    if name is None:
        return "cure"
    for pattern, use in _SECTION_USES:
        if pattern.search(name.lower()):
            if use == "cure" and re.search(r"\bspices?\b", name, re.I) and not re.search(r"\bbrine (?:and|with)\b", name, re.I):
                return "blend"
            return use
    return "cure"


def out_of_hundred(drafts: list[Draft]) -> None:
    """``MEAT 100 / water 60 / salt 2.6``: bare figures beside a hundred of meat are percentages of the meat."""
    meat = next((draft for draft in drafts if draft.role == "meat"), None)
    told = [draft for draft in drafts if draft.amount is not None]
    if meat is None or meat.amount is None or meat.amount.low != 100 or len(told) < 3 or any(draft.amount.unit != "each" for draft in told if draft.amount is not None):
        return
    for draft in told:
        assert draft.amount is not None
        draft.amount = replace(draft.amount, unit="percent")
        draft.per = Per(None, None, "meat", draft.amount.place) if draft is not meat else None


def restated(parts: list[Part]) -> None:
    """A list told again for another batch (``For 100 lb:``) is a column of the first, and is never added to it."""
    lists = [part for part in parts if len(part.drafts) >= LEAST_ALIKE]
    names = [{(draft.role, tuple(lexicon.plain_words(draft.name))) for draft, _, _ in part.drafts} for part in lists]
    whole = [all(draft.amount is not None for draft, _, _ in part.drafts) for part in lists]
    for number, part in enumerate(lists):
        for again, told, complete in zip(lists[number + 1 :], names[number + 1 :], whole[number + 1 :], strict=True):
            if not complete or len(told) != len(again.drafts) or not told <= names[number]:
                continue  # as nearly all, of a book of lists
            if again.use != part.use or len(again.drafts) < LEAST_ALIKE or len(again.drafts) > len(part.drafts):
                continue
            pairs = [(first, draft) for draft, _, _ in again.drafts for first, _, _ in part.drafts if first.role == draft.role and lexicon.plain_words(first.name) == lexicon.plain_words(draft.name)]
            if len(pairs) != len(again.drafts) or len({id(first) for first, _ in pairs}) != len(pairs) or any(first.amount is None or draft.amount is None for first, draft in pairs):
                continue
            for first, draft in pairs:
                assert first.amount is not None
                assert draft.amount is not None
                first.columns = first.columns or [Column(Fraction(1), first.amount)]
                same = first.amount.unit == draft.amount.unit and first.amount.low
                first.columns.append(Column(draft.amount.low / first.amount.low if same else None, draft.amount))
            again.drafts = []


def columns_of(page: Page, block: Block) -> tuple[str | None, ...]:
    """What a table's heading says of each column after the name: a unit of mass or volume, ``percent``, or nothing."""
    cells = [cell.strip().lower() for cell in _CELLS.split(page.text[block.place.start : block.place.end]) if cell.strip()]
    found = ["percent" if cell.startswith("%") else unit_word(cell) for cell in cells[1:]]
    return tuple(unit if unit == "percent" or (unit is not None and units.dimension(unit) in ("mass", "volume")) else None for unit in found)


def lengths_of(parts: list[Part]) -> dict[tuple[int, int], list[Amount]]:
    """Lengths of each ingredient line, by the place of its name."""
    return {(draft.name_place.start, draft.name_place.end): draft.lengths for part in parts for draft, _, _ in part.drafts}


def line_use(page: Page, draft: Draft, use: Use) -> Use:
    start = page.lines[page.line_at(draft.place.start) - 1].place.start
    whole = page.low[start : draft.place.end]
    if "for " not in whole and "to " not in whole and ":" not in whole:
        return use
    lead = page.low[start : draft.place.start]
    # What is put by for later ("plus more for the rub", "save the rest for the pot") is not what the amount is for.
    line = (lead if ":" in lead else "") + _PUT_BY.sub("", page.low[draft.place.start : draft.place.end])
    for pattern, found in _LINE_USES:
        if pattern.search(line):
            return found
    return use


def settle_uses(parts: list[Part], immersion: bool, product: Product | None) -> None:
    """A rub with the curing salt in it, and no other cure on the page, is the cure; a spice sub-recipe is a blend."""
    cured = any(use == "cure" and draft.role in ("salt", *CURING_SALTS) for part in parts for draft, use, _ in part.drafts)
    if not cured:
        for part in parts:
            if part.use in ("rub", "blend", "cook") and any(draft.role in ("salt", *CURING_SALTS) for draft, _, _ in part.drafts):
                part.use = "cure"
                part.drafts = [(draft, "cure" if use in ("rub", "blend", "cook") else use, method) for draft, use, method in part.drafts]
