"""A rule of one kitchen: every page with curing salt names who mixed it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul import Case, Cite, Finding, Grade, Remedy, Rule

_MIXED_BY = re.compile(r"\bmixed by\b", re.I)
_BINDER = (Cite("house-rule", "cellar binder, page 3"),)


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    cures = recipe.of_role("cure1", "cure2", "nitrite", "nitrate", "ready-mix")
    if cures and not _MIXED_BY.search(recipe.page.text):
        yield Finding(
            RULE.name, Grade.QUERY, False, recipe.page.end_of(cures[0].line), "Who mixed the curing salt? The page does not say.",
            absent=True, remedy=Remedy("Write “mixed by” and the initials."), sources=_BINDER,
        )  # fmt: skip


RULE = Rule(
    name="cure-mixed-by-nobody",
    family="cellar",
    check=check,
    reports="A page with curing salt that does not say who mixed it.",
    why="When two people have weighed the curing salt, each thought the other had not.",
    silent="No curing salt on the page, or “mixed by” anywhere on it.",
    sources=_BINDER,
    sound="Rub\n\n5 lb pork belly\n5.5 g cure #1, mixed by K.M.\n",
    faulty="Rub\n\n5 lb pork belly\n5.5 g cure #1\n",
    expect=("4:14-14", "Who mixed the curing salt? The page does not say."),
)
