"""One recipe by weight for this meat, this tub, so many portions, or a factor: ``make(recipe, house, asked)``.

``Batch.recipe`` is a recipe like any other, read from a page of its own by weight, so that its sums, rules and files work as ever.
"""

from __future__ import annotations

import sys

from overhaul.batch.asking import Asked, Piece, Portions, asked_for
from overhaul.batch.making import Batch, Compared, Found, Line, NotMade, NotScaled, make
from overhaul.called import Called

sys.modules[__name__].__class__ = Called  # called itself, the package is ``overhaul.library.batch``

__all__ = ["Asked", "Batch", "Compared", "Found", "Line", "NotMade", "NotScaled", "Piece", "Portions", "asked_for", "make"]
