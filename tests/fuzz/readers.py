"""What is fuzzed: for each reader, what is done with the bytes, and the pages that it begins with.

A zip archive of changed bytes is a damaged archive and nothing more; so what does not begin as one is put into an honest archive as its main part. Nothing begins with a whole archive: being shorter,
it would be kept in place of the part that says the same.
"""

from __future__ import annotations

import contextlib
import io
import zipfile
from collections.abc import Callable
from pathlib import Path

from overhaul import documents, recipe_file
from overhaul.house import House
from overhaul.house_sheet import BadSheet, read_sheet
from overhaul.output import convert
from overhaul.recipe import read_page
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.documents import test_odt, test_whole, test_word, test_workbook

_FAILED = "the program failed"
_SHEET = b"sold: true\nlaw: us\ncure: 6.25 % nitrite\nspoons:\n  kosher salt: 4.8 g a teaspoon\ncooler: 34-38 F\n"
_JSON_LD = b'{"@context": "https://schema.org", "@type": "Recipe", "name": "Belly", "recipeIngredient": ["5 kg pork belly", "12 g curing salt #1"], "recipeInstructions": [{"@type": "HowToStep", "text": "Cure 7 days at 3 C."}]}'


def _read(name: str, packed: Callable[[bytes], bytes] = bytes) -> Callable[[bytes], None]:
    def run(data: bytes) -> None:
        documents.read(data if data.startswith(b"PK") else packed(data), name)

    return run


def _audited(name: str) -> Callable[[bytes], None]:
    """The whole way, for the readers whose pages are short; a stage that fails is told as a reason, and is a finding here."""

    def run(data: bytes) -> None:
        told = recipe_file.audit(data, name, House()).unreadable
        assert told is None or _FAILED not in told, told

    return run


def _sheet(data: bytes) -> None:
    with contextlib.suppress(BadSheet):
        read_sheet(data.decode("utf-8", "replace"))


def _recipe_file(to: str) -> bytes:
    text = "Belly\n\n5 kg pork belly\n12 g curing salt #1\n\n1. Cure 7 days at 3 C.\n"
    (recipe,) = read_page(Page(text, "page.txt"), House())
    return convert.render([(recipe, Sums(recipe, House()))], to, text.encode()).encode()


def _word(xml: bytes) -> bytes:
    return test_word.repacked(_WORD, {"word/document.xml": xml})


def _workbook(xml: bytes) -> bytes:
    return test_workbook.changed(lambda name, content: xml if name == test_workbook.SHEET else content)


def _odt(xml: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(_ODT)) as given, zipfile.ZipFile(out, "w") as made:
        for name in given.namelist():
            made.writestr(name, xml if name == "content.xml" else given.read(name))
    return out.getvalue()


def _part(data: bytes, name: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return archive.read(name)


def found_before(name: str) -> list[bytes]:
    """A few of what earlier runs came upon that went a new way through the reader ``name``."""
    return [path.read_bytes() for path in sorted((_FOUND / name).iterdir())]


_FOUND = Path(__file__).parent / "found"
_WORD, _ODT, _WORKBOOK = test_word.corned_beef(), test_odt.corned_beef(), test_workbook.kitchen()
# By name: what runs, the pages it begins with.
READERS: dict[str, tuple[Callable[[bytes], None], list[bytes]]] = {
    "text": (_audited("page.txt"), [test_whole.plain()]),
    "docx": (_read("page.docx", _word), [_part(_WORD, "word/document.xml")]),
    "odt": (_read("page.odt", _odt), [_part(_ODT, "content.xml")]),
    "rtf": (_read("page.rtf"), [test_whole.rich()]),
    "pdf": (_read("page.pdf"), [test_whole.pdf()]),
    "html": (_read("page.html"), [test_whole.web(), test_whole.seen()]),
    "workbook": (_read("page.xlsx", _workbook), [_part(_WORKBOOK, test_workbook.SHEET)]),
    "csv": (_read("page.csv"), [test_whole.table()]),
    "json-ld": (_read("page.jsonld"), [_JSON_LD]),
    "yaml": (_audited("page.yaml"), [_recipe_file("yaml")]),
    "json": (_audited("page.json"), [_recipe_file("json")]),
    "sheet": (_sheet, [_SHEET]),
}
