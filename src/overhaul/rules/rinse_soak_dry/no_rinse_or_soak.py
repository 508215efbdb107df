"""From the brine straight into the smoke."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or process.smoke is None or process.rinse is not None or process.soak_mention is not None:
        return
    if process.cure.method not in ("immersion", "pumped-immersion") or process.cure.balance == "equilibrium" or not recipe.of_role(*CURING_SALTS):
        return
    before = [step.end_line for step in recipe.steps if step.line < process.smoke.line]
    line = max(before) if before else process.smoke.line
    level = case.sums.get("salt_after_cure")
    worked = f" The meat comes out at {words.figure(level.value, 'percent')} salt, more at the surface." if level is not None else ""
    yield words.missing(
        recipe, RULE.name, line, f"From the brine into the smoke with no rinse and no soak: nothing takes the salt off the surface, as a simmer would.{worked}",
        "Rinse, and soak in the cold; fry a slice and taste.", "Rinse well, then soak 2 hours in cold water in the refrigerator.", sources=(Cite("fb-2265", "soaking"),), sum_=level.worked() if level is not None else None,
    )  # fmt: skip


RULE = Rule(
    name="no-rinse-or-soak",
    family="rinse_soak_dry",
    check=check,
    reports="Meat from a strong brine smoked with neither rinse nor soak.",
    why="The outside of meat from a strong brine is far saltier than the middle; smoke and bark make it worse.",
    silent="Any rinse or soak; weighed (equilibrium) and dry cures; meat that is simmered.",
    sources=(Cite("fb-2265", "soaking"),),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("5. Rinse, then soak 4 hours in the refrigerator.\n", "")),
    expect=("14:60-60", "From the brine into the smoke with no rinse and no soak: nothing takes the salt off the surface, as a simmer would. The meat comes out at 2.31 to 3.09 % (likely 2.77) salt, more at the surface."),
)
