"""PDF documents: the words in the order they were set, cells of a row on one line, what repeats on each page left out."""

from __future__ import annotations

import io
import itertools
import logging
import re
import statistics
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise
from time import monotonic
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from overhaul.documents.lines import Lines, Refused
from overhaul.documents.outcome import Text, Unreadable

if TYPE_CHECKING:
    from pypdf import PageObject

_KIND = "a PDF"
MOST_PAGES = 300
MOST_SECONDS, SECONDS_A_PAGE = 5.0, 0.1
# Of one stream unpacked, and of one page's drawing orders: a page of text has ten thousand, a drawing of a whole animal some more.
MOST_UNPACKED = 20_000_000
MOST_ORDERS = 500_000
_SLOW = f"so much on its pages that reading takes longer than {MOST_SECONDS:.0f} seconds, and {SECONDS_A_PAGE:g} a page"
_NO_PDF = "not a PDF, whatever its name says"
_LOCKED = f"{_KIND} locked with a password; save it without one"
_PICTURES = f"{_KIND} with pictures of pages and no text; type it out, or have it read by a text recogniser first"
_EMPTY = f"{_KIND} without any text; if its pages are pictures, type them out, or have them read by a text recogniser first"

_LIGATURES = str.maketrans({"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "ft", "ﬆ": "st"})
_LOST = re.compile("[\x00-\x08\x0e-\x1f\x7f\ufffd\ue000-\uefff]")
_FIGURES = re.compile(r"\d+")
_PAGE_NUMBER = re.compile(r"(?P<word>page|p\.)?\s*[-–—|]?\s*(?P<number>\d{1,4})\s*(?:(?:of|/)\s*(?P<all>\d{1,4}))?\s*[-–—|]?", re.IGNORECASE)
_AMOUNT = re.compile(r"[~≈]?[\d½¼¾⅓⅔⅛⅜⅝⅞][\d\s.,/⁄–½¼¾⅓⅔⅛⅜⅝⅞-]*(?:\s?[a-zA-Z#%]{1,8}\.?){0,2}")
_NAMED_AMOUNT = re.compile(r"[•·-]?\s*[\d½¼¾⅓⅔⅛⅜⅝⅞].*[a-z]{2,}\W+[a-z]{2,}", re.IGNORECASE)
_NUMBERED = re.compile(r"\d{1,2}[.)]\s")
_MARK_ALONE = re.compile(r"(?:[•·▪◦○●*–-]|\(?\w{1,2}[.)])")
_FIRST_WORD = re.compile(r"([^\W\d_]+)(\S*)\s*")
_BREAKS = re.compile(r"([^\W\d_]+)[-‐\u00ad]$")
_LONG = 60  # longer than what is in a cell
_MOST_IN_COLUMN = 300
_MOST_CELLS = 63
# Words that begin a compound more often than they are the first half of a broken word.
_COMPOUNDS = frozenset("air bone brown cold cross dry extra fat fine food full half hand heavy home hot instant long low medium non off one oven pre ready salt self semi short skin slow spice sugar sweet thick thin three top two vacuum walk water well".split())


class _Row(Struct):
    """A line of the page. ``x`` and ``y`` : of its start, in points from the left and the bottom; ``last`` : the y of its lowest line."""

    cells: list[tuple[float, str]]
    y: float
    size: float
    last: float
    gap: bool = False

    @property
    def x(self) -> float:
        return self.cells[0][0]

    @property
    def text(self) -> str:
        return "\t".join(text for _, text in self.cells)


class _Page(Struct):
    """What was read of one page. ``lost`` : why some of it was not."""

    rows: list[_Row]
    lost: str = ""


def read(data: bytes) -> Text | Unreadable:
    """The text of a PDF; ``pages`` has the first line of each page if there are several."""
    if b"%PDF-" not in data[:1024]:
        return Unreadable(_NO_PDF)
    from pypdf import apply_configuration
    from pypdf.errors import DependencyError, FileNotDecryptedError, LimitReachedError

    try:
        with _quiet() as complaints, apply_configuration(
            maximum_declared_stream_length=MOST_UNPACKED,
            array_based_stream_maximum_output_length=MOST_UNPACKED,
            zlib_maximum_output_length=MOST_UNPACKED,
            lzw_maximum_output_length=MOST_UNPACKED,
            run_length_maximum_output_length=MOST_UNPACKED,
            stream_decoding_work_maximum_length=3 * MOST_UNPACKED,
            stream_parsing_work_maximum_count=MOST_ORDERS,
            xform_maximum_invocations_per_extraction=500,
        ):
            return _read(data, complaints)
    except DependencyError:
        return Unreadable(f"{_KIND} locked in a way that is not opened here; save it without a password and without protection")
    except FileNotDecryptedError:
        return Unreadable(_LOCKED)
    except LimitReachedError:
        return Unreadable(f"{_KIND} that unpacks to more than any recipe needs; it is not read")
    except Refused as problem:
        return Unreadable(f"{_KIND} with {problem}")
    except Exception as problem:  # pypdf answers a broken file with whatever breaks first, as its own documentation says
        return Unreadable(f"{_KIND} that is damaged ({problem or type(problem).__name__}); open it where it was made and save it again")


class _Complaints(logging.Handler):
    """Keeps what pypdf says it left out."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lost = False

    def emit(self, record: logging.LogRecord) -> None:
        self.lost = self.lost or str(record.msg).startswith(("Impossible to decode", "Exceeded"))


@contextmanager
def _quiet() -> Iterator[_Complaints]:
    """pypdf tells of every oddity of a file on the terminal; here they are only listened to."""
    logger = logging.getLogger("pypdf")
    complaints, passed_on = _Complaints(), logger.propagate
    logger.addHandler(complaints)
    logger.propagate = False
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield complaints
    finally:
        logger.removeHandler(complaints)
        logger.propagate = passed_on


def _read(data: bytes, complaints: _Complaints) -> Text | Unreadable:
    from pypdf import PasswordType, PdfReader

    end = monotonic() + MOST_SECONDS
    reader = PdfReader(io.BytesIO(data))
    if reader.is_encrypted and reader.decrypt("") is PasswordType.NOT_DECRYPTED:
        return Unreadable(_LOCKED)
    count = len(reader.pages)
    if count > MOST_PAGES:
        return Unreadable(f"{_KIND} of {count:,} pages; more than {MOST_PAGES} are not read")
    end += count * SECONDS_A_PAGE
    pages: list[_Page] = []
    for page in reader.pages:
        complaints.lost = False
        rows = _rows(page, end)
        pages.append(_Page(rows, "part of it could not be read" if complaints.lost else "a picture and no text" if not rows and _has_picture(page) else ""))
    if not any(page.rows for page in pages):
        return Unreadable(_PICTURES if any(page.lost for page in pages) else _EMPTY)
    text = "".join(row.text for page in pages for row in page.rows)
    if len(_LOST.findall(text)) > max(8, len(text) // 10):
        return Unreadable(f"{_KIND} that does not tell which letters its signs are; type it out, or have it read by a text recogniser first")
    _leave_out_repeated(pages)
    return _text(pages)


def _has_picture(page: PageObject) -> bool:
    try:
        resources: Any = page["/Resources"].get_object()
        return any(part.get_object().get("/Subtype") == "/Image" or "/XObject" in part.get_object().get("/Resources", {}) for part in resources["/XObject"].get_object().values())
    except Exception:  # a broken list of resources: then it is not known, and a page without text is taken as empty
        return False


def _text(pages: list[_Page]) -> Text:
    told = [[line for row in page.rows for line in (("", row.text) if row.gap and row is not page.rows[0] else (row.text,))] for page in pages]
    _join_broken(told)
    lines = Lines()
    for number, page in enumerate(told):
        if number:
            lines.page()
            # A sentence may run over the end of the page.
            if page and not page[0][:1].islower():
                lines.gap()
        for line in page:
            lines.add(line)
        if pages[number].lost:
            lines.gap()
            lines.add(f"(Page {number + 1}: {pages[number].lost}.)")
            lines.gap()
    return lines.text()


# ---- one page


def _rows(page: PageObject, end: float) -> list[_Row]:
    """The rows of ``page`` in the order they were set; not later than ``end``, a time of ``monotonic``."""
    if monotonic() > end:
        raise Refused(_SLOW)
    lines: list[_Row] = []
    pieces: list[tuple[str, float, float, float]] = []
    orders = 0

    def piece(text: str, outer: list[float], inner: list[float], _font: Any, size: float) -> None:
        if text:
            x, y, scale = _position(inner, outer)
            pieces.append((text.rstrip("\n"), x, y, abs(size * scale)))
        if text.endswith("\n"):
            _end_line(pieces, lines)

    def order(*_: Any) -> None:
        nonlocal orders
        orders += 1
        if orders % 256 == 0 and monotonic() > end:
            raise Refused(_SLOW)

    page.extract_text(visitor_text=piece, visitor_operand_before=order)
    _end_line(pieces, lines)
    rows = _columns_apart(_amounts_beside(_beside(lines)))
    if orders < 50_000:
        _gaps(rows, page)
    _in_place(rows)
    _set_apart(rows)
    return rows


def _position(inner: list[float], outer: list[float]) -> tuple[float, float, float]:
    """x and y in points as the words run, whichever way they are turned, and the height of one unit."""
    a, b = inner[0] * outer[0] + inner[1] * outer[2], inner[0] * outer[1] + inner[1] * outer[3]
    c, d = inner[2] * outer[0] + inner[3] * outer[2], inner[2] * outer[1] + inner[3] * outer[3]
    x = inner[4] * outer[0] + inner[5] * outer[2] + outer[4]
    y = inner[4] * outer[1] + inner[5] * outer[3] + outer[5]
    scale = (c * c + d * d) ** 0.5
    if abs(a) >= abs(b):
        return (x, y, scale) if a >= 0 else (-x, -y, scale)
    return (y, -x, scale) if b > 0 else (-y, x, scale)


def _end_line(pieces: list[tuple[str, float, float, float]], lines: list[_Row]) -> None:
    """Makes one line of ``pieces`` and empties them. A figure set smaller than the one before it (1 and a raised 1/2) is another figure."""
    text = ""
    before = 0.0
    for words, _, _, size in pieces:
        if text[-1:].isdigit() and words[:1].isdigit() and min(size, before) < 0.9 * max(size, before):
            text += " "
        text += words
        before = size
    text = text.translate(_LIGATURES)
    if text.strip():
        _, x, y, _ = next(piece for piece in pieces if piece[0].strip())
        size = max(piece[3] for piece in pieces if piece[0].strip()) or 1.0
        lines += [_Row([(x, " ".join(each.split()))], y, size, y) for each in text.split("\n") if each.strip()]
    pieces.clear()


def _level(one: _Row, other: _Row) -> bool:
    return abs(one.y - other.y) <= 0.35 * min(one.size, other.size)


def _beside(lines: list[_Row]) -> list[_Row]:
    """Lines set one after the other at one height are the cells of a row; a first cell may have a second line below."""
    rows: list[_Row] = []
    for line in lines:
        if rows and _level(rows[-1], line) and line.x > rows[-1].cells[-1][0]:
            x, before = rows[-1].cells[-1]
            if mark := _list_mark(before):
                rows[-1].cells[-1] = (x, mark + line.text)
            else:
                rows[-1].cells += line.cells
                _join_first(rows)
            continue
        if len(rows) > 1 and _level(rows[-2], line) and line.x > rows[-2].cells[-1][0]:
            first, second = rows[-2], rows[-1]
            under = abs(second.x - first.cells[-1][0]) < 2 and 0 < first.y - second.y < 2.5 * first.size
            if under and len(second.cells) == 1 and (second.text[0].islower() or second.text[0] == "("):
                first.cells[-1] = (first.cells[-1][0], f"{first.cells[-1][1]} {second.text}")
                first.cells += line.cells
                first.last = second.last
                rows.pop()
                continue
        rows.append(line)
    return rows


def _list_mark(text: str) -> str:
    """The mark of an item in a list, set apart from its words; nothing if ``text`` is more, or a figure."""
    if len(text) <= 2 and not any(letter.isalnum() or letter in "½¼¾~≈$£€%" for letter in text):
        return "- "
    return f"{text} " if _MARK_ALONE.fullmatch(text) else ""


def _join_first(rows: list[_Row]) -> None:
    """Joins the lines of a first cell whose last line has the next cell beside it."""
    top = rows[-1].y
    for _ in range(3):
        if len(rows) < 2 or len(rows[-2].cells) > 1 or not rows[-1].cells[0][1][0].islower():
            return
        above, row = rows[-2], rows[-1]
        if abs(above.x - row.x) > 2 or not 0 < above.last - top < 1.4 * row.size or len(above.text) > _LONG:
            return
        row.cells[0] = (row.x, f"{above.text} {row.cells[0][1]}")
        top = above.y
        rows.pop(-2)


def _amounts_beside(rows: list[_Row]) -> list[_Row]:
    """A column of nothing but amounts, set before or after the column of names at the same heights, is beside them."""
    columns: list[list[_Row]] = []
    for row in rows:
        if columns and abs(columns[-1][0].x - row.x) < 2 and row.y < columns[-1][-1].y:
            columns[-1].append(row)
        else:
            columns.append([row])
    found: list[list[_Row]] = []
    for column in columns:
        before = found[-1] if found else []
        if 1 < len(column) < _MOST_IN_COLUMN and 1 < len(before) < _MOST_IN_COLUMN and column[0].x > before[0].x:
            amounts = all(_is_amount(row.cells[-1][1]) for row in before) or all(len(row.cells) == 1 and _is_amount(row.text) for row in column)
            pairs = {at: mate for at, row in enumerate(column) for mate in before if _level(row, mate)}
            if amounts and len(pairs) >= 0.8 * min(len(before), len(column)) and len(pairs) > 1:
                for at, mate in pairs.items():
                    mate.cells += column[at].cells
                if rest := [row for at, row in enumerate(column) if at not in pairs]:
                    found.append(rest)
                continue
        found.append(column)
    return [row for column in found for row in column]


def _is_amount(text: str) -> bool:
    return len(text) < _LONG and _AMOUNT.fullmatch(text) is not None


def _columns_apart(rows: list[_Row]) -> list[_Row]:
    """Two columns of running words that were set line by line across: an ingredient with half a sentence beside it is no row of a table."""
    found: list[_Row] = []
    at = 0
    while at < len(rows):
        row = rows[at]
        last = at + 1
        if len(row.cells) == 2:
            left, right = row.cells[0][0], row.cells[1][0]
            while last < len(rows) and len(rows[last].cells) <= 2 and all(min(abs(x - left), abs(x - right)) < 3 for x, _ in rows[last].cells):
                last += 1
            lefts = [_part(each, 0) for each in rows[at:last] if abs(each.x - left) < 3]
            rights = [_part(each, -1) for each in rows[at:last] if abs(each.cells[-1][0] - right) < 3]
            words = sum(len(each.text.split()) for each in rights) / len(rights)
            ingredients = sum(bool(_NAMED_AMOUNT.match(each.text[: 2 * _LONG])) for each in lefts)
            if len(rights) > 2 and 3 * ingredients >= 2 * len(lefts) and (words >= 4 or any(_NUMBERED.match(each.text) for each in rights)):
                found += [*lefts, *rights]
                at = last
                continue
        found.append(row)
        at += 1
    return found


def _part(row: _Row, place: int) -> _Row:
    return _Row([row.cells[place]], row.y, row.size, row.last)


def _gaps(rows: list[_Row], page: PageObject) -> None:
    """Cells set in one stretch, with only a blank between in the plain order: the wide gaps are taken from the picture of the page in letters.

    Only the gaps. Its order of words is not to be had: it puts columns beside each other and raised figures on lines of their own.
    """
    try:
        picture = page.extract_text(extraction_mode="layout")
    except Exception:  # it fails on pages that the plain way reads, and only gaps are lost
        return
    wide: dict[str, str] = {}
    for line in picture.translate(_LIGATURES).split("\n"):
        cells = [cell.strip() for cell in re.split(r"\s{3,}", line.strip())]
        if len(cells) > 1 and not _MARK_ALONE.fullmatch(cells[0]):
            wide["".join(line.split())] = "\t".join(cells)
    single = [row for row in rows if len(row.cells) == 1 and "".join(row.text.split()) in wide]
    if len(single) > 1:
        for row in single:
            row.cells = [(row.x, cell) for cell in wide["".join(row.text.split())].split("\t")]


def _in_place(rows: list[_Row]) -> None:
    """Keeps the place of empty cells, where the cells of a table begin below each other."""
    for several, block in itertools.groupby(rows, key=lambda row: len(row.cells) > 1):
        table = list(block)
        if not several or max(len(row.cells) for row in table) > _MOST_CELLS:
            continue
        starts = [x for x, _ in max(table, key=lambda row: len(row.cells)).cells]
        if starts[0] > (least := min(row.x for row in table)) + 3:
            starts.insert(0, least)
        if min(right - left for left, right in pairwise(starts)) < 3:
            continue
        places = [[next((at for at, start in enumerate(starts) if abs(start - x) < 3), -1) for x, _ in row.cells] for row in table]
        if any(-1 in row or len(set(row)) < len(row) for row in places):
            continue  # figures that end below each other
        for row, found in zip(table, places, strict=True):
            texts = dict(zip(found, (text for _, text in row.cells), strict=True))
            row.cells = [(start, texts.get(at, "")) for at, start in enumerate(starts[: max(found) + 1])]


def _set_apart(rows: list[_Row]) -> None:
    """Marks the rows that stand under more than a line's space, above the row before, or in larger letters."""
    steps = [before.last - row.y for before, row in pairwise(rows)]
    usual = [step for step, row in zip(steps, rows[1:], strict=True) if 0 < step <= 2.5 * row.size]
    pitch = statistics.median_low(usual) if usual else 0.0
    for step, (before, row) in zip(steps, pairwise(rows), strict=True):
        moved = step > 1.6 * (pitch or row.size) or step < -row.size
        below_table = len(before.cells) > 1 and len(row.cells) == 1 and (row.x < before.x - 3 or (row.x < before.x + 3 and len(row.text) > _LONG))
        row.gap = moved or below_table or row.size > 1.15 * before.size or before.size > 1.5 * row.size


# ---- all pages


def _leave_out_repeated(pages: list[_Page]) -> None:
    """Takes out heads, feet and page numbers: what stands apart at one height and in one size on three pages or on all, no larger than the words."""
    filled = [page for page in pages if page.rows]
    usual = statistics.median(row.size for page in pages for row in page.rows)
    seen: dict[tuple[str, float, float], list[tuple[int, _Row]]] = {}
    for number, page in enumerate(pages):
        for row in _outermost(page):
            if row.size <= 1.1 * usual:
                seen.setdefault((_FIGURES.sub("#", row.text), round(row.size, 1), round(row.y)), []).append((number, row))
    gone = [row for found in seen.values() if (len(found) >= 3 or 1 < len(found) == len(filled)) and _counts(found) for _, row in found]
    for number, page in enumerate(pages):
        for row in _outermost(page):
            match = _PAGE_NUMBER.fullmatch(row.text)
            if match and (match["word"] or (int(match["number"]) == number + 1 and match["all"] in (None, str(len(pages))))):
                gone.append(row)
    left_out = {id(row) for row in gone}
    for page in pages:
        page.rows = [row for row in page.rows if id(row) not in left_out]


def _outermost(page: _Page) -> list[_Row]:
    """The rows at the top and at the bottom of a page, three at most each, that stand apart from the rest."""
    rows = sorted(page.rows, key=lambda row: -row.y)
    found: list[_Row] = []
    for way in (rows, rows[::-1]):
        for at, (row, inner) in enumerate(pairwise(way[:4]), 1):
            if abs(row.y - inner.y) > 1.6 * max(row.size, inner.size):
                found += way[:at]
                break
    return found


def _counts(found: list[tuple[int, _Row]]) -> bool:
    """Whether every figure in the rows is the same on each page or goes up with the pages. “Serves 8”, “Serves 10” is no foot of a page."""
    figures = [[int(figure) for figure in _FIGURES.findall(row.text)] for _, row in found]
    for place in range(len(figures[0])):
        column = [each[place] for each in figures]
        if len(set(column)) > 1 and len({figure - number for figure, (number, _) in zip(column, found, strict=True)}) > 1:
            return False
    return True


def _join_broken(pages: list[list[str]]) -> None:
    """Joins words broken at the end of a line, the first part of the next line moving up."""
    whole = {word.lower() for page in pages for line in page for word in re.findall(r"[^\W\d_]+(?:-[^\W\d_]+)*", line)}
    places = [(page, at) for page in pages for at in range(len(page))]
    for (page, at), (next_page, below) in pairwise(places):
        broken = _BREAKS.search(page[at][-_LONG:])
        rest = _FIRST_WORD.match(next_page[below])
        if broken is None or rest is None or not rest[1][0].islower():
            continue
        first, second = broken[1].lower(), rest[1].lower()
        keep = page[at][-1] != "\u00ad" and f"{first}{second}" not in whole and (f"{first}-{second}" in whole or first in _COMPOUNDS)
        page[at] = f"{page[at] if keep else page[at][:-1]}{rest[1]}{rest[2]}"
        next_page[below] = next_page[below][rest.end() :]
    for page in pages:
        page[:] = [line for place, line in enumerate(page) if line or place == 0 or page[place - 1]]
