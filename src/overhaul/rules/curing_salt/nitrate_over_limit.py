"""More nitrate (saltpetre) goes in than the limit."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.curing_salt import dosing, judging
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
    message = f"{words.figure(decided.value, 'ppm')} nitrate ({source.name}), {words.round_(decided.value.likely / limit.ppm)} times the limit: {limit.told}."
    if guessed:
        message += " The page does not say how much water, so this takes it that all of it goes into the meat."
    yield Finding(RULE.name, grade, False, source.amount.place, message, sum=decided.worked(), remedy=_remedy(case, source), sources=(limit.fact.cite, *decided.sources))


def _remedy(case: Case, source: Ingredient) -> Remedy:
    """For saltpetre: what cure #1 to weigh instead. A #2 or a ready mix brings nitrite too, and its amount decides both."""
    limit = judging.limit_for(case, "nitrite")
    dose = dosing.dose(case, source, limit, as_cure1=True) if limit is not None else None
    weigh = f": {dose.told} gives {words.figure(dose.sum.value, 'ppm')} nitrite in this batch" if dose is not None else ", weighed for this batch"
    return Remedy(f"For anything that is cooked use cure #1 (6.25 % nitrite) instead{weigh}; never swap saltpetre for cure #1 weight for weight.", dosing.edits(case, source, dose, as_cure1=True))


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
    expect=("9:1-5", "26,667 ppm nitrate (saltpetre), 38.1 times the limit: 700 ppm for whole muscle in brine (9 CFR 424.21(c))."),
)
