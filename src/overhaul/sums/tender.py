"""Time in the pot against the weight of a piece."""

from __future__ import annotations

from overhaul.reading import units
from overhaul.span import Span, corners

_GRAM_PER_POUND = units.size("pound")


def pounds_a_piece(gram: Span, pieces: Span, most: float) -> Span:
    """Pounds of one piece that its time in the pot goes by, no more than ``most``. gram : all pieces, > 0. pieces : how many, >= 1."""
    return corners(lambda mass, count: min(mass / count / _GRAM_PER_POUND, most), gram, pieces)


def hours_a_pound(hours: Span, pounds: Span) -> Span:
    """Hours in the pot for each pound of a piece. pounds : > 0."""
    return corners(lambda stay, pound: stay / pound, hours, pounds)
