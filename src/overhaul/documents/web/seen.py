"""The lines of a web page as a reader of it sees them."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable

from msgspec import Struct

from overhaul.documents.lines import DEEPEST, Mark, counted, crossed, row
from overhaul.documents.web.markup import Events, Open

NEVER = frozenset("head script style template noscript svg iframe object canvas audio video select button textarea datalist dialog rt rp".split())
AROUND = frozenset("nav header footer aside form".split())
PARTS = frozenset(["article", "main"])
_HEADINGS = frozenset(["h1", "h2", "h3", "h4", "h5", "h6"])
_BLOCKS = _HEADINGS | AROUND | PARTS | frozenset("address blockquote body caption center dd details dir div dl dt fieldset figcaption figure hgroup hr html legend li menu ol option p pre section summary table tbody td tfoot th thead tr ul".split())
_APART = frozenset(["p", "ul", "ol", "menu", "dir", "dl", "table", "pre", "hr", "blockquote"])  # a blank line before
_LISTS = frozenset(["ul", "ol", "menu", "dir"])
_CELLS = frozenset(["td", "th"])
_STRUCK = frozenset(["del", "s", "strike"])
_THROUGH = re.compile(r"text-decoration(?:-line)?\s*:[^;]*line-through", re.IGNORECASE)
_BOX = re.compile(r"^[▢☐□◻❏❑❒✓✔•·▪◦]\s*")
_BLANKS = re.compile(r"[ \t\n\r\f]+")


class Line(Struct):
    """One line as it is seen. ``kind`` : of li, p, tr, h, pre or nothing; ``group`` : of one list, table or box; ``apart`` : a blank line before it."""

    text: str
    kind: str
    group: int
    apart: bool
    plain: str  # without the list mark


def _raised(text: str) -> str:
    """Words with raised (between \\x03 and \\x04) and lowered (\\x05, \\x06) letters as plain ones, so that ``1¹/₂`` is 1 1/2 and not 11/2."""
    if "\x03" not in text and "\x05" not in text:
        return text
    text = re.sub(r"(\d ?)?\x03\s*(\d+)\s*\x04\s*(?:[/⁄∕]\s*)?\x05\s*(\d+)\s*\x06", _fraction, text)
    text = re.sub(r"(\d ?)?\x03\s*(\d+)\s*\x04\s*[/⁄∕]\s*(\d+)", _fraction, text)
    text = re.sub(r"(\d ?)?\x03\s*(\d+)\s*[/⁄∕]\s*(\d+)\s*\x04", _fraction, text)
    text = re.sub(r"(\d ?)?\x03\s*(\d+)\s*[/⁄∕]\s*\x04\s*\x05\s*(\d+)\s*\x06", _fraction, text)
    text = re.sub(r"(?<=\d)\s*\x03\s*[oO0º°]\s*\x04(?=\s*[FC]\b)", "°", text)
    text = re.sub(r"(?<=\d)\x03(?=\s*\d)", "^", text)  # a power, or the mark of a footnote: never a digit more
    text = re.sub(r"(?<=\d)\x05(?=\s*\d)", "_", text)
    text = re.sub(r"(?<![a-z])(in|ft|m|cm|mm)\x03(?=[23]\x04)", r"\1", text)
    text = re.sub(r"\x03\s*(\d+)\s*\x04", r" [\1]", text)
    return re.sub("[\x03-\x06]", "", text)


def _fraction(found: re.Match[str]) -> str:
    return f"{(found[1] or '').rstrip()}{' ' if found[1] else ''}{found[2]}/{found[3]}"


class _Row(Struct):
    """A table's row while its cells come in, each by its lines."""

    cells: list[list[Line]]
    down: dict[int, int]  # by column, the rows that a cell above still reaches down

    def skip(self) -> None:
        """Past the places of cells that reach down from above."""
        while self.down.get(len(self.cells), 0) > 0:
            self.down[len(self.cells)] -= 1
            self.cells.append([])


class _Around(Struct):
    """An element that is open. ``after`` : what to do at its end."""

    tag: str
    after: Callable[[], None] | None = None


class Seen:
    """The lines of a run of events as a reader of the page sees them."""

    def __init__(self, events: Events, skipped: frozenset[str]) -> None:
        self._events, self._skipped = events, skipped
        self._sinks: list[list[Line]] = [[]]
        self._runs: list[tuple[str, Mark]] = []
        self._blank = True  # whether what came last ends with a blank, or nothing came yet
        self._apart = False
        self._struck = self._new = self._pre = self._inside = 0
        self._mark = ""
        self._kinds: list[tuple[str, int]] = [("", -1)]
        self._counts: list[tuple[bool, list[int]]] = []
        self._rows: list[_Row | None] = []
        self._tables: list[dict[int, int]] = []

    def lines(self, start: int, end: int) -> list[Line]:
        """The lines of the events from ``start`` up to ``end``."""
        open_: list[_Around] = []
        at = start
        glue = False  # right after a span: two of them in a row are apart on the page by their style
        while at < end:
            event = self._events[at]
            if isinstance(event, str):
                self._words(event, glue)
                glue = False
            elif event is None:
                if open_:
                    closed = open_.pop()
                    if closed.after is not None:
                        closed.after()
                    glue = closed.tag == "span"
            elif event.tag in NEVER or event.hidden or (event.tag in self._skipped and not (event.tag == "header" and self._inside)):
                at = event.end
                continue
            else:
                glue = glue and event.tag == "span"
                open_.append(_Around(event.tag, self._start(event, at)))
            at += 1
        for left in reversed(open_):
            if left.after is not None:
                left.after()
        self._flush()
        return self._sinks[0]

    def _words(self, words: str, glue: bool) -> None:
        mark: Mark = "struck" if self._struck else "new" if self._new else ""
        if self._pre:
            self._runs.append((words.replace("\r\n", "\n"), mark))
            return
        words = _BLANKS.sub(" ", words)
        if self._blank:
            words = words.lstrip(" ")
        if not words:
            return
        if glue and self._runs and self._runs[-1][0][-1:].isalnum() and words[0].isalnum():
            words = f" {words}"
        self._runs.append((words, mark))
        self._blank = words[-1] == " "

    def _flush(self) -> None:
        """Ends the line, or lines, that the words so far are."""
        if self._runs:
            runs = [(_raised("".join(words for words, _ in group)), mark) for mark, group in itertools.groupby(self._runs, key=lambda run: run[1])]
            text = crossed(runs)
            kind, group = self._kinds[-1]
            if self._pre:
                for each in text.removeprefix("\n").rstrip().split("\n"):
                    self._put(each.rstrip(), "pre", group)
            else:
                for each in text.split("\n"):
                    if each.strip():
                        self._put(each.strip(), kind, group)
            self._runs = []
        self._blank = True

    def _put(self, text: str, kind: str, group: int) -> None:
        plain = _BOX.sub("", text) if kind == "li" else text
        mark, self._mark = self._mark, ""
        if mark[:1].isdigit() and plain.startswith(mark):
            mark = ""  # numbered by hand inside a numbered list
        apart = self._apart and len(self._sinks) == 1
        self._sinks[-1].append(Line(mark + plain, kind, group, apart, plain))
        self._apart = self._apart and not apart

    def _separate(self) -> None:
        """A blank line before what comes, except right under a heading that is no title, and inside lists and cells."""
        sink = self._sinks[-1]
        if sink and (sink[-1].kind != "h" or len(sink) == 1) and not self._counts and len(self._sinks) == 1:
            self._apart = True

    def _start(self, event: Open, at: int) -> Callable[[], None] | None:
        tag = event.tag
        if tag == "br":
            self._runs.append(("\n", ""))
            self._blank = True
            return None
        if tag in ("sup", "sub"):
            self._runs.append(("\x03" if tag == "sup" else "\x05", "struck" if self._struck else "new" if self._new else ""))
            return lambda: self._lower("\x04" if tag == "sup" else "\x06")
        crossed_out = tag in _STRUCK or (bool(event.attributes) and bool(_THROUGH.search(event.get("style")[:2000])))
        if crossed_out or tag == "ins":
            self._struck += crossed_out
            self._new += not crossed_out
            if tag not in _BLOCKS:
                return lambda: self._uncross(crossed_out)
        if tag not in _BLOCKS:
            return None
        self._flush()
        end = self._block(event, at)
        if not crossed_out:
            return end

        def ended() -> None:
            end()
            self._uncross(crossed_out)

        return ended

    def _lower(self, sign: str) -> None:
        self._runs.append((sign, "struck" if self._struck else "new" if self._new else ""))

    def _uncross(self, crossed_out: bool) -> None:
        self._struck -= crossed_out
        self._new -= not crossed_out

    def _block(self, event: Open, at: int) -> Callable[[], None]:
        """Begins a block; what is given back ends it."""
        tag = event.tag
        if tag in _HEADINGS:
            self._apart = self._apart or (len(self._sinks) == 1 and bool(self._sinks[0]))
            return self._of_kind("h", at)
        if tag in _APART:
            self._separate()
        kind, group = self._kinds[-1]
        if tag == "pre":
            self._pre += 1
            return self._ended_pre
        if tag in _LISTS:
            self._counts.append((tag == "ol", [_whole(event.get("start"), 1)]))
            return self._ended_list(self._of_kind(kind, at))
        if tag == "li":
            ordered, count = self._counts[-1] if self._counts else (False, [1])
            count[0] = _whole(event.get("value"), count[0])
            self._mark = counted("number" if ordered else "bullet", count[0])
            count[0] += 1
            return self._ended_item(self._of_kind("li", group))
        if tag == "table":
            self._tables.append({})
            self._rows.append(None)
            return self._ended_table(self._of_kind("tr", at))
        if tag == "tr" and self._tables and self._rows[-1] is None:
            self._rows[-1] = _Row([], self._tables[-1])
            return self._ended_row
        if tag in _CELLS and self._rows and self._rows[-1] is not None and len(self._sinks) < DEEPEST:
            return self._cell(event, self._rows[-1])
        if tag in PARTS:
            self._inside += 1
            return self._ended_part
        if tag == "p":  # in an item of a list it is the item
            return self._ended_paragraph(self._of_kind(kind or "p", group))
        return self._of_kind(kind, at if kind != "li" else group)

    def _of_kind(self, kind: str, group: int) -> Callable[[], None]:
        self._kinds.append((kind, group))
        return self._ended

    def _ended(self) -> None:
        self._flush()
        self._kinds.pop()

    def _ended_item(self, end: Callable[[], None]) -> Callable[[], None]:
        def ended() -> None:
            end()
            self._mark = ""

        return ended

    def _ended_paragraph(self, end: Callable[[], None]) -> Callable[[], None]:
        def ended() -> None:
            end()
            self._separate()

        return ended

    def _ended_pre(self) -> None:
        self._flush()
        self._pre -= 1
        self._separate()

    def _ended_list(self, end: Callable[[], None]) -> Callable[[], None]:
        def ended() -> None:
            end()
            self._counts.pop()
            self._separate()

        return ended

    def _ended_part(self) -> None:
        self._flush()
        self._inside -= 1

    def _ended_table(self, end: Callable[[], None]) -> Callable[[], None]:
        def ended() -> None:
            end()
            self._tables.pop()
            self._rows.pop()
            self._separate()

        return ended

    def _cell(self, event: Open, into: _Row) -> Callable[[], None]:
        into.skip()
        sink: list[Line] = []
        self._sinks.append(sink)
        depth = len(self._sinks)
        counts, self._counts = self._counts, []
        end = self._of_kind("", self._kinds[-1][1])

        def ended() -> None:
            end()
            del self._sinks[depth - 1 :]
            self._counts = counts
            wide, deep = (min(max(_whole(event.get(name), 1), 1), 63) for name in ("colspan", "rowspan"))
            for place in range(wide):
                if deep > 1:
                    into.down[len(into.cells)] = deep - 1
                into.cells.append(sink if place == 0 else [])

        return ended

    def _ended_row(self) -> None:
        self._flush()
        found, self._rows[-1] = self._rows[-1], None
        if found is None:
            return
        found.skip()
        filled = [cell for cell in found.cells if cell]
        if (len(filled) == 1 and (found.cells[0] or len(filled[0]) > 1)) or any(line.kind == "tr" for cell in filled for line in cell):
            # No row, but a page laid out by a table.
            for cell in filled:
                cell[0].apart = self._apart and len(self._sinks) == 1
                self._sinks[-1] += cell
                self._apart = True
            self._apart = False
            return
        kind, group = self._kinds[-1]
        for text in row([[line.text for line in cell] for cell in found.cells]):
            if not text:
                self._apart = True
            elif text.strip():
                self._put(text.rstrip(), kind, group)


def _whole(text: str, otherwise: int) -> int:
    return int(text) if re.fullmatch(r"[0-9]{1,6}", text.strip()) else otherwise
