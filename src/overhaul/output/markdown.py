"""A page in Markdown that a cook would accept and that reads back to the same recipe.

The words of every line stay to the letter; only marks are put before them: a title, headings, bullets, numbers. What is written is
read again, and where the marks would change the reading, fewer are put; with none the lines are those of the page.
"""

from __future__ import annotations

import re
from typing import Any

from overhaul.house import House
from overhaul.output.tree import recipe_tree
from overhaul.recipe import read_page
from overhaul.recipe.model import ReadLine, Recipe
from overhaul.text import Page

# What may be marked, from all to nothing.
_MARKS = (("title", "heading", "ingredient", "step"), ("title", "heading", "ingredient"), ("title", "heading"), ("heading", "ingredient"), ("title",), ())
_PLACES = frozenset(["line", "end_line", "column", "lines", "source"])
_MARKED = re.compile(r"\s*(?:[-*•·–—+>#|]|\(?\d{1,2}[.)]\s|\(?[a-z][.)]\s|step\b)", re.I)


def page(recipes: list[Recipe], text: str, house: House) -> str:
    """The page of ``recipes``, whose ``text`` it keeps to the letter."""
    wanted = [_said(recipe) for recipe in read_page(Page(text, recipes[0].page.name), house)]
    lines = [line for recipe in recipes for line in recipe.lines]
    for marks in _MARKS[:-1]:
        made = _marked(lines, frozenset(marks))
        if [_said(recipe) for recipe in read_page(Page(made, recipes[0].page.name), house)] == wanted:
            return made
    return text


def _said(recipe: Recipe) -> Any:
    return _without_places(recipe_tree(recipe, {}))


def _without_places(tree: Any) -> Any:
    """The recipe without where its lines stand, which marks and blank lines move."""
    if isinstance(tree, dict):
        if isinstance(tree.get("steps"), list) and "name" in tree:  # a way of finishing: its steps are numbers of lines
            tree = {key: value for key, value in tree.items() if key != "steps"}
        return {key: " ".join(inner.replace("#", " ").split()) if key == "title" and isinstance(inner, str) else _without_places(inner) for key, inner in tree.items() if key not in _PLACES}
    return [_without_places(inner) for inner in tree] if isinstance(tree, list) else tree


def _marked(lines: list[ReadLine], marks: frozenset[str]) -> str:
    written: list[str] = []
    before = "blank"
    for line in lines:
        bare = line.text.strip()
        if not bare:
            written += [line.text] if before != "blank" else []
            before = "blank"
            continue
        if before not in (line.kind, "blank") and {line.kind, before} & marks:
            written.append("")
        written.append(_line(line, bare, marks))
        before = line.kind
    return "".join(f"{line}\n" for line in written)


def _line(line: ReadLine, bare: str, marks: frozenset[str]) -> str:
    if line.kind not in marks or _MARKED.match(bare) or line.text[:1] in " \t":
        return line.text
    return {"title": "# ", "heading": "## ", "ingredient": "- ", "step": ""}[line.kind] + bare
