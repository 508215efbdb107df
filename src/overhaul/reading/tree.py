"""From text to items: words, marks, labels and chains of measures.

The parse tree is never kept: the grammar's productions call the builders below and the items are small
records with offsets into the page.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from overhaul.reading import line_parser, numbers


class Piece(Struct, frozen=True):
    """Something with its place. ``depth`` : how many brackets stand open around it."""

    depth: int
    start: int
    end: int


class Word(Piece, frozen=True):
    text: str
    low: str  # lower case, soft hyphens out


class Mark(Piece, frozen=True):
    """Punctuation, or any other single character."""

    text: str


class Label(Piece, frozen=True):
    """A figure that is no amount. ``form``: numbered page date ordinal clock ratio struck times gas."""

    form: str
    text: str


class Measure(Struct, frozen=True):
    """A number or a range, with its unit (None for a bare number)."""

    low: Fraction
    high: Fraction
    unit: str | None
    start: int
    end: int
    link: str = ""  # the connector before it in a chain: "+", "or", "to", "," …
    vague: str | None = None
    hyphen: bool = False  # 12-quart: a size rather than an amount
    article: bool = False  # "a cup": no figure stands there
    doubt: str | None = None
    number_end: int = 0
    other: Fraction | None = None  # the other reading, where it is doubted


class Rate(Struct, frozen=True):
    """per 25 lb: ``amount`` None when only the unit stands."""

    amount: Fraction | None
    unit: str
    start: int
    end: int
    link: str = ""
    low: Fraction | None = None  # of a range
    told_from: int | None = None  # where the figure begins in "/ 5 lb"; None for "per 5 lb"


class Chain(Struct, frozen=True):
    """Measures and rates with nothing but connectors between them."""

    parts: tuple[Measure | Rate, ...]
    start: int
    end: int

    @property
    def first(self) -> Measure | Rate:
        return self.parts[0]


Item = Word | Mark | Label | Chain

_NUMBERS = frozenset(["MIXED", "MIXED_GLYPH", "FRACTION", "GLYPH", "THOUSANDS", "DECIMAL", "WRITTEN", "INTEGER", "SIGNED", "SCANNED"])
_LABELS = {"NUMBERED", "PAGE", "DATE", "ORDINAL", "CLOCK", "RATIO", "STRUCK", "TIMES", "GAS"}
_UNIT_NAMES = {"HASH": "pound", "INCH": "inch", "DEGF": "degF", "DEGC": "degC", "DEGREE": "degree", "SALOMETER": "salometer", "PERCENT": "percent", "PERMILLE": "permille"}
_LETTERS = {"t": "teaspoon", "T": "tablespoon", "c": "cup", "g": "gram", "G": "gram", "l": "litre", "L": "litre"}
_PIECES = re.compile(r"[^\W\d_¼½¾⅐-⅞](?:[^\W_¼½¾⅐-⅞]|['\u00ad]|-(?=[^\W\d_]))*|\S")
_SHORT_FOR = {"lvl": "level", "hpg": "heaping", "heapg": "heaping", "scnt": "scant", "sm": "small", "med": "medium", "lg": "large", "lge": "large"}
_METRIC = frozenset(["gram", "millilitre", "kilogram", "litre"])
# A bare capital C: cups of water are few, degrees are many.
_MOST_CUPS = 20


def _unit(token: Any, high: Fraction) -> str:
    kind = token.type
    if kind == "LETTER":
        letter = token.value[0]
        if letter in "Cc":
            return "degC" if high > (_MOST_CUPS if letter == "C" else 2 * _MOST_CUPS) or high < 0 else "cup"
        return _LETTERS[letter]
    if kind == "SLIP":
        return "pound" if token.value[0] == "1" else "ounce"
    if kind in line_parser.SPELLED:
        return line_parser.spellings()[_SPACES.sub("", token.value.lower()).rstrip(".")]
    return _UNIT_NAMES[kind]


_SPACES = re.compile(r"[\s-]+")


class _Value(Struct, frozen=True):
    low: Fraction
    high: Fraction
    doubt: str | None
    start: int
    end: int
    stop: str | None = None  # 1.000, 1,500: three figures after a mark that is a thousand's in one country and a decimal's in the next
    other: Fraction | None = None


def _value(tokens: list[Any]) -> _Value:
    found: list[Fraction] = []
    doubt = stop = other = None
    for token in tokens:
        if token.type in _NUMBERS:
            if token.type in ("DECIMAL", "THOUSANDS"):
                stop = token.value
            read = numbers.read(token.type, token.value)
            found.append(read.value)
            if read.doubt is not None and doubt is None:
                doubt, other = read.doubt, read.other
    return _Value(min(found), max(found), doubt, tokens[0].start_pos, tokens[-1].end_pos, stop if len(found) == 1 else None, other if len(found) == 1 else None)


class _Builders:
    """One method a production of grammar/line.lark."""

    value = staticmethod(_value)

    @staticmethod
    def half(tokens: list[Any]) -> Any:
        return tokens[0]

    @staticmethod
    def measure(parts: list[Any]) -> Measure:
        value: _Value = parts[0]
        unit = vague = None
        hyphen, end, extra = False, value.end, Fraction(0)
        for token in parts[1:]:
            kind = token.type
            end = token.end_pos
            if kind == "VAGUE":
                word = _SHORT_FOR.get(token.value.lower().rstrip("."), token.value.lower())
                vague = word if vague is None else f"{vague} {word}"
            elif kind == "HYPHEN":
                hyphen = True
            elif kind == "DOZEN":
                value = _Value(value.low * 12, value.high * 12, value.doubt, value.start, token.end_pos)
                end = token.end_pos
            elif kind == "AND_A_HALF":
                extra = Fraction(1, 4) if "quarter" in token.value.lower() else Fraction(1, 2)
            else:
                unit = _unit(token, value.high)
        if value.stop is not None and unit in _METRIC and (meant := numbers.stop_meant(value.stop, unit)) is not None:
            value = _Value(meant.value, meant.value, meant.doubt, value.start, value.end, None, meant.other)
        if hyphen and unit is None and parts[-1].type == "HYPHEN":
            end = value.end  # the hyphen belongs to the word after it
        low = value.low + extra if extra else value.low
        high = low if value.high == value.low else value.high + extra  # one number is one object: whoever works with it does so once
        return Measure(low, high, unit, value.start, end, "", vague, hyphen, False, value.doubt, value.end, value.other)

    @staticmethod
    def article(tokens: list[Any]) -> Measure:
        extra = Fraction(0)
        if tokens[-1].type == "AND_A_HALF":
            extra = Fraction(1, 4) if "quarter" in tokens[-1].value.lower() else Fraction(1, 2)
        one = 1 + extra
        return Measure(one, one, _unit(tokens[1], one), tokens[0].start_pos, tokens[-1].end_pos, "", None, False, not extra, None, tokens[0].end_pos)

    @staticmethod
    def rate(parts: list[Any]) -> Rate:
        value = parts[1] if isinstance(parts[1], _Value) else None
        unit = next(token for token in reversed(parts) if token.type != "AND_A_HALF")
        return Rate(value.high if value else None, _unit(unit, Fraction(1)), parts[0].start_pos, parts[-1].end_pos, "", value.low if value else None, value.start if value and parts[0].value == "/" else None)

    @staticmethod
    def chain(parts: list[Any]) -> Chain:
        linked: list[Measure | Rate] = []
        link = ""
        for part in parts:
            if isinstance(part, (Measure, Rate)):
                linked.append(replace(part, link=link) if link else part)
                link = ""
            else:
                link = part.value.lower()
        return Chain(tuple(linked), linked[0].start, linked[-1].end)

    article_chain = chain

    @staticmethod
    def start(children: list[Any]) -> list[Any]:
        return children


@cache
def _parser() -> Any:
    return line_parser.parser(_Builders())


def parse(text: str, offset: int = 0) -> list[Item]:
    """The items of ``text``; their offsets are counted from ``offset``. Every text parses."""
    items = _of_a_line(text) if len(text) <= _LINE else _items(text)
    return [_shifted(item, offset) for item in items] if offset else list(items)


_LINE = 200  # characters; what is longer is hardly met again


@lru_cache(maxsize=4096)
def _of_a_line(text: str) -> tuple[Item, ...]:
    """The items of a short text, from 0. Cooks write the same lines on page after page: "1 gallon cold water", "Rinse well"."""
    return tuple(_items(text))


def _items(text: str) -> list[Item]:
    items: list[Item] = []
    depth = 0

    def mark(text: str, start: int, end: int) -> None:
        nonlocal depth
        if text in ")]}" and depth:
            depth -= 1
        items.append(Mark(depth, start, end, text))
        if text in "([{":
            depth += 1

    for child in _parser().parse(text):
        if isinstance(child, Chain):
            items.append(child)
            last = child.parts[-1]
            if isinstance(last, Measure) and last.hyphen and last.unit is None and last.end == last.number_end:
                start = text.index("-", child.end)
                mark("-", start, start + 1)
            continue
        kind = child.type
        start = child.start_pos
        if kind == "RUN":
            for piece in _PIECES.finditer(child.value):
                if (words := piece[0])[0].isalpha():
                    items.append(Word(depth, start + piece.start(), start + piece.end(), words, words.lower().replace("\u00ad", "")))
                else:
                    mark(words, start + piece.start(), start + piece.end())
        elif kind in ("WORD", "ARTICLE"):
            items.append(Word(depth, start, child.end_pos, child.value, child.value.lower().replace("\u00ad", "")))
        elif kind in _LABELS:
            items.append(Label(depth, start, child.end_pos, kind.lower(), child.value))
        else:
            mark(child.value, start, child.end_pos)
    return items


def _shifted(item: Item, offset: int) -> Item:
    """The same item, ``offset`` characters further on."""
    if isinstance(item, Word):
        return Word(item.depth, item.start + offset, item.end + offset, item.text, item.low)
    if isinstance(item, Mark):
        return Mark(item.depth, item.start + offset, item.end + offset, item.text)
    if isinstance(item, Label):
        return Label(item.depth, item.start + offset, item.end + offset, item.form, item.text)
    parts = [
        Measure(part.low, part.high, part.unit, part.start + offset, part.end + offset, part.link, part.vague, part.hyphen, part.article, part.doubt, part.number_end + offset, part.other)
        if isinstance(part, Measure)
        else replace(part, start=part.start + offset, end=part.end + offset, told_from=part.told_from + offset if part.told_from is not None else None)
        for part in item.parts
    ]
    return Chain(tuple(parts), item.start + offset, item.end + offset)


@lru_cache(maxsize=2048)
def unit_word(word: str) -> str | None:
    """The unit that ``word`` names after a number ("bottles" -> bottle), or None."""
    items = parse(f"2 {word}")
    if len(items) == 1 and isinstance(items[0], Chain) and isinstance(items[0].first, Measure):
        return items[0].first.unit
    return None
