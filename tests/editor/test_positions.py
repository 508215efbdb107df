"""Places and an editor's positions are one another's inverse, in each encoding, for any text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lsprotocol import types

from overhaul.editor.positions import Positions
from overhaul.text import Page, Place

ENCODINGS = ("utf-8", "utf-16", "utf-32")
TEXTS = st.text(st.sampled_from("a1é\u0301🧂\u200d\ufeff\u2028\x0b\t\r\n\0"), max_size=40)


@given(TEXTS, st.sampled_from(ENCODINGS))
def test_every_place_comes_back(text: str, encoding: str) -> None:
    positions = Positions(Page(text), encoding)
    for offset in range(len(text) + 1):
        if text[offset - 1 : offset + 1] != "\r\n":  # between the two there is no position
            assert positions.offset(positions.position(offset)) == offset


@given(TEXTS, st.sampled_from(ENCODINGS))
def test_positions_are_those_of_the_standard(text: str, encoding: str) -> None:
    """Lines end at \\n, \\r\\n and \\r and nowhere else; characters are units of the encoding."""
    width = {"utf-8": 1, "utf-16": 2, "utf-32": 4}[encoding]
    name = encoding if encoding == "utf-8" else f"{encoding}-le"
    positions = Positions(Page(text), encoding)
    for offset in range(len(text) + 1):
        if text[offset - 1 : offset + 1] != "\r\n":
            lines = text[:offset].replace("\r\n", "\n").replace("\r", "\n").split("\n")
            assert positions.position(offset) == types.Position(len(lines) - 1, len(lines[-1].encode(name)) // width)


@given(TEXTS, st.integers(0, 50), st.integers(0, 50), st.sampled_from(ENCODINGS))
def test_a_position_off_the_page_is_on_it(text: str, line: int, character: int, encoding: str) -> None:
    assert 0 <= Positions(Page(text), encoding).offset(types.Position(line, character)) <= len(text)


@pytest.mark.parametrize(("encoding", "character"), [("utf-8", 9), ("utf-16", 5), ("utf-32", 3)])
def test_a_figure_behind_two_emoji(encoding: str, character: int) -> None:
    positions = Positions(Page("x\n🧂🧂 2 lb salt\n"), encoding)
    assert positions.range(Place(5, 9)) == types.Range(types.Position(1, character), types.Position(1, character + 4))
    assert positions.offset(types.Position(1, 1)) == (3 if encoding == "utf-32" else 2)  # else inside the first
    assert positions.place(types.Range(types.Position(1, character + 4), types.Position(1, character))) == Place(5, 9)
