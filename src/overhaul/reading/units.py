"""Units: one closed pint registry of our own. The only importer of pint.

Raw text never reaches pint: the grammar names the unit, pint gives its factor once, and amounts are
multiplied by it exactly.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any, Literal

Dimension = Literal["mass", "volume", "length", "time", "temperature", "share", "thing"]

BASES: dict[str, Dimension] = {"gram": "mass", "litre": "volume", "millimetre": "length", "hour": "time"}
_NOT_IN_REGISTRY: dict[str, Dimension] = {
    "degF": "temperature", "degC": "temperature", "degree": "temperature", "gas_mark": "temperature", "salometer": "share", "percent": "share", "permille": "share",
}  # fmt: skip
_IMPERIAL = {"gallon": "imperial_gallon", "quart": "imperial_quart", "pint": "imperial_pint", "fluid_ounce": "imperial_fluid_ounce"}
# Spoons, glasses and handfuls have no legal size: facts/measures.tsv gives their spans in millilitre.
WORD_MEASURES = frozenset(["dessertspoon", "saltspoon", "teacup", "wineglass", "drop", "pinch", "dash", "handful", "bucket", "jigger"])


@cache
def _registry() -> Any:
    from pint import UnitRegistry

    registry: Any = UnitRegistry(None, non_int_type=Fraction)
    for line in files("overhaul.reading").joinpath("units.txt").read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            registry.define(line)
    return registry


@cache
def _known() -> frozenset[str]:
    return frozenset(_registry())


@cache
def dimension(unit: str) -> Dimension:
    """What ``unit`` measures; a thing (clove, bottle, each) where it measures nothing."""
    if unit in _NOT_IN_REGISTRY:
        return _NOT_IN_REGISTRY[unit]
    if unit in WORD_MEASURES:
        return "volume"
    if unit not in _known():
        return "thing"
    base = next(iter(_registry().get_base_units(unit)[1]._units))
    return BASES[base]


@cache
def factor(unit: str, gallon: str = "us") -> Fraction:
    """How many of its base unit (gram, litre, millimetre, hour) one ``unit`` is; exact, one pint call a unit.

    ``gallon`` "imperial" takes gallon, quart, pint and fluid ounce as imperial ones. Raises KeyError for a unit
    without a legal size.
    """
    name = _IMPERIAL.get(unit, unit) if gallon == "imperial" else unit
    if name not in _known():
        raise KeyError(unit)
    base = next(base for base, what in BASES.items() if what == dimension(unit))
    return Fraction(_registry().convert(Fraction(1), name, base))


_SIGNS = {"degF": "°F", "degC": "°C", "percent": "%", "permille": "‰", "each": ""}
_PLURALS = {"leaf": "leaves", "loaf": "loaves", "foot": "feet"}


def in_words(unit: str, *, several: bool) -> str:
    """``unit`` as a page has it behind a figure; a bare count of things has none."""
    if unit in _SIGNS:
        return _SIGNS[unit]
    word = unit.replace("_", " ")
    return _PLURALS.get(word) or word + ("es" if word.endswith(("ch", "sh", "x", "s")) else "s") if several else word


def fahrenheit(value: Fraction, unit: str) -> float:
    """A temperature point in degF, from ``degF``, ``degC`` or an oven's ``gas_mark``. Raises ValueError for a bare degree."""
    if unit == "degF":
        return float(value)
    if unit == "degC":
        return float(value * 9 / 5 + 32)
    if unit == "gas_mark":  # a quarter and a half stand below 1 as marks of their own
        from overhaul import facts

        step = value if value >= 1 else Fraction(0) if value == Fraction(1, 2) else Fraction(-1)
        return facts.fact("gas_mark.first_f").value + facts.fact("gas_mark.step_f").value * float(step - 1)
    raise ValueError(f"no scale: {unit}")


def celsius(degf: float) -> float:
    """A temperature point in degC, from degF."""
    return (degf - 32) * 5 / 9


def hours(value: Fraction, unit: str) -> float:
    """A duration in hour. A night is ten hours."""
    return float(value * factor(unit))
