"""What the rules of time and temperature share: the page's own scale, its own lines, and what the product is."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite
from overhaul.reading import units
from overhaul.reading.patterns import Pattern
from overhaul.recipe.model import Fact, Process, Recipe, Step
from overhaul.rules import words
from overhaul.rules.rule import Case

_METRIC = frozenset(["gram", "kilogram", "millilitre", "litre"])
_US = frozenset(["ounce", "pound", "cup", "pint", "quart", "gallon", "teaspoon", "tablespoon", "fluid_ounce"])
_MM_PER_INCH = 25.4
_COLD_UP_TO_F = 60
_COOLING = Cite("food-code-2022", "3-501.14(A)")
# What a cook would call it, where the title is long or says nothing by itself.
_SPOKEN = {
    "fsis-chart": "the FSIS temperature chart", "fsis-appendix-a-2021": "FSIS Appendix A of 2021", "fsis-appendix-b-1999": "FSIS Appendix B of 1999", "fsis-smoking": "FSIS on smoking meat",
    "nchfp": "the National Center for Home Food Preservation", "game-extension": "Clemson Extension on curing game", "cold-storage-chart": "the federal cold storage chart",
    "common-practice": "common practice, no source", "own-model": "our own reckoning",
}  # fmt: skip
_POULTRY = frozenset(["chicken", "turkey", "duck", "goose", "poultry"])


def figure(name: str) -> facts.Fact:
    """A figure that only rules read; KeyError for an unknown one."""
    return facts.table("rules")[name]


def metric(recipe: Recipe) -> bool:
    """Whether the page speaks in Celsius; where it gives no temperature, whether all its weights are metric."""
    scales = {measured.amount.unit for step in recipe.steps for measured in step.temperatures} & {"degC", "degF"}
    if scales:
        return scales == {"degC"}
    found = {item.amount.unit for item in recipe.ingredients if item.amount is not None} & (_METRIC | _US)
    return bool(found & _METRIC) and not found & _US


def degrees(recipe: Recipe, low: float, high: float | None = None) -> str:
    """A temperature, given in degF, in the page's own scale with the other beside it: ``36 to 40 °F (2.2 to 4.4 °C)``."""
    high = low if high is None else high
    # In the cold a tenth of a degree tells; above it does not.
    places = 1 if max(low, high) < _COLD_UP_TO_F else 0
    warm, cold = _range(low, high, "°F", places), _range(units.celsius(low), units.celsius(high), "°C", places)
    return f"{cold} ({warm})" if metric(recipe) else f"{warm} ({cold})"


def plain_degrees(recipe: Recipe, low: float, high: float | None = None) -> str:
    """As a cook would write it into this page: ``36 to 40 F``, or ``2 to 4 °C``."""
    high = low if high is None else high
    if metric(recipe):
        return _range(units.celsius(low), units.celsius(high), "°C", 0)
    return _range(low, high, "F", 0)


def _range(low: float, high: float, sign: str, places: int) -> str:
    ends = [f"{round(value, places):g}" for value in (low, high)]
    return f"{ends[0]} {sign}" if ends[0] == ends[1] else f"{ends[0]} to {ends[1]} {sign}"


def length(recipe: Recipe, millimetre: float) -> str:
    """A thickness in the page's own measure with the other beside it."""
    inches, centimetres = f"{millimetre / _MM_PER_INCH:.1f} in", f"{millimetre / 10:.1f} cm"
    return f"{centimetres} ({inches})" if metric(recipe) else f"{inches} ({centimetres})"


def inches(millimetre: float) -> float:
    return millimetre / _MM_PER_INCH


def named(cite: Cite) -> str:
    """A source in words, with the section where it has one: ``Food Code 2022, 3-501.14(A)``."""
    title = _SPOKEN.get(cite.key) or words.short(cite)
    return f"{title}, {cite.where}" if cite.where[:1].isdigit() else title


def thawed_a_day(recipe: Recipe) -> str:
    """How much thaws in a day in the refrigerator: ``4 to 5 lb``, in grams on a metric page."""
    pounds, kilo = figure("thaw_lb_per_day").span, float(units.factor("pound") / 1000)
    return f"{pounds.low * kilo:.1f} to {pounds.high * kilo:.1f} kg" if metric(recipe) else f"{pounds.low:g} to {pounds.high:g} lb"


def target(recipe: Recipe) -> str:
    """The usual temperature of a cure: ``36 to 40 °F (2 to 4 °C)``."""
    fact = figure("cure_target_f")
    return degrees(recipe, fact.low, fact.high)


def plain_target(recipe: Recipe) -> str:
    fact = figure("cure_target_f")
    return plain_degrees(recipe, fact.low, fact.high)


def hours(stay: Fact) -> tuple[float, float]:
    """A time as hours, low and high."""
    one = units.size(stay.unit)
    return stay.low * one, stay.high * one


def days(stay: Fact) -> tuple[float, float]:
    """A time as days, low and high."""
    low, high = hours(stay)
    return low / 24, high / 24


def said_in(text: str, *patterns: Pattern) -> Iterator[re.Match[str]]:
    """What any of ``patterns``, which never reach over a full stop, find in ``text``, sentence by sentence."""
    for start, end, number in sorted({(*bounds, number) for number, pattern in enumerate(patterns) for bounds in pattern.sentences(text)}):
        yield from patterns[number].finditer(text, start, end)


def sentence_before(text: str, at: int) -> str:
    """What stands in the same sentence before ``at``."""
    return text[max(text.rfind(mark, 0, at) for mark in ".;!?") + 1 : at]


def step_of(recipe: Recipe, fact: Fact) -> Step | None:
    """The step in which this figure stands."""
    return next((step for step in recipe.steps if step.place.start <= fact.place.start < step.place.end), None)


def is_fish(case: Case) -> bool:
    """Fish is not held to the rules for meat."""
    meat = case.process.meat
    return case.recipe.product in ("fish", "gravlax") or (meat is not None and meat.species == "fish")


def is_poultry(case: Case) -> bool:
    meat = case.process.meat
    return meat.species in _POULTRY if meat is not None and meat.species is not None else case.recipe.product == "poultry"


def is_ground(case: Case) -> bool:
    return case.recipe.product == "ground" or (case.process.meat is not None and case.process.meat.ground)


def dried_on_purpose(case: Case) -> bool:
    """Dried, ripened or fermented to keep: other limits hold, which no rule here judges."""
    return case.recipe.product in ("dried", "jerky")


def fried_before_eating(case: Case) -> bool:
    """Bacon that is smoked and no more, or meat that the page leaves raw on purpose."""
    return case.recipe.raw_on_purpose or (case.recipe.product == "bacon" and case.process.cook is None)


def hung_in_smoke(case: Case) -> bool:
    """The long cold smoke of a country ham: weeks of it."""
    stay = case.process.smoke_time
    return case.recipe.product == "ham" and stay is not None and stay.unit in ("week", "month")


def two_steps(recipe: Recipe) -> str:
    """The two steps of a cool-down, in the page's scale."""
    one, whole = facts.fact("cooling.stage1_h"), facts.fact("cooling.total_h")
    hot, warm, cold = facts.fact("hot_hold_min_f").value, figure("cooling.stage_end_f").value, figure("cooling.cold_end_f").value
    return f"{one.value:g} hours from {degrees(recipe, hot, warm)} and {whole.value:g} in all to {degrees(recipe, cold)} ({named(_COOLING)})"


def plain_two_steps(recipe: Recipe) -> str:
    """A cool-down as a cook would write it into this page."""
    one, whole = facts.fact("cooling.stage1_h").value, facts.fact("cooling.total_h").value
    hot, warm, cold = facts.fact("hot_hold_min_f").value, figure("cooling.stage_end_f").value, figure("cooling.cold_end_f").value
    both = f"{round(units.celsius(hot))} to {round(units.celsius(warm))} °C" if metric(recipe) else f"{hot:.0f} to {warm:.0f} F"
    return f"Cool from {both} in {one:g} hours, and to {plain_degrees(recipe, cold)} in {whole - one:g} hours more; write down both."


def cold_smoked(process: Process) -> bool:
    """Smoked in air that does not cook, and not cooked afterwards."""
    air = process.smoke_temperature
    return air is not None and process.cook is None and air.high <= facts.fact("cold_smoke_max_f").value
