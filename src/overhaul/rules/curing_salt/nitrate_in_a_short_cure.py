"""Curing salt no. 2 in a piece that is cooked within weeks."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding, Grade, Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.cold_and_time.judging import days, dried_on_purpose, figure, named
from overhaul.rules.curing_salt import dosing, judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    kept = next((item for item in recipe.of_role("cure2")), None)
    if kept is None or process.cook is None and process.final_temperature is None or dried_on_purpose(case):
        return
    if (judging.product_class(case) or "belly").startswith("belly"):
        return  # nitrate-in-bacon says it with the law beside it
    limit, stay = figure("short_cure_d"), process.cure_time
    if stay is None or days(stay)[1] > limit.value:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, kept.name_place,
        f"“{recipe.page.words(kept.name_place)}” brings nitrate, which works over months in what is dried and does nothing in a cure of days that ends in the pot or the smoker; no. 1 is the one for it ({named(limit.cite)}).",
        remedy=_remedy(case, kept), sources=(limit.cite,),
    )  # fmt: skip


def _remedy(case: Case, item: Ingredient) -> Remedy:
    limit = judging.limit_for(case, "nitrite")
    dose = dosing.dose(case, item, limit, as_cure1=True) if limit is not None else None
    if dose is None:
        return Remedy(f"Use {dosing.CURE_1} instead, weighed for this batch.")
    return Remedy(f"Use {dosing.CURE_1} instead: {dose.told} gives {words.figure(dose.sum.value, 'ppm')} nitrite in this batch.", dosing.edits(case, item, dose, as_cure1=True))


RULE = Rule(
    name="nitrate-in-a-short-cure",
    family="curing_salt",
    check=check,
    reports="Cure no. 2 in meat that is cured for days and then cooked.",
    why="The nitrate is still there on the plate, and was of no use.",
    silent="Long cures and dried products; belly bacon, of which nitrate-in-bacon speaks; old pages with saltpetre, which are held to their limit.",
    sources=(figure("short_cure_d").cite,),
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure #1 (6.25 % nitrite)", "20 g cure #2"), ("Stir in the cure #1", "Stir in the cure #2")),
    expect=("9:6-13", "“cure #2” brings nitrate, which works over months in what is dried and does nothing in a cure of days that ends in the pot or the smoker; no. 1 is the one for it (common practice, no source)."),
)
