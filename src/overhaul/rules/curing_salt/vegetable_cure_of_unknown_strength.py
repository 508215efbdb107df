"""Celery powder or juice as the cure, with nothing said of its nitrite."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    known, no1 = facts.fact("vegetable_cure.nitrite").span, facts.fact("cure_no1.nitrite").value
    for item in case.recipe.ingredients:
        if item.kind != "vegetable_cure" or item.strength is not None:
            continue
        yield Finding(
            RULE.name, Grade.QUERY, False, item.name_place,
            f"“{item.name}” brings nitrite or nitrate in an amount that only its label tells, so no sum here counts it; one label comes to {known.low:g} to {known.high:g} % nitrite, against {no1:g} % in curing salt no. 1. How much to the pound does its maker say?",
            remedy=Remedy("Write the maker's rate beside it and keep to it; the meat is cured meat, whatever the label calls it, and celery is an allergen."), sources=(Cite("kitchen-weighings", "labels"),),
        )  # fmt: skip


RULE = Rule(
    name="vegetable-cure-of-unknown-strength",
    family="curing_salt",
    check=check,
    reports="Celery powder, celery juice or another vegetable cure with no strength.",
    why="It is nitrite all the same, and as easily too much or too little; its strength is on no page but the label.",
    silent="Celery as a vegetable or a spice; a stated percentage.",
    sources=(Cite("kitchen-weighings", "labels"),),
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure #1 (6.25 % nitrite)", "30 g celery powder"), ("cure #1", "celery powder")),
    expect=("9:6-19", "“celery powder” brings nitrite or nitrate in an amount that only its label tells, so no sum here counts it; one label comes to 1.15 to 1.18 % nitrite, against 6.25 % in curing salt no. 1. How much to the pound does its maker say?"),
)
