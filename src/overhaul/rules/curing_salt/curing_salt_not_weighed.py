"""Curing salt by the spoon where the spoon decides."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.curing_salt import curing_salt_kind_not_named, judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    limit = judging.limit_for(case, "nitrite")
    source = judging.main_source(case, "nitrite")
    if limit is None or source is None or source.amount is None or source.mass is None:
        return
    verdict = judging.judge(case, "nitrite", limit)
    if verdict is None or verdict.grade is not Grade.QUERY:
        return  # silent, or a harder finding speaks of the same amount
    nitrite = words.figure(verdict.decided.value, "ppm")
    if not source.weighed:
        message = f"{words.amount_words(case.recipe, source.amount)} may weigh {words.figure(source.mass, 'gram')}, so the nitrite is {nitrite}"
        grams = words.gram(source.mass.likely)
        remedy = Remedy(f"Weigh it: {grams} is what these spoons usually hold.", words.weighed_instead(source, grams))
    elif (widest := case.sums.widest(verdict.decided.name)) is None or any(found.place == source.name_place for found in case.found_by(curing_salt_kind_not_named.check)):
        return  # of unknown strength: that is asked already
    else:
        what = "the strength of the curing salt" if widest.unit == "percent" else widest.name
        message = f"The curing salt is weighed, but {what} may be {words.figure(widest.value, widest.unit)}, so the nitrite is {nitrite}"
        remedy = Remedy(f"Write {what} too: off the label, or weighed.")
    message += f". The limit is {verdict.limit.told}, and only the upper end is over it."
    yield Finding(RULE.name, Grade.QUERY, False, source.amount.place, message, sum=verdict.decided.worked(), remedy=remedy, sources=(verdict.limit.fact.cite, Cite("kitchen-weighings", "a teaspoon of cure")))


RULE = Rule(
    name="curing-salt-not-weighed",
    family="curing_salt",
    check=check,
    reports="Curing salt by the spoon, where what the spoon holds decides whether the limit is kept.",
    why="A teaspoon of curing salt weighs 4.2 to 7.5 g. Weighing to a tenth of a gram removes the whole doubt.",
    silent="Weighed, and nothing else on the page is open; a strength that curing-salt-kind-not-named asks for; or the whole span lies on one side of the limit.",
    sources=(Cite("kitchen-weighings", "a teaspoon of cure"),),
    sum="the ingoing sum, with the lightest and the heaviest spoon",
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure", "4 1/2 tsp cure")),
    expect=("9:1-10", "4 1/2 tsp may weigh 18.9 to 33.8 g (likely 25.5), so the nitrite is 142 to 254 ppm (likely 192). The limit is 200 ppm for whole muscle in brine (9 CFR 424.21(c)), and only the upper end is over it."),
)
