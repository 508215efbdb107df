"""Warmed up to less than the least for it."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Edit, Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    steps = [step for step in case.recipe.steps if "reheat" in step.actions and step.temperatures]
    over = case.sums.get("reheating") if steps else None
    if over is None or over.value.high >= 0:
        return
    limit = judging.figure("reheat_f")
    told = next((one.amount for step in steps for one in reversed(step.temperatures) if one.of not in ("oven", "smoker", "air")), None)
    if told is None:
        return
    stated = over.inputs[0].value
    yield Finding(
        RULE.name, Grade.FAULT, False, told.place,
        f"Reheated to {judging.degrees(case.recipe, stated.low, stated.high)}; what was cooked and cooled goes back to {judging.degrees(case.recipe, limit.value)} within two hours by {judging.named(limit.cite)}.",
        sum=over.worked(), remedy=Remedy(f"Reheat it to {judging.degrees(case.recipe, limit.value)}.", (Edit(told.place, judging.plain_degrees(case.recipe, limit.value)),)), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="reheated-low",
    family="rest_hold_cool",
    check=check,
    reports="Reheating stated to less than 165 °F.",
    why="Whatever grew while it cooled and lay has to be killed again.",
    silent="165 °F and more; no temperature stated; slices served cold.",
    sources=(judging.figure("reheat_f").cite,),
    sum="reheated to − the least for it",
    sound=changed(CORNED, ("Keeps 4 days at 40 F or colder.", "Keeps 4 days at 40 F or colder. Reheat slices to 165 F.")),
    faulty=changed(CORNED, ("Keeps 4 days at 40 F or colder.", "Keeps 4 days at 40 F or colder. Reheat slices to 130 F.")),
    expect=("20:53-58", "Reheated to 130 °F (54 °C); what was cooked and cooled goes back to 165 °F (74 °C) within two hours by Food Code 2022, 3-403.11(A)."),
)
