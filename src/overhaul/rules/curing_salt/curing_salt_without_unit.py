"""A curing salt line with a number and no unit."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    for item in case.recipe.of_role(*CURING_SALTS, use=None):
        if item.amount is None or item.amount.unit != "each" or item.doubt:
            continue
        said = case.recipe.page.words(item.amount.place)
        yield Finding(
            RULE.name, Grade.QUERY, False, item.amount.place, f"{said} of what? The one line that matters most has no unit: grams, ounces and teaspoons of curing salt differ up to twenty-eight times.",
            remedy=Remedy("Ask whoever wrote it; until then do not use it. Then write grams."), sources=(Cite("common-practice"),),
        )  # fmt: skip


RULE = Rule(
    name="curing-salt-without-unit",
    family="curing_salt",
    check=check,
    reports="A curing salt line with a number and no unit.",
    why="Nobody can weigh a number. A guess here is the commonest way to a tenfold dose.",
    silent="Any unit, a percentage, or no number at all.",
    sources=(Cite("common-practice"),),
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure", "20 cure")),
    expect=("9:1-3", "20 of what? The one line that matters most has no unit: grams, ounces and teaspoons of curing salt differ up to twenty-eight times."),
)
