"""What is written as YAML is read back the same, by an ordinary YAML 1.2 reader."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from overhaul import yaml_text

SCALARS = st.none() | st.booleans() | st.integers(-(10**9), 10**9) | st.floats(allow_nan=False, allow_infinity=False, width=32) | st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
TREES = st.dictionaries(
    st.sampled_from(["title", "text", "lines", "amount", "unit", "of"]),
    st.recursive(SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["text", "low", "unit"]), inner, max_size=3), max_leaves=8),
    min_size=1,
)


def read_back(text: str) -> list[Any]:
    return list(YAML(typ="safe", pure=True).load_all(text))


@given(st.lists(TREES, min_size=1, max_size=3))
def test_any_tree_comes_back(trees: list[dict[str, Any]]) -> None:
    assert read_back(yaml_text.dump(trees)) == trees


@pytest.mark.parametrize("text", ["yes", "1:30", "2024-01-01", "~", "- 1", "a: b", "# x", "* 2 lb", "  indented", "end ", "\x1b[31m", "½ lb\u00a0– “x”", "x" * 9000, "two words " * 900, "5\t6", "\u2028", "a\u202e\u2066b: c", "a\x85b", "12e3", "?0", ":3", "-", "--- x", "...", "0x1f", "%"])
def test_what_cooks_write_is_kept_to_the_letter(text: str) -> None:
    tree = {"lines": [{"line": 1, "text": text}], "title": text, "assumed": [text, text]}
    assert read_back(yaml_text.dump([tree])) == [tree]


def test_small_things_stand_on_one_line_in_their_order() -> None:
    tree = {"title": "Ham", "steps": [{"line": 2, "times": [{"low": 7, "high": 10, "unit": "day"}]}]}
    assert yaml_text.dump([tree]) == "title: Ham\nsteps:\n- line: 2\n  times:\n  - {low: 7, high: 10, unit: day}\n"


def test_marks_that_turn_the_direction_are_escapes() -> None:
    assert yaml_text.dump([{"title": "Ham \u202emaH"}]) == 'title: "Ham \\u202emaH"\n'
