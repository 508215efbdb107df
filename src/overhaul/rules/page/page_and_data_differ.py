"""A web page that shows a cook other amounts than it tells machines."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED
from overhaul.text import Place

# Written by the reader of web pages above the lines that are seen and not told.
HEADING = "the page itself says"


def check(case: Case) -> Iterator[Finding]:
    page = case.recipe.page
    heads = [line for line in case.recipe.lines if line.text.strip(": ").lower() == HEADING]
    for head in heads:
        shown = [note for note in case.recipe.notes if note.line > head.line]
        if not shown:
            continue
        said = "; ".join(f"“{note.text}”" for note in shown[:3])
        first = page.lines[shown[0].line - 1].place
        yield Finding(
            RULE.name, Grade.QUERY, False, Place(first.start, first.end),
            f"The page shows {said}{' and more' if len(shown) > 3 else ''}, and tells machines otherwise. The sums here are worked from what it tells machines. Which holds?",
            remedy=Remedy("Look at the page, keep the amounts that were meant, and save them as a page of your own."), sources=(Cite("common-practice"),),
        )  # fmt: skip


RULE = Rule(
    name="page-and-data-differ",
    family="page",
    check=check,
    reports="A saved web page whose visible list differs from the recipe it tells machines.",
    why="The two are kept by different hands. A cook corrects the one that is seen; the other goes on being copied.",
    silent="Pages that tell one thing, or tell it once; every other kind of document.",
    sources=(Cite("common-practice"),),
    sound=CORNED,
    faulty=f"{CORNED}\nThe page itself says:\n10 g cure #1\n",
    expect=("23:1-13", "The page shows “10 g cure #1”, and tells machines otherwise. The sums here are worked from what it tells machines. Which holds?"),
)
