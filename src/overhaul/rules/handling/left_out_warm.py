"""Meat left standing at room temperature."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    out, limit = case.process.left_out, judging.figure("room_max_h")
    if out is None or out.high <= limit.value or judging.dried_on_purpose(case) or case.recipe.raw_on_purpose:
        return
    yield Finding(
        RULE.name, Grade.HAZARD, False, out.place,
        f"Meat stands at room temperature {words.told(out)}; the limit out of the cold is {limit.value:g} hours by {judging.named(limit.cite)}.",
        remedy=Remedy("Let it stand or dry in the refrigerator, uncovered."), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="left-out-warm",
    family="handling",
    check=check,
    reports="Meat left at room temperature for more than two hours before the fire.",
    why="A skin dries as well in the cold, and nothing grows there meanwhile.",
    silent="Two hours and less; in the refrigerator; dried and ripened products, which are not judged here.",
    sources=(judging.figure("room_max_h").cite,),
    sound=changed(PASTRAMI, ("6. Dry on a rack, uncovered, overnight in the refrigerator.", "6. Dry on a rack at room temperature for 1 hour.")),
    faulty=changed(PASTRAMI, ("6. Dry on a rack, uncovered, overnight in the refrigerator.", "6. Dry on a rack at room temperature overnight.")),
    expect=("15:38-47", "Meat stands at room temperature 8 to 12 hours; the limit out of the cold is 2 hours by FSIS on smoking meat."),
)
