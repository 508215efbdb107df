"""A long soak out of the cold."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, limit = case.process, judging.figure("soak_out_h")
    warm, soak = process.soak_warm, process.soak
    top = judging.figure("soak_water_max_f")
    for step in case.recipe.steps:
        for one in step.temperatures if step.does("soak") and not step.does("cook") else ():
            if one.amount.unit in ("degF", "degC") and top.value < (water := units.fahrenheit(one.amount.low, one.amount.unit)) < facts.fact("hot_hold_min_f").value:
                yield Finding(
                    RULE.name, Grade.FAULT, False, one.amount.place,
                    f"Soaked in water of {judging.degrees(case.recipe, water)}; it may be no warmer than {judging.degrees(case.recipe, top.value)} ({judging.named(top.cite)}). Water takes the salt out of the surface, and what kept it with it.",
                    remedy=Remedy("Soak it in cold water in the refrigerator."), sources=(top.cite,),
                )  # fmt: skip
                return
    if warm is None or soak is None or soak.high <= limit.value:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, soak.place,
        f"Soaked {words.told(soak)} “{warm.words}”; out of the cold {limit.value:g} hours are enough ({judging.named(limit.cite)}). Water takes the salt out of the surface, and what kept it with it.",
        remedy=Remedy("Soak it in the refrigerator."), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="soaked-warm",
    family="rinse_soak_dry",
    check=check,
    reports="A soak of more than two hours on the counter or at room temperature, or in warm water.",
    why="A freshened piece is as perishable as fresh meat.",
    silent="In the refrigerator; two hours and less; no place named.",
    sources=(judging.figure("soak_out_h").cite, judging.figure("soak_water_max_f").cite),
    sound=CORNED,
    faulty=changed(CORNED, ("Soak 2 hours in cold water in the refrigerator.", "Soak 8 hours in cold water on the counter.")),
    expect=("16:21-28", "Soaked 8 hours “on the counter”; out of the cold 2 hours are enough (common practice, no source). Water takes the salt out of the surface, and what kept it with it."),
)
