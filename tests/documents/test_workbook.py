from __future__ import annotations

import datetime
import io
import zipfile
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Font

from overhaul.documents import workbook
from overhaul.documents.outcome import Text, Unreadable

SHEET = "xl/worksheets/sheet1.xml"


def saved(book: Any) -> bytes:
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def kitchen() -> bytes:
    book = Workbook()
    sheet = book.active
    sheet.title = "Brine"
    for cells in (["Corned beef, 40 lb"], [], ["", "1x", "2x"], ["Kosher salt", 2.5000000000000004, 5], ["Cure #1", 16, "=B5*2"], ["Water", 1.5, 3.0], ["Sugar", "4 oz"]):
        sheet.append(cells)
    sheet["B5"].number_format = '0 "g"'
    sheet["B6"].number_format = "# ?/?"
    sheet["B7"].font = Font(strike=True)
    sheet["B7"].comment = Comment("too\n sweet", "Cook")
    sheet["A8"] = CellRichText("Use ", TextBlock(InlineFont(strike=True), "20 oz"), " 25 oz")
    sheet.merge_cells("A9:C9")
    sheet["A9"] = "Dissolve the salt.\nChill to 38 F."
    sheet["A10"] = "nobody's business"
    sheet.row_dimensions[10].hidden = True
    sheet["E4"] = "cost"
    sheet.column_dimensions["E"].hidden = True
    cook = book.create_sheet("Cook")
    cook["B2"] = "Simmer"
    cook["C2"] = "3 hours"
    away = book.create_sheet("Away")
    away["A1"] = "old"
    away.sheet_state = "hidden"
    book.create_sheet("Empty")
    return saved(book)


KITCHEN = kitchen()
READ = (
    "Brine\nCorned beef, 40 lb\n\n\t1x\t2x\nKosher salt\t2.5\t5\nCure #1\t16 g\t(formula)\nWater\t1 1/2\t3\nSugar\t~~4 oz~~\n(Note: too sweet)\n"
    "Use ~~20 oz~~ 25 oz\nDissolve the salt.\nChill to 38 F.\n\nCook\nSimmer\t3 hours\n"
)


def changed(change: Callable[[str, bytes], bytes], data: bytes = KITCHEN) -> bytes:
    """The workbook with ``change`` made to each of its parts."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, change(name, old.read(name)))
    return stream.getvalue()


def swapped(old: bytes, new: bytes, part: str = SHEET) -> bytes:
    def change(name: str, content: bytes) -> bytes:
        if part not in name or not name.endswith(".xml"):
            return content
        assert old in content
        return content.replace(old, new, 1)

    return changed(change)


def test_a_kitchens_workbook_reads_as_a_cook_reads_it() -> None:
    assert workbook.read(KITCHEN) == Text(READ)


def test_one_sheet_has_no_heading() -> None:
    book = Workbook()
    book.active.append(["Salt", "10 oz"])
    assert workbook.read(saved(book)) == Text("Salt\t10 oz\n")


def test_an_empty_workbook_is_an_empty_page() -> None:
    assert workbook.read(saved(Workbook())) == Text("")


@pytest.mark.parametrize(
    ("value", "code", "shown"),
    [
        (0.1 + 0.2, "General", "0.3"),
        (2.0, "0.00", "2"),
        (1234567, "#,##0", "1234567"),
        (0.0025, "0.00%", "0.25 %"),
        (5, '0 "%"', "5 %"),
        (1.5, "# ?/?", "1 1/2"),
        (1 / 3, "# ?/?", "1/3"),
        (2.25, "# ?/4", "2 1/4"),
        (1.5, "?/?", "3/2"),
        (-1.5, "# ?/?", "-1 1/2"),
        (2.0, "# ?/?", "2"),
        (38, '0\\ "°F"', "38 °F"),
        (12.5, '"$"#,##0.00', "$12.5"),
        (12.5, "[$€-407] 0.00", "€ 12.5"),
        (4, 'General" lb"', "4 lb"),
        (2500, '[>=1000]0.0,"kg";0"g"', "2.5kg"),
        (900, '[>=1000]0.0,"kg";0"g"', "900g"),
        (-5, "0;(0)", "-5"),
        (0, '0;-0;"none"', "none"),
        (5, ";;;", ""),
        (3, "@", "3"),
        (0.0000001, "0.0", "1e-07"),
        (True, "General", "TRUE"),
        (datetime.datetime(2024, 5, 1), "yyyy-mm-dd", "2024-05-01"),
        (datetime.datetime(2024, 5, 1, 14, 30), "yyyy-mm-dd", "2024-05-01 14:30"),
        (datetime.time(2, 30), "h:mm", "02:30"),
        (datetime.timedelta(hours=30), "[h]:mm", "30:00"),
    ],
)
def test_values_are_told_as_their_cells_show_them(value: Any, code: str, shown: str) -> None:
    book = Workbook()
    book.active["A1"] = value
    book.active["A1"].number_format = code
    assert workbook.read(saved(book)) == Text(f"{shown}\n" if shown else "")


def test_what_a_merged_cell_covers_is_not_told() -> None:
    assert workbook.read(swapped(b'ref="A9:C9"', b'ref="A1:XFD1048576"')) == Text("Brine\nCorned beef, 40 lb\n\n(Note: too sweet)\n\nCook\nSimmer\t3 hours\n")


def test_strict_workbooks_are_read() -> None:
    strict = changed(lambda _, content: content.replace(b"http://schemas.openxmlformats.org/spreadsheetml/2006/", b"http://purl.oclc.org/ooxml/spreadsheetml/"))
    assert workbook.read(strict) == Text(READ)


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "a workbook that is damaged (File is not a zip file); open it where it was made and save it again"),
        (b"Salt,10 oz\n", "a workbook that is damaged (File is not a zip file); open it where it was made and save it again"),
        (b"\xd0\xcf\x11\xe0" + bytes(600), "an old workbook (.xls) or a locked one; open it in a spreadsheet program and save it as .xlsx without a password"),
        (b"\xd0\xcf\x11\xe0" + bytes(60) + "EncryptedPackage".encode("utf-16-le"), "a workbook locked with a password; save it without one"),
        (changed(lambda name, content: content if name != SHEET else b"<!DOCTYPE a [<!ENTITY b 'c'>]>" + content), "a workbook that declares entities, which no recipe needs; it is not read"),
        (swapped(b"<sheetData>", b"<sheetData>" + b"<row/>" * 2_000_000), "a workbook with more than 5 megabytes of cells or 2 of formats; a recipe of that size is not read"),
        (swapped(b"<sheetData>", b"<sheetData>" + b"<row>" + b"<c/>" * 100_001 + b"</row>"), "a workbook with more than 100,000 cells; a recipe of that size is not read"),
    ],
    ids=["empty", "text", "old", "locked", "entities", "much XML", "many cells"],
)
def test_what_is_no_workbook_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert workbook.read(data) == Unreadable(reason)


@pytest.mark.parametrize(
    "data",
    [
        swapped(b'ref="B7"', b'ref="A1:XFD1048576"', "comment"),
        swapped(b'<row r="9"', b'<row r="1048576"'),
        swapped(b'r="A9"', b'r="XFD1048576"'),
        swapped(b'r="A9"', b'r="ZZZZ0"'),
        swapped(b"<cols>", b"<cols>" + b'<col min="1" max="16384" hidden="1"/>' * 1000),
        swapped(b"<sheetData>", b"<a>" * 100_000 + b"<sheetData>"),
        changed(lambda name, content: b"" if "styles" in name else content),
        changed(lambda name, content: b"<a/>" if name.endswith("workbook.xml.rels") else content),
    ],
    ids=["note on a whole sheet", "far row", "far cell", "no such cell", "many columns", "deep", "no styles", "no relations"],
)
def test_hostile_workbooks_never_raise(data: bytes) -> None:
    assert isinstance(workbook.read(data), Text | Unreadable)


def test_truncated_workbooks_never_raise() -> None:
    for length in range(0, len(KITCHEN), 37):
        assert isinstance(workbook.read(KITCHEN[:length]), Unreadable)


@given(st.integers(0, len(KITCHEN) - 1), st.binary(min_size=1, max_size=8))
def test_damaged_workbooks_never_raise(at: int, junk: bytes) -> None:
    assert isinstance(workbook.read(KITCHEN[:at] + junk + KITCHEN[at + len(junk) :]), Text | Unreadable)


@given(st.binary(max_size=200))
def test_no_bytes_raise(data: bytes) -> None:
    assert isinstance(workbook.read(b"PK\x03\x04" + data), Unreadable)


@given(st.floats(allow_nan=False), st.text(alphabet='0#?/.,%;"[]$><=1 gE+-@\\_*', max_size=20))
def test_no_format_raises(value: float, code: str) -> None:
    assert isinstance(workbook._figure(value, code), str)
