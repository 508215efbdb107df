"""Documents: from the bytes of a file to a page of text. Bad input is answered with a reason, never raised."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePath

from overhaul.documents.decode import decode
from overhaul.text import Page

SUFFIXES = frozenset([".txt", ".text", ".md", ".markdown"])
# Long before memory is in danger; a binder page is a few kilobytes.
MOST_BYTES = 20_000_000


@dataclass(frozen=True, slots=True)
class Unreadable:
    """Why a file could not be read, in plain words."""

    reason: str


def readable(name: str) -> bool:
    """Whether a reader exists for a file of this name."""
    return PurePath(name).suffix.lower() in SUFFIXES


def read(data: bytes, name: str) -> Page | Unreadable:
    """The page of a file called ``name``. UTF-8, UTF-16 with a mark, Windows-1252 or Mac Roman text."""
    if len(data) > MOST_BYTES:
        return Unreadable(f"{len(data):,} bytes; a recipe of more than {MOST_BYTES:,} is not read")
    found = decode(data)
    if isinstance(found, str):
        stripped = found.lstrip()
        if stripped.startswith(("format: overhaul/", '{"format": "overhaul/', "%YAML")) and name.endswith((".yaml", ".yml", ".json")):
            return Unreadable("a converted recipe file; reading these back is not built yet")
        return Page(found, name)
    return Unreadable(found.reason)
