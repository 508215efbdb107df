"""Cooked in two goes, the first of them long and not hot enough to kill."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from overhaul.findings import Finding, Grade, Remedy
from overhaul.reading import phrases, units
from overhaul.recipe.method import COLD_PLACE
from overhaul.recipe.model import Measured, Step
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    if recipe.raw_on_purpose or recipe.bought_done or recipe.product in ("bacon", "gravlax") or judging.dried_on_purpose(case) or judging.is_fish(case) or judging.hung_in_smoke(case):
        return
    limit = judging.figure("first_heat_min")
    first = _first(recipe.steps)
    if first is None:
        return
    step, stay = first
    minutes = round(units.hours(stay.amount.low, stay.amount.unit) * 60)
    if minutes <= limit.value:
        return
    ends = _inside(step)
    low = judging.degrees(recipe, judging.figure("come_up.end_f").value)
    reached = f"ends at {judging.degrees(recipe, ends)} inside" if ends is not None else "leaves it half done"
    yield Finding(
        RULE.name, Grade.FAULT, False, stay.amount.place,
        f"A first heat of {words.amount_words(recipe, stay.amount)} {reached}, then the cold, then the fire again. Meat that is cooked in two goes is heated for {limit.value:g} minutes at first and no longer ({judging.named(limit.cite)}), for up to {low} inside germs grow rather than die.",
        remedy=Remedy(f"Take it all the way in one go; or stop the first heat at {limit.value:g} minutes, cool it as cooked meat, and write how it is finished."), sources=(limit.cite,),
    )  # fmt: skip


def _first(steps: Sequence[Step]) -> tuple[Step, Measured] | None:
    """The first heating that is followed by a stay in the cold and a second one, and its time."""
    for number, step in enumerate(steps):
        if not step.does("smoke", "cook"):
            continue
        stay = next((one for one in step.times if one.amount.unit in ("minute", "hour")), None)
        ends = _inside(step)
        short = ends < judging.figure("come_up.end_f").value if ends is not None else bool(phrases.HALF_COOKED.search(step.text))
        if stay is None or not short:
            return None
        chilled = next((at for at in range(number, len(steps)) if _chilled(steps[at], steps[at] is step)), None)
        if chilled is not None and any(later.does("cook", "smoke") or phrases.COOKED_AGAIN.search(later.text) for later in steps[chilled + 1 :]):
            return step, stay
        return None
    return None


def _chilled(step: Step, same: bool) -> bool:
    text = step.text.lower()
    return COLD_PLACE.search(text) is not None and (step.does("cool", "store", "rest", "hold", "dry") or "overnight" in text or not same)


def _inside(step: Step) -> float | None:
    """The last temperature inside the meat that the step tells, degF."""
    told = [units.fahrenheit(one.amount.high, one.amount.unit) for one in step.temperatures if one.of == "meat" and one.amount.unit in ("degF", "degC")]
    return told[-1] if told else None


RULE = Rule(
    name="first-heat-long",
    family="smoke_and_cook",
    check=check,
    reports="A first heat of over an hour that does not cook the meat, with a stay in the cold before it is finished.",
    why="Hours of warmth that kill nothing are hours of growth, and the second fire does not take back every poison.",
    silent="A first heat of an hour and less, or one to 130 °F and more inside, which the temperature rules judge; bacon and what is left raw on purpose; fish; dried products; hams hung for weeks.",
    sources=(judging.figure("first_heat_min").cite,),
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("7. Smoke at 250 F until 165 F inside.", "7. Smoke at 180 F for 3 hours, until 115 F inside. Refrigerate overnight.")),
    expect=("16:23-30", "A first heat of 3 hours ends at 115 °F (46 °C) inside, then the cold, then the fire again. Meat that is cooked in two goes is heated for 60 minutes at first and no longer (Food Code 2022, 3-401.14), for up to 130 °F (54 °C) inside germs grow rather than die."),
)
