"""Text from a page, made harmless to show: no terminal escapes, no control characters, no bidi tricks."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterable, Iterator
from typing import Any

import msgspec

# Controls and escapes, separators that break a line, marks that turn the direction, what is not there to see, half characters.
_HARMFUL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ud800-\udfff\ufeff\ufff9-\ufffb\U000e0000-\U000e007f]")


def clean(text: str) -> str:
    """``text`` of the same length with every harmful character as a visible stand-in, tabs as blanks."""
    return _HARMFUL.sub("\N{REPLACEMENT CHARACTER}", text.replace("\t", " ")).replace("\n", " ")


# Of a text that is given back to the letter, only what a terminal would act on, or what turns the direction; joiners and blanks of no width do neither.
_ACTS = re.compile("\r(?!\n)|[\x00-\x08\x0b\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
_ENDS = frozenset("\x0b\r\x85\u2028\u2029")


def shown(text: str) -> str:
    """``text`` of many lines with what acts as a visible stand-in, and its odd line ends as usual ones."""
    return _ACTS.sub(lambda found: "\n" if found[0] in _ENDS else "\N{REPLACEMENT CHARACTER}", text)


def wrapped(text: str, width: int, indent: str = "") -> str:
    """``text`` folded to ``width`` columns, every line after ``indent``."""
    return textwrap.fill(text, max(width, 30), initial_indent=indent, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)


def json_parts(value: Any, items: Iterable[Any], depth: int) -> Iterator[str]:
    """``as_json`` of ``value`` with ``items`` in its last list, ``depth`` levels in, which is given empty; one part an item."""
    before, _, after = as_json(value).rpartition("[]")
    between, indent = "[", "\n" + " " * (depth + 1)
    yield before
    for item in items:
        yield between + indent + as_json(item)[:-1].replace("\n", indent)
        between = ","
    yield ("[]" if between == "[" else indent[:-1] + "]") + after


def as_json(value: Any) -> str:
    """``value`` as JSON, readable, nothing lost; harmful characters stand as escapes."""
    try:
        text = msgspec.json.format(msgspec.json.encode(value), indent=1).decode()
    except UnicodeEncodeError:  # half a character, from a file name that is no text
        text = json.dumps(value, ensure_ascii=False, indent=1)
    if text.replace("\n", "").isprintable():
        return text + "\n"  # nothing that is harmful can be printed
    return _HARMFUL.sub(lambda found: json.dumps(found[0])[1:-1], text) + "\n"
