"""Cooked or smoked to eat, and no temperature inside."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.recipe.model import Step
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.smoke_and_cook.judging import meat_class
from overhaul.rules.texts import TURKEY, changed

_WET = frozenset(["simmer", "boil", "braise", "steam", "poach"])


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.final_temperature is not None or recipe.raw_on_purpose or recipe.bought_done or judging.dried_on_purpose(case) or recipe.product == "gravlax":
        return
    if (process.smoke is None and process.cook is None) or judging.cold_smoked(process) or judging.hung_in_smoke(case) or _simmered_through(case):
        return
    line = words.last_line_of(recipe, "smoke", "cook", "wrap")
    if line is None:
        return
    limit = meat_class(case).minimum
    bacon = recipe.product == "bacon" and process.cook is None
    yield words.missing(
        recipe, RULE.name, line,
        f"No temperature inside the meat is given as the end point; the limit here is {judging.degrees(recipe, limit.value)} by {judging.named(limit.cite)}. " + ("Is it eaten as it is, or fried first?" if bacon else "To what temperature inside is it taken?"),
        "Write that it is fried before it is eaten, or the temperature inside at which it is done." if bacon else "Write the temperature inside at which it is done, and where the probe goes; tender takes more.",
        None if bacon else f"Take it to {judging.plain_degrees(recipe, limit.value)} inside, with the probe in the thickest part.", sources=(limit.cite,),
    )  # fmt: skip


def _simmered_through(case: Case) -> bool:
    """Long enough in simmering liquid, or until tender in it: past every row of the tables."""
    wet = [step for step in case.recipe.steps if step.does("cook", "smoke") and _WET & set(step.actions)]
    stay = case.process.cook_time
    long = stay is not None and judging.hours(stay)[0] >= judging.figure("simmered_through_h").value
    return bool(wet) and (long or any(_until_tender(step) for step in wet))


def _until_tender(step: Step) -> bool:
    return "tender" in step.text.lower()


RULE = Rule(
    name="final-temperature-missing",
    family="smoke_and_cook",
    check=check,
    reports="Smoked or roasted meat with no end point inside.",
    why="Hours depend on the piece, the fire and the weather. A probe does not.",
    silent="Raw bacon to be fried; cold smoke; hams hung in smoke for weeks; dried products; meat simmered an hour and more, or until tender.",
    sources=(Cite("fsis-chart"),),
    sound=TURKEY,
    faulty=changed(TURKEY, ("roast at 325 F until 165 F inside", "roast at 325 F for 2 hours")),
    expect=("10:39-39", "No temperature inside the meat is given as the end point; the limit here is 165 °F (74 °C) by the FSIS temperature chart. To what temperature inside is it taken?"),
)
