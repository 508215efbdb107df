"""What of the recipe stands under the cursor."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from overhaul.editor.looking import Looked
from overhaul.recipe.model import Cooling, CureRate, Fact, Ingredient, Recipe, Step, Storage
from overhaul.text import Place
from overhaul.yaml_text import Node

Told = Fact | CureRate | Cooling | Storage


class Under(Struct, frozen=True):
    """An ingredient, a step, or the head of a recipe (neither); ``facts`` are those of the process that stand right there, by name."""

    recipe: Recipe
    place: Place  # in the text of the editor
    item: Ingredient | None = None
    step: Step | None = None
    facts: tuple[tuple[str, Told], ...] = ()


def under(looked: Looked, offset: int) -> Under | None:
    """What stands at ``offset`` of the editor's text, or None."""
    return _in_file(looked, offset) if looked.backs else _on_page(looked, offset)


def _on_page(looked: Looked, offset: int) -> Under | None:
    line = looked.page.line_at(offset)
    recipe = next((one for one in looked.recipes if one.first_line <= line <= one.last_line), None)
    if recipe is None:
        return None
    way = _way(recipe, line)
    facts = tuple(_facts(way, offset))
    item = next((one for one in recipe.ingredients if one.place.start <= offset <= one.place.end and not one.in_method), None)
    if item is not None:
        return Under(way, item.place, item=item, facts=facts)
    step = next((one for one in recipe.steps if one.place.start <= offset <= one.place.end), None)
    taken = next((one for one in recipe.ingredients if one.in_method and _covers(one, offset)), None)
    if taken is not None or step is not None:
        return Under(way, _its_place(taken) if taken is not None else step.place if step is not None else Place(0, 0), item=taken, step=step, facts=facts)
    if recipe.title_place.start <= offset <= recipe.title_place.end:
        return Under(way, recipe.title_place)
    return None


def _way(recipe: Recipe, line: int) -> Recipe:
    """The way of finishing it that ``line`` belongs to, else the first; the recipe itself where there is one only."""
    for branch, way in zip(recipe.branches, recipe.ways, strict=False):
        if line in branch.lines:
            return way
    return recipe.ways[0] if recipe.ways else recipe


def _covers(item: Ingredient, offset: int) -> bool:
    place = _its_place(item)
    return place.start <= offset <= place.end


def _its_place(item: Ingredient) -> Place:
    """From its amount to its name; of what only the method names, the words there."""
    return item.name_place if item.amount is None else item.amount.place.to(item.name_place)


def _facts(recipe: Recipe, offset: int | None = None, name: str | None = None) -> Iterator[tuple[str, Told]]:
    for key in recipe.process.__struct_fields__:
        told = getattr(recipe.process, key)
        for one in told if isinstance(told, tuple) else (told,):
            if isinstance(one, Told) and (key == name if offset is None else one.place.start <= offset <= one.place.end):
                yield key, one


def _in_file(looked: Looked, offset: int) -> Under | None:
    for back in looked.backs:
        if not back.node.start <= offset <= back.node.end:
            continue
        recipe = back.recipe
        found = _smallest([*back.items, *back.steps], offset)
        if found is not None:
            node, one = found
            way = _way(recipe, one.line)
            place = Place(node.start, node.end)
            if isinstance(one, Ingredient):
                return Under(way, place, item=one)
            return Under(way, place, step=one)
        process = back.node.at("process")
        for key, node in process.value.items() if process is not None and isinstance(process.value, dict) else ():
            start = process.keys[key][0] if process is not None else node.start
            if start <= offset <= node.end and (facts := tuple(_facts(recipe, name=key))):
                return Under(_way(recipe, -1), Place(start, node.end), facts=facts)
        title = back.node.keys.get("title")
        inner = back.node.at("title")
        if title is not None and inner is not None and title[0] <= offset <= inner.end:
            return Under(_way(recipe, -1), Place(title[0], inner.end))
    return None


def _smallest(pairs: list[tuple[Node, Ingredient] | tuple[Node, Step]], offset: int) -> tuple[Node, Ingredient | Step] | None:
    here = [(node, one) for node, one in pairs if node.start <= offset <= node.end]
    return min(here, key=lambda pair: pair[0].end - pair[0].start) if here else None
