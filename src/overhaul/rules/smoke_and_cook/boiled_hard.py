"""Whole meat kept at a hard boil until it is done."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases, units
from overhaul.recipe.model import Step
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_CITE = Cite("common-practice", "meat in the pot")


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    meat = case.process.meat
    if meat is None or meat.ground or judging.is_fish(case):
        return
    for step in recipe.steps:
        found = phrases.BOILED_HARD.search(step.text) if step.does("cook") else None
        if found is None or _hours(step) < judging.figure("boiled_hard_h").value or phrases.SIMMERED.search(step.text) or phrases.SPOKEN_AGAINST.search(step.text[: found.start()].lower()):
            continue
        yield Finding(
            RULE.name, Grade.FAULT, False, Place(step.place.start + found.start(), step.place.start + found.end()),
            f"“{found[0]}”, and hours of it: whole meat kept at a hard boil turns stringy and dry outside before its middle is tender ({judging.named(_CITE)}).",
            remedy=Remedy("Bring it to a boil, skim, then keep it at a bare simmer until a fork slides in."), sources=(_CITE,),
        )  # fmt: skip
        return


def _hours(step: Step) -> float:
    return max((units.hours(one.amount.high, one.amount.unit) for one in step.times), default=0.0)


RULE = Rule(
    name="boiled-hard",
    family="smoke_and_cook",
    check=check,
    reports="Whole meat cooked for an hour or more at a rolling boil.",
    why="A boil squeezes the meat that a simmer makes tender.",
    silent="“Boil” by itself, which old cards use for a simmer; a boil that is turned down; short boils; ground meat and fish.",
    sources=(_CITE,),
    sound=CORNED,
    faulty=changed(CORNED, ("6. Simmer in fresh water 3 1/2 hours", "6. Boil hard in fresh water 3 1/2 hours")),
    expect=("17:4-13", "“Boil hard”, and hours of it: whole meat kept at a hard boil turns stringy and dry outside before its middle is tender (common practice, no source)."),
)
