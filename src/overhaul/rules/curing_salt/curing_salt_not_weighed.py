"""Curing salt by the spoon where the spoon decides."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.rules import judging, words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    limit = judging.limit_for(case, "nitrite")
    source = judging.main_source(case, "nitrite")
    if limit is None or source is None or source.amount is None or source.mass is None:
        return
    verdict = judging.judge(case, "nitrite", limit)
    if verdict is None or verdict.grade is not Grade.QUERY:
        return
    value = verdict.decided.value
    said = words.amount_words(case.recipe, source.amount)
    why = f"{said} may weigh {words.figure(source.mass, 'gram')}" if not source.weighed else "the weights on the page leave it open"
    message = f"{why}, so the nitrite is {words.figure(value, 'ppm')}: the limit for {limit.words} is {words.ppm(limit.ppm)}, and only the upper end is over it."
    grams = f"{source.mass.likely:.1f} g"
    edit = (Edit(source.amount.place, grams),) if not source.weighed and not source.also else ()
    yield Finding(RULE.name, Grade.QUERY, False, source.amount.place, message, sum=verdict.decided.worked(), remedy=Remedy(f"Weigh it: {grams} is what these spoons usually hold.", edit), sources=(limit.fact.cite,))


RULE = Rule(
    name="curing-salt-not-weighed",
    family="curing_salt",
    check=check,
    reports="Curing salt by the spoon, where what the spoon holds decides whether the limit is kept.",
    why="A teaspoon of curing salt weighs 4.2 to 7.5 g. Weighing to a tenth of a gram removes the whole doubt.",
    silent="Weighed; or the whole span lies on one side of the limit.",
    sources=(Cite("kitchen-weighings", "a teaspoon of cure"),),
    sum="the ingoing sum, with the lightest and the heaviest spoon",
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure", "4 1/2 tsp cure")),
    expect=("9:1-10", "4 1/2 tsp may weigh 18.9 to 33.8 g (likely 25.5), so the nitrite is 142 to 254 ppm (likely 192): the limit for whole muscle in brine is 200 ppm, and only the upper end is over it."),
)
