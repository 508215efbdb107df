"""A target inside that the air cannot reach."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases, units
from overhaul.recipe.model import Fact, Recipe, Step
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed

_PHYSICS = Cite("common-practice", "physics")
_HEAT = ("smoke", "cook", "wrap")


def check(case: Case) -> Iterator[Finding]:
    recipe, final = case.recipe, case.process.final_temperature
    if final is None:
        return
    steps = [step for step in recipe.steps if step.does(*_HEAT)]
    reached = next((index for index, step in enumerate(steps) if step.place.start <= final.place.start < step.place.end), None)
    if reached is None:
        return
    # Wet heat and naked fire are hotter at the meat than a thermometer in the smoker reads.
    if any(phrases.MOIST_HEAT.search(step.text) for step in steps[: reached + 1]):
        return
    last = steps[reached]
    if reached and last.does("cook") and not last.does("smoke") and not any(one.of in ("oven", "smoker", "air") for one in last.temperatures) and any(step.does("smoke") for step in steps[:reached]):
        return  # smoked, and then cooked by a heat that is not told
    air = _hottest(recipe, steps)
    if air is None or final.low < air.high or _hotter(steps, final):
        return
    yield Finding(
        RULE.name, Grade.FAULT, True, final.place,
        f"{judging.degrees(recipe, final.low, final.high)} inside cannot be reached in air of {judging.degrees(recipe, air.low, air.high)}: meat never gets hotter than the air round it, and wet meat stays below (physics).",
        remedy=Remedy("Raise the smoker above the target, or wrap and steam it to finish."), sources=(_PHYSICS,),
    )  # fmt: skip


def _hotter(steps: list[Step], final: Fact) -> bool:
    """Any other temperature by the fire above the target: what it is of may be told in words that were not understood."""
    return any(
        units.fahrenheit(measured.amount.high, _scale(measured.amount.unit)) > final.low
        for step in steps for measured in step.temperatures if measured.amount.place.start != final.place.start
    )  # fmt: skip


def _hottest(recipe: Recipe, steps: list[Step]) -> Fact | None:
    """The hottest dry air of all stages, in degF."""
    found = [
        Fact(units.fahrenheit(measured.amount.low, _scale(measured.amount.unit)), units.fahrenheit(measured.amount.high, _scale(measured.amount.unit)), "degF", step.line, measured.amount.place)
        for step in steps for measured in step.temperatures if measured.of in ("oven", "smoker", "air")
    ]  # fmt: skip
    smoke = recipe.process.smoke_temperature
    return max([*found, *([smoke] if smoke is not None else [])], key=lambda air: air.high, default=None)


def _scale(unit: str) -> str:
    return unit if unit in ("degF", "degC") else "degF"


RULE = Rule(
    name="target-above-air",
    family="smoke_and_cook",
    check=check,
    reports="An end point inside at or above the heat of the smoker or oven.",
    why="Wet meat in dry air stays below the air. The cook waits, and the meat dries.",
    silent="Meat that is wrapped, steamed or braised to finish; a hotter stage later; an oven whose heat is not given.",
    sources=(_PHYSICS,),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("Smoke at 250 F until 165 F inside.", "Smoke at 200 F until 203 F inside."), ("8. Steam, covered, 2 hours, to 203 F inside.\n", "")),
    expect=("16:25-30", "203 °F (95 °C) inside cannot be reached in air of 200 °F (93 °C): meat never gets hotter than the air round it, and wet meat stays below (physics)."),
)
