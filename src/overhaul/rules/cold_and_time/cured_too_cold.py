"""Cured so cold that the cure stands still."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Edit, Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_STALLS = facts.fact("cure_stalls_f")


def check(case: Case) -> Iterator[Finding]:
    told, recipe = case.process.cure_temperature, case.recipe
    if told is None or case.process.cure is None or recipe.product == "dried" or told.high >= _STALLS.value:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, told.place,
        f"Cured at {degrees(recipe, told.low, told.high)}; under {degrees(recipe, _STALLS.value)} the cure stands still and the days do not count ({named(_STALLS.cite)}).",
        remedy=Remedy(f"Cure at {judging.target(recipe)}, measured in the brine or beside the meat.", (Edit(told.place, judging.plain_target(recipe)),)), sources=(_STALLS.cite,),
    )  # fmt: skip


RULE = Rule(
    name="cured-too-cold",
    family="cold_and_time",
    check=check,
    reports="A cure that stands under 34 °F all the while.",
    why="Near freezing the salt hardly moves, and the middle comes out grey after all its days.",
    silent="34 °F and warmer, or a range that reaches it; long dry cures.",
    sources=(_STALLS.cite,),
    sound=CORNED,
    faulty=changed(CORNED, ("Refrigerate at 36 to 40 F for", "Keep at 30 F for")),
    expect=("15:12-16", "Cured at 30 °F (-1.1 °C); under 34 °F (1.1 °C) the cure stands still and the days do not count (Clemson Extension on curing game)."),
)
