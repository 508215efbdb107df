"""Amounts that stand only in the method are ingredients too; amounts told again are not.

Water for the pot or the glaze is not brine: what an amount is for follows from the phase of its sentence.
"""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct

from overhaul.reading import lexicon, units
from overhaul.recipe.bits import AmountBit, Bit, LabelBit, MarkBit, RateBit, WordBit
from overhaul.recipe.ingredients import take_strength
from overhaul.recipe.method import Sentence
from overhaul.recipe.model import Amount, Per, Use
from overhaul.recipe.naming import Draft, with_unit
from overhaul.recipe.process import VESSEL
from overhaul.text import Page, Place

_USES: dict[str, Use] = {"season": "rub", "smoke": "cook", "wrap": "cook", "cook": "cook", "rest": "serve", "slice": "serve", "hold": "serve", "store": "serve", "cool": "serve", "soak": "soak", "rinse": "soak", "make-spice": "blend", "dry": "rub"}
_SKIP = frozenset(["of", "the", "a", "an", "each", "any", "some", "more", "cold", "fresh", "clean", "good", "plain", "whole", "soft", "boneless", "warm", "boiling", "hot", "coarse", "fine", "dried", "dry", "minced", "chopped", "crushed", "sliced", "ground", "to", "strong", "other", "extra", "very", "his", "her", "your", "its", "light", "dark", "lean", "level", "heaping", "best", "sweet", "pure"])
_STOP = frozenset(["and", "or", "in", "into", "to", "for", "with", "from", "on", "at", "until", "per", "by", "over", "under", "then", "is", "are", "was", "were", "has", "have", "that", "which", "as", "than", "so", "if"])
_NEAR = 16  # "twelve grams of cure number 1, the one with 6.25 % nitrite"
_NO_FIGURE_ROLES = frozenset(["salt", "cure1", "cure2", "nitrite", "nitrate", "ready-mix"])


class Taking(Struct):
    """Something a sentence takes: how much of what, and what for."""

    draft: Draft
    bit: AmountBit | None
    sentence: Sentence
    use: Use


def takings(page: Page, sentence: Sentence) -> list[Taking]:
    """Everything measured in ``sentence`` whose name is known."""
    found: list[Taking] = []
    bits = sentence.bits
    if not sentence.amounts and not any(isinstance(bit, RateBit) for bit in bits):
        return found
    use = _USES.get(sentence.phase, "cure")
    if use in ("soak", "cure") and sentence.says(r"\b(?:roasting pan|into a pan|in a pan|the oven|bake|baking)\b"):
        use = "cook"
    if use == "cure" and sentence.says(r"\b(?:glaze[sd]?|mop|bast(?:e|ing)|spritz|brush(?:ed)?)\b"):
        use = "cook"
    head = next((bit for bit in bits[:2] if isinstance(bit, RateBit)), None)
    if head is not None and units.dimension(head.unit) != "volume":
        head = None
    for index, bit in enumerate(bits):
        if isinstance(bit, RateBit):
            taking = _meat_rate(page, sentence, index)
            if taking is not None:
                found.append(taking)
            continue
        if not isinstance(bit, AmountBit) or bit.hyphen or bit.dimension not in ("mass", "volume", "thing"):
            continue
        if bit.unit in ("portion", "part", "piece", "slice", "strip", "sheet", "rack", "tub") and bit.dimension != "mass":
            continue
        weighing = _weighing(bits, index)
        named = weighing or _name_after(page, bits, index)
        if named is None and (covers := _will_cover(page, bit)) is not None:
            found.append(Taking(Draft(Place(bit.start, covers.end), "water", covers, "water", "water_cold", bit.amount), bit, sentence, use))
        if named is None:
            continue
        name, place = named
        if bit.bare and (weighing is None and (name.role not in ("aromatic", "spice", "meat") or not _close(bits, index, place))):
            continue
        if (bit.bare and name.role == "meat") or (bit.article and name.role == "meat" and bit.dimension == "thing"):
            continue
        draft = Draft(Place(bit.start, max(bit.end, place.end)), " ".join(name.noun.split()), place, name.role, name.kind, bit.amount, doubt=bit.amount.doubt)  # type: ignore[arg-type]
        if weighing is not None:
            draft.place = Place(min(bit.start, place.start), max(bit.end, place.end))
            if (count := _count(bits, index, place)) is not None:
                draft.count, draft.each = with_unit(count.amount, "piece"), True
        rate = next((part for part in bits[index + 1 : index + 8] if isinstance(part, RateBit)), None)
        if rate is not None and name.role != "meat":
            of = page.plain[rate.end : rate.end + 20].lower().split()
            draft.per = Per(rate.amount or Fraction(1), rate.unit, of[1] if len(of) > 1 and of[0] == "of" else of[0].strip(".,") if of else None, Place(rate.start, rate.end))
        if head is not None and draft.per is None and name.role not in ("water", "meat"):  # to each gallon of water put a pound of salt
            draft.per = Per(head.amount or Fraction(1), head.unit, "water", Place(head.start, head.end))
        following = bits[index + 1 : index + _NEAR]
        other = next((number for number, part in enumerate(following) if isinstance(part, AmountBit) and part.dimension in ("mass", "volume")), len(following))
        if following[:other]:
            take_strength(page, draft, following[:other])
        found.append(Taking(draft, bit, sentence, use))
    return found


_COVERS = re.compile(r"\s*(?:of it |or so )?(?:will|should|is enough to|are enough to|to) cover\b")


def _will_cover(page: Page, bit: AmountBit) -> Place | None:
    """``Two gallons will cover a piece of this size``: of the water, whose name stands elsewhere."""
    match = _COVERS.match(page.low, bit.end) if bit.dimension == "volume" else None
    return Place(bit.end, match.end()) if match is not None else None


def unmeasured(page: Page, sentence: Sentence, wanted: frozenset[str] = _NO_FIGURE_ROLES) -> list[Taking]:
    """Salt and cure named without a figure ("a plenty of salt"), for a page that has no list."""
    found: list[Taking] = []
    words = [(bit, lexicon.singular(bit.low)) for bit in sentence.bits if isinstance(bit, WordBit)]
    singulars = [word for _, word in words]
    for index in range(len(words)):
        name = lexicon.known_at(singulars, index)
        if name is None or name.role not in wanted:
            continue
        before = [bit.low for bit, _ in words[max(0, index - 4) : index]]
        if {"no", "not", "without", "nor", "never"} & set(before) or name.noun in ("cure", "pink"):
            continue
        bit = words[index][0]
        end = words[min(len(words), name.end) - 1][0]
        place = Place(bit.start, end.end)
        found.append(Taking(Draft(place, name.noun, place, name.role, name.kind), None, sentence, _USES.get(sentence.phase, "cure")))  # type: ignore[arg-type]
    return found


def _close(bits: list[Bit], index: int, place: Place) -> bool:
    between = [bit for bit in bits[index + 1 :] if bit.start < place.start]
    return len(between) <= 2


def _name_after(page: Page, bits: list[Bit], index: int) -> tuple[lexicon.Name, Place] | None:
    words: list[str] = []
    places: list[Place] = []
    started = False
    behind = bits[index + 1 : index + 16]
    if behind and isinstance(behind[0], MarkBit) and behind[0].text == "(":  # a 4.5 kg (10 lb) brisket
        depth = behind[0].depth
        close = next((number for number, bit in enumerate(behind) if number and bit.depth == depth and isinstance(bit, MarkBit) and bit.text == ")"), None)
        behind = behind[close + 1 :] if close is not None else behind
    for bit in behind[:8]:
        if isinstance(bit, LabelBit) and bit.form == "numbered":
            words.append("#" + re.sub(r"\D", "", bit.text))
            places.append(Place(bit.start, bit.end))
            continue
        if isinstance(bit, MarkBit) and bit.text == "." and words and len(words[-1]) <= 4 and not started:
            continue
        if not isinstance(bit, WordBit):
            break
        if bit.low in _STOP:
            if bit.low == "in" or not words or started:
                break
            break
        if bit.low in _SKIP and not started:
            if bit.low in ("coarse", "fine", "dried", "ground", "boiling", "cold", "sweet", "light", "dark", "whole", "plain", "boneless", "hot"):
                words.append(lexicon.singular(bit.low))
                places.append(Place(bit.start, bit.end))
            continue
        started = True
        words.extend(lexicon.plain_words(bit.text) or (bit.low,))
        places.extend([Place(bit.start, bit.end)] * max(1, len(lexicon.plain_words(bit.text))))
    if not words:
        return None
    best = lexicon.known(words)
    if best is None or best.role == "smoke":
        return None
    if best.start > 2:
        return None
    following = page.low[places[best.end - 1].end : places[best.end - 1].end + 14]
    if VESSEL.match(following.strip()) and not following.startswith((".", ",", ";")):
        return None
    first = words[0] if words else ""
    if VESSEL.fullmatch(first):
        return None
    return best, Place(places[best.start].start, places[best.end - 1].end)


def _weighing(bits: list[Bit], index: int) -> tuple[lexicon.Name, Place] | None:
    """``a round of beef weighing twenty-four pounds``"""
    before = [bit for bit in bits[max(0, index - 9) : index] if isinstance(bit, WordBit)]
    stop = next((number for number, bit in enumerate(before) if bit.low in ("weighing", "weighs", "weigh")), None)
    if stop is None and before and isinstance(bits[index - 1], MarkBit) and bits[index - 1].text == "," and isinstance(bits[index], AmountBit) and bits[index].dimension == "mass":  # type: ignore[attr-defined]
        last = lexicon.known([lexicon.singular(before[-1].low)])
        if last is not None and last.role == "meat":
            stop = len(before)  # a fat goose, ten pounds drawn
    if stop is None and before and before[-1].low in ("of", "about", "was", "is") and isinstance(bits[index - 1], WordBit):
        stop = len(before) - 1  # a brisket flat of five pounds
    if stop is None:
        return None
    named = before[:stop]
    name = lexicon.known([lexicon.singular(bit.low) for bit in named])
    if name is None or name.role != "meat":
        return None
    # "a piece of beef", "a round of beef": the whole phrase is the name
    start = name.start
    while start >= 2 and named[start - 1].low == "of":
        start -= 2
    return name, Place(named[start].start, named[name.end - 1].end)


def _count(bits: list[Bit], index: int, name: Place) -> AmountBit | None:
    """How many of them there are in ``2 navels, about 9 lb each``; None where the weight is not told of each."""
    after = bits[index + 1] if index + 1 < len(bits) else None
    if not isinstance(after, WordBit) or after.low not in _OF_EACH:
        return None
    before = next((bit for bit in reversed(bits[:index]) if bit.end <= name.start), None)
    return before if isinstance(before, AmountBit) and before.bare else None


_OF_EACH = frozenset(["each", "apiece", "ea"])


def _meat_rate(page: Page, sentence: Sentence, index: int) -> Taking | None:
    """``For 2-3 lb of fish make a brine``: "for" before an amount of meat."""
    bit = sentence.bits[index]
    assert isinstance(bit, RateBit)
    word = page.plain[bit.start : bit.start + 4].lower()
    if not word.startswith(("for", "to e", "in e")) or bit.unit not in ("pound", "kilogram", "gram", "ounce", "hundredweight", "stone"):
        return None
    named = _name_after(page, sentence.bits, index)
    if named is None or named[0].role != "meat":
        return None
    name, place = named
    skip = re.match(r"(?:for|to|in)(?:\s+(?:each|every))?\s*", page.plain[bit.start : bit.end], re.I)
    start = bit.start + (skip.end() if skip else 0)
    value = bit.amount or Fraction(1)
    amount = Amount(value, value, bit.unit, Place(start, bit.end))
    return Taking(Draft(Place(start, place.end), name.noun, place, "meat", name.kind, amount), None, sentence, "cure")
