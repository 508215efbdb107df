"""A temperature inside that meat never has."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from overhaul import facts
from overhaul.findings import Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    final, boils = case.process.final_temperature, facts.fact("boil_temperature")
    if final is None or units.celsius(final.low) <= boils.value + judging.figure("boil_slack_k").value:
        return
    said = case.recipe.page.words(final.place).replace("\n", " ")
    yield Finding(
        RULE.name, Grade.QUERY, False, final.place,
        f"“{said}” inside is {judging.degrees(case.recipe, final.low, final.high)}: meat holds water and stays under {judging.degrees(case.recipe, units.fahrenheit(Fraction(boils.value), 'degC'))}, where it boils. Is the other scale meant, or the oven?",
        remedy=Remedy("Write the temperature inside with its scale."), sources=(boils.cite,),
    )  # fmt: skip


RULE = Rule(
    name="hotter-than-boiling-inside",
    family="smoke_and_cook",
    check=check,
    reports="An end point inside above the boiling point of water.",
    why="It is a Fahrenheit figure with a Celsius sign, or the heat of the oven.",
    silent="212 °F (100 °C) inside and less.",
    sources=(facts.fact("boil_temperature").cite,),
    sound=CORNED,
    faulty=changed(CORNED, ("until 195 F inside", "until 195 C inside")),
    expect=("17:45-50", "“195 C” inside is 383 °F (195 °C): meat holds water and stays under 212 °F (100 °C), where it boils. Is the other scale meant, or the oven?"),
)
