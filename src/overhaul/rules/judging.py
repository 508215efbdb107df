"""Which class of limit a recipe falls under, and which row of the judging table its sums meet."""

from __future__ import annotations

from dataclasses import dataclass

from overhaul import facts
from overhaul.findings import Grade
from overhaul.recipe.model import CURING_SALTS, Ingredient
from overhaul.rules.rule import Case
from overhaul.span import Span
from overhaul.sums import nitrite as sums_nitrite
from overhaul.sums.work import Sum

CLASS_WORDS = {
    "brine": "whole muscle in brine", "pumped": "pumped whole muscle", "ground": "ground meat", "dry": "dry-cured whole muscle",
    "belly_brine": "pork belly in brine", "belly_pumped": "pumped pork belly", "belly_dry": "dry-cured pork belly",
}  # fmt: skip


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


@dataclass(frozen=True, slots=True)
class Limit:
    """The limit that applies, in ppm, after the rind is taken off; and its fact."""

    ppm: float
    fact: facts.Fact
    words: str
    rind: bool


def limit_for(case: Case, agent: str) -> Limit | None:
    """The ingoing limit of ``agent`` for this recipe, or None where none is set."""
    found = product_class(case)
    if found is None:
        return None
    fact = facts.limit(case.house.law, agent, found)
    if fact is None:
        return None
    meat = case.process.meat
    rind = found.startswith("belly") and meat is not None and meat.skin
    return Limit(sums_nitrite.skin_on(fact.value) if rind else fact.value, fact, CLASS_WORDS[found], rind)


def main_source(case: Case, agent: str) -> Ingredient | None:
    """The ingredient that brings most of ``agent``."""
    roles = {"nitrite": ("nitrite", "cure1", "cure2", "ready-mix"), "nitrate": ("nitrate", "cure2", "ready-mix")}[agent]
    found = [item for item in case.recipe.ingredients if item.role in roles and item.use == "cure" and item.amount is not None]
    return min(found, key=lambda item: roles.index(item.role), default=None)


@dataclass(frozen=True, slots=True)
class Verdict:
    """A grade, whether certain, and the sum that decided."""

    grade: Grade
    certain: bool
    decided: Sum


def judge(case: Case, agent: str, limit: Limit) -> Verdict | None:
    """The row of the judging table that fits: nothing, a query, a fault, a possible or a certain hazard."""
    slack = facts.fact("nitrite.rounding_ppm").value
    poison = facts.fact("nitrite.poison_ppm").value
    top = limit.ppm + slack
    level = case.sums.get(f"{agent}_equilibrium")
    direct = case.sums.get(f"{agent}_pump") or case.sums.get(f"{agent}_direct")
    pure = any(item.role == agent for item in case.recipe.ingredients if item.role in CURING_SALTS and item.use == "cure") and agent == "nitrite"
    if direct is not None:
        found = _one_sum(case, agent, direct, limit, top, poison, pure)
    elif level is not None:
        found = _soaked(case, agent, level, limit, top, poison, pure)
    else:
        return None
    if found is not None and found.certain and not limit.fact.firm:
        return Verdict(found.grade, False, found.decided)
    return found


def _extreme(value: Span, limit: Limit, poison: float, pure: bool, agent: str) -> bool:
    return value.low >= 10 * limit.ppm or (agent == "nitrite" and value.low > poison) or (pure and value.low > 2 * limit.ppm)


def _soaked(case: Case, agent: str, level: Sum, limit: Limit, top: float, poison: float, pure: bool) -> Verdict | None:
    value = level.value
    if value.high <= top:
        return None
    if _extreme(value, limit, poison, pure, agent):
        return Verdict(Grade.HAZARD, True, level)
    estimate = case.sums.get("nitrite_estimate") if agent == "nitrite" else None
    if (estimate is not None and estimate.value.likely > top) or value.likely > 2 * limit.ppm + 0.5:
        return Verdict(Grade.HAZARD, False, level)
    if value.likely > top:
        return Verdict(Grade.FAULT, False, level)
    return Verdict(Grade.QUERY, False, level)


def _one_sum(case: Case, agent: str, direct: Sum, limit: Limit, top: float, poison: float, pure: bool) -> Verdict | None:
    value = direct.value
    if _extreme(value, limit, poison, pure, agent):
        return Verdict(Grade.HAZARD, True, direct)
    finished = facts.limit(case.house.law, agent, "dry_possible") if limit.fact.name.endswith(".dry") else None
    if value.high <= top:
        if finished is not None and value.likely > finished.value + 0.5:
            return Verdict(Grade.HAZARD, False, direct)
        return None
    if value.low > top:
        return Verdict(Grade.HAZARD, True, direct)
    if value.likely > top:
        return Verdict(Grade.HAZARD, False, direct)
    return Verdict(Grade.QUERY, False, direct)
