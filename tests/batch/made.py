"""Batches of text, and the page of a made-up kitchen to make them of."""

from __future__ import annotations

from typing import Any

from overhaul.batch import Batch, Line, NotMade, asked_for, make
from overhaul.house import House
from tests.conftest import recipe_of

BRINE = """\
Corned flats

2 brisket flats, 10 lb in all, 2 in. thick
2 gal water
3 c kosher salt
1 c brown sugar, packed
42 g cure #1 (6.25% nitrite)
2 T pickling spice
4 bay leaves
a handful of thyme
black pepper to taste

Stir all of it into the cold water. Flats in, plate on top. Walk-in 38 F, 8 days, turning every other day.
Rinse. Simmer 3 hours to 200 F inside. Rest 20 minutes. Serves 22.
"""


def made(text: str = BRINE, house: House | None = None, **asked: Any) -> Batch:
    found = make(recipe_of(text, house), house or House(), asked_for(**asked, house=house))
    assert isinstance(found, Batch), found
    return found


def why(text: str = BRINE, house: House | None = None, **asked: Any) -> str:
    found = make(recipe_of(text, house), house or House(), asked_for(**asked, house=house))
    assert isinstance(found, NotMade), found
    return found.why


def line(found: Batch, name: str) -> Line:
    return next(one for one in found.lines if one.name == name)


def after(found: Batch, name: str) -> float:
    span = next(one.after for one in found.sums if one.name == name)
    assert span is not None
    return span.likely
