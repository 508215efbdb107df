"""Brine: how strong, how dense, how much salt water holds."""

from __future__ import annotations

from math import inf

from overhaul.span import Span, corners
from overhaul.sums.finite import finite

# 100 degrees salometer is brine saturated at 60 °F; the scale is linear in percent by weight.
PERCENT_PER_DEGREE = 0.26395


def strength(salt: float, *others: float) -> float:
    """Salt in a finished brine, percent by weight: 100 · salt / (salt + everything else dissolved or poured).

    ``salt`` : pure salt, the curing salt's own included, gram. ``others`` : water, ice, other liquid, sugar,
    agents, gram. Raises ValueError when nothing is there. Source: definition; salometer-table column "percent".
    """
    whole = salt + sum(others)
    if not 0 < whole < inf:
        raise ValueError("no brine")
    return finite(100 * salt / whole)


def salometer(percent: float) -> float:
    """Degrees salometer of a brine of ``percent`` salt by weight at 60 °F. Source: salometer-table."""
    return finite(percent / PERCENT_PER_DEGREE)


def gram_per_litre_of_water(percent: float, water_density: float = 999.017) -> float:
    """Salt to dissolve in one litre of water, gram, for a brine of ``percent`` by weight.

    ``water_density`` : kg/m3, at 60 °F. Raises ValueError at 100 % and more. Source: salometer-table.
    """
    if not percent < 100:
        raise ValueError("no water in it")
    return finite(percent / (100 - percent) * water_density)


def specific_gravity(percent: float) -> float:
    """Specific gravity at 60 °F of a plain salt brine, 0 to 26.4 percent. A fit to laliberte, within 0.0001."""
    return finite(1 + percent * (0.007077 + percent * (2.5959e-05 - 6.3628e-08 * percent)))


def strength_span(salt: Span, others: Span) -> Span:
    """``strength`` over spans, gram."""
    return corners(strength, salt, others)


def percent_of_water(percent: float) -> float:
    """Percent of the water's weight that makes a brine of ``percent`` by weight. Raises ValueError at 100 % and more."""
    if not percent < 100:
        raise ValueError("no water in it")
    return finite(100 * percent / (100 - percent))


def percent_of_brine(of_water: float) -> float:
    """Percent of the finished brine, from percent of the water's weight; the other way round from ``percent_of_water``."""
    if not of_water > -100:
        raise ValueError("no water in it")
    return finite(100 * of_water / (100 + of_water))


def fullness(salt: float, water: float, saturation: float) -> float:
    """Salt over all the salt that the water holds; above 1 some stays undissolved.

    ``salt``, ``water`` : gram; sugar is neither, so that it hides nothing. ``saturation`` : percent by weight of a
    saturated brine. Raises ValueError without water, or for a saturation that is none. Source: kaufmann.
    """
    if not water > 0:
        raise ValueError("no water")
    if not 0 < saturation < 100:
        raise ValueError("no saturation")
    return finite(salt / water * (100 - saturation) / saturation)
