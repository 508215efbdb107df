"""Spans of values: low, likely, high. Never one number where the text does not give one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import product
from math import inf

from msgspec import Struct


class Span(Struct, frozen=True):
    """A value known between ``low`` and ``high``, with ``likely`` between them.

    The unit is the holder's business. Raises ValueError when the three are out of order or not finite.
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        # Written so that a NaN fails too.
        if not (-inf < self.low <= self.likely <= self.high < inf):
            raise ValueError(f"not a span: {self.low} {self.likely} {self.high}")

    @property
    def exact(self) -> bool:
        return self.low == self.high


def exactly(value: float) -> Span:
    """A stated value: the span of no width."""
    return Span(value, value, value)


def between(low: float, high: float) -> Span:
    """A stated range; its likely value is its middle."""
    return Span(low, (low + high) / 2, high)


def added(spans: Iterable[Span]) -> Span:
    """All of them together, low with low and high with high."""
    low = likely = high = 0.0
    for one in spans:
        low += one.low
        likely += one.likely
        high += one.high
    return Span(low, likely, high)


def corners(formula: Callable[..., float], *inputs: Span) -> Span:
    """The span of ``formula`` over ``inputs``: low and high are the extreme corners, likely uses every likely.

    Right for a formula that is monotone in each input over the box. Each input stands once, so that an
    input used twice in the formula takes one value at a time.
    """
    likely = formula(*[given.likely for given in inputs])
    ends = [(given.low,) if given.low == given.high else (given.low, given.high) for given in inputs]
    if max(map(len, ends), default=1) == 1:
        return Span(likely, likely, likely)
    values = [formula(*corner) for corner in product(*ends)]
    values.append(likely)
    return Span(min(values), likely, max(values))
