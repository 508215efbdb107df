"""A recipe with one of its figures changed, so that its sums can be worked again."""

from __future__ import annotations

from msgspec.structs import replace

from overhaul.recipe.model import Fact, Ingredient, Recipe, Section
from overhaul.span import exactly


def with_ingredient(recipe: Recipe, old: Ingredient, *new: Ingredient) -> Recipe:
    """``recipe`` with one ingredient changed, taken out or joined by others."""
    sections = (
        replace(section, ingredients=tuple(one for item in section.ingredients for one in (new if item is old else (item,))))
        for section in recipe.sections
    )
    return replace(recipe, sections=tuple(sections))


def weighed(item: Ingredient, gram: float) -> Ingredient:
    """``item`` by this weight."""
    return replace(item, mass=exactly(gram), weighed=True)


def with_weights(recipe: Recipe, *grams: tuple[Ingredient, float]) -> Recipe:
    """``recipe`` with several ingredients at other weights; those of nothing are taken out."""
    for item, gram in grams:
        recipe = with_ingredient(recipe, item, *([weighed(item, gram)] if gram > 0 else []))
    return recipe


def with_meat(recipe: Recipe, gram: float) -> Recipe:
    """``recipe`` with so much of its meat."""
    meat = recipe.process.meat
    if meat is None:
        return recipe
    return replace(recipe, process=replace(recipe.process, meat=replace(meat, mass=exactly(gram), mass_stated=True)))


def rub_alone(recipe: Recipe) -> Recipe:
    """``recipe`` cured with nothing but what goes on dry."""
    sections = tuple(replace(section, rubbed=False) for section in recipe.sections if section.rubbed or section.use != "cure" or _of_meat(section))
    process, cure = recipe.process, recipe.process.cure
    dry = replace(cure, method="dry") if cure is not None else None
    return replace(recipe, sections=sections, process=replace(process, cure=dry, pump=None))


def _of_meat(section: Section) -> bool:
    return all(item.role == "meat" for item in section.ingredients)


def with_days(recipe: Recipe, days: float) -> Recipe:
    """``recipe`` with so many days in the cure."""
    stay = recipe.process.cure_time
    place, line = (stay.place, stay.line) if stay is not None else (recipe.title_place, 1)
    return replace(recipe, process=replace(recipe.process, cure_time=Fact(days, days, "day", line, place)))
