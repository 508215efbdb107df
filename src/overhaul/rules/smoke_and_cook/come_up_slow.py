"""Hours in air that cannot bring the meat past the temperature where germs stop growing."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    final = case.process.final_temperature
    if final is None or judging.is_fish(case) or judging.dried_on_purpose(case) or judging.hung_in_smoke(case):
        return
    limit, end = judging.figure("come_up.hours"), judging.figure("come_up.end_f")
    air = case.process.smoke_temperature
    slow = case.sums.get("come_up") if air is not None and air.low <= end.value else None
    if slow is None or slow.value.high >= 1:
        return
    cured = bool(case.recipe.of_role(*CURING_SALTS))
    hours = sum(one.value.low for one in slow.inputs)
    stage = slow.inputs[0].line or 1
    place = next((one.amount.place for step in case.recipe.steps for one in step.times if step.does("smoke", "cook") and case.recipe.page.line_at(one.amount.place.start) >= stage), final.place)
    meat = "cured meat, for which the limit is left open" if cured else "meat with no cure"
    yield Finding(
        RULE.name, Grade.FAULT if cured else Grade.HAZARD, False, place,
        f"{hours:g} hours in air of {judging.degrees(case.recipe, end.value)} or less, so {meat}, is longer on its way than the limit of {limit.value:g} hours from {judging.figure('come_up.start_f').value:g} °F to there ({judging.named(limit.cite)}).",
        sum=slow.worked(), remedy=Remedy("Shorten the cool stages, and bring the air up sooner."), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="come-up-slow",
    family="smoke_and_cook",
    check=check,
    reports="More than six hours in a smoker too cool to bring the meat to 130 °F, in meat that is cooked afterwards.",
    why="Between 50 and 130 °F germs grow, and some leave a poison that the fire does not take back.",
    silent="Six hours and less in cool air; hotter air, which by itself tells nothing; cold-smoked meat that is not cooked; fish; dried products; hams hung for weeks.",
    sources=(judging.figure("come_up.hours").cite,),
    sum="allowed hours ÷ hours in air too cool to end them",
    sound=changed(PASTRAMI, ("Smoke at 250 F until 165 F inside.", "Smoke at 120 F for 4 hours, then at 250 F until 165 F inside.")),
    faulty=changed(PASTRAMI, ("Smoke at 250 F until 165 F inside.", "Smoke at 120 F for 10 hours, then at 250 F until 165 F inside.")),
    expect=("16:23-31", "10 hours in air of 130 °F (54 °C) or less, so cured meat, for which the limit is left open, is longer on its way than the limit of 6 hours from 50 °F to there (FSIS Appendix A of 2021, 50 to 130 °F)."),
)
