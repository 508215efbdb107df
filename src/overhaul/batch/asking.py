"""What a cook asks a batch for, read by the reader of recipes: ``2 flats, 9.4 lb, 2.5 inch``, ``18 litre``, ``60 at 5 oz``, ``1 1/2``."""

from __future__ import annotations

import re

from msgspec import Struct

from overhaul.house import House
from overhaul.reading import lexicon, units
from overhaul.reading.tree import parse
from overhaul.recipe import masses
from overhaul.recipe.bits import AmountBit, WordBit, bits
from overhaul.recipe.ingredients import read_line
from overhaul.recipe.model import Amount
from overhaul.recipe.naming import Draft
from overhaul.span import Span, between
from overhaul.sums.asking import asked as cure_in_hand
from overhaul.text import Page, Place

_FILLERS = re.compile(r"\b(?:thick(?:ness)?|through|in all|all|total|together|each|apiece|of|meat|pieces?|slabs?|sides?|halves|weighing|at)\b|[^\w\s#-]")
_MOST_FACTOR, _LEAST_FACTOR = 1000, 0.001
_MOST_GRAM, _MOST_LITRE, _MOST_PORTIONS, _MOST_PIECES = 20_000_000.0, 20_000.0, 100_000, 10_000
_MOST_MM = 500.0
_LONGEST = 300


class Piece(Struct, frozen=True):
    """Meat in hand: what it is called, whole pieces, gram in all, millimetre through the thickest part; None for what was not said."""

    words: str
    name: str | None
    kind: str | None  # row of facts/cuts.tsv, where the name has one
    pieces: int | None
    gram: float | None
    thickness: Span | None


class Portions(Struct, frozen=True):
    """So many portions, of so many gram as served where that is said."""

    words: str
    count: int
    gram: float | None


class Asked(Struct, frozen=True):
    """All that a batch is made for. ``tub`` is litre, ``times`` and ``spices`` factors of the recipe as written, ``cure`` percent of each agent."""

    meats: tuple[Piece, ...] = ()
    tub: float | None = None
    tub_words: str | None = None
    times: float | None = None
    portions: Portions | None = None
    cure: dict[str, float] | None = None
    spices: float | None = None


def asked_for(
    meats: tuple[str, ...] = (), tub: str | None = None, times: str | None = None, portions: str | None = None, cure: str | None = None, spices: str | None = None,
    house: House | None = None,
) -> Asked:  # fmt: skip
    """The options as figures. Raises ValueError, in plain words, for what cannot be read, cannot be, or does not go together."""
    house = house or House()
    ways = [name for name, told in (("--meat", meats), ("--tub", tub), ("--times", times), ("--portions", portions)) if told]
    if len(ways) > 1 and ways != ["--meat", "--tub"]:
        raise ValueError(f"{' and '.join(ways)} together say two sizes; say one of them (--meat with --tub is this meat in this tub)")
    with lexicon.house_names(house.names):
        return Asked(
            tuple(_piece(text, house) for text in meats), _tub(tub, house) if tub is not None else None, tub, _factor("--times", times) if times is not None else None,
            _portions(portions) if portions is not None else None, cure_in_hand((), cure).cure if cure is not None else None,
            _factor("--spices", spices) if spices is not None else None,
        )  # fmt: skip


def _amounts(option: str, text: str) -> list[AmountBit]:
    if len(text) > _LONGEST:
        raise ValueError(f"{option}: longer than {_LONGEST} characters")
    if re.match(r"\s*[-−–]", text):
        raise ValueError(f"{option} “{text}” is less than nothing")
    found = [bit for bit in bits(parse(text)) if isinstance(bit, AmountBit)]
    for bit in found:
        if bit.amount.doubt is not None:
            raise ValueError(f"{option} “{text}” can be read two ways: {bit.amount.doubt}")
    return found


def _exact(option: str, text: str, amount: Amount) -> float:
    if amount.low != amount.high:
        raise ValueError(f"{option} “{text}”: one figure is wanted, not a range")
    return float(amount.low)


def _within(option: str, text: str, value: float, most: float, least: float = 0.0) -> float:
    if not least < value <= most:
        raise ValueError(f"{option} “{text}” is out of all bounds; it must be more than {least:g} and at most {most:,.0f}")
    return value


def _piece(text: str, house: House) -> Piece:
    option = "--meat"
    _amounts(option, text)
    page = Page(text.replace("\n", " ").replace("\r", " "))
    drafts = read_line(page, bits(parse(page.plain)), Place(0, len(page.text)))
    if not drafts:
        raise ValueError(f"{option} “{text}” cannot be read; say “2 flats, 9.4 lb” or “1 point, 6 lb, 4 inch”")
    if len(drafts) > 1:
        raise ValueError(f"{option} “{text}” is several meats; say --meat once for each")
    draft = drafts[0]
    gram, pieces = _gram(option, text, draft, house), _count(option, text, draft)
    if gram is None and pieces is None:
        raise ValueError(f"{option} “{text}” has neither a weight nor a number of pieces")
    return Piece(text, *_name(option, text, draft), pieces, gram, _thickness(option, text))


def _gram(option: str, text: str, draft: Draft, house: House) -> float | None:
    weights = [amount for amount in (draft.amount, *draft.also) if amount is not None and units.dimension(amount.unit) == "mass"]
    wrong = [amount for amount in (draft.amount, *draft.also) if amount is not None and units.dimension(amount.unit) in ("volume", "share", "temperature", "time")]
    if wrong:
        raise ValueError(f"{option} “{text}”: meat is weighed; {units.in_words(wrong[0].unit, several=True)} cannot be read here")
    if not weights:
        return None
    _exact(option, text, weights[0])
    span, _ = masses.in_grams(weights[0], "meat", None, house)
    gram = span.likely if span is not None else 0.0
    if draft.count is not None and (draft.each or "@" in text):
        gram *= float(draft.count.low)
    return _within(option, text, gram, _MOST_GRAM)


def _count(option: str, text: str, draft: Draft) -> int | None:
    things = [amount for amount in (draft.count, draft.amount, *draft.also) if amount is not None and units.dimension(amount.unit) == "thing"]
    if not things:
        return None
    count = _exact(option, text, things[0])
    if count != int(count):
        raise ValueError(f"{option} “{text}”: pieces of meat are whole")
    return int(_within(option, text, count, _MOST_PIECES))


def _name(option: str, text: str, draft: Draft) -> tuple[str | None, str | None]:
    if draft.role == "meat":
        name = draft.name if not draft.name.endswith(" of") else " ".join(lexicon.plain_words(draft.name.removesuffix(" of")))
        return name, draft.kind
    rest = " ".join(_FILLERS.sub(" ", draft.name.lower()).split())
    if not rest:
        return None, None
    known = lexicon.known(lexicon.plain_words(rest))
    if known is not None and known.role == "meat":
        return rest, known.kind
    raise ValueError(f"{option} “{text}”: “{rest}” is no meat that is known here; say the cut, or the weight alone")


def _thickness(option: str, text: str) -> Span | None:
    lengths = [bit.amount for bit in _amounts(option, text) if bit.dimension == "length"]
    if not lengths:
        return None
    if len(lengths) > 1:
        raise ValueError(f"{option} “{text}”: one thickness is wanted, through the thickest part")
    mm = units.size(lengths[0].unit)
    low, high = (round(float(end) * mm, 1) for end in (lengths[0].low, lengths[0].high))  # as the batch's page has it
    _within(option, text, low, _MOST_MM)
    _within(option, text, high, _MOST_MM)
    return between(low, high)


def _tub(text: str, house: House) -> float:
    named = {name.lower(): litre for name, litre in house.tubs.items()}.get(text.strip().lower())
    if named is not None:
        return named.likely
    found = _amounts("--tub", text)
    if len(found) != 1 or found[0].dimension != "volume" or found[0].unit in units.WORD_MEASURES:
        raise ValueError(f"--tub “{text}” cannot be read; say “18 litre” or “5 gallon”" + (f", or one of {', '.join(house.tubs)}" if house.tubs else ""))
    return _within("--tub", text, _exact("--tub", text, found[0].amount) * units.size(found[0].unit, house.gallon), _MOST_LITRE)


def _factor(option: str, text: str) -> float:
    found = _amounts(option, re.sub(r"\s*(?:x|×|times)\s*$|^\s*(?:x|×)\s*", "", text, flags=re.I))
    if len(found) != 1 or found[0].unit not in ("each", "percent"):
        raise ValueError(f"{option} “{text}” cannot be read; say “2”, “1 1/2” or “0.5”")
    value = _exact(option, text, found[0].amount) / (100 if found[0].unit == "percent" else 1)
    return _within(option, text, value, _MOST_FACTOR, _LEAST_FACTOR)


def _portions(text: str) -> Portions:
    option = "--portions"
    found = _amounts(option, text)
    counts = [bit.amount for bit in found if bit.unit in ("each", "portion")]
    sizes = [bit for bit in found if bit.dimension == "mass"]
    strange = [bit for bit in bits(parse(text)) if isinstance(bit, WordBit) and bit.low not in ("at", "of", "portions", "portion", "servings", "each", "covers", "x", "plates")]
    if len(counts) != 1 or len(sizes) > 1 or len(found) != len(counts) + len(sizes) or strange:
        raise ValueError(f"{option} “{text}” cannot be read; say “60 at 5 oz” or “60 portions of 150 g”")
    count = _within(option, text, _exact(option, text, counts[0]), _MOST_PORTIONS)
    if count != int(count):
        raise ValueError(f"{option} “{text}”: portions are whole")
    gram = _exact(option, text, sizes[0].amount) * units.size(sizes[0].unit) if sizes else None
    return Portions(text, int(count), _within(option, text, gram, 5000.0) if gram is not None else None)
