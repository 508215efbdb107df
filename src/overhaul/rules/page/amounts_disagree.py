"""Two amounts for one thing on one line that cannot both be right."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe import masses
from overhaul.recipe.model import Amount, Ingredient
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.span import Span, added


def check(case: Case) -> Iterator[Finding]:
    for item in case.recipe.ingredients:
        if item.amount is None or (item.per is not None and item.amount.unit == "percent" and not _percent_known(case, item)):
            continue
        firsts = _grams(case, item, item.amount)
        for other in item.also:
            seconds = _grams(case, item, other)
            if not firsts or not seconds or units.dimension(other.unit) == "thing" or any(_meet(one, two) for one in firsts for two in seconds):
                continue
            yield Finding(
                RULE.name, Grade.QUERY, False, other.place,
                f"{_told(case, item.amount)} of {item.name} is {words.figure(firsts[0], 'gram')}, and {_told(case, other)} is {words.figure(seconds[0], 'gram')}: the two amounts differ. Which one holds?",
                remedy=Remedy("Keep the one that was tested, by weight, and strike the other."), sources=(Cite("kitchen-weighings"),),
            )  # fmt: skip


def _percent_known(case: Case, item: Ingredient) -> bool:
    return item.per is not None and (item.per.of or "meat") == "meat" and case.process.meat is not None and case.process.meat.mass_stated


def _told(case: Case, amount: Amount) -> str:
    """As the page has it; a bare figure of a table under its heading's unit."""
    told = words.amount_words(case.recipe, amount)
    return told if not told.replace(".", "").isdigit() else f"{told} {units.in_words(amount.unit, several=amount.high > 1)}".rstrip()


def _grams(case: Case, item: Ingredient, amount: Amount) -> list[Span]:
    """What the amount weighs; of a percentage, by each base it could be of: the meat, meat and water, the water."""
    meat = case.process.meat
    if amount.unit != "percent" or meat is None or meat.mass is None:
        found = masses.in_grams(amount, item.role, item.kind, case.house)[0]
        return [found] if found is not None else []
    wet = [one.mass for one in case.recipe.of_role("water", "ice", "liquid") if one.mass is not None]
    water = added(wet)
    bases = [meat.mass, added([meat.mass, water]), water] if wet else [meat.mass]
    share, half = float(amount.low) / 100, _half_a_digit(words.amount_words(case.recipe, amount))
    return [Span(max(0.0, share - half) * base.low, share * base.likely, (share + half) * base.high) for base in bases]


def _half_a_digit(told: str) -> float:
    """What a percentage is rounded by, as a share: 0.4 % may be 0.35 or 0.45; a whole number is meant."""
    decimals = re.search(r"\d*[.,](\d+)", told)
    return 0.5 * 10.0 ** -len(decimals[1]) / 100 if decimals else 0.0


def _meet(one: Span, other: Span) -> bool:
    """Whether the spans overlap, with a twentieth to spare for rounding."""
    return one.low <= other.high * 1.05 and other.low <= one.high * 1.05


RULE = Rule(
    name="amounts-disagree",
    family="page",
    check=check,
    reports="A line that gives an amount twice, and the two are not the same.",
    why="One of the two is a slip. On a salt or curing salt line it decides the batch.",
    silent="Two amounts whose spans meet (3 quarts and 6 lb of water); counts of cans and bottles.",
    sources=(Cite("kitchen-weighings"),),
    sound=CORNED,
    faulty=changed(CORNED, ("10 oz kosher salt", "10 oz kosher salt (4 cups)")),
    expect=("7:20-26", "10 oz of kosher salt is 283 g, and 4 cups is 500 to 1,020 g (likely 740): the two amounts differ. Which one holds?"),
)
