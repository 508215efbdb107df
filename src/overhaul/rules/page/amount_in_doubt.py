"""A figure that may be a misprint."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    for item in case.recipe.ingredients:
        if item.amount is None or (item.amount.doubt is None and item.doubt is None):
            continue
        what = "the line that matters most" if item.role in CURING_SALTS or item.role == "salt" else f"the {item.name or 'ingredient'}"
        yield Finding(
            RULE.name, Grade.QUERY, False, item.amount.place, f"This may be a slip of the pen or of the scan, on {what}: {item.amount.doubt or item.doubt}",
            remedy=Remedy("Look at the original, and write the number plainly."), sources=(Cite("common-practice"),),
        )  # fmt: skip


RULE = Rule(
    name="amount-in-doubt",
    family="page",
    check=check,
    reports="A number that no cook would write so, and its likelier reading.",
    why="Copies lose strokes and points. A plausible misprint is worse than an obvious one.",
    silent="Numbers in any usual form.",
    sources=(Cite("common-practice"),),
    sound=CORNED,
    faulty=changed(CORNED, ("2 tbsp pickling", "11/2 tbsp pickling")),
    expect=("10:1-10", "This may be a slip of the pen or of the scan, on the pickling spice: “11/2”: 1 1/2, or 11 over 2?"),
)
