"""Ingredient lines that a web page shows and that say other figures than it tells machines."""

from __future__ import annotations

import itertools
import re
import unicodedata
from collections.abc import Iterable

from msgspec import Struct

from overhaul.documents.web.seen import Line

_VULGAR = re.compile("(?<=[0-9])(?=[¼-¾⅐-⅞])")
_FIGURE = re.compile(r"(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)|(\d+(?:\.\d+)?)")
_UNITS = {"tablespoon": "tbsp", "tbs": "tbsp", "tbl": "tbsp", "teaspoon": "tsp", "ounce": "oz", "pound": "lb", "gram": "g", "gm": "g", "kilogram": "kg", "kilo": "kg", "gallon": "gal", "quart": "qt", "pint": "pt", "liter": "l", "litre": "l", "milliliter": "ml", "millilitre": "ml", "cup": "cup"}
_UNITS |= {short: short for short in _UNITS.values()}


def same(text: str) -> str:
    """``text`` for comparing: blanks, case, forms of fractions and of letters alike."""
    text = unicodedata.normalize("NFKC", _VULGAR.sub(" ", text)).casefold().replace("⁄", "/").replace("−", "-").replace("–", "-")
    text = re.sub(r"(?<=\d),(?=\d{3}\b)", "", text)
    return " ".join(re.sub(r"(?<=\d),(?=\d)", ".", text).split())


class _Entry(Struct):
    """What an ingredient line says: its figures, each with its unit if that is known, and its names."""

    same: str
    figures: tuple[tuple[float, str], ...]
    words: frozenset[str]

    def agrees(self, other: _Entry) -> bool:
        """Whether both say the same amounts, one perhaps with others beside them (5 lb, 5 lb or 2.3 kg)."""
        few, many = sorted((self.figures, other.figures), key=len)
        return bool(few) and _close(few[0], many[0]) and all(any(_close(one, another) for another in many) for one in few)

    def alike(self, other: _Entry) -> bool:
        """Whether both are of the same ingredient."""
        return 2 * len(self.words & other.words) >= len(self.words | other.words) > 0


def _close(one: tuple[float, str], other: tuple[float, str]) -> bool:
    return abs(one[0] - other[0]) <= 0.01 * max(one[0], 1.0) and (one[1] == other[1] or not one[1] or not other[1])


def _entry(text: str) -> _Entry:
    plain_text = same(text[:300])
    figures = []
    for found in _FIGURE.finditer(plain_text):
        whole, over, under, plain = found.groups()
        value = float(plain) if plain else float(whole or 0) + float(over) / (float(under) or 1.0)
        unit = re.match(r"\s*-?\s*([a-z]+)", plain_text[found.end() : found.end() + 20])
        figures.append((value, _UNITS.get(unit[1], _UNITS.get(unit[1].rstrip("s"), "")) if unit else ""))
    words = frozenset(word.rstrip("s") for word in re.findall(r"[^\W\d_]{3,}", plain_text))
    return _Entry(plain_text, tuple(figures), words - _UNITS.keys())


def otherwise(ingredients: list[str], seen: Iterable[Line]) -> list[str]:
    """Ingredient lines that are seen on the page and say other figures than ``ingredients``, or figures of what is not among them."""
    told = [_entry(line) for line in ingredients[:300]]
    exact = {entry.same for entry in told}
    by_word: dict[str, list[int]] = {}
    for place, entry in enumerate(told):
        for word in entry.words:
            by_word.setdefault(word, []).append(place)
    groups: dict[int, list[tuple[Line, _Entry, list[_Entry]]]] = {}
    for line in itertools.islice((line for line in seen if line.kind in ("li", "p", "tr") and 0 < len(line.plain) <= 200), 5_000):
        entry = _entry(line.plain)
        if entry.figures:
            places = sorted({place for word in entry.words for place in by_word.get(word, ())})
            groups.setdefault(line.group, []).append((line, entry, [told[place] for place in places if entry.alike(told[place])]))
    found: dict[str, str] = {}
    for lines in groups.values():
        known = sum(entry.same in exact or bool(near) for _, entry, near in lines)
        if 2 * known <= len(lines):
            continue  # a list of something else
        for line, entry, near in lines:
            if entry.words and entry.same not in exact and not any(entry.agrees(other) for other in near):
                found.setdefault(entry.same, line.plain)
    return list(found.values())
