"""What fits the tub."""

from __future__ import annotations

from overhaul.sums.brine import specific_gravity
from overhaul.sums.finite import finite


def litres(brine_gram: float, strength_percent: float, meat_gram: float, meat_density: float = 1055.0) -> float:
    """Litres of brine and meat together; ``meat_density`` in kg/m3. Raises ValueError for a meat of no density."""
    if not meat_density > 0:
        raise ValueError("no density")
    return finite(brine_gram / (999.0 * specific_gravity(min(max(strength_percent, 0.0), 26.4))) + meat_gram / meat_density)
