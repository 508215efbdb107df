"""One recipe by weight for this meat, this tub, so many portions, or a factor: ``make(recipe, house, asked)``.

``Batch.recipe`` is a recipe like any other, read from a page of its own by weight, so that its sums, rules and files work as ever.
"""

from __future__ import annotations

from overhaul.batch.asking import Asked, Piece, Portions, asked_for
from overhaul.batch.making import Batch, Compared, Found, Line, NotMade, NotScaled, make

__all__ = ["Asked", "Batch", "Compared", "Found", "Line", "NotMade", "NotScaled", "Piece", "Portions", "asked_for", "make"]
