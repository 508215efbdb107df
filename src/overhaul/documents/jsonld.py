"""JSON-LD (.jsonld): a recipe in the words of schema.org, as web pages tell it to machines.

Where it also tells the page itself in ``text`` and every ingredient stands there, the lines are those of the page, to the letter.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from overhaul.documents.decode import decode
from overhaul.documents.lines import DEEPEST, MOST_CHARACTERS
from overhaul.documents.outcome import Text, Unreadable
from overhaul.documents.web import read as read_web_page

_ASIDE = "HowToTip"
# Characters, the page once for each thing told: of a hundred thousand things on a page of a megabyte it would take minutes.
_MOST_LOOKED_THROUGH = 500_000_000
_NO_RECIPE = "JSON without a schema.org Recipe in it; nothing to read"


def read(data: bytes) -> Text | Unreadable:
    """The text of the recipes in ``data``."""
    text = decode(data)
    if not isinstance(text, str):
        return Unreadable(text.reason)
    if len(text) > MOST_CHARACTERS:  # of nothing but brackets it would take a hundred times its length
        return Unreadable(f"more than {MOST_CHARACTERS:,} characters; a recipe of that length is not read")
    try:
        told = json.loads(text)
    except json.JSONDecodeError as problem:
        return Unreadable(f"line {problem.lineno}: not JSON: {problem.msg[:1].lower()}{problem.msg[1:]}")
    except (RecursionError, ValueError):
        return Unreadable("not JSON that is read here: nested too deep, or a number without end")
    recipes = list(_recipes(told, 0))
    if not recipes:
        return Unreadable(_NO_RECIPE)
    pages = [_page(recipe) for recipe in recipes]
    if all(page is not None for page in pages):
        return Text("".join(page for page in pages if page is not None))
    return read_web_page(b'<html><body><script type="application/ld+json">' + json.dumps(_without_asides(told)).replace("<", "\\u003c").encode() + b"</script></body></html>")


def _recipes(told: Any, depth: int) -> Iterator[dict[str, Any]]:
    if depth > DEEPEST:
        return
    if isinstance(told, list):
        for each in told:
            yield from _recipes(each, depth + 1)
    elif isinstance(told, dict):
        kinds = told.get("@type")
        if kinds == "Recipe" or (isinstance(kinds, list) and "Recipe" in kinds):
            yield told
        else:
            yield from _recipes(told.get("@graph"), depth + 1)


def _page(recipe: dict[str, Any]) -> str | None:
    """The page as the recipe tells it; None where it tells none, or an ingredient or step that is not on it."""
    page = recipe.get("text")
    if not isinstance(page, str) or not page.strip():
        return None
    flat = " ".join(page.split())
    told = {" ".join(words.split()) for key in ("recipeIngredient", "recipeInstructions") for words in _words(recipe.get(key), 0)}
    if len(told) * len(flat) > _MOST_LOOKED_THROUGH:
        return None
    return page if all(words in flat for words in told) else None


def _words(told: Any, depth: int) -> Iterator[str]:
    if depth > DEEPEST:
        return
    if isinstance(told, str):
        yield told
    elif isinstance(told, list):
        for each in told:
            yield from _words(each, depth + 1)
    elif isinstance(told, dict):
        for key in ("text", "itemListElement") if told.get("@type") != _ASIDE else ():
            yield from _words(told.get(key), depth + 1)


def _without_asides(told: Any, depth: int = 0) -> Any:
    """What is told without hints: they say a step's figures again, and would be read as steps."""
    if isinstance(told, list):
        return [_without_asides(each, depth + 1) for each in told if not (isinstance(each, dict) and each.get("@type") == _ASIDE)]
    if isinstance(told, dict) and depth < DEEPEST:
        return {key: _without_asides(value, depth + 1) for key, value in told.items()}
    return told
