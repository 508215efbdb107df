"""Smoked, and at what heat?"""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.smoke is None or process.smoke_temperature is not None or case.house.smoker is not None:
        return
    if "cold smoke" in recipe.page.plain.lower():
        return
    if recipe.product == "ham" and process.smoke_time is not None and process.smoke_time.unit in ("week", "month"):
        return  # the long cold smoke of a country ham
    lines = [step.end_line for step in recipe.steps if step.phase == "smoke"]
    yield words.missing(
        recipe, RULE.name, lines[-1], "Smoked, and the temperature of the smoker is not given. Hot smoke cooks; cold smoke does not, and needs a cure.",
        "Write the heat of the smoker.", None, sources=(Cite("fsis-smoking"),),
    )  # fmt: skip


RULE = Rule(
    name="smoke-temperature-missing",
    family="smoke_and_cook",
    check=check,
    reports="A smoking step with no temperature of the smoker.",
    why="At 90 °F it is a raw product, at 225 °F a cooked one.",
    silent="A temperature of the smoker; a house sheet that gives it; cold smoke by name; hams hung in smoke for weeks.",
    sources=(Cite("fsis-smoking"),),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("Smoke at 250 F until", "Smoke until")),
    expect=("16:29-29", "Smoked, and the temperature of the smoker is not given. Hot smoke cooks; cold smoke does not, and needs a cure."),
)
