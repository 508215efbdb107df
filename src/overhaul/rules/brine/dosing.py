"""The weight of salt that a remedy names, worked back and then worked again with the recipe's own sums."""

from __future__ import annotations

from overhaul import facts
from overhaul.findings import Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.rule import Case
from overhaul.span import exactly
from overhaul.sums import solving
from overhaul.sums.of_brine import all_salt


def usual_as_eaten() -> float:
    """Percent: the middle of what people call usual."""
    taste = facts.table("sums")
    return (taste["taste.cooked.usual"].value + taste["taste.cooked.salty"].value) / 2


def for_brine(case: Case, salt: Ingredient, percent: float) -> Remedy:
    """The salt for a brine of ``percent``, the curing salt's own taken off."""
    rest = words.worked_with(case, salt, exactly(0.0))
    made = rest.get("brine_mass")
    if made is None or len(case.recipe.of_role("salt")) > 1:
        return Remedy(f"Weigh the salt: about {percent:g} % of the finished brine is usual.")
    brought = all_salt(rest)[0].likely
    try:
        gram = solving.salt_for_brine(percent, made.value.likely - brought, brought)
    except ValueError:
        return Remedy(f"Weigh the salt: about {percent:g} % of the finished brine is usual.")
    again = words.worked_with(case, salt, exactly(float(round(gram)))).get("brine_strength")
    return _weigh(case, salt, gram, f"For a {percent:g} % brine weigh", again.value.likely if again is not None else None)


def as_eaten(case: Case, salt: Ingredient, name: str, percent: float, otherwise: str) -> Remedy:
    """The salt for ``percent`` by the sum ``name``, which goes up with the salt; days, soak and pot as on the page. Else ``otherwise``."""
    found = case.sums.get(name)
    if found is None or salt.mass is None or len(case.recipe.of_role("salt")) > 1 or found.value.likely <= 0:
        return Remedy(otherwise)
    whole = all_salt(case.sums)[0].likely
    try:
        gram = solving.salt_in_proportion(percent, found.value.likely, whole, whole - salt.mass.likely)
    except ValueError:
        return Remedy(otherwise)
    anew = words.worked_with(case, salt, exactly(float(round(gram))))
    again, strength = anew.get(name), anew.get("brine_strength")
    if strength is not None and gram > salt.mass.likely and strength.value.likely > facts.table("rules")["remedy_brine_most_percent"].value:
        return Remedy(otherwise)
    if again is None or abs(again.value.likely - percent) > facts.table("rules")["remedy_slack"].value * percent:
        return Remedy(otherwise)
    return _weigh(case, salt, gram, f"{otherwise[:-1]}; or weigh", again.value.likely)


def _weigh(case: Case, salt: Ingredient, gram: float, lead: str, again: float | None) -> Remedy:
    weight = f"{gram:.0f} g"
    told = f" (worked again, {words.round_(again)} %)" if again is not None else ""
    return Remedy(f"{lead} {weight} of salt{told}.", words.weighed_instead(salt, weight))
