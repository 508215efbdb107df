"""How far cure gets into meat: diffusion into a slab from a bath that weakens.

Source: crank, chapters 4 to 6 (limited, mixed bath). Everything per kilogram of water, so that at rest the water
in the meat is as strong as the bath. theta = D t / l², alpha = water in the bath / water in the meat.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from functools import lru_cache
from math import atan, cos, erfc, exp, inf, isnan, pi, sqrt

from overhaul.sums.finite import finite

_ROOTS = 14
_AMPLE = 1e8  # a bath this many times the meat's water never weakens; beyond, 1 − erfcx loses more figures than the bath weakens
_SCANT = 1e-12
_EARLY = 0.05
_STILL_EARLY = 0.1  # the next image of the slab's far face adds 2e-18 of it
GAS_CONSTANT = 8.314462618
_KELVIN_AT_4C = 277.15
_QUARTER = pi * pi / 4
_TWO_OVER_ROOT_PI = 2 / sqrt(pi)


def erfcx(z: float) -> float:
    """exp(z²) erfc(z), for z from 0 up. Raises ValueError below."""
    if not z >= 0:
        raise ValueError("no time")
    if z < 25:
        return exp(z * z) * erfc(z)
    small = 1 / (z * z)
    return (1 - small * (1 / 2 - small * (3 / 4 - small * 15 / 8))) / (z * sqrt(pi))


def ierfc(z: float) -> float:
    """The integral of erfc from ``z`` up."""
    return finite(exp(-z * z) / sqrt(pi) - z * erfc(z))


@lru_cache(maxsize=512)
def roots(alpha: float) -> tuple[float, ...]:
    """The first roots of tan q = −alpha q, one in each ((k − ½)π, kπ). Raises ValueError for a bath without bounds."""
    if not 0 < alpha <= _AMPLE:
        raise ValueError("a bath has more than no water, and less than all")
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


def not_yet(theta: float) -> float:
    """Nothing yet. Raises ValueError for a time that is no figure."""
    if isnan(theta):
        raise ValueError("no time")
    return 0.0


def _scant(alpha: float) -> float:
    """All of it, from a bath without water of its own. Raises ValueError below 0."""
    if not alpha >= 0:
        raise ValueError("a bath has more than no water, and less than all")
    return 1.0


@lru_cache(maxsize=4096)
def uptake(theta: float, alpha: float) -> float:
    """Mean in the slab as a share of its equilibrium value, 0 to 1. ``alpha`` may be infinite, not below 0 (ValueError)."""
    if not theta > 0:
        return not_yet(theta)
    if not alpha > _SCANT:
        return _scant(alpha)
    if alpha > _AMPLE:
        return uptake_unweakened(theta)
    if theta < _EARLY:
        return min(1.0, (1 + alpha) * (1 - erfcx(sqrt(theta) / alpha)))
    total = 0.0
    for q in roots(alpha):
        power = q * q * theta
        if power > 40:
            break
        total += 2 * alpha * (1 + alpha) / (1 + alpha + (alpha * q) ** 2) * exp(-power)
    return 1 - total


@lru_cache(maxsize=4096)  # the corners of a span and the steps of a bath meet at the same moments again and again
def uptake_unweakened(theta: float) -> float:
    """``uptake`` from a bath that never weakens."""
    if not theta > 0.01:
        return _TWO_OVER_ROOT_PI * sqrt(theta) if theta > 0 else not_yet(theta)
    if theta < _STILL_EARLY:
        return _TWO_OVER_ROOT_PI * sqrt(theta) * (1 - 2 * sqrt(pi) * ierfc(1 / sqrt(theta)))
    rest, n = 0.0, 1
    while (power := _QUARTER * n * n * theta) < 40:
        rest += exp(-power) / (n * n)
        n += 2
    return 1.0 - 8 / pi**2 * rest


def middle(theta: float, alpha: float) -> float:
    """The middle of the slab as a share of its equilibrium value, 0 to 1. Raises ValueError for an ``alpha`` below 0."""
    if not theta >= 3.5e-4:
        return not_yet(theta)
    if alpha > _AMPLE:
        if theta < _EARLY:
            return 2 * erfc(1 / (2 * sqrt(theta)))
        total: float = sum((-1) ** ((n - 1) // 2) * exp(-n * n * pi * pi * theta / 4) / n for n in range(1, 40, 2))
        return 1 - 4 / pi * total
    if not alpha > _SCANT:
        _scant(alpha)
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
    """The bath, and so the surface, as a share of the equilibrium value; it starts at 1 + 1/alpha. Raises ValueError without a bath."""
    if not alpha > 0:
        raise ValueError("no bath")
    return finite(1 + (1 - uptake(theta, alpha)) / alpha)


def crossing(curve: Callable[[float], float], low: float, high: float) -> float:
    """Where ``curve`` is 0 between two ends of opposite sign: false position, the end that stays twice counted half."""
    under, over = curve(low), curve(high)
    at, side = high, 0
    for _ in range(60):
        if high - low < 1e-12 * high or over == under:
            break
        at = (low * over - high * under) / (over - under)
        found = curve(at)
        if abs(found) < 1e-12:
            break
        if (found < 0) == (under < 0):
            low, under = at, found
            over, side = (over / 2 if side < 0 else over), -1
        else:
            high, over = at, found
            under, side = (under / 2 if side > 0 else under), 1
    return at


def theta_at(curve: Callable[[float, float], float], share: float, alpha: float) -> float:
    """The theta at which a rising ``curve`` of theta and alpha has ``share``. Raises ValueError outside 0 to 1."""
    if not 0 < share < 1:
        raise ValueError("share must lie between 0 and 1")
    low, high = 0.0, 1.0
    while curve(high, alpha) < share and high < 1e4:
        low, high = high, high * 2
    return crossing(lambda theta: curve(theta, alpha) - share, low, high)


@lru_cache(maxsize=1024)
def theta_for_middle(share: float, alpha: float) -> float:
    """theta at which the middle reaches ``share`` of equilibrium. Raises ValueError outside 0 to 1."""
    return theta_at(middle, share, alpha)


@lru_cache(maxsize=1024)
def theta_for_uptake(share: float, alpha: float) -> float:
    """theta at which the mean reaches ``share`` of equilibrium. Raises ValueError outside 0 to 1."""
    return theta_at(uptake, share, alpha)


def temperature_factor(celsius: float, activation: float = 25_000.0) -> float:
    """D at ``celsius`` over D at 4 °C; ``activation`` in J/mol. Raises ValueError at no temperature at all."""
    if not celsius > -273.15:
        raise ValueError("colder than cold")
    return finite(exp(-activation / GAS_CONSTANT * (1 / (celsius + 273.15) - 1 / _KELVIN_AT_4C)))


def path(thickness: float, openness: float) -> float:
    """Path length, metre: ``thickness`` in metre, ``openness`` of the second face 0 (sealed) to 1 (bare). Raises ValueError below 0."""
    if not openness >= 0:
        raise ValueError("no openness")
    return finite(thickness / (1 + openness))


def days_for(share: float, alpha: float, length: float, diffusion: float, theta_for: Callable[[float, float], float] = theta_for_middle) -> float:
    """Days until the middle reaches ``share``: path ``length`` in metre, ``diffusion`` in m²/s. Raises ValueError without diffusion."""
    if not diffusion > 0:
        raise ValueError("no diffusion")
    return finite(theta_for(share, alpha) * length * length / diffusion / 86_400)


def days_to_middle(thickness: float, equilibrium_ppm: float, alpha: float, celsius: float, diffusion: tuple[float, float, float], targets: tuple[float, float, float], openness: tuple[float, float, float] = (1, 1, 1), theta_for: Callable[[float, float], float] = theta_for_middle) -> tuple[float, float, float]:
    """Least, typical and most days for cure to reach the middle of a slab ``thickness`` metre thick.

    ``diffusion`` : slowest, typical, fastest at 4 °C, m²/s. ``targets`` : least, typical, most ppm in the middle,
    never more than 0.9 of ``equilibrium_ppm``. ``openness`` : of the second face, for least, typical and most.
    ``theta_for`` : theta at which the middle of the shape has a share, of share and alpha.
    Raises ValueError when there is nothing to reach. Checked against our own table of 22 worked rows.
    """
    if not equilibrium_ppm > 0 or not thickness > 0:
        raise ValueError("nothing to reach")
    factor = temperature_factor(celsius)
    slow, typical, fast = (value * factor for value in diffusion)
    days = [
        days_for(min(target, 0.9 * equilibrium_ppm) / equilibrium_ppm, alpha, path(thickness, open_), speed, theta_for)
        for target, open_, speed in zip(targets, openness, (fast, typical, slow), strict=True)
    ]
    return days[0], max(days[0], days[1]), max(days)


def theta(days: float, length: float, diffusion: float) -> float:
    """Dimensionless time after ``days`` over a path of ``length`` metre. Raises ValueError without a path."""
    if not length * length > 0:
        raise ValueError("no path")
    return finite(diffusion * days * 86_400 / (length * length))


class Slab:
    """A slab that goes through one bath after another: superposition of steps of its surface.

    Strengths are in any one unit per water. ``start`` : even strength before the first bath. ``curve`` : uptake of the
    shape in a bath that never weakens, of dimensionless time (a slab unless told). Within 0.003 of finite volumes.
    """

    def __init__(self, start: float = 0.0, parts: int = 14, curve: Callable[[float], float] | None = None) -> None:
        self._start, self._parts = start, parts
        self._curve = curve or uptake_unweakened
        self._jumps: list[tuple[float, float]] = []  # (when, change of the surface)
        self._time, self._surface = 0.0, start
        self.mean = start

    def copy(self) -> Slab:
        """The same slab at the same moment, to go another way from here."""
        other = Slab(self._start, self._parts, self._curve)
        other._jumps = self._jumps.copy()
        other._time, other._surface, other.mean = self._time, self._surface, self.mean
        return other

    def into(self, strength: float, alpha: float, length: float, parts: int = 0) -> float:
        """The mean after ``length`` (dimensionless time) in a fresh bath of ``strength``; ``alpha`` may be infinite.

        ``parts`` : steps for this bath alone, where the bath is large enough for few.
        """
        if not length > 0:
            not_yet(length)
            return self.mean
        if not (alpha > 0 and -inf < strength < inf and length < inf):
            raise ValueError("no bath")
        if alpha > _AMPLE:
            self._jumps.append((self._time, strength - self._surface))
            self._surface = strength
            self._time += length
            self.mean = self._level(self._curve)
            return finite(self.mean)
        begin, base, level = self._time, self.mean, strength
        parts = parts or self._parts
        edges = [length * (k / parts) ** 2 for k in range(parts + 1)]
        for earlier, later in itertools.pairwise(edges):
            self._time = begin + later
            known = self._level(self._curve)
            first = self._curve(later - earlier)
            wanted = 0.5 * (level + strength + (base - known + self._surface * first) / alpha) / (1 + 0.5 * first / alpha)
            change = wanted - self._surface
            self._jumps.append((begin + earlier, change))
            self._surface = wanted
            self.mean = known + change * first
            level = strength - (self.mean - base) / alpha
        return finite(self.mean)

    def middle(self, curve: Callable[[float], float] | None = None) -> float:
        """The strength in the middle now; ``curve`` is the shape's own middle in a bath that never weakens."""
        return self._level(curve or (lambda time: middle(time, inf)))

    def _level(self, curve: Callable[[float], float]) -> float:
        now, level = self._time, self._start
        for when, change in self._jumps:
            level += change * curve(now - when)
        return level


def sequence(stages: list[tuple[float, float, float]], start: float = 0.0, parts: int = 14) -> list[float]:
    """Mean in a slab after each of several baths, in the unit of the baths' strength.

    ``stages`` : (fresh bath strength, alpha, theta of the stage); see ``Slab``.
    """
    slab = Slab(start, parts)
    return [slab.into(*stage) for stage in stages]


def days_between_needles(spacing: float, celsius: float, diffusion: tuple[float, float, float], shares: tuple[float, float, float]) -> tuple[float, float, float]:
    """Least, typical and most days until brine pumped in at an even ``spacing`` (metre) has evened out midway.

    ``diffusion`` : slowest, typical, fastest at 4 °C, m²/s. ``shares`` : of even, for least, typical and most.
    A pocket has all its cure on its surface and half the spacing to go. Source: crank.
    """
    if not spacing > 0:
        raise ValueError("no spacing")
    factor = temperature_factor(celsius)
    slow, typical, fast = (value * factor for value in diffusion)
    least, usual, most = (days_for(share, 0.0, spacing / 2, speed) for share, speed in zip(shares, (fast, typical, slow), strict=True))
    return least, usual, most
