"""Held hot below the limit."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    recipe, hold = case.recipe, case.process.hold
    limit, roast = facts.fact("hot_hold_min_f"), facts.fact("hot_hold_roast_min_f")
    if hold is None or hold.low >= limit.value:
        return
    usual = judging.figure("hold_hot_usual_f")
    # A roast cooked by the roast chart may be held a little lower, and a page does not say by which chart.
    certain = hold.high < roast.value
    more = "" if certain else f" ({degrees(recipe, roast.value)} for a roast cooked by its chart)"
    yield Finding(
        RULE.name, Grade.HAZARD, certain, hold.place, f"Held at {degrees(recipe, hold.low, hold.high)}; the least for holding hot is {degrees(recipe, limit.value)}{more} by {named(limit.cite)}.",
        remedy=Remedy(f"Hold at {degrees(recipe, usual.value)} or hotter, or cool it down within the two steps.", (Edit(hold.place, judging.plain_degrees(recipe, usual.value)),)), sources=(limit.cite, usual.cite),
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
    expect=("18:44-49", "Held at 120 °F (49 °C); the least for holding hot is 135 °F (57 °C) by Food Code 2022, 3-501.16(A)(1)."),
)
