"""What stands only in the method, put into the section it goes into."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from overhaul.reading import lexicon, units
from overhaul.reading.patterns import Pattern
from overhaul.recipe.method import Sentence
from overhaul.recipe.method_ingredients import Taking, unmeasured
from overhaul.recipe.model import (
    CURING_SALTS,
    Use,
)  # fmt: skip
from overhaul.recipe.naming import Draft
from overhaul.recipe.parts import Part
from overhaul.text import Page, Place

_REST_ICE = Pattern(r"\b(?:rest|remainder|remaining|balance)\b[^.;]{0,24}\b(?:as|in) (?:the form of )?(?:[\d½¼¾⅓⅔][\d ./½¼¾⅓⅔]* ?[a-z]+\.? (?:of )?)?(ice)\b")


def take_from_method(page: Page, parts: list[Part], told: list[Sentence], taken: list[list[Taking]], listed: list[Draft]) -> None:
    """Put what stands only in the method into the section it goes into."""
    _ice_for_water(page, listed)
    method = _rest_as_ice(page, told, taken, listed)
    known = [*listed, *(draft for draft, _ in method)]
    for in_sentence in taken:
        for taking in in_sentence:
            if _told_before(page, taking, known, listed):
                continue
            if taking.use == "soak":
                continue
            method.append((taking.draft, taking.use))
            known.append(taking.draft)
    has_salt = any(draft.role == "salt" for draft in known)
    has_cure = any(draft.role in CURING_SALTS for draft in known)
    if not listed:
        for sentence in told:
            if sentence.phase in ("cook", "slice", "store", "hold", "cool", "season", "rest"):
                continue
            for taking in unmeasured(page, sentence):
                curing = taking.draft.role in CURING_SALTS
                if (curing and not has_cure) or (not curing and not has_salt):
                    method.append((taking.draft, taking.use))
                    has_cure, has_salt = has_cure or curing, has_salt or not curing
    for draft, use in method:
        # "8 oz of the rub" is taken from the list of that name, and no line of it
        part = next((part for part in parts if part.use == use and part.drafts and (part.name or "").strip(" :").lower() != draft.name.lower()), None)
        if part is None:
            part = Part(None, page.line_at(draft.place.start), draft.place, use, [])
            parts.append(part)
        part.drafts.append((draft, use, True))


_FOR_WATER = Pattern(r"\b(?:in place of|instead of|in lieu of|replac(?:es|ing)|out of) (?:(?:some|part|half|that much|as much) of )?(?:the |that |this )?(?:same )?water\b")


def _ice_for_water(page: Page, listed: list[Draft]) -> None:
    """``1.5 gal cold water``, ``2 qt ice in place of some of the water``: so much less is poured."""
    water = next((draft for draft in listed if draft.role == "water" and draft.amount is not None), None)
    ice = next((draft for draft in listed if draft.role == "ice" and draft.amount is not None and _FOR_WATER.search(page.low, draft.place.start, draft.place.end)), None)
    if water is None or ice is None or water.amount is None or ice.amount is None or water.poured is not None:
        return
    whole, part = water.amount, ice.amount
    if units.dimension(part.unit) != units.dimension(whole.unit) or not whole.high or {part.unit, whole.unit} & units.WORD_MEASURES:
        return
    share = part.high * units.factor(part.unit) / (whole.high * units.factor(whole.unit))
    if 0 < share < 1:
        water.poured = replace(whole, low=whole.low * (1 - share), high=whole.high * (1 - share))


def _rest_as_ice(page: Page, told: list[Sentence], taken: list[list[Taking]], listed: list[Draft]) -> list[tuple[Draft, Use]]:
    """``Bring 2 qts water to the boil. Rest of water as ice.``: what of the listed water is ice, which stands nowhere as an amount."""
    sentence = next((one for one in told if one.says(_REST_ICE)), None) if _REST_ICE.may_match(page.told) else None
    water = next((draft for draft in listed if draft.role == "water" and draft.amount is not None), None)
    if sentence is None or water is None or water.amount is None or water.poured is not None or any(draft.role == "ice" for draft in listed):
        return []
    place = sentence.find(_REST_ICE)
    assert place is not None
    whole, dimension = water.amount, units.dimension(water.amount.unit)
    heated = next((taking.draft.amount for one in taken for taking in one if taking.draft.role == "water" and taking.draft.amount is not None), None)
    ice = Draft(place, "ice", Place(place.end - 3, place.end), "ice", "ice_unspecified_bulk")
    if heated is None or units.dimension(heated.unit) != dimension or dimension not in ("mass", "volume") or {heated.unit, whole.unit} & units.WORD_MEASURES:
        return [(ice, "cure")]
    share = heated.high * units.factor(heated.unit) / (whole.high * units.factor(whole.unit)) if whole.high else Fraction(1)
    if not 0 < share < 1:
        return [(ice, "cure")]
    water.poured = replace(whole, low=whole.low * share, high=whole.high * share)
    ice.poured = replace(whole, low=whole.low * (1 - share), high=whole.high * (1 - share), place=place)
    return [(ice, "cure")]


def _told_before(page: Page, taking: Taking, known: list[Draft], listed: list[Draft]) -> bool:
    draft = taking.draft
    for other in known:
        if other.role != draft.role:
            if draft.role in CURING_SALTS and other.role == "salt" and other in listed and _names_less(draft, other):
                return True  # the list has settled what "the pink salt" is: the Himalayan
            continue
        if draft.role == "salt" and other not in listed and taking.sentence.place.start <= other.place.start < taking.sentence.place.end and lexicon.plain_words(draft.name) != lexicon.plain_words(other.name):
            continue  # two pounds of bay salt, one pound of common salt
        if draft.role in ("water", "ice", "salt", "meat", *CURING_SALTS):
            same = True
        else:
            mine, theirs = set(lexicon.plain_words(draft.name)), set(lexicon.plain_words(other.name))
            same = bool(mine & theirs)
        if not same:
            continue
        if draft.role == "water" and taking.use == "cook" and other not in listed:
            continue
        if draft.role == "water" and taking.use == "cook" and not re.search(r"\bpot\b|\bsimmer\b|\bcook\b", page.plain[other.place.start : other.place.end], re.I) and other.amount is not None and taking.bit is not None and other.amount.low < taking.bit.amount.low and other.amount.unit == taking.bit.unit:
            continue
        if other.amount is None and draft.amount is not None and draft.role in ("water", "meat", "ice") and other in listed and taking.use == "cure":
            other.amount, other.place = draft.amount, other.place
        return True
    return False


def _names_less(draft: Draft, other: Draft) -> bool:
    """Whether ``draft`` is called by no more than words of the name of ``other``."""
    return set(lexicon.plain_words(draft.name)) <= set(lexicon.plain_words(other.name))
