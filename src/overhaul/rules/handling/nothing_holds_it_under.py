"""Nothing holds the meat under the brine."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or process.cure.method not in ("immersion", "pumped-immersion") or process.weighed_down is not None:
        return
    if recipe.product == "jerky" or not recipe.of_role(*CURING_SALTS) or not any(step.does("cure", "overhaul") for step in recipe.steps):
        return
    line = words.first_line_of(recipe, "cure") or process.cure.line
    floats, cite = judging.figure("float_percent"), Cite("fb-2263", "corned beef")
    strength = case.sums.get("brine_strength")
    if strength is not None and strength.value.high < floats.value:
        why = f"In this one, of {words.figure(strength.value, 'percent')}, lean meat sinks, but skin, fat and air lift it"
    else:
        why = f"Lean meat floats in a brine above about {floats.value:g} %, belly and duck in any"
    yield words.missing(
        recipe, RULE.name, line,
        f"Nothing on the page holds the meat under the brine. {why}; {judging.named(cite)} has it weighted down. What keeps it under?",
        "Weigh it down with a plate.", "Weigh the meat down with a plate so that it stays under.", sources=(cite, floats.cite),
    )  # fmt: skip


RULE = Rule(
    name="nothing-holds-it-under",
    family="handling",
    check=check,
    reports="Meat in a curing brine with no plate, weight or closed bag to keep it under.",
    why="What stands out of the brine is not cured, and spoils first.",
    silent="Dry cures; plain brines; any word of a plate, a weight, a bag with the air out.",
    sources=(Cite("fb-2263", "corned beef"),),
    sound=CORNED,
    faulty=changed(CORNED, (", and weigh them down with a plate", "")),
    expect=("14:70-70", "Nothing on the page holds the meat under the brine. Lean meat floats in a brine above about 7 %, belly and duck in any; Farmers' Bulletin 2263 has it weighted down. What keeps it under?"),
)
