"""A cool-down slower than the two steps allow."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.recipe.model import CURING_SALTS, Cooling
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    recipe, legs = case.recipe, case.process.cooling
    slow = _slow(case, legs)
    if slow is None:
        return
    place, said, allowed, limit = slow
    if _in_all(case, legs):
        yield Finding(
            RULE.name, Grade.QUERY, False, place,
            f"{_hours(legs[-1].low, legs[-1].high)} to {degrees(recipe, legs[-1].end)}: in all, or after the {_hours(legs[0].low, legs[0].high)} before? In all it is within the limit of {allowed:g} hours by {named(limit)}; one after the other it comes to {said}.",
            remedy=Remedy("Write “in all”, or the hours from the one to the other."), sources=(limit,),
        )  # fmt: skip
        return
    cured = bool(recipe.of_role(*CURING_SALTS))
    if cured and _slow_cooling_of_cured_meat(case, legs):
        return
    cite = Cite("fsis-appendix-b-1999", "item 3" if cured else "item 1")
    more = f" {named(cite)} has a slower cooling for meat cured with {judging.figure('cooling.cured_nitrite_ppm').value:g} ppm nitrite and more, under conditions of its own." if cured else ""
    # Certain only outside the other published cooling too.
    certain = not cured and sum(leg.low for leg in legs) > judging.figure("cooling.option_one_h").value
    yield Finding(
        RULE.name, Grade.HAZARD, certain, place, f"The cool-down takes {said}; the limit is {allowed:g} hours by {named(limit)}.{more}",
        remedy=Remedy("Smaller pieces, shallow pans, an ice bath; read both times and write them down."), sources=(limit, cite),
    )  # fmt: skip


def _in_all(case: Case, legs: tuple[Cooling, ...]) -> bool:
    """``To 70 F inside 2 hr, 41 F inside 6``: the hours of the limit itself, whose second counts from the start."""
    if len(legs) != 2 or legs[0].high > facts.fact("cooling.stage1_h").value or abs(legs[1].high - facts.fact("cooling.total_h").value) > 0.01:
        return False
    page = case.recipe.page
    rest_of_line = page.lines[page.line_at(legs[1].place.start) - 1].place.end
    return phrases.AFTER_THAT.search(page.text[legs[0].place.end : rest_of_line].split(".")[0]) is None


def _slow(case: Case, legs: tuple[Cooling, ...]) -> tuple[Place, str, float, Cite] | None:
    """The leg that is too slow, what it takes, the hours allowed and by what."""
    if not legs:
        return None
    recipe, first, last = case.recipe, legs[0], legs[-1]
    stage, end = judging.figure("cooling.stage_end_f"), judging.figure("cooling.cold_end_f")
    one, whole = facts.fact("cooling.stage1_h"), facts.fact("cooling.total_h")
    if stage.low <= first.end <= stage.high and first.high > one.value:
        return first.place, f"{_hours(first.low, first.high)} from {degrees(recipe, first.start)} to {degrees(recipe, first.end)}", one.value, one.cite
    low, high = sum(leg.low for leg in legs), sum(leg.high for leg in legs)
    # A hundredth of an hour is rounding of minutes.
    if last.end <= end.high and high > whole.value + 0.01:
        return last.place, f"{_hours(low, high)} in all to {degrees(recipe, last.end)}", whole.value, whole.cite
    return None


def _slow_cooling_of_cured_meat(case: Case, legs: tuple[Cooling, ...]) -> bool:
    """The published slow cooling of cured meat, met in all its conditions; for a plant, not for a counter or a dining room."""
    sold = case.house.sold if case.house.sold is not None else case.recipe.sold
    nitrite = case.sums.get("nitrite_equilibrium") or case.sums.get("nitrite_pump") or case.sums.get("nitrite_direct")
    helper = case.sums.get("accelerator_equilibrium") or case.sums.get("accelerator_pump") or case.sums.get("accelerator_direct")
    if sold or nitrite is None or helper is None:
        return False
    if nitrite.value.low < judging.figure("cooling.cured_nitrite_ppm").value or helper.value.low < judging.figure("cooling.cured_accelerator_ppm").value:
        return False
    return legs[0].high <= judging.figure("cooling.cured_first_h").value and sum(leg.high for leg in legs) <= judging.figure("cooling.cured_total_h").value


def _hours(low: float, high: float) -> str:
    return f"{low:g} hours" if low == high else f"{low:g} to {high:g} hours"


RULE = Rule(
    name="cooling-slow",
    family="rest_hold_cool",
    check=check,
    reports="A cool-down that takes longer than 2 hours to 70 °F or 6 hours in all to 41 °F; and one of which nobody can say whether its hours are in all.",
    why="Time between 130 and 70 °F is growing time.",
    silent="Within both steps; no times given; meat not sold, cured with 100 ppm nitrite and 250 ppm accelerator, cooled within the slower steps published for it.",
    sources=(Cite("food-code-2022", "3-501.14(A)"), Cite("fsis-appendix-b-1999", "items 1 and 3")),
    sum="allowed time ÷ stated time",
    sound=CORNED,
    faulty=changed(CORNED, ("to 70 F in 2 hours", "to 70 F in 5 hours")),
    expect=("19:42-49", "The cool-down takes 5 hours from 135 °F (57 °C) to 70 °F (21 °C); the limit is 2 hours by Food Code 2022, 3-501.14(A)(1). FSIS Appendix B of 1999 has a slower cooling for meat cured with 100 ppm nitrite and more, under conditions of its own."),
)
