"""No rest after the fire."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.rest_mention is not None or recipe.raw_on_purpose or recipe.product in ("ground", "jerky", "gravlax", "dried", "fish", "bacon"):
        return
    final = process.final_temperature
    line = words.last_line_of(recipe, "smoke", "cook", "wrap")
    if line is None or final is None:
        return
    if any(step.phase == "cool" for step in recipe.steps) and not any(step.phase in ("slice", "hold") for step in recipe.steps):
        return  # cooled whole
    minimum = facts.fact("minimum.whole_f")
    short = final.dwell is None and minimum.value <= final.high < facts.fact("instant_meat_f").value
    message = "No rest is written between the fire and the knife; the juice runs out on the board."
    if short:
        message = f"{words.degrees(final.low, final.high)} inside counts only with a rest of {facts.fact('minimum.whole_rest_min').value:g} minutes or more, and no rest is written."
    yield words.missing(recipe, RULE.name, line, message, "Rest it before slicing.", "Rest 20 minutes before slicing.", sources=(minimum.cite,))


RULE = Rule(
    name="rest-missing",
    family="rest_hold_cool",
    check=check,
    reports="A whole cut taken to a temperature and sliced with no rest.",
    why="At 145 °F the rest is part of the cook; at 203 °F it is the difference between slices and shreds.",
    silent="Any rest; ground, dried and raw products; meat cooled whole.",
    sources=(Cite("fsis-chart"),),
    sound=CORNED,
    faulty=changed(CORNED, ("7. Rest 20 minutes. Slice", "7. Slice")),
    expect=("17:58-58", "No rest is written between the fire and the knife; the juice runs out on the board."),
)
