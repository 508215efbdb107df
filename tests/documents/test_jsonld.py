"""JSON-LD as a document; what it holds is tested with what writes it (tests/output/test_jsonld.py)."""

from __future__ import annotations

from overhaul.documents import jsonld
from overhaul.documents.outcome import Text, Unreadable

RECIPE = b'{"@context": "https://schema.org", "@type": "Recipe", "name": "Belly", "text": "5 kg pork belly\\n"}'


def test_more_characters_than_a_book_has_are_refused() -> None:
    assert jsonld.read(RECIPE + b" " * (4_000_000 - len(RECIPE))) == Text("5 kg pork belly\n")
    assert jsonld.read(RECIPE + b" " * (4_000_001 - len(RECIPE))) == Unreadable("more than 4,000,000 characters; a recipe of that length is not read")


def test_a_page_that_tells_a_hundred_thousand_things_is_not_looked_through_for_each() -> None:
    """It would take minutes: the page then counts for nothing, as one does that lacks an ingredient."""
    few, many = (b'{"@context": "https://schema.org", "@type": "Recipe", "name": "Belly", "text": "%s\\n", "recipeIngredient": [%s]}' % (b" ".join(words), b",".join(b'"%s"' % word for word in words)) for words in ([b"ab%d" % number for number in range(most)] for most in (5_000, 12_000)))
    short, long = jsonld.read(few), jsonld.read(many)
    assert isinstance(short, Text)
    assert isinstance(long, Text)
    assert short.text.startswith("ab0 ab1 ")
    assert long.text.startswith("Belly\n")
