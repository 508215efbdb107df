"""From the brine straight into the smoke."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed

_LEACHES = frozenset(["simmer", "boil", "braise", "poach"])


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or process.smoke is None or process.rinse is not None or process.soak_mention is not None or judging.is_fish(case):
        return
    if process.cure.method not in ("immersion", "pumped-immersion") or process.cure.balance == "equilibrium" or not recipe.of_role(*CURING_SALTS):
        return
    if any(step.does("cook") and _LEACHES & set(step.actions) for step in recipe.steps):
        return  # the pot takes the salt out as a soak would
    level = case.sums.get("salt_after_cure")
    salty = facts.fact("salt_band.salty")
    before = [step.end_line for step in recipe.steps if step.line < process.smoke.line]
    line = max(before) if before else process.smoke.line
    cite = Cite("fb-2265", "soaking")
    worked = f" The meat comes out at {words.figure(level.value, 'percent')} salt, more at the surface; {salty.value:g} % tastes salty ({judging.named(salty.cite)})." if level is not None else ""
    yield words.missing(
        recipe, RULE.name, line, f"From the brine into the smoke with no rinse and no soak ({judging.named(cite)} soaks it, the longer in cure the longer).{worked} Is one left out?",
        "Rinse, and soak in the cold; fry a slice and taste.", f"Rinse well, then soak {judging.figure('soak_after_brine_h').value:g} hours in cold water in the refrigerator.",
        sources=(cite, salty.cite), sum_=level.worked() if level is not None else None,
    )  # fmt: skip


RULE = Rule(
    name="no-rinse-or-soak",
    family="rinse_soak_dry",
    check=check,
    reports="Meat from a strong brine smoked with neither rinse nor soak.",
    why="The outside of meat from a strong brine is far saltier than the middle; smoke and bark make it worse.",
    silent="Any rinse or soak; weighed (equilibrium) and dry cures; meat that is simmered; fish.",
    sources=(Cite("fb-2265", "soaking"), Cite("ham-saltiness")),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("5. Rinse, then soak 4 hours in the refrigerator.\n", "")),
    expect=("14:60-60", "From the brine into the smoke with no rinse and no soak (Farmers' Bulletin 2265 soaks it, the longer in cure the longer). The meat comes out at 2.31 to 3.09 % (likely 2.77) salt, more at the surface; 2.6 % tastes salty (Saltiness of cooked ham). Is one left out?"),
)
