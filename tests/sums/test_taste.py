"""Taste bands: from tastings of ham and sold products, assumed and from memory; never judged by."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from overhaul.recipe.model import Product, Recipe
from overhaul.span import Span, exactly
from overhaul.sums.taste import told
from tests.sums.recipes import item, recipe


def made(product: Product | None = None, species: str = "beef", cured: bool = True) -> Recipe:
    found = recipe(item("water", 1000), item("salt", 50), *([item("cure1", 5)] if cured else []), species=species)
    return replace(found, product=product)


@pytest.mark.parametrize(
    ("percent", "words"),
    [
        (0.5, "bland"), (1.2, "mild"), (1.69, "mild"), (1.7, "usual"), (2.3, "usual"), (2.6, "salty"), (3.2, "too salty for most"), (9, "too salty for most"),
    ],
)  # fmt: skip
def test_one_figure_has_one_band(percent: float, words: str) -> None:
    assert told(made(), exactly(percent)) == words


def test_a_span_names_its_ends() -> None:
    assert told(made(), Span(1.3, 2.0, 3.5)) == "usual, between mild and too salty for most"
    assert told(made(), Span(1.8, 2.0, 2.5)) == "usual"
    assert told(made(), Span(1.8, 2.0, 2.8)) == "usual, perhaps salty"
    assert told(made(), Span(2.8, 3.4, 4)) == "too salty for most, perhaps salty"


def test_each_product_has_its_own_bands() -> None:
    assert told(made("bacon", "pork"), exactly(2.55)) == "salty"
    assert told(made("poultry", "turkey", cured=False), exactly(2.3)) == "too salty for most"
    assert told(made("poultry", "turkey"), exactly(2.3)) == "usual"  # cured as ham is
    assert told(made("dried", "pork"), exactly(5)) == "usual"
