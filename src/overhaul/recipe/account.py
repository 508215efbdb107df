"""The account of a page: every line, every figure that was not understood, where the page sends its reader."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right

from overhaul.reading import units
from overhaul.reading.lines import Block
from overhaul.reading.tree import Chain, Measure, Rate
from overhaul.recipe.model import (
    Amount,
    Process,
    ReadLine,
    Reference,
    Section,
    Step,
    Unread,
    Yield,
)  # fmt: skip
from overhaul.text import Page, Place

_REFERENCE = re.compile(
    r"(?:\b(?:same as|as for|like|see|from|use)\s+(?:the\s+|our\s+)?(?P<to>[a-z][a-z .'-]{1,30}?)(?:\s+recipe)?\s*,?\s*)?(?:\bthr(?:ough|u)\s+step\s+(?P<step>\d+)(?:\s*\(?\s*(?:p\.?|pg\.?|page)\s*(?P<also>\d+)\)?)?|\b(?:p\.|pg\.?|page|card)\s*(?:no\.?\s*|#\s*)?(?P<page>\d+)\b)"
)

_SENDS = re.compile(r"\b(?:p\.|pg\.?|page|card|thr(?:ough|u) step)\s*(?:no\.?\s*|#\s*)?\d")


def references(page: Page, found: list[Block]) -> tuple[Reference, ...]:
    """``see p. 41``, ``same as the corned beef through step 4``. A page number in the title is the page's own."""
    made: list[Reference] = []
    if _SENDS.search(page.told) is None:
        return ()
    at = [sent.start() for sent in _SENDS.finditer(page.low, page.begin)]
    for block in found:
        if block.kind in ("title", "blank") or bisect_left(at, block.place.start) == bisect_left(at, block.place.end):
            continue
        for match in _REFERENCE.finditer(page.low, block.place.start, block.place.end):
            number = match["page"] or match["also"]
            place = Place(match.start(), match.end())
            to = match["to"].strip(" ,.") if match["to"] else None
            made.append(Reference(page.line_at(match.start()), place, page.words(place), to, int(number) if number else None, int(match["step"]) if match["step"] else None))
    return tuple(made)


def lines_of(page: Page, found: list[Block]) -> tuple[ReadLine, ...]:
    kinds = {number: block.kind for block in found for number in range(block.first, block.last + 1)}
    return tuple(ReadLine(line.number, kinds.get(line.number, "blank"), page.words(line.place)) for line in page.lines[found[0].first - 1 : found[-1].last])


def unread(page: Page, found: list[Block], sections: list[Section], steps: list[Step], yields: Yield | None, process: Process) -> tuple[Unread, ...]:
    """Figures that nothing above has taken."""
    taken: set[int] = set()

    def take(amount: Amount | None) -> None:
        if amount is not None:
            taken.add(amount.place.start)
            for part in amount.parts:
                taken.add(part.place.start)

    for section in sections:
        for item in section.ingredients:
            if item.strength is not None:
                taken.add(item.strength.place.start)
            for amount in (item.amount, item.count, *item.also, *item.was, *(amount for other in item.instead for amount in (other.amount, *other.also)), *(column.amount for column in item.columns)):
                take(amount)
    for step in steps:
        for measured in (*step.times, *step.temperatures, *step.lengths):
            take(measured.amount)
        for measured in step.amounts:
            if measured.amount.unit != "each" or measured.of is not None:
                take(measured.amount)
        for use in step.uses:
            take(use.amount)
    if yields is not None:
        taken.add(yields.place.start)
    for leg in process.cooling:
        taken.add(leg.place.start)
    closed = _closed(steps, taken)
    told: dict[int, list[tuple[Place, str]]] | None = None
    unread: list[Unread] = []
    for block in found:
        if block.kind in ("title", "heading", "note"):
            continue
        for item_ in block.items or ():
            if not isinstance(item_, Chain):
                continue
            for part in item_.parts:
                if isinstance(part, Rate) or part.article or part.start in taken:
                    continue
                here = Place(part.start, part.end)
                told = _beside(page, sections) if told is None else told
                if any(place.start <= here.start < place.end and page.words(here) in words for place, words in told.get(page.line_at(here.start), ())):
                    continue
                before = bisect_right(closed, (here.start, len(page.text))) - 1
                if (before >= 0 and closed[before][1] > here.start) or _of_meat(page, part, process):
                    continue
                unread.append(Unread(here, page.words(here)))
    return tuple(unread)


def _beside(page: Page, sections: list[Section]) -> dict[int, list[tuple[Place, str]]]:
    """By line: the words that its ingredients keep beside their amounts."""
    told: dict[int, list[tuple[Place, str]]] = {}
    for section in sections:
        for item in section.ingredients:
            if not item.in_method:
                kept = (item.place, " ".join((item.name, item.state or "", item.doubt or "")))
                for line in range(page.line_at(item.place.start), page.line_at(item.place.end) + 1):
                    told.setdefault(line, []).append(kept)
    return told


def _of_meat(page: Page, part: Measure, process: Process) -> bool:
    """The thickness or the number of pieces of a meat, which stand with the meat and not with its line."""
    if part.unit is None or units.dimension(part.unit) not in ("length", "thing"):
        return False
    line = page.line_at(part.start)
    if units.dimension(part.unit) == "length":
        return any(meat.line == line and meat.thickness_stated for meat in process.meats)
    return any(meat.line == line and meat.pieces is not None and meat.pieces[0] == part.low and meat.pieces[1] == part.high for meat in process.meats)


def _closed(steps: list[Step], taken: set[int]) -> list[tuple[int, int]]:
    """Where amounts that the steps have taken begin and end, in order: ranges and compounds hold more than one number."""
    places = [measured.amount.place for step in steps for measured in (*step.times, *step.temperatures, *step.lengths, *step.amounts) if measured.amount.place.start in taken]
    places += [use.amount.place for step in steps for use in step.uses if use.amount is not None]
    return sorted((place.start, place.end) for place in places)
