"""The recipe file, as YAML or as JSON."""

from __future__ import annotations

from typing import Any

from overhaul.output.clean import as_json
from overhaul.output.tree import recipe_tree
from overhaul.recipe.model import Recipe
from overhaul.sums.work import Sums


def render(recipes: list[tuple[Recipe, Sums]], to: str, raw: bytes) -> str:
    """``recipes`` in the form ``to`` (yaml or json): a stream of documents, or a list, when there are several."""
    trees = [_tree(recipe, sums, raw) for recipe, sums in recipes]
    if to == "json":
        return as_json(trees[0] if len(trees) == 1 else trees)
    from overhaul import yaml_text

    return yaml_text.dump(trees)


def _tree(recipe: Recipe, sums: Sums, raw: bytes) -> dict[str, Any]:
    ways = [Sums(way, sums.house).all() for way in recipe.ways]
    return recipe_tree(recipe, sums.all(), raw, ways)
