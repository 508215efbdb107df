"""Gathering the lines of a document: what is crossed out, rows of tables, list marks, notes, where pages begin."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable
from typing import Literal

from overhaul.documents.outcome import Text

# A thick cookery book holds two million.
MOST_CHARACTERS = 4_000_000
# A book of two hundred and fifty pages has half of it; empty paragraphs by the million pack into nothing and take minutes.
MOST_TAGS = 1_000_000
# Of tables in tables, lists in lists, boxes in boxes.
DEEPEST = 50
# What became of a run of words: nothing, crossed out, or put in where something was crossed out.
Mark = Literal["", "struck", "new"]
Counting = Literal["", "number", "letter", "bullet"]
# A cell of more lines is no entry of a table but a column of a page that is laid out by one.
_LINES_OF_A_CELL = 3
_SHORT = 40
# A line of this length without a stop is read on into the next (reading/lines.py).
_RUNS_ON = 35
_TOO_LONG = f"more than {MOST_CHARACTERS:,} characters of text; a recipe of that length is not read"

_ENDS = re.compile("\r\n|[\n\r\x0b\x85\u2028\u2029]")
_CONTROL = re.compile("[\x00-\x08\x0e-\x1f\x7f\ufffe\uffff]")
_PRIVATE = re.compile("[\uf000-\uf0ff]")
# The symbol font of old office programs, by its place in the private area: figures and stops are where ASCII has them, letters are Greek.
_SYMBOLS = {0xF0A2: "′", 0xF0A3: "≤", 0xF0A4: "/", 0xF0B0: "°", 0xF0B1: "±", 0xF0B2: "″", 0xF0B3: "≥", 0xF0B4: "×", 0xF0B7: "•", 0xF0B8: "÷", 0xF0BB: "≈", 0xF0BC: "…", 0xF0D7: "·"}
_SYMBOLS |= {0xF000 + code: chr(code) for code in range(0x20, 0x7F) if not chr(code).isalpha()}


class Refused(Exception):
    """Why a document is not read on. A reader's ``read`` answers it as an Unreadable."""


def refuse_crowded(parts: Iterable[bytes]) -> None:
    """Raises Refused if the XML of ``parts`` holds more than MOST_TAGS tags."""
    if sum(part.count(b"<") for part in parts) > MOST_TAGS:
        raise Refused(f"more than {MOST_TAGS:,} tags in it; a recipe of that size is not read")


class Lines:
    """The lines of a document in order. More than MOST_CHARACTERS raise Refused."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self._pages: list[int] = []
        self._turned = 0
        self._length = 0
        self._runs_on = False

    @property
    def started(self) -> bool:
        """Whether any words came yet."""
        return bool(self.lines)

    def add(self, text: str) -> None:
        """One line, or several. No document begins with a blank one, and no more than two follow each other."""
        self._length += len(text) + 1
        self._runs_on = False
        if self._length > MOST_CHARACTERS:
            raise Refused(_TOO_LONG)
        text = _PRIVATE.sub(lambda found: _SYMBOLS.get(ord(found[0]), "\ufffd"), text)
        for line in _ENDS.split(text):
            self._put(_CONTROL.sub("", line).rstrip())

    def paragraph(self, text: str, heading: bool = False) -> None:
        """A paragraph; a form feed in it turns the page. A heading has a blank line before it.

        So has a paragraph after one that as a line of text would seem to run on into it.
        """
        first, *others = text.split("\f")
        if first.strip() and (heading or (self._runs_on and first.lstrip()[:1].isupper())):
            self.gap()
        if first.strip() or not others:
            self.add(first)
        for part in others:
            self.page()
            if part.strip():
                self.add(part)
        last = self.lines[-1] if self.lines else ""
        self._runs_on = len(last) >= _RUNS_ON and last[-1] not in ".!?:;," and "\t" not in last

    def _put(self, line: str) -> None:
        if not line and (not self.lines or self.lines[-2:] == ["", ""]):
            return
        self.lines.append(line)
        if line and self._turned:
            self._pages += [len(self.lines)] * self._turned
            self._turned = 0

    def gap(self) -> None:
        """A blank line, unless there is one or nothing came yet."""
        if self.lines and self.lines[-1]:
            self._put("")

    def page(self) -> None:
        """The next line of words begins a page."""
        self._turned += 1

    def text(self) -> Text:
        """The whole, each line ended, no blank ones at the end."""
        last = len(self.lines)
        while last and not self.lines[last - 1]:
            last -= 1
        return Text("".join(f"{line}\n" for line in self.lines[:last]), (1, *self._pages) if self._pages else ())


def struck(text: str) -> str:
    """``text`` as ``~~text~~``: each stretch between tabs and line ends by itself, its outer blanks outside the marks."""
    return re.sub(r"\S(?:[^\t\n\f]*\S)?", lambda found: f"~~{found[0].replace('~', '≈')}~~", text)


def crossed(runs: Iterable[tuple[str, Mark]]) -> str:
    """The words of ``runs``, neighbours of one mark joined, those that are struck between ``~~``.

    A figure changed inside is told whole, old and new: ``~~20~~ 25``. As ``2~~0~~5`` it would read as a 2 and a 5.
    """
    joined = list(runs)
    whole = "".join(text for text, _ in joined)
    if len(whole) > MOST_CHARACTERS:
        raise Refused(_TOO_LONG)
    marks = "".join((mark or "plain")[0] * len(text) for text, mark in joined)
    written: list[str] = []
    at = 0
    for found in re.finditer("s+", marks):
        start, end = max(found.start(), at), found.end()
        if start >= end:
            continue
        left, right = start, end
        while left > at and _glued(whole, left):
            left -= 1
        while left < start and right < len(whole) and _glued(whole, right):
            right += 1
        written.append(whole[at:left])
        if left == start:
            written.append(struck(whole[start:end]))
        else:
            region = list(zip(whole[left:right], marks[left:right], strict=True))
            written += [struck("".join(letter for letter, mark in region if mark != "n")), " ", *(letter for letter, mark in region if mark != "s")]
        at = right
    return "".join([*written, whole[at:]])


def _glued(text: str, at: int) -> bool:
    """Whether the letters before and after ``at`` are of one word or figure (1.5, 1/2)."""
    before, after = text[at - 1], text[at]
    if before.isalnum() and after.isalnum():
        return True
    return (before in ".,/⁄" and after.isdigit() and text[max(at - 2, 0) : at - 1].isdigit()) or (after in ".,/⁄" and before.isdigit() and text[at + 1 : at + 2].isdigit())


def counted(kind: Counting, number: int) -> str:
    """What stands before an item of a list: ``3. ``, ``c) ``, ``- `` or nothing."""
    if kind == "letter" and 1 <= number <= 26:
        return f"{chr(ord('a') + number - 1)}) "
    return {"": "", "bullet": "- "}.get(kind, f"{number}. ")


def noted(text: str, initials: str = "") -> str:
    """A remark at the side as a line of its own, or nothing if it is empty."""
    text, initials = " ".join(text.split()), " ".join(initials.split())
    return f"(Note{', ' if initials else ''}{initials}: {text})" if text else ""


def row(cells: list[list[str]]) -> list[str]:
    """The lines of a table's row, each cell given by its lines; empty cells keep their place, those at the end are dropped.

    A row is one line, cells apart by tabs. Where cells hold many lines it is a page laid out in columns: lists of one length beside
    each other are rows, others are read one after the other.
    """
    cells = [[line for line in cell if line.strip()] for cell in cells]
    while cells and not cells[-1]:
        cells.pop()
    if sum(len(line) for cell in cells for line in cell) > MOST_CHARACTERS:
        raise Refused(_TOO_LONG)
    filled = [cell for cell in cells if cell]
    if all(len(cell) <= _LINES_OF_A_CELL for cell in cells):
        return ["\t".join(" ".join(" ".join(cell).split()) for cell in cells)]
    if len(filled) > 1 and len({len(cell) for cell in filled}) == 1 and all(len(line) <= _SHORT and "\t" not in line for cell in filled for line in cell):
        return ["\t".join(" ".join(cell[index].split()) if cell else "" for cell in cells) for index in range(len(filled[0]))]
    return list(itertools.chain.from_iterable(["", *cell] if place else cell for place, cell in enumerate(filled)))
