"""The report of a binder as one HTML file: worst first, one line a recipe, then each recipe whole.

A worker process makes an ``Entry`` of each recipe, its body rendered and packed small; ``render`` puts the entries in order and gives
the page in parts, so that no more than one recipe is ever unpacked. The page asks nothing of a network; its one script only finds and filters.
"""

from __future__ import annotations

import hashlib
import zlib
from base64 import b64encode
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import pairwise

import msgspec
from msgspec import Struct

from overhaul import __version__, facts
from overhaul.comparing import Side, compare, side
from overhaul.findings import WEIGHT, Cite, Finding, Grade, placed
from overhaul.house_questions import asked_most
from overhaul.output import paper
from overhaul.output.compare_page import differs, shown
from overhaul.output.pictures import pictures
from overhaul.output.plain import grade_words
from overhaul.output.sums_page import beside_words, is_wide, reasons, told_by_itself
from overhaul.output.version import version
from overhaul.pipeline import Audited
from overhaul.recipe.model import Recipe
from overhaul.rules import words
from overhaul.sums import taste
from overhaul.sums.work import Sums
from overhaul.sums.worked import Sum, figure
from overhaul.text import Page
from overhaul.twins import Likeness, likeness, twins

# What a grade is called where it is counted, and its mark; never a colour alone.
KINDS = ("certain hazard", "possible hazard", "fault", "query")
_MARKS = {"certain hazard": "▲", "possible hazard": "△", "fault": "◆", "query": "?", "signed": "✓", "none": "○"}
_PLURALS = {"certain hazard": "certain hazards", "possible hazard": "possible hazards", "fault": "faults", "query": "queries"}
_FOLDED_FROM = 12  # lines of a recipe file in a row of which nothing is said


class ShownLine(Struct, frozen=True):
    """A line of the file with what was understood of it."""

    number: int
    text: str
    kind: str
    reading: tuple[str, ...] = ()


class Entry(Struct, frozen=True):
    """One recipe as a report shows it. ``counts`` are its open findings by KINDS; ``body`` and ``compared`` are packed."""

    key: str
    title: str
    file: str
    version: str
    counts: tuple[int, int, int, int]
    signed: int
    sources: tuple[str, ...]
    likeness: Likeness
    kitchen: str | None
    body: bytes
    compared: bytes  # a ``Side``

    @property
    def weight(self) -> tuple[object, ...]:
        """Certain hazards first, then hazards, faults, queries; then the title."""
        certain, possible, fault, query = self.counts
        return -certain, -possible, -fault, -query, self.title.casefold(), self.file

    @property
    def said(self) -> list[tuple[str, str, str]]:
        """Class, mark and words of each count."""
        told = [(kind.replace(" ", "-"), _MARKS[kind], f"{count} {kind if count == 1 else _PLURALS[kind]}") for kind, count in zip(KINDS, self.counts, strict=True) if count]
        if self.signed:
            told.append(("signed", _MARKS["signed"], f"{self.signed} signed off"))
        return told or [("none", _MARKS["none"], "nothing found")]

    @property
    def grades(self) -> str:
        """What the filter goes by."""
        certain, possible, fault, query = self.counts
        return " ".join(word for word, there in (("hazard", certain + possible), ("fault", fault), ("query", query), ("signed", self.signed), ("none", not any(self.counts) and not self.signed)) if there)

    @property
    def side(self) -> Side:
        return msgspec.msgpack.decode(zlib.decompress(self.compared), type=Side)


def is_open(finding: Finding) -> bool:
    """Whether it still asks for something: what is signed off does not, unless the sign-off is stale or the hazard is certain."""
    signed = finding.signed_off is not None and not finding.signed_off.stale
    return not signed or (finding.certain and finding.grade is Grade.HAZARD)


def entry(file: str, page: Page, recipe: Recipe, sums: Sums, lines: Sequence[ShownLine], findings: Sequence[Finding]) -> Entry:
    """``recipe`` of ``file`` as the report shows it; ``findings`` and ``lines`` are on ``page``, which is the file's own."""
    key = f"r{hashlib.sha256(file.encode('utf-8', 'surrogatepass')).hexdigest()[:10]}-{recipe.index}"
    numbered = sorted(findings, key=lambda one: (page.line_at(one.place.start), WEIGHT[one.grade], not one.certain, one.place.start))
    own = [one for one in numbered if is_open(one)]
    counts = [0, 0, 0, 0]
    for one in own:
        counts[KINDS.index("query" if one.grade is Grade.QUERY else "fault" if one.grade is Grade.FAULT else grade_words(one))] += 1
    ways = [(_way_name(recipe, index), way, Sums(way, sums.house)) for index, way in enumerate(recipe.ways)] or [("", recipe, sums)]
    worked = [_worked(name, way, way_sums, f"{key}-w{index}") for index, (name, way, way_sums) in enumerate(ways)]
    cites = {cite.key: None for one in numbered for cite in one.sources} | {cite.key: None for each in ways for one in each[2].all().values() for cite in (*one.sources, *(other for beside in one.beside for other in beside.sources))}
    body = paper.closed_up("recipe.html.j2", key=key, newline=paper.markup("\n"), rows=_rows(page, lines, numbered), ways=worked)
    told = side(recipe, sums, file)
    return Entry(
        key, recipe.title, file, version(page), (counts[0], counts[1], counts[2], counts[3]), len(numbered) - len(own), tuple(cites), likeness(recipe), sums.house.kitchen,
        zlib.compress(body.encode("utf-8", "replace"), 6), zlib.compress(msgspec.msgpack.encode(told), 6),
    )  # fmt: skip


def packed(entries: Iterable[Entry]) -> bytes:
    """Entries on their way from one process to another."""
    return msgspec.msgpack.encode(list(entries))


def render(audited: Iterable[Audited], made_on: date, skipped: int = 0) -> Iterator[str]:
    """The page in parts. ``audited`` : files with their entries ``packed`` in ``shown``; one without is told as not read."""
    entries: list[Entry] = []
    unreadable: list[tuple[str, str]] = []
    settled: list[tuple[str, Finding]] = []  # what a house sheet would answer
    files = 0
    for one in audited:
        if one.unreadable is not None:
            unreadable.append((one.file, one.unreadable))
            continue
        files += 1
        settled += [(one.file, finding) for finding in one.findings if finding.settled_by is not None]
        if one.shown is not None:
            entries += msgspec.msgpack.decode(one.shown, type=list[Entry])
    pairs = [(entries[first], entries[second]) for first, second in twins([one.likeness for one in entries])]
    entries.sort(key=lambda one: one.weight)
    keys = {one.key: one for one in entries}
    like: dict[str, list[str]] = {}
    for first, second in pairs:
        like.setdefault(first.key, []).append(second.key)
        like.setdefault(second.key, []).append(first.key)
    script = paper.raw("report.js")
    kitchens = list(dict.fromkeys(one.kitchen for one in entries if one.kitchen))
    yield from paper.stream(
        "report.html.j2", script=script, script_hash=b64encode(hashlib.sha256(str(script).encode()).digest()).decode(), made_on=made_on, program=f"Overhaul {__version__}",
        kitchen=" · ".join(kitchens), entries=entries, asked=asked_most(settled), summary=_tally(entries),
        signed=sum(one.signed for one in entries), files=files, skipped=skipped,
        grades=[(name, label, count) for name, label in (("hazard", "Hazards"), ("fault", "Faults"), ("query", "Queries"), ("signed", "Signed off"), ("none", "Nothing found")) if (count := sum(name in one.grades.split() for one in entries))],
        unreadable=unreadable,
        pairs=_compared(pairs), pair_count=len(pairs), like={key: [keys[other] for other in others] for key, others in like.items()}, body=_body, sources=_sources(entries),
    )  # fmt: skip


def _tally(entries: Iterable[Entry]) -> str:
    """What is open in all of them, in words."""
    counts = [sum(one.counts[index] for one in entries) for index in range(len(KINDS))]
    return ", ".join(f"{count} {kind if count == 1 else _PLURALS[kind]}" for kind, count in zip(KINDS, counts, strict=True) if count) or "nothing found"


def _body(one: Entry) -> str:
    return paper.markup(zlib.decompress(one.body).decode())


def _compared(pairs: Iterable[tuple[Entry, Entry]]) -> list[tuple[Entry, Entry, str, str]]:
    """Each pair, what it differs in, and the two side by side, packed; what differs in most first, mere copies last."""
    found = []
    for first, second in pairs:
        compared = compare(first.side, second.side)
        body = paper.closed_up("compared.html.j2", compared=shown(compared))
        found.append((len(compared.differences), first, second, differs(compared), body))
    found.sort(key=lambda one: (one[0] == 0, one[1].title.casefold(), one[1].file, one[2].title.casefold(), one[2].file))
    return [(first, second, told, paper.markup(body)) for _, first, second, told, body in found]


def _sources(entries: Iterable[Entry]) -> list[tuple[str, facts.Source]]:
    keys = sorted({key for one in entries for key in one.sources})
    return [(key, facts.source(key)) for key in keys]


# -- the lines, with what is found on them


class _Stretch(Struct, frozen=True):
    """A part of a line; ``numbers`` of the findings that stand on it, and the class of the worst of them."""

    text: str
    numbers: str = ""
    grade: str = ""


class _Said(Struct, frozen=True):
    """A finding as the margin has it."""

    number: int
    grade: str
    mark: str
    words: str
    rule: str
    message: str
    sum: str | None
    remedy: str | None
    sources: tuple[tuple[str, str, str], ...]
    signed: str | None
    page: int | None
    is_signed: bool


class _Row(Struct, frozen=True):
    number: int
    kind: str
    stretches: tuple[_Stretch, ...]
    reading: tuple[str, ...]
    findings: tuple[_Said, ...]
    absent: tuple[_Stretch, ...]  # empty stretches: what is missing after the line
    fold: int = 0  # the first of so many lines that are folded away


def _rows(page: Page, lines: Sequence[ShownLine], findings: Sequence[Finding]) -> list[_Row]:
    """The lines that hold anything, each with its findings; findings on no line of the recipe stand at the nearest one."""
    numbers = [one.number for one in lines]
    at: dict[int, list[tuple[int, Finding]]] = {}
    for number, finding in enumerate(findings, 1):
        line = page.line_at(finding.place.start)
        nearest = min(numbers, key=lambda own: (abs(own - line), own), default=None) if line not in numbers else line
        if nearest is not None:
            at.setdefault(nearest, []).append((number, finding))
    rows = []
    for one in lines:
        here = at.get(one.number, [])
        if not one.text.strip() and not one.reading and not here:
            continue
        rows.append(_row(page, one, here))
    return _folded(rows)


def _row(page: Page, line: ShownLine, here: Sequence[tuple[int, Finding]]) -> _Row:
    place = page.lines[line.number - 1].place
    marked = [(max(0, finding.place.start - place.start), min(len(line.text), finding.place.end - place.start), number, finding) for number, finding in here if not finding.absent]
    cuts = sorted({0, len(line.text), *(cut for start, end, _, _ in marked for cut in (start, end) if 0 <= cut <= len(line.text))})
    stretches = []
    for start, end in pairwise(cuts):
        over = [(number, finding) for first, last, number, finding in marked if first <= start and end <= last]
        worst = min((finding for _, finding in over), key=lambda one: (WEIGHT[one.grade], not one.certain), default=None)
        # A number stands behind the last stretch of its finding.
        numbers = " ".join(str(number) for first, last, number, _ in marked if first <= start and last == end)
        stretches.append(_Stretch(line.text[start:end], numbers, worst.grade.value if worst is not None else ""))
    absent = tuple(_Stretch("", str(number), finding.grade.value) for number, finding in here if finding.absent)
    return _Row(line.number, line.kind, tuple(stretches), line.reading, tuple(_said(page, number, finding) for number, finding in here), absent)


def _said(page: Page, number: int, finding: Finding) -> _Said:
    kind = "query" if finding.grade is Grade.QUERY else "fault" if finding.grade is Grade.FAULT else grade_words(finding)
    signed = None
    if finding.signed_off is not None:
        stale = " This sign-off is stale: its words no longer stand there." if finding.signed_off.stale else ""
        signed = f"Signed off by {finding.signed_off.by}, {finding.signed_off.date}: {finding.signed_off.reason}.{stale}".replace("..", ".")
    return _Said(
        number, finding.grade.value, _MARKS[kind], grade_words(finding), finding.rule, finding.message, finding.sum, finding.remedy.text if finding.remedy is not None else None,
        _cited(finding.sources), signed, page.page_at(placed(finding, page)[0]), not is_open(finding),
    )  # fmt: skip


def _cited(cites: Iterable[Cite]) -> tuple[tuple[str, str, str], ...]:
    """Key, short name and part of each source, for a link to the list of them."""
    return tuple(dict.fromkeys((cite.key, words.short(cite), cite.where) for cite in cites))


def _folded(rows: list[_Row]) -> list[_Row]:
    """``rows`` with the number of those that follow on each first line of a long run of data of which nothing is said."""
    found, run = [], 0
    for row in reversed(rows):
        run = run + 1 if row.kind == "data" and not row.reading and not row.findings else 0
        found.append(msgspec.structs.replace(row, fold=run))
    found.reverse()
    left, made = 0, []
    for row in found:
        if left == 0 and row.fold >= _FOLDED_FROM:
            left = row.fold
            made.append(row)
        else:
            made.append(msgspec.structs.replace(row, fold=0))
        left = max(0, left - 1)
    return made


# -- the sums


class _SumSaid(Struct, frozen=True):
    name: str
    figure: str
    worked: str | None
    notes: tuple[str, ...]
    sources: tuple[tuple[str, str, str], ...]


class _Way(Struct, frozen=True):
    name: str
    key: str
    plain: str  # what stands on the page and needs no working
    sums: tuple[_SumSaid, ...]
    missing: tuple[tuple[str, str], ...]
    pictures: tuple[object, ...]


def _way_name(recipe: Recipe, index: int) -> str:
    return recipe.branches[index].name if index < len(recipe.branches) else f"way {index + 1}"


def _worked(name: str, recipe: Recipe, sums: Sums, key: str) -> _Way:
    found = sums.all()
    plain = "; ".join(f"{_spoken(one.name)} {figure(one.value, one.unit)}" for one in found.values() if told_by_itself(one))
    told = tuple(_sum(recipe, sums, one) for one in found.values() if not told_by_itself(one))
    missing = tuple((why, ", ".join(names)) for why, names in reasons(sums, found).items())
    return _Way(name, key, plain, told, missing, tuple(pictures(recipe, sums)))


def _spoken(name: str) -> str:
    return name.replace("_", " ")


def _sum(recipe: Recipe, sums: Sums, one: Sum) -> _SumSaid:
    notes = []
    wide = sums.widest_share(one.name) if is_wide(one) else None
    if wide is not None:
        notes.append(f"What makes it wide: {wide[0].name}, {100 * wide[1]:.0f} % of the width.")
    if one.name == "salt_as_eaten":
        notes.append(f"Taste: {taste.told(recipe, one.value)}.")
    notes += [f"Assumed: {each}." for each in one.assumed]
    notes += [f"Beside it: {beside_words(other)}" for other in one.beside]
    return _SumSaid(_spoken(one.name), figure(one.value, one.unit), one.worked(), tuple(notes), _cited(one.sources))
