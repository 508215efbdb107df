"""Smoked, and at what heat?"""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding
from overhaul.reading import phrases
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.smoke is None or process.smoke_temperature is not None or case.house.smoker is not None:
        return
    _, text = recipe.own_words
    if phrases.COLD_SMOKE.search(text) or judging.hung_in_smoke(case):
        return
    smoked = [step for step in recipe.steps if step.does("smoke") and phrases.SMOKES.search(phrases.LIQUID_SMOKE.sub("", step.text))]
    if not smoked:
        return  # smoke out of a bottle
    cold = facts.fact("cold_smoke_max_f")
    yield words.missing(
        recipe, RULE.name, smoked[-1].end_line,
        f"Smoked, and the temperature of the smoker is not given. Above {judging.degrees(recipe, cold.value)} it begins to cook, under it it is cold smoke and needs a cure ({judging.named(cold.cite)}). How hot is the smoker?",
        "Write the heat of the smoker, read beside the meat.", None, sources=(cold.cite,), settled_by="smoker",
    )  # fmt: skip


RULE = Rule(
    name="smoke-temperature-missing",
    family="smoke_and_cook",
    check=check,
    reports="A smoking step with no temperature of the smoker.",
    why="At 90 °F it is a raw product, at 225 °F a cooked one.",
    silent="A temperature of the smoker; a house sheet that gives it; cold smoke by name; hams hung in smoke for weeks; smoke out of a bottle.",
    sources=(Cite("fsis-smoking"),),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("Smoke at 250 F until", "Smoke until")),
    expect=("16:29-29", "Smoked, and the temperature of the smoker is not given. Above 100 °F (38 °C) it begins to cook, under it it is cold smoke and needs a cure (FSIS on smoking meat). How hot is the smoker?"),
)
