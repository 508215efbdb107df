"""The days that the trade's rules give a piece: by the inch, by the face, by the pound. Set beside the days to the middle, never judged by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from overhaul import facts
from overhaul.span import Span, corners
from overhaul.sums.worked import Input, Sum

if TYPE_CHECKING:
    from overhaul.recipe.model import Meat
    from overhaul.sums.work import Sums

_MM_PER_INCH = 25.4
_GRAM_PER_POUND = 453.59237


def trade_days(sums: Sums) -> tuple[Sum, ...]:
    """What each rule of thumb gives this piece; none for pumped meat, or where the page tells neither thickness nor weight."""
    meat = sums.recipe.process.meat
    if meat is None or sums.method not in ("immersion", "dry"):
        return ()
    wet = sums.method == "immersion"
    return (*_by_thickness(sums, meat, wet), *_by_weight(sums, meat, wet))


def _by_thickness(sums: Sums, meat: Meat, wet: bool) -> Iterator[Sum]:
    if meat.thickness is None or not meat.thickness_stated or meat.thickness.low <= 0:
        return
    inches = Span(*(value / _MM_PER_INCH for value in (meat.thickness.low, meat.thickness.likely, meat.thickness.high)))
    thick = Input("thickness", inches, "inch", meat.line, meat.thickness_stated)
    rate = facts.fact("days_per_inch.wet" if wet else "days_per_inch.belly_dry" if meat.cut == "pork_belly_whole" else "days_per_inch.dry")
    yield _days(corners(lambda inch: inch * rate.value, inches), f"{rate.value:g} days an inch", thick, rate)
    pace = facts.table("sums")["trade.inch_per_day.wet" if wet else "trade.inch_per_day.dry"]
    more = facts.table("sums")["trade.more_days"].value if wet else 0.0
    faces = 1 + sums.openness()[0][1]
    words = "a quarter inch a day from each open face, and 2 days" if wet else "an eighth of an inch a day from each open face"
    yield _days(corners(lambda inch: inch / faces / pace.value + more, inches), words, thick, pace)


def _by_weight(sums: Sums, meat: Meat, wet: bool) -> Iterator[Sum]:
    if meat.mass is None or not meat.mass_stated:
        return
    fewest, most = meat.pieces or (1, 1)
    if fewest < 1:
        return
    pounds = Span(meat.mass.low / most / _GRAM_PER_POUND, meat.mass.likely * 2 / (fewest + most) / _GRAM_PER_POUND, meat.mass.high / fewest / _GRAM_PER_POUND)
    if sums.recipe.product == "ham":
        rate = facts.fact("days_per_pound.ham_wet") if wet else facts.table("rules")["days_per_pound.ham_dry"]
    else:
        rate = facts.table("sums")["trade.days_per_pound"]
    words = f"{rate.low:g} to {rate.high:g} days a pound" if rate.low < rate.high else f"{rate.value:g} days a pound"
    each = Input("a piece", pounds, "pound", meat.line, meat.mass_stated)
    yield _days(corners(lambda pound, days: pound * days, pounds, rate.span), words, each, rate)


def _days(value: Span, words: str, given: Input, rate: facts.Fact) -> Sum:
    return Sum("trade_days", value, "day", words, (given,), (), (rate.cite,))
