"""A cool-down slower than the two steps allow."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    legs = case.process.cooling
    if not legs:
        return
    first, whole = facts.fact("cooling.stage1_h"), facts.fact("cooling.total_h")
    cured = bool(case.recipe.of_role(*CURING_SALTS))
    total = sum(leg.low for leg in legs)
    one = legs[0]
    if one.start <= 145 and 68 <= one.end <= 82 and one.low > first.value:
        place, said, allowed = one.place, f"{one.low:g} hours from {words.degrees(one.start)} to {words.degrees(one.end)}", f"{first.value:g} hours"
    elif legs[-1].end <= 45 and total > whole.value + 0.01:
        place, said, allowed = legs[-1].place, f"{total:g} hours in all to {words.degrees(legs[-1].end)}", f"{whole.value:g} hours"
    else:
        return
    yield Finding(
        RULE.name, Grade.HAZARD, not cured and total > 6.5, place,
        f"The cool-down takes {said}; allowed are {allowed}." + (" A slower cooling is published for meat cured with 100 ppm nitrite and more, under conditions of its own." if cured else ""),
        remedy=Remedy("Smaller pieces, shallow pans, an ice bath."), sources=(first.cite, Cite("fsis-appendix-b-1999", "option 3") if cured else whole.cite),
    )  # fmt: skip


RULE = Rule(
    name="cooling-slow",
    family="rest_hold_cool",
    check=check,
    reports="A cool-down that takes longer than 2 hours to 70 °F or 6 hours in all to 41 °F.",
    why="Time between 130 and 70 °F is growing time.",
    silent="Within both steps; no times given.",
    sources=(Cite("food-code-2022", "3-501.14(A)"),),
    sum="allowed time ÷ stated time",
    sound=CORNED,
    faulty=changed(CORNED, ("to 70 F in 2 hours", "to 70 F in 5 hours")),
    expect=("19:42-49", "The cool-down takes 5 hours from 135 °F (57 °C) to 70 °F (21 °C); allowed are 2 hours. A slower cooling is published for meat cured with 100 ppm nitrite and more, under conditions of its own."),
)
