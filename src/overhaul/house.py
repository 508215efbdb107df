"""The house sheet: what this kitchen always uses. It narrows spans."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct, field

from overhaul.span import Span

Law = Literal["us", "eu", "uk", "ca", "au-nz"]


class House(Struct, frozen=True):
    """Everything a house sheet can settle; the defaults are those of a kitchen that has none."""

    kitchen: str | None = None
    law: Law = "us"
    gallon: Literal["us", "imperial"] = "us"
    sold: bool | None = None
    salt_kinds: dict[str, str] = field(default_factory=dict)  # what is written ("kosher") -> row of facts/measures.tsv
    gram_per_cup: dict[str, float] = field(default_factory=dict)  # what is written ("table") -> gram in one US cup
    strengths: dict[str, dict[str, float]] = field(default_factory=dict)  # role -> {"nitrite": percent, "nitrate": percent}
    names: dict[str, str] = field(default_factory=dict)  # this kitchen's name for a thing -> role or known name
    cooler: Span | None = None  # degF
    ice: Span | None = None  # degF
    smoker: Span | None = None  # degF
    needle: bool | None = None
    tubs: dict[str, Span] = field(default_factory=dict)  # name -> litre
    scale: dict[str, float] = field(default_factory=dict)  # gram
