"""An audit as a few bytes: what a binder holds of each page until its report, and what the cache keeps.

A page of a binder is a kilobyte and its findings are two or five; as objects they would be thirty. The words of the page go along,
for a report quotes them, and the file may have changed or been standard input. What a binder's index has of it stands in front, packed
apart, so that references between files are followed without unpacking any page.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from typing import overload

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from overhaul import signing
from overhaul.findings import Finding, Grade, in_order
from overhaul.listing import Listed
from overhaul.pipeline import Audited
from overhaul.text import Page


class _Paper(Struct, array_like=True):
    text: str
    pages: tuple[int, ...]


class Head(Struct, array_like=True, frozen=True):
    """What an index has of one file: its titles, its recipes, how many sheets a paged document has; whether it was read."""

    titles: tuple[str, ...]
    listed: tuple[Listed, ...]
    sheets: int
    read: bool


class _Form(Struct, array_like=True):
    """``Audited`` without its file, which the reader of the bytes knows, without its head and without what no report needs."""

    paper: _Paper | None
    findings: tuple[Finding, ...]
    unreadable: str | None


_ENCODER = msgspec.msgpack.Encoder()
_DECODER = msgspec.msgpack.Decoder(_Form)
_HEAD_DECODER = msgspec.msgpack.Decoder(Head)
_LENGTH = 4  # bytes that tell how long the head is
_AS_IT_IS, _FOLDED = b"\0", b"\1"  # what follows the head begins with one of them
_SMALL = 3000  # bytes, up to which a page is kept as it is: to fold it would take a fiftieth of its audit
# Findings are the same few sentences again and again: harder work on them gains a twentieth and takes twice as long.
_LEVEL = 3
_MEMORY = 6  # of nine: to lay out more takes longer than to fold a page
# What one page may unpack to. A page of the longest text that is read, a finding on every line, is some way below.
MOST_BYTES = 400_000_000


def head_of(audited: Audited) -> Head:
    page = audited.page
    return Head(audited.titles, audited.listed, len(page.pages) if page is not None else 0, audited.unreadable is None)


def packed(audited: Audited) -> bytes | None:
    """``audited`` as bytes; None for one that holds half characters (of a file name that is no text)."""
    page = audited.page
    form = _Form(_Paper(page.text, page.pages) if page is not None else None, audited.findings, audited.unreadable)
    try:
        head, rest = _ENCODER.encode(head_of(audited)), _ENCODER.encode(form)
    except UnicodeEncodeError:
        return None
    begins = len(head).to_bytes(_LENGTH, "big") + head
    if len(rest) <= _SMALL:
        return begins + _AS_IT_IS + rest
    folding = zlib.compressobj(_LEVEL, zlib.DEFLATED, zlib.MAX_WBITS, _MEMORY)
    return begins + _FOLDED + folding.compress(rest) + folding.flush()


def _head(data: bytes) -> tuple[Head, int]:
    """The head that ``data`` begins with, and where the rest begins. Raises ValueError for bytes that are no audit."""
    begins = _LENGTH + int.from_bytes(data[:_LENGTH], "big")
    if len(data) <= begins:
        raise ValueError("cut short")
    try:
        return _HEAD_DECODER.decode(data[_LENGTH:begins]), begins
    except msgspec.MsgspecError as problem:
        raise ValueError(str(problem)) from None


def unpacked(data: bytes, file: str) -> Audited:
    """The audit of ``file`` that ``data`` holds. Raises ValueError for bytes that are none."""
    head, begins = _head(data)
    try:
        form = _DECODER.decode(_unfolded(data, begins))
    except (zlib.error, msgspec.MsgspecError) as problem:
        raise ValueError(str(problem)) from None
    paper = form.paper
    page = Page(paper.text, file, paper.pages) if paper is not None else None
    return Audited(file, page, titles=head.titles, listed=head.listed, findings=form.findings, unreadable=form.unreadable)


def _unfolded(data: bytes, begins: int) -> bytes | memoryview:
    rest = memoryview(data)[begins + 1 :]
    if data[begins : begins + 1] == _AS_IT_IS:
        return rest
    unfolding = zlib.decompressobj()
    whole = unfolding.decompress(rest, MOST_BYTES)
    if not unfolding.eof:
        raise ValueError("cut short, or longer than any audit")
    return whole


class Besides(Struct, frozen=True):
    """What the rest of its binder has to say of one file: findings of its own, and words to add to those that it has."""

    findings: tuple[Finding, ...] = ()
    words: dict[tuple[int, str], str] = {}  # by recipe and rule: to each query about something absent

    def laid_over(self, audited: Audited) -> Audited:
        page = audited.page
        if page is None:
            return audited
        told = [self._told(one) for one in audited.findings]
        return replace(audited, findings=tuple(in_order([*told, *signing.applied(page, list(self.findings))])))

    def _told(self, finding: Finding) -> Finding:
        words = self.words.get((finding.recipe[0] if finding.recipe is not None else 0, finding.rule))
        return replace(finding, message=f"{finding.message} {words}") if words is not None and finding.absent and finding.grade is Grade.QUERY else finding


class Kept(Struct, frozen=True):
    """The audit of one file: as bytes, or whole where it cannot be bytes or was not audited at all."""

    file: str
    data: bytes | None = None
    whole: Audited | None = None
    besides: Besides | None = None

    def audited(self) -> Audited:
        alone = self.whole if self.whole is not None else unpacked(self.data or b"", self.file)
        return self.besides.laid_over(alone) if self.besides is not None else alone

    def head(self) -> Head:
        """What an index has of it; the page is not unfolded for this."""
        return head_of(self.whole) if self.whole is not None else _head(self.data or b"")[0]


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
