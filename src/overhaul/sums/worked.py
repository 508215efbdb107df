"""One worked sum: what went in, what came out, and how a cook would write it."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from overhaul.findings import Cite
from overhaul.span import Span, added, exactly


class CannotTell(Exception):
    """Why a sum cannot be worked, in plain words."""


class Input(Struct, frozen=True):
    """One input of a sum: where it came from, and whether the page states it."""

    name: str
    value: Span
    unit: str
    line: int | None = None
    stated: bool = True
    source: str | None = None


Pencil = tuple[str | tuple[Span, str], ...]  # a formula with its numbers in: words, and figures with their unit


def pencilled(parts: Pencil) -> str:
    """The line as a cook would write it."""
    return "".join(part if isinstance(part, str) else figure(*part) for part in parts)


class Sum(Struct, frozen=True):
    """One worked sum."""

    name: str
    value: Span
    unit: str
    formula: str
    inputs: tuple[Input, ...]
    assumed: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = ()
    pencil: Pencil = ()  # the formula with its numbers in, where there is one short enough to read
    beside: tuple[Sum, ...] = ()  # the same asked of other rules, to compare; nothing is judged by them

    def worked(self) -> str:
        """One pencil line: the formula with its numbers, and the result."""
        if self.pencil:
            return f"{pencilled(self.pencil)} = {figure(self.value, self.unit)}"
        given = ", ".join(f"{one.name} {figure(one.value, one.unit)}" for one in self.inputs)
        return f"{self.formula}: {given}; = {figure(self.value, self.unit)}"


UNIT_SIGNS = {
    "gram": "g", "percent": "%", "ppm": "ppm", "degC": "°C", "degree": "° salometer", "day": "days", "litre": "litres", "millimetre": "mm",
    "ratio": "×", "degF": "°F", "kilogram_per_litre": "kg/L", "hour": "hours", "minute": "minutes",
}  # fmt: skip


_NO_LESS = {"ppm": 0.001, "percent": 0.001}  # nothing, to any cook


def figure(span: Span, unit: str) -> str:
    """A span as a cook would write it: ``162 ppm``, ``2.4 to 7.0 % (likely 4.6)``."""
    sign = UNIT_SIGNS.get(unit, unit)
    if unit in _NO_LESS:
        span = Span(*(0.0 if abs(value) < _NO_LESS[unit] else value for value in (span.low, span.likely, span.high)))
    low, likely, high = round_(span.low), round_(span.likely), round_(span.high)
    return f"{likely} {sign}".rstrip() if low == high else f"{low} to {high} {sign} (likely {likely})"


def round_(value: float) -> str:
    """Three figures, thousands with a comma."""
    if value == 0:
        return "0"
    size = abs(value)
    if size >= 100:
        return f"{value:,.0f}"
    if size >= 10:
        return f"{value:.1f}".rstrip("0").rstrip(".")
    if size >= 0.1:
        return f"{value:.2f}".rstrip("0").rstrip(".")
    return f"{value:.2g}"


class SectionYield(Struct, frozen=True):
    """What a list of its own (a spice mix, a rub) makes, and what other lists take from it, where their grams are known."""

    section: str
    makes: Sum
    takes: tuple[Input, ...]


ENDS = Span(0, 1, 2)  # an input of ``corners`` that picks an end: several spans that stand for one thing move together


def ends(spans: Iterable[Span]) -> Span:
    """ENDS for several spans that move together; where each of them is one value, no ends to try."""
    return exactly(1.0) if all(span.exact for span in spans) else ENDS


def at(span: Span, end: float) -> float:
    """The low (0), likely (1) or high (2) of a span."""
    return span.low if end == 0 else span.high if end == 2 else span.likely


def less(whole: Span, *parts: Span) -> Span:
    """A total without some of the spans that were added up in it, end by end; never below nothing."""
    low, likely, high = (max(0.0, at(whole, end) - sum(at(part, end) for part in parts)) for end in (0, 1, 2))
    return Span(min(low, likely), likely, max(likely, high))


def total(given: list[Input]) -> Span:
    """All of them added, low with low and high with high."""
    return added(one.value for one in given) if given else exactly(0.0)
