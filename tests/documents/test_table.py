from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.documents import table
from overhaul.documents.outcome import Text, Unreadable


def of(text: str) -> str:
    found = table.read(text.encode())
    assert isinstance(found, Text)
    return found.text


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_rows_come_out_alike_whatever_parts_the_cells(delimiter: str) -> None:
    written = io.StringIO()
    csv.writer(written, delimiter=delimiter).writerows([["Corned beef, for the line"], [], ["", "1x", "2x", ""], ["Kosher salt, coarse", "10 oz", "20 oz"], ["Bay leaves", "", "8", ""]])
    assert of(written.getvalue()) == "Corned beef, for the line\n\n\t1x\t2x\nKosher salt, coarse\t10 oz\t20 oz\nBay leaves\t\t8\n"


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("Item;kg\nSalt;2,5\nSugar;1,5\nWater;10,0\n", "Item\tkg\nSalt\t2,5\nSugar\t1,5\nWater\t10,0\n"),
        ("sep=|\nSalt, coarse|2,5\n", "Salt, coarse\t2,5\n"),
        ('Salt,"10 oz,\n by weight"\n', "Salt\t10 oz, by weight\n"),
        ('Brisket 2" thick,5 lb\nSalt,10 oz\n', 'Brisket 2" thick\t5 lb\nSalt\t10 oz\n'),
        ('Pan,1\n"deep pan,1\nSalt,2 lb\nWater,1 gal\n', 'Pan\t1\n"deep pan\t1\nSalt\t2 lb\nWater\t1 gal\n'),
        ("Corned beef\nServes 8\n", "Corned beef\nServes 8\n"),
        ("Salt,10 oz\r\rSugar,4 oz\r", "Salt\t10 oz\n\nSugar\t4 oz\n"),
        ("", ""),
    ],
    ids=["decimal commas", "told delimiter", "line break in a cell", "an inch", "quotation mark that nothing closes", "no cells", "old line ends", "empty"],
)
def test_what_stands_in_the_cells_is_kept(text: str, read: str) -> None:
    assert of(text) == read


def test_old_encodings_are_read() -> None:
    assert table.read("Salt;½ lb\nWater;38 °F\n".encode("cp1252")) == Text("Salt\t½ lb\nWater\t38 °F\n")


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"PK\x03\x04\0\0", "a binary file, not text"),
        (b'"' + b"x" * 200_000, "a table that is damaged (field larger than field limit (131072)); open it where it was made and save it again"),
        (b"Salt,1\n" * 800_000, "a table with more than 4,000,000 characters of text; a recipe of that length is not read"),
    ],
    ids=["binary", "one endless cell", "too long"],
)
def test_what_is_no_table_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert table.read(data) == Unreadable(reason)


@given(st.binary(max_size=300) | st.text(alphabet='ab1,;|\t"\n\r =', max_size=200).map(str.encode))
def test_no_bytes_raise(data: bytes) -> None:
    assert isinstance(table.read(data), Text | Unreadable)
