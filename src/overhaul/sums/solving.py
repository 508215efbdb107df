"""The sums turned round: what to weigh out for a wanted figure. Grams, litres, °C, days; percent by weight; ppm of green weight.

Each answer put into the sum that it inverts gives the wanted figure again; ``weighable`` is what a scale can show of it. An answer
that would be less than nothing is refused, never cut to 0. None of them says that a figure is a good one.
"""

from __future__ import annotations

from math import ceil, floor, inf

from msgspec import Struct

from overhaul.sums import chilling, nitrite, penetration, salting
from overhaul.sums.brine import specific_gravity
from overhaul.sums.finite import finite

_WATER_DENSITY = 999.0  # g a litre at 60 °F, as in vessel.litres


class Exchange(Struct, frozen=True):
    """``cure`` gram of the other curing salt, and ``salt_off`` gram of table salt to take off (below 0: to add)."""

    cure: float
    salt_off: float


class Cover(Struct, frozen=True):
    """A brine that covers: gram of ``water``, table ``salt`` and curing salt, and the ``litres`` they come to."""

    water: float
    salt: float
    cure: float
    litres: float


def weighable(gram: float, step: float) -> float:
    """``gram`` to the nearest ``step`` of a scale (1, 0.1, 5 g), half a step up. Raises ValueError below 0, or without a step."""
    if not (0 < step < inf and 0 <= gram < inf):
        raise ValueError("nothing to weigh")
    return finite(round(floor(finite(gram / step) + 0.5) * step, 9))


def _left(gram: float, what: str) -> float:
    """``gram``, which may not be less than nothing; a hair under 0 is 0."""
    if not gram > -1e-9:
        raise ValueError(f"{what} brings more than is wanted")
    return finite(max(gram, 0.0))


def _strong(percent: float) -> float:
    """A curing salt's ``percent`` as a share. Raises ValueError for next to nothing, or above 100."""
    if not 1e-6 <= percent <= 100:
        raise ValueError("a curing salt holds more than nothing and at most 100 percent")
    return percent / 100


def _some(**figures: float) -> None:
    for name, figure in figures.items():
        if not 0 < figure < inf:
            raise ValueError(f"no {name}")


def salt_for_meat(percent: float, water: float, green: float, share: float, brought: float = 0.0) -> float:
    """Table salt, gram, in a brine of ``water`` gram that levels out at ``percent`` of the salted meat.

    ``green`` : meat, gram; ``share`` : its water fraction. ``brought`` : salt that comes with the curing salt, gram. Inverts
    salting.per_water_at_rest and salting.percent_of_meat: p / (100 − p) / w · (water + w green) − brought. Raises ValueError when the
    curing salt brings more already. Source: definition; everything per water, crank.
    """
    _some(percent=percent, meat=green)
    if not water >= 0:
        raise ValueError("no water")
    return _left(salting.salt_for_level(percent, water, share * green, share) - brought, "the curing salt")


def salt_for_brine(percent: float, others: float, brought: float = 0.0) -> float:
    """Table salt, gram, for a finished brine of ``percent``.

    ``others`` : all that is not salt (water, ice, sugar, agents), gram. ``brought`` : as in ``salt_for_meat``. Inverts brine.strength: p / (100 − p) ·
    others − brought. Raises ValueError at 100 percent and more. Source: definition.
    """
    _some(others=others)
    if not 0 <= percent < 100:
        raise ValueError("no water in it")
    return _left(percent / (100 - percent) * others - brought, "the curing salt")


def cure_for_direct(ppm: float, green: float, strength: float) -> float:
    """Curing salt of ``strength`` percent, gram, rubbed on or mixed into ``green`` gram, for ``ppm``.

    Inverts nitrite.direct. Source: inspectors-handbook.
    """
    _some(ppm=ppm, meat=green)
    return finite(nitrite.agent_for_direct(ppm, green) / _strong(strength))


def cure_for_equilibrium(ppm: float, green: float, others: float, strength: float) -> float:
    """Curing salt of ``strength`` percent, gram, for ``ppm`` with meat and pickle as one system.

    ``others`` : the pickle without its curing salt, gram; the curing salt weighs in it too, so that
    x = ppm (green + others) / (1,000,000 s − ppm). Inverts nitrite.equilibrium. Raises ValueError for a curing salt too weak.
    Source: inspectors-handbook.
    """
    _some(ppm=ppm, meat=green, pickle=others)
    return _of_itself(ppm, green + others, nitrite.MILLION * _strong(strength))


def cure_for_pump(ppm: float, pump: float, others: float, strength: float) -> float:
    """Curing salt of ``strength`` percent, gram, in a pickle of ``others`` gram besides, for ``ppm`` at a gain of ``pump``.

    ``pump`` : fraction of green weight. x = ppm · others / (1,000,000 s pump − ppm). Inverts nitrite.pumped, and so the method of
    immersion by pick-up. Raises ValueError for a curing salt too weak. Source: inspectors-handbook.
    """
    _some(ppm=ppm, pump=pump, pickle=others)
    return _of_itself(ppm, others, nitrite.MILLION * _strong(strength) * pump)


def cure_for_dry_mix(ppm: float, applied: float, others: float, strength: float) -> float:
    """Curing salt of ``strength`` percent, gram, in a rub of ``others`` gram besides, for ``ppm``.

    ``applied`` : how much of the rub is used, as a fraction of green weight. The form of ``cure_for_pump``. Inverts nitrite.dry_mix. Source: inspectors-handbook.
    """
    return cure_for_pump(ppm, applied, others, strength)


def _of_itself(ppm: float, others: float, most: float) -> float:
    """x = ppm · others / (most − ppm): ``most`` is the ppm of the curing salt and nothing else."""
    if not most > ppm:
        raise ValueError("the curing salt is too weak for that")
    return finite(ppm * others / (most - ppm))


def other_cure(gram: float, strength: float, other: float, salt: float | None = None, other_salt: float | None = None) -> Exchange:
    """Another curing salt for the same nitrite: ``gram`` of one with ``strength`` percent against one with ``other`` percent.

    ``salt``, ``other_salt`` : percent table salt in each, all the rest unless told (a complete cure holds sugar, no. 2 nitrate).
    x = gram s / o; the salt it brings above the first's is to be taken off. Raises ValueError for a percentage that cannot be.
    Source: definition.
    """
    if not 0 <= gram < inf:
        raise ValueError("nothing to weigh")
    cure = finite(gram * _strong(strength) / _strong(other))
    holds, other_holds = 100 - strength if salt is None else salt, 100 - other if other_salt is None else other_salt
    if not (0 <= holds <= 100 - strength and 0 <= other_holds <= 100 - other):
        raise ValueError("more than 100 percent")
    return Exchange(cure, finite((cure * other_holds - gram * holds) / 100))


def ice_for_temperature(wanted: float, hot: float, hot_c: float, salt: float, ice_c: float = 0.0, cold: float = 0.0, cold_c: float = 15.0) -> float:
    """Ice, gram, that brings a boiled brine to ``wanted`` °C, all of it melted.

    ``hot`` : gram of hot liquid, ``salt`` gram dissolved in it being part of it; ``cold`` : gram of cold liquid added; ``ice_c`` : 0
    or below. Nothing is lost to pot or room. Inverts chilling.mixed_temperature: whole · c · T = heat − ice (L − c_ice T_ice). 0 when it is cold enough without.
    Raises ValueError for a temperature under the freezing point of the brine that it makes. Source: iapws, laliberte.
    """
    _some(brine=hot)
    if not (0 <= salt < hot and 0 <= cold < inf and ice_c <= 0):
        raise ValueError("no brine")
    liquid = hot + cold
    heat = finite((hot * hot_c + cold * cold_c) * chilling.brine_heat_capacity(min(26.0, 100 * salt / liquid)))
    takes = finite(chilling.LATENT - chilling.ICE * ice_c)

    def over(ice: float) -> float:
        whole = liquid + ice
        return heat - ice * takes - whole * chilling.brine_heat_capacity(min(26.0, 100 * salt / whole)) * finite(wanted)

    if over(0.0) <= 0:
        return 0.0
    low, high = 0.0, liquid
    while over(high) > 0:
        low, high = high, 2 * high
        if high > 1e6 * liquid:
            raise ValueError("no ice makes it that cold")
    for _ in range(200):
        ice = (low + high) / 2
        if over(ice) > 0:
            low = ice
        else:
            high = ice
        if high - low <= 1e-12 * high:
            break
    if wanted < chilling.freezing_point(min(100 * salt / (liquid + high), 23.3)):
        raise ValueError("no ice makes it that cold")
    return high


def days_for_thickness(thickness: float, share: float, alpha: float, celsius: float, diffusion: float, openness: float = 1.0) -> int:
    """Whole days until the middle of a slab ``thickness`` millimetre thick has ``share`` of its level.

    ``alpha`` : water in the bath over water in the meat. ``diffusion`` : m²/s at 4 °C. ``openness`` : of the second face, 0 sealed
    to 1 bare. Rounded up, so that the share is there on the last day and not yet the day before. Inverts penetration.middle. Source: crank.
    """
    _some(thickness=thickness)
    days = penetration.days_for(share, alpha, penetration.path(thickness / 1000, openness), diffusion * penetration.temperature_factor(celsius))
    return ceil(finite(days) - 1e-9)


def cover(litres: float, head_room: float, meat: float, percent: float, ppm: float, strength: float, pick_up: float | None = None, meat_density: float = 1055.0) -> Cover:
    """A brine that fills a tub of ``litres`` with ``meat`` gram in it, up to where the share ``head_room`` of the tub stays empty.

    ``percent`` : salt in the finished brine, the curing salt's own with it. ``ppm`` : by the curing salt of ``strength`` percent (the
    rest of it salt), as one system with the meat, or by ``pick_up`` (fraction of green weight). ``meat_density`` : kg/m3. Inverts
    vessel.litres, brine.strength and nitrite.equilibrium or nitrite.pumped. Raises ValueError when the meat does not go in, or the curing
    salt brings more salt than is wanted. Source: laliberte; inspectors-handbook.
    """
    _some(tub=litres, meat=meat, ppm=ppm, density=meat_density)
    if not 0 <= head_room < 1:
        raise ValueError("no room")
    if not 0 <= percent <= 26.4:
        raise ValueError("no brine is that strong")
    room = litres * (1 - head_room) - meat / meat_density
    if not room > 0:
        raise ValueError("the meat does not go in")
    brine = finite(room * _WATER_DENSITY * specific_gravity(percent))
    agent = nitrite.agent_for_equilibrium(ppm, meat, brine) if pick_up is None else nitrite.agent_for_pump(ppm, pick_up, brine)
    cure = finite(agent / _strong(strength))
    salt = _left(brine * percent / 100 - (cure - agent), "the curing salt")
    return Cover(_left(brine - salt - cure, "the salt"), salt, cure, room)
