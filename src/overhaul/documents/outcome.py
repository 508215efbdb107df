"""What a reader of documents gives back: the text of the pages, or why there is none."""

from __future__ import annotations

from msgspec import Struct


class Text(Struct, frozen=True):
    """The text of a document, its lines ended by a line feed. ``pages`` : the number of the first line of each page."""

    text: str
    pages: tuple[int, ...] = ()


class Unreadable(Struct, frozen=True):
    """Why a file could not be read, in plain words."""

    reason: str
