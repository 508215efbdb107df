"""A target inside that the air cannot reach."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed

_WET = ("steam", "braise", "wrap", "foil", "simmer", "boil")


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    air, final = process.smoke_temperature, process.final_temperature
    if air is None or final is None or final.low < air.high:
        return
    later = [step for step in recipe.steps if step.phase in ("smoke", "cook", "wrap") and step.end_line >= final.line and step.line <= final.line]
    if any(word in step.text.lower() for step in later for word in _WET):
        return
    hotter = [measured for step in recipe.steps if step.phase in ("smoke", "cook", "wrap") for measured in step.temperatures if measured.of in ("oven", "smoker") and float(measured.amount.high) > final.low]
    if hotter:
        return
    yield Finding(
        RULE.name, Grade.FAULT, True, final.place, f"{words.degrees(final.low, final.high)} inside cannot be reached in air of {words.degrees(air.low, air.high)}: meat never gets hotter than the air round it.",
        remedy=Remedy("Raise the smoker above the target, or wrap and steam it to finish."), sources=(Cite("common-practice", "physics"),),
    )  # fmt: skip


RULE = Rule(
    name="target-above-air",
    family="smoke_and_cook",
    check=check,
    reports="An end point inside at or above the heat of the smoker or oven.",
    why="Wet meat in dry air stays below the air. The cook waits, and the meat dries.",
    silent="Meat that is wrapped, steamed or braised to finish; a hotter stage later.",
    sources=(Cite("common-practice", "physics"),),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("Smoke at 250 F until 165 F inside.", "Smoke at 200 F until 203 F inside."), ("8. Steam, covered, 2 hours, to 203 F inside.\n", "")),
    expect=("16:25-30", "203 °F (95 °C) inside cannot be reached in air of 200 °F (93 °C): meat never gets hotter than the air round it."),
)
