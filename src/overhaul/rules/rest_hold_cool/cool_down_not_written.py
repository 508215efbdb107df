"""Kept or sliced cold, and no cool-down."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding
from overhaul.reading import phrases
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cooling or process.cool is not None or recipe.raw_on_purpose or (process.smoke is None and process.cook is None):
        return
    if judging.dried_on_purpose(case) or recipe.product == "gravlax" or (process.final_temperature is None and process.cook is None):
        return
    final = process.final_temperature
    if judging.fried_before_eating(case) and (final is None or final.high < facts.fact("minimum.whole_f").value):
        return
    last_heated = max((step.line for step in recipe.steps if step.does("smoke", "cook")), default=0)
    for step in recipe.steps:
        if step.line >= last_heated and step.does("store", "slice", "rest", "other", "hold") and (step.does("store") or phrases.EATEN_COLD.search(step.text)):
            yield words.missing(
                recipe, RULE.name, step.end_line, f"It is kept or sliced cold, and no cool-down is written; the limit for cooked meat is {judging.two_steps(recipe)}. How is it cooled?",
                "Write the cool-down and who reads it.", judging.plain_two_steps(recipe), sources=(Cite("food-code-2022", "3-501.14(A)"),),
            )  # fmt: skip
            return


RULE = Rule(
    name="cool-down-not-written",
    family="rest_hold_cool",
    check=check,
    reports="Cooked meat that is kept or sliced cold with no cool-down on the page.",
    why="Large pieces cool slowly; the biggest corned-beef outbreaks were cooling, not curing.",
    silent="Any cool-down; food eaten at once; raw products.",
    sources=(Cite("food-code-2022", "3-501.14(A)"),),
    sound=CORNED,
    faulty=changed(CORNED, ("8. Cool what is left from 135 to 70 F in 2 hours, and to 41 F in 4 hours more.\n", "")),
    expect=("19:35-35", "It is kept or sliced cold, and no cool-down is written; the limit for cooked meat is 2 hours from 135 to 70 °F (57 to 21 °C) and 6 in all to 41 °F (5 °C) (Food Code 2022, 3-501.14(A)). How is it cooled?"),
)
