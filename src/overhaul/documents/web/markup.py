"""The markup of a web page as one flat list of events, however it is nested or broken."""

from __future__ import annotations

import codecs
import re
from time import monotonic

from msgspec import Struct

from overhaul.documents.decode import decode
from overhaul.documents.lines import Refused
from overhaul.documents.outcome import Unreadable

MOST_TAGS = 250_000
MOST_OPEN = 200_000
MOST_SECONDS = 5.0
_PIECE = 16_384

_CHARSET = re.compile(rb"""<meta[^>]{0,300}?charset\s*=\s*["']?\s*([\w:.-]{1,40})""", re.IGNORECASE)
_XML_ENCODING = re.compile(rb"""^\s*<\?xml[^>]{0,100}?encoding\s*=\s*["']([\w:.-]{1,40})""", re.IGNORECASE)
# Names of sets of letters only: Python knows "encodings" that unpack archives, too.
_LETTERS = re.compile(r"utf-?8|iso-?8859-\d+|latin-?\d|us-ascii|ascii|(?:windows-?|cp)\d{3,4}|koi8-[ru]|macintosh|mac-?roman|shift_jis|euc-(?:jp|kr)|gb2312|gbk|gb18030|big5", re.IGNORECASE)
_WESTERN = re.compile(r"iso-?8859-1$|latin-?1$|us-ascii|ascii|windows-?1252|cp1252", re.IGNORECASE)
CONTROL = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f]")

_UNSEEN = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.IGNORECASE)


class Open(Struct):
    """The start of an element. ``end`` : the index after its last event."""

    tag: str
    attributes: dict[str, str]
    end: int = 0

    def get(self, name: str) -> str:
        return self.attributes.get(name, "")

    @property
    def hidden(self) -> bool:
        return bool(self.attributes) and ("hidden" in self.attributes or self.get("aria-hidden").lower() == "true" or bool(_UNSEEN.search(self.get("style"))))


# The start of an element, words, or (None) the end of the element opened last.
Events = list[Open | str | None]


def decoded(data: bytes) -> str | Unreadable:
    if data.startswith((codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE, codecs.BOM_UTF32_BE)):
        found = decode(data)
        return found if isinstance(found, str) else Unreadable(found.reason)
    if b"\0" in data[:4096]:
        return Unreadable("a binary file, not a web page")
    said = _CHARSET.search(data[:8192]) or _XML_ENCODING.match(data)
    name = said[1].decode("ascii") if said else "utf-8"
    # Half of the pages that say they are Western are UTF-8, and other text hardly ever is UTF-8 by chance.
    names = ["utf-8", "cp1252"] if _WESTERN.match(name) else [name, "utf-8"] if _LETTERS.fullmatch(name) else ["utf-8"]
    for each in names:
        try:
            return data.decode(each)
        except (UnicodeDecodeError, LookupError):
            continue
    return data.decode("cp1252", errors="replace")


class _Target:
    """What the parser calls; gathers the events."""

    def __init__(self) -> None:
        self.events: Events = []
        self.tags = 0
        self._open: list[Open] = []
        self._words: list[str] = []

    def _flush(self) -> None:
        if self._words:
            self.events.append(CONTROL.sub("", "".join(self._words)))
            self._words = []

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        self._flush()
        self.tags += 1
        if self.tags > MOST_TAGS:
            raise Refused(f"more than {MOST_TAGS:,} tags; no recipe has so many")
        if len(self._open) >= MOST_OPEN:
            raise Refused(f"tags nested deeper than {MOST_OPEN:,}")
        opened = Open(tag.lower(), dict(attributes))
        self.events.append(opened)
        self._open.append(opened)

    def end(self, _tag: str) -> None:
        self._flush()
        if self._open:
            self.events.append(None)
            self._open.pop().end = len(self.events)

    def data(self, words: str) -> None:
        self._words.append(words)

    def close(self) -> Events:
        while self._open:
            self.end("")
        self._flush()
        return self.events


def events_of(text: str) -> Events:
    from lxml import etree

    text = CONTROL.sub("", text)
    if not text.strip():
        return []
    target = _Target()
    # With a target there is no tree, so huge_tree lifts no limit that protects anything. Entities declared in the page are left as written.
    parser = etree.HTMLParser(target=target, encoding="utf-8", no_network=True, huge_tree=True)
    data = text.encode("utf-8", "replace")
    start = monotonic()
    for at in range(0, len(data), _PIECE):
        parser.feed(data[at : at + _PIECE])
        if monotonic() - start > MOST_SECONDS:
            raise Refused("markup that takes too long to read")
    parser.close()
    return target.close()
