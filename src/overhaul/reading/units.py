"""Units: one closed pint registry of our own. The only importer of pint.

Raw text never reaches pint: the grammar names the unit, pint gives its factor once, and amounts are
multiplied by it exactly. To import pint takes longer than to read a page, so what it says of each unit of
units.txt stands written down in factors.tsv, with a hash of the units.txt that it was asked about; when that has
changed pint is asked again, each time, until ``python -m overhaul.reading.units`` writes the table anew.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache, lru_cache
from hashlib import blake2b
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal

Dimension = Literal["mass", "volume", "length", "time", "temperature", "share", "thing"]

PINT = "0.25"  # the pint that pyproject.toml asks for
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
def _written() -> dict[str, tuple[Dimension, Fraction]] | None:
    """What pint said of each unit, or None where it was asked about other units than there are now."""
    first, *rows = files("overhaul.reading").joinpath("factors.tsv").read_text("utf-8").splitlines()
    if first != _heading():
        return None
    cells = [row.split("\t") for row in rows]
    return {unit: (BASES[base], Fraction(told)) for unit, base, told in cells}


def _heading() -> str:
    return f"# pint {PINT} on units.txt {blake2b(files('overhaul.reading').joinpath('units.txt').read_bytes(), digest_size=8).hexdigest()}: unit, base unit, factor"


def _asked() -> dict[str, tuple[Dimension, Fraction]]:
    """What pint says of each unit now: its dimension and its factor."""
    registry = _registry()
    found = {}
    for unit in registry:
        base = next(iter(registry.get_base_units(unit)[1]._units))
        found[unit] = BASES[base], Fraction(registry.convert(Fraction(1), unit, base))
    return found


@cache
def _known() -> dict[str, tuple[Dimension, Fraction]]:
    return _written() or _asked()


def write_factors(to: Path) -> None:
    """Asks pint about every unit and writes down what it says."""
    rows = [f"{unit}\t{next(base for base, what in BASES.items() if what == measured)}\t{told}" for unit, (measured, told) in sorted(_asked().items())]
    to.write_text("\n".join([_heading(), *rows]) + "\n", "utf-8")


@lru_cache(maxsize=4096)
def dimension(unit: str) -> Dimension:
    """What ``unit`` measures; a thing (clove, bottle, each) where it measures nothing."""
    if unit in _NOT_IN_REGISTRY:
        return _NOT_IN_REGISTRY[unit]
    if unit in WORD_MEASURES:
        return "volume"
    if unit not in _known():
        return "thing"
    return _known()[unit][0]


@cache
def factor(unit: str, gallon: str = "us") -> Fraction:
    """How many of its base unit (gram, litre, millimetre, hour) one ``unit`` is; exact.

    ``gallon`` "imperial" takes gallon, quart, pint and fluid ounce as imperial ones. Raises KeyError for a unit
    without a legal size.
    """
    name = _IMPERIAL.get(unit, unit) if gallon == "imperial" else unit
    if name not in _known():
        raise KeyError(unit)
    return _known()[name][1]


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
        return plain(value)
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
    (over, under), (per, of) = value.as_integer_ratio(), factor(unit).as_integer_ratio()
    return over * per / (under * of)  # as float(value * factor(unit)), in a third of the time


def plain(value: Fraction) -> float:
    """float(value), in a third of the time."""
    over, under = value.as_integer_ratio()
    return over / under


@cache
def size(unit: str, gallon: str = "us") -> float:
    """``factor`` as a plain figure."""
    return float(factor(unit, gallon))


if __name__ == "__main__":
    write_factors(Path(__file__).with_name("factors.tsv"))
