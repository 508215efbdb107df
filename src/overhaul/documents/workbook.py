"""Workbooks (.xlsx): each row a line, cells apart by tabs, figures as a cook reads them in the cells."""

from __future__ import annotations

import datetime
import io
import math
import operator
import re
import warnings
import zipfile
from bisect import bisect_left, bisect_right
from fractions import Fraction
from typing import Any

from msgspec import Struct

from overhaul.documents.lines import Lines, Mark, Refused, crossed, noted, row, struck
from overhaul.documents.outcome import Text, Unreadable
from overhaul.documents.zipped import old_office, unpacked

_KIND = "a workbook"
# A kitchen's whole costing is one or two megabytes of XML.
MOST_XML = 5_000_000
MOST_STYLES = 2_000_000
MOST_CELLS = 100_000
_MOST_MERGING = 200_000
_S = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_STRICT = re.compile(rb"http://purl\.oclc\.org/ooxml/(\w+)/")
_NEEDED = re.compile(r"\[Content_Types\]\.xml|_rels/\.rels|xl/(?:workbook|sharedStrings|styles)\.xml|xl/_rels/workbook\.xml\.rels|xl/worksheets/(?:_rels/)?[^/]+|xl/(?:[^/]+/)?comments?\d*\.xml|xl/comments/[^/]+", re.IGNORECASE)
_PARTS_OF_SHEET = frozenset(f"{_S}{name}" for name in ("cols", "sheetData"))
_PARTS_OF_BOOK = frozenset(f"{_S}{name}" for name in ("workbookPr", "bookViews", "sheets"))
_PLACE = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")
_NO_VALUE = "(formula)"
_THREAD = re.compile(r"\[Threaded comment\].*?Comment:\s*", re.DOTALL)


def read(data: bytes) -> Text | Unreadable:
    """The text of an .xlsx file."""
    if (old := old_office(data, _KIND, "an old workbook (.xls) or a locked one; open it in a spreadsheet program and save it as .xlsx without a password")) is not None:
        return old
    try:
        parts = unpacked(data, _KIND)
        if isinstance(parts, Unreadable):
            return parts
        if not any(name.lower() == "xl/workbook.xml" for name in parts):
            return Unreadable("no .xlsx workbook, whatever its name says; open it where it was made and save it as .xlsx")
        return _text(_repacked(parts))
    except Refused as problem:
        return Unreadable(f"{_KIND} with {problem}")
    except Exception as problem:  # openpyxl and lxml answer a broken file with whatever breaks first: KeyError, ValueError, TypeError …
        return Unreadable(f"{_KIND} that is damaged ({str(problem).splitlines()[0] if str(problem) else type(problem).__name__}); open it where it was made and save it again")


# ---- what openpyxl gets to see


def _repacked(parts: dict[str, bytes]) -> io.BytesIO:
    """An archive of the parts that hold cells, notes and formats, and of these only what is read.

    Merged cells and notes on ranges are worked out here: openpyxl makes every cell of a range, seventeen milliards of a whole sheet.
    """
    needed = {name: _STRICT.sub(rb"http://schemas.openxmlformats.org/\1/2006/", part) for name, part in parts.items() if _NEEDED.fullmatch(name)}
    if sum(map(len, needed.values())) > MOST_XML or len(needed.get("xl/styles.xml", b"")) > MOST_STYLES:
        raise Refused(f"more than {MOST_XML // 1_000_000} megabytes of cells or {MOST_STYLES // 1_000_000} of formats; a recipe of that size is not read")
    packed = io.BytesIO()
    cells = 0
    with zipfile.ZipFile(packed, "w") as archive:
        for name, part in needed.items():
            low = name.lower()
            content = part
            if low.endswith(".rels"):
                content = _relations(part) if low.startswith("xl/worksheets/") else part
            elif low.startswith("xl/worksheets/"):
                content, count = _sheet(part)
                cells += count
                if cells > MOST_CELLS:
                    raise Refused(f"more than {MOST_CELLS:,} cells; a recipe of that size is not read")
            elif low == "xl/workbook.xml":
                content = _only(part, _PARTS_OF_BOOK)
            elif "comment" in low:
                content = _notes(part)
            archive.writestr(name, content)
    packed.seek(0)
    return packed


def _parsed(content: bytes) -> Any:
    from lxml import etree

    return etree.fromstring(content, etree.XMLParser(resolve_entities=False, no_network=True, remove_comments=True, remove_pis=True))


def _written(root: Any) -> bytes:
    from lxml import etree

    content: bytes = etree.tostring(root, encoding="utf-8", xml_declaration=True)
    return content


def _only(content: bytes, kept: frozenset[str]) -> bytes:
    root = _parsed(content)
    for child in list(root):
        if child.tag not in kept:
            root.remove(child)
    return _written(root)


def _relations(content: bytes) -> bytes:
    root = _parsed(content)
    for child in list(root):
        if child.tag != _RELATION or not child.get("Type", "").endswith("/comments") or child.get("TargetMode") == "External":
            root.remove(child)
    return _written(root)


def _notes(content: bytes) -> bytes:
    root = _parsed(content)
    for each in list(root.iter(f"{_S}comment")):
        if not _PLACE.fullmatch(each.get("ref", "")):
            each.getparent().remove(each)
    return _written(root)


def _sheet(content: bytes) -> tuple[bytes, int]:
    """The sheet with its cells only, those under a merged one emptied, formulas that were never worked told as such; and how many cells."""
    root = _parsed(content)
    merged = [each.get("ref", "") for each in root.iter(f"{_S}mergeCell")]
    for child in list(root):
        if child.tag not in _PARTS_OF_SHEET:
            root.remove(child)
    by_row: dict[int, list[Any]] = {}
    count = 0
    for cell in root.iter(f"{_S}c"):
        count += 1
        value, formula = cell.find(f"{_S}v"), cell.find(f"{_S}f")
        if formula is not None and (value is None or not value.text) and cell.get("t") != "inlineStr":
            for child in list(cell):
                cell.remove(child)
            cell.set("t", "str")
            value = cell.makeelement(f"{_S}v")
            value.text = _NO_VALUE
            cell.append(value)
        if merged and (place := _PLACE.fullmatch(cell.get("r", ""))):
            by_row.setdefault(int(place[2]), []).append(cell)
    _merge(merged, by_row)
    return _written(root), count


def _merge(ranges: list[str], by_row: dict[int, list[Any]]) -> None:
    """Empties the cells that a merged cell covers."""
    numbers = sorted(by_row)
    work = 0
    for each in ranges:
        first, _, last = each.partition(":")
        start, end = _PLACE.fullmatch(first), _PLACE.fullmatch(last)
        if start is None or end is None:
            continue
        left, right = _column(start[1]), _column(end[1])
        work += 1
        for number in numbers[bisect_left(numbers, int(start[2])) : bisect_right(numbers, int(end[2]))]:
            work += len(by_row[number])
            if work > _MOST_MERGING:
                raise Refused("so many merged cells that no recipe can need them")
            for cell in by_row[number]:
                place = _PLACE.fullmatch(cell.get("r"))
                if place and left <= _column(place[1]) <= right and (number, place[1]) != (int(start[2]), start[1]):
                    for child in list(cell):
                        cell.remove(child)


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - ord("A") + 1
    return number


# ---- lines


def _text(packed: io.BytesIO) -> Text:
    from openpyxl import load_workbook

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of styles and extensions that openpyxl does not keep; nothing is written back
        book = load_workbook(packed, data_only=True, keep_links=False, rich_text=True)
    sheets: list[tuple[str, list[list[str]]]] = []
    for sheet in book.worksheets:
        if sheet.sheet_state == "visible" and (rows := _rows(sheet)):
            sheets.append((sheet.title, rows))
    lines = Lines()
    for title, rows in sheets:
        if len(sheets) > 1:
            lines.gap()
            lines.add(title)
        for each in rows:
            if not each:
                lines.gap()
            for line in each:
                lines.add(line)
    return lines.text()


def _rows(sheet: Any) -> list[list[str]]:
    """The lines of each row that is shown; an empty list stands for empty rows between."""
    hidden = [(dimension.min or 0, dimension.max or 0) for dimension in sheet.column_dimensions.values() if dimension.hidden]
    shown: dict[int, dict[int, Any]] = {}
    # The only way to the cells that are there: iter_rows goes through every place up to the last, a milliard of them if one cell is far out.
    for (number, column), cell in sorted(sheet._cells.items()):
        if cell.value is None and cell.comment is None:
            continue
        dimension = sheet.row_dimensions.get(number)
        cells = shown.setdefault(number, {})
        if not (dimension is not None and dimension.hidden) and not any(first <= column <= last for first, last in hidden):
            cells[column] = cell
    texts = {number: {column: _cell(cell) for column, cell in cells.items()} for number, cells in shown.items()}
    used = sorted({column for cells in texts.values() for column, text in cells.items() if text.strip()})
    places = {column: at for at, column in enumerate(used)}
    rows: list[list[str]] = []
    before, empty = 0, False
    for number, cells in texts.items():
        filled = {places[column]: text.strip().split("\n") for column, text in cells.items() if text.strip()}
        if len(filled) == 1 and 0 in filled:
            lines = [" ".join(line.split()) for line in filled[0]]
        else:
            lines = row([filled.get(at, []) for at in range(max(filled, default=-1) + 1)]) if filled else []
        lines += [note for cell in shown[number].values() if cell.comment is not None and (note := noted(_THREAD.sub("", cell.comment.text or "")))]
        empty = empty or number > before + 1
        before = number
        if lines:
            if rows and empty:
                rows.append([])
            rows.append(lines)
            empty = False
    return rows


def _cell(cell: Any) -> str:
    """What the cell shows, crossed out as it is there."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, list):  # runs of letters of different kinds
        text = crossed((str(run), _mark(run)) for run in value)
        return struck(text) if cell.font.strike and "~~" not in text else text
    text = _shown(value, cell.number_format or "General")
    return struck(text) if cell.font.strike and text.strip() else text


def _mark(run: Any) -> Mark:
    return "struck" if getattr(getattr(run, "font", None), "strike", False) else ""


def _shown(value: Any, code: str) -> str:
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, (int, float)):
        return _figure(value, code)
    if isinstance(value, datetime.datetime):
        return value.date().isoformat() if value.time() == datetime.time() else value.isoformat(" ", "minutes")
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, datetime.time):
        return value.isoformat("minutes")
    if isinstance(value, datetime.timedelta):
        minutes = round(value.total_seconds() / 60)
        return f"{minutes // 60}:{minutes % 60:02}"
    return re.sub(r"[^\S\n]+", " ", str(value).replace("\r\n", "\n").replace("\r", "\n"))


# ---- figures in their formats


class _Format(Struct):
    """One part of a number format: the letters before and after the figure, and the signs that stand for the figure."""

    before: str
    figure: str
    after: str
    condition: tuple[str, float] | None


_TOKEN = re.compile(r'"([^"]*)"|\\(.)|[_*].|\[([^\]]*)\]|(General|@|E(?=[+-])|[0#?.,%/]*/[1-9][0-9]*|[0#?.,%/]+|[+-])|(.)', re.IGNORECASE | re.DOTALL)
_HOLDS = {"<": operator.lt, ">": operator.gt, "<=": operator.le, ">=": operator.ge, "=": operator.eq, "<>": operator.ne}
_CONDITION = re.compile(r"(<=|>=|<>|<|>|=)\s*(-?[0-9]+(?:\.[0-9]+)?)")
_FRACTION = re.compile(r"(?P<whole>[#0?]+ +)?[#0?]+ *\?*/ *(?P<under>[?#0-9]+)")


def _figure(value: float, code: str) -> str:
    """A figure in its number format: percents and fractions as they look, letters of the format (a unit) beside it."""
    if not math.isfinite(value):
        return str(value)
    sections = [_format(section) for section in _sections(code)]
    form = _chosen(sections, value)
    if form is None:
        return ""
    if not form.figure:
        return f"{form.before}{form.after}".strip()
    if "%" in form.figure:
        return f"{form.before}{_plain(value * 100)} %{form.after}".strip()
    if fraction := _FRACTION.search(form.figure):
        told = _fraction(value, bool(fraction["whole"]), fraction["under"])
    else:
        scaled = re.search(r"[0#?](,+)(?![0#?])", form.figure)
        told = _plain(value / 1000 ** len(scaled[1])) if scaled else _plain(value)
    return f"{form.before}{told}{form.after}".strip()


def _sections(code: str) -> list[str]:
    """The parts of a format between semicolons, those in quotes, brackets and behind a backslash left alone."""
    found = re.findall(r'"[^"]*"?|\\.?|\[[^\]]*\]?|;|[^;"\\\[]+', code[:500])
    parts = [""]
    for piece in found:
        if piece == ";":
            parts.append("")
        else:
            parts[-1] += piece
    return parts


def _format(section: str) -> _Format:
    before, figure, after = "", "", ""
    condition = None
    for token in _TOKEN.finditer(section):
        quoted, escaped, bracket, signs, other = token.groups()
        literal = quoted or escaped or ""
        if bracket is not None:
            if found := _CONDITION.fullmatch(bracket):
                condition = (found[1], float(found[2]))
            literal = bracket[1:].split("-")[0] if bracket.startswith("$") else ""
        if signs and signs not in "+-":
            figure += f"{after}{signs}" if figure else signs
            after = ""
        elif other:
            literal = other if other not in "()" else ""
        if figure:
            after += literal
        else:
            before += literal
    return _Format(before, figure, after, condition)


def _chosen(sections: list[_Format], value: float) -> _Format | None:
    """The part of the format that is for this value; None where the format shows nothing."""
    if any(form.condition for form in sections):
        form = next((form for form in sections if form.condition is None or _HOLDS[form.condition[0]](value, form.condition[1])), sections[-1])
    elif len(sections) > 2 and value == 0:
        form = sections[2]
    else:
        form = sections[1] if len(sections) > 1 and value < 0 else sections[0]
    return form if form.figure or form.before or form.after else None


def _plain(value: float) -> str:
    """At most six decimals, none that say nothing; 2.5 and not 2.5000000000000004."""
    if isinstance(value, int):
        return str(value)
    if value and abs(value) < 0.000001:
        return f"{value:.3g}"
    return f"{round(value, 6):.6f}".rstrip("0").rstrip(".")


def _fraction(value: float, mixed: bool, under: str) -> str:
    exact = Fraction(abs(value)).limit_denominator(10_000_000)
    if under.isdigit() and int(under):
        over = round(exact * int(under))
        near = Fraction(over, int(under))
    else:
        near = exact.limit_denominator(10 ** min(len(under), 3) - 1)
    sign = "-" if value < 0 else ""
    whole, rest = divmod(near, 1)
    if not rest:
        return f"{sign}{whole}"
    if not mixed or not whole:
        return f"{sign}{near if not mixed else rest}"
    return f"{sign}{whole} {rest}"
