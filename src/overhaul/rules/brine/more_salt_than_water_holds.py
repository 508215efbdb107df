"""More salt than the water can dissolve."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    strength, full = case.sums.get("brine_strength"), case.sums.get("brine_fullness")
    salt = next((item for item in case.recipe.of_role("salt") if item.amount is not None), None)
    if strength is None or full is None or salt is None or salt.amount is None:
        return
    most = facts.fact("brine_saturation_percent")
    if full.value.likely > 1:
        yield Finding(
            RULE.name, Grade.FAULT, full.value.low > 1, salt.amount.place,
            f"This works out at {words.figure(strength.value, 'percent')} salt, {words.round_(full.value.likely)} times what the water takes; cold water holds {most.value:g} % and no more ({facts.source(most.source).body}, {words.short(most.cite)}). The rest lies on the bottom.",
            sum=full.worked(), remedy=Remedy("More water or less salt; look for a slip of the pen in either."), sources=(most.cite,),
        )  # fmt: skip


RULE = Rule(
    name="more-salt-than-water-holds",
    family="brine",
    check=check,
    reports="A brine stronger than saturated.",
    why="It cannot be made; one of the two amounts is wrong, and nobody knows how strong the brine really is.",
    silent="Strength cannot be worked; a strength that may lie under saturation.",
    sources=(Cite("kaufmann", "solubility"),),
    sum="all salt ÷ all the salt that the water holds; above 1 some stays undissolved",
    sound=CORNED,
    faulty=changed(CORNED, ("10 oz kosher", "10 lb kosher")),
    expect=("7:1-6", "This works out at 53.8 % salt, 3.37 times what the water takes; cold water holds 26.4 % and no more (D. W. Kaufmann, Sodium Chloride). The rest lies on the bottom."),
)
