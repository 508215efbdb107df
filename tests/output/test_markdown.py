"""Markdown: marks before the lines, the words to the letter, and the same recipe when it is read again."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings

from overhaul.house import House
from overhaul.output import markdown
from overhaul.recipe import read_page
from overhaul.text import Page
from tests.recipe_file.made import PAGE, PAGES, page_of, written
from tests.recipe_file.test_round_trip import pages


def test_a_page_as_a_cook_would_have_it() -> None:
    assert written(PAGE, "markdown") == (
        "# Loin in the bag\n\n- 3 lb pork loin, 2 in thick\n- 1 1/4 oz kosher salt\n- 3.4 g cure #1 (6.25 % nitrite)\n\n"
        "Rub it all on and bag it. Refrigerate at 38 F for 9 days, turning daily.\nRinse. Smoke at 200 F until 150 F inside.\nKeeps 5 days at 38 F.\n"
    )


def reads_the_same(text: str) -> None:
    made = written(text, "markdown")
    old, new = (read_page(Page(words, "page.txt"), House()) for words in (text, made))
    assert [markdown._said(recipe) for recipe in old] == [markdown._said(recipe) for recipe in new]
    words = [line.strip() for line in made.splitlines() if line.strip()]
    for line in text.splitlines():
        assert not line.strip() or any(word.endswith(line.strip()) for word in words), line


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_every_page_of_the_corpus_reads_back_to_the_same_recipe(path: Path) -> None:
    reads_the_same(page_of(path))


@settings(max_examples=40)
@given(pages())
def test_any_page_reads_back_to_the_same_recipe(text: str) -> None:
    reads_the_same(text)
