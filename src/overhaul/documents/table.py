"""Tables kept as plain text (.csv, .tsv): each row a line, cells apart by tabs."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator
from typing import Literal

from overhaul.documents.decode import decode
from overhaul.documents.lines import Lines, Refused
from overhaul.documents.outcome import Text, Unreadable

_KIND = "a table"
# In this order: where a semicolon or a tab parts the cells of most rows, the commas stand in figures (2,5) and names.
_DELIMITERS = ("\t", ";", "|", ",")
_SAMPLE = 20_000


def read(data: bytes) -> Text | Unreadable:
    """The text of a .csv or .tsv file."""
    found = decode(data)
    if not isinstance(found, str):
        return Unreadable(found.reason)
    text = found.replace("\r\n", "\n").replace("\r", "\n")
    first, _, rest = text.partition("\n")
    said = ""
    if first.strip().strip('"').lower().startswith("sep=") and len(first.strip().strip('"')) == 5:
        said, text = first.strip().strip('"')[4], rest
    try:
        lines = Lines()
        for row in _rows(text, said or _delimiter(text)):
            cells = [" ".join(cell.split()) for cell in row]
            line = "\t".join(cells).rstrip()
            if line:
                lines.add(line)
            else:
                lines.gap()
        return lines.text()
    except Refused as problem:
        return Unreadable(f"{_KIND} with {problem}")
    except csv.Error as problem:
        return Unreadable(f"{_KIND} that is damaged ({problem}); open it where it was made and save it again")


def _delimiter(text: str) -> str:
    """What parts the cells: the first of the usual signs that cuts most rows into one number of cells, else the comma.

    Not csv.Sniffer's guess: it takes the comma before all others, and 2,5 in every row for two cells.
    """
    sample = text[:_SAMPLE]
    sample = sample[: sample.rfind("\n") + 1] or sample
    for delimiter in _DELIMITERS:
        try:
            widths = Counter(len(row) for row in _rows(sample, delimiter) if row)
        except csv.Error:
            continue
        total = widths.total()
        several = total - widths[1]
        most = max((count for width, count in widths.items() if width > 1), default=0)
        if 2 * several > total and 2 * most >= several:
            return delimiter
    return ","


def _rows(text: str, delimiter: str) -> list[list[str]]:
    try:
        return list(_parsed(text, delimiter, strict=True))
    except csv.Error:
        pass
    try:
        rows = list(_parsed(text, delimiter))
        # A quotation mark that nothing closes (an inch) would make one cell of all that follows.
        if not any(cell.count("\n") > 1 for row in rows for cell in row):
            return rows
    except csv.Error:
        pass
    return list(_parsed(text, delimiter, quoted=False))


def _parsed(text: str, delimiter: str, quoted: bool = True, strict: bool = False) -> Iterator[list[str]]:
    quoting: Literal[0, 3] = csv.QUOTE_MINIMAL if quoted else csv.QUOTE_NONE
    return iter(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, quoting=quoting, skipinitialspace=delimiter != "\t", strict=strict))
