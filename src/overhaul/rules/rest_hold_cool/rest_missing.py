"""No rest after the fire."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding
from overhaul.reading import phrases
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.sums import lethality


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.rest_mention is not None or recipe.raw_on_purpose or recipe.product in ("ground", "jerky", "gravlax", "dried", "bacon") or judging.is_fish(case) or judging.is_ground(case):
        return
    final = process.final_temperature
    meat = process.meat
    if meat is not None and judging.is_poultry(case) and meat.mass is not None and meat.pieces is not None and meat.pieces[0] > 1 and meat.mass.high <= meat.pieces[0] * judging.figure("rest_piece_g").value:
        return  # legs and wings are served whole
    line = words.last_line_of(recipe, "smoke", "cook", "wrap")
    if line is None or final is None:
        return
    if next((step.does("cool") for step in recipe.steps if step.does("cool", "slice", "hold")), False):
        return  # cooled whole
    minimum, least, usual = facts.fact("minimum.whole_f"), facts.fact("minimum.whole_rest_min"), judging.figure("rest_for_slicing_min")
    wanted = lethality.wanted_seconds("meat", final.low) or 0
    counts = final.dwell is None and not judging.is_poultry(case) and final.high >= minimum.value and wanted > judging.figure("short_hold_s").value
    if not counts and process.cook is None and not any(step.does("slice", "hold", "rest") or phrases.SERVED.search(step.text) for step in recipe.steps):
        return  # smoked and no more: it is not cut from the fire
    if counts:
        message = f"{judging.degrees(recipe, final.low, final.high)} inside counts only with a rest of {least.value:g} minutes or more by {judging.named(least.cite)}, and no rest is written. Does it rest?"
    else:
        message = f"No rest is written between the fire and the knife, and the juice runs out on the board; about {usual.value:g} minutes is usual ({judging.named(usual.cite)}). Does it rest?"
    yield words.missing(recipe, RULE.name, line, message, "Rest it before slicing.", f"Rest {usual.value:g} minutes before slicing.", sources=(minimum.cite if counts else usual.cite,))


RULE = Rule(
    name="rest-missing",
    family="rest_hold_cool",
    check=check,
    reports="A whole cut taken to a temperature and sliced with no rest.",
    why="At 145 °F the rest is part of the cook; at 203 °F it is the difference between slices and shreds.",
    silent="Any rest; pieces of poultry small enough to be served whole; ground, dried and raw products; fish and bacon; meat cooled whole, or smoked and not sliced.",
    sources=(Cite("fsis-chart"), Cite("common-practice")),
    sound=CORNED,
    faulty=changed(CORNED, ("7. Rest 20 minutes. Slice", "7. Slice")),
    expect=("17:58-58", "No rest is written between the fire and the knife, and the juice runs out on the board; about 20 minutes is usual (common practice, no source). Does it rest?"),
)
