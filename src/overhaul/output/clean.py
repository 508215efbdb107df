"""Text from a page, made harmless to show: no terminal escapes, no control characters, no bidi tricks."""

from __future__ import annotations

import re
import textwrap

_HARMFUL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]")


def clean(text: str) -> str:
    """``text`` of the same length with every harmful character as a visible stand-in, tabs as blanks."""
    return _HARMFUL.sub("\N{REPLACEMENT CHARACTER}", text.replace("\t", " ")).replace("\n", " ")


def wrapped(text: str, width: int, indent: str = "") -> str:
    """``text`` folded to ``width`` columns, every line after ``indent``."""
    return textwrap.fill(text, max(width, 30), initial_indent=indent, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)
