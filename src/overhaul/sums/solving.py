"""The sums turned round: what to weigh out for a wanted figure. Grams, litres, °C, days; percent by weight; ppm of green weight.

Each answer put into the sum that it inverts gives the wanted figure again; ``weighable`` is what a scale can show of it. An answer
that would be less than nothing is refused, never cut to 0. None of them says that a figure is a good one.
"""

from __future__ import annotations

from math import floor, inf

from msgspec import Struct

from overhaul.sums import chilling, nitrite, penetration, salting
from overhaul.sums.finite import finite


class Exchange(Struct, frozen=True):
    """``cure`` gram of the other curing salt, and ``salt_off`` gram of table salt to take off (below 0: to add)."""

    cure: float
    salt_off: float


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


def salt_in_proportion(percent: float, found: float, whole: float, brought: float = 0.0) -> float:
    """Table salt, gram, for ``percent`` by a sum that has ``found`` percent of ``whole`` gram of salt in all, and goes up with it.

    ``brought`` : as in ``salt_for_meat``. Near enough to be worked forward again, and no more: percent of salted meat is not quite straight.
    Source: definition.
    """
    _some(found=found, salt=whole)
    return _left(whole * percent / found - brought, "the curing salt")


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
    ice = penetration.crossing(over, low, high)
    if wanted < chilling.freezing_point(min(100 * salt / (liquid + ice), 23.3)):
        raise ValueError("no ice makes it that cold")
    return ice
