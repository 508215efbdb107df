"""The prep sheet: who does what, when, for this serving."""

from __future__ import annotations

from typing import Any

from overhaul import signing
from overhaul.findings import Finding, Grade
from overhaul.output.sheets import Asked
from overhaul.output.sheets.prep_rows import Row, Sheet, sheet
from overhaul.recipe.model import Recipe
from overhaul.rules import Case, run
from overhaul.sums.work import Sums


def body(recipe: Recipe, sums: Sums, asked: Asked) -> dict[str, Any]:
    """What the template wants besides the head."""
    found = sheet(recipe, sums, asked)
    hazards, rest = audited(recipe, sums)
    sources = list(dict.fromkeys(limit.source for row in found.rows for limit in row.limits if limit.source is not None))
    return {"title_at": recipe.title_place.start, "sources": sources, "rows": found.rows, "summary": found.summary, "late": found.late, "notes": found.notes, "hazards": hazards, "rest": rest, "size": size(found, len(hazards))}


_ROOMY, _DENSE = 31, 44  # lines of a table that still fit on one page in big type, and past which small type is wanted


def size(found: Sheet, hazards: int) -> str:
    """How big the print is, so that a short sheet is read from farther off and a long one stays on its page."""
    lines = sum(_lines(row) for row in found.rows) + (2 * hazards + 5 if hazards else 0) + (2 if found.late is not None else 0)
    return "roomy" if lines <= _ROOMY else "dense" if lines > _DENSE else "usual"


def _lines(row: Row) -> int:
    """About how many lines a row takes in print."""
    told = -(-len(f"{row.title} {row.lasts} {row.tool}") // 48) + -(-len(" ".join((row.words, *row.notes))) // 50) + -(-len(row.ticks) // 5)
    weighed = sum(1 + (len(f"{one.name} {one.grams} {one.more}") > 26) for one in row.weigh)
    limits = sum(-(-len(limit.words) // 24) for limit in row.limits)
    return max(told, weighed // 2 + 1 + limits // 2 if len(row.weigh) > 5 else max(weighed + len(row.write), limits), 1)


def audited(recipe: Recipe, sums: Sums) -> tuple[list[tuple[str, int]], str]:
    """The open hazards as (rule, line), and what else the audit found in words. What is signed off is settled, but never a certain hazard."""
    found = signing.applied(recipe.page, run(Case(recipe, sums, sums.house)))
    open_ = [one for one in found if one.signed_off is None or one.signed_off.stale or (one.certain and one.grade is Grade.HAZARD)]
    hazards = [(one.rule, _line(recipe, one)) for one in open_ if one.grade is Grade.HAZARD]
    counts = [(sum(one.grade is grade for one in open_), word) for grade, word in ((Grade.FAULT, ("fault", "faults")), (Grade.QUERY, ("query", "queries")))]
    rest = " and ".join(f"{count} {word[count != 1]}" for count, word in counts if count)
    return hazards, rest


def _line(recipe: Recipe, finding: Finding) -> int:
    return recipe.page.position(finding.place.start)[0]
