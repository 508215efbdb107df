"""Too salty on the plate."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import BACON, changed


def check(case: Case) -> Iterator[Finding]:
    found = case.sums.get("salt_as_eaten")
    salt = next((item for item in case.recipe.of_role("salt") if item.amount is not None), None)
    if found is None or salt is None or salt.amount is None:
        return
    cure = case.process.cure
    if cure is not None and cure.method == "dry" and cure.balance != "equilibrium":
        return  # a loose rub falls off: how much goes in is not known
    dried = case.recipe.product in ("dried", "jerky", "gravlax") or (case.recipe.product == "ham" and case.process.cure is not None and case.process.cure.method == "dry")
    limit = facts.fact("salt_band.too_salty_dried" if dried else "salt_band.too_salty")
    if found.value.likely > limit.value:
        yield Finding(
            RULE.name, Grade.FAULT, found.value.low > limit.value, salt.amount.place,
            f"It comes out at {words.figure(found.value, 'percent')} salt as eaten; above {limit.value:g} % is too salty for most.",
            sum=found.worked(), remedy=Remedy("Less salt, or a soak in the cold before it is cooked; fry a slice and taste first."), sources=(limit.cite,),
        )  # fmt: skip


RULE = Rule(
    name="too-salty-as-eaten",
    family="brine",
    check=check,
    reports="Meat that is likely saltier on the plate than most people will eat.",
    why="A strong brine with no soak, or a rub weighed for a bigger piece, is the commonest way to spoil good meat.",
    silent="Anything the sum needs is missing; a loose dry rub, of which nobody knows how much goes in; dried products are held to 6 %.",
    sources=(Cite("ham-saltiness"),),
    sum="salt after the cure × what soak and simmer leave",
    sound=BACON,
    faulty=changed(BACON, ("55 g kosher", "110 g kosher")),
    expect=("4:1-6", "It comes out at 6.09 % salt as eaten; above 3.2 % is too salty for most."),
)
