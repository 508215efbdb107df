"""No sum answers with NaN or infinity."""

from __future__ import annotations

from math import inf


def finite(value: float) -> float:
    """``value`` as it is. Raises ValueError when it is NaN or infinite, so that bad input never goes on unseen."""
    if not -inf < value < inf:
        raise ValueError("out of all bounds")
    return value
