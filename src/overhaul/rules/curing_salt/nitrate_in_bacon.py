"""Nitrate in bacon from belly: not allowed at all."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.curing_salt import dosing, judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import BACON, changed


def check(case: Case) -> Iterator[Finding]:
    found = judging.product_class(case)
    belly = found is not None and found.startswith("belly")
    if case.house.law != "us" or found is None or not (belly or judging.perhaps_belly(case)):
        return
    for item in case.recipe.of_role("nitrate", "cure2", "ready-mix"):
        held = judging.share(case, item, "nitrate")
        if held is None or held.low <= 0:
            continue  # none, or a mix of unknown strength: curing-salt-kind-not-named asks
        chart, rule = Cite("cfr-424-21", "(c), chart: cured products other than bacon"), Cite("cfr-424-22", "(b)")
        where = "is" if belly else "would be, if this is belly,"
        yield Finding(
            RULE.name, Grade.HAZARD, belly, item.name_place, f"“{item.name}” brings nitrate. In bacon from pork belly the limit for nitrate {where} none at all, by any method ({words.short(rule)}).",
            remedy=_remedy(case, item, found), sources=(chart, rule),
        )  # fmt: skip


def _remedy(case: Case, item: Ingredient, found: str) -> Remedy:
    limit = judging.limit_for(case, "nitrite") if found.startswith("belly") else None
    dose = dosing.dose(case, item, limit, as_cure1=True) if limit is not None else None
    if dose is None or limit is None:
        return Remedy("Use cure #1 (6.25 % nitrite), weighed for the belly.")
    return Remedy(f"Use cure #1 (6.25 % nitrite) instead: {dose.told} gives {words.figure(dose.sum.value, 'ppm')} nitrite in this batch; the limit is {limit.told}.", dosing.edits(case, item, dose, as_cure1=True))


RULE = Rule(
    name="nitrate-in-bacon",
    family="curing_salt",
    check=check,
    reports="Cure #2, saltpetre or a mix with nitrate in bacon made of pork belly.",
    why="Bacon is fried hot and fast; nitrate left in it feeds nitrosamines. The rule has no tolerance.",
    silent="Loin, ham, turkey and every product that is not pork belly; law other than that of the United States.",
    sources=(Cite("cfr-424-22", "(b)"),),
    sound=BACON,
    faulty=changed(BACON, ("5.5 g cure #1 (6.25 % nitrite)", "5.5 g cure #2")),
    expect=("6:7-14", "“cure #2” brings nitrate. In bacon from pork belly the limit for nitrate is none at all, by any method (9 CFR 424.22(b))."),
)
