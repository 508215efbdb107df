"""The piece of meat as a shape: a slab, a roll, or a block where the page tells all three sizes."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct

from overhaul.sums import penetration, shapes

if TYPE_CHECKING:
    from overhaul.sums.work import Sums

_Curve = Callable[[float, float], float]


class Shape(Struct, frozen=True):
    """How full its mean and its middle are, of theta and alpha; the theta of a share of the middle; theta = D t / path²."""

    words: str
    uptake: _Curve
    middle: _Curve
    theta_for: _Curve
    endless: Callable[[float], float] | None = None  # ``uptake`` in a bath that never weakens; None for a slab


SLAB = Shape("both faces bare", penetration.uptake, penetration.middle, penetration.theta_for_middle)


@lru_cache(maxsize=256)
def _roll_theta(share: float, alpha: float) -> float:
    return penetration.theta_at(shapes.roll_middle, share, alpha)


ROLL = Shape("a roll, open all round", shapes.roll_uptake, shapes.roll_middle, _roll_theta, shapes.roll_uptake)


@lru_cache(maxsize=256)
def block(halves: tuple[float, ...]) -> Shape:
    """A block of these half sizes, the least of them 1.

    A limited bath has no product rule. The slab in the limited bath and the block in one that never weakens are both a little behind
    it, so the fuller of the two is taken.
    """

    def uptake(theta: float, alpha: float) -> float:
        return max(penetration.uptake(theta, alpha), shapes.block_uptake(halves, theta))

    def middle(theta: float, alpha: float) -> float:
        return max(penetration.middle(theta, alpha), shapes.block_middle(halves, theta))

    @lru_cache(maxsize=16)
    def theta_for(share: float, alpha: float) -> float:
        return penetration.theta_at(middle, share, alpha)

    return Shape("a block, open on all sides", uptake, middle, theta_for, lambda theta: shapes.block_uptake(halves, theta))


def shape_of(sums: Sums) -> Shape:
    """The shape of this recipe's meat. Skin, bone or a fat cap make a slab of it, with one face shut or half shut."""
    meat = sums.recipe.process.meat
    if meat is None or meat.thickness is None or sums.openness()[0] != (1, 1, 1):
        return SLAB
    if meat.rolled:
        return ROLL
    if meat.sides and meat.thickness.likely > 0:
        return block((1.0, *(side / meat.thickness.likely for side in meat.sides)))
    return SLAB
