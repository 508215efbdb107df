"""JSON with the place of every value, so that what is wrong can be told with its line."""

from __future__ import annotations

import re
from json.decoder import scanstring  # type: ignore[attr-defined]
from typing import Any

from overhaul.yaml_text import BadYaml, Node

_DEEPEST = 50  # as in yaml_text
_BLANK = re.compile(r"[ \t\r\n]*")
_NUMBER = re.compile(r"-?(?:0|[1-9]\d*)(\.\d+)?([eE][-+]?\d+)?")
_CONSTANTS = {"true": True, "false": False, "null": None}


def nodes(text: str) -> list[Node]:
    """The recipe of ``text``, or those of its list. Raises BadYaml."""
    reader = _Reader(text)
    whole = reader.value(reader.past(0), 0)
    rest = reader.past(whole.end)
    if rest < len(text):
        raise reader.bad(rest, "something stands behind the end")
    return whole.value if isinstance(whole.value, list) else [whole]


class _Reader:
    def __init__(self, text: str) -> None:
        self.text = text
        self._counted = (0, 1)

    def past(self, at: int) -> int:
        found = _BLANK.match(self.text, at)
        return found.end() if found else at

    def line(self, at: int) -> int:
        """Lines are counted on from the last one asked for; going back counts anew."""
        start, line = self._counted if self._counted[0] <= at else (0, 1)
        self._counted = (at, line + self.text.count("\n", start, at))
        return self._counted[1]

    def bad(self, at: int, problem: str) -> BadYaml:
        return BadYaml(self.line(at), problem)

    def value(self, at: int, depth: int) -> Node:
        if depth > _DEEPEST:
            raise self.bad(at, "nested too deep")
        first = self.text[at : at + 1]
        line = self.line(at)
        if first == "{":
            return self._mapping(at, line, depth)
        if first == "[":
            return self._list(at, line, depth)
        if first == '"':
            words, end = self._string(at)
            return Node(words, at, end, line)
        for word, constant in _CONSTANTS.items():
            if self.text.startswith(word, at):
                return Node(constant, at, at + len(word), line)
        number = _NUMBER.match(self.text, at)
        if number is None:
            raise self.bad(at, f"not JSON: a value expected, not “{self.text[at : at + 10]}”" if first else "not JSON: it ends too soon")
        try:
            figure: int | float = float(number[0]) if number[1] or number[2] else int(number[0])
        except ValueError:
            raise self.bad(at, f"not a number: “{number[0][:40]}”") from None
        return Node(figure, at, number.end(), line)

    def _string(self, at: int) -> tuple[str, int]:
        if self.text[at : at + 1] != '"':
            raise self.bad(at, "not JSON: a key in quotes expected" if at < len(self.text) else "not JSON: it ends too soon")
        try:
            words, end = scanstring(self.text, at + 1, True)
        except ValueError as problem:
            raise self.bad(at, f"not JSON: {str(problem).partition(':')[0].lower()}") from None
        return words, end

    def _mark(self, at: int, wanted: str) -> int:
        at = self.past(at)
        if self.text[at : at + 1] not in tuple(wanted):
            raise self.bad(at, f"not JSON: {' or '.join(wanted)} expected" if at < len(self.text) else "not JSON: it ends too soon")
        return at

    def _mapping(self, at: int, line: int, depth: int) -> Node:
        inner: dict[str, Node] = {}
        keys: dict[str, tuple[int, int]] = {}
        here = self.past(at + 1)
        if self.text[here : here + 1] == "}":
            return Node(inner, at, here + 1, line, keys)
        while True:
            key, end = self._string(here)
            if key in inner:
                raise self.bad(here, f"the key “{key}” stands here twice")
            keys[key] = (here, end)
            inner[key] = self.value(self.past(self._mark(end, ":") + 1), depth + 1)
            here = self._mark(inner[key].end, ",}")
            if self.text[here] == "}":
                return Node(inner, at, here + 1, line, keys)
            here = self.past(here + 1)

    def _list(self, at: int, line: int, depth: int) -> Node:
        found: list[Any] = []
        here = self.past(at + 1)
        if self.text[here : here + 1] == "]":
            return Node(found, at, here + 1, line)
        while True:
            found.append(self.value(here, depth + 1))
            here = self._mark(found[-1].end, ",]")
            if self.text[here] == "]":
                return Node(found, at, here + 1, line)
            here = self.past(here + 1)
