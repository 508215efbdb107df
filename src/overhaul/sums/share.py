"""Each ingredient as a share of the green weight: the form in which a formula is filed."""

from __future__ import annotations

from overhaul.span import Span, corners


def percent_of_green(gram: Span, green: Span) -> Span:
    """Percent of the green weight. Both in gram; ``green`` above 0, or ZeroDivisionError. Source: definition (the base of every ingoing sum)."""
    return corners(lambda one, meat: 100 * one / meat, gram, green)


def pumped_gram(green: float, percent: float) -> float:
    """What a piece weighs when it has taken ``percent`` of its green weight, gram. Source: definition of percent pump."""
    return green * (1 + percent / 100)
