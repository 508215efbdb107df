"""What a sum would be if one of its open inputs were settled: how ``Sums.widest`` finds what makes it wide."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from overhaul import facts
from overhaul.recipe.model import CURING_SALTS, Fact, Recipe, Strength
from overhaul.span import exactly
from overhaul.sums.changed import with_ingredient
from overhaul.sums.of_cure import shares
from overhaul.sums.work import FIGURE_WORDS
from overhaul.sums.worked import Input

if TYPE_CHECKING:
    from overhaul.sums.work import Sums

_TOLD = (("cure_time", "days"), ("pump", "pumped in"), ("soak", "hours of soaking"), ("cook_time", "hours of cooking"))


def one_settled(sums: Sums) -> Iterator[tuple[Input, Recipe, frozenset[str]]]:
    """Each open input of the sums, and the recipe (or the figure of ``facts``) with that one input at its likely value."""
    recipe = sums.recipe
    none: frozenset[str] = frozenset()
    for one, changed in (*_ingredients(sums), *_meat(recipe), *_times(recipe)):
        yield one, changed, none
    for name, words in FIGURE_WORDS.items():
        fact = facts.fact(name)
        yield Input(words, fact.span, fact.unit, None, False, fact.source), recipe, frozenset([name])


def _ingredients(sums: Sums) -> Iterator[tuple[Input, Recipe]]:
    """The grams of each thing in the cure, and what is in its curing salt."""
    recipe = sums.recipe
    for item in recipe.ingredients:
        if item.use != "cure":
            continue
        if item.mass is not None and not item.mass.exact:
            one = Input(item.name or item.role, item.mass, "gram", item.line, item.weighed)
            yield one, with_ingredient(recipe, item, replace(item, mass=exactly(item.mass.likely)))
        if item.role not in CURING_SALTS:
            continue
        held = shares(sums, item)
        for agent, share in held.items():
            if not share.exact:
                known = {**held, agent: exactly(share.likely)}
                strength = Strength(known.get("nitrite"), known.get("nitrate"), item.place)
                told = item.strength is not None
                one = Input(f"{agent} in it", share, "percent", item.line if told else None, told)
                yield one, with_ingredient(recipe, item, replace(item, strength=strength))


def _meat(recipe: Recipe) -> Iterator[tuple[Input, Recipe]]:
    """The meat's weight and thickness."""
    process = recipe.process
    meat = process.meat
    if meat is None:
        return
    if meat.mass is not None and not meat.mass.exact:
        settled = replace(meat, mass=exactly(meat.mass.likely))
        yield Input(meat.name, meat.mass, "gram", meat.line, meat.mass_stated), replace(recipe, process=replace(process, meat=settled))
    if meat.thickness is not None and not meat.thickness.exact:
        settled = replace(meat, thickness=exactly(meat.thickness.likely))
        one = Input("thickness", meat.thickness, "millimetre", meat.line, meat.thickness_stated)
        yield one, replace(recipe, process=replace(process, meat=settled))


def _times(recipe: Recipe) -> Iterator[tuple[Input, Recipe]]:
    """Days, hours and the pumped share, where the page gives a range."""
    for name, words in _TOLD:
        told: Fact | None = getattr(recipe.process, name)
        if told is not None and told.low != told.high:
            middle = told.span.likely
            changed: dict[str, Any] = {name: replace(told, low=middle, high=middle)}
            yield Input(words, told.span, told.unit, told.line), replace(recipe, process=replace(recipe.process, **changed))
