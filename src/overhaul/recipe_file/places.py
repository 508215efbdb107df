"""Findings of a recipe file on its own lines: each at the field that it is about."""

from __future__ import annotations

from msgspec.structs import replace

from overhaul.findings import Finding
from overhaul.recipe.model import Ingredient, Step
from overhaul.recipe_file.back import Back, spot
from overhaul.text import Page, Place
from overhaul.yaml_text import Node


def on_its_lines(finding: Finding, back: Back, file: Page) -> Finding:
    """``finding`` where its field stands in ``file``. Edits of the page's words are no edits of the file and are left out."""
    start, end = _found(finding.place, back, absent=finding.absent)
    if finding.absent:
        end = file.lines[file.line_at(start) - 1].place.end
        start = end
    remedy = replace(finding.remedy, edits=()) if finding.remedy is not None else None
    return replace(finding, place=Place(start, max(start, end)), remedy=remedy)


def place_in(place: Place, back: Back) -> Place:
    """A place of the page where its field, or its line, stands in the file."""
    start, end = _found(place, back)
    return Place(start, max(start, end))


def _found(place: Place, back: Back, *, absent: bool = False) -> tuple[int, int]:
    page = back.recipe.page
    behind = len(page.text) + 1
    if place.start >= behind:  # a field that no words of the page stand for
        return place.start - behind, place.end - behind
    if not absent:
        for node, item in back.items:
            if item.place.start <= place.start < item.place.end or (item.in_method and item.amount is not None and item.amount.place == place):
                return _of_item(node, item, place)
        for node, step in back.steps:
            if step.place.start <= place.start < step.place.end:
                return _of_step(node, step, place)
        if back.recipe.title_place == place and back.node.at("title") is not None:
            return spot(back.node, "title")
    return _of_line(back, page.line_at(place.start))


def _of_item(node: Node, item: Ingredient, place: Place) -> tuple[int, int]:
    if item.amount is not None and item.amount.place == place:
        return spot(node, "amount")
    if item.count is not None and item.count.place == place:
        return spot(node, "count")
    return spot(node, "name" if item.name_place == place else "text")


def _of_step(node: Node, step: Step, place: Place) -> tuple[int, int]:
    for key in ("times", "temperatures", "lengths"):
        inner = node.at(key)
        for index, measured in enumerate(getattr(step, key)):
            one = node.at(key, index)
            if measured.amount.place.start <= place.start < measured.amount.place.end and inner is not None and one is not None:
                return one.start, one.end
    return spot(node, "text")


def _of_line(back: Back, line: int) -> tuple[int, int]:
    """The line of the page as the file keeps it; for a file without lines, its title."""
    was = back.line_of[line - 1] if 0 < line <= len(back.line_of) else line
    kept = back.node.at("lines")
    for one in kept.value if kept is not None and kept.value else ():
        if one.value["line"].value == was:
            return spot(one, "text")
    return spot(back.node, "title")
