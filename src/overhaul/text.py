"""A page of text, its numbered lines, and places in it.

Places are offsets into the original text, in Unicode code points. For reading, a page also has a ``plain``
text of the same length in which every character of a family (no-break spaces, curly quotes, full-width
digits …) is one plain one, so that an offset means the same in both.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from functools import cached_property

from msgspec import Struct

_LINE_END = re.compile(r"\r\n|\r|\n")

# One character to one character, or offsets would shift.
_PLAIN = {ord(odd): " " for odd in "\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000\t\x0b\x0c\x1c\x1d\x1e\x1f\x85\u2028\u2029"}
_PLAIN |= {ord(odd): "'" for odd in "\u2018\u2019\u201a\u201b\u2032\u00b4`"}
_PLAIN |= {ord(odd): '"' for odd in "\u201c\u201d\u201e\u201f\u2033"}
_PLAIN |= {ord(odd): "-" for odd in "\u2010\u2011\u2012\u2212\ufe63\uff0d"}
_PLAIN |= {ord(odd): "/" for odd in "\u2044\u2215\uff0f"}
_PLAIN |= {ord(odd): "\u00ad" for odd in "\u200b\u200c\u200d\u2060\ufeff"}  # read as a soft hyphen: nothing at all
_PLAIN |= {0xFF10 + digit: str(digit) for digit in range(10)}
_PLAIN |= {ord("\u00ba"): "\u00b0", ord("\u02da"): "\u00b0", ord("\uff05"): "%"}

_ODD = re.compile(f"[{re.escape(''.join(map(chr, _PLAIN)))}]")


_WITHIN = re.compile(r"\bw/in\b", re.I)
_BLANK = re.compile(r"_{2,}")
_STRUCK = re.compile(r"~~[^~\n]+~~")


_SPACES = "".join(chr(code) for code in range(0x3001) if chr(code).isspace())


def bare(text: str, before: str = "#*_", behind: str = "*_:") -> str:
    """``text`` without blanks and marks of a heading at its ends."""
    return text.lstrip(before + _SPACES).rstrip(behind + _SPACES)


class Place(Struct, frozen=True, order=True, array_like=True):
    """A run of the original text: ``start`` up to, not including, ``end``, in code points."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if not 0 <= self.start <= self.end:
            raise ValueError(f"not a place: {self.start} to {self.end}")

    def to(self, other: Place) -> Place:
        """From the start of this place to the end of ``other``."""
        return Place(min(self.start, other.start), max(self.end, other.end))


class Line(Struct, frozen=True):
    """One line of the page, its end-of-line left out. ``number`` counts from 1."""

    number: int
    place: Place


class Page:
    """A text with a line table. ``name`` is what reports call it (a file name, or ``-``)."""

    def __init__(self, text: str, name: str = "-", pages: tuple[int, ...] = ()) -> None:
        self.text = text
        self.name = name
        self.pages = pages  # for paged documents: the first line of each page

    @cached_property
    def plain(self) -> str:
        """The text with families of odd characters made plain, same length, tabs as blanks."""
        plain = self.text.translate(_PLAIN) if _ODD.search(self.text) else self.text
        if "\r" in plain:
            plain = plain.replace("\r\n", " \n").replace("\r", "\n")  # whoever looks for the end of a line finds it
        if "->" in plain:
            plain = plain.replace("->", "→ ")
        if "/in" in plain or "/IN" in plain:
            plain = _WITHIN.sub(" in ", plain)  # w/in 2 hrs
        if "__" in plain:
            plain = _BLANK.sub(lambda found: " " * len(found[0]), plain)  # a gap to fill in, or bold
        return plain.replace("**", "  ") if "**" in plain else plain  # bold of a marked-up page

    @cached_property
    def low(self) -> str:
        """``plain`` in lower case with what is crossed out left blank, same length: a letter whose small form is two characters stays as it is."""
        low = self.plain.lower()
        if len(low) != len(self.plain):
            low = "".join(small if len(small := letter.lower()) == 1 else letter for letter in self.plain)
        return _STRUCK.sub(lambda found: " " * len(found[0]), low) if "~~" in low else low

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        lines: list[Line] = []
        start = 0
        for end in _LINE_END.finditer(self.text):
            lines.append(Line(len(lines) + 1, Place(start, end.start())))
            start = end.end()
        if start < len(self.text) or not lines:
            lines.append(Line(len(lines) + 1, Place(start, len(self.text))))
        return tuple(lines)

    @cached_property
    def _starts(self) -> list[int]:
        return [line.place.start for line in self.lines]

    def line_at(self, offset: int) -> int:
        """The number of the line that holds ``offset``, from 1."""
        return max(1, bisect_right(self._starts, offset))

    def position(self, offset: int) -> tuple[int, int]:
        """Line and column of ``offset``, both from 1; inside an end-of-line it is the end of that line."""
        number = self.line_at(offset)
        place = self.lines[number - 1].place
        return number, min(offset, place.end) - place.start + 1

    def page_at(self, line: int) -> int | None:
        """The page of a paged document that line ``number`` is on, from 1; None for a text without pages."""
        return bisect_right(self.pages, line) or 1 if self.pages else None

    def words(self, place: Place) -> str:
        """The original text at ``place``."""
        return self.text[place.start : place.end]

    def line(self, number: int) -> str:
        """The original text of line ``number``; numbers outside the page raise IndexError."""
        if number < 1:
            raise IndexError(number)
        return self.words(self.lines[number - 1].place)

    def end_of(self, number: int) -> Place:
        """The empty place at the end of line ``number``: where a missing line belongs after."""
        end = self.lines[number - 1].place.end
        return Place(end, end)
