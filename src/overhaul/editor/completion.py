"""What may be written next: a unit behind a figure, else a known name; in a recipe file, the words its keys take."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import get_args

from lsprotocol import types

from overhaul.editor.positions import Positions
from overhaul.reading import lexicon, units
from overhaul.recipe.model import LineKind, Phase, Product, Role
from overhaul.text import Place

MOST = 100
_BEHIND_A_FIGURE = re.compile(r"(?:\d|[\u00bc-\u00be\u2150-\u215e])[\d.,/\u2044\u00bc-\u00be\u2150-\u215e -]*?[ \t]*(?P<typed>[^\W\d_]*)$")
_WORDS = re.compile(r"(?P<typed>[^\W\d_][\w#'-]*(?: [\w#'-]+){0,3})$")
_KEY = re.compile(r"(?:^|[\s{,-])(?P<key>unit|role|phase|product|kind|name): *[\"']?(?P<typed>[\w #-]*)$")
_MOST_BEFORE = 200  # characters of the line that are looked at

Offered = tuple[str, str]  # what is written, and what it is


def completion(positions: Positions, offset: int, names: Mapping[str, str], *, recipe_file: bool = False) -> types.CompletionList:
    """What may stand at ``offset``; ``names`` are the house's own names for things."""
    page = positions.page
    line = page.lines[page.line_at(offset) - 1].place
    before = page.text[max(line.start, offset - _MOST_BEFORE) : offset]
    if recipe_file:
        found = _KEY.search(before)
        return _list(_matching(_KEYS[found["key"]](), found["typed"]), Place(offset - len(found["typed"]), offset), positions, types.CompletionItemKind.EnumMember) if found else _nothing()
    behind = _BEHIND_A_FIGURE.search(before)
    if behind is not None:
        typed = behind["typed"]
        return _list(_matching(_units(), typed), Place(offset - len(typed), offset), positions, types.CompletionItemKind.Unit, _named(names, typed) if typed else [])
    words = _WORDS.search(before)
    if words is None:
        return _nothing()
    typed = words["typed"]
    while typed:  # "a handful of black pep": the longest tail that begins a name
        if rows := _named(names, typed):
            return _list(rows, Place(offset - len(typed), offset), positions, types.CompletionItemKind.Value)
        typed = typed.partition(" ")[2]
    return _nothing()


def _named(names: Mapping[str, str], typed: str) -> list[Offered]:
    own = [(name, f"{meaning} in this house") for name, meaning in names.items()]
    return _matching([*own, *lexicon.every_name()], typed)


def _matching(rows: Iterable[Offered], typed: str) -> list[Offered]:
    """Those that begin with what was typed, then those of which a later word does."""
    low = typed.lower()
    begin = [row for row in rows if row[0].lower().startswith(low)]
    return begin + [row for row in rows if f" {low}" in row[0].lower() and row not in begin] if low else begin


def _list(rows: list[Offered], place: Place, positions: Positions, kind: types.CompletionItemKind, names: Iterable[Offered] = ()) -> types.CompletionList:
    """``rows`` in their order, and ``names`` after them, all in place of what was typed."""
    where = positions.range(place)
    shown = list({**dict.fromkeys(names, types.CompletionItemKind.Value), **dict.fromkeys(rows, kind)}.items())
    shown.sort(key=lambda one: one[1] is not kind)
    items = [
        types.CompletionItem(words, kind=what_kind, detail=what or None, sort_text=f"{number:04}", filter_text=words, text_edit=types.TextEdit(where, words))
        for number, ((words, what), what_kind) in enumerate(shown[:MOST])
    ]
    return types.CompletionList(is_incomplete=len(shown) > MOST, items=items)


def _nothing() -> types.CompletionList:
    return types.CompletionList(is_incomplete=False, items=[])


@cache
def _units() -> tuple[Offered, ...]:
    """Every spelling that is read, whole words first."""
    from overhaul.reading.line_parser import spellings

    every = {spelled: unit for spelled, unit in spellings().items() if len(spelled) > 1}
    whole = {units.in_words(unit, several=several): unit for unit in dict.fromkeys(every.values()) for several in (True, False)}
    return tuple((words, unit.replace("_", " ")) for words, unit in (whole | {spelled: unit for spelled, unit in every.items() if spelled not in whole}).items() if words)


@cache
def _unit_keys() -> tuple[Offered, ...]:
    from overhaul.reading.line_parser import spellings

    return tuple((unit, units.dimension(unit)) for unit in dict.fromkeys([*spellings().values(), "degF", "degC", "percent"]))


def _of(words: object) -> Callable[[], tuple[Offered, ...]]:
    return lambda: tuple((word, "") for word in get_args(words))


_KEYS: dict[str, Callable[[], tuple[Offered, ...]]] = {
    "unit": _unit_keys, "role": _of(Role), "phase": _of(Phase), "product": _of(Product), "kind": _of(LineKind), "name": lexicon.every_name,
}  # fmt: skip
