"""Nitrate in bacon from belly: not allowed at all."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import BACON, changed


def check(case: Case) -> Iterator[Finding]:
    found = judging.product_class(case)
    if found is None or not found.startswith("belly") or case.house.law != "us":
        return
    for item in case.recipe.of_role("nitrate", "cure2", "ready-mix"):
        held = item.strength.nitrate if item.strength is not None else None
        if item.role == "ready-mix" and (held is None or held.high <= 0):
            continue
        sure = item.role == "nitrate" or (held is not None and held.low > 0) or (item.role == "cure2" and facts.fact("cure_no2.nitrate").low > 0)
        yield Finding(
            RULE.name, Grade.HAZARD, sure, item.name_place, f"“{item.name}” brings nitrate, which is not allowed in bacon from pork belly by any method.",
            remedy=Remedy("Use cure #1 (6.25 % nitrite), weighed for the belly: at most 200 ppm dry-cured, 120 ppm in brine or pumped."), sources=(Cite("cfr-424-21", "(c), chart: cured products other than bacon"), Cite("cfr-424-22", "(b)")),
        )  # fmt: skip


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
    expect=("6:7-14", "“cure #2” brings nitrate, which is not allowed in bacon from pork belly by any method."),
)
