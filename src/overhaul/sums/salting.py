"""Salt in the meat: shared out over water, then after the stated days, then as eaten."""

from __future__ import annotations

from overhaul.sums.finite import finite


def per_water_at_rest(solute: float, bath_water: float, meat_water: float) -> float:
    """Gram of ``solute`` per gram of water once meat and bath are level; all in gram. Raises ValueError without water."""
    water = bath_water + meat_water
    if not water > 0:
        raise ValueError("no water")
    return finite(solute / water)


def percent_of_meat(per_water: float, share: float) -> float:
    """Salt in percent of the salted meat: 100 c w / (1 + c w), ``share`` the water fraction of green meat."""
    if not per_water * share > -1:
        raise ValueError("no meat in it")
    return finite(100 * per_water * share / (1 + per_water * share))


def ppm_of_green(per_water: float, share: float) -> float:
    """Agent in ppm of green meat: 1,000,000 c w."""
    return finite(1_000_000 * per_water * share)


def percent_cooked(per_water: float, share: float) -> float:
    """Salt in percent of cooked meat: 100 c w, ``share`` the water fraction of the cooked meat."""
    return finite(100 * per_water * share)


def water_phase(salt: float, moisture: float) -> float:
    """Water-phase salt, percent: 100 · salt / (salt + moisture), both in percent."""
    if not salt + moisture > 0:
        raise ValueError("neither salt nor moisture")
    return finite(100 * salt / (salt + moisture))


def percent_pumped(pump: float, strength: float) -> float:
    """Salt in percent of the pumped meat: p s / (1 + p); ``pump`` percent of green weight, ``strength`` percent of the brine."""
    if not pump > -100:
        raise ValueError("no meat in it")
    return finite(pump * strength / (100 + pump))


def salt_for_level(percent: float, bath_water: float, meat_water: float, share: float) -> float:
    """Gram of salt that levels out at ``percent`` of the salted meat; the rest as in ``per_water_at_rest``. Raises ValueError at 100 % and more."""
    if not percent < 100 or not share > 0:
        raise ValueError("no meat in it")
    return finite(percent / (100 - percent) / share * (bath_water + meat_water))
