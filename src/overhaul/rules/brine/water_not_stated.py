"""A brine with no amount of water."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    recipe, process = case.recipe, case.process
    if process.cure is None or process.cure.method not in ("immersion", "pumped-immersion", "pumped"):
        return
    wet = recipe.of_role("water", "ice", "liquid")
    if any(item.mass is not None or item.amount is not None for item in wet):
        return
    least = facts.table("rules")["vinegar_bath_least"].value
    if any(item.mass is not None and item.mass.likely >= least for item in recipe.of_role("acid")):
        return  # a pickle of vinegar
    salts = [item for item in recipe.of_role("salt", *CURING_SALTS) if item.amount is not None]
    if not salts or all(item.per is not None for item in salts):
        return
    message = "The page does not say how much water, so neither the strength of the brine nor the curing salt in the meat can be worked."
    named = next(iter(wet), None)
    if named is not None and named.name:
        yield Finding(RULE.name, Grade.QUERY, False, named.name_place, message, remedy=Remedy("Measure the water that covers the meat in this tub, and write its weight."), sources=(Cite("inspectors-handbook", "page 21"),))
        return
    yield words.missing(recipe, RULE.name, words.first_line_of(recipe, "make-brine") or max(item.line for item in salts), message, "Measure the water that covers the meat in this tub, and write its weight.", sources=(Cite("inspectors-handbook", "page 21"),))


RULE = Rule(
    name="water-not-stated",
    family="brine",
    check=check,
    reports="A brine with no amount of water, or water “to cover”.",
    why="The tub decides the water, and the water decides everything: strength, ppm, days.",
    silent="Dry cures; any amount of water, ice, beer, cider or pickling vinegar; salts given by the gallon.",
    sources=(Cite("inspectors-handbook", "page 21"),),
    sound=CORNED,
    faulty=changed(CORNED, ("1 gallon cold water, weighed: 8 lb 5 oz", "water to cover")),
    expect=("6:1-6", "The page does not say how much water, so neither the strength of the brine nor the curing salt in the meat can be worked."),
)
