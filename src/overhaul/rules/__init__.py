"""The rules by family, in the order of the work; and running them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from overhaul.findings import Finding, Grade
from overhaul.rules.rule import Case, Rule
from overhaul.text import Place

FAMILIES = ("curing_salt", "brine", "cold_and_time", "handling", "rinse_soak_dry", "smoke_and_cook", "rest_hold_cool", "keep_and_label", "page")


@cache
def all_rules() -> tuple[Rule, ...]:
    """Every rule, family by family. Families are imported here, so that importing this package costs nothing."""
    from overhaul.rules import (
        brine,
        cold_and_time,
        curing_salt,
        handling,
        keep_and_label,
        page,
        rest_hold_cool,
        rinse_soak_dry,
        smoke_and_cook,
    )

    families = (curing_salt, brine, cold_and_time, handling, rinse_soak_dry, smoke_and_cook, rest_hold_cool, keep_and_label, page)
    return tuple(rule for family in families for rule in family.RULES)


def every_rule() -> tuple[Rule, ...]:
    """Our own rules, those of a binder among them (``across``), and those of the plug-ins that are installed (``plug_ins``)."""
    from overhaul.rules import across, plug_ins

    return (*all_rules(), *across.RULES, *plug_ins.rules())


def run(case: Case, *, strict: bool = False) -> list[Finding]:
    """What every rule says of ``case``. A rule that fails becomes a finding naming it; with ``strict`` it raises."""
    return run_each([case], strict=strict)[0]


def run_each(cases: Sequence[Case], *, strict: bool = False) -> list[list[Finding]]:
    """What every rule says of each of ``cases``, rule by rule: one that was just run takes a tenth less time on the next page."""
    from overhaul.rules import plug_ins

    found: list[list[Finding]] = [[] for _ in cases]
    for rule in all_rules():
        for case, own in zip(cases, found, strict=True):
            try:
                own.extend(case.found_by(rule.check))
            except Exception as problem:
                if strict:
                    raise
                own.append(Finding(rule.name, Grade.QUERY, False, _top(case), f"This rule failed on this page ({type(problem).__name__}: {problem}); look at the page yourself, and please report it."))
    for one in plug_ins.found().plug_ins:
        for case, own in zip(cases, found, strict=True):
            try:
                own.extend(plug_ins.said_by(one.rule, case))
            except (Exception, SystemExit) as problem:
                if strict:
                    raise
                why = str(problem) if isinstance(problem, plug_ins.Bad) else f"{type(problem).__name__}: {problem}"
                own.append(Finding(one.rule.name, Grade.QUERY, False, _top(case), f"This rule, from the plug-in “{one.entry}” of {one.distribution}, failed on this page ({why}); look at the page yourself."))
    return found


def _top(case: Case) -> Place:
    return Place(case.recipe.title_place.start, case.recipe.title_place.start)


__all__ = ["FAMILIES", "Case", "Rule", "all_rules", "every_rule", "run", "run_each"]
