"""Pumped bacon with less accelerator than the law wants in it."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.cold_and_time.judging import figure, named
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case, Rule
from overhaul.sums import nitrite

_BACON = """\
Pumped bacon

1 pork belly, skinless, 10 lb
2 lb water
100 g salt
19.85 g cure #1 (6.25 % nitrite)
5.7 g sodium erythorbate

1. Stir all of it into the cold water and chill to 38 F.
2. Pump the belly to 10 % of its weight.
3. Bag it, the air pressed out, and refrigerate at 38 F for 2 days, turning daily.
4. Rinse. Dry on a rack in the refrigerator overnight. Smoke at 180 F until 150 F inside, and hold there 5 minutes. Rest 10 minutes.
5. Cool from 135 to 70 F in 2 hours, to 41 F in 4 more. Keeps 7 days at 38 F.
"""


def check(case: Case) -> Iterator[Finding]:
    source = judging.main_source(case, "nitrite")
    if judging.product_class(case) != "belly_pumped" or source is None or case.house.law != "us" or judging.perhaps_belly(case):
        return
    wanted = facts.limit("us", "accelerator", "belly_pumped")
    held = case.sums.get("accelerator_pump")
    if wanted is None or (held is not None and held.value.high >= wanted.value * (1 - figure("accelerator_slack").value)):
        return
    told = f"brings {words.figure(held.value, 'ppm')}" if held is not None else "is not on the page"
    yield Finding(
        RULE.name, Grade.FAULT, False, source.name_place,
        f"Pumped bacon wants {wanted.value:g} ppm of ascorbate or erythorbate with its nitrite by {named(wanted.cite)}, and that {told}. It keeps the fire from making what should not be eaten.",
        sum=held.worked() if held is not None else None, remedy=_remedy(case, wanted.value), sources=(wanted.cite,),
    )  # fmt: skip


def _remedy(case: Case, ppm: float) -> Remedy:
    pump, pickle = case.process.pump, case.sums.get("brine_mass")
    if pump is None or pump.low <= 0 or pickle is None:
        return Remedy("Add sodium erythorbate, weighed for the pickle and the share that is pumped.")
    gram = nitrite.agent_for_pump(ppm, pump.span.likely / 100, pickle.value.likely)
    return Remedy(f"Weigh {words.gram(gram)} of sodium erythorbate in all into this {words.gram(pickle.value.likely)} of pickle, pumped at {words.round_(pump.span.likely)} %.")


RULE = Rule(
    name="pumped-bacon-without-accelerator",
    family="curing_salt",
    check=check,
    reports="Pork belly pumped with nitrite and no ascorbate or erythorbate, or too little of it.",
    why="Nitrite in fat that is fried hard makes nitrosamines; the accelerator keeps that down.",
    silent="Dry-cured and soaked bellies; bacon of another cut; other law than that of the United States.",
    sources=(facts.table("limits")["us.accelerator.belly_pumped"].cite,),
    sound=_BACON,
    faulty=_BACON.replace("5.7 g sodium erythorbate\n", ""),
    expect=("6:9-16", "Pumped bacon wants 550 ppm of ascorbate or erythorbate with its nitrite by 9 CFR 424.22(b), and that is not on the page. It keeps the fire from making what should not be eaten."),
)
