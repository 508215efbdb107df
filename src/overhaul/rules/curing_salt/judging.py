"""Which limit a recipe falls under, and which row of the judging table its sums meet.

A soaked cure has several official sums that differ by a factor; the sum that takes meat and pickle as one system
may clear it and condemns only at ten times. Dry, ground and pumped cures have one sum, which decides.
"""

from __future__ import annotations

from msgspec import Struct

from overhaul import facts
from overhaul.findings import WEIGHT, Grade
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.rule import Case
from overhaul.span import Span, exactly
from overhaul.sums import nitrite
from overhaul.sums.work import Sums
from overhaul.sums.worked import Sum

CLASS_WORDS = {
    "brine": "whole muscle in brine", "pumped": "pumped whole muscle", "ground": "ground meat", "dry": "dry-cured whole muscle",
    "belly_brine": "pork belly in brine", "belly_pumped": "pumped pork belly", "belly_dry": "dry-cured pork belly",
}  # fmt: skip
SOURCES = {"nitrite": ("nitrite", "cure1", "cure2", "ready-mix"), "nitrate": ("nitrate", "cure2", "ready-mix")}
INGOING = ("nitrite_equilibrium", "nitrite_pump", "nitrite_direct")
_TEN_TIMES, _TWICE = 10, 2  # of the limit: rows of the judging table


def product_class(case: Case) -> str | None:
    """brine, pumped, ground, dry, belly_brine, belly_pumped, belly_dry; None for fish, which stands under other law."""
    recipe, process = case.recipe, case.process
    meat = process.meat
    if recipe.product in ("fish", "gravlax") or (meat is not None and meat.species == "fish"):
        return None
    method = process.cure.method if process.cure is not None else "none"
    way = {"immersion": "brine", "pumped": "pumped", "pumped-immersion": "pumped"}.get(method, "dry")
    if meat is not None and meat.cut == "pork_belly_whole":
        return f"belly_{way}"
    if recipe.product == "ground" or (meat is not None and meat.ground):
        return "ground"
    return way


def perhaps_belly(case: Case) -> bool:
    """Bacon whose cut the page does not name: from belly, most likely."""
    meat = case.process.meat
    return case.recipe.product == "bacon" and (meat is None or (meat.cut is None and meat.species in (None, "pork")))


class Limit(Struct, frozen=True):
    """The limit that applies, in ppm, less a tenth for a belly weighed with its rind; and its fact."""

    ppm: float
    fact: facts.Fact
    words: str
    rind: bool

    @property
    def top(self) -> float:
        """The limit and what its printed figure is rounded by: 156.25 is printed 156."""
        return self.ppm + facts.fact("nitrite.rounding_ppm").value

    @property
    def told(self) -> str:
        """``200 ppm for whole muscle in brine (9 CFR 424.21(c))``."""
        return f"{words.ppm(self.ppm)} for {self.words}{' weighed with its rind' if self.rind else ''} ({words.short(self.fact.cite)})"


def limit_for(case: Case, agent: str, way: str | None = None) -> Limit | None:
    """The ingoing limit of ``agent`` for this recipe, or None where none is set. ``way`` : brine, pumped or dry, where it is cured in more than one."""
    found = product_class(case)
    if found is not None and way is not None and found != "ground":
        found = f"belly_{way}" if found.startswith("belly") else way
    fact = facts.limit(case.house.law, agent, found) if found is not None else None
    if found is None or fact is None:
        return None
    meat = case.process.meat
    rind = found.startswith("belly") and meat is not None and meat.skin
    return Limit(nitrite.skin_on(fact.value) if rind else fact.value, fact, CLASS_WORDS[found], rind)


def finished_limit(case: Case, agent: str, limit: Limit) -> Limit | None:
    """For a dry cure whose finished product has a lower limit than what may go in: that one."""
    fact = facts.limit(case.house.law, agent, "dry_possible") if limit.fact.name.endswith(".dry") else None
    return Limit(fact.value, fact, limit.words, limit.rind) if fact is not None else None


def least(case: Case, limit: Limit | None) -> facts.Fact | None:
    """The usual least for a cured product kept cold; None where the law's limit is lower still, or it is kept dry."""
    fact = facts.fact("nitrite.cold_min_ca_ppm" if case.house.law == "ca" else "nitrite.cold_min_ppm")
    storage = case.process.storage
    if case.recipe.product == "dried" or (storage is not None and storage.kept == "shelf"):
        return None
    return None if limit is not None and limit.fact.value < fact.value else fact


def main_source(case: Case, agent: str) -> Ingredient | None:
    """The ingredient that brings most of ``agent``."""
    roles = SOURCES[agent]
    found = [item for item in case.recipe.of_role(*roles) if item.amount is not None]
    return min(found, key=lambda item: roles.index(item.role), default=None)


def share(case: Case, item: Ingredient, agent: str) -> Span | None:
    """Percent of ``agent`` in a curing salt: the page's figure, else the house sheet's, else the kind's; None for none of it."""
    if item.strength is not None:
        stated = item.strength.nitrite if agent == "nitrite" else item.strength.nitrate
        if stated is not None or item.role != "cure2":
            return stated
    elif (house := case.house.strengths.get(item.role)) is not None:
        return exactly(house[agent]) if agent in house else None
    fact = facts.cure_strength(item.role).get(agent)
    return fact.span if fact is not None else None


class Verdict(Struct, frozen=True):
    """A grade, whether certain, the sum that decided and the limit it was set against."""

    grade: Grade
    certain: bool
    decided: Sum
    limit: Limit


def judge(case: Case, agent: str, limit: Limit) -> Verdict | None:
    """The row of the judging table that fits: None (silent), a query, a fault, a possible or a certain hazard.

    Pumped and then covered has the needle's sum and the whole pickle's: the heavier of the two counts.
    """
    found = []
    rubbed = case.sums.rub is not None and case.sums.get(f"{agent}_direct")
    for name in ("pump", "direct"):
        if (one := case.sums.get(f"{agent}_{name}")) is not None:
            own = limit_for(case, agent, "dry") if rubbed and name == "direct" else limit
            found.append(_one_sum(case, agent, one, own or limit))
            if not rubbed:
                break
    if (level := case.sums.get(f"{agent}_equilibrium")) is not None:
        found.append(_soaked(case, agent, level, limit))
    return min((one for one in found if one is not None), key=lambda one: (WEIGHT[one.grade], not one.certain), default=None)


def _extreme(case: Case, agent: str, value: Span, limit: Limit) -> bool:
    """What no spoon explains: ten times any limit, an amount that is a poison, pure nitrite at a premix's dose."""
    poison = agent == "nitrite" and value.low > facts.fact("nitrite.poison_ppm").value
    pure = agent == "nitrite" and bool(case.recipe.of_role("nitrite")) and value.low > _TWICE * limit.ppm
    return value.low >= _TEN_TIMES * limit.ppm or poison or pure


def _soaked(case: Case, agent: str, level: Sum, limit: Limit) -> Verdict | None:
    value = level.value
    if value.high <= limit.top:
        return None
    if _extreme(case, agent, value, limit):
        return Verdict(Grade.HAZARD, True, level, limit)
    pick_up = case.sums.get(f"{agent}_pick_up")
    measured = pick_up is not None and all(one.stated for one in pick_up.inputs if one.name == "weight picked up")
    if pick_up is not None and measured and min(pick_up.value.low, value.low) > limit.top:
        return Verdict(Grade.HAZARD, limit.fact.firm, level, limit)
    estimate = case.sums.get(f"{agent}_estimate")
    if value.likely > _TWICE * limit.ppm or (value.likely > limit.top and estimate is not None and estimate.value.likely > limit.top):
        return Verdict(Grade.HAZARD, False, level, limit)
    if value.likely > limit.top:
        return Verdict(Grade.FAULT, False, level, limit)
    return Verdict(Grade.QUERY, False, level, limit)


def _one_sum(case: Case, agent: str, direct: Sum, limit: Limit) -> Verdict | None:
    value = direct.value
    if _extreme(case, agent, value, limit):
        return Verdict(Grade.HAZARD, True, direct, limit)
    if value.low > limit.top:
        return Verdict(Grade.HAZARD, limit.fact.firm, direct, limit)
    if value.likely > limit.top:
        return Verdict(Grade.HAZARD, False, direct, limit)
    finished = finished_limit(case, agent, limit)
    for bound in (finished, limit) if finished is not None else (limit,):
        if value.likely > bound.top:
            return Verdict(Grade.HAZARD, False, direct, bound)
        if value.high > bound.top:
            return Verdict(Grade.QUERY, False, direct, bound)
    return None


def highest(sums: Sums) -> Sum | None:
    """The highest of the ingoing nitrite sums."""
    found = [one for name in INGOING if (one := sums.get(name)) is not None]
    return max(found, key=lambda one: one.value.high, default=None)
