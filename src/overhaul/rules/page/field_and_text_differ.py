"""A field of a recipe file that somebody edited, while its text still says the old thing."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED


def check(case: Case) -> Iterator[Finding]:
    for one in case.recipe.edited:
        yield Finding(
            RULE.name, Grade.QUERY, False, one.place,
            f"The field says {one.field} for {one.what}, its text says {one.text}. The sums here are worked from the field. Which holds?",
            remedy=Remedy("If the field holds, write its words into the text too; if the text holds, put the field back."), sources=(Cite("common-practice"),),
        )  # fmt: skip


_FILE = """\
format: overhaul/1
title: Ham steak
sections:
- name:
  ingredients:
  - text: 1 lb ham steak
    name: ham steak
    amount: {low: 2, high: 2, unit: pound}
"""

RULE = Rule(
    name="field-and-text-differ",
    family="page",
    check=check,
    reports="A recipe file in which a field and the text it was read from say different things.",
    why="A cook who prints the text works by it, and the sums are worked by the field. One hand changed one of the two.",
    silent="Fields that say what their text says, fields without a text, and every other kind of document.",
    sources=(Cite("common-practice"),),
    sound=CORNED,
    faulty=_FILE,
    expect=("8:13-43", "The field says 2 pounds for the amount of the ham steak, its text says 1 pound. The sums here are worked from the field. Which holds?"),
)
