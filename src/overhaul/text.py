"""A page of text, its numbered lines, and places in it.

Places are offsets into the original text, in Unicode code points. For reading, a page also has a ``plain``
text of the same length in which every character of a family (no-break spaces, curly quotes, full-width
digits …) is one plain one, so that an offset means the same in both.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import deque
from collections.abc import Iterable
from functools import cached_property
from typing import ClassVar

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

    @property
    def begin(self) -> int:
        """Before this offset the page says nothing; what is looked for is looked for from here."""
        return 0

    @property
    def told(self) -> str:
        """All that the page says, as in ``low``, where it does not matter at which place."""
        return self.low

    @property
    def told_lines(self) -> tuple[Line, ...]:
        """The lines on which the page says anything, and blank ones between."""
        return self.lines

    @cached_property
    def _starts(self) -> list[int]:
        ends = [end.end() for end in _LINE_END.finditer(self.text)]
        return [0, *(ends[:-1] if ends and ends[-1] == len(self.text) else ends)]

    def line_at(self, offset: int) -> int:
        """The number of the line that holds ``offset`` (not below 0), from 1."""
        return bisect_right(self._starts, offset)

    def position(self, offset: int) -> tuple[int, int]:
        """Line and column of ``offset``, both from 1; inside an end-of-line it is the end of that line."""
        number = self.line_at(offset)
        start = self._starts[number - 1]
        end = _LINE_END.search(self.text, start)
        return number, min(offset, end.start() if end is not None else len(self.text)) - start + 1

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


class Excerpt(Page):
    """Some lines of a page at the places they have there, everything else left blank: one recipe of a book.

    A book of a thousand recipes has a thousand excerpts, each as long as the book. So an excerpt keeps its places alone; its three texts are
    laid out when they are asked for, and let go when two others have been asked since.
    """

    _laid_out: ClassVar[deque[Excerpt]] = deque()
    _MOST_LAID_OUT = 2

    def __init__(self, page: Page, numbers: Iterable[int]) -> None:
        self._whole: Page = page._whole if isinstance(page, Excerpt) else page
        self.name, self.pages = self._whole.name, self._whole.pages
        self._runs = _runs(sorted(numbers))

    @cached_property
    def _places(self) -> tuple[Place, ...]:
        """Runs of lines with the end of their last."""
        lines = self.lines
        return tuple(Place(lines[first - 1].place.start, lines[last].place.start if last < len(lines) else len(self._whole.text)) for first, last in self._runs)

    @cached_property
    def text(self) -> str:  # type: ignore[override]
        return self._laid(self._whole.text)

    @cached_property
    def plain(self) -> str:
        return self._laid(self._whole.plain)

    @cached_property
    def low(self) -> str:
        return self._laid(self._whole.low)

    @property
    def lines(self) -> tuple[Line, ...]:
        return self._whole.lines

    @property
    def _starts(self) -> list[int]:
        return self._whole._starts

    @property
    def begin(self) -> int:
        return self._places[0].start if self._places else 0

    @property
    def told(self) -> str:
        return "".join(self._whole.low[place.start : place.end] for place in self._places)

    @property
    def told_lines(self) -> tuple[Line, ...]:
        return tuple(line for first, last in self._runs for line in self.lines[first - 1 : last])

    def _laid(self, text: str) -> str:
        laid, at = Excerpt._laid_out, 0
        made: list[str] = []
        if self not in laid:
            laid.append(self)
            while len(laid) > self._MOST_LAID_OUT:
                old = laid.popleft()
                for kind in ("text", "plain", "low"):
                    old.__dict__.pop(kind, None)
        before = 0
        for (first, last), place in zip(self._runs, self._places, strict=True):
            ends = first - before - 1  # of the lines left out, so that those of a page made of this text have the same numbers
            end = "\r" if made and made[-1].endswith("\r") and place.start - at == ends else "\n"  # or both would be one end of a line
            made += [" " * (place.start - at - ends), end * ends, text[place.start : place.end]]
            at, before = place.end, last
        return "".join(made)


def _runs(numbers: list[int]) -> tuple[tuple[int, int], ...]:
    runs: list[tuple[int, int]] = []
    for number in numbers:
        if runs and number <= runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    return tuple(runs)
