"""The page that a recipe file keeps in ``lines``, and changes made to it that remember where everything stood."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from typing import Any

from msgspec import Struct

from overhaul.recipe_file.words import ingredient_words
from overhaul.text import Page, Place
from overhaul.yaml_text import BadYaml, Node

_LINE_END = re.compile(r"[\r\n]")
_MOST_BLANK = 10_000  # between two recipes of one page


def page_of(documents: Sequence[Node], name: str) -> Page:
    """The page of all ``documents``. Raises BadYaml where the lines are out of order or hold more than one."""
    lines: list[str] = []
    for document in documents:
        told = document.at("lines")
        if told is None or not told.value:
            tree = document.plain()
            if not any(tree.get(key) for key in ("title", "sections", "steps", "notes")):
                raise BadYaml(document.line, "a recipe without a title, ingredients, steps or lines: nothing to read")
            lines += ([""] if lines else []) + _from_fields(tree)
            continue
        for one in told.value:
            number, text = one.value["line"], one.value["text"]
            if _LINE_END.search(text.value):
                raise BadYaml(text.line, "text: one line of the page expected, not several")
            if not len(lines) < number.value <= len(lines) + _MOST_BLANK:
                raise BadYaml(number.line, f"line: a number from {len(lines) + 1:,} up expected, for the lines of the page stand in order, not {number.value:,}")
            lines += [""] * (number.value - len(lines) - 1) + [text.value]
    return Page("".join(f"{line}\n" for line in lines), name)


def _from_fields(tree: dict[str, Any]) -> list[str]:
    """A page for a file that keeps none: title, lists and method, as a cook would write them."""
    lines = [_one_line(tree.get("title") or "Recipe"), ""]
    if (tree.get("yield") or {}).get("text"):
        lines += [_one_line(tree["yield"]["text"]), ""]
    for section in tree.get("sections") or ():
        lines += [f"{_one_line(section['name']).rstrip(':')}:"] if section.get("name") else []
        lines += [_one_line(item.get("text") or ingredient_words(item)) for item in section["ingredients"] if not item.get("in_method")]
        lines.append("")
    for number, step in enumerate(tree.get("steps") or (), 1):
        lines.append(f"{number}. {_one_line(step.get('text') or ' '.join(step.get('actions') or ()))}")
    return [*lines, *(line for note in tree.get("notes") or () for line in ("", _one_line(note["text"])))]


def _one_line(text: str) -> str:
    return _LINE_END.sub(" ", text)


class Change(Struct, frozen=True, order=True):
    """``new`` in place of what stands between ``start`` and ``end``."""

    start: int
    end: int
    new: str


class Changed:
    """``page`` with ``changes`` made; those that overlap an earlier one are left out."""

    def __init__(self, page: Page, changes: list[Change]) -> None:
        self._old, self._new = [0], [0]  # where a stretch that is kept begins, before and after
        self._kept = [0]
        written: list[str] = []
        at = length = 0
        for change in sorted(set(changes)):
            if change.start < at or (change.start == at and at and change.start != change.end):
                continue
            kept = page.text[at : change.start]
            self._kept[-1] = len(kept)
            written += [kept, change.new]
            length += len(kept) + len(change.new)
            at = change.end
            self._old.append(at)
            self._new.append(length)
            self._kept.append(0)
        self._kept[-1] = len(page.text) - at
        self.page = Page("".join([*written, page.text[at:]]), page.name) if written else page
        self.before = page

    def forward(self, offset: int) -> int:
        """Where ``offset`` of the old page stands in the new one: inside a change, where the new words begin."""
        stretch = bisect_right(self._old, offset) - 1
        into = offset - self._old[stretch]
        return self._new[stretch] + min(into, self._kept[stretch])

    def back(self, offset: int) -> int:
        """Where ``offset`` of the new page stood in the old one."""
        stretch = bisect_right(self._new, offset) - 1
        into = offset - self._new[stretch]
        return self._old[stretch] + min(into, self._kept[stretch])


def without(page: Page, place: Place) -> Change:
    """The change that strikes ``place``: its whole line when nothing else stands on it."""
    first, last = page.lines[page.line_at(place.start) - 1].place, page.lines[page.line_at(max(place.start, place.end - 1)) - 1].place
    around = page.text[first.start : place.start] + page.text[place.end : last.end]
    if any(letter.isalpha() for letter in around):
        return Change(place.start, place.end, "")
    return Change(first.start, min(last.end + 1, len(page.text)), "")
