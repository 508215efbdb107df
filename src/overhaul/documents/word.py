"""Word documents (.docx): paragraphs, lists, tables, notes and what is crossed out, in the order of the page."""

from __future__ import annotations

import io
import posixpath
import re
import zipfile
from collections.abc import Iterator
from functools import cache
from typing import Any

from msgspec import Struct

from overhaul.documents.lines import DEEPEST, Counting, Lines, Mark, Refused, counted, crossed, noted, refuse_crowded, row
from overhaul.documents.outcome import Text, Unreadable
from overhaul.documents.zipped import old_office, unpacked

_KIND = "a Word document"
_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_RELATIONS = "{http://schemas.openxmlformats.org/package/2006/relationships}"
_STRICT = re.compile(rb"http://purl\.oclc\.org/ooxml/(\w+)/")
# Documents with macros and templates differ from plain ones in this name only.
_MAIN = re.compile(rb"application/vnd\.(?:ms-word\.(?:document|template)\.macroEnabled|openxmlformats-officedocument\.wordprocessingml\.template)\.main\+xml")
_PLAIN_MAIN = b"application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"
_OFF = frozenset(["0", "false", "off", "none"])
_HEADING = re.compile(r"(?:heading \d|title$)", re.IGNORECASE)
_CONTENTS = re.compile(r"toc \d", re.IGNORECASE)
_COUNTING: dict[str, Counting] = {"none": "", "bullet": "bullet", "lowerLetter": "letter", "upperLetter": "letter"}
_MOST_COLUMNS = 63  # Word's own limit
_WRAPPERS = frozenset(["sdt", "sdtContent", "customXml", "smartTag", "ins", "del", "moveTo", "moveFrom", "AlternateContent", "Choice", "Fallback"])
_NOTES = {"commentReference": "comments", "footnoteReference": "footnotes", "endnoteReference": "endnotes"}
_WORDS = {"tab": "\t", "ptab": "\t", "cr": "\n", "noBreakHyphen": "-"}


def read(data: bytes) -> Text | Unreadable:
    """The text of a .docx file."""
    if (old := old_office(data, _KIND, "an old Word document (.doc) or a locked one; open it in a word processor and save it as .docx without a password")) is not None:
        return old
    try:
        parts = unpacked(data, _KIND)
        return parts if isinstance(parts, Unreadable) else _Reader(parts).text()
    except Refused as problem:
        return Unreadable(f"{_KIND} with {problem}")
    except Exception as problem:  # python-docx and lxml answer a broken file with whatever breaks first: KeyError, ValueError, AttributeError …
        return Unreadable(f"{_KIND} that is damaged ({problem or type(problem).__name__}); open it where it was made and save it again")


def _repacked(parts: dict[str, bytes]) -> io.BytesIO:
    """An archive of the checked parts alone, as python-docx wants it: no relations to parts left out or missing, no strict names."""
    from docx.oxml import parse_xml
    from lxml import etree

    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, part in parts.items():
            content = _STRICT.sub(rb"http://schemas.openxmlformats.org/\1/2006/", part)
            if name == "[Content_Types].xml":
                content = _MAIN.sub(_PLAIN_MAIN, content)
            elif name.endswith(".rels"):
                relations: Any = parse_xml(content)
                base = posixpath.dirname(posixpath.dirname(name))
                for relation in relations.findall(f"{_RELATIONS}Relationship"):
                    target = posixpath.normpath(posixpath.join("/", base, relation.get("Target", ""))).lstrip("/")
                    if relation.get("TargetMode") != "External" and target not in parts:
                        relations.remove(relation)
                content = etree.tostring(relations)
            archive.writestr(name, content)
    packed.seek(0)
    return packed


def _name(element: Any) -> str:
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def _value(element: Any, *path: str) -> str | None:
    """The w:val of the element at ``path``, "" if it has none, None if there is no such element."""
    found = element.find("/".join(_W + step for step in path))
    return None if found is None else found.get(f"{_W}val", "")


def _number(text: str | None, otherwise: int) -> int:
    return int(text) if text is not None and re.fullmatch(r"-?\d{1,9}", text) else otherwise


def _on(value: str | None) -> bool | None:
    return None if value is None else value.lower() not in _OFF


def _each(element: Any, wanted: str) -> Iterator[Any]:
    """The children called ``wanted``, also those in a wrapper."""
    for child in element:
        name = _name(child)
        if name == wanted:
            yield child
        elif name in _WRAPPERS:
            yield from _each(child, wanted)


class _Style(Struct, frozen=True):
    """What a style, with those it is based on, says of its words; None where nothing."""

    struck: bool | None = None
    hidden: bool | None = None
    heading: bool = False
    contents: bool = False
    turns: bool | None = None
    numbering: tuple[str, int] | None = None


class _Numbering:
    """The lists of the document and how far each is counted."""

    def __init__(self, element: Any, styles: dict[str, Any]) -> None:
        self._styles = styles
        self._lists = {found.get(f"{_W}abstractNumId"): found for found in element.iter(f"{_W}abstractNum")} if element is not None else {}
        self._uses = {found.get(f"{_W}numId"): found for found in element.iter(f"{_W}num")} if element is not None else {}
        self._counts: dict[str | None, dict[int, int]] = {}
        self._begun: set[tuple[str, int]] = set()

    def _list_of(self, use: Any) -> Any:
        """The definition behind a use, through at most one list style."""
        found = self._lists.get(_value(use, "abstractNumId"))
        link = None if found is None else _value(found, "numStyleLink")
        if link is not None and link in self._styles:
            behind = self._uses.get(_value(self._styles[link], "pPr", "numPr", "numId"))
            found = found if behind is None else self._lists.get(_value(behind, "abstractNumId"))
        return found

    def level_of(self, use: str, style: str) -> int:
        """The level of the list that belongs to a paragraph style; 0 if none says so."""
        found = self._list_of(self._uses[use]) if use in self._uses else None
        if found is not None:
            for level in found.iter(f"{_W}lvl"):
                if _value(level, "pStyle") == style:
                    return _number(level.get(f"{_W}ilvl"), 0)
        return 0

    def next(self, use: str, level: int) -> str:
        """What stands before the next item of a list, counted on."""
        if use not in self._uses or (found := self._list_of(self._uses[use])) is None:
            return ""
        levels = {_number(each.get(f"{_W}ilvl"), 0): each for each in found.iter(f"{_W}lvl")}
        first = None
        for override in self._uses[use].findall(f"{_W}lvlOverride"):
            if _number(override.get(f"{_W}ilvl"), 0) == level:
                first = _value(override, "startOverride")
                own = override.find(f"{_W}lvl")
                levels |= {} if own is None else {level: own}
        if level not in levels:
            return ""
        counts = self._counts.setdefault(found.get(f"{_W}abstractNumId"), {})
        begins = _number(_value(levels[level], "start"), 1)
        if first is not None and (use, level) not in self._begun:
            counts[level] = _number(first, begins)
        else:
            counts[level] = counts.get(level, begins - 1) + 1
        self._begun.add((use, level))
        for deeper in [each for each in counts if each > level]:
            del counts[deeper]
        return counted(_COUNTING.get(_value(levels[level], "numFmt") or "decimal", "number"), counts[level])


class _Reader:
    def __init__(self, parts: dict[str, bytes]) -> None:
        from docx import Document
        from docx.oxml import parse_xml

        refuse_crowded(parts.values())
        document = Document(_repacked(parts))
        self._body: Any = document.element.body
        # How each section begins; without a word, on a new page.
        self._sections = [_value(each, "type") or "nextPage" for each in self._body.iter(f"{_W}sectPr") if _name(each.getparent()) != "sectPrChange"]
        self._section = 0
        styles: Any = document.styles.element
        self._styles = {style.get(f"{_W}styleId", ""): style for style in styles.iter(f"{_W}style")}
        self._usual = next((name for name, style in self._styles.items() if style.get(f"{_W}type") == "paragraph" and _on(style.get(f"{_W}default"))), "")
        self._style = cache(self._style_of)
        beside: dict[str, Any] = {}
        for relation in document.part.rels.values():
            kind = relation.reltype.rpartition("/")[2]
            if kind in ("numbering", *_NOTES.values()) and not relation.is_external:
                beside.setdefault(kind, parse_xml(relation.target_part.blob))
        self._numbering = _Numbering(beside.get("numbering"), self._styles)
        self._notes = {(kind, note.get(f"{_W}id")): note for kind in _NOTES.values() if kind in beside for note in beside[kind]}
        self._runs: list[tuple[str, Mark]] = []
        # Met inside a paragraph or a row, written when it ends.
        self._after: list[str] = []
        self._boxes: list[Any] = []
        self._pictures = False

    def text(self) -> Text | Unreadable:
        lines = Lines()
        self._blocks(self._body, lines, 0)
        found = lines.text()
        if found.text:
            return found
        return Unreadable(f"{_KIND} with pictures and no text; type the page out" if self._pictures else f"{_KIND} with nothing in it")

    def _style_of(self, name: str) -> _Style:
        struck = hidden = turns = None
        numbering: tuple[str, int] | None = None
        heading = contents = False
        passed: set[str] = set()
        while name in self._styles and name not in passed:
            passed.add(name)
            style = self._styles[name]
            struck = _struck(style) if struck is None else struck
            hidden = _on(_value(style, "rPr", "vanish")) if hidden is None else hidden
            turns = _on(_value(style, "pPr", "pageBreakBefore")) if turns is None else turns
            use = _value(style, "pPr", "numPr", "numId")
            if numbering is None and use is not None:
                numbering = use, self._numbering.level_of(use, name)
            called = _value(style, "name") or ""
            heading = heading or _HEADING.match(called) is not None or _outline(style)
            contents = contents or _CONTENTS.match(called) is not None
            name = _value(style, "basedOn") or ""
        return _Style(struck, hidden, heading, contents, turns, numbering)

    def _blocks(self, element: Any, lines: Lines, depth: int, mark: Mark = "", cell: bool = False) -> None:
        """The paragraphs and tables in ``element``. ``cell`` : it is in a table, whose row is written first."""
        if depth > DEEPEST:
            raise Refused(f"tables or boxes nested more than {DEEPEST} deep; it is not read")
        for child in element:
            name = _name(child)
            if name == "p" and not len(child):
                lines.paragraph("")
            elif name == "p":
                self._paragraph(child, lines, depth, mark, cell)
            elif name == "tbl":
                self._table(child, lines, depth, mark, cell)
            elif name == "AlternateContent":
                self._blocks(_chosen(child), lines, depth, mark, cell)
            elif name in ("del", "moveFrom"):
                self._blocks(child, lines, depth, "struck", cell)
            elif name in _WRAPPERS:
                self._blocks(child, lines, depth, mark, cell)

    def _paragraph(self, paragraph: Any, lines: Lines, depth: int, mark: Mark, cell: bool) -> None:
        style = self._style(_value(paragraph, "pPr", "pStyle") or self._usual)
        if style.contents:
            return
        turns = _on(_value(paragraph, "pPr", "pageBreakBefore"))
        if lines.started and (style.turns if turns is None else turns):
            lines.page()
        words = self._words(paragraph, mark, style)
        heading = style.heading or _outline(paragraph)
        use, level = _value(paragraph, "pPr", "numPr", "numId"), _number(_value(paragraph, "pPr", "numPr", "ilvl"), -1)
        if use is None and style.numbering is not None:
            use, level = style.numbering[0], style.numbering[1] if level < 0 else level
        if use is not None and words.strip():
            before = self._numbering.next(use, max(level, 0))
            words = words if heading else before + words
        lines.paragraph(words, heading)
        if paragraph.find(f"{_W}pPr/{_W}sectPr") is not None:
            self._section += 1
            if self._section < len(self._sections) and self._sections[self._section] in ("nextPage", "evenPage", "oddPage"):
                lines.page()
        if not cell:
            self._beside(lines, depth)

    def _beside(self, lines: Lines, depth: int) -> None:
        """Notes and text boxes that the last paragraph or row had."""
        notes, self._after = self._after, []
        boxes, self._boxes = self._boxes, []
        for note in notes:
            lines.add(note)
        for box in boxes:
            self._blocks(box, lines, depth + 1)

    def _table(self, table: Any, lines: Lines, depth: int, mark: Mark, cell: bool) -> None:
        for each in _each(table, "tr"):
            deleted = each.find(f"{_W}trPr/{_W}del") is not None
            cells: list[list[str]] = [[]] * min(_number(_value(each, "trPr", "gridBefore"), 0), _MOST_COLUMNS)
            for place in _each(each, "tc"):
                inner = Lines()
                if all(_value(place, "tcPr", merge) in (None, "restart") for merge in ("vMerge", "hMerge")):
                    self._blocks(place, inner, depth + 1, "struck" if deleted else mark, cell=True)
                cells.append(inner.lines)
                cells += [[]] * (min(_number(_value(place, "tcPr", "gridSpan"), 1), _MOST_COLUMNS) - 1)
            for line in row(cells):
                lines.add(line)
            if not cell:
                self._beside(lines, depth)

    def _words(self, paragraph: Any, mark: Mark, style: _Style) -> str:
        kept, self._runs = self._runs, []
        self._walk(paragraph, mark, style)
        words, self._runs = crossed(self._runs), kept
        return words

    def _walk(self, element: Any, mark: Mark, style: _Style) -> None:
        """The runs in ``element``. The default is to go in: links, fields, content controls and formulas hold runs."""
        for child in element:
            name = _name(child)
            if name in ("t", "delText"):
                self._runs.append((child.text or "", mark))
            elif name == "r":
                self._run(child, mark, style)
            elif name in ("ins", "moveTo"):
                self._walk(child, mark or "new", style)
            elif name in ("del", "moveFrom"):
                self._walk(child, "struck", style)
            elif name in _WORDS:
                self._runs.append((_WORDS[name], mark))
            elif name == "br":
                self._runs.append(("\f" if child.get(f"{_W}type") == "page" else "\n", mark))
            elif name == "sym":
                self._runs.append((_symbol(child), mark))
            elif name in _NOTES:
                self._note(self._notes.get((_NOTES[name], child.get(f"{_W}id"))))
            elif name == "txbxContent":
                self._boxes.append(child)
            elif name == "AlternateContent":
                self._walk(_chosen(child), mark, style)
            elif name == "f":  # a fraction of a formula
                for part in child:
                    if _name(part) == "den":
                        self._runs.append(("/", mark))
                    self._walk(part, mark, style)
            elif name in ("blip", "imagedata"):
                self._pictures = True
            elif name and not name.endswith("Pr") and name not in ("rt", "instrText", "delInstrText"):
                self._walk(child, mark, style)

    def _run(self, run: Any, mark: Mark, style: _Style) -> None:
        own = self._style(_value(run, "rPr", "rStyle") or "")
        hidden = next((found for found in (_on(_value(run, "rPr", "vanish")), own.hidden, style.hidden) if found is not None), False)
        if hidden:
            return
        out = next((found for found in (_struck(run), own.struck, style.struck) if found is not None), False)
        self._walk(run, "struck" if out else mark, style)

    def _note(self, note: Any) -> None:
        if note is None:
            return
        kept, self._after = self._after, []
        boxes, self._boxes = self._boxes, []
        words = " ".join(self._words(paragraph, "", _Style()) for paragraph in note.iter(f"{_W}p"))
        self._after, self._boxes = kept, boxes
        line = noted(words, note.get(f"{_W}initials", ""))
        if line:
            self._after.append(line)


def _struck(element: Any) -> bool | None:
    marks = [_on(_value(element, "rPr", mark)) for mark in ("strike", "dstrike")]
    return None if marks == [None, None] else any(marks)


def _outline(element: Any) -> bool:
    return 0 <= _number(_value(element, "pPr", "outlineLvl"), 9) < 9


def _chosen(element: Any) -> Any:
    """Of the same content given twice, for newer and older programs, one."""
    for name in ("Choice", "Fallback"):
        for child in element:
            if _name(child) == name:
                return child
    return ()


def _symbol(element: Any) -> str:
    """A character of a symbol font, by its place in the private area."""
    code = element.get(f"{_W}char", "")
    place = int(code, 16) if re.fullmatch("[0-9A-Fa-f]{1,4}", code) else 0xFFFD
    if element.get(f"{_W}font", "").startswith("Wingdings"):
        return {0xFC: "✓", 0xFE: "☑", 0xA8: "☐", 0xFB: "✗"}.get(place & 0xFF, "•")
    return chr(0xF000 + place if place < 0x100 else place)
