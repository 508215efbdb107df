"""A line whose columns do not go up with the rest."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS, Ingredient
from overhaul.rules import words
from overhaul.rules.cold_and_time.judging import figure, named
from overhaul.rules.rule import Case, Rule

_DECIDING = (*sorted(CURING_SALTS), "salt", "water", "ice", "meat", "sugar")
_CITE = Cite("common-practice", "concentrations stay when the batch grows")
_FEWEST = 3  # of two lines nobody knows which is the odd one
_CARD = """\
Corned flats

                       1x        2x        4x
Brisket flat, lean     6 lb      12 lb     24 lb
Cold water             6 lb      12 lb     24 lb
Kosher salt            8 oz      16 oz     32 oz
Cure #1 (6.25 %)       16 g      32 g      64 g

Stir salt and cure into the cold water, chill to 37 F. Flats in, 1 1/2 in thick, a lid and a weight on them. Walk-in at 37 F, 9 days, turning every other day.
Rinse. Soak 1 hour in the walk-in. Simmer 3 hours to 195 F inside. Rest 20 minutes.
"""


def check(case: Case) -> Iterator[Finding]:
    rows = [item for item in case.recipe.ingredients if len(item.columns) > 1 and item.amount is not None and item.role in _DECIDING]
    if len(rows) < _FEWEST:
        return
    for number in range(1, max(len(item.columns) for item in rows)):
        factors = {id(item): _factor(item, number) for item in rows}
        known = [factor for factor in factors.values() if factor is not None]
        if len(known) < _FEWEST:
            continue
        usual = median(known)
        for item in rows:
            factor = factors[id(item)]
            if factor is None or usual <= 0 or abs(factor / usual - 1) <= figure("column_slack").value:
                continue
            amount = item.columns[number].amount
            curing = item.role in CURING_SALTS
            yield Finding(
                RULE.name, Grade.HAZARD if curing and factor > usual else Grade.FAULT, False, amount.place,
                f"{item.name[:1].upper()}{item.name[1:]} is {words.round_(factor)} times its first column here, and the other lines are {words.round_(usual)} times: the batch does not scale ({named(_CITE)}).",
                remedy=Remedy(f"Write {words.round_(float(item.columns[0].amount.low) * usual)} {item.columns[0].amount.unit.replace('_', ' ')} in this column, or say why it is not."), sources=(_CITE,),
            )  # fmt: skip


def _factor(item: Ingredient, number: int) -> float | None:
    """How many times its first column the amount in this one is; None where the units do not compare."""
    if number >= len(item.columns):
        return None
    factor = item.columns[number].factor
    return float(factor) if factor is not None else None


RULE = Rule(
    name="columns-do-not-scale",
    family="page",
    check=check,
    reports="In a page of several batch sizes, an amount of meat, water, salt, sugar or curing salt that does not go up with the rest.",
    why="Everything was halved but the cure: the commonest way to twice the nitrite.",
    silent="Spices and aromatics, which are scaled by taste; rounding; pages of one column.",
    sources=(_CITE,),
    sound=_CARD,
    faulty=_CARD.replace("32 g      64 g", "32 g      96 g"),
    expect=("7:44-48", "Cure #1 is 6 times its first column here, and the other lines are 4 times: the batch does not scale (common practice, no source)."),
)
