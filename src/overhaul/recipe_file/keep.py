"""A recipe file written again: comments, key order and every hand edit stay, what is worked is worked anew."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from overhaul import yaml_text
from overhaul.output.tree import recipe_tree
from overhaul.recipe_file.back import Back
from overhaul.sums.work import Sums

Data = dict[str, Any]
_DEPTH = {"mass": 4, "process": 2, "sums": 1}  # how deep each stands, for what is written on one line


def worked_anew(documents: Sequence[Data], backs: Sequence[Back], sums: Sequence[Sums]) -> None:
    """Grams, sums and the process as far as nobody edited it, put into ``documents`` where they are not the same already."""
    for document, back, own in zip(documents, backs, sums, strict=True):
        ways = [Sums(way, own.house).all() for way in back.recipe.ways]
        tree = recipe_tree(back.recipe, own.all(), None, ways)
        _lines_of_the_file(tree, back)
        by_line = {id(item): told for item, told in zip(back.recipe.ingredients, [item for section in tree.get("sections", ()) for item in section["ingredients"]], strict=True)}
        wanted = {node.start: by_line.get(id(item)) for node, item in back.items}
        nodes = [node for section in _list(back.node.at("sections")) for node in _list(section.at("ingredients"))]
        entries = [item for section in document.get("sections") or () for item in section["ingredients"]]
        for node, entry in zip(nodes, entries, strict=True):
            told = wanted.get(node.start)
            if told is not None:
                _put(entry, "mass", told.get("mass"), "mass")
        _process(document, tree.get("process") or {}, back.worked)
        for branch, told in zip(document.get("branches") or (), tree.get("branches", ()), strict=False):
            _put(branch, "sums", told["sums"], "sums")
        _put(document, "sums", tree.get("sums"), "sums")


def _list(node: Any) -> list[Any]:
    return node.value if node is not None and isinstance(node.value, list) else []


def _process(document: Data, process: Data, worked: frozenset[str]) -> None:
    if not document.get("process"):
        return
    told = document["process"]
    for key in [key for key in (*process, *told) if key in worked]:
        _put(told, key, process.get(key), "process")
    for key in ("meat", "meats"):  # edited or not, they weigh what their lines say
        for own, anew in zip(_each(told.get(key)), _each(process.get(key)), strict=False):
            _put(own, "mass", anew.get("mass"), "mass")


def _each(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value] if isinstance(value, dict) else []


def _put(into: Data, key: str, value: Any, what: str) -> None:
    if value is None or value == {}:
        if into.get(key) not in (None, {}, []):
            del into[key]
    elif into.get(key) != value:
        into[key] = yaml_text.blocks(value, _DEPTH[what]) if type(into) is not dict else value


def _lines_of_the_file(tree: Any, back: Back) -> None:
    """The lines in ``tree`` as the file counts them: words put on the page may have moved them."""
    if isinstance(tree, dict):
        for key in ("line", "end_line"):
            if isinstance(tree.get(key), int) and 0 < tree[key] <= len(back.line_of):
                tree[key] = back.line_of[tree[key] - 1]
        for inner in tree.values():
            _lines_of_the_file(inner, back)
    elif isinstance(tree, list):
        for inner in tree:
            _lines_of_the_file(inner, back)
