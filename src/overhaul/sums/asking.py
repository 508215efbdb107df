"""What a cook asks for in words: ``150 ppm``, ``2.5 % salt``, ``10 % brine``, ``40 F``; and the curing salt in hand."""

from __future__ import annotations

import re

from overhaul.reading import units
from overhaul.sums.answers import Wanted

_FIGURE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(ppm|mg/kg|%|percent|°?\s*[cf])\s*(?:of\s+)?([a-z]*)\s*", re.I)
_CURE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(?:%|percent)\s*(?:sodium\s+|potassium\s+)?(nitrite|nitrate)\s*", re.I)
_MOST_SALT, _MOST_BRINE = 20.0, 26.4


def asked(targets: tuple[str, ...], cure: str | None) -> Wanted:
    """The targets and the curing salt as figures. Raises ValueError, in plain words, for one that cannot be read or cannot be."""
    found: dict[str, float] = {}
    for text in targets:
        name, value = _target(text)
        if name in found:
            raise ValueError(f"“{text}”: asked for twice")
        found[name] = value
    return Wanted(found.get("nitrite"), found.get("salt"), found.get("brine"), found.get("celsius"), _cure(cure) if cure is not None else None)


def _target(text: str) -> tuple[str, float]:
    match = _FIGURE.fullmatch(text)
    if match is None:
        raise ValueError(f"“{text}” cannot be read; ask for “150 ppm”, “2.5 % salt”, “10 % brine” or “40 F”")
    value, unit, of = float(match[1].replace(",", ".")), match[2].lower().strip("° "), match[3].lower()
    if unit in ("ppm", "mg/kg") and of in ("", "nitrite"):
        return "nitrite", _within(text, value, 2000)
    if unit in ("c", "f") and of in ("", "brine"):
        celsius = value if unit == "c" else units.celsius(value)
        return "celsius", _within(text, celsius, 100)
    if unit in ("%", "percent") and of in ("salt", "meat"):
        return "salt", _within(text, value, _MOST_SALT)
    if unit in ("%", "percent") and of == "brine":
        return "brine", _within(text, value, _MOST_BRINE)
    raise ValueError(f"“{text}”: percent of what? say “{match[1]} % salt” for the meat, or “{match[1]} % brine”" if unit in ("%", "percent") else f"“{text}” cannot be read: what is “{of}”?")


def _within(text: str, value: float, most: float) -> float:
    if not 0 < value <= most:
        raise ValueError(f"“{text}” is out of all bounds; it must be more than nothing and at most {most:g}")
    return value


def _cure(text: str) -> dict[str, float]:
    found: dict[str, float] = {}
    for part in re.split(r",(?!\d)|\band\b|\+", text):
        match = _CURE.fullmatch(part)
        if match is None:
            raise ValueError(f"“{text}” cannot be read; say what the label says, as “6.25 % nitrite” or “6.25 % nitrite, 4 % nitrate”")
        found[match[2].lower()] = _within(text, float(match[1].replace(",", ".")), 100)
    if sum(found.values()) > 100:
        raise ValueError(f"“{text}” is more than 100 percent")
    return found
