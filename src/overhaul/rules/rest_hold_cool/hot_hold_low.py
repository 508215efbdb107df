"""Held hot below the limit."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    hold = case.process.hold
    limit, roast = facts.fact("hot_hold_min_f"), facts.fact("hot_hold_roast_min_f")
    if hold is None or hold.low >= limit.value:
        return
    yield Finding(
        RULE.name, Grade.HAZARD, hold.high < roast.value, hold.place, f"Held at {words.degrees(hold.low, hold.high)}; the least for holding hot is {words.degrees(limit.value)}.",
        remedy=Remedy(f"Hold at {words.degrees(140)} or hotter, or cool it down within the two steps."), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="hot-hold-low",
    family="rest_hold_cool",
    check=check,
    reports="A hot hold stated under 135 °F.",
    why="Lukewarm meat is where the germ of the corned-beef outbreaks grows, once in ten minutes.",
    silent="135 °F and more; no temperature stated.",
    sources=(Cite("food-code-2022", "3-501.16(A)(1)"),),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("Hold at 140 F.", "Hold at 120 F.")),
    expect=("18:44-49", "Held at 120 °F (49 °C); the least for holding hot is 135 °F (57 °C)."),
)
