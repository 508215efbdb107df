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
        (codecs.BOM_UTF16_LE + b"a", "begins as UTF-16-LE but breaks off at byte 2"),
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
    assert found == Unreadable("20,000,001 bytes; a recipe of more than 20,000,000 is not read")


def test_a_converted_recipe_is_not_read_as_a_cooks_page() -> None:
    found = documents.read(b"format: overhaul/1\ntitle: x\n", "x.yaml")
    assert found == Unreadable("a converted recipe file; reading these back is not built yet")
