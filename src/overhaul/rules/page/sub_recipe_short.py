"""A list that makes less than is taken from it."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.cold_and_time.judging import named
from overhaul.rules.rule import Case, Rule
from overhaul.span import Span
from overhaul.text import Place

_CITE = Cite("common-practice", "what a list makes")
_PAGE = """\
Corned beef with its own spice

Pickling spice:
20 g mustard seed
15 g coriander seed
10 g black peppercorns

Brine:
4 kg water
300 g salt
15 g cure #1 (6.25 % nitrite)
40 g pickling spice

2 kg brisket flat, 45 mm thick

1. Stir it all into the cold water, chill to 3 °C. Put the flat in under a plate. Refrigerate at 3 °C for 10 days, turning every other day.
2. Rinse. Soak 1 hour in the refrigerator.
3. Simmer 3 hours to 92 °C inside. Rest 20 minutes, then slice.
4. Cool from 57 to 21 °C in 2 hours and to 5 °C in 4 more. Keeps 4 days at 4 °C.
"""


def check(case: Case) -> Iterator[Finding]:
    if len(case.recipe.sections) < 2:
        return
    for one in case.sums.section_yields():
        if not one.takes or any("not counted" in note for note in one.makes.assumed):
            continue
        taken = Span(*(sum(getattr(take.value, end) for take in one.takes) for end in ("low", "likely", "high")))
        if taken.low <= one.makes.value.high:
            continue
        line = one.takes[0].line or 1
        item = next((item for item in case.recipe.ingredients if item.line == line and item.name.lower() == one.section), None)
        place = item.amount.place if item is not None and item.amount is not None else Place(case.recipe.title_place.start, case.recipe.title_place.end)
        yield Finding(
            RULE.name, Grade.FAULT, False, place,
            f"{words.figure(taken, 'gram')} of {one.section} is taken, and its list makes {words.figure(one.makes.value, 'gram')}: it runs short ({named(_CITE)}).",
            sum=one.makes.worked(), remedy=Remedy("Make more of it, or take less; write what the list makes under it."), sources=(_CITE,),
        )  # fmt: skip


RULE = Rule(
    name="sub-recipe-short",
    family="page",
    check=check,
    reports="A spice mix or other list of its own from which the page takes more than it makes.",
    why="Whoever gets to it second improvises.",
    silent="Lists with things whose grams nothing tells; enough of it, at any reading of the spoons.",
    sources=(_CITE,),
    sum="what the list makes, all of it together",
    sound=_PAGE,
    faulty=_PAGE.replace("40 g pickling spice", "90 g pickling spice"),
    expect=("12:1-5", "90 g of pickling spice is taken, and its list makes 45 g: it runs short (common practice, no source)."),
)
