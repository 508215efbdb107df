"""The outline of a text: each recipe with its sections and its steps."""

from __future__ import annotations

from lsprotocol import types

from overhaul.editor.looking import Looked
from overhaul.editor.positions import Positions
from overhaul.output.clean import clean
from overhaul.recipe.model import Recipe
from overhaul.recipe_file.back import Back
from overhaul.text import Place

_LONGEST = 80


def symbols(looked: Looked, positions: Positions) -> list[types.DocumentSymbol]:
    """One symbol a recipe, its sections and steps below it in the order of the page."""
    if looked.backs:
        return [_of_file(back, positions) for back in looked.backs]
    return [_of_page(recipe, positions) for recipe in looked.recipes]


def flat(found: list[types.DocumentSymbol], uri: str) -> list[types.SymbolInformation]:
    """The same without levels, for an editor that shows none."""
    rows: list[types.SymbolInformation] = []
    for one in found:
        rows.append(types.SymbolInformation(types.Location(uri, one.range), one.name, one.kind))
        rows += [types.SymbolInformation(types.Location(uri, inner.range), inner.name, inner.kind, container_name=one.name) for inner in one.children or ()]
    return rows


def _of_page(recipe: Recipe, positions: Positions) -> types.DocumentSymbol:
    page = positions.page
    parts = []
    for section in recipe.sections:
        listed = [item for item in section.ingredients if not item.in_method]
        if listed:
            first = min(section.place.start, *(item.place.start for item in listed)) if section.name else min(item.place.start for item in listed)
            place = Place(first, max(item.place.end for item in listed))
            head = section.place if section.name and section.place.end <= place.end else listed[0].place
            parts.append(_symbol(section.name or "Ingredients", f"{len(listed)} ingredients", types.SymbolKind.Array, place, head, positions))
    parts += [_symbol(step.text, step.phase, types.SymbolKind.Event, step.place, step.place, positions) for step in recipe.steps]
    start = page.lines[recipe.first_line - 1].place.start
    whole = Place(min(start, recipe.title_place.start), max(page.lines[min(recipe.last_line, len(page.lines)) - 1].place.end, recipe.title_place.end))
    return _recipe(recipe, whole, recipe.title_place, parts, positions)


def _of_file(back: Back, positions: Positions) -> types.DocumentSymbol:
    parts = []
    sections = back.node.at("sections")
    for node in sections.value if sections is not None and isinstance(sections.value, list) else ():
        name, listed = node.at("name"), node.at("ingredients")
        count = len(listed.value) if listed is not None and isinstance(listed.value, list) else 0
        head = Place(name.start, name.end) if name is not None and name.value is not None else Place(node.start, node.start)
        words = str(name.value) if name is not None and name.value else "Ingredients"
        parts.append(_symbol(words, f"{count} ingredients", types.SymbolKind.Array, Place(node.start, node.end), head, positions))
    parts += [_symbol(step.text, step.phase, types.SymbolKind.Event, Place(node.start, node.end), Place(node.start, node.end), positions) for node, step in back.steps]
    whole = Place(back.node.start, back.node.end)
    title = back.node.at("title")
    return _recipe(back.recipe, whole, Place(title.start, title.end) if title is not None else Place(whole.start, whole.start), parts, positions)


def _recipe(recipe: Recipe, whole: Place, head: Place, parts: list[types.DocumentSymbol], positions: Positions) -> types.DocumentSymbol:
    made = _symbol(recipe.title, recipe.product or "", types.SymbolKind.Class, whole, head, positions)
    made.children = sorted(parts, key=lambda part: (part.range.start.line, part.range.start.character))
    return made


def _symbol(name: str, detail: str, kind: types.SymbolKind, place: Place, head: Place, positions: Positions) -> types.DocumentSymbol:
    words = " ".join(clean(name).split()) or "(no name)"
    words = words if len(words) <= _LONGEST else words[: _LONGEST - 1].rstrip() + "…"
    whole = place.to(head)  # an editor refuses a head outside of what it heads
    return types.DocumentSymbol(words, kind, positions.range(whole), positions.range(head), detail=detail or None)
