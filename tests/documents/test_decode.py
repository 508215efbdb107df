from __future__ import annotations

import codecs

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul import documents
from overhaul.documents import Unreadable
from overhaul.documents.decode import NoText, decode
from overhaul.text import Page

SAMPLE = "½ lb salt – 38 °F “cold”\r\nNext\n"


@pytest.mark.parametrize(
    "data",
    [
        SAMPLE.encode("utf-8"),
        codecs.BOM_UTF8 + SAMPLE.encode("utf-8"),
        codecs.BOM_UTF16_LE + SAMPLE.encode("utf-16-le"),
        codecs.BOM_UTF16_BE + SAMPLE.encode("utf-16-be"),
        SAMPLE.encode("cp1252"),
    ],
    ids=["utf-8", "utf-8 with mark", "utf-16-le", "utf-16-be", "windows-1252"],
)
def test_every_usual_encoding_gives_the_same_text(data: bytes) -> None:
    assert decode(data) == SAMPLE


def test_mac_roman_is_read() -> None:
    text = "Crème fraîche, 3 °C, “à point”, déjà vu — jambon fumé à l’ancienne, gelée, pâté, brûlée\n" * 4
    assert decode(text.encode("mac_roman")) == text


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"\x7fELF\x02\x01\x01\0\0\0", "a binary file, not text"),
        (codecs.BOM_UTF16_LE + b"a", "begins as UTF-16-LE but stops being it at byte 3"),
        (b"salt" * 2000 + b"\0", "holds a zero character at place 8,001; not text"),
    ],
)
def test_what_is_no_text_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert decode(data) == NoText(reason)


@given(st.binary(max_size=300))
def test_no_bytes_raise(data: bytes) -> None:
    assert isinstance(documents.read(data, "x.txt"), Page | Unreadable)


def test_a_huge_file_is_refused_with_its_size() -> None:
    found = documents.read(b"a" * (documents.MOST_BYTES + 1), "x.txt")
    assert found == Unreadable("longer than 20,000,000 bytes; a recipe of that length is not read")


@pytest.mark.parametrize(
    ("text", "encoding"),
    [
        ("–18 °F\n", "cp1252"),
        ("–18 °F\n", "mac_roman"),
        ("38 °F\n", "mac_roman"),
        ("1½ lb salt\n", "cp1252"),
        ("“brine” 2 × 3\n", "cp1252"),
        ("Ham – cold\n3 lb salt\n1 gal water\n", "mac_roman"),
        ("crème fraîche\n", "cp1252"),
        ("crème fraîche\n", "mac_roman"),
    ],
)
def test_short_pages_of_the_old_sets_are_told_apart_by_their_kitchen_marks(text: str, encoding: str) -> None:
    assert decode(text.encode(encoding)) == text


def test_bytes_without_a_zero_can_be_binary_too() -> None:
    assert decode(bytes(range(1, 256)) * 4) == NoText("a binary file, not text")


def test_a_few_stray_controls_do_not_make_a_page_binary() -> None:
    text = "\x1b[31mBrine\x1b[0m\x07\x0c\n1 lb salt\n"
    assert decode(text.encode()) == text


RECIPE_FILE = Unreadable("a recipe file (format: overhaul/1), whose fields count and not its words")


@pytest.mark.parametrize(
    ("data", "name", "found"),
    [
        (b"format: overhaul/1\ntitle: x\n", "x.yaml", RECIPE_FILE),
        (b"# ours\n---\n'format': overhaul/1\n", "x.yml", RECIPE_FILE),
        (b'{\n "format": "overhaul/1"\n}', "x.json", RECIPE_FILE),
        (b"format: overhaul/1\n", "-", RECIPE_FILE),
        (b"a: !!python/object:os.system x\n", "x.yaml", Unreadable("a .yaml file without “format: overhaul/1” in it: not a recipe file")),
        (b"%PDF-1.7\n", "x.PDF", Unreadable("a PDF that is damaged (Stream has ended unexpectedly); open it where it was made and save it again")),
        (b"\xd0\xcf\x11\xe0", "x.doc", Unreadable("there is no reader for .doc files; save the page as .docx or plain text and give that")),
    ],
)
def test_what_is_no_cooks_page_is_answered_with_a_reason(data: bytes, name: str, found: Unreadable) -> None:
    assert documents.read(data, name) == found


def test_a_line_without_end_is_refused_with_its_number() -> None:
    whole = "x " * (documents.LONGEST_LINE // 2)
    assert isinstance(documents.read(f"Brine\n{whole}\n".encode(), "x.txt"), Page)
    assert documents.read(f"Brine\n{whole}y\n".encode(), "x.txt") == Unreadable("line 2 is 200,001 characters long; a line of more than 200,000 is not read")


def test_a_page_without_a_suffix_is_read_as_text() -> None:
    assert isinstance(documents.read(b"1 lb salt\n", "corned"), Page)


def test_a_text_of_more_characters_than_a_book_has_is_refused() -> None:
    line = "Stir the salt into the cold water.\n"
    whole = line * (4_000_000 // len(line))
    assert isinstance(documents.read(whole.encode(), "x.txt"), Page)
    assert documents.read((whole + line).encode(), "x.txt") == Unreadable("more than 4,000,000 characters of text; a recipe of that length is not read")


@pytest.mark.parametrize(("unit", "what", "most"), [("a\n", "lines", 25_000), ("1/", "figures", 25_000)])
def test_a_page_of_hardly_anything_but_lines_or_figures_is_refused(unit: str, what: str, most: int) -> None:
    whole = unit * most
    assert isinstance(documents.read(whole.encode(), "x.txt"), Page)
    assert documents.read((whole + unit * 1_000).encode(), "x.txt") == Unreadable(f"26,000 {what} in 52,000 characters; no recipe is so crowded, and it is not read")
