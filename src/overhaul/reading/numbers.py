"""The numbers of the grammar as exact fractions, with a doubt where a misprint is likelier than the figure."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

_ONES = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
_PARTS = {"half": 2, "halves": 2, "third": 3, "quarter": 4, "fourth": 4, "eighth": 8, "sixteenth": 16}
# What a kitchen fraction is printed with; anything else under the stroke is likelier a misprint or a date.
_KITCHEN_DENOMINATORS = frozenset([2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 32, 64])


class Reading(NamedTuple):
    """A number, why it may have been read wrongly, and what it is then (None where nothing tells)."""

    value: Fraction
    doubt: str | None = None
    other: Fraction | None = None


_LONGEST = 24  # characters: past this it is a barcode or a slip, and no sum could use it


@lru_cache(maxsize=4096)
def read(form: str, text: str) -> Reading:
    """The likelier value of a number token of ``form`` (a terminal of grammar/number.lark); where it is doubted, why, and the other value.

    Raises ValueError for a form that is no number.
    """
    if len(text) > _LONGEST and form != "WRITTEN":
        return Reading(Fraction(int("".join(re.findall(r"\d", text))[:_LONGEST])), "so many figures are no amount")
    if form == "INTEGER":
        return Reading(Fraction(int(text)))
    if form == "SIGNED":
        return Reading(Fraction(text))
    if form == "THOUSANDS":
        return Reading(Fraction(text.replace(",", "")))
    if form == "DECIMAL":
        return Reading(Fraction(("0" + text).replace(",", ".") if text.startswith(".") else text.replace(",", ".")))
    if form == "GLYPH":
        return Reading(_glyph(text))
    if form == "MIXED_GLYPH":
        return Reading(int(re.findall(r"\d+", text)[0]) + _glyph(text[-1]))
    if form == "MIXED":
        whole, top, bottom = (int(figure) for figure in re.findall(r"\d+", text))
        if bottom == 0:
            return Reading(Fraction(whole), f"“{text}” has nothing under the stroke")
        part = Fraction(top, bottom)
        doubt = None if part < 1 and bottom in _KITCHEN_DENOMINATORS else f"“{text}” is no usual fraction"
        return Reading(whole + part, doubt)
    if form == "FRACTION":
        return _fraction(text)
    if form == "SCANNED":
        return _scanned(text)
    if form == "WRITTEN":
        return Reading(_written(text.lower()))
    raise ValueError(f"no number form: {form}")


_THREE_AFTER = re.compile(r"([1-9]\d{0,2})([.,])(\d{3})")


def stop_meant(text: str, unit: str) -> Reading | None:
    """``1.000 g`` is a thousand where the stop marks thousands; ``1,500 kg`` is one and a half where the comma marks decimals. Else None."""
    match = _THREE_AFTER.fullmatch(text)
    if match is None or (match[2] == ".") != (unit in ("gram", "millilitre")):
        return None
    thousands, decimal = Fraction(match[1] + match[3]), Fraction(f"{match[1]}.{match[3]}")
    short = f"{match[1]}.{match[3]}".rstrip("0").rstrip(".")
    likely, other = (thousands, decimal) if match[2] == "." else (decimal, thousands)  # what a kitchen would weigh
    return Reading(likely, f"“{text} {unit}”: {match[1]}{match[3]}, or {short}?", other)


def _glyph(text: str) -> Fraction:
    return Fraction(unicodedata.numeric(text)).limit_denominator(16)


def _fraction(text: str) -> Reading:
    above, below = text.split("/")
    top, bottom = int(above), int(below)
    if bottom == 0:
        return Reading(Fraction(top), f"“{text}” has nothing under the stroke")
    value = Fraction(top, bottom)
    below = below.strip()
    if above.endswith(" ") and len(below) == 2 and below[0] < below[1]:  # 2 /14
        return Reading(int(above) + Fraction(int(below[0]), int(below[1])), f"“{text}”: {int(above)} {below[0]}/{below[1]}, or {int(above)} and {below}?", Fraction(int(above)))
    above = above.strip()
    if len(above) == 2 and value > 1 and bottom in _KITCHEN_DENOMINATORS and int(above[1]) < bottom:  # 11/2
        return Reading(int(above[0]) + Fraction(int(above[1]), bottom), f"“{text}”: {above[0]} {above[1]}/{below}, or {top} over {below}?", value)
    if bottom not in _KITCHEN_DENOMINATORS or value >= 1:
        return Reading(value, f"“{text}” is no usual fraction")
    return Reading(value)


_FIGURES = str.maketrans("lIO", "110")


def _scanned(text: str) -> Reading:
    """``l 1/2``, ``1O``: a letter that was a figure once."""
    clean = text.translate(_FIGURES)
    if "/" in text[:2] or "." in text:  # l/2, O.4
        return Reading(Fraction(clean), f"“{text}” has a letter for a figure: {clean}?")
    part = text[1:].strip()
    if "/" in part or part[-1:] in _GLYPHS:
        value = Fraction(part) if "/" in part else _glyph(part)
        return Reading(1 + value, f"“{text}”: 1 {part}, or {part} alone?", value)
    return Reading(Fraction(int(clean)), f"“{text}” has a letter for a figure: {clean}?")


_GLYPHS = frozenset("¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞")


def _written(text: str) -> Fraction:
    words = [word for word in re.split(r"[\s-]+", text) if word not in ("and", "of")]
    if words == ["half", "a", "dozen"]:
        return Fraction(6)
    total = Fraction(0)
    held: int | None = None
    for word in words:
        part = _PARTS.get(word.removesuffix("s") if word != "halves" else word)
        if part is not None:
            top, whole = (held or 1), Fraction(0)
            total = total + whole + Fraction(top, part)
            held = None
            break
        if word == "hundred":
            held = (held or 1) * 100
        elif word == "dozen":
            held = (held or 1) * 12
        elif word == "couple":
            held = 2
        elif held is not None and held >= 20 and held % 10 == 0 and _ONES[word] < held:
            held += _ONES[word]  # twenty four, a hundred and twenty
        else:
            total += held or 0
            held = _ONES[word]
    return total + (held or 0)
