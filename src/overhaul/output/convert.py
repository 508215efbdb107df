"""The recipe file, as YAML or as JSON."""

from __future__ import annotations

import json

from overhaul import yaml_text
from overhaul.output.tree import recipe_tree
from overhaul.recipe.model import Recipe
from overhaul.sums.work import Sums


def render(recipes: list[tuple[Recipe, Sums]], to: str, raw: bytes) -> str:
    """``recipes`` in the form ``to`` (yaml or json): a stream of documents, or a list, when there are several."""
    trees = [recipe_tree(recipe, sums.all(), raw) for recipe, sums in recipes]
    if to == "json":
        return json.dumps(trees[0] if len(trees) == 1 else trees, ensure_ascii=False, indent=1) + "\n"
    return yaml_text.dump(trees)
