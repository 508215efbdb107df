"""Heat: what hot brine and ice come to, and how fast cooked meat cools."""

from __future__ import annotations

from math import inf

from overhaul.sums.finite import finite

LATENT = 333.4  # kJ/kg, iapws, ice at 0 °C
ICE = 2.03  # kJ/kg K, iapws, mean from -18 to 0 °C
WATER = 4.19  # kJ/kg K, iapws


def brine_heat_capacity(percent: float) -> float:
    """kJ/kg K of a salt brine of ``percent`` by weight, 0 to 26; a fit to laliberte, 4 to 80 °C, within 0.04."""
    return finite(4.19 + percent * (-0.0535 + 0.00075 * percent))


def freezing_point(percent: float) -> float:
    """°C at which ice forms in a salt brine of ``percent`` by weight, 0 to 23.3; a fit to the handbook's table, within 0.03."""
    return finite(-percent * (0.59685 + percent * (0.00021 + 0.000558 * percent)))


def mixed_temperature(hot: float, hot_c: float, cold: float, cold_c: float, ice: float, ice_c: float, salt_percent: float) -> float:
    """°C of hot liquid, cold liquid and ice stirred together, nothing lost to pot or room.

    ``hot``, ``cold``, ``ice`` : kg. ``salt_percent`` : of the finished brine. Ice that does not melt holds the
    mix at its freezing point. (m_hot c T_hot + m_cold c T_cold − m_ice (L − c_ice T_ice)) / (m c).
    Raises ValueError when nothing is there.
    """
    whole = hot + cold + ice
    if not 0 < whole < inf:
        raise ValueError("nothing to mix")
    mixed = brine_heat_capacity(min(max(salt_percent, 0.0), 26.0))
    # All the salt is in what is not ice, so that part is stronger and holds less heat.
    strong = brine_heat_capacity(min(26.0, max(salt_percent, 0.0) * whole / max(hot + cold, 1e-9)))
    heat = (hot * hot_c + cold * cold_c) * strong - ice * (LATENT - ICE * ice_c)
    melted = heat / (whole * mixed)
    salt = salt_percent / 100 * whole
    if melted >= freezing_point(min(max(salt_percent, 0.0), 23.3)):
        return finite(melted)
    return _with_ice_left((hot * hot_c + cold * cold_c) * strong + ice * ICE * ice_c, hot + cold, ice, salt)


def _with_ice_left(heat: float, liquid: float, ice: float, salt: float) -> float:
    """The freezing point of the liquid part when only some of the ice melts, or some freezes. ``heat`` : kJ above 0 °C, nothing melted."""
    # Much very cold ice freezes some of the liquid to itself: less than nothing melts, down to the strongest brine there is.
    low, high = min(0.0, salt / 0.233 - liquid), ice
    for _ in range(40):
        melted = (low + high) / 2
        percent = min(100 * salt / max(liquid + melted, 1e-9), 23.3)
        point = freezing_point(percent)
        spent = melted * LATENT + ((liquid + melted) * brine_heat_capacity(percent) + (ice - melted) * ICE) * point
        if spent < heat:
            low = melted
        else:
            high = melted
    return freezing_point(min(100 * salt / max(liquid + low, 1e-9), 23.3))


def ratio(allowed: float, stated: float) -> float:
    """Allowed time over stated time; 1 and more is within. Raises ValueError for no time."""
    if not stated > 0:
        raise ValueError("no time")
    return finite(allowed / stated)
