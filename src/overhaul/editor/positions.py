"""Places of a page as an editor counts them, and back.

A line and a character, both from 0; the characters are units of the encoding that editor and server settled on: code units of UTF-16
unless the editor offers another. A position past the end of its line, or of the page, is that end.
"""

from __future__ import annotations

from lsprotocol import types

from overhaul.text import Page, Place


def _units(text: str, encoding: str) -> int:
    if text.isascii() or encoding == types.PositionEncodingKind.Utf32:
        return len(text)
    if encoding == types.PositionEncodingKind.Utf8:
        return len(text.encode("utf-8", "surrogatepass"))
    return len(text) + sum(letter > "\uffff" for letter in text)


class Positions:
    """The way between the places of ``page`` and the positions of an editor that counts in ``encoding`` (utf-8, utf-16 or utf-32)."""

    def __init__(self, page: Page, encoding: str = "utf-16") -> None:
        self.page = page
        self._encoding = encoding

    def position(self, offset: int) -> types.Position:
        """Where ``offset`` is; inside an end of line, the end of that line."""
        number, column = self.page.position(max(0, min(offset, len(self.page.text))))
        start = self.page.lines[number - 1].place.start
        last = self.page.lines[-1].place.end
        if offset >= len(self.page.text) and self.page.text[last:]:  # behind the last end of line an editor has one line more
            return types.Position(number, 0)
        return types.Position(number - 1, _units(self.page.text[start : start + column - 1], self._encoding))

    def range(self, place: Place) -> types.Range:
        return types.Range(self.position(place.start), self.position(place.end))

    def offset(self, position: types.Position) -> int:
        """The code point that stands at ``position``; inside a character of two units, that character."""
        if position.line >= len(self.page.lines):
            return len(self.page.text)
        place = self.page.lines[max(0, position.line)].place
        text = self.page.words(place)
        if text.isascii() or self._encoding == types.PositionEncodingKind.Utf32:
            return min(place.start + max(0, position.character), place.end)
        at = 0
        for index, letter in enumerate(text):
            at += _units(letter, self._encoding)
            if at > position.character:
                return place.start + index
        return place.end

    def place(self, given: types.Range) -> Place:
        start, end = self.offset(given.start), self.offset(given.end)
        return Place(min(start, end), max(start, end))
