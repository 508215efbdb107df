"""Chains of measures resolved into amounts: compounds added up, ranges closed, the rest set apart.

The result is one flat list of bits (words, marks, labels, amounts, rates) in reading order, with how deep in
brackets each stands.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from msgspec.structs import replace

from overhaul.reading import units
from overhaul.reading.tree import Chain, Item, Label, Mark, Measure, Piece, Rate, Word
from overhaul.recipe.model import Amount
from overhaul.text import Place

METRIC = frozenset(["milligram", "gram", "kilogram", "millilitre", "centilitre", "decilitre", "litre"])
_ADDS = frozenset(["", "and", "+", "plus", "&", ","])
_RANGES = frozenset(["to", "-", "–", "—", "or", "~"])
_SUMMED = frozenset(["mass", "volume", "time", "length"])


Bit = Piece  # words, marks and labels as they were read, amounts and rates in place of the chains
WordBit = Word
MarkBit = Mark
LabelBit = Label


class AmountBit(Bit, frozen=True):
    amount: Amount
    link: str  # the connector before it: "+", "or", "to", "x", …
    hyphen: bool  # 12-quart
    article: bool  # "a cup": no figure stands there

    @property
    def unit(self) -> str:
        return self.amount.unit

    @property
    def dimension(self) -> units.Dimension:
        return units.dimension(self.amount.unit)

    @property
    def bare(self) -> bool:
        return self.amount.unit == "each"


class RateBit(Bit, frozen=True):
    amount: Fraction | None
    unit: str


def bits(items: Iterable[Item]) -> list[Bit]:
    """``items`` as one flat list."""
    flat: list[Bit] = []
    depth = 0
    for item in items:
        if isinstance(item, Word):
            depth = item.depth
            flat.append(item)
        elif isinstance(item, Chain):
            last = flat[-1] if flat else None
            flat.extend(_amounts(item, depth, between=isinstance(last, Word) and last.low == "between"))
        elif isinstance(item, Label) and item.form == "gas":
            flat.append(_gas_mark(item))
        else:
            depth = item.depth + (isinstance(item, Mark) and item.text in "([{")
            flat.append(item)
    return flat


def _gas_mark(label: Label) -> AmountBit:
    figure = label.text.split()[-1]
    value = {"½": Fraction(1, 2), "¼": Fraction(1, 4)}.get(figure) or Fraction(figure)
    return AmountBit(label.depth, label.start, label.end, Amount(value, value, "gas_mark", Place(label.start, label.end)), "", False, False)


def _amounts(chain: Chain, depth: int, *, between: bool) -> list[Bit]:
    """``between`` : the word before it, which makes its first "and" a range."""
    found: list[Bit] = []
    held: Measure | None = None
    parts: tuple[Amount, ...] = ()
    for stated in chain.parts:
        part = _again(held, stated) if isinstance(stated, Rate) and held is not None else stated
        if isinstance(part, Rate):
            if held is not None:
                found.append(_bit(held, parts, depth))
                held, parts = None, ()
            found.append(RateBit(depth, part.start, part.end, part.amount, part.unit))
            continue
        if held is not None and held.unit is None and part.link in ("x", "×") and part.unit is not None and units.dimension(part.unit) == "length":
            held = replace(held, unit=part.unit)  # a 9x13-inch dish
        if held is not None:
            joined = _joined(held, replace(part, link="to") if between and part.link == "and" else part, parts)
            between = False
            if joined is not None:
                held, parts = joined
                continue
            found.append(_bit(held, parts, depth))
        held, parts = part, ()
    if held is not None:
        found.append(_bit(held, parts, depth))
    return found


_LITTLE_LARGER = {"mass": 1.6, "volume": 1.25}  # "1 kg / 2 lb" is as near as cooks come
_GRAM_PER_ML = (0.2, 3.0)  # dried herbs, syrup


def _again(held: Measure, rate: Rate) -> Measure | Rate:
    """``28 g / 1 oz``, ``2 tbsp / 30 g``: what stands behind the stroke is the same amount told again, and no rate.

    So it is in the other system, and about as much; and whatever it comes to, behind grams a few ounces are no base of a rate.
    """
    if rate.amount is None or rate.low is None or rate.told_from is None or held.unit is None:
        return rate
    what, base = units.dimension(held.unit), units.dimension(rate.unit)
    if what not in ("mass", "volume") or held.unit in units.WORD_MEASURES:
        return rate
    size = float(held.high * units.factor(held.unit) / (rate.amount * units.factor(rate.unit))) if rate.amount and held.high else 0.0
    if what == base:
        told = (held.unit in METRIC) != (rate.unit in METRIC) and (1 / _LITTLE_LARGER[what] <= size <= _LITTLE_LARGER[what] or {held.unit, rate.unit} == {"gram", "ounce"})
    else:
        least, most = _GRAM_PER_ML
        per_litre = size if what == "mass" else 1 / size if size else 0.0
        told = (rate.unit if what == "mass" else held.unit) not in ("litre", "gallon", "quart", "pint") and least <= per_litre / 1000 <= most
    return Measure(rate.low, rate.amount, rate.unit, rate.told_from, rate.end, "/") if told else rate


def _amount(measure: Measure, parts: tuple[Amount, ...] = ()) -> Amount:
    return Amount(measure.low, measure.high, measure.unit or "each", Place(measure.start, measure.end), parts, measure.vague, measure.doubt, None if parts else measure.other)


def _bit(measure: Measure, parts: tuple[Amount, ...], depth: int) -> AmountBit:
    return AmountBit(depth, measure.start, measure.end, _amount(measure, parts), measure.link, measure.hyphen, measure.article)


def _joined(held: Measure, part: Measure, parts: tuple[Amount, ...]) -> tuple[Measure, tuple[Amount, ...]] | None:
    """``held`` and the next ``part`` as one: 2 lb 4 oz, 2 lb to 3 lb, 36° to 40°F, a week or ten days."""
    if part.unit is None and held.unit == "pound" and held.end == held.number_end + 1 and part.link == "" and part.low == part.high < 16 and part.start <= held.end + 1:
        part = replace(part, unit="ounce")  # 2#4, 1# 8
    if part.unit is None or (held.unit is None and part.link not in _RANGES):
        return None
    what = units.dimension(part.unit)
    if held.unit is None:
        if held.low < held.high and part.start == held.end + 1:
            return replace(held, low=min(held.low, part.low), high=max(held.high, part.high), unit=part.unit, end=part.end, doubt="more than two numbers in one range"), ()  # 2-3-4 lb
        if (part.link == "or" and what == "thing") or held.high > part.low:
            return None
        return replace(held, high=part.high, unit=part.unit, end=part.end, doubt=held.doubt or part.doubt), ()
    if units.dimension(held.unit) != what:
        return None
    same = held.unit == part.unit
    if part.link in _RANGES:
        if what == "temperature":
            if held.unit != "degree" and part.unit != "degree" and not same:
                return None
            unit = part.unit if held.unit == "degree" else held.unit
            if part.link in ("or", "-", "–", "—") and held.low > part.low:
                return None
            if held.low > part.high:
                return None
            return replace(held, high=part.high, unit=unit, end=part.end), ()
        if part.link == "or" and what != "time":
            return None
        if same and held.high <= part.low:
            return replace(held, high=part.high, end=part.end, doubt=held.doubt or part.doubt), ()
        if not same and what == "time":
            small, big = part.unit, held.unit
            ratio = units.factor(big) / units.factor(small)
            if ratio >= 1 and held.low * ratio <= part.high:
                return replace(held, low=held.low * ratio, high=part.high, unit=small, end=part.end), ()
            if ratio < 1 and held.low <= part.high / ratio:
                return replace(held, high=part.high / ratio, end=part.end), ()
        return None
    if part.link not in _ADDS or what not in _SUMMED or same or part.article:
        return None
    if held.unit in units.WORD_MEASURES or part.unit in units.WORD_MEASURES:
        return None
    if part.link in ("", ",") and what in ("mass", "volume") and (held.unit in METRIC) != (part.unit in METRIC):
        return None  # "1 oz   28 g": the same told again
    ratio = units.factor(part.unit) / units.factor(held.unit)
    if ratio >= 1 and part.link in ("", ","):
        return None
    if part.link == "," and (what != "mass" or part.high * ratio >= 1):
        return None
    if part.link == "" and part.high * ratio >= 1:
        return None
    if what == "time" and part.link in ("and", "plus", "+", "&"):
        return None
    pieces = parts or (_amount(held),)
    total = replace(held, low=held.low + part.low * ratio, high=held.high + part.high * ratio, end=part.end, doubt=held.doubt or part.doubt)
    return total, (*pieces, _amount(part))
