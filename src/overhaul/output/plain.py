"""Findings as a cook reads them: the place, the line quoted and marked, the sum, the source, the remedy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from overhaul import facts
from overhaul.findings import WEIGHT, Cite, Finding, Grade, placed
from overhaul.house_questions import asked_most
from overhaul.output.clean import clean, wrapped
from overhaul.pipeline import Audited
from overhaul.text import Page

CAUTION = (
    "Decision support only. A figure within a limit is within the limit it was checked against, no more. Local food code, the kitchen's "
    "food-safety plan and a licensed or qualified person decide."
)
_COLOURS = {Grade.HAZARD: "\x1b[1;31m", Grade.FAULT: "\x1b[33m", Grade.QUERY: "\x1b[36m"}
_OFF = "\x1b[0m"
_MOST_QUOTED = 100


def source_words(cites: Iterable[Cite]) -> str:
    """Sources as a reader can look them up."""
    said = []
    for cite in cites:
        work = facts.source(cite.key)
        said.append(f"{work.title} ({work.body}, {work.year})" + (f", {cite.where}" if cite.where else "") if work.body not in ("no work", "no single work", "this project") else work.title + (f", {cite.where}" if cite.where else ""))
    return "; ".join(dict.fromkeys(said))


def grade_words(finding: Finding) -> str:
    """The grade, with certain or possible where it can be either."""
    if finding.grade is Grade.QUERY:
        return "query"
    return f"{'certain' if finding.certain else 'possible'} {finding.grade.value}"


def _quoted(page: Page, finding: Finding, width: int) -> list[str]:
    """The line and the place marked beneath; of a line too long to show, the part around the place."""
    line, column, end_line, end_column = placed(finding, page)
    text = clean(page.line(line))
    end = end_column if end_line == line else len(text) + 1
    most = max(24, min(_MOST_QUOTED, width - 8))
    start = 0
    if len(text) > most:
        start = max(0, min(column - 1 - 20, len(text) - most))
    shown = text[start : start + most]
    before, after = ("…" if start else ""), ("…" if start + most < len(text) else "")
    gap = " " * (len(before) + column - 1 - start)
    mark = "^ here" if finding.absent else "^" * max(1, min(end, start + most + 1) - column)
    return [f"    | {before}{shown}{after}", f"    | {gap}{mark}"]


def finding_lines(finding: Finding, audited: Audited, page: Page, width: int, colour: bool) -> list[str]:
    """One finding."""
    line, column, _, _ = placed(finding, page)
    grade = grade_words(finding)
    if colour:
        grade = f"{_COLOURS[finding.grade]}{grade}{_OFF}"
    which = f" (in “{clean(finding.recipe[1])}”)" if finding.recipe is not None else ""
    paper = page.page_at(line)
    where = f" (page {paper})" if paper is not None else ""
    lines = [f"{clean(audited.file)}:{line}:{column}: {grade}: {finding.rule}{which}{where}", wrapped(clean(finding.message), width, "    "), *_quoted(page, finding, width)]
    if finding.sum is not None:
        lines.append(wrapped(f"Sum: {clean(finding.sum)}", width, "    "))
    if finding.sources:
        lines.append(wrapped(f"Source: {source_words(finding.sources)}", width, "    "))
    if finding.remedy is not None:
        lines.append(wrapped(f"Remedy: {clean(finding.remedy.text)}", width, "    "))
    if finding.signed_off is not None:
        stale = " (stale: those words no longer stand there)" if finding.signed_off.stale else ""
        lines.append(wrapped(f"Signed off by {clean(finding.signed_off.by)}, {clean(finding.signed_off.date)}: {clean(finding.signed_off.reason)}{stale}", width, "    "))
    return lines


def _weight(audited: Audited) -> tuple[int, ...]:
    """Worst first: certain hazards, possible ones, faults, queries, then none."""
    counts = [0, 0, 0, 0, 0, 0]
    for finding in audited.findings:
        counts[WEIGHT[finding.grade] * 2 + (not finding.certain)] += 1
    return tuple(-count for count in counts)


def tally(findings: Iterable[Finding]) -> str:
    """How many of each grade, in words."""
    return _counted(Counter((finding.grade, finding.certain) for finding in findings))


def _counted(counts: Counter[tuple[Grade, bool]]) -> str:
    words = {Grade.HAZARD: ("hazard", "hazards"), Grade.FAULT: ("fault", "faults"), Grade.QUERY: ("query", "queries")}
    certain = counts[Grade.HAZARD, True]
    totals = {grade: counts[grade, True] + counts[grade, False] for grade in Grade}
    said = [f"{count} {words[grade][count != 1]}" + (f" ({certain} certain)" if grade is Grade.HAZARD and certain else "") for grade, count in totals.items() if count]
    return ", ".join(said) or "nothing found"


class _Head(Struct, frozen=True):
    """What the order and the summary need of one file."""

    weight: tuple[int, ...]
    file: str
    index: int
    line: str  # of the summary


def render(files: Sequence[Audited], width: int = 100, colour: bool = False, skipped: int = 0) -> str:
    """The whole report, worst recipe first, a summary and the caution last."""
    return "".join(parts(files, width, colour, skipped))


def parts(files: Sequence[Audited], width: int = 100, colour: bool = False, skipped: int = 0) -> Iterator[str]:
    """The report of ``render``, part after part. Files are looked at one at a time, more than once; they may be large together."""
    heads: list[_Head] = []
    every: Counter[tuple[Grade, bool]] = Counter()
    count = read = 0
    for index, one in enumerate(files):
        said = f"not read: {clean(one.unreadable)}" if one.unreadable is not None else tally(one.findings)
        heads.append(_Head(_weight(one), one.file, index, f"  {clean(one.file)}: {said}"))
        if one.unreadable is None:
            read += 1
            count += len(one.titles)
            every.update((finding.grade, finding.certain) for finding in one.findings)
    heads.sort(key=lambda head: (head.weight, head.file))
    if len(files) > 1 and (most := asked_most((one.file, finding) for one in files for finding in one.findings)) is not None:
        yield f"{wrapped(f'{most}. --out-house FILE writes them down to fill in.', width)}\n\n"
    for head in heads:
        if not any(head.weight):
            break
        one = files[head.index]
        if one.page is not None:
            yield "\n".join(_file_lines(one, one.page, width, colour)) + "\n"
    yield "Summary\n"
    for head in heads:
        yield f"{head.line}\n"
    passed = f"; {skipped} other {'file' if skipped == 1 else 'files'} passed over" if skipped else ""
    yield f"  {count} {'recipe' if count == 1 else 'recipes'} read{', ' + _counted(every) if read else ''}{passed}\n\n{wrapped(CAUTION, width)}\n"


def _file_lines(one: Audited, page: Page, width: int, colour: bool) -> list[str]:
    lines = [f"{clean(one.title or one.file)} — {tally(one.findings)}", ""]
    for finding in sorted(one.findings, key=lambda f: (WEIGHT[f.grade], not f.certain, f.place.start)):
        lines += [*finding_lines(finding, one, page, width, colour), ""]
    return lines
