"""The formula page: each ingredient by percent of green weight, what goes in by each sum, the flow, and points to confirm."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from overhaul.bench import flow, hazards, variance_file
from overhaul.bench.control_points import control_points
from overhaul.bench.weights import Called, by_section, called_for, stated_green
from overhaul.output.sheets import Asked
from overhaul.recipe.model import Recipe
from overhaul.rules.cold_and_time.judging import named
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case
from overhaul.span import Span
from overhaul.sums.work import Sums
from overhaul.sums.worked import Sum, figure

AGENTS = ("nitrite", "nitrate", "accelerator", "phosphate")
METHODS = ("direct", "pump", "pick_up", "equilibrium", "estimate")
METHOD_WORDS = {
    "direct": "rubbed on or mixed in", "pump": "pumped", "pick_up": "soaked, by pick-up", "equilibrium": "soaked, meat and pickle as one system", "estimate": "soaked, by diffusion over the days stated",
}  # fmt: skip
OTHERS = {
    "brine_strength": "Salt in the brine", "brine_salometer": "On the salometer", "days_to_middle": "Days to reach the middle", "nitrite_middle": "Nitrite in the middle",
    "salt_equilibrium": "Salt in the meat when level", "salt_after_cure": "Salt after the cure", "salt_as_eaten": "Salt as eaten",
}  # fmt: skip
HAVE = {"here": "Here", "missing": "Missing from the recipe", "kitchen": "For the kitchen to add"}


class Line(Struct, frozen=True):
    """One ingredient."""

    name: str
    line: int
    grams: str
    percent: str
    cure: bool


class Worked(Struct, frozen=True):
    """One sum: its figure, how it was worked, what it assumed and its limit."""

    what: str
    value: str
    sum: str
    assumed: str
    limit: str | None


def body(recipe: Recipe, sums: Sums, asked: Asked) -> dict[str, Any]:
    case = Case(recipe, sums, sums.house)
    points = control_points(recipe, sums)
    stages = flow.stages(recipe)
    rows = called_for(recipe, sums)
    agents = _agents(case)
    others = _others(sums)
    used = [found for name, found in sums.all().items() if name in OTHERS or name.partition("_")[0] in AGENTS]
    green = stated_green(sums)
    return {
        "hazards": hazards.hazards(recipe, sums), "told": lambda one: hazards.told(recipe, one), "product": recipe.product, "kind": _class(case), "law": sums.house.law,
        "green": figure(green, "gram") if green is not None else None, "lists": [(name, [_line(row) for row in own]) for name, own in by_section(rows)], "agents": agents, "others": others, "not_worked": _not_worked(case),
        "stages": [(stage, [number for number, point in enumerate(points, 1) if set(point.phases) & set(stage.phases)]) for stage in stages], "points": points,
        "asked": [(words, [row for row in asked_for if row.have == have]) for have, words in HAVE.items()] if (asked_for := variance_file.asked_for(recipe, sums)) else [], "sources": _sources(used),
    }  # fmt: skip


def _class(case: Case) -> str | None:
    found = judging.product_class(case)
    return judging.CLASS_WORDS[found] if found is not None and case.process.cure is not None else None


def _line(row: Called) -> Line:
    grams = row.grams or (row.written if row.counted else f"{row.written}: {row.spread}" if row.spread is not None else row.written)
    percent = _percent(row.percent) if row.percent is not None else row.rate or "not known"
    return Line(row.name, row.line, grams, percent, row.cure)


def _percent(span: Span) -> str:
    """Three figures; a curing salt's hundredths matter."""
    return figure(span, "percent").split(" (likely")[0]


def _agents(case: Case) -> list[Worked]:
    """What goes in by each official sum, and the estimate beside it, with the limit."""
    found = []
    for agent in AGENTS:
        for method in METHODS:
            one = case.sums.get(f"{agent}_{method}")
            if one is None:
                continue
            limit = judging.limit_for(case, agent, "dry" if method == "direct" and case.sums.rub is not None else None) if agent != "phosphate" else None
            judged = "not judged by" if method in ("pick_up", "estimate") else None
            told = judged or limit.told if limit is not None else None
            found.append(Worked(f"{agent[0].upper()}{agent[1:]}, {METHOD_WORDS[method]}", figure(one.value, one.unit), one.worked() if method != "estimate" or one.pencil else one.formula, "; ".join(one.assumed), told))
    return found


def _others(sums: Sums) -> list[Worked]:
    """Salt, brine and days; a sum that fits on a line stands beside its figure, the rest are those of ``overhaul sums``."""
    return [Worked(what, figure(one.value, one.unit), one.worked() if one.pencil and one.value.exact else "", "", None) for name, what in OTHERS.items() if (one := sums.get(name)) is not None]


def _not_worked(case: Case) -> list[str]:
    """Why none of the sums of nitrite could be worked, where there is any to work."""
    if not case.recipe.of_role("cure1", "cure2", "nitrite", "ready-mix") or any(case.sums.get(name) is not None for name in judging.INGOING):
        return []
    return list(dict.fromkeys(why for name in judging.INGOING if (why := case.sums.why_not(name)) is not None))


def _sources(found: list[Sum]) -> list[str]:
    """Where the sums come from, each work once; the limits have theirs beside them."""
    return list(dict.fromkeys(named(cite) for one in found for cite in one.sources))
