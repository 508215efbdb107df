"""More nitrate (saltpetre) goes in than the limit."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import judging, words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

# One grade lower than nitrite: nitrate has to be turned into nitrite before it does anything.
_LOWER = {(Grade.HAZARD, True): Grade.HAZARD, (Grade.HAZARD, False): Grade.FAULT, (Grade.FAULT, False): Grade.QUERY}


def check(case: Case) -> Iterator[Finding]:
    limit = judging.limit_for(case, "nitrate")
    source = judging.main_source(case, "nitrate")
    if limit is None or source is None or source.amount is None:
        return
    verdict = judging.judge(case, "nitrate", limit)
    if verdict is None or (verdict.grade, verdict.certain) not in _LOWER:
        return
    decided = verdict.decided
    guessed = "all of it taken up; how much water is not stated" in decided.assumed
    grade = Grade.FAULT if guessed else _LOWER[verdict.grade, verdict.certain]
    message = f"{words.figure(decided.value, 'ppm')} nitrate ({source.name}); the limit for {limit.words} is {words.ppm(limit.ppm)}, so {words.round_(decided.value.likely / limit.ppm)} times over it."
    if guessed:
        message += " The page does not say how much water, so this takes it that all of it goes into the meat."
    yield Finding(
        RULE.name, grade, False, source.amount.place, message, sum=decided.worked(),
        remedy=Remedy("Rewrite it with weighed cure #1 for anything that is cooked; never swap saltpetre for cure #1 weight for weight."), sources=(limit.fact.cite, *decided.sources),
    )  # fmt: skip


RULE = Rule(
    name="nitrate-over-limit",
    family="curing_salt",
    check=check,
    reports="More nitrate (saltpetre) goes in than the limit.",
    why="Old cards give saltpetre by the handful. Nitrate turns to nitrite slowly and unevenly, and too much of it ends as too much nitrite.",
    silent="No nitrate on the page; meat not stated; the sum is within the limit.",
    sources=(Cite("cfr-424-21", "(c)"), Cite("inspectors-handbook", "page 31")),
    sum="the same sums as for nitrite, with nitrate",
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure #1 (6.25 % nitrite)", "8 oz saltpetre"), ("cure #1", "saltpetre")),
    expect=("9:1-5", "26,667 ppm nitrate (saltpetre); the limit for whole muscle in brine is 700 ppm, so 38.1 times over it."),
)
