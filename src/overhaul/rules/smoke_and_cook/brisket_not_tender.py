"""Brisket taken off the fire when it is done and long before it is tender."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Finding, Grade, Remedy
from overhaul.reading import phrases, units
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed

_MOIST = frozenset(["steam", "simmer", "braise", "boil", "poach", "pressure-cook", "wrap"])


def check(case: Case) -> Iterator[Finding]:
    recipe, final, meat = case.recipe, case.process.final_temperature, case.process.meat
    tender = facts.fact("tender_from_f")
    if final is None or meat is None or meat.ground or not (meat.cut or "").startswith("beef_brisket") or final.high >= tender.value - facts.fact("tender_slack_f").value:
        return
    if recipe.product == "dried" or any((_MOIST & set(step.actions) and not step.does("make-brine")) or phrases.TENDER_OR_THIN.search(step.text) for step in recipe.steps) or _long(case):
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, final.place,
        f"Brisket that leaves the fire at {judging.degrees(recipe, final.low, final.high)} is done and tough; it turns tender near {judging.degrees(recipe, tender.value)} ({judging.named(tender.cite)}), and nothing here steams, simmers or wraps it further.",
        remedy=Remedy(f"Go on, wrapped or steamed, until a probe slides in, near {judging.degrees(recipe, tender.value)}; or chill it and shave it thin."), sources=(tender.cite,),
    )  # fmt: skip


def _long(case: Case) -> bool:
    """Hours enough at a low heat do what a high one does."""
    hours = [units.hours(one.amount.high, one.amount.unit) for step in case.recipe.steps if step.does("cook", "hold") for one in step.times]
    return max(hours, default=0.0) >= facts.fact("tender_low_h").value


RULE = Rule(
    name="brisket-not-tender",
    family="smoke_and_cook",
    check=check,
    reports="Brisket whose last heat ends far below 195 °F, with no steam, pot, wrap or long hold.",
    why="At 165 °F it is where the cook wraps it. Served then, it chews.",
    silent="A moist or wrapped stage; “until tender”; half a day at a low heat; meat shaved or sliced thin; other cuts.",
    sources=(facts.fact("tender_from_f").cite,),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("8. Steam, covered, 2 hours, to 203 F inside.\n", ""), ("9. Rest", "8. Rest"), ("10. Cool", "9. Cool"), ("11. Keeps", "10. Keeps")),
    expect=("16:25-30", "Brisket that leaves the fire at 165 °F (74 °C) is done and tough; it turns tender near 195 °F (91 °C) (common practice, no source), and nothing here steams, simmers or wraps it further."),
)
