"""Kept or sliced cold, and no cool-down."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_COLD = re.compile(r"\b(?:slice[sd]? (?:it |them )?(?:when |thin |once )?cold|when cold|serve(?:d)? cold|cold slices|sliced cold|chill (?:it )?before slicing|for (?:cold )?sandwiches|next day|leftovers?|keeps?|store|refrigerate)\b", re.I)


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cooling or process.cool is not None or recipe.raw_on_purpose or (process.smoke is None and process.cook is None):
        return
    if recipe.product in ("dried", "jerky", "gravlax") or (process.final_temperature is None and process.cook is None):
        return
    if recipe.product == "bacon" and process.cook is None and (process.final_temperature is None or process.final_temperature.high < 145):
        return
    heated = [step.line for step in recipe.steps if step.phase in ("smoke", "cook")]
    last = max(heated)
    for step in recipe.steps:
        if step.line >= last and step.phase in ("store", "slice", "rest", "other", "hold") and (step.phase == "store" or _COLD.search(step.text)):
            yield words.missing(
                recipe, RULE.name, step.end_line, "It is kept or sliced cold, and no cool-down is written. Cooked meat has 2 hours from 135 to 70 °F (57 to 21 °C) and 6 in all to 41 °F (5 °C).",
                "Write the cool-down and who reads it.", "Cool from 135 to 70 F in 2 hours, and to 41 F in 4 hours more; write down both.", sources=(Cite("food-code-2022", "3-501.14(A)"),),
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
    expect=("19:35-35", "It is kept or sliced cold, and no cool-down is written. Cooked meat has 2 hours from 135 to 70 °F (57 to 21 °C) and 6 in all to 41 °F (5 °C)."),
)
