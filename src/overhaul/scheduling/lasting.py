"""How long a task takes: as the page says, else as it is usually done, else as long as the plan leaves for it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Amount, Fact, Process, Recipe, Step
from overhaul.recipe.weighing import by_rate
from overhaul.sums.work import Sums

Said = Literal["page", "assumed", "unknown"]
TIMED = ("soak", "dry", "smoke", "cook", "rest", "equalize", "stand")
_OVERNIGHT = re.compile(r"\b(?:overnight|o/n|all night)\b", re.I)
_SHORT_UNITS = ("minute", "hour", "night", "day")


class Lasting(Struct, frozen=True):
    """Hours. ``low`` to ``high`` are within what was told, ``stretched`` is the most that the plan may take, ``words`` what it rests on."""

    low: float
    high: float
    said: Said
    words: str = ""
    stretched: float | None = None

    @property
    def most(self) -> float:
        return self.high if self.stretched is None else max(self.high, self.stretched)


def figure(name: str) -> facts.Fact:
    """A row of ``facts/prep.tsv``."""
    return facts.table("prep")[name]


def hands(name: str) -> Lasting:
    """A task of so many minutes with the hands on it."""
    hours = figure(f"hands.{name}").value / 60
    return Lasting(hours, hours, "assumed", f"{in_words(hours)} assumed")


def room(name: str, why: str = "time not on the page") -> Lasting:
    """Nothing tells how long: the room that the plan leaves."""
    hours = figure(f"room.{name}").value
    return Lasting(hours, hours, "unknown", f"{why}: the plan leaves {in_words(hours)}")


def assumed(fact: facts.Fact, hours: float) -> Lasting:
    told = "assumed, common practice" if fact.status == "common-practice" else f"assumed, the limit of {facts.source(fact.source).title}" if fact.firm else "assumed"
    return Lasting(hours, hours, "assumed", f"{in_words(hours)} {told}")


def told(low: float, high: float) -> Lasting:
    """As the page says; where it gives two, the long end is planned for."""
    return Lasting(low, high, "page", in_words(low, high))


def in_words(low: float, high: float | None = None) -> str:
    """``20 min``, ``3 to 3½ hours``, ``1 h 10 min``, ``8 to 10 days``. Hours."""
    high = low if high is None else high
    if low == high and high > 48 and high % 24:
        days, rest = divmod(high, 24)
        return f"{days:.0f} days {in_words(rest) if rest >= 1 else f'{rest * 60:.0f} min'}"
    if low == high and high >= 1 and round(high % 1, 3) not in (0, *_PARTS):
        hours, minutes = divmod(round(high * 60), 60)
        return f"{hours} h {minutes} min" if minutes else in_words(float(hours))
    if high < 1:
        size, name = 1 / 60, "min"
    elif low >= 48 and low % 24 == 0 and high % 24 == 0:
        size, name = 24.0, "days"
    else:
        size, name = 1.0, "hours"
    few, many = _number(low / size), _number(high / size)
    name = name[:-1] if name != "min" and few == many == "1" else name
    return f"{few} {name}" if few == many else f"{few} to {many} {name}"


_PARTS = {0.25: "¼", 0.5: "½", 0.75: "¾"}


def _number(value: float) -> str:
    whole = int(value)
    rest = round(value - whole, 3)
    if rest in _PARTS:
        return f"{whole or ''}{_PARTS[rest]}"
    return f"{value:.1f}".removesuffix(".0")


def stated(recipe: Recipe, step: Step, kind: str, others: tuple[str, ...]) -> Lasting | None:
    """What ``step`` says of how long ``kind`` takes; ``others`` are the further timed kinds of the same step."""
    process = recipe.process
    times = [] if others else _times(recipe, step)
    if kind in ("smoke", "cook", "wrap") and times:
        # "130 F for an hour, then 150 F for two", "4 hours, wrap, 3 more": one after the other.
        return _whole(step, kind, told(sum(units.hours(one.low, one.unit) for one in times), sum(units.hours(one.high, one.unit) for one in times)))
    fact: Fact | None = {"soak": process.soak, "dry": process.dry, "smoke": process.smoke_time, "cook": process.cook_time, "rest": process.rest}.get(kind)
    if fact is not None and _inside(fact, step) and not _is_hold(fact, process):
        hours = units.size(fact.unit)
        return _whole(step, kind, told(fact.low * hours, fact.high * hours))
    if times and kind in ("soak", "dry", "equalize", "hang", "stand"):
        longest = max(times, key=lambda one: units.hours(one.high, one.unit))
        return told(units.hours(longest.low, longest.unit), units.hours(longest.high, longest.unit))
    if not others and kind != "wrap" and _OVERNIGHT.search(step.text):
        night = figure("overnight")
        return _whole(step, kind, told(night.low, night.high))
    return None


_NOT_A_STAY = re.compile(r"\b(?:every|each|within|before|first|inside of|in under|after|hold|held|no (?:more|longer) than)\s*(?:it\s*|that\s*|there\s*|for\s*|the\s*|about\s*)*$", re.I)
_A_RATE = re.compile(r"\s*(?:per|a|an|each|every|to the|the|/)\s*(?:lb|pound|kilo|kg|inch|in\b|cm)|\s*(?:before|per piece)\b", re.I)


def _times(recipe: Recipe, step: Step) -> list[Amount]:
    """The times of a step that say how long it goes on."""
    final, text = recipe.process.final_temperature, recipe.page.plain
    held = final.dwell.place if final is not None and final.dwell is not None else None
    return [
        one.amount
        for one in step.times
        if one.amount.unit in _SHORT_UNITS
        and one.amount.place != held
        and not _NOT_A_STAY.search(text[step.place.start : one.amount.place.start][-24:].replace("\n", " "))
        and not _A_RATE.match(text[one.amount.place.end : step.place.end][:16].replace("\n", " "))
    ]


def _inside(fact: Fact, step: Step) -> bool:
    return step.place.start <= fact.place.start < step.place.end


def _is_hold(fact: Fact, process: Process) -> bool:
    """``hold it there 30 minutes`` is not how long it smokes."""
    final = process.final_temperature
    return final is not None and final.dwell is not None and final.dwell.place == fact.place


def _whole(step: Step, kind: str, found: Lasting) -> Lasting:
    """Of a smoke in stages of which one has no time, the page tells only a part."""
    airs = [one for one in step.temperatures if one.of in ("smoker", "oven", "air")]
    times = sum(one.amount.unit in ("hour", "minute") for one in step.times) + bool(_OVERNIGHT.search(step.text))
    if kind not in ("smoke", "cook") or len(airs) < 2 or times >= len(airs):
        return found
    more = room("cook").high
    return Lasting(found.low + more, found.high + more, "unknown", f"{found.words} on the page, and no time for the next heat: the plan leaves {in_words(more)} more")


def cure(recipe: Recipe, sums: Sums) -> Lasting:
    """How long it lies in the brine or the salt: the page's days, else the days that cure needs to the middle."""
    process, fact = recipe.process, recipe.process.cure_time
    if fact is not None and process.cure_rate is not None and any(step.phase == "equalize" and _inside(fact, step) for step in recipe.steps):
        fact = by_rate(replace(process, cure_time=None)).cure_time  # the days of evening out are not those of the cure
    if fact is not None:
        hour = units.size(fact.unit)
        found = told(fact.low * hour, fact.high * hour)
        return replace(found, stretched=found.high + figure("stretch.cure").value) if found.low >= 48 and found.low == found.high else found
    if not any(item.role in CURING_SALTS for item in recipe.ingredients):
        return room("brine")
    days = sums.get("days_to_middle")
    if days is None:
        return room("cure", "days not on the page")
    low, high = (max(1, round(value + 0.49)) * 24 for value in (days.value.likely, days.value.high))
    return Lasting(low, high, "assumed", f"days not on the page: {in_words(low, high)} assumed, worked from how thick it is (typical and most)")


def thaw(recipe: Recipe) -> tuple[Lasting, str | None]:
    """In the refrigerator, as the page says, else by the weight of one piece; and what is to be said where the page gives too little."""
    own = [one.amount for step in recipe.steps if step.does("thaw") for one in step.times if one.amount.unit in _SHORT_UNITS]
    weighed = _by_weight(recipe)
    if own:
        longest = max(own, key=lambda one: units.hours(one.high, one.unit))
        found = told(units.hours(longest.low, longest.unit), units.hours(longest.high, longest.unit))
        short = weighed is not None and found.high < weighed.low
        return found, f"by its weight it wants longer in the cold: {weighed.words}" if short and weighed is not None else None
    pace = facts.table("rules")["thaw_lb_per_day"]
    return weighed or room("thaw", f"no weight on the page, and meat thaws {pace.low:g} to {pace.high:g} lb a day"), None


def _by_weight(recipe: Recipe) -> Lasting | None:
    meat, pace = recipe.process.meat, facts.table("rules")["thaw_lb_per_day"]
    if meat is None or meat.mass is None or not meat.mass_stated:
        return None
    pieces = meat.pieces[0] if meat.pieces is not None and meat.pieces[0] > 0 else 1
    pounds = meat.mass.likely / units.size("pound") / pieces
    low, high = pounds / pace.high * 24, pounds / pace.low * 24
    return Lasting(low, high, "assumed", f"{in_words(_up(low), _up(high))} assumed, {pace.low:g} to {pace.high:g} lb a day, by one piece of {pounds:.1f} lb")


def _up(hours: float) -> float:
    return float(-(-hours // 1))


def chill(recipe: Recipe) -> Lasting:
    """How long a brine takes to be as cold as meat may go into it."""
    if recipe.process.brine_heated is None:
        cold = figure("chill.stirred_cold")
        return assumed(cold, cold.value)
    iced = figure("chill.iced") if recipe.of_role("ice") else figure("chill.boiled")
    return assumed(iced, iced.value)


def cooling(recipe: Recipe) -> tuple[Lasting, str | None]:
    """As long as the page gives, but no longer than the limit; and what is to be said where it gives more."""
    limit = facts.fact("cooling.total_h")
    legs = recipe.process.cooling
    if not legs:
        return assumed(limit, limit.value), None
    high = sum(leg.high for leg in legs)
    if high > limit.value:
        return assumed(limit, limit.value), f"the page gives {in_words(high)}, over the limit of {limit.value:g}"
    return told(high, high), None


def kinds_with_time(kinds: Iterator[str] | tuple[str, ...]) -> tuple[str, ...]:
    return tuple(kind for kind in kinds if kind in TIMED)
