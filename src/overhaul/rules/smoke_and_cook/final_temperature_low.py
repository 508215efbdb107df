"""An end point below the published tables."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import TURKEY, changed
from overhaul.sums import lethality


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    final = process.final_temperature
    meat = process.meat
    if final is None or recipe.raw_on_purpose or recipe.product in ("dried", "jerky", "gravlax"):
        return
    if recipe.product == "bacon" and process.cook is None:
        return  # smoked bacon is fried before it is eaten
    species = meat.species if meat is not None else None
    poultry = species in ("chicken", "turkey", "duck", "goose", "poultry") or recipe.product == "poultry"
    ground = recipe.product == "ground" or (meat is not None and meat.ground)
    fish = species == "fish" or recipe.product == "fish"
    key = "minimum.poultry_f" if poultry else "minimum.ground_f" if ground else "minimum.fish_f" if fish else "minimum.whole_f"
    minimum = facts.fact(key)
    if final.high >= minimum.value or (ground and final.low >= facts.fact("instant_meat_f").value):
        return
    dwell = final.dwell
    rest = process.rest
    seconds = dwell.low * 60 if dwell is not None else 0.0
    table = species if species in ("chicken", "turkey") else "turkey" if poultry else "meat"
    if not fish and dwell is not None and lethality.passes(table, final.low, seconds):
        return
    if not poultry and not ground and not fish and rest is not None and final.low >= minimum.value and rest.low >= facts.fact("minimum.whole_rest_min").value:
        return
    cured_smoked = bool(recipe.of_role(*CURING_SALTS)) and process.smoke is not None
    legacy = poultry and final.high >= facts.fact("poultry_cured_instant_f" if cured_smoked else "poultry_instant_f").value
    wanted = lethality.wanted_seconds(table, final.low) if not fish else None
    unknown = dwell is None
    if legacy or fish:
        grade, certain = Grade.FAULT, False
    else:
        grade, certain = Grade.HAZARD, not unknown or wanted is None
        if unknown and wanted is not None:
            certain = False
    said = f"{words.degrees(final.low, final.high)} inside"
    limit = f"the usual limit for {'poultry' if poultry else 'ground meat' if ground else 'fish' if fish else 'whole cuts'} is {words.degrees(minimum.value)}"
    how = f"; held there it would need {_time(wanted)}" + ("" if dwell is None else f", and gets {_time(seconds)}") if wanted else ""
    yield Finding(
        RULE.name, grade, certain, final.place, f"{said}: {limit}{how}.",
        remedy=Remedy(f"Take it to {words.degrees(minimum.value)}" + (f", or hold it {_time(wanted)} at {final.low:.0f} °F by a probe." if wanted else ".")), sources=(minimum.cite, Cite("fsis-appendix-a-2021", "Tables 2 to 4")),
    )  # fmt: skip


def _time(seconds: float | None) -> str:
    if seconds is None:
        return "an unknown time"
    return f"{seconds:.0f} seconds" if seconds < 90 else f"{seconds / 60:.0f} minutes"


RULE = Rule(
    name="final-temperature-low",
    family="smoke_and_cook",
    check=check,
    reports="An end point inside the meat that is below the tables, with the hold that is stated.",
    why="Heat is the step that kills. A lower temperature does it too, if it is held long enough; the tables say how long.",
    silent="The usual end point or more; a hold that meets the table; raw bacon to be fried; dried and fermented products; no end point on the page.",
    sources=(Cite("fsis-chart"), Cite("fsis-appendix-a-2021", "Tables 2 to 4"), Cite("food-code-2022", "3-401.11")),
    sum="stated hold ÷ hold the table wants",
    sound=TURKEY,
    faulty=changed(TURKEY, ("until 165 F inside", "until 150 F inside")),
    expect=("10:33-38", "150 °F (66 °C) inside: the usual limit for poultry is 165 °F (74 °C); held there it would need 5 minutes."),
)
