"""Every sum, worked, with what it assumed; and what is missing for the rest."""

from __future__ import annotations

from overhaul.output.clean import as_json, clean, wrapped
from overhaul.output.plain import CAUTION, source_words
from overhaul.output.tree import sums_tree
from overhaul.recipe.model import Recipe
from overhaul.sums.work import NAMES, Sums, figure


def render(recipes: list[tuple[Recipe, Sums]], width: int = 100) -> str:
    """The sums of each recipe in words."""
    lines: list[str] = []
    for recipe, sums in recipes:
        lines += [clean(recipe.title), ""]
        worked = sums.all()
        for name, found in worked.items():
            lines.append(f"{name.replace('_', ' ')}: {figure(found.value, found.unit)}")
            lines.append(wrapped(clean(found.worked()), width, "    "))
            wide = sums.widest(name)
            if wide is not None and found.value.low and found.value.high / found.value.low > 1.3:
                lines.append(wrapped(f"What makes it wide: {clean(wide.name)}.", width, "    "))
            for assumed in found.assumed:
                lines.append(wrapped(f"Assumed: {clean(assumed)}.", width, "    "))
            if found.sources:
                lines.append(wrapped(f"Source: {source_words(found.sources)}", width, "    "))
        lines.append("")
        lines.append("Not worked")
        for name in NAMES:
            if name not in worked:
                lines.append(wrapped(f"{name.replace('_', ' ')}: {clean(sums.why_not(name) or '')}", width, "    "))
        lines.append("")
    lines.append(wrapped(CAUTION, width))
    return "\n".join(lines) + "\n"


def render_json(recipes: list[tuple[Recipe, Sums]]) -> str:
    """``{"sums": {…}}``, a list of them for several recipes."""
    trees = [{"sums": sums_tree(sums.all())} for _, sums in recipes]
    return as_json(trees[0] if len(trees) == 1 else trees)
