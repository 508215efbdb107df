"""A corned beef told up to some point, so that one more line of method can be read where it would stand."""

from __future__ import annotations

from overhaul.recipe.model import Recipe
from tests.conftest import recipe_of
from tests.recipe.reading import facts, ingredient, steps

LIST = "Corned beef\n\n1 brisket flat, 6 lb, 2 in thick\n1 gal water\n1 lb kosher salt\n1 oz cure #1\n\nMethod\n"
_SO_FAR = {
    "new": "",
    "brine": "Boil the water and salt. Chill to 38 F. ",
    "in": "Put the beef in. ",
    "cured": "Put the beef in the brine. Refrigerate 7 days. ",
    "rinsed": "Rinse. ",
    "cooked": "Simmer 3 hours to 195 F. ",
}
_WAY = {"new": (), "brine": ("brine",), "in": ("brine", "in"), "cured": ("brine", "cured"), "rinsed": ("brine", "cured", "rinsed"), "cooked": ("brine", "cured", "rinsed", "cooked")}


def told(so_far: str, text: str) -> tuple[Recipe, Recipe]:
    """The recipe with ``text`` as its next line, and the one without it."""
    before = LIST + "".join(_SO_FAR[part] for part in _WAY[so_far]) + "\n"
    return recipe_of(f"{before}{text}\n"), recipe_of(before)


def read(so_far: str, text: str) -> tuple[list[str], dict[str, str], list[str]]:
    """The steps that ``text`` adds, the facts, and the ingredients."""
    recipe, before = told(so_far, text)
    return steps(recipe, len(before.steps)), facts(recipe, before), [ingredient(item) for item in recipe.ingredients if item.in_method]
