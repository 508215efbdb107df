"""Frozen meat thawed out of the cold."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    warm = case.process.thaw_warm
    if warm is None:
        return
    limit = judging.figure("thaw_max_f")
    yield Finding(
        RULE.name, Grade.HAZARD, limit.firm, warm.place,
        f"Thawed “{warm.words}”: the limit is {judging.degrees(case.recipe, limit.value)} in a refrigerator, or cold running water, by {judging.named(limit.cite)}. The outside stands warm for hours before the middle gives way.",
        remedy=Remedy(f"Thaw it in the refrigerator, in a pan on the lowest shelf, about a day for every {judging.thawed_a_day(case.recipe)}."), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="thawed-warm",
    family="handling",
    check=check,
    reports="Meat thawed on a counter or at room temperature.",
    why="Ice in the middle keeps nothing cold outside.",
    silent="Thawed in the refrigerator or in cold water; a page that says not to.",
    sources=(judging.figure("thaw_max_f").cite,),
    sound=changed(CORNED, ("1. Stir", "Thaw the flats in the refrigerator, 2 days.\n\n1. Stir")),
    faulty=changed(CORNED, ("1. Stir", "Thaw the flats on the counter.\n\n1. Stir")),
    expect=("12:16-30", "Thawed “on the counter”: the limit is 41 °F (5 °C) in a refrigerator, or cold running water, by Food Code 2022, 3-501.13(A). The outside stands warm for hours before the middle gives way."),
)
