"""A recipe in the words of schema.org (schema.org/Recipe, version 30.0), as JSON-LD.

The page stands whole in ``text``, so that it is read back to the letter (documents/jsonld.py). Roles, phases, the process and the sums
have no place there. An ISO 8601 duration has no range: only a time of one figure is told, the rest stands in the words of its step.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

from overhaul.output.tree import number
from overhaul.reading import units
from overhaul.recipe.model import Amount, Ingredient, Measured, Recipe, Step

Data = dict[str, Any]
_PERIODS = (("D", 86_400), ("H", 3_600), ("M", 60), ("S", 1))
CONTEXT = "https://schema.org"


@cache
def unit_codes() -> dict[str, str]:
    """UN/CEFACT codes (Recommendation 20) by our units. Units without one are told in words."""
    rows = files("overhaul.output").joinpath("unit_codes.tsv").read_text("utf-8").splitlines()[1:]
    return {unit: code for unit, code, _ in (row.split("\t") for row in rows)}


def recipes_tree(recipes: list[Recipe]) -> Data:
    """One recipe, or a graph of several."""
    if len(recipes) == 1:
        return {"@context": CONTEXT, **recipe_tree(recipes[0])}
    return {"@context": CONTEXT, "@graph": [recipe_tree(recipe) for recipe in recipes]}


def recipe_tree(recipe: Recipe) -> Data:
    """One recipe as a node."""
    yields = recipe.yields
    tree: Data = {
        "@type": "Recipe",
        "name": recipe.title,
        "recipeCategory": recipe.product,
        "isBasedOn": {"@type": "CreativeWork", "name": recipe.page.name},
        "recipeYield": None if yields is None else _quantity(float(yields.low), float(yields.high), yields.unit),
        "recipeIngredient": [_words(item.text) for item in recipe.ingredients if not item.in_method],
        "hasPart": [{"@type": "Recipe", "name": part.name, "recipeIngredient": [_words(item.text) for item in part.ingredients]} for part in recipe.sections if part.name and part.ingredients],
        "supply": [_supply(item) for item in recipe.ingredients if item.mass is not None],
        "tool": _tools(recipe),
        "recipeInstructions": [_step(step, place) for place, step in enumerate(recipe.steps, 1)],
        "comment": [{"@type": "Comment", "text": note.text} for note in recipe.notes],
        "text": "".join(f"{line.text}\n" for line in recipe.lines),  # ends with a line feed: pages of several follow each other
    }
    return _full(tree)


def _full(tree: Data) -> Data:
    return {key: value for key, value in tree.items() if value is not None and value != []}


def _words(text: str) -> str:
    return " ".join(text.splitlines())


def _quantity(low: float, high: float, unit: str) -> Data:
    amount = {"value": number(low)} if low == high else {"minValue": number(low), "maxValue": number(high)}
    code = unit_codes().get(unit)
    return {"@type": "QuantitativeValue", **amount, **({"unitCode": code} if code is not None else {}), "unitText": unit.replace("_", " ")}


def _supply(item: Ingredient) -> Data:
    """What to have ready, by weight."""
    assert item.mass is not None
    return {"@type": "HowToSupply", "name": item.name or item.role, "requiredQuantity": _quantity(item.mass.low, item.mass.high, "gram")}


def _tools(recipe: Recipe) -> list[Data]:
    tub = recipe.process.tub
    if tub is None:
        return []
    return [{"@type": "HowToTool", "name": f"{recipe.process.tub_material or ''} tub".strip(), "requiredQuantity": _quantity(tub.low, tub.high, "litre")}]


def _step(step: Step, place: int) -> Data:
    """A step; its time and its temperatures stand beside its words."""
    times = [duration(measured.amount) for measured in step.times]
    direction = _full({"@type": "HowToDirection", "text": _words(step.text), "performTime": times[0] if len(times) == 1 else None})
    tips = [{"@type": "HowToTip", "text": tip} for tip in map(_limit, step.temperatures)]
    if "performTime" not in direction and not tips:
        return {"@type": "HowToStep", "position": place, "text": _words(step.text)}
    return {"@type": "HowToStep", "position": place, "text": _words(step.text), "itemListElement": [direction, *tips]}


def _limit(measured: Measured) -> str:
    amount = measured.amount
    span = f"{number(amount.low)}" if amount.low == amount.high else f"{number(amount.low)} to {number(amount.high)}"
    return f"{span} {amount.unit.replace('deg', '°').replace('_', ' ')}{f' ({measured.of})' if measured.of else ''}"


def duration(amount: Amount) -> str | None:
    """ISO 8601, for a time of one figure that is told in units of a fixed length."""
    if amount.low != amount.high or amount.low < 0 or amount.unit not in ("second", "minute", "hour", "day", "week"):
        return None
    left = round(units.factor(amount.unit) * amount.low * 3_600)
    said = ""
    for letter, seconds in _PERIODS:
        count, left = divmod(left, seconds)
        if count:
            said += ("T" if letter != "D" and "T" not in said else "") + f"{count}{letter}"
    return f"P{said}" if said else "PT0S"
