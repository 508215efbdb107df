"""Two amounts for one thing on one line that cannot both be right."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe import masses
from overhaul.recipe.model import Amount, Ingredient
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.span import Span


def check(case: Case) -> Iterator[Finding]:
    for item in case.recipe.ingredients:
        if item.amount is None or (item.per is not None and item.amount.unit == "percent" and not _percent_known(case, item)):
            continue
        first = _grams(case, item, item.amount)
        for other in item.also:
            second = _grams(case, item, other)
            if first is None or second is None or units.dimension(other.unit) == "thing" or _meet(first, second):
                continue
            yield Finding(
                RULE.name, Grade.QUERY, False, other.place,
                f"{words.amount_words(case.recipe, item.amount)} of {item.name} is {words.figure(first, 'gram')}, and {words.amount_words(case.recipe, other)} is {words.figure(second, 'gram')}: the two amounts differ. Which one holds?",
                remedy=Remedy("Keep the one that was tested, by weight, and strike the other."), sources=(Cite("kitchen-weighings"),),
            )  # fmt: skip


def _percent_known(case: Case, item: Ingredient) -> bool:
    return item.per is not None and (item.per.of or "meat") == "meat" and case.process.meat is not None and case.process.meat.mass_stated


def _grams(case: Case, item: Ingredient, amount: Amount) -> Span | None:
    meat = case.process.meat
    if amount.unit == "percent" and meat is not None and meat.mass is not None:
        return Span(*(float(amount.low) / 100 * value for value in (meat.mass.low, meat.mass.likely, meat.mass.high)))
    return masses.in_grams(amount, item.role, item.kind, case.house)[0]


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
