"""A recipe made larger or smaller: gram, litre, pieces. Concentrations stay; what is weighed is weighed to what a scale shows."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, inf

from overhaul.sums.finite import finite

TENTH = 10  # steps of a scale: below, one step is more than a tenth of what is weighed
_SMALL_COUNT = 3  # of heads, sticks, bottles: below, halves are told
_LEAST_MATTERS = Fraction(1, 100)


def shown(gram: float, step: float) -> float:
    """``gram`` to the nearest ``step`` of a scale, half a step up; less than half a step to two figures, never nothing.

    Raises ValueError below 0, or without a step. Ties are those of the decimal figures: 0.05 g on a scale of 0.1 g is 0.1 g.
    """
    if not (0 < step < inf and 0 <= gram < inf):
        raise ValueError("nothing to weigh")
    steps = Fraction(f"{gram:.9f}") / Fraction(f"{step:.9g}")
    whole = floor(steps + Fraction(1, 2))
    return float(whole * Fraction(f"{step:.9g}")) if whole or not gram else float(f"{gram:.2g}")


def too_fine(gram: float, step: float) -> bool:
    """Whether one step of the scale is more than a tenth of ``gram``."""
    return 0 < gram < TENTH * step


def counted(count: float, factor: float, *, halves: bool = False) -> Fraction:
    """A count of things made larger or smaller: whole, at least one; in halves below three where a thing can be cut."""
    if not (0 < factor < inf and 0 <= count < inf):
        raise ValueError("nothing to count")
    exact = Fraction(f"{finite(count * factor):.6f}")
    if not count:
        return Fraction(0)
    if halves and exact < _SMALL_COUNT:
        return max(Fraction(1, 2), Fraction(floor(exact * 2 + Fraction(1, 2)), 2))
    return Fraction(max(1, floor(exact + Fraction(1, 2))))


def pieces_for(green: float, piece: float) -> int:
    """Whole pieces of ``piece`` gram that come to at least ``green`` gram. Raises ValueError without a piece."""
    if not (0 < piece < inf and 0 <= green < inf):
        raise ValueError("no piece")
    return max(1, ceil(finite(green / piece) - 1e-9))


def green_for_portions(portions: float, gram: float, share: float) -> float:
    """Green weight, gram, for so many ``portions`` of ``gram``: portions × gram ÷ yield, ``share`` being served over green. Source: definition.

    Raises ValueError for a yield of nothing.
    """
    if not 0 < share < inf:
        raise ValueError("no yield")
    return finite(portions * gram / share)


def factor_for_tub(tub: float, head: float, brine: float, meat: float) -> float:
    """How many times a recipe of ``brine`` and ``meat`` litres goes into a tub of ``tub`` litres of which the share ``head`` stays empty.

    Raises ValueError for a recipe that takes no room.
    """
    if not brine + meat > 0:
        raise ValueError("no room taken")
    return finite(tub * (1 - head) / (brine + meat))


def factor_for_brine(tub: float, head: float, brine: float, meat: float) -> float:
    """How many times ``brine`` litres go in besides ``meat`` litres that are there already; below 0 where the meat does not go in."""
    if not brine > 0:
        raise ValueError("no brine")
    return finite((tub * (1 - head) - meat) / brine)


def cure_for_brine(cure: float, meat: float, pickle: float, meat_now: float, pickle_now: float) -> float:
    """Curing salt, gram, that keeps the nitrite of meat and brine as one when there is more or less brine to the meat.

    ``cure`` gram in ``pickle`` gram (its own weight counted) with ``meat`` gram before; ``meat_now`` gram, and ``pickle_now`` gram of all that is
    in the brine besides the curing salt, after. x / (meat_now + pickle_now + x) = cure / (meat + pickle). Source: inspectors-handbook, meat and pickle as one.
    """
    share = finite(cure / (meat + pickle))
    return finite(share * (meat_now + pickle_now) / (1 - share))


def alike(one: float, other: float) -> bool:
    """Whether two figures are the same to one part in a hundred: two amounts that say one thing."""
    return abs(one - other) <= float(_LEAST_MATTERS) * max(abs(one), abs(other))
