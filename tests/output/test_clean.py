from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.output.clean import as_json, clean, shown, wrapped

ODD = ["\x1b", "\x07", "\x00", "\x7f", "\x9b", "\u202e", "\u2066", "\u200f", "\u061c", "\u2028", "\ufeff", "\U000e0041", "\ud800"]


@pytest.mark.parametrize("odd", ODD, ids=ascii)
def test_what_could_harm_a_terminal_is_shown_as_a_stand_in(odd: str) -> None:
    assert clean(f"salt{odd}]0;x") == "salt\ufffd]0;x"


@given(st.text(st.characters(), max_size=80))
def test_clean_text_keeps_its_length_so_that_marks_still_stand_beneath(text: str) -> None:
    assert len(clean(text)) == len(text)


@pytest.mark.parametrize(("text", "harmless"), [("a\x1b[2Jb\r\n\tc\n", "a\ufffd[2Jb\r\n\tc\n"), ("a\u202eb\x0cc\u200bd", "a\ufffdb\x0cc\u200bd"), ("a\rb\x85c\u2028d", "a\nb\nc\nd"), ("½ lb\u200d盐\n\n", "½ lb\u200d盐\n\n")])
def test_a_text_of_many_lines_keeps_all_but_what_acts(text: str, harmless: str) -> None:
    assert shown(text) == harmless


def test_kitchen_writing_is_left_alone() -> None:
    text = "½ lb\u00a0salt – 38 °F “cold” crème 盐 مِلح"
    assert clean(text) == text


@given(st.recursive(st.text(st.characters(), max_size=20), lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)))
def test_json_loses_nothing(tree: Any) -> None:
    assert json.loads(as_json(tree)) == tree


@pytest.mark.parametrize("odd", ODD, ids=ascii)
def test_json_shows_nothing_harmful_either(odd: str) -> None:
    assert odd not in as_json({"text": odd})


@pytest.mark.parametrize("width", [30, 40, 100])
def test_folded_lines_fit(width: int) -> None:
    assert all(len(line) <= width for line in wrapped("a fact with its numbers, then the limit, then the remedy " * 5, width, "    ").splitlines())
