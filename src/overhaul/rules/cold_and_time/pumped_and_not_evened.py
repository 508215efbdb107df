"""Pumped meat that is smoked before the brine has spread."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule

_PUMPED = """\
Pumped ham

1 boneless ham, 10 lb, 4 1/2 inches through
2 lb 1 1/2 oz water
5 oz pickling salt
26 g cure #1 (6.25 % nitrite)

1. Stir all of it into the cold water and chill to 38 F.
2. Pump 10 % of green weight, evenly all over.
3. Bag it, the air pressed out. Refrigerate at 38 F for 2 days, turning daily.
4. Rinse. Soak 1 hour in the refrigerator. Pat dry.
5. Smoke at 225 F until 155 F inside, and hold it there 1 minute. Rest 20 minutes.
"""


def check(case: Case) -> Iterator[Finding]:
    process, limit = case.process, judging.figure("equalise_pumped_d")
    stay = process.cure_time
    if process.cure is None or not process.cure.method.startswith("pumped") or stay is None or (process.smoke is None and process.cook is None):
        return
    if max(judging.days(stay)[1], _longest(case)) >= limit.value:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, stay.place,
        f"Pumped, and {words.told(stay)} until the fire; a day or more is wanted for the brine to spread from needle hole to needle hole ({judging.named(limit.cite)}).",
        remedy=Remedy("Leave it a day in the cold before it is smoked or cooked."), sources=(limit.cite,),
    )  # fmt: skip


def _longest(case: Case) -> float:
    """Days of the longest time in the cure's own steps: ``tumble 2 h, rest 36 h`` stands for 36."""
    times = [one.amount for step in case.recipe.steps if not step.does("smoke", "cook", "store", "soak") for one in step.times]
    return max((units.hours(time.high, time.unit) / 24 for time in times), default=0.0)


RULE = Rule(
    name="pumped-and-not-evened",
    family="cold_and_time",
    check=check,
    reports="Pumped meat that stands for less than a day before the smoker.",
    why="It comes out striped: salty pink along the needle, grey between.",
    silent="A day and more; meat that is not pumped; no time stated.",
    sources=(judging.figure("equalise_pumped_d").cite,),
    sound=_PUMPED,
    faulty=_PUMPED.replace("for 2 days, turning daily", "for 6 hours"),
    expect=("10:57-64", "Pumped, and 6 hours until the fire; a day or more is wanted for the brine to spread from needle hole to needle hole (Farmers' Bulletin 2265)."),
)
