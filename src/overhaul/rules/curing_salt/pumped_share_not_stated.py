"""Pumped, and nobody knows how much."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules.cold_and_time.judging import figure
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_CITE = Cite("inspectors-handbook", "page 19")


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or not process.cure.method.startswith("pumped") or process.pump is not None or not recipe.of_role(*CURING_SALTS):
        return
    step = next((step for step in recipe.steps if step.does("pump")), None)
    if step is None or phrases.WEIGHED.search(step.text):
        return
    yield Finding(
        RULE.name, Grade.QUERY, False, step.place,
        "Pumped, and the page does not say how much goes in, so what the needle carries of the curing salt cannot be worked. How much of its weight is pumped in?",
        remedy=Remedy(f"Weigh the piece before and after, and write the gain: {figure('pump_usual_percent').value:g} % of green weight is usual."), sources=(_CITE,),
    )  # fmt: skip


RULE = Rule(
    name="pumped-share-not-stated",
    family="curing_salt",
    check=check,
    reports="A brine with curing salt that is pumped in, with neither a percentage nor a weighing.",
    why="The needle's share is the whole sum: twice as much in is twice the nitrite.",
    silent="A percentage, a weight or a measure in the step; no curing salt.",
    sources=(_CITE,),
    sound=changed(CORNED, ("3. Put the flats", "3. Pump the flats to 10 % of their weight. Put the flats")),
    faulty=changed(CORNED, ("3. Put the flats", "3. Pump the flats all over. Put the flats")),
    expect=("14:4-28", "Pumped, and the page does not say how much goes in, so what the needle carries of the curing salt cannot be worked. How much of its weight is pumped in?"),
)
