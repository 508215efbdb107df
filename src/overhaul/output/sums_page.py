"""Every sum, worked, with what it assumed; and what is missing for the rest."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from overhaul.output import weigh_out
from overhaul.output.bars import bar
from overhaul.output.clean import as_json, clean, wrapped
from overhaul.output.plain import CAUTION, source_words
from overhaul.output.tree import sums_tree
from overhaul.recipe.model import Recipe
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case
from overhaul.sums import taste
from overhaul.sums.answers import Wanted
from overhaul.sums.work import NAMES, Sums
from overhaul.sums.worked import Sum, figure

_WIDE = 1.3  # from high to low: a span that wants a reason
_NITRITE = ("direct", "pump", "pick_up", "equilibrium", "estimate")
_DRAWN_FROM = 50  # columns: narrower, a bar tells nothing


def render(recipes: list[tuple[Recipe, Sums]], width: int = 100, wanted: Wanted | None = None, *, ascii: bool = False) -> str:
    """The sums of each recipe in words, and those that have a limit or an interval as a bar; then what to weigh out.

    ``wanted`` : what is asked for besides. ``ascii`` : bars of no other characters.
    """
    lines: list[str] = []
    for recipe, sums in recipes:
        lines += [clean(recipe.title), ""]
        worked = sums.all()
        for name, found in worked.items():
            lines.append(f"{name.replace('_', ' ')}: {figure(found.value, found.unit)}")
            if not told_by_itself(found):
                lines.append(wrapped(clean(found.worked()), width, "    "))
            lines += _drawn(found, limit_of(recipe, sums, name), width, ascii)
            wide = sums.widest_share(name)
            if wide is not None and is_wide(found):
                lines.append(wrapped(f"What makes it wide: {clean(wide[0].name)}, {100 * wide[1]:.0f} % of the width.", width, "    "))
            if name == "salt_as_eaten":
                lines.append(wrapped(f"Taste: {taste.told(recipe, found.value)}.", width, "    "))
            for assumed in found.assumed:
                lines.append(wrapped(f"Assumed: {clean(assumed)}.", width, "    "))
            for other in found.beside:
                lines.append(wrapped(f"Beside it: {clean(beside_words(other))}", width, "    "))
            if found.sources:
                lines.append(wrapped(f"Source: {source_words(found.sources)}", width, "    "))
        lines.append("")
        lines += _side_by_side(recipe, sums, width, ascii)
        lines += weigh_out.lines(weigh_out.given(recipe, sums, wanted or Wanted()), width)
        lines.append("Not worked")
        for why, names in reasons(sums, worked).items():
            lines.append(wrapped(f"{clean(why)}: {', '.join(names)}", width, "    "))
        lines.append("")
    lines.append(wrapped(CAUTION, width))
    return "\n".join(lines) + "\n"


def reasons(sums: Sums, worked: Mapping[str, Sum]) -> dict[str, list[str]]:
    """What is missing, and the sums that want it."""
    found: dict[str, list[str]] = {}
    for name in NAMES:
        if name not in worked:
            found.setdefault(sums.why_not(name) or "", []).append(name.replace("_", " "))
    return found


def _side_by_side(recipe: Recipe, sums: Sums, width: int, ascii: bool) -> list[str]:
    """Nitrite by each official sum and by diffusion, on one scale; nothing where there is only one of them."""
    found = [one for name in _NITRITE if (one := sums.get(f"nitrite_{name}")) is not None]
    if len(found) < 2 or width < _DRAWN_FROM:
        return []
    limit = limit_of(recipe, sums, found[0].name)
    if any(limit_of(recipe, sums, one.name) != limit for one in found):
        return []  # a rub beside a brine stands under a limit of its own
    most = max(*(one.value.high for one in found), limit.ppm if limit is not None else 0.0)
    wide = max(len(one.name) for one in found) - len("nitrite_")
    lines = ["Nitrite by each sum"]
    for one in found:
        name = one.name.removeprefix("nitrite_").replace("_", " ").ljust(wide)
        lines.append(f"    {name} {bar(one, limit.ppm if limit is not None else None, width - 9 - wide, upto=most, ascii=ascii)}")
    if limit is not None:
        lines.append(wrapped(f"| the limit: {clean(limit.told)}", width, "    "))
    return [*lines, ""]


def limit_of(recipe: Recipe, sums: Sums, name: str) -> judging.Limit | None:
    """What may go in, for a sum of what goes in. The diffusion estimate is set against the same."""
    agent, _, by = name.partition("_")
    if agent not in ("nitrite", "nitrate", "accelerator") or by in ("middle", "added"):
        return None
    return judging.limit_for(Case(recipe, sums, sums.house), agent, "dry" if by == "direct" and sums.rub is not None else None)


def told_by_itself(found: Sum) -> bool:
    """One figure taken as it stands on the page: there is nothing to work."""
    return len(found.inputs) == 1 and found.inputs[0].value == found.value


def beside_words(other: Sum) -> str:
    """The same by another rule: ``7 days an inch: 10.5 days (common practice, no source)``."""
    return f"{other.formula}: {figure(other.value, other.unit)} ({source_words(other.sources)})."


def is_wide(found: Sum) -> bool:
    return found.value.high > _WIDE * found.value.low


def _drawn(found: Sum, limit: judging.Limit | None, width: int, ascii: bool) -> list[str]:
    if width < _DRAWN_FROM or (limit is None and not is_wide(found)):
        return []
    lines = [f"    {bar(found, limit.ppm if limit is not None else None, width - 8, ascii=ascii)}"]
    if limit is not None:
        lines.append(wrapped(f"| the limit: {clean(limit.told)}", width, "    "))
    return lines


def render_json(recipes: list[tuple[Recipe, Sums]], wanted: Wanted | None = None) -> str:
    """``{"sums": {…}}``, a list of them for several recipes; with ``"weigh_out": […]`` where something is ``wanted``."""
    trees: list[dict[str, Any]] = [{"sums": sums_tree(sums.all())} for _, sums in recipes]
    if wanted is not None and wanted != Wanted():
        for tree, (recipe, sums) in zip(trees, recipes, strict=True):
            tree["weigh_out"] = weigh_out.tree(weigh_out.given(recipe, sums, wanted))
    return as_json(trees[0] if len(trees) == 1 else trees)
