"""The recipe in other forms: the recipe file as YAML or JSON, schema.org's words as JSON-LD, a page in Markdown."""

from __future__ import annotations

from typing import Any

from overhaul.output.clean import as_json
from overhaul.output.tree import recipe_tree
from overhaul.recipe.model import Recipe
from overhaul.sums.work import Sums
from overhaul.text import Page


def render(recipes: list[tuple[Recipe, Sums]], to: str, raw: bytes, page: Page | None = None) -> str:
    """``recipes`` in the form ``to`` (yaml, json, jsonld, markdown): a stream of documents, or a list, when there are several."""
    if to == "jsonld":
        from overhaul.output import jsonld

        return as_json(jsonld.recipes_tree([recipe for recipe, _ in recipes])).replace("<", "\\u003c")  # so that it can stand in a web page
    if to == "markdown":
        from overhaul.output import markdown

        return markdown.page([recipe for recipe, _ in recipes], (page or recipes[0][0].page).text, recipes[0][1].house)
    trees = [_tree(recipe, sums, raw) for recipe, sums in recipes]
    if to == "json":
        return as_json(trees[0] if len(trees) == 1 else trees)
    from overhaul import yaml_text

    return yaml_text.dump(trees)


def _tree(recipe: Recipe, sums: Sums, raw: bytes) -> dict[str, Any]:
    ways = [Sums(way, sums.house).all() for way in recipe.ways]
    return recipe_tree(recipe, sums.all(), raw, ways)
