"""Bytes to text: marks first, then UTF-8, then a choice between the two old one-byte sets of the office."""

from __future__ import annotations

import codecs
import re

from msgspec import Struct

_MARKS = (
    (codecs.BOM_UTF8, "UTF-8"),
    (codecs.BOM_UTF32_LE, "UTF-32-LE"),  # before UTF-16: it begins with the same two bytes
    (codecs.BOM_UTF32_BE, "UTF-32-BE"),
    (codecs.BOM_UTF16_LE, "UTF-16-LE"),
    (codecs.BOM_UTF16_BE, "UTF-16-BE"),
)
_OLD = ("cp1252", "mac_roman")
# What a kitchen page holds beyond ASCII. A page of twenty such marks is too short for a guess by language.
_KITCHEN = re.compile("[°½¼¾×–—‘’“”…•·éèêëàâäáçñöôóüûúíîï®™£€§±]")
_CONTROL = re.compile("[\x01-\x08\x0e-\x1a\x1c-\x1f\x7f]")  # not tab, line and form feeds, escape
_MOST_CONTROLS = 0.02


class NoText(Struct, frozen=True):
    """Why these bytes are no text."""

    reason: str


def decode(data: bytes) -> str | NoText:
    """The text of ``data`` without its byte order mark."""
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            try:
                return _checked(data[len(mark) :].decode(encoding))
            except UnicodeDecodeError as problem:
                return NoText(f"begins as {encoding} but stops being it at byte {problem.start + len(mark) + 1:,}")
    if b"\0" in data[:4096]:
        return NoText("a binary file, not text")
    try:
        return _checked(data.decode("utf-8"))
    except UnicodeDecodeError:
        return _old(data)


def _checked(text: str) -> str | NoText:
    if "\0" in text:
        return NoText(f"holds a zero character at place {text.index(chr(0)) + 1:,}; not text")
    if len(_CONTROL.findall(text)) > max(8, _MOST_CONTROLS * len(text)):
        return NoText("a binary file, not text")
    return text


def _old(data: bytes) -> str | NoText:
    """Text of a one-byte set: the reading that looks more like a kitchen page, else the better guess by language."""
    readings = {encoding: data.decode(encoding, errors="replace") for encoding in _OLD}
    windows, mac = (len(_KITCHEN.findall(readings[encoding])) for encoding in _OLD)
    if windows != mac:
        return _checked(readings[_OLD[0] if windows > mac else _OLD[1]])
    from charset_normalizer import from_bytes

    best = from_bytes(data[:100_000], cp_isolation=list(_OLD), threshold=0.4).best()
    return _checked(readings[best.encoding if best is not None and best.encoding in readings else _OLD[0]])
