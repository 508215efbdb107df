"""How far cure gets into meat: diffusion into a slab from a bath that weakens.

Source: crank, chapters 4 to 6 (limited, mixed bath). Everything per kilogram of water, so that at rest the water
in the meat is as strong as the bath. theta = D t / l², alpha = water in the bath / water in the meat.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from functools import lru_cache
from math import atan, cos, erfc, exp, inf, pi, sqrt

_ROOTS = 14
_EARLY = 0.05
GAS_CONSTANT = 8.314462618
_KELVIN_AT_4C = 277.15


def erfcx(z: float) -> float:
    """exp(z²) erfc(z), for z from 0 up."""
    if z < 25:
        return exp(z * z) * erfc(z)
    return (1 - 1 / (2 * z**2) + 3 / (4 * z**4) - 15 / (8 * z**6)) / (z * sqrt(pi))


@lru_cache(maxsize=512)
def roots(alpha: float) -> tuple[float, ...]:
    """The first roots of tan q = −alpha q, one in each ((k − ½)π, kπ)."""
    found = []
    for k in range(1, _ROOTS + 1):
        q = (k - 0.25) * pi
        for _ in range(60):
            step = (q - k * pi + atan(alpha * q)) / (1 + alpha / (1 + (alpha * q) ** 2))
            q -= step
            if abs(step) < 1e-15 * q:
                break
        found.append(q)
    return tuple(found)


def uptake(theta: float, alpha: float) -> float:
    """Mean in the slab as a share of its equilibrium value, 0 to 1. ``alpha`` may be infinite."""
    if theta <= 0:
        return 0.0
    if alpha == 0:
        return 1.0
    if alpha == inf:
        if theta < _EARLY:
            return 2 * sqrt(theta / pi)  # ierfc of 1/sqrt(theta) is below 1e-10 here
        return 1.0 - 8 / pi**2 * float(sum(exp(-n * n * pi * pi * theta / 4) / n**2 for n in range(1, 40, 2)))
    if theta < _EARLY:
        return min(1.0, (1 + alpha) * (1 - erfcx(sqrt(theta) / alpha)))
    total = 0.0
    for q in roots(alpha):
        power = q * q * theta
        if power > 40:
            break
        total += 2 * alpha * (1 + alpha) / (1 + alpha + (alpha * q) ** 2) * exp(-power)
    return 1 - total


def middle(theta: float, alpha: float) -> float:
    """The middle of the slab as a share of its equilibrium value, 0 to 1."""
    if theta < 3.5e-4:
        return 0.0
    if alpha == inf:
        if theta < _EARLY:
            return 2 * erfc(1 / (2 * sqrt(theta)))
        total: float = sum((-1) ** ((n - 1) // 2) * exp(-n * n * pi * pi * theta / 4) / n for n in range(1, 40, 2))
        return 1 - 4 / pi * total
    if alpha == 0:
        if theta < _EARLY:
            return 2 * exp(-1 / (4 * theta)) / sqrt(pi * theta)
        return 1.0 + 2 * float(sum((-1) ** n * exp(-n * n * pi * pi * theta) for n in range(1, 20)))
    if theta < _EARLY:
        h = 1 / alpha
        return 2 * (1 + h) * exp(-1 / (4 * theta)) * erfcx(h * sqrt(theta) + 1 / (2 * sqrt(theta)))
    total = 0.0
    for q in roots(alpha):
        power = q * q * theta
        if power > 40:
            break
        total += 2 * (1 + alpha) / ((1 + alpha + (alpha * q) ** 2) * cos(q)) * exp(-power)
    return 1 + total


def bath(theta: float, alpha: float) -> float:
    """The bath, and so the surface, as a share of the equilibrium value; it starts at 1 + 1/alpha."""
    return 1 + (1 - uptake(theta, alpha)) / alpha


def _inverse(curve: Callable[[float, float], float], share: float, alpha: float) -> float:
    low, high = 0.0, 1.0
    while curve(high, alpha) < share and high < 1e4:
        high *= 2
    for _ in range(60):
        theta = (low + high) / 2
        if curve(theta, alpha) < share:
            low = theta
        else:
            high = theta
    return (low + high) / 2


@lru_cache(maxsize=1024)
def theta_for_middle(share: float, alpha: float) -> float:
    """theta at which the middle reaches ``share`` of equilibrium. Raises ValueError outside 0 to 1."""
    if not 0 < share < 1:
        raise ValueError("share must lie between 0 and 1")
    return _inverse(middle, share, alpha)


@lru_cache(maxsize=1024)
def theta_for_uptake(share: float, alpha: float) -> float:
    """theta at which the mean reaches ``share`` of equilibrium. Raises ValueError outside 0 to 1."""
    if not 0 < share < 1:
        raise ValueError("share must lie between 0 and 1")
    return _inverse(uptake, share, alpha)


def temperature_factor(celsius: float, activation: float = 25_000.0) -> float:
    """D at ``celsius`` over D at 4 °C; ``activation`` in J/mol."""
    return exp(-activation / GAS_CONSTANT * (1 / (celsius + 273.15) - 1 / _KELVIN_AT_4C))


def path(thickness: float, openness: float) -> float:
    """Path length, metre: ``thickness`` in metre, ``openness`` of the second face 0 (sealed) to 1 (bare)."""
    return thickness / (1 + openness)


def days_for(share: float, alpha: float, length: float, diffusion: float) -> float:
    """Days until the middle reaches ``share``: path ``length`` in metre, ``diffusion`` in m²/s."""
    return theta_for_middle(share, alpha) * length**2 / diffusion / 86_400


def days_to_middle(thickness: float, equilibrium_ppm: float, alpha: float, celsius: float, diffusion: tuple[float, float, float], targets: tuple[float, float, float], openness: tuple[float, float, float] = (1, 1, 1)) -> tuple[float, float, float]:
    """Least, typical and most days for cure to reach the middle of a slab ``thickness`` metre thick.

    ``diffusion`` : slowest, typical, fastest at 4 °C, m²/s. ``targets`` : least, typical, most ppm in the middle,
    never more than 0.9 of ``equilibrium_ppm``. ``openness`` : of the second face, for least, typical and most.
    Raises ValueError when there is nothing to reach. Checked against our own table of 22 worked rows.
    """
    if equilibrium_ppm <= 0 or thickness <= 0:
        raise ValueError("nothing to reach")
    factor = temperature_factor(celsius)
    slow, typical, fast = (value * factor for value in diffusion)
    days = [
        days_for(min(target, 0.9 * equilibrium_ppm) / equilibrium_ppm, alpha, path(thickness, open_), speed)
        for target, open_, speed in zip(targets, openness, (fast, typical, slow), strict=True)
    ]
    return days[0], max(days[0], days[1]), max(days)


def theta(days: float, length: float, diffusion: float) -> float:
    """Dimensionless time after ``days`` over a path of ``length`` metre."""
    return diffusion * days * 86_400 / length**2


def sequence(stages: list[tuple[float, float, float]], start: float = 0.0, parts: int = 14) -> list[float]:
    """Mean in a slab after each of several baths, in the unit of the baths' strength.

    ``stages`` : (fresh bath strength, alpha, theta of the stage); alpha may be infinite. ``start`` : even strength
    before. Superposition of surface steps; within 0.003 of a finite-volume solution.
    """
    jumps: list[tuple[float, float]] = []  # (time, change of surface)
    time, surface, mean = 0.0, start, start
    means = []
    for strength, alpha, length in stages:
        base, level = mean, strength
        if alpha == inf:
            jumps.append((time, strength - surface))
            surface = strength
            time += length
            mean = start + sum(change * uptake(time - when, inf) for when, change in jumps)
            means.append(mean)
            continue
        edges = [length * (k / parts) ** 2 for k in range(parts + 1)]
        for begin, end in itertools.pairwise(edges):
            step = end - begin
            now = time + end
            known = start + sum(change * uptake(now - when, inf) for when, change in jumps)
            first = uptake(step, inf)
            wanted = 0.5 * (level + strength + (base - known + surface * first) / alpha) / (1 + 0.5 * first / alpha)
            jumps.append((time + begin, wanted - surface))
            surface = wanted
            mean = start + sum(change * uptake(now - when, inf) for when, change in jumps)
            level = strength - (mean - base) / alpha
        time += length
        means.append(mean)
    return means
