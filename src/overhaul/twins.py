"""Recipes of a binder that look like one: photocopied, retyped, and changed on the way.

Recipes that share few names and words never meet: each is laid into boxes by the smallest of several scrambled numbers of its
words (Broder, On the resemblance and containment of documents, 1997), and only those of one box are looked at closely. So the work
grows with the binder and not with its square.
"""

from __future__ import annotations

import re
import zlib
from collections import defaultdict
from collections.abc import Sequence

from msgspec import Struct

from overhaul.recipe.model import CURING_SALTS, Recipe

_BOXES, _ROWS = 20, 3  # two recipes with six of ten words in common share a box 99 times in 100, with two of ten 15 times
_PRIME = (1 << 61) - 1
_MOST_WORDS = 2_000  # characters of a page that are compared
_NAMES, _WORDS, _WHOLE = 70.0, 60.0, 82.0  # percent: ingredients alike, words alike, and all in all with the title
_WORD = re.compile(r"[^\W\d_]{3,}")


class Likeness(Struct, frozen=True):
    """What two recipes are taken for one by: the title, the names of what goes in, the words of the page without its figures."""

    title: str
    names: str  # sorted, the curing salts all as one
    words: str
    boxes: tuple[int, ...]
    species: str | None
    product: str | None


def likeness(recipe: Recipe) -> Likeness:
    """Of a recipe with two ingredients or fewer the boxes are empty: there is too little to know it by."""
    names = sorted({"cure" if item.role in CURING_SALTS else (item.name or item.role) for item in recipe.ingredients})
    text = " ".join(_WORD.findall(" ".join(line.text for line in recipe.lines if line.kind in ("ingredient", "step")).casefold()))[:_MOST_WORDS]
    title = " ".join(_WORD.findall(recipe.title.casefold()))
    meat = recipe.process.meat
    boxes = _boxes({*names, *text.split(), *title.split()}) if len(names) > 2 else ()
    return Likeness(title, " ".join(names), text, boxes, meat.species if meat is not None else None, recipe.product if recipe.product != "other" else None)


def _boxes(words: set[str]) -> tuple[int, ...]:
    numbers = [zlib.crc32(word.encode("utf-8", "replace")) + 1 for word in words]
    least = [min((number * (2 * turn + 1) * 0x9E3779B97F4A7C15 + turn * 0xC2B2AE3D27D4EB4F) % _PRIME for number in numbers) for turn in range(_BOXES * _ROWS)]
    return tuple(zlib.crc32(repr((box, least[box * _ROWS : (box + 1) * _ROWS])).encode()) for box in range(_BOXES))


def score(one: Likeness, other: Likeness) -> float:
    """How much alike, 0 to 100; 0 where they are not taken for one."""
    from rapidfuzz import fuzz

    if any(mine != its and None not in (mine, its) for mine, its in ((one.species, other.species), (one.product, other.product))):
        return 0.0
    names = fuzz.token_sort_ratio(one.names, other.names, score_cutoff=_NAMES)
    if not names:
        return 0.0
    words = fuzz.ratio(one.words, other.words, score_cutoff=_WORDS)
    if not words:
        return 0.0
    whole = 0.2 * fuzz.token_sort_ratio(one.title, other.title) + 0.4 * names + 0.4 * words
    return whole if whole >= _WHOLE else 0.0


def twins(recipes: Sequence[Likeness]) -> list[tuple[int, int]]:
    """Pairs of places in ``recipes``: each recipe with the first of those before it that it looks like, if it looks like any.

    The first of a group stands for it, so that a hundred copies make ninety-nine pairs.
    """
    leaders: dict[int, list[int]] = defaultdict(list)
    found = []
    for index, one in enumerate(recipes):
        near = sorted({leader for box in one.boxes for leader in leaders[box]})
        best = max(((score(recipes[leader], one), -leader) for leader in near), default=(0.0, 0))
        if best[0]:
            found.append((-best[1], index))
        else:
            for box in one.boxes:
                leaders[box].append(index)
    return found


def likest(mine: Sequence[Recipe], others: Sequence[Recipe]) -> tuple[int, int]:
    """The places of the two recipes that are most alike, whether or not they are taken for one."""
    from rapidfuzz import fuzz

    if len(mine) == len(others) == 1:
        return 0, 0
    left, right = [likeness(one) for one in mine], [likeness(one) for one in others]
    return max(
        ((first, second) for first in range(len(left)) for second in range(len(right))),
        key=lambda pair: sum(fuzz.token_sort_ratio(getattr(left[pair[0]], what), getattr(right[pair[1]], what)) for what in ("title", "names", "words")),
    )
