"""Meat without a cure in a smoker below the heat that is advised for it."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import TURKEY, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    air = process.smoke_temperature
    if air is None or recipe.of_role(*CURING_SALTS) or judging.is_fish(case) or judging.dried_on_purpose(case) or recipe.bought_done:
        return
    limit = judging.figure("smoker_uncured_f")
    # Cold smoke without a cure is another matter, and no-curing-salt speaks of it.
    if air.high >= limit.value or air.high <= facts.fact("cold_smoke_max_f").value:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, air.place,
        f"Meat with no curing salt in air of {judging.degrees(recipe, air.low, air.high)}; {judging.degrees(recipe, limit.value)} and more is the least for it by {judging.named(limit.cite)}, so that it is not warm for hours.",
        remedy=Remedy(f"Smoke it at {judging.degrees(recipe, limit.value)} or hotter, or cure it."), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="smoker-cool-for-uncured",
    family="smoke_and_cook",
    check=check,
    reports="Uncured meat smoked below 225 °F.",
    why="Without a cure, slow warm smoke is an incubator.",
    silent="Cured meat; fish; cold smoke, of which another rule speaks; 225 °F and more at any stage.",
    sources=(judging.figure("smoker_uncured_f").cite,),
    sound=changed(TURKEY, ("roast at 325 F until", "smoke at 250 F until")),
    faulty=changed(TURKEY, ("roast at 325 F until", "smoke at 190 F until")),
    expect=("10:21-26", "Meat with no curing salt in air of 190 °F (88 °C); 225 °F (107 °C) and more is the least for it by FSIS on smoking meat, so that it is not warm for hours."),
)
