"""An end point below the published tables."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.recipe.model import Fact
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.rule import Case, Rule
from overhaul.rules.smoke_and_cook.judging import CODE, WHOLE, MeatClass, hold_met, hold_wanted, meat_class, older_end_point, seconds, told
from overhaul.rules.texts import TURKEY, changed


def check(case: Case) -> Iterator[Finding]:
    final = case.process.final_temperature
    if final is None or case.recipe.bought_done or (judging.fried_before_eating(case) and not _of_the_pan(case, final)) or judging.dried_on_purpose(case) or case.recipe.product == "gravlax":
        return
    kind = meat_class(case)
    wanted = hold_wanted(kind, final.low)
    if wanted == 0 or hold_met(kind, final):
        return
    if final.low >= kind.minimum.value:
        if kind.tables == WHOLE:
            yield from _rest_too_short(case, final, kind)
        return
    if not kind.tables:  # fish: one figure, no table of holds
        if final.high < kind.minimum.value:
            yield _finding(case, final, kind, Grade.FAULT, False, wanted)
        return
    if older_end_point(case, final):
        yield _finding(case, final, kind, Grade.FAULT, False, wanted)
        return
    rest = case.process.rest
    if final.dwell is None and wanted is not None:
        short = judging.is_ground(case) and wanted <= judging.figure("short_hold_s").value
        rested = kind.tables == WHOLE and rest is not None and seconds(rest.low) >= wanted
        if not judging.is_poultry(case) and (short or rested):
            yield _finding(case, final, kind, Grade.QUERY, False, wanted)
            return
        yield _finding(case, final, kind, Grade.HAZARD, False, wanted)
        return
    # Certain only where even the upper end of what is stated falls short.
    highest = hold_wanted(kind, final.high)
    held = seconds(final.dwell.high) if final.dwell is not None else 0.0
    certain = final.high < kind.minimum.value and (highest is None or (final.dwell is not None and held < highest))
    yield _finding(case, final, kind, Grade.HAZARD, certain, wanted)


def _of_the_pan(case: Case, final: Fact) -> bool:
    """The end point of the frying itself: nothing heats the meat after it."""
    return any(step.line <= final.line <= step.end_line and "fry" in step.actions and not step.does("smoke") for step in case.recipe.steps)


def _rest_too_short(case: Case, final: Fact, kind: MeatClass) -> Iterator[Finding]:
    """At 145 °F the rest is part of the cook. One that is not stated is asked for by rest-missing."""
    least = facts.fact("minimum.whole_rest_min")
    held = final.dwell or case.process.rest
    if held is None or held.high >= least.value or seconds(held.high) >= (hold_wanted(kind, final.low) or 0):
        return
    recipe = case.recipe
    pumped = case.process.cure is not None and case.process.cure.method.startswith("pumped")
    yield Finding(
        RULE.name, Grade.HAZARD if pumped else Grade.FAULT, pumped, final.place,
        f"{degrees(recipe, final.low, final.high)} inside with {told(seconds(held.high))} of rest{' in pumped meat' if pumped else ''}: the limit is {degrees(recipe, kind.minimum.value)} and {least.value:g} minutes by {named(least.cite)}.",
        remedy=Remedy(f"Rest it {least.value:g} minutes or more before it is cut.", (Edit(held.place, f"{least.value:g} minutes"),)), sources=(least.cite, CODE),
    )  # fmt: skip


def _finding(case: Case, final: Fact, kind: MeatClass, grade: Grade, certain: bool, wanted: float | None) -> Finding:
    recipe, minimum = case.recipe, kind.minimum
    limit = f"the limit for {kind.words} is {degrees(recipe, minimum.value)} by {named(minimum.cite)}"
    hold = ""
    if wanted:
        hold = f"; lower counts when it is held there, {told(wanted)} at this temperature ({named(kind.holds)})"
        hold += f", and the page gives {told(seconds(final.dwell.low))}" if final.dwell is not None else ", and the page gives no hold"
    ask = ""
    if grade is Grade.QUERY:
        ask = " Does it stay there so long?" if case.process.rest is None else " Does it stay there so long, in the rest or before?"
    how = f"Take it to {degrees(recipe, minimum.value)}" + (f", or hold it {told(wanted)} at {degrees(recipe, final.low)}, read on a probe, and write that down." if wanted else ".")
    lethal = case.sums.get("lethality")
    return Finding(
        RULE.name, grade, certain, final.place, f"{degrees(recipe, final.low, final.high)} inside: {limit}{hold}.{ask}", sum=lethal.worked() if lethal is not None else None,
        remedy=Remedy(how, (Edit(final.place, judging.plain_degrees(recipe, minimum.value)),)), sources=(minimum.cite, kind.holds) if kind.tables else (minimum.cite,),
    )  # fmt: skip


RULE = Rule(
    name="final-temperature-low",
    family="smoke_and_cook",
    check=check,
    reports="An end point inside the meat that is below the tables, with the hold that is stated.",
    why="Heat is the step that kills. A lower temperature does it too, if it is held long enough; the tables say how long.",
    silent="The usual end point or more; a hold that meets the table; raw bacon to be fried; dried and fermented products; no end point on the page.",
    sources=(Cite("fsis-chart"), Cite("fsis-appendix-a-2021", "Tables 2 to 4"), Cite("food-code-2022", "3-401.11")),
    sum="stated hold ÷ hold the table wants",
    sound=TURKEY,
    faulty=changed(TURKEY, ("until 165 F inside", "until 150 F inside")),
    expect=("10:33-38", "150 °F (66 °C) inside: the limit for poultry is 165 °F (74 °C) by the FSIS temperature chart; lower counts when it is held there, 5 minutes at this temperature (FSIS Appendix A of 2021), and the page gives no hold."),
)
