"""Curing salt no. 1 by itself in what hangs for months."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe.model import Measured
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule

_LONG = ("day", "week", "month", "year")
_SOUND = """\
Braised shoulder, salted first

1 boneless pork shoulder, 6 lb
1.5 oz kosher salt

Rub the salt all over and refrigerate at 38 F overnight.
Braise at 300 F for 4 hours until it is tender and 195 F inside.
Rest 20 minutes and serve.
"""
_FAULTY = """\
Air-dried loin, long hung

1 beef eye of round, 4 lb
50 g kosher salt
4.5 g cure #1 (6.25 % nitrite)

Rub the salt and the cure into the meat and put it in a zip bag with the air pressed out.
Refrigerate at 38 F for 21 days, turning every other day.
Hang at 55 F for 3 months.
"""


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    kept = next(iter(recipe.of_role("cure1")), None)
    if kept is None or recipe.product != "dried" or recipe.of_role("cure2", "nitrate", "ready-mix"):
        return
    limit = judging.figure("short_cure_d")
    hung = next((one for step in recipe.steps if step.does("dry", "smoke", "other", "hold") for one in step.times if one.amount.unit in _LONG and _days(one) > limit.value), None)
    if hung is None:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, kept.name_place,
        f"“{recipe.page.words(kept.name_place)}” brings nitrite alone, which is used up in weeks; what hangs for {words.amount_words(recipe, hung.amount)} (line {recipe.page.line_at(hung.amount.place.start)}) is given no. 2, whose nitrate makes more of it over the months ({judging.named(limit.cite)}).",
        remedy=Remedy("Use curing salt no. 2, weighed for this batch, and have the drying checked by somebody qualified."), sources=(limit.cite,),
    )  # fmt: skip


def _days(one: Measured) -> float:
    return units.hours(one.amount.high, one.amount.unit) / 24


RULE = Rule(
    name="nitrite-alone-in-a-long-drying",
    family="curing_salt",
    check=check,
    reports="A dried product that hangs for over a month with curing salt no. 1 only.",
    why="Without nitrate there is no nitrite left by the time it is eaten.",
    silent="No. 2, saltpetre or a mix with nitrate; a month and less; everything that is cooked.",
    sources=(judging.figure("short_cure_d").cite,),
    sound=_SOUND,
    faulty=_FAULTY,
    expect=("5:7-14", "“cure #1” brings nitrite alone, which is used up in weeks; what hangs for 3 months (line 9) is given no. 2, whose nitrate makes more of it over the months (common practice, no source)."),
)
