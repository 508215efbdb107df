"""Documents: from the bytes of a file to a page of text. Bad input is answered with a reason, never raised."""

from __future__ import annotations

import codecs
import re
from pathlib import PurePath

from overhaul.documents.decode import decode
from overhaul.documents.lines import MOST_CHARACTERS
from overhaul.documents.outcome import Text, Unreadable
from overhaul.text import Page

__all__ = ["MOST_BYTES", "SUFFIXES", "Unreadable", "converted", "data_file", "read", "readable", "recipe_file", "says_recipe_file"]

_TEXT_SUFFIXES = frozenset([".txt", ".text", ".md", ".markdown"])
# By suffix, the module here that reads it: ``read(data)`` gives a Text or an Unreadable. Each is imported when it is first needed.
_READERS = {".docx": "word", ".docm": "word", ".dotx": "word", ".odt": "odt", ".rtf": "rtf", ".html": "web", ".htm": "web", ".pdf": "pdf", ".xlsx": "workbook", ".csv": "table", ".tsv": "table", ".jsonld": "jsonld"}
SUFFIXES = _TEXT_SUFFIXES | frozenset(_READERS)
# Long before memory is in danger; a binder page is a few kilobytes.
MOST_BYTES = 20_000_000
# A whole recipe told in one breath is two or three thousand; a long page that lost its line ends a hundred thousand.
LONGEST_LINE = 200_000
# What takes time is lines and figures, and an honest page has one of either for every thirty characters. So many are free, then one for every ten.
FEWEST_CROWDED = 20_000
_DATA_SUFFIXES = frozenset([".yaml", ".yml", ".json"])
# Read as text these would be gibberish, or worse, half of a page.
_NO_READER = frozenset([".doc", ".xls", ".ods", ".zip", ".png", ".jpg", ".jpeg", ".heic", ".gif", ".tif", ".tiff"])
_BETTER = {".doc": ".docx or plain text", ".xls": ".xlsx or .csv", ".ods": ".xlsx or .csv", ".zip": "a file of its own"}
_RECIPE_FILE = re.compile(r"""^[\s{[]*["']?format["']?\s*:\s*["']?overhaul/""", re.MULTILINE)


_FIGURE = re.compile("[0-9][0-9.,]*|[¼-¾⅐-⅞]")
_JSON_LD = re.compile(r'"@(?:context|graph|type)"\s*:')


def recipe_file(data: bytes, name: str) -> str | None:
    """The text of a recipe file (``format: overhaul/1``); None for a file of any other kind, and for one that is no text."""
    suffix = PurePath(name).suffix.lower()
    if len(data) > MOST_BYTES or suffix in _READERS or suffix in _NO_READER or not says_recipe_file(data):
        return None
    found = decode(data)
    return found if isinstance(found, str) else None


def says_recipe_file(data: bytes) -> bool:
    """Whether ``data``, or its beginning, says that it is a recipe file."""
    head = data[:8000]
    if head[:2] in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE):
        head = head.decode("utf-16", "replace").encode("utf-8", "replace")
    return b"overhaul/" in head and _RECIPE_FILE.search(head.decode("utf-8", "replace").removeprefix("\ufeff")) is not None


def readable(name: str) -> bool:
    """Whether a reader exists for a file of this name."""
    return PurePath(name).suffix.lower() in SUFFIXES


def data_file(name: str) -> bool:
    """Whether a file of this name may be a recipe file; only its text tells."""
    return PurePath(name).suffix.lower() in _DATA_SUFFIXES


def converted(name: str) -> bool:
    """Whether the lines of a file of this name are those of its text and not of the file itself."""
    return PurePath(name).suffix.lower() in _READERS


def read(data: bytes, name: str) -> Page | Unreadable:
    """The page of a file called ``name``. UTF-8, UTF-16 with a mark, Windows-1252 or Mac Roman text."""
    if len(data) > MOST_BYTES:
        return Unreadable(f"longer than {MOST_BYTES:,} bytes; a recipe of that length is not read")
    suffix = PurePath(name).suffix.lower()
    if suffix in _NO_READER:
        return Unreadable(f"there is no reader for {suffix} files; save the page as {_BETTER.get(suffix, 'plain text (.txt)')} and give that")
    if suffix in _READERS:
        return _page(_read_with(suffix, data), name)
    found = decode(data)
    if not isinstance(found, str):
        return Unreadable(found.reason)
    if _RECIPE_FILE.search(found[:2000]):
        return Unreadable("a recipe file (format: overhaul/1), whose fields count and not its words")
    if suffix == ".json" and _JSON_LD.search(found[:2000]):
        return _page(_read_with(".jsonld", data), name)
    if suffix in _DATA_SUFFIXES:
        return Unreadable(f"a {suffix} file without “format: overhaul/1” in it: not a recipe file")
    return _page(Text(found), name)


def _read_with(suffix: str, data: bytes) -> Text | Unreadable:
    from importlib import import_module

    found: Text | Unreadable = import_module(f"overhaul.documents.{_READERS[suffix]}").read(data)
    return found


def _page(found: Text | Unreadable, name: str) -> Page | Unreadable:
    if isinstance(found, Unreadable):
        return found
    length = len(found.text)
    if length > MOST_CHARACTERS:
        return Unreadable(f"more than {MOST_CHARACTERS:,} characters of text; a recipe of that length is not read")
    page = Page(found.text, name, found.pages)
    if length <= FEWEST_CROWDED:
        return page  # too short for any of what follows
    for what, count in (("lines", len(page.lines)), ("figures", sum(1 for _ in _FIGURE.finditer(found.text)))):
        if count > FEWEST_CROWDED + length // 10:
            return Unreadable(f"{count:,} {what} in {length:,} characters; no recipe is so crowded, and it is not read")
    for line in page.lines:
        if line.place.end - line.place.start > LONGEST_LINE:
            return Unreadable(f"line {line.number} is {line.place.end - line.place.start:,} characters long; a line of more than {LONGEST_LINE:,} is not read")
    return page
