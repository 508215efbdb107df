"""Rich Text (.rtf): paragraphs, lists, tables, notes and what is crossed out, in the order of the page.

A tokenizer of our own: the known package drops what is struck out, and a page with the old amount beside the new is a wrong page.
"""

from __future__ import annotations

import codecs
import re
from functools import cache

from msgspec import Struct
from msgspec.structs import replace

from overhaul.documents.lines import DEEPEST, Lines, Mark, Refused, counted, crossed, noted, row
from overhaul.documents.outcome import Text, Unreadable

_KIND = "a Rich Text document"
_MOST_GROUPS = 1_000
# A thousand take some four milliseconds; a page that a word processor wrote has a few thousand.
MOST_ORDERS = 1_000_000
_TOKEN = re.compile(rb"\\([a-zA-Z]{1,32})(-?\d{1,10})? ?|\\'([0-9a-fA-F]{2})|\\([^a-zA-Z'])|([{}])|([^\\{}\r\n\0]+)|[\r\n\0]+|\\", re.DOTALL)
_CHARACTERS = {"tab": "\t", "line": "\n", "lbr": "\n", "column": "\n", "page": "\f", "emdash": "—", "endash": "–", "bullet": "•", "lquote": "‘", "rquote": "’", "ldblquote": "“", "rdblquote": "”", "emspace": " ", "enspace": " ", "qmspace": " "}
_SIGNS = {b"~": "\u00a0", b"_": "-", b"{": "{", b"}": "}", b"\\": "\\", b"\t": "\t"}
# Groups whose words are not of the page. A group marked \* is one too, unless it is named among those after.
_LEFT_OUT = frozenset("fonttbl colortbl stylesheet info pict nonshppict objdata header headerl headerr headerf footer footerl footerr footerf filetbl fldinst sn sv shprslt do nonesttables xe tc rxe txe revtbl listtable listoverridetable datafield themedata colorschememapping bkmkstart bkmkend ftnsep ftnsepc ftncn aftnsep aftnsepc aftncn private template mmath".split())
_STORIES = {"annotation": "note", "footnote": "note", "atnid": "initials", "listtext": "marker", "pntext": "marker", "shptxt": "box"}
_READ_THOUGH_MARKED = frozenset(["shpinst", "nesttableprops", *_STORIES])
_CHARSETS = {77: "mac_roman", 128: "cp932", 129: "cp949", 134: "cp936", 136: "cp950", 161: "cp1253", 162: "cp1254", 163: "cp1258", 177: "cp1255", 178: "cp1256", 186: "cp1257", 204: "cp1251", 222: "cp874", 238: "cp1250", 254: "cp437", 255: "cp850"}
_SYMBOL_SET = 2
_SETS = {"ansi": 1252, "mac": 10000, "pc": 437, "pca": 850}


def read(data: bytes) -> Text | Unreadable:
    """The text of an .rtf file."""
    if not data.startswith(b"{\\rtf"):
        return Unreadable(f"not {_KIND}: it does not begin as one")
    if data.count(b"\\") + data.count(b"{") > MOST_ORDERS:
        return Unreadable(f"{_KIND} with more than {MOST_ORDERS:,} orders in it; a recipe of that size is not read")
    try:
        return _Reader().text(data)
    except Refused as problem:
        return Unreadable(f"{_KIND} with {problem}")
    except Exception as problem:  # codecs of a named page may raise what they like, and nothing may leave here raised
        return Unreadable(f"{_KIND} that is damaged ({problem or type(problem).__name__}); open it where it was made and save it again")


class _Story(Struct):
    """Words that end up together: the page, a note, a list mark, a box. ``tables`` : cells and lines of the open cell, by level."""

    kind: str
    lines: Lines
    runs: list[tuple[str, Mark]]
    tables: dict[int, tuple[list[list[str]], list[str]]]
    depth: int = 0
    marker: str = ""
    after: list[str] = []
    boxes: list[list[str]] = []


class _State(Struct):
    """What a group inherits and gives back when it closes."""

    story: _Story
    left_out: bool = False
    starred: bool = False
    font: int | None = None
    fallback: int = 1
    struck: bool = False
    deleted: bool = False
    new: bool = False
    hidden: bool = False
    level: int = 0
    heading: bool = False
    turns: bool = False


def _story(kind: str, depth: int) -> _Story:
    if depth > DEEPEST:
        raise Refused(f"notes or boxes nested more than {DEEPEST} deep; it is not read")
    return _Story(kind, Lines(), [], {}, depth)


class _Reader:
    def __init__(self) -> None:
        self._page = _story("page", 0)
        self._state = _State(self._page)
        self._groups: list[_State] = []
        self._usual_font: int | None = None
        self._usual_set = "cp1252"
        self._sets: dict[int, int] = {}
        self._bytes = bytearray()
        self._skip = 0
        self._initials = ""

    def text(self, data: bytes) -> Text | Unreadable:
        at = 0
        while token := _TOKEN.match(data, at):
            at = token.end()
            word, figure, code, sign, brace, plain = token.groups()
            if code is not None:
                self._literal(bytes([int(code, 16)]))
            elif plain is not None:
                self._literal(plain)
            elif brace == b"{":
                self._flush()
                self._groups.append(self._state)
                self._state = replace(self._state, starred=False)
                self._skip = 0
                if len(self._groups) > _MOST_GROUPS:
                    raise Refused(f"groups nested more than {_MOST_GROUPS:,} deep; it is not read")
            elif brace is not None:
                self._flush()
                self._close()
                self._skip = 0
                if not self._groups:
                    break
            elif word is not None:
                self._flush()
                if word == b"bin":
                    at += max(int(figure or 0), 0)
                elif self._skip:
                    self._skip -= 1
                else:
                    self._word(word.decode("ascii"), None if figure is None else int(figure))
            elif sign is not None:
                self._flush()
                self._sign(sign)
        if self._groups:
            return Unreadable(f"{_KIND} that is cut off before its end; open it where it was made and save it again")
        self._end(self._page)
        found = self._page.lines.text()
        if found.text:
            return found
        return Unreadable(f"{_KIND} with pictures and no text; type the page out" if b"\\pict" in data else f"{_KIND} with nothing in it")

    def _close(self) -> None:
        """A group ends; a story that ends with it goes where it belongs."""
        done = self._state.story
        if done.runs and (len(self._groups) == 1 or self._groups[-1].story is not done):
            self._paragraph()
        self._state = self._groups.pop()
        into = self._state.story
        if into is done:
            return
        self._end(done)
        words = " ".join(done.lines.lines)
        if done.kind == "initials":
            self._initials = words
        elif done.kind == "marker":
            into.marker = _mark_of(words) if words.strip() else into.marker
        elif done.kind == "box":
            into.boxes.append(done.lines.lines)
        else:
            line, self._initials = noted(words, self._initials), ""
            into.after += [line] if line else []

    def _sign(self, sign: bytes) -> None:
        if self._skip:
            self._skip -= 1
        elif sign == b"*":
            self._state.starred = True
        elif sign in b"\r\n":
            self._paragraph()
        else:
            self._say(_SIGNS.get(sign, ""))

    def _literal(self, data: bytes) -> None:
        """Bytes of the page's or the font's set, those that stand in for a character already told left out."""
        skipped = min(self._skip, len(data))
        self._skip -= skipped
        if not self._state.left_out and not self._state.hidden:
            self._bytes += data[skipped:]

    def _flush(self) -> None:
        if self._bytes:
            data, self._bytes = bytes(self._bytes), bytearray()
            font = self._usual_font if self._state.font is None else self._state.font
            charset = self._sets.get(-1 if font is None else font, 0)
            if charset == _SYMBOL_SET:
                self._say("".join(chr(0xF000 + byte) for byte in data))
            else:
                self._say(data.decode(_CHARSETS.get(charset, self._usual_set), errors="replace"))

    def _say(self, text: str) -> None:
        state = self._state
        if text and not state.left_out and not state.hidden:
            state.story.runs.append((text, "struck" if state.struck or state.deleted else "new" if state.new else ""))

    def _word(self, word: str, figure: int | None) -> None:
        state = self._state
        if word == "fcharset":  # in the table of fonts, which is otherwise left out
            self._sets[-1 if state.font is None else state.font] = figure or 0
        elif word == "f":
            state.font = figure
        if state.left_out:
            return
        on, starred, state.starred = figure != 0, state.starred, False
        if word in _LEFT_OUT or (starred and word not in _READ_THOUGH_MARKED):
            state.left_out = True
        elif word in _STORIES:
            self._state = replace(state, story=_story(_STORIES[word], state.story.depth + 1), struck=False, deleted=False, new=False, hidden=False, level=0, heading=False, turns=False)
        elif word in _CHARACTERS:
            self._say(_CHARACTERS[word])
        elif word in ("par", "sect"):
            self._paragraph()
        elif word in ("cell", "nestcell"):
            self._cell(1 if word == "cell" else max(state.level, 2))
        elif word in ("row", "nestrow"):
            self._row(1 if word == "row" else max(state.level, 2))
        elif word == "u" and figure is not None:
            code = figure + 0x10000 if figure < 0 else figure
            self._say(chr(code) if 0 <= code < 0x110000 else "\ufffd")
            self._skip = state.fallback
        elif word == "uc":
            state.fallback = min(max(figure or 0, 0), 100)
        elif word in ("strike", "striked"):
            state.struck = on
        elif word == "deleted":
            state.deleted = on
        elif word == "revised":
            state.new = on
        elif word == "v":
            state.hidden = on
        elif word == "plain":
            state.struck = state.deleted = state.new = state.hidden = False
            state.font = None
        elif word == "pard":
            state.level, state.heading, state.turns = 0, False, False
        elif word == "intbl":
            state.level = max(state.level, 1)
        elif word == "itap":
            state.level = figure if figure is not None and figure > 0 else 0
            if state.level > DEEPEST:
                raise Refused(f"tables nested more than {DEEPEST} deep; it is not read")
        elif word == "outlinelevel":
            state.heading = 0 <= (figure or 0) < 9
        elif word == "pagebb":
            state.turns = on
        elif word == "deff":
            self._usual_font = figure
        elif word == "ansicpg" or word in _SETS:
            self._usual_set = _set_of(figure or 1252 if word == "ansicpg" else _SETS[word])

    def _words(self, story: _Story) -> str:
        words = crossed(story.runs)
        story.runs = []
        # A character beyond the first 65,536 is told in two halves.
        return words.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")

    def _paragraph(self) -> None:
        state = self._state
        if state.left_out:
            return
        story = state.story
        words = self._words(story)
        marker, story.marker = story.marker, ""
        words = words if state.heading or not words.strip() else marker + words
        if state.level:
            story.tables.setdefault(state.level, ([], []))[1].append(words)
            return
        self._rest(story)
        if state.turns and story.lines.started:
            story.lines.page()
        story.lines.paragraph(words, state.heading)
        self._beside(story)

    def _beside(self, story: _Story) -> None:
        for line in [*story.after, *(line for box in story.boxes for line in box)]:
            story.lines.add(line)
        story.after, story.boxes = [], []

    def _cell(self, level: int) -> None:
        story = self._state.story
        cells, lines = story.tables.get(level, ([], []))
        marker, story.marker = story.marker, ""
        words = self._words(story)
        cells.append([*lines, marker + words if words.strip() else words])
        story.tables[level] = (cells, [])

    def _row(self, level: int) -> None:
        story = self._state.story
        cells, _ = story.tables.pop(level, ([], []))
        if level > 1:
            story.tables.setdefault(level - 1, ([], []))[1].extend(row(cells))
            return
        for line in row(cells):
            story.lines.add(line)
        self._beside(story)

    def _rest(self, story: _Story) -> None:
        """Rows that nothing ended, innermost first."""
        for level in sorted(story.tables, reverse=True):
            cells, lines = story.tables.pop(level)
            written = row([*cells, lines]) if lines else row(cells)
            if level - 1 in story.tables:
                story.tables[level - 1][1].extend(written)
            else:
                for line in written:
                    story.lines.add(line)

    def _end(self, story: _Story) -> None:
        self._rest(story)
        self._beside(story)


def _mark_of(text: str) -> str:
    """What stands before an item, as the other readers write it."""
    found = re.search(r"(\d{1,9})(?!.*\d)|\b([A-Za-z])[.)]", text[:40])
    if found is None:
        return "- "
    return counted("number", int(found[1])) if found[1] else f"{found[2].lower()}) "


@cache
def _set_of(number: int) -> str:
    """The codec of a code page by its number."""
    name = {0: "cp1252", 10000: "mac_roman", 65001: "utf-8"}.get(number, f"cp{number}")
    try:
        return codecs.lookup(name).name
    except LookupError:
        return "cp1252"
