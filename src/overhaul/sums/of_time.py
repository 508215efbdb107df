"""How far the cure has come: days until it is in the middle, and the nitrite there is after the stated days."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import inf
from typing import TYPE_CHECKING

from msgspec import Struct

from overhaul import facts
from overhaul.findings import Cite
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS
from overhaul.span import Span, corners, exactly
from overhaul.sums import penetration, salting
from overhaul.sums.of_brine import all_salt
from overhaul.sums.of_cure import agent_held
from overhaul.sums.piece import SLAB as PLAIN
from overhaul.sums.piece import shape_of
from overhaul.sums.trade import trade_days
from overhaul.sums.work import FIGURE_WORDS
from overhaul.sums.worked import CannotTell, Input, Sum, figure, round_, total

if TYPE_CHECKING:
    from overhaul.sums.work import Sums

_SPECIES_WATER = {
    "beef": "beef", "venison": "beef", "lamb": "beef", "pork": "pork", "turkey": "poultry", "chicken": "poultry", "duck": "poultry",
    "goose": "poultry", "fish": "fish",
}  # fmt: skip
SLAB = Cite("crank", "slab in a limited bath")


class Bath(Struct, frozen=True):
    """Gram of water in the bath and in the meat, and the water share of the green meat."""

    water: Span
    in_meat: Span
    share: float


def bath(sums: Sums) -> Bath:
    """The water that the cure shares out over, worked once; a dry cure has a bath of no water."""
    if sums.kept.bath is None:
        sums.kept.bath = _bath(sums)
    return sums.kept.bath


def _bath(sums: Sums) -> Bath:
    green, share = sums.stated_meat(), water_share(sums)
    wet = sums.weights("water", "ice", "liquid", "acid") if sums.method in ("immersion", "pumped-immersion") else []
    return Bath(total(wet), corners(lambda gram: gram * share, green.value), share)


def water_share(sums: Sums) -> float:
    """Water in the green meat, as a share of its weight."""
    meat = sums.recipe.process.meat
    kind = _SPECIES_WATER.get(meat.species or "", "beef") if meat is not None else "beef"
    if meat is not None and meat.cut == "pork_belly_whole":
        kind = "belly"
    return facts.fact(f"water_share.{kind}").value


def salt_speed(sums: Sums) -> str:
    """The figure of ``facts`` for how fast salt moves in this meat."""
    meat = sums.recipe.process.meat
    return "diffusion.salt_fish" if meat is not None and meat.species == "fish" else "diffusion.salt"


def celsius(sums: Sums) -> float:
    """°C that it cures at: the page's, else the house sheet's cooler, else a usual one."""
    fact = sums.recipe.process.cure_temperature
    if fact is not None:
        return units.celsius(fact.span.likely)
    if sums.house.cooler is not None:
        return units.celsius(sums.house.cooler.likely)
    return units.celsius(facts.fact("cooler_temperature").value)


def thickness(sums: Sums) -> Input:
    """Of the meat, millimetre."""
    meat = sums.recipe.process.meat
    if meat is None or meat.thickness is None:
        raise CannotTell("the page does not say how thick the meat is")
    return Input("thickness", meat.thickness, "millimetre", meat.line, meat.thickness_stated)


def stay(sums: Sums) -> Input:
    """Days that it cures."""
    fact = sums.recipe.process.cure_time
    if fact is None:
        raise CannotTell("the page does not say how long it cures")
    day = units.size(fact.unit) / 24
    span = fact.span
    return Input("days", Span(span.low * day, span.likely * day, span.high * day), "day", fact.line)


def speed(sums: Sums, name: str) -> Input:
    """How fast something moves in meat, m²/s at 4 °C."""
    return Input(FIGURE_WORDS[name], sums.published(name), "m2/s", None, False, facts.fact(name).source)


def open_at(sums: Sums, found: float, typical: float) -> float:
    """How open the second face is taken to be when cure moves at the speed ``found``."""
    openness, _ = sums.openness()
    return openness[0] if found > typical else openness[2] if found < typical else openness[1]


def needle_note(sums: Sums) -> tuple[str, ...]:
    """What is assumed where the needle carries some of the cure and the page does not say how much."""
    lacking = sums.method == "pumped-immersion" and sums.recipe.process.pump is None
    return ("what the needle carries is not counted; the page does not say how much",) if lacking else ()


def share_after(
    sums: Sums, solute: Span, name: str, curve: Callable[[float, float], float], of_green: bool = False, only: float | None = None,
    after_days: Span | None = None,
) -> Span:  # fmt: skip
    """Gram of solute per gram of water in the meat after the stay, as ``curve`` has it; ``name`` is the speed's.

    ``of_green`` : per gram of the green meat's own water instead, which is the same unless brine was pumped in.
    ``only`` : at this one speed. ``after_days`` : instead of the stay that the page tells.
    """
    thick, around = thickness(sums).value, bath(sums)
    days = after_days if after_days is not None else stay(sums).value
    factor = penetration.temperature_factor(celsius(sums))
    typical = facts.fact(name).value
    pump = sums.recipe.process.pump if sums.method == "pumped-immersion" else None
    pickle = sums.need("brine_mass").value.likely if pump is not None else 0.0

    def reached(days: float, speed: float, mm: float) -> float:
        return penetration.theta(days, penetration.path(mm / 1000, open_at(sums, speed, typical)), speed * factor)

    def after(bath_g: float, meat_g: float, theta: float, gain: float) -> float:  # of one gram
        driven = min(1.0, gain / 100 * meat_g / around.share / pickle) if gain else 0.0  # of the pickle, by the needle
        water = meat_g + driven * bath_g
        start = driven / water
        level = salting.per_water_at_rest(1.0, bath_g, meat_g)
        found = start + (level - start) * curve(theta, (1 - driven) * bath_g / water)
        return found * water / meat_g if of_green else found

    speeds = exactly(only) if only is not None else sums.published(name)
    # Days, speed and thickness act through theta alone, which goes one way with each of them.
    theta = Span(reached(days.low, speeds.low, thick.high), reached(days.likely, speeds.likely, thick.likely), reached(days.high, speeds.high, thick.low))
    share = corners(after, around.water, around.in_meat, theta, pump.span if pump is not None else exactly(0.0))
    return Span(solute.low * share.low, solute.likely * share.likely, solute.high * share.high)


def _ppm_after(sums: Sums, curve: Callable[[float, float], float], of_green: bool = False) -> tuple[Span, Input]:
    """Nitrite after the stay, ppm of green weight, and the stay."""
    share, days = bath(sums).share, stay(sums)
    per_water = share_after(sums, agent_held(sums, "nitrite").gram, "diffusion.nitrite", curve, of_green)
    return Span(*(salting.ppm_of_green(c, share) for c in (per_water.low, per_water.likely, per_water.high))), days


def middle_by(sums: Sums, days: float) -> Span:
    """Nitrite in the middle of the piece after so many days, ppm of green weight: ``nitrite_middle`` at another time. Raises CannotTell."""
    per_water = share_after(sums, agent_held(sums, "nitrite").gram, "diffusion.nitrite", shape_of(sums).middle, after_days=exactly(days))
    share = bath(sums).share
    return Span(*(salting.ppm_of_green(c, share) for c in (per_water.low, per_water.likely, per_water.high)))


def _estimate(sums: Sums) -> Sum:
    held = agent_held(sums, "nitrite")
    if sums.method not in ("immersion", "pumped-immersion"):
        raise CannotTell("no bath: all of it goes into the meat")
    value, days = _ppm_after(sums, shape_of(sums).uptake, of_green=True)
    given = (*held.inputs, *sums.stated_meat().inputs, days, speed(sums, "diffusion.nitrite"))
    return Sum(
        "nitrite_estimate", value, "ppm", "mean in the meat after the stated days, by diffusion from a limited bath", given,
        (*held.assumed, *needle_note(sums)), (SLAB, facts.fact("diffusion.nitrite").cite),
    )  # fmt: skip


def _middle(sums: Sums) -> Sum:
    held = agent_held(sums, "nitrite")
    if sums.method.startswith("pumped"):
        raise CannotTell("pumped: the needle carries the cure to the middle")
    value, days = _ppm_after(sums, shape_of(sums).middle)
    given = (*held.inputs, days, speed(sums, "diffusion.nitrite"))
    return Sum(
        "nitrite_middle", value, "ppm", "in the middle of the piece after the stated days", given, held.assumed,
        (SLAB, facts.fact("diffusion.nitrite").cite),
    )  # fmt: skip


class _Level(Struct, frozen=True):
    """What has to reach the middle: how full at rest, how much of that for least, typical and most days, how fast it moves, and what it rests on."""

    inputs: tuple[Input, ...]
    alpha: float
    level: float
    wanted: Span
    speed: str  # the figure of ``facts``
    words: str
    assumed: tuple[str, ...]


def _level(sums: Sums) -> _Level:
    """Of nitrite by the colour it makes, else of salt by its share; all inputs but the speed and the target at their likely."""
    if sums.get("meat_mass") is not None and sums.need("meat_mass").inputs[0].stated:
        around = bath(sums)
        water, in_meat, share = around.water.likely, around.in_meat.likely, around.share
        open_end: tuple[str, ...] = ()
    else:
        # Without a weight the bath is taken as one that never weakens, which is the fewest days that this brine can need.
        share, water, in_meat = water_share(sums), total(sums.weights("water", "ice", "liquid", "acid")).likely, 0.0
        if sums.method != "immersion" or water <= 0:
            raise CannotTell("the page does not say how much meat")
        open_end = ("so little meat that the brine does not weaken; the page gives no weight",)
    alpha = water / in_meat if in_meat > 0 else inf
    bathing = Input("bath water to meat water", exactly(alpha), "ratio", None, False) if in_meat > 0 else None
    try:
        held = agent_held(sums, "nitrite")
    except CannotTell:
        if _brings_nitrite(sums):
            raise
        all_of, _ = all_salt(sums)
        percent = salting.percent_of_meat(salting.per_water_at_rest(all_of.likely, water, in_meat), share)
        given = (Input("salt when all is level", exactly(percent), "percent", None, False),)
        wanted = facts.table("sums")["salt.middle_share"].span
        words = "time for 25, 50, 80 % of the level of salt to reach the middle by diffusion, fastest to slowest"
        return _Level((*given, *([bathing] if bathing else [])), alpha, 1.0, wanted, salt_speed(sums), words, open_end)
    level = salting.ppm_of_green(salting.per_water_at_rest(held.gram.likely, water, in_meat), share)
    colour = facts.fact("colour_ppm")
    if level < colour.value:
        raise CannotTell(f"only {round_(level)} ppm nitrite when all is level: too little to ask after days")
    given = (Input("nitrite when all is level", exactly(level), "ppm", None, False),)
    words = "time for 14, 40, 50 ppm nitrite to reach the middle by diffusion, fastest to slowest"
    return _Level((*given, *([bathing] if bathing else [])), alpha, level, sums.published("colour_ppm"), "diffusion.nitrite", words, (*held.assumed, *open_end))


def _brings_nitrite(sums: Sums) -> bool:
    return any(item.role != "nitrate" for item in sums.items(*CURING_SALTS))


def _days_to_middle(sums: Sums) -> Sum:
    if sums.method == "pumped":
        return _between_needles(sums)
    thick = thickness(sums)
    what = _level(sums)
    open_, why = sums.openness()
    shape, degrees, moves = shape_of(sums), celsius(sums), sums.published(what.speed)
    days = penetration.days_to_middle(
        thick.value.likely / 1000, what.level, what.alpha, degrees, (moves.low, moves.likely, moves.high),
        (what.wanted.low, what.wanted.likely, what.wanted.high), open_, shape.theta_for,
    )  # fmt: skip
    untold = () if thick.stated else (f"a typical piece is {figure(thick.value, 'millimetre')} thick; the page does not say",)
    assumed = (*what.assumed, *untold, why if shape is PLAIN else shape.words, f"cured at {degrees:.0f} °C")
    beside = trade_days(sums)
    if sums.method == "pumped-immersion":
        needled = _between_needles(sums)
        days = min(days[0], needled.value.low), min(days[1], needled.value.likely), min(days[2], needled.value.high)
        assumed, beside = (*assumed, *needled.assumed), (needled, *beside)
    return Sum("days_to_middle", Span(*days), "day", what.words, (thick, *what.inputs, speed(sums, what.speed)), assumed, (SLAB, facts.fact(what.speed).cite), beside=beside)


def _between_needles(sums: Sums) -> Sum:
    """Brine pumped in all through has only the way from needle to needle to go."""
    name = "diffusion.nitrite" if _brings_nitrite(sums) else salt_speed(sums)
    moves, spacing, shares = sums.published(name), facts.table("sums")["needle.spacing"], facts.table("sums")["needle.share"]
    degrees = celsius(sums)
    days = penetration.days_between_needles(
        spacing.value / 1000, degrees, (moves.low, moves.likely, moves.high), (shares.low, shares.value, shares.high)
    )
    given = Input("from needle to needle", spacing.span, "millimetre", None, False, spacing.source)
    assumed = (f"pumped all through, a needle every {round_(spacing.value)} mm; the page does not say", f"at {degrees:.0f} °C")
    words = "time until pockets of pumped brine are 50, 80, 90 % even midway between needles, fastest to slowest"
    return Sum("days_to_middle", Span(*days), "day", words, (given, speed(sums, name)), assumed, (SLAB, facts.fact(name).cite))


SUMS: Mapping[str, Callable[[Sums], Sum]] = {"days_to_middle": _days_to_middle, "nitrite_estimate": _estimate, "nitrite_middle": _middle}
