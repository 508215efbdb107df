"""The tables that are written down are those that lark works out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.reading import line_parser, tree
from tests.conftest import CORPUS
from tests.reading.test_tree import SOUP


@pytest.fixture(scope="module")
def worked_out() -> Any:
    """A parser for which lark works the tables out."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(line_parser, "_written", lambda: None)
        return line_parser.parser(tree._Builders())


def test_the_written_tables_are_of_this_grammar_and_this_lark() -> None:
    """After an edit of the grammar, of a spelling or of lark: python -m overhaul.reading.line_parser"""
    assert line_parser._written() is not None


@given(text=st.one_of(st.text(), SOUP))
def test_both_parsers_give_the_same(worked_out: Any, text: str) -> None:
    assert tree._parser().parse(text) == worked_out.parse(text)


@pytest.mark.parametrize("path", sorted(CORPUS.rglob("*.txt")), ids=lambda path: path.name)
def test_both_parsers_give_the_same_of_the_corpus(worked_out: Any, path: Path) -> None:
    for line in path.read_text("utf-8").splitlines():
        assert tree._parser().parse(line) == worked_out.parse(line)


def test_tables_of_another_grammar_are_worked_out_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(line_parser, "_heading", lambda: "lark 0 on another")
    assert line_parser._written() is None
    assert [str(token) for token in line_parser.parser(tree._Builders()).parse("salt 2 lb")][:1] == ["salt "]


def test_what_is_written_down_is_read_again(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    line_parser.write_tables(tmp_path / "tables.json")
    heading = line_parser._heading()
    monkeypatch.setattr(line_parser, "_heading", lambda: heading)
    monkeypatch.setattr(line_parser, "files", lambda _package: tmp_path)
    assert line_parser._written() is not None
    assert line_parser.parser(tree._Builders()).parse("2 lb salt, 1.5 kg sugar") == tree._parser().parse("2 lb salt, 1.5 kg sugar")
