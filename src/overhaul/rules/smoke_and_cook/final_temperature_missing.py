"""Cooked or smoked to eat, and no temperature inside."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import TURKEY, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.final_temperature is not None or recipe.raw_on_purpose or recipe.product in ("dried", "jerky", "gravlax"):
        return
    if process.smoke is None and process.cook is None:
        return
    simmered = any(step.phase == "cook" and {"simmer", "boil", "braise", "steam"} & set(step.actions) for step in recipe.steps)
    if simmered and process.cook_time is not None and process.cook_time.span.likely >= 1 and process.cook_time.unit == "hour":
        return  # an hour and more in simmering liquid passes every row of the tables
    line = words.last_line_of(recipe, "smoke", "cook", "wrap")
    if line is None:
        return
    meat = process.meat
    poultry = recipe.product == "poultry" or (meat is not None and meat.species in ("chicken", "turkey", "duck", "goose", "poultry"))
    limit = facts.fact("minimum.poultry_f" if poultry else "minimum.whole_f")
    yield words.missing(
        recipe, RULE.name, line, f"No temperature inside the meat is given as the end point. The usual limit here is {words.degrees(limit.value)}; tender takes more.",
        "Write the temperature inside at which it is done, and where the probe goes.", None, sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="final-temperature-missing",
    family="smoke_and_cook",
    check=check,
    reports="Smoked or roasted meat with no end point inside.",
    why="Hours depend on the piece, the fire and the weather. A probe does not.",
    silent="Raw bacon to be fried; dried products; meat simmered an hour and more.",
    sources=(Cite("fsis-chart"),),
    sound=TURKEY,
    faulty=changed(TURKEY, ("roast at 325 F until 165 F inside", "roast at 325 F for 2 hours")),
    expect=("10:39-39", "No temperature inside the meat is given as the end point. The usual limit here is 165 °F (74 °C); tender takes more."),
)
