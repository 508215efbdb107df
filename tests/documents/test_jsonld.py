"""JSON-LD as a document; what it holds is tested with what writes it (tests/output/test_jsonld.py)."""

from __future__ import annotations

from overhaul.documents import jsonld
from overhaul.documents.outcome import Text, Unreadable

RECIPE = b'{"@context": "https://schema.org", "@type": "Recipe", "name": "Belly", "text": "5 kg pork belly\\n"}'


def test_more_characters_than_a_book_has_are_refused() -> None:
    assert jsonld.read(RECIPE + b" " * (5_000_000 - len(RECIPE))) == Text("5 kg pork belly\n")
    assert jsonld.read(RECIPE + b" " * (5_000_001 - len(RECIPE))) == Unreadable("more than 5,000,000 characters; a recipe of that length is not read")
