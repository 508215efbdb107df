"""Cooking, cooling and keeping: what the page states, against what is published."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct

from overhaul import facts
from overhaul.findings import Cite
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS
from overhaul.span import Span, added, between, corners
from overhaul.sums import chilling, lethality
from overhaul.sums.worked import CannotTell, Input, Pencil, Sum, round_

if TYPE_CHECKING:
    from overhaul.sums.work import Sums

_WET = frozenset(["simmer", "boil", "braise", "steam", "wrap", "fry"])


def _lethality(sums: Sums) -> Sum:
    final = sums.recipe.process.final_temperature
    if final is None:
        raise CannotTell("the page gives no temperature inside")
    table = sums.lethality_table()
    seconds = final.dwell
    wanted = lethality.wanted_seconds(table, final.low)
    if wanted is None or wanted == 0:
        raise CannotTell("nothing more is wanted at that temperature" if wanted == 0 else "the table gives no credit at that temperature")
    if seconds is None:
        raise CannotTell("how long it is held there is not stated")
    value = Span(seconds.low * 60 / wanted, (seconds.low + seconds.high) * 30 / wanted, seconds.high * 60 / wanted)
    held = Input("held", between(seconds.low, seconds.high), "minutes", seconds.line)
    formula = "stated hold ÷ hold the table wants"
    return Sum("lethality", value, "ratio", formula, (held,), (), (Cite("fsis-appendix-a-2021", "Tables 2 to 4"),))


def _cooling(sums: Sums) -> Sum:
    legs = sums.recipe.process.cooling
    if not legs:
        raise CannotTell("no cool-down is written")
    stage, whole = facts.fact("cooling.stage1_h").value, facts.fact("cooling.total_h").value
    value, stated = _cooled(sums, stage, whole)
    formula = "allowed time ÷ stated time, of the step that is tightest"
    cured = tuple(_cooled_cured(sums)) if sums.items(*CURING_SALTS) else ()
    return Sum("cooling", value, "ratio", formula, (stated,), (), (Cite("food-code-2022", "3-501.14"),), beside=cured)


def _cooled(sums: Sums, stage: float, whole: float) -> tuple[Span, Input]:
    """Allowed over stated, with so many hours for the first leg and so many for all, and the stated hours."""
    legs = sums.recipe.process.cooling
    first, last = legs[0], legs[-1]
    tests = [(stage if first.end >= _figure("cooling.stage_end_f").low else whole, first.low, first.high)]
    if len(legs) > 1 and last.end <= _figure("cooling.cold_end_f").high:
        tests.append((whole, sum(leg.low for leg in legs), sum(leg.high for leg in legs)))
    allowed, low, high = min(tests, key=lambda test: test[0] / max(test[1] + test[2], 1e-9))
    value = Span(chilling.ratio(allowed, high), chilling.ratio(allowed, (low + high) / 2), chilling.ratio(allowed, low))
    return value, Input("stated", between(low, high), "hours", first.line)


def _cooled_cured(sums: Sums) -> Iterator[Sum]:
    """The same by the slower cooling published for cured meat."""
    first, whole = _figure("cooling.cured_first_h"), _figure("cooling.cured_total_h")
    value, stated = _cooled(sums, first.value, whole.value)
    words = f"with {first.value:g} and {whole.value:g} hours, for meat cured with {_figure('cooling.cured_nitrite_ppm').value:g} ppm nitrite and more, under conditions of its own"
    yield Sum("cooling", value, "ratio", words, (stated,), (), (first.cite,))


def _figure(name: str) -> facts.Fact:
    return facts.table("rules")[name]


class _Stage(Struct, frozen=True):
    """One heat of the smoker or oven, degF, with its hours where they are told."""

    air: Span
    hours: Span | None
    line: int


def _stages(sums: Sums) -> list[_Stage]:
    """Each heat in the order of the page; a time counts for the heat that it follows."""
    found = []
    for step in sums.recipe.steps:
        if not step.does("smoke", "cook"):
            continue
        heats = [one.amount for one in step.temperatures if one.of in ("oven", "smoker", "air") and one.amount.unit in ("degF", "degC")]
        for number, heat in enumerate(heats):
            end = heats[number + 1].place.start if number + 1 < len(heats) else step.place.end
            time = next((one.amount for one in step.times if heat.place.end <= one.amount.place.start < end), None)
            air = between(units.fahrenheit(heat.low, heat.unit), units.fahrenheit(heat.high, heat.unit))
            hours = between(units.hours(time.low, time.unit), units.hours(time.high, time.unit)) if time is not None else None
            found.append(_Stage(air, hours, sums.recipe.page.line_at(heat.place.start)))
    return found


def _air_over_end(sums: Sums) -> Sum:
    final = sums.recipe.process.final_temperature
    if final is None:
        raise CannotTell("the page gives no temperature inside")
    wet = next((step for step in sums.recipe.steps if step.does("cook", "wrap") and _WET & {*step.actions}), None)
    if wet is not None:
        raise CannotTell("not finished in dry air")
    stages = _stages(sums)
    if not stages:
        raise CannotTell("the page gives no heat of the smoker or oven")
    hottest = max(stages, key=lambda stage: stage.air.high)
    value = corners(lambda air, end: air - end, hottest.air, final.span)
    given = (Input("hottest air", hottest.air, "degF", hottest.line), Input("end point", final.span, "degF", final.line))
    pencil: Pencil = ((hottest.air, "degF"), " air − ", (final.span, "degF"), " inside")
    return Sum("air_over_end", value, "degF", "hottest air − end point inside; at nothing and below it is never reached", given, (), (Cite("common-practice", "physics"),), pencil)


def _come_up(sums: Sums) -> Sum:
    """The most that the air alone can tell of the come-up: meat is never warmer than the air round it."""
    if sums.recipe.process.final_temperature is None:
        raise CannotTell("not cooked to a temperature")
    limit, end = _figure("come_up.hours"), _figure("come_up.end_f")
    cool = [stage for stage in _stages(sums) if stage.air.high <= end.value]
    if not cool:
        raise CannotTell("how fast the meat warms up is not told by the air alone")
    known = [stage.hours for stage in cool if stage.hours is not None]
    if len(known) < len(cool):
        raise CannotTell(f"the page does not say how long the air is at {round_(cool[0].air.high)} °F")
    hours = added(known)
    given = tuple(Input(f"at {round_(stage.air.high)} °F", stage.hours, "hour", stage.line) for stage in cool if stage.hours is not None)
    value = corners(lambda stated: chilling.ratio(limit.value, stated), hours)
    pencil: Pencil = (f"{limit.value:g} hours from 50 to {end.value:g} °F ÷ ", (hours, "hour"), f" in air of {end.value:g} °F and less")
    return Sum("come_up", value, "ratio", "allowed hours ÷ hours in air too cool to end them", given, ("the hours in hotter air are not counted",), (limit.cite,), pencil)


def _rest(sums: Sums) -> Sum:
    process = sums.recipe.process
    rest, final = process.rest, process.final_temperature
    if rest is None:
        raise CannotTell("no time to rest is written")
    least, minimum = facts.fact("minimum.whole_rest_min"), facts.fact("minimum.whole_f")
    if sums.lethality_table() != "meat" or (process.meat is not None and process.meat.ground):
        raise CannotTell("a rest counts as cooking for whole cuts only")
    if final is None or final.low < minimum.value:
        raise CannotTell(f"a rest counts from {minimum.value:g} °F inside")
    value = corners(lambda minutes: minutes / least.value, rest.span)
    pencil: Pencil = ((rest.span, "minute"), f" ÷ {least.value:g} minutes wanted at {minimum.value:g} °F and more")
    return Sum("rest", value, "ratio", "stated rest ÷ rest wanted", (Input("rest", rest.span, "minute", rest.line),), (), (least.cite,), pencil)


def _over(name: str, words: str, told: Span, line: int, limit: facts.Fact) -> Sum:
    """So many degrees above a least temperature; below it, a figure under nothing."""
    value = corners(lambda degf: degf - limit.value, told)
    pencil: Pencil = ((told, "degF"), f" − {limit.value:g} °F")
    return Sum(name, value, "degF", f"{words} − the least for it", (Input(words, told, "degF", line),), (), (limit.cite,), pencil)


def _hot_hold(sums: Sums) -> Sum:
    hold = sums.recipe.process.hold
    if hold is None:
        raise CannotTell("no heat to hold it at is written")
    return _over("hot_hold", "held hot at", hold.span, hold.line, facts.fact("hot_hold_min_f"))


def _reheating(sums: Sums) -> Sum:
    for step in sums.recipe.steps:
        warm = [one.amount for one in step.temperatures if one.amount.unit in ("degF", "degC") and one.of not in ("oven", "smoker", "air")]
        if "reheat" in step.actions and warm:
            hottest = max(warm, key=lambda amount: units.fahrenheit(amount.high, amount.unit))  # "reheat to 165 F, hold over 140 F"
            told = between(units.fahrenheit(hottest.low, hottest.unit), units.fahrenheit(hottest.high, hottest.unit))
            return _over("reheating", "reheated to", told, sums.recipe.page.line_at(hottest.place.start), _figure("reheat_f"))
    raise CannotTell("no heat to warm it up to is written")


def _keeping(sums: Sums) -> Sum:
    kept = sums.recipe.process.storage
    if kept is None:
        raise CannotTell("the page does not say how long it keeps")
    if kept.kept != "cold":
        raise CannotTell("not kept cold")
    sold = sums.house.sold if sums.house.sold is not None else sums.recipe.sold
    limit = facts.fact("keep_home_d" if sold is False else "keep_sold_d")
    days = Input("kept", between(kept.low, kept.high), "day", kept.line)
    pencil: Pencil = (f"{limit.value:g} days ÷ ", (days.value, "day"))
    notes = ("cooked; the day it was made counts as the first", *(() if sold is not None else ("served or sold; the page does not say",)))
    return Sum("keeping", corners(lambda stated: chilling.ratio(limit.value, stated), days.value), "ratio", "allowed days ÷ stated days", (days,), notes, (limit.cite,), pencil)


SUMS: Mapping[str, Callable[[Sums], Sum]] = {
    "lethality": _lethality, "cooling": _cooling, "air_over_end": _air_over_end, "come_up": _come_up, "rest": _rest, "hot_hold": _hot_hold,
    "reheating": _reheating, "keeping": _keeping,
}  # fmt: skip
