"""Smoke of a wood that is full of resin."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed

_CITE = Cite("fb-2265", "smoking")


def check(case: Case) -> Iterator[Finding]:
    wood = case.process.wood
    if wood is None or case.process.smoke is None:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, wood.place,
        f"Smoked over “{wood.words}”: wood of needle trees is full of resin, which lies on the meat as soot and bitterness; hardwood only ({judging.named(_CITE)}).",
        remedy=Remedy("Use a hardwood: oak, beech, hickory, maple, apple."), sources=(_CITE,),
    )  # fmt: skip


RULE = Rule(
    name="resinous-wood",
    family="smoke_and_cook",
    check=check,
    reports="Pine, spruce, fir, cedar and their kind as smoking wood.",
    why="Resin does not burn clean.",
    silent="Hardwoods; pine nuts; a plank of cedar that fish lies on; a page that says to leave them out.",
    sources=(_CITE,),
    sound=changed(PASTRAMI, ("Smoke at 250 F until", "Smoke over oak, no pine, at 250 F until")),
    faulty=changed(PASTRAMI, ("Smoke at 250 F until", "Smoke over pine at 250 F until")),
    expect=("16:15-19", "Smoked over “pine”: wood of needle trees is full of resin, which lies on the meat as soot and bitterness; hardwood only (Farmers' Bulletin 2265)."),
)
