"""Ingoing nitrite, and nitrate, accelerator and phosphate by the same forms. Parts per million by weight.

Source of the forms: inspectors-handbook, pages 12 to 24 and 31 to 36.
"""

from __future__ import annotations

from overhaul.sums.finite import finite

MILLION = 1_000_000
# Molar factors (molar masses of the elements, IUPAC): one gram of the first is so many grams of the second.
FACTORS = {
    ("NaNO2", "KNO2"): 1.23348, ("KNO2", "NaNO2"): 0.81071, ("NaNO2", "NO2"): 0.66679, ("NO2", "NaNO2"): 1.49973,
    ("KNO3", "NaNO3"): 0.84067, ("NaNO3", "KNO3"): 1.18953, ("NaNO3", "NO3"): 0.72951, ("NO3", "NaNO3"): 1.37078,
}  # fmt: skip


def _positive(**weights: float) -> None:
    for name, value in weights.items():
        if not value > 0:
            raise ValueError(f"no {name}")


def direct(agent: float, green: float) -> float:
    """Agent mixed into or rubbed on meat, ppm of green weight.

    ``agent`` : pure agent, gram. ``green`` : green weight, gram. Raises ValueError without meat.
    agent · 1,000,000 / green.
    """
    _positive(meat=green)
    return finite(agent * MILLION / green)


def pumped(agent: float, pump: float, pickle: float) -> float:
    """Agent driven in with the pickle, ppm of green weight.

    ``agent`` : pure agent in the pickle, gram. ``pump`` : gain as a fraction of green weight. ``pickle`` : gram.
    agent · pump · 1,000,000 / pickle. The same form serves immersion by pick-up.
    """
    _positive(pickle=pickle)
    return finite(agent * pump * MILLION / pickle)


def equilibrium(agent: float, green: float, pickle: float) -> float:
    """Meat and pickle as one system, ppm: agent · 1,000,000 / (green + pickle), all in gram."""
    _positive(**{"meat and pickle": green + pickle})
    return finite(agent * MILLION / (green + pickle))


def dry_mix(agent: float, applied: float, mix: float) -> float:
    """Agent in a rub of which the fraction ``applied`` of green weight is used, ppm; ``mix`` is the rub's gram."""
    _positive(mix=mix)
    return finite(agent * applied * MILLION / mix)


def agent_for_direct(ppm: float, green: float) -> float:
    """Gram of agent for ``ppm`` on ``green`` gram of meat."""
    return finite(ppm * green / MILLION)


def agent_for_pump(ppm: float, pump: float, pickle: float) -> float:
    """Gram of agent in ``pickle`` gram for ``ppm`` at a gain of ``pump``. Raises ValueError without a gain."""
    _positive(pump=pump)
    return finite(ppm * pickle / (pump * MILLION))


def agent_for_equilibrium(ppm: float, green: float, pickle: float) -> float:
    """Gram of agent for ``ppm`` in meat and pickle as one system."""
    return finite(ppm * (green + pickle) / MILLION)


def green_for_equilibrium(agent: float, ppm: float, pickle: float) -> float:
    """Least gram of meat that keeps ``agent`` within ``ppm``."""
    _positive(ppm=ppm)
    return finite(agent * MILLION / ppm - pickle)


def skin_on(limit: float, skin: float = 0.10) -> float:
    """The limit for a belly weighed with its rind, which takes up almost no cure: limit · (1 − skin)."""
    return finite(limit * (1 - skin))


def converted(value: float, given: str, wanted: str) -> float:
    """``value`` of one salt or ion as another; KeyError for a pair that is not in FACTORS."""
    return finite(value * FACTORS[given, wanted])


def percent_gain(before: float, after: float) -> float:
    """Gain in percent of the weight before: 100 · (after / before − 1)."""
    _positive(**{"weight before": before})
    return finite(100 * (after / before - 1))
