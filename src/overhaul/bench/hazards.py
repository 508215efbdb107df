"""What the audit has to say before anybody works from a sheet."""

from __future__ import annotations

from overhaul import signing
from overhaul.findings import Finding, Grade
from overhaul.recipe.model import Recipe
from overhaul.rules import Case, run
from overhaul.sums.work import Sums


def hazards(recipe: Recipe, sums: Sums) -> tuple[Finding, ...]:
    """The hazards of this recipe, certain ones first; what a named cook signed off is settled, but never a certain hazard."""
    found = [one for one in run(Case(recipe, sums, sums.house)) if one.grade is Grade.HAZARD]
    open_ = [one for one in signing.applied(recipe.page, found) if one.certain or one.signed_off is None or one.signed_off.stale]
    return tuple(sorted(open_, key=lambda one: (not one.certain, one.place.start)))


def told(recipe: Recipe, finding: Finding) -> str:
    """``curing-salt-over-limit, line 6``; a field put into a recipe file by hand has no line of its own."""
    if finding.place.start > len(recipe.page.text):
        return f"{finding.rule}, a field of the recipe file"
    return f"{finding.rule}, line {recipe.page.line_at(finding.place.start)}"
