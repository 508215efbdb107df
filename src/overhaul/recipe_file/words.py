"""Fields of a recipe file in the words of a page, to stand where the old words stood."""

from __future__ import annotations

from typing import Any

from overhaul.reading import units


def figure(value: float) -> str:
    """A number as a cook writes it: no exponent."""
    text = f"{value:.9f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)
    return text if float(text or 0) == value or abs(value) >= 1e-6 else repr(value)


def amount_words(amount: dict[str, Any]) -> str:
    """``{low: 7, high: 10, unit: day}`` as ``7 to 10 days``."""
    about = f"{amount['about']} " if amount.get("about") else ""
    if amount.get("parts"):
        return about + " ".join(amount_words(part) for part in amount["parts"])
    low, high, unit = amount["low"], amount["high"], amount["unit"]
    span = figure(low) if low == high else f"{figure(low)} to {figure(high)}"
    return f"{about}{span} {units.in_words(unit, several=high > 1)}".rstrip()


def ingredient_words(item: dict[str, Any]) -> str:
    """A line for an ingredient that has no text of its own."""
    said = [amount_words(item[key]) for key in ("count", "amount") if item.get(key)]
    line = " ".join([*said, item.get("name") or item.get("role") or ""]).strip()
    return f"{line}, {item['state']}" if item.get("state") else line


def said(value: Any) -> str:
    """Any field in words, for a message."""
    if value is None or value in ([], {}):
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        if value.get("unit") and "low" in value and "high" in value:
            of = f" ({value['of']})" if isinstance(value.get("of"), str) else ""
            return amount_words({**value, "about": None, "parts": None} if value["low"] is not None else {}) + of
        return ", ".join(f"{key.replace('_', ' ')} {said(inner)}" for key, inner in value.items() if key not in ("line", "mass") and inner is not None) or "yes"
    if isinstance(value, list):
        return " and ".join(said(inner) for inner in value)
    return figure(value) if isinstance(value, (int, float)) else f"“{value}”"
