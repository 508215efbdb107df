"""Fields of a recipe file as records of the model. What is given has passed the description (``schema.py``)."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec.structs import replace

from overhaul.house import House
from overhaul.reading import lexicon, units
from overhaul.recipe import masses
from overhaul.recipe.model import (
    Amount,
    Column,
    Cooling,
    Cure,
    CureRate,
    Fact,
    Ingredient,
    Instead,
    Measured,
    Meat,
    Mention,
    Per,
    Process,
    Step,
    Storage,
    Strength,
    Taken,
    Use,
)
from overhaul.span import Span
from overhaul.text import Place

Data = dict[str, Any]


def exact(value: float) -> Fraction:
    """The number as it is written."""
    return Fraction(str(value))


def amount(told: Data | None, place: Place) -> Amount | None:
    if not told:
        return None
    parts = tuple(part for inner in told.get("parts") or () if (part := amount(inner, place)) is not None)
    return Amount(exact(told["low"]), exact(told["high"]), told["unit"], place, parts, told.get("about"))


def _amounts(told: list[Data] | None, place: Place) -> tuple[Amount, ...]:
    return tuple(one for inner in told or () if (one := amount(inner, place)) is not None)


def span(told: Data | None) -> Span | None:
    if not told:
        return None
    return Span(float(told["low"]), float(told["likely"]), float(told["high"]))


def per(told: Data | None, place: Place) -> Per | None:
    if not told:
        return None
    return Per(exact(told["amount"]) if told.get("amount") is not None else None, told.get("unit"), told.get("of"), place)


def _kind(name: str, role: str) -> tuple[str | None, str]:
    found = lexicon.known(lexicon.plain_words(name))
    return (found.kind, found.role) if found is not None and role in ("", found.role) else (None, role or "other")


def ingredient(told: Data, old: Ingredient | None, keys: set[str], place: Place, use: Use, house: House) -> Ingredient:
    """The ingredient of these fields: of ``old`` all but ``keys``, and its grams worked anew where they hang on one of them."""
    if old is None:
        name = told.get("name") or ""
        kind, role = _kind(name, told.get("role") or "")
        blank = Ingredient(told.get("line") or 1, told.get("text") or "", place, name, place, role, kind, use=use)  # type: ignore[arg-type]
        return ingredient(told, blank, set(told) | {"amount"}, place, use, house)
    values: Data = {}
    if keys & {"name", "role"}:
        name = told.get("name") or old.name
        kind, role = _kind(name, told.get("role") or "")
        values |= {"name": name, "role": role, "kind": kind if name != old.name or role != old.role else old.kind}
    at = old.amount.place if old.amount is not None else place
    readers: dict[str, Any] = {
        "amount": lambda: amount(told.get("amount"), at),
        "count": lambda: amount(told.get("count"), old.count.place if old.count is not None else place),
        "each": lambda: told.get("each"),
        "per": lambda: per(told.get("per"), place),
        "also": lambda: _amounts(told.get("also"), at),
        "was": lambda: _amounts(told.get("was"), at),
        "instead": lambda: tuple(_instead(other, place, house) for other in told.get("instead") or ()),
        "columns": lambda: tuple(Column(exact(one["factor"]) if one.get("factor") is not None else None, made) for one in told.get("columns") or () if (made := amount(one.get("amount"), place)) is not None),
        "strength": lambda: Strength(span(told["strength"].get("nitrite")), span(told["strength"].get("nitrate")), place) if told.get("strength") else None,
        "state": lambda: told.get("state"),
        "optional": lambda: bool(told.get("optional")),
        "in_method": lambda: bool(told.get("in_method")),
        "doubt": lambda: told.get("doubt"),
    }
    values |= {key: read() for key, read in readers.items() if key in keys}
    made: Ingredient = replace(old, **values)
    return _weighed(made, house) if keys & {"name", "role", "amount", "count", "each", "also", "per"} else made


def _instead(told: Data, place: Place, house: House) -> Instead:
    kind, role = _kind(told["name"] or "", told.get("role") or "")
    made = amount(told.get("amount"), place)
    mass = masses.in_grams(made, role, kind, house)[0] if made is not None else None
    return Instead(told["name"] or "", role, kind, made, mass, place, _amounts(told.get("also"), place))  # type: ignore[arg-type]


def _weighed(item: Ingredient, house: House) -> Ingredient:
    """A weight beats the spoon on its line; a rate is filled in later (recipe/weighing.py)."""
    mass: Span | None = None
    weighed = False
    for told in (item.amount, *item.also):
        if told is None:
            continue
        found, by_scale = masses.in_grams(told, item.role, item.kind, house)
        if found is not None and (by_scale or mass is None):
            mass, weighed = found, by_scale
        if by_scale:
            break
    if mass is not None and item.count is not None and item.each:
        mass = masses.scaled(mass, float(item.count.low), float(item.count.high))
    if item.role == "meat" and (item.amount is None or units.dimension(item.amount.unit) != "mass"):
        mass, weighed = None, False
    return replace(item, mass=mass, weighed=weighed)


def _measured(told: list[Data] | None, place: Place) -> tuple[Measured, ...]:
    return tuple(Measured(made, one.get("of")) for one in told or () if (made := amount({**one, "parts": None, "about": None}, place)) is not None)


def step(told: Data, old: Step | None, keys: set[str], place: Place) -> Step:
    """The step of these fields: of ``old`` all but ``keys``."""
    if old is None:
        line = told.get("line") or 1
        return step(told, Step(line, told.get("end_line") or line, told.get("text") or "", place, "other"), set(told), place)
    values: Data = {key: tuple(told.get(key) or ()) for key in ("then", "actions") if key in keys}
    values |= {key: _measured(told.get(key), place) for key in ("times", "temperatures", "lengths", "amounts") if key in keys}
    if "phase" in keys:
        values["phase"] = told.get("phase") or "other"
    if "uses" in keys:
        values["uses"] = tuple(Taken(one.get("name") or "", amount(one.get("amount"), place), place) for one in told.get("uses") or ())
    made: Step = replace(old, **values)
    return made


_FACTS = ("pump", "cure_time", "cure_temperature", "brine_temperature", "tub", "soak", "dry", "smoke_temperature", "smoke_time", "final_temperature", "cook_time", "hold", "rest")
_MENTIONS = ("weighed_down", "turning", "thaw", "rinse")

def _fact(told: Data | None, place: Place) -> Fact | None:
    if not told or told.get("low") is None or told.get("high") is None or told.get("unit") is None:
        return None
    return Fact(float(told["low"]), float(told["high"]), told["unit"], told.get("line") or 1, place, told.get("stated") is not False, _fact(told.get("dwell"), place))


def _meat(told: Data, old: Meat | None, place: Place) -> Meat:
    pieces = told.get("pieces")
    thick: Data | None = told.get("thickness")
    base = old or Meat(told.get("line") or 1, place, told.get("name") or "meat", None, None, None, None, False, None, False)
    return replace(
        base, name=told.get("name") or base.name, species=told.get("species"), cut=told.get("cut"), pieces=(int(pieces["low"]), int(pieces["high"])) if pieces else None,
        thickness=span(thick), thickness_stated=thick is not None and thick.get("stated") is not False,
    )  # fmt: skip


def process(told: Data, old: Process, keys: set[str], place: Any) -> Process:
    """The process of these fields: of ``old`` all but ``keys``. ``place`` gives the place of a key."""
    values: Data = {}
    for key in keys:
        value = told.get(key)
        if key in _FACTS:
            values[key] = _fact(value, place(key))
        elif key in _MENTIONS:
            values[key] = None if value is None else Mention(value.get("line") or 1, place(key), "")
    if "cure_time" in keys:
        values["cure_time_hurried"] = _fact((told.get("cure_time") or {}).get("in_a_hurry"), place("cure_time"))
    if "soak" in keys:
        values["soak_waters"] = max(1, int((told.get("soak") or {}).get("waters") or 1))
    if "tub" in keys:
        values["tub_material"] = (told.get("tub") or {}).get("material")
    if "turning" in keys:
        values["turning_days"] = tuple(int(day) for day in (told.get("turning") or {}).get("days") or ())
    if "cure" in keys:
        cure = told.get("cure")
        values["cure"] = None if cure is None else Cure(cure["method"], cure.get("balance"), cure.get("line") or 1, place("cure"))
    if "meats" in keys and told.get("meats"):
        values["meats"] = tuple(_meat(one, old.meats[index] if index < len(old.meats) else None, place("meats")) for index, one in enumerate(told["meats"]))
    if "meat" in keys:
        meat = _meat(told["meat"], old.meat, place("meat")) if told.get("meat") else None
        values["meat"] = meat
        if "meats" not in values and len(old.meats) <= 1:
            values["meats"] = (meat,) if meat is not None else ()
    if "cooling" in keys:
        values["cooling"] = tuple(Cooling(float(leg["from"]), float(leg["to"]), float(leg["low"]), float(leg["high"]), leg.get("line") or 1, place("cooling")) for leg in told.get("cooling") or ())
    if "storage" in keys:
        kept = told.get("storage")
        values["storage"] = None if kept is None else Storage(float(kept["low"]), float(kept["high"]), kept.get("line") or 1, place("storage"), _fact(kept.get("temperature"), place("storage")), kept.get("kept"))
    if "cure_rate" in keys:
        rate = told.get("cure_rate")
        values["cure_rate"] = None if rate is None else CureRate(float(rate["low"]), float(rate["high"]), rate["unit"], float(rate["per"]["amount"]), rate["per"]["unit"], float(rate.get("more") or 0), rate.get("line") or 1, place("cure_rate"))
    made: Process = replace(old, **values)
    return made
