"""OpenDocument text (.odt): paragraphs, lists, tables, notes and what is crossed out, in the order of the page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from msgspec import Struct

from overhaul.documents.lines import DEEPEST, Counting, Lines, Mark, Refused, counted, crossed, noted, refuse_crowded, row
from overhaul.documents.outcome import Text, Unreadable
from overhaul.documents.zipped import unpacked

_KIND = "an OpenDocument text"
_OFFICE, _STYLE, _TEXT, _TABLE, _FO, _DRAW, _META = (
    f"{{urn:oasis:names:tc:opendocument:xmlns:{part}:1.0}}" for part in ("office", "style", "text", "table", "xsl-fo-compatible", "drawing", "meta")
)
# A table of a page has a dozen columns; a sheet pasted in says that it has a thousand empty ones.
_MOST_REPEATED = 50
_INITIALS = (f"{_META}creator-initials", "{urn:org:documentfoundation:names:experimental:office:xmlns:loext:1.0}sender-initials")
_MOST_BLANKS = 200
_COUNTING: dict[str, Counting] = {"": "", "a": "letter", "A": "letter"}
_PARAGRAPHS = frozenset([f"{_TEXT}p", f"{_TEXT}h"])
# No words of the page: what was deleted, tables of contents, forms, the other reading of a ruby, an item's printed number.
_LEFT_OUT = frozenset(
    [f"{_TEXT}{name}" for name in ("tracked-changes", "table-of-content", "alphabetical-index", "illustration-index", "table-index", "ruby-text", "number", "variable-decls", "sequence-decls", "user-field-decls")]
    + [f"{_OFFICE}forms", f"{_OFFICE}annotation-end", "{urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0}title", "{urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0}desc"]
)


def read(data: bytes) -> Text | Unreadable:
    """The text of an .odt file."""
    try:
        parts = unpacked(data, _KIND)
        if isinstance(parts, Unreadable):
            return parts
        if b"encryption-data" in parts.get("META-INF/manifest.xml", b""):
            return Unreadable(f"{_KIND} locked with a password; save it without one")
        if "content.xml" not in parts:
            return Unreadable(f"not {_KIND}: there is no content in it; open it where it was made and save it again")
        return _Reader(parts).text()
    except Refused as problem:
        return Unreadable(f"{_KIND} with {problem}")
    except Exception as problem:  # lxml answers a broken file with whatever breaks first, and nothing may leave here raised
        return Unreadable(f"{_KIND} that is damaged ({problem or type(problem).__name__}); open it where it was made and save it again")


def _number(text: str | None, otherwise: int) -> int:
    return int(text) if text is not None and re.fullmatch(r"\d{1,9}", text) else otherwise


class _Style(Struct, frozen=True):
    """What a style, with its parents, says. ``before``, ``after`` : whether a page begins there; ``listed`` : its list style."""

    struck: bool | None = None
    hidden: bool = False
    before: bool = False
    after: bool = False
    listed: str = ""


class _List(Struct):
    """A list of the first level and its counters, one for each level."""

    style: str
    counts: list[int]


class _Reader:
    def __init__(self, parts: dict[str, bytes]) -> None:
        from lxml import etree

        refuse_crowded(parts.values())
        # Nothing is fetched, no entity is put in, and depth and size stay within what lxml allows strangers.
        parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False, load_dtd=False)
        roots = [etree.fromstring(parts[name], parser) for name in ("styles.xml", "content.xml") if name in parts]
        self._body = roots[-1].find(f"{_OFFICE}body/{_OFFICE}text")
        self._styles: dict[tuple[str, str], Any] = {}
        self._lists: dict[str, dict[int, Any]] = {}
        for root in roots:  # the document's own styles come last and go first
            for style in root.iter(f"{_STYLE}style"):
                self._styles[style.get(f"{_STYLE}family", ""), style.get(f"{_STYLE}name", "")] = style
            for found in root.iter(f"{_TEXT}list-style"):
                self._lists[found.get(f"{_STYLE}name", "")] = {_number(level.get(f"{_TEXT}level"), 0): level for level in found}
        self._style = cache(self._style_of)
        self._begun: dict[str | None, _List] = {}
        self._last: dict[str, _List] = {}
        self._runs: list[tuple[str, Mark]] = []
        # Met inside a paragraph or a row, written when it ends.
        self._after: list[str] = []
        self._boxes: list[Any] = []
        self._pictures = False

    def text(self) -> Text | Unreadable:
        if self._body is None:
            return Unreadable(f"an OpenDocument file that is no text; save the page as {_KIND} (.odt)")
        lines = Lines()
        self._blocks(self._body, lines, 0)
        found = lines.text()
        if found.text:
            return found
        return Unreadable(f"{_KIND} with pictures and no text; type the page out" if self._pictures else f"{_KIND} with nothing in it")

    def _style_of(self, family: str, name: str) -> _Style:
        struck: bool | None = None
        hidden = False
        before = after = listed = None
        own = self._styles.get((family, name))
        # A new kind of page is asked for by the paragraph's own style; a page always begins with it.
        asked = own is not None and bool(own.get(f"{_STYLE}master-page-name"))
        passed: set[str] = set()
        while (family, name) in self._styles and name not in passed:
            passed.add(name)
            style = self._styles[family, name]
            for properties in style:
                through = properties.get(f"{_STYLE}text-line-through-style") or properties.get(f"{_STYLE}text-line-through-type")
                struck = through != "none" if struck is None and through else struck
                hidden = hidden or properties.get(f"{_TEXT}display") == "none"
                before = before or properties.get(f"{_FO}break-before")
                after = after or properties.get(f"{_FO}break-after")
            listed = style.get(f"{_STYLE}list-style-name") if listed is None else listed
            name = style.get(f"{_STYLE}parent-style-name", "")
        return _Style(struck, hidden, asked or before == "page", after == "page", listed or "")

    def _blocks(self, element: Any, lines: Lines, depth: int, cell: bool = False) -> None:
        """The paragraphs, lists and tables in ``element``. ``cell`` : it is in a table, whose row is written first."""
        if depth > DEEPEST:
            raise Refused(f"tables, lists or boxes nested more than {DEEPEST} deep; it is not read")
        for child in element:
            name = child.tag
            if name in _PARAGRAPHS:
                self._paragraph(child, lines, depth, cell)
            elif name == f"{_TEXT}list":
                self._list(child, lines, depth, cell)
            elif name == f"{_TABLE}table":
                self._table(child, lines, depth, cell)
            elif name == f"{_TEXT}soft-page-break":
                lines.page()
            elif isinstance(name, str) and name.startswith(_DRAW):
                self._pictures = self._pictures or name == f"{_DRAW}image"
                self._blocks(child, lines, depth + 1, cell)
            elif isinstance(name, str) and name not in _LEFT_OUT:  # sections, indexes, numbered paragraphs
                self._blocks(child, lines, depth, cell)

    def _paragraph(self, paragraph: Any, lines: Lines, depth: int, cell: bool, before: str = "") -> None:
        style = self._style("paragraph", paragraph.get(f"{_TEXT}style-name", ""))
        if style.before and lines.started:
            lines.page()
        words = self._words(paragraph, style)
        heading = paragraph.tag == f"{_TEXT}h" or self._title(paragraph)
        lines.paragraph(words if heading or not words.strip() else before + words, heading)
        if style.after:
            lines.page()
        if not cell:
            self._beside(lines, depth)

    def _title(self, paragraph: Any) -> bool:
        name, passed = paragraph.get(f"{_TEXT}style-name", ""), set[str]()
        while name not in passed and name != "Title" and ("paragraph", name) in self._styles:
            passed.add(name)
            name = self._styles["paragraph", name].get(f"{_STYLE}parent-style-name", "")
        return bool(name == "Title")

    def _beside(self, lines: Lines, depth: int) -> None:
        """Notes and text boxes that the last paragraph or row had."""
        notes, self._after = self._after, []
        boxes, self._boxes = self._boxes, []
        for note in notes:
            lines.add(note)
        for box in boxes:
            self._blocks(box, lines, depth + 1)

    def _list(self, element: Any, lines: Lines, depth: int, cell: bool, level: int = 1, within: _List | None = None) -> None:
        if depth > DEEPEST:
            raise Refused(f"tables, lists or boxes nested more than {DEEPEST} deep; it is not read")
        style = element.get(f"{_TEXT}style-name") or (within.style if within else self._named_by_paragraph(element))
        if within is not None:
            found = _List(style, within.counts)
        else:
            goes_on = self._begun.get(element.get(f"{_TEXT}continue-list")) or (self._last.get(style) if element.get(f"{_TEXT}continue-numbering") == "true" else None)
            found = _List(style, goes_on.counts if goes_on else [])
            self._begun[element.get("{http://www.w3.org/XML/1998/namespace}id", "")] = self._last[style] = found
        counts = found.counts
        shape = self._lists.get(style, {}).get(level)
        if level > len(counts):
            counts += [0] * (level - len(counts))
            counts[level - 1] = (_number(shape.get(f"{_TEXT}start-value"), 1) if shape is not None else 1) - 1
        for item in element:
            fresh = item.tag == f"{_TEXT}list-item"  # else the header of the list, which has no number
            for child in item:
                if child.tag == f"{_TEXT}list":
                    self._list(child, lines, depth + 1, cell, level + 1, found)
                elif child.tag in _PARAGRAPHS:
                    before = ""
                    if fresh:
                        counts[level - 1] = _number(item.get(f"{_TEXT}start-value"), counts[level - 1] + 1)
                        del counts[level:]
                        before = self._before(shape, counts[level - 1])
                        fresh = False
                    self._paragraph(child, lines, depth, cell, before)
                elif child.tag == f"{_TEXT}soft-page-break":
                    lines.page()

    def _named_by_paragraph(self, element: Any) -> str:
        """The list style of a list without one: that of its first paragraph."""
        first = element.find(f".//{_TEXT}p")
        return "" if first is None else self._style("paragraph", first.get(f"{_TEXT}style-name", "")).listed

    def _before(self, shape: Any, number: int) -> str:
        if shape is None or shape.tag != f"{_TEXT}list-level-style-number":
            return "- "
        return counted(_COUNTING.get(shape.get(f"{_STYLE}num-format", ""), "number"), number)

    def _table(self, table: Any, lines: Lines, depth: int, cell: bool) -> None:
        if lines.started and self._style("table", table.get(f"{_TABLE}style-name", "")).before:
            lines.page()
        for each in _rows(table):
            if each.tag == f"{_TEXT}soft-page-break":
                lines.page()
                continue
            cells: list[list[str]] = []
            for place in each:
                inner = Lines()
                if place.tag == f"{_TABLE}table-cell":
                    self._blocks(place, inner, depth + 1, cell=True)
                elif place.tag != f"{_TABLE}covered-table-cell":
                    continue
                cells += [inner.lines] * min(_number(place.get(f"{_TABLE}number-columns-repeated"), 1), _MOST_REPEATED)
            written = row(cells)
            for _ in range(min(_number(each.get(f"{_TABLE}number-rows-repeated"), 1), _MOST_REPEATED)):
                for line in written:
                    lines.add(line)
            if not cell:
                self._beside(lines, depth)

    def _words(self, paragraph: Any, style: _Style) -> str:
        kept, self._runs = self._runs, []
        self._walk(paragraph, style.struck or False)
        words, self._runs = crossed(self._runs), kept
        return words

    def _say(self, text: str | None, out: bool) -> None:
        """Blanks and line ends of the file are one blank; those meant have elements of their own."""
        words = re.sub(r"[ \t\r\n]+", " ", text or "")
        if not self._runs or self._runs[-1][0].endswith((" ", "\n", "\t")):
            words = words.lstrip(" ")
        if words:
            self._runs.append((words, "struck" if out else ""))

    def _walk(self, element: Any, out: bool) -> None:
        """The words in ``element``, each followed by the words after it. The default is to go in: links and fields hold words."""
        self._say(element.text, out)
        for child in element:
            name = child.tag
            mark: Mark = "struck" if out else ""
            if name == f"{_TEXT}span":
                style = self._style("text", child.get(f"{_TEXT}style-name", ""))
                if not style.hidden:
                    self._walk(child, out if style.struck is None else style.struck)
            elif name == f"{_TEXT}s":
                self._runs.append((" " * min(_number(child.get(f"{_TEXT}c"), 1), _MOST_BLANKS), mark))
            elif name == f"{_TEXT}tab":
                self._runs.append(("\t", mark))
            elif name == f"{_TEXT}line-break":
                self._runs.append(("\n", mark))
            elif name == f"{_TEXT}soft-page-break":
                self._runs.append(("\f", mark))
            elif name == f"{_OFFICE}annotation":
                self._note(child, next((found for name in _INITIALS if (found := child.findtext(name))), ""))
            elif name == f"{_TEXT}note":
                self._note(child.find(f"{_TEXT}note-body"), "")
            elif isinstance(name, str) and name.startswith(_DRAW) and name != f"{_DRAW}a":
                self._boxes.append(child)
            elif isinstance(name, str) and name not in _LEFT_OUT:
                self._walk(child, out)
            self._say(child.tail, out)

    def _note(self, note: Any, initials: str) -> None:
        if note is None:
            return
        after, boxes = len(self._after), len(self._boxes)
        words = " ".join(self._words(paragraph, _Style()) for paragraph in note.iter(*_PARAGRAPHS))
        del self._after[after:], self._boxes[boxes:]
        line = noted(words, initials)
        if line:
            self._after.append(line)


def _rows(table: Any) -> Iterator[Any]:
    """The rows of a table, those in groups and headers too, and the page ends between them."""
    for child in table:
        if child.tag in (f"{_TABLE}table-row", f"{_TEXT}soft-page-break"):
            yield child
        elif child.tag in (f"{_TABLE}table-header-rows", f"{_TABLE}table-rows", f"{_TABLE}table-row-group"):
            yield from _rows(child)
