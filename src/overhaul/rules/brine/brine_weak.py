"""A brine too weak to do anything, or too weak for the days it stands."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.rules import words
from overhaul.rules.brine import dosing
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.sums.of_brine import acid_share

_WEEK = 7 * 24  # hours


def check(case: Case) -> Iterator[Finding]:
    strength = case.sums.get("brine_strength")
    salt = next((item for item in case.recipe.of_role("salt") if item.amount is not None), None)
    if strength is None or salt is None or salt.amount is None:
        return
    if acid_share(case.sums) >= facts.table("rules")["marinade_acid_share"].value:
        return
    weak, usual = facts.fact("brine_weak_percent"), facts.fact("brine_long_weak_percent")
    value = strength.value
    if value.likely < weak.value:
        yield Finding(
            RULE.name, Grade.FAULT, value.high < weak.value, salt.amount.place,
            f"The brine is {words.figure(value, 'percent')} salt; under {weak.value:g} % it neither seasons nor keeps meat ({words.short(weak.cite).lower()}).",
            sum=strength.worked(), remedy=dosing.for_brine(case, salt, usual.value), sources=(weak.cite,),
        )  # fmt: skip
        return
    stay, cold = case.process.cure_time, case.process.cure_temperature or case.process.cure_cold
    if stay is not None and cold is None and value.high < usual.value and stay.span.high * units.size(stay.unit) >= _WEEK:
        yield Finding(
            RULE.name, Grade.QUERY, False, salt.amount.place,
            f"The brine is {words.figure(value, 'percent')} salt, weak for {words.told(stay)} in it, and the page names no cold. Kept at 36 to 40 °F it will do; warmer it sours.",
            sum=strength.worked(), remedy=Remedy("Write the temperature it stands at, 36 to 40 °F."), sources=(usual.cite,),
        )  # fmt: skip


RULE = Rule(
    name="brine-weak",
    family="brine",
    check=check,
    reports="A brine that is likely under 2 % salt; or a weak one that stands for a week and more with no cold named.",
    why="Too little salt leaves the meat flat and lets the brine sour before the cure is through.",
    silent="Strength cannot be worked; 2 % and more; a marinade of vinegar, whose acid is not judged here; a cold place or temperature on the page.",
    sources=(Cite("common-practice"),),
    sum="100 × all salt ÷ finished brine",
    sound=CORNED,
    faulty=changed(CORNED, ("10 oz kosher", "2 oz kosher")),
    expect=("7:1-5", "The brine is 1.89 % salt; under 2 % it neither seasons nor keeps meat (common practice of the trade)."),
)
