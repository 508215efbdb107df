"""Pure nitrite weighed in a kitchen."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.curing_salt import dosing, judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    limit = judging.limit_for(case, "nitrite")
    for item in case.recipe.of_role("nitrite"):
        dose = dosing.dose(case, item, limit, as_cure1=True) if limit is not None else None
        weigh = f": here {dose.told}, for {words.figure(dose.sum.value, 'ppm')}" if dose is not None else ", weighed for this batch"
        yield Finding(
            RULE.name, Grade.FAULT, False, item.name_place,
            f"“{item.name}” is the pure salt, sixteen times as strong as cure #1; a kitchen scale cannot weigh it closely enough for one batch, and a bag of it passes for table salt. Use a diluted premix ({words.short(_CITE)}).",
            remedy=Remedy(f"Use a curing salt that is diluted and dyed (cure #1, 6.25 % nitrite){weigh}. Keep no pure nitrite in the kitchen.", dosing.edits(case, item, dose, as_cure1=True)), sources=(_CITE,),
        )  # fmt: skip


_CITE = Cite("nchfp", "use a diluted premix")

RULE = Rule(
    name="pure-nitrite",
    family="curing_salt",
    check=check,
    reports="Sodium or potassium nitrite itself in the list, not a diluted curing salt.",
    why="The deaths on record come from pure nitrite taken for something else or weighed wrongly.",
    silent="Premixed curing salts.",
    sources=(Cite("nchfp", "6.1"),),
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure #1 (6.25 % nitrite)", "1.2 g sodium nitrite"), ("cure #1", "sodium nitrite")),
    expect=("9:7-21", "“sodium nitrite” is the pure salt, sixteen times as strong as cure #1; a kitchen scale cannot weigh it closely enough for one batch, and a bag of it passes for table salt. Use a diluted premix (Curing and Smoking Meats for Home Food Preservation)."),
)
