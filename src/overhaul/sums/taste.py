"""How salty so much salt tastes: bland, mild, usual, salty, or too salty for most. Said beside the sum; the rules have their own figures."""

from __future__ import annotations

from overhaul import facts
from overhaul.recipe.model import CURING_SALTS, Recipe
from overhaul.span import Span

_BANDS = ("mild", "usual", "salty", "too_salty")
_WORDS = {None: "bland", "mild": "mild", "usual": "usual", "salty": "salty", "too_salty": "too salty for most"}


def told(recipe: Recipe, percent: Span) -> str:
    """``usual, between mild and salty`` for percent salt as eaten; one word where all of it lies in one band."""
    low, likely, high = (_WORDS[_band(_kind(recipe), value)] for value in (percent.low, percent.likely, percent.high))
    if low == high:
        return likely
    return f"{likely}, perhaps {low if likely == high else high}" if likely in (low, high) else f"{likely}, between {low} and {high}"


def usual(recipe: Recipe) -> Span:
    """Percent as eaten that is usual for it: from where usual begins to where salty does, both our own figures."""
    low, high = (facts.table("sums")[f"taste.{_kind(recipe)}.{band}"].value for band in ("usual", "salty"))
    return Span(low, (low + high) / 2, high)


def _band(kind: str, percent: float) -> str | None:
    reached = [band for band in _BANDS if percent >= facts.table("sums")[f"taste.{kind}.{band}"].value]
    return reached[-1] if reached else None


def _kind(recipe: Recipe) -> str:
    if recipe.product == "dried":
        return "dried"
    meat = recipe.process.meat
    bird = recipe.product == "poultry" or (meat is not None and meat.species in ("chicken", "turkey", "duck", "goose", "poultry"))
    if bird and not recipe.of_role(*CURING_SALTS):
        return "poultry"
    return "bacon" if recipe.product == "bacon" else "cooked"
