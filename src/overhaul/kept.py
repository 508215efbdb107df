"""An audit as a few bytes: what a binder holds of each page until its report, and what the cache keeps.

A page of a binder is a kilobyte and its findings are five; as objects they would be thirty. The words of the page go along,
for a report quotes them, and the file may have changed or been standard input.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from typing import overload

import msgspec
from msgspec import Struct

from overhaul.findings import Finding
from overhaul.pipeline import Audited
from overhaul.text import Page


class _Paper(Struct, array_like=True):
    text: str
    pages: tuple[int, ...]


class _Form(Struct, array_like=True):
    """``Audited`` without its file, which the reader of the bytes knows, and without what no report needs."""

    paper: _Paper | None
    titles: tuple[str, ...]
    findings: tuple[Finding, ...]
    unreadable: str | None


_ENCODER = msgspec.msgpack.Encoder()
_DECODER = msgspec.msgpack.Decoder(_Form)
# Findings are the same few sentences again and again: harder work on them gains a twentieth and takes twice as long.
_LEVEL = 3
# What one page may unpack to. A page of the longest text that is read, a finding on every line, is some way below.
MOST_BYTES = 400_000_000


def packed(audited: Audited) -> bytes | None:
    """``audited`` as bytes; None for one that holds half characters (of a file name that is no text)."""
    page = audited.page
    form = _Form(_Paper(page.text, page.pages) if page is not None else None, audited.titles, audited.findings, audited.unreadable)
    try:
        return zlib.compress(_ENCODER.encode(form), _LEVEL)
    except UnicodeEncodeError:
        return None


def unpacked(data: bytes, file: str) -> Audited:
    """The audit of ``file`` that ``data`` holds. Raises ValueError for bytes that are none."""
    try:
        unfolding = zlib.decompressobj()
        whole = unfolding.decompress(data, MOST_BYTES)
        if not unfolding.eof:
            raise ValueError("cut short, or longer than any audit")
        form = _DECODER.decode(whole)
    except (zlib.error, msgspec.MsgspecError) as problem:
        raise ValueError(str(problem)) from None
    paper = form.paper
    return Audited(file, Page(paper.text, file, paper.pages) if paper is not None else None, titles=form.titles, findings=form.findings, unreadable=form.unreadable)


class Kept(Struct, frozen=True):
    """The audit of one file: as bytes, or whole where it cannot be bytes or was not audited at all."""

    file: str
    data: bytes | None = None
    whole: Audited | None = None

    def audited(self) -> Audited:
        return self.whole if self.whole is not None else unpacked(self.data or b"", self.file)


def keep(audited: Audited) -> Kept:
    data = packed(audited)
    return Kept(audited.file, data) if data is not None else Kept(audited.file, whole=audited)


class Held(Sequence[Audited]):
    """The audits of a binder, each an object only while it is looked at."""

    def __init__(self, every: Sequence[Kept]) -> None:
        self._every = every

    def __len__(self) -> int:
        return len(self._every)

    @overload
    def __getitem__(self, index: int) -> Audited: ...

    @overload
    def __getitem__(self, index: slice) -> Held: ...

    def __getitem__(self, index: int | slice) -> Audited | Held:
        return Held(self._every[index]) if isinstance(index, slice) else self._every[index].audited()
