"""How far cure gets into shapes other than a slab: rolls, round pieces, blocks, and a slab with still brine at its face.

Source: crank, chapters 4 to 6; carslaw and jaeger's product rule. In a bath that never weakens, and the roll in a
limited one too; theta = D t / R² for the roll and the ball (R the radius). For any other limited bath give
``penetration.Slab`` the curve of the shape.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import atan, cos, exp, inf, pi, prod, sin, sqrt

from overhaul.sums import penetration

# The zeros of the Bessel function J0, and J1 at each.
_ZEROS = (
    (2.404825557696, 0.519147497289), (5.520078110286, -0.340264806558), (8.653727912911, 0.271452299928), (11.791534439014, -0.232459831365),
    (14.930917708488, 0.206546433078), (18.071063967911, -0.187728803040), (21.211636629879, 0.173265894229), (24.352471530749, -0.161701550689),
    (27.493479132040, 0.152181213771), (30.634606468432, -0.144165977686), (33.775820213574, 0.137296943409), (36.917098353664, -0.131324626669),
    (40.058425764628, 0.126069497127), (43.199791713177, -0.121398624772), (46.341188371662, 0.117211198891), (49.482609897398, -0.113429192616),
)  # fmt: skip
_EARLY_ROLL = 0.0125
_EARLY_BALL = 0.05
_TERMS = 20
_AMPLE = 1e12  # a still layer this open is none
_SCANT = 1e-12
_ENDLESS = 1e6  # a bath so many times the meat's water weakens by less than the roots are known to


@lru_cache(maxsize=32)
def _sines(count: int) -> tuple[float, ...]:
    """At the middles of ``count`` parts of a quarter turn."""
    return tuple(sin(pi / 2 * (k + 0.5) / count) for k in range(count))


def _bessel(x: float) -> tuple[float, float]:
    """The Bessel functions J0 and J1 by their own integrals: middles of equal parts are exact once there are enough of them."""
    parts = _sines(8 + int(0.36 * x))
    return sum(cos(x * s) for s in parts) / len(parts), sum(s * sin(x * s) for s in parts) / len(parts)


@lru_cache(maxsize=1024)
def roll_root(alpha: float, k: int) -> tuple[float, float]:
    """The root of alpha q J0(q) + 2 J1(q) = 0 between the zeros ``k`` and ``k`` + 1 of J0, and J0 there. ``alpha`` from 0 up."""
    if not 0 <= alpha < inf:
        raise ValueError("a bath has more than no water, and less than all")

    def curve(q: float) -> float:
        first, second = _bessel(q)
        return alpha * q * first + 2 * second

    q = penetration.crossing(curve, _ZEROS[k][0], _ZEROS[k + 1][0])
    return q, _bessel(q)[0]


def _roll_terms(theta: float, alpha: float) -> Iterator[tuple[float, float, float]]:
    """Each root with J0 there and how far its term has died away, as far as they tell."""
    for k in range(len(_ZEROS) - 1):
        q, first = roll_root(alpha, k)
        power = q * q * theta
        if power > 40:
            return
        yield q, first, exp(-power)


def roll_uptake(theta: float, alpha: float = inf) -> float:
    """Mean in a long roll, as a share of its equilibrium value, 0 to 1; in a bath of ``alpha`` times the meat's water."""
    if not theta > 0:
        return penetration.not_yet(theta)
    if alpha <= _SCANT:
        return 1.0
    if alpha < _ENDLESS:
        if theta < _EARLY_ROLL:
            return min(1.0, penetration.Slab(0.0, curve=roll_uptake).into(1 + 1 / alpha, alpha, theta))
        return 1 - sum(4 * alpha * (1 + alpha) / (4 + 4 * alpha + (alpha * q) ** 2) * left for q, _, left in _roll_terms(theta, alpha))
    if theta < _EARLY_ROLL:
        r = sqrt(theta)
        return (
            4 * r / sqrt(pi) - theta - r**3 / (3 * sqrt(pi)) - theta**2 / 8 - 5 * r**5 / (24 * sqrt(pi)) - 13 * theta**3 / 96
            - 1073 * r**7 / (3360 * sqrt(pi))
        )  # fmt: skip
    return 1 - 4 * sum(exp(-j * j * theta) / (j * j) for j, _ in _ZEROS)


def roll_middle(theta: float, alpha: float = inf) -> float:
    """The axis of a long roll, as a share of its equilibrium value; below 1e-7 (given as 0) for theta under 0.0125."""
    if not theta >= _EARLY_ROLL:
        return penetration.not_yet(theta)
    if alpha < _ENDLESS:
        # The roots left out weigh a few parts in a hundred million at the earliest.
        return max(0.0, 1 + sum(4 * (1 + alpha) / ((4 + 4 * alpha + (alpha * q) ** 2) * first) * left for q, first, left in _roll_terms(theta, alpha)))
    return 1 - 2 * sum(exp(-j * j * theta) / (j * first) for j, first in _ZEROS)


def ball_uptake(theta: float) -> float:
    """Mean in a round piece, as a share of its equilibrium value, 0 to 1."""
    if not theta > 0:
        return penetration.not_yet(theta)
    if theta < _EARLY_BALL:
        r = sqrt(theta)
        return 6 * r * (1 / sqrt(pi) + 2 * penetration.ierfc(1 / r)) - 3 * theta
    return 1 - 6 / pi**2 * sum(exp(-n * n * pi * pi * theta) / (n * n) for n in range(1, _TERMS))


def ball_middle(theta: float) -> float:
    """The middle of a round piece: the same curve as a slab with all of it laid on the surface."""
    return penetration.middle(theta, 0.0)


def block_uptake(halves: Sequence[float], spread: float) -> float:
    """Mean in a block of these half sizes; ``spread`` is D t in the same unit squared.

    Product rule; leave a sealed direction out, and for one sealed face give the whole size of that direction.
    Raises ValueError for a size of nothing.
    """
    _sizes(halves)
    return 1 - prod(1 - penetration.uptake(spread / (half * half), inf) for half in halves)


def block_middle(halves: Sequence[float], spread: float) -> float:
    """The middle of a block; see ``block_uptake``."""
    _sizes(halves)
    return 1 - prod(1 - penetration.middle(spread / (half * half), inf) for half in halves)


def _sizes(halves: Sequence[float]) -> None:
    if not halves or not all(half * half > 0 for half in halves):
        raise ValueError("no size")


@lru_cache(maxsize=128)
def film_roots(biot: float) -> tuple[float, ...]:
    """The first roots of b tan b = Bi, one in each ((k − 1)π, (k − ½)π). Raises ValueError for Bi of nothing."""
    if not _SCANT < biot < inf:
        raise ValueError("a still layer lets something through")
    found = []
    for k in range(_TERMS):
        b = (k + 0.25) * pi if k else min(1.2, sqrt(biot))
        for _ in range(60):  # Newton on b − kπ − atan(Bi / b), whose slope is 1 and more
            step = (b - k * pi - atan(biot / b)) / (1 + biot / (b * b + biot * biot))
            b -= step
            if abs(step) < 1e-15 * b:
                break
        found.append(b)
    return tuple(found)


def film_uptake(theta: float, biot: float) -> float:
    """Mean in a slab with a still layer at its face, Bi = k l / D, for theta from 0.05 up (the series alone)."""
    biot = _film(theta, biot)
    return 1 - sum(2 * biot**2 / (b * b * (b * b + biot**2 + biot)) * exp(-b * b * theta) for b in film_roots(biot))


def film_middle(theta: float, biot: float) -> float:
    """The middle of a slab with a still layer at its face; see ``film_uptake``."""
    biot = _film(theta, biot)
    return 1 - sum(2 * biot / ((b * b + biot**2 + biot) * cos(b)) * exp(-b * b * theta) for b in film_roots(biot))


def _film(theta: float, biot: float) -> float:
    """``biot`` within what floats can square. Raises ValueError for a time before the start."""
    if not theta >= 0:
        raise ValueError("no time")
    return min(biot, _AMPLE)
