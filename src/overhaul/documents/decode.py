"""Bytes to text: marks first, then UTF-8, then a guess between the two old one-byte sets of the office."""

from __future__ import annotations

import codecs
from dataclasses import dataclass

_MARKS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF32_LE, "utf-32-le"), (codecs.BOM_UTF32_BE, "utf-32-be"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))


@dataclass(frozen=True, slots=True)
class NoText:
    """Why these bytes are no text."""

    reason: str


def decode(data: bytes) -> str | NoText:
    """The text of ``data`` without its byte order mark."""
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            try:
                return _checked(data[len(mark) :].decode(encoding))
            except UnicodeDecodeError as problem:
                return NoText(f"begins as {encoding.upper()} but breaks off at byte {problem.start + len(mark):,}")
    if b"\0" in data[:4096]:
        return NoText("a binary file, not text")
    try:
        return _checked(data.decode("utf-8"))
    except UnicodeDecodeError:
        return _old(data)


def _checked(text: str) -> str | NoText:
    if "\0" in text:
        return NoText(f"holds a zero character at place {text.index(chr(0)) + 1:,}; not text")
    return text


def _old(data: bytes) -> str | NoText:
    from charset_normalizer import from_bytes

    best = from_bytes(data[:100_000], cp_isolation=["cp1252", "mac_roman"], threshold=0.4).best()
    encoding = best.encoding if best is not None else "cp1252"
    return _checked(data.decode(encoding, errors="replace"))
