"""From amounts to grams: weights exactly, measures through facts/ with their spans."""

from __future__ import annotations

from msgspec.structs import replace

from overhaul import facts
from overhaul.house import House
from overhaul.reading import units
from overhaul.recipe.model import Amount
from overhaul.span import Span, added, between

_KIND_BY_ROLE = {"ready-mix": "cure_no1", "nitrite": "sodium_nitrate", "water": "water_cold", "liquid": "water_cold", "acid": "vinegar", "cure1": "cure_no1", "cure2": "cure_no2", "salt": "salt_kind_unknown", "ice": "ice_unspecified_bulk"}
_HEAPS = {"heaping": "heap.heaping", "heaped": "heap.heaping", "rounded": "heap.rounded", "generous": "heap.rounded", "scant": "heap.scant"}


def scaled(span: Span, low: float, high: float) -> Span:
    """``span`` times an amount between ``low`` and ``high``."""
    return Span(span.low * low, span.likely * (low + high) / 2, span.high * high)


def salt_kind(kind: str, house: House) -> str:
    """The kind of salt, narrowed by the house sheet."""
    if kind == "kosher_kind_unknown":
        return house.salt_kinds.get("kosher", kind)
    if kind == "salt_kind_unknown":
        return house.salt_kinds.get("salt", kind)
    return kind


def in_grams(amount: Amount, role: str, kind: str | None, house: House, by_weight: bool = False) -> tuple[Span | None, bool]:
    """The mass of ``amount`` and whether it rests on a weight. None where nothing tells.

    ``by_weight``: a gallon of ice is meant as a gallon of water weighs.
    """
    if amount.other is not None:
        read, by_scale = in_grams(replace(amount, other=None), role, kind, house, by_weight)
        again, _ = in_grams(replace(amount, low=amount.other, high=amount.other, other=None), role, kind, house, by_weight)
        if read is None or again is None:
            return read, by_scale
        return Span(min(read.low, again.low), read.likely, max(read.high, again.high)), by_scale
    low = units.plain(amount.low)
    high = low if amount.high is amount.low else units.plain(amount.high)
    if low < 0:
        return None, False
    dimension = units.dimension(amount.unit)
    if dimension == "mass":
        gram = units.size(amount.unit)
        return between(low * gram, high * gram), True
    if dimension not in ("volume", "thing"):
        return None, False
    if amount.parts:
        spans = [in_grams(part, role, kind, house, by_weight)[0] for part in amount.parts]
        if any(span is None for span in spans):
            return None, False
        known = [span for span in spans if span is not None]
        return added(known), False
    kind = kind or _KIND_BY_ROLE.get(role)
    if kind is None:
        return None, False
    one = _one(amount.unit, role, kind, house, by_weight)
    if one is None:
        return None, False
    heap = _HEAPS.get((amount.vague or "").split(" ")[0])
    if heap is not None and amount.unit in ("teaspoon", "tablespoon", "cup"):
        factor = facts.fact(heap).span
        one = Span(one.low * factor.low, one.likely * factor.likely, one.high * factor.high)
    return scaled(one, low, high), False


def _one(unit: str, role: str, kind: str, house: House, by_weight: bool) -> Span | None:
    if role == "salt":
        kind = salt_kind(kind, house)
        stated = house.gram_per_cup.get(kind.split("_")[0])
        if stated is not None and unit in ("teaspoon", "tablespoon", "cup", "pint", "quart"):
            gram = stated * float(units.factor(unit) / units.factor("cup"))
            return Span(gram, gram, gram)
    if role == "ice":
        water = facts.measure("water_cold", unit)
        if by_weight and water is not None:
            return Span(water.likely, water.likely, water.likely)
        ice = facts.measure(kind, unit)
        if ice is None or water is None or kind != "ice_unspecified_bulk":
            return ice
        return Span(ice.low, ice.likely, max(ice.high, water.likely))
    if role == "aromatic" and kind == "garlic_clove" and unit == "each":
        unit = "clove"
    imperial = house.gallon == "imperial" and unit in ("gallon", "quart", "pint", "fluid_ounce")
    found = facts.measure(kind, unit)
    if found is None and unit == "peck":
        quart = facts.measure(kind, "quart")
        found = scaled(quart, *(2 * [float(units.factor("peck") / units.factor("quart"))])) if quart else None
    if found is not None and imperial:
        ratio = float(units.factor(unit, "imperial") / units.factor(unit))
        found = Span(found.low * ratio, found.likely * ratio, found.high * ratio)
    return found
