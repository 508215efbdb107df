"""Numbers of the trade, each with its source, where in it, and how far it was checked.

Tables, one row a value: ``measures`` (gram of a US measure, by kind and unit), ``word_measures`` (millilitre of
a teacup, a handful), ``cuts`` (gram and millimetre of one piece), ``limits`` (ppm by law, agent and class),
``dwell`` (seconds at an internal temperature in degF), ``figures`` (everything else). ``dwell_by_fat`` has a form of its own.
Tables are read on first use; a bad row is refused with its file and line.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from math import isfinite

from msgspec import Struct

from overhaul.findings import Cite
from overhaul.span import Span

HEADER = ("name", "value", "low", "high", "unit", "source", "where", "status", "note")
STATUSES = frozenset(["seen", "seen-2nd", "memory", "mixed", "computed", "derived", "assumed", "common-practice"])
TABLES = ("figures", "measures", "word_measures", "cuts", "limits", "dwell")


class Source(Struct, frozen=True):
    """One published work, or the plain statement that there is none."""

    key: str
    title: str
    body: str
    year: int


class Fact(Struct, frozen=True):
    """One figure. ``low`` and ``high`` equal ``value`` where the table gives no span."""

    name: str
    value: float
    low: float
    high: float
    unit: str
    source: str
    where: str
    status: str
    note: str

    @property
    def span(self) -> Span:
        return Span(self.low, self.value, self.high)

    @property
    def cite(self) -> Cite:
        return Cite(self.source, self.where)

    @property
    def firm(self) -> bool:
        """Whether a certain hazard may rest on it: read in a primary text, or worked from one."""
        return self.status in ("seen", "derived", "computed")


@cache
def sources() -> dict[str, Source]:
    """Every source by key."""
    with files(__name__).joinpath("sources.toml").open("rb") as stream:
        return {key: Source(key, row["title"], row["body"], row["year"]) for key, row in tomllib.load(stream).items()}


def source(key: str) -> Source:
    """The source of this key; KeyError for an unknown one."""
    return sources()[key]


@cache
def table(name: str) -> dict[str, Fact]:
    """The rows of one table by name. Raises ValueError, with file and line, for a row that cannot stand."""
    text = files(__name__).joinpath(f"{name}.tsv").read_text("utf-8")
    return read_table(text, f"{name}.tsv", sources())


def read_table(text: str, file: str, known: dict[str, Source]) -> dict[str, Fact]:
    """``text`` as facts by name; see ``table``."""
    lines = text.splitlines()
    if not lines or tuple(lines[0].split("\t")) != HEADER:
        raise ValueError(f"{file}:1: the header must be {' '.join(HEADER)}")
    rows: dict[str, Fact] = {}
    for number, line in enumerate(lines[1:], 2):
        cells = line.split("\t")
        if len(cells) != len(HEADER):
            raise ValueError(f"{file}:{number}: {len(cells)} cells, {len(HEADER)} wanted")
        name, value, low, high, unit, key, where, status, note = cells
        try:
            middle = float(value)
            ends = (float(low) if low else middle, float(high) if high else middle)
        except ValueError:
            raise ValueError(f"{file}:{number}: not a number in {value!r}, {low!r} or {high!r}") from None
        if not (isfinite(middle) and ends[0] <= middle <= ends[1]):
            raise ValueError(f"{file}:{number}: {low} {value} {high} is no span")
        if name in rows:
            raise ValueError(f"{file}:{number}: {name} stands twice")
        if key not in known:
            raise ValueError(f"{file}:{number}: no source {key!r}")
        if status not in STATUSES:
            raise ValueError(f"{file}:{number}: no status {status!r}")
        rows[name] = Fact(name, middle, *ends, unit, key, where, status, note)
    return rows


FATS = 12  # percent, and the columns of dwell_by_fat: 1 to 12


@cache
def dwell_by_fat(species: str) -> dict[float, tuple[float, ...]]:
    """Seconds by degF for ``chicken`` or ``turkey``, at 1 to 12 percent fat in that order; KeyError for another species.

    Raises ValueError, with file and line, for a row that cannot stand.
    """
    return read_dwell_by_fat(files(__name__).joinpath("dwell_by_fat.tsv").read_text("utf-8"), "dwell_by_fat.tsv", sources())[species]


def read_dwell_by_fat(text: str, file: str, known: dict[str, Source]) -> dict[str, dict[float, tuple[float, ...]]]:
    """``text`` as seconds by species and degF; see ``dwell_by_fat``."""
    lines = text.splitlines()
    header = ("name", "source", "where", "status", *(f"fat{percent}" for percent in range(1, FATS + 1)))
    if not lines or tuple(lines[0].split("\t")) != header:
        raise ValueError(f"{file}:1: the header must be {' '.join(header)}")
    found: dict[str, dict[float, tuple[float, ...]]] = {}
    for number, line in enumerate(lines[1:], 2):
        cells = line.split("\t")
        if len(cells) != len(header):
            raise ValueError(f"{file}:{number}: {len(cells)} cells, {len(header)} wanted")
        name, key, _, status = cells[:4]
        try:
            species, degf = name.removeprefix("dwell_").split(".")
            seconds, at = tuple(float(cell) for cell in cells[4:]), float(degf)
        except ValueError:
            raise ValueError(f"{file}:{number}: not a row of seconds") from None
        if not all(isfinite(value) and value >= 0 for value in seconds):
            raise ValueError(f"{file}:{number}: not a row of seconds")
        if key not in known or status not in STATUSES:
            raise ValueError(f"{file}:{number}: no source {key!r} or no status {status!r}")
        if at in found.setdefault(species, {}):
            raise ValueError(f"{file}:{number}: {name} stands twice")
        found[species][at] = seconds
    return found


@cache
def fact(name: str) -> Fact:
    """A figure of ``figures``; KeyError for an unknown one."""
    return table("figures")[name]


# Volumes in US teaspoons, to reach a unit that a row does not give.
_SPOONS = {"teaspoon": 1, "tablespoon": 3, "fluid_ounce": 6, "gill": 24, "cup": 48, "pint": 96, "quart": 192, "gallon": 768}
_TEASPOON_ML = 4.92892159375
_NEAREST = ("cup", "tablespoon", "teaspoon", "quart", "gallon")


@cache
def measure(kind: str, unit: str) -> Span | None:
    """Gram of ``kind`` in one US ``unit``; None where the table cannot tell. Millilitre and litre come from the cup."""
    rows = table("measures")
    found = rows.get(f"{kind}.{unit}")
    if found is not None:
        return found.span
    if unit in ("millilitre", "litre", "centilitre", "decilitre"):
        spoons = {"millilitre": 1, "centilitre": 10, "decilitre": 100, "litre": 1000}[unit] / _TEASPOON_ML
    elif unit in _SPOONS:
        spoons = _SPOONS[unit]
    else:
        word = _word_measure(unit)
        if word is None:
            return None
        one = measure(kind, "millilitre")
        return Span(word.low * one.low, word.likely * one.likely, word.high * one.high) if one else None
    for given in sorted(_NEAREST, key=lambda name: abs(_SPOONS[name] - spoons)):
        row = rows.get(f"{kind}.{given}")
        if row is not None:
            ratio = spoons / _SPOONS[given]
            return Span(row.low * ratio, row.value * ratio, row.high * ratio)
    return None


_WORDS = {
    "teacup": "teacup", "wineglass": "wineglass_old", "handful": "handful", "pinch": "pinch", "dash": "dash", "drop": "drop", "jigger": "jigger",
    "dessertspoon": "dessertspoon", "saltspoon": "saltspoon", "bucket": "bucketful",
}  # fmt: skip


def _word_measure(unit: str) -> Span | None:
    row = table("word_measures").get(_WORDS.get(unit, ""))
    return row.span if row is not None else None


class Cut(Struct, frozen=True):
    """One piece of a cut: gram and millimetre."""

    name: str
    mass: Span
    thickness: Span


def cut(name: str) -> Cut | None:
    """The typical piece of this cut, or None."""
    rows = table("cuts")
    mass, thickness = rows.get(f"{name}.mass"), rows.get(f"{name}.thickness")
    return Cut(name, mass.span, thickness.span) if mass and thickness else None


_STRENGTHS = {"cure1": ("cure_no1", ("nitrite",)), "cure2": ("cure_no2", ("nitrite", "nitrate")), "ready-mix": ("ready_mix", ("nitrite", "nitrate"))}


def cure_strength(role: str) -> dict[str, Fact]:
    """What a curing salt of this role holds, in percent by weight; pure agents hold themselves."""
    if role in ("nitrite", "nitrate"):
        return {role: fact("pure_agent.share")}
    name, agents = _STRENGTHS.get(role, ("", ()))
    return {agent: fact(f"{name}.{agent}") for agent in agents}


def limit(law: str, agent: str, product_class: str) -> Fact | None:
    """The ingoing limit in ppm for ``nitrite`` or ``nitrate`` in this class under this law, or None.

    Classes: brine, pumped, ground, dry, belly_brine, belly_pumped, belly_dry.
    """
    rows = table("limits")
    if law == "us":
        return rows.get(f"us.{agent}.{product_class}")
    if product_class.startswith("belly") and (row := rows.get(f"{law}.{agent}.belly")):
        return row
    return rows.get(f"{law}.{agent}.any")
