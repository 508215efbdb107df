"""What a file for a variance and its HACCP plan asks for when food is cured for sale, and what of it a recipe can give.

The list follows the model code (Food Code 2022, 3-502.11 and 8-201.14) as practitioners' checklists tell it; the authority's own list comes first.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from overhaul.bench.control_points import control_points
from overhaul.bench.labelling import allergens_of
from overhaul.bench.weights import called_for
from overhaul.handing_over import Item, hand_over
from overhaul.recipe.model import CURING_SALTS, Recipe
from overhaul.sums.work import Sums

_BY = {"nitrite_direct": "rubbed on or mixed in", "nitrite_pump": "pumped", "nitrite_equilibrium": "meat and pickle as one system"}
Have = Literal["here", "missing", "kitchen"]


class Asked(Struct, frozen=True):
    """One thing the file asks for: given here (with the line), missing from the recipe, or for the kitchen to add."""

    what: str
    have: Have
    where: str
    line: int | None = None


def asked_for(recipe: Recipe, sums: Sums) -> tuple[Asked, ...]:
    """The checklist; nothing where there is no curing salt in it."""
    return tuple(_list(recipe, sums)) if recipe.of_role(*CURING_SALTS, use=None) else ()


def _list(recipe: Recipe, sums: Sums) -> Iterator[Asked]:
    items = {item.name: item for item in hand_over(recipe, (), sums.house).items}
    yield Asked("Food category", "here", recipe.product) if recipe.product is not None else Asked("Food category", "missing", "the page does not say what it becomes")
    yield _batch(recipe, sums)
    yield from _cures(recipe, sums)
    worked = [words for name, words in _BY.items() if sums.get(name) is not None]
    yield Asked("Sum of the ingoing ppm", "here", ", ".join(worked)) if worked else Asked("Sum of the ingoing ppm", "missing", sums.why_not("nitrite_equilibrium") or "cannot be worked")
    yield Asked("Flow of the work", "here", "above; vessels and rooms to be drawn in")
    bare = [point.what.lower() for point in control_points(recipe, sums) if point.key in ("brine", "cure", "end", "cool 1") and point.called is None]
    yield Asked("Limits in the recipe's own words", "missing", "none written for: " + ", ".join(bare)) if bare else Asked("Limits in the recipe's own words", "here", "above")
    yield Asked("How often, how and by whom each is read", "kitchen", "for each point above")
    yield Asked("What is done when a limit is missed", "here", "suggested on the batch card; confirm or strike")
    yield Asked("Records", "kitchen", "batch cards as filled, logs")
    yield Asked("Who verifies, and how often", "kitchen", "a name and a day of the week")
    yield _of("Shelf life, and how cold", items.get("keeping"))
    told = allergens_of(recipe)
    yield Asked("Allergens on the label", "here", "by the page", told.line) if told.stated is not None else Asked("Allergens on the label", "missing", "the page names none")
    yield _of("Version, date and who answers for it", items.get("signed"))
    yield _leave(items["variance"]) if "variance" in items else Asked("The authority's written leave", "kitchen", "ask before any is sold")
    scale = sums.house.scale
    yield Asked("Scale for the curing salt", "here", f"shows {scale['cure']:g} g, by the house sheet; add make, number and last check") if "cure" in scale else Asked("Scale for the curing salt", "kitchen", "make, number, how fine, last check")
    yield Asked("Cold room, smoker, thermometers", "kitchen", "make, number, last check")
    yield Asked("Where the curing salt is kept, who may touch it", "kitchen", "locked; a list of names; its label attached")
    yield Asked("Training; supporting papers", "kitchen", "names and days; a processing authority's letter where asked for")


def _batch(recipe: Recipe, sums: Sums) -> Asked:
    """Meat, curing salt, salt and water of one batch by weight."""
    what = "Standard batch by weight"
    meat = recipe.process.meat
    if meat is None or not meat.mass_stated:
        return Asked(what, "missing", "no weight of meat on the page")
    open_ = [row for row in called_for(recipe, sums) if row.grams is None and row.role in ("meat", "salt", "water", "ice", *CURING_SALTS)]
    if open_:
        return Asked(what, "missing", f"not weighed: {', '.join(row.name for row in open_)}", open_[0].line)
    return Asked(what, "here", "above", meat.line)


def _cures(recipe: Recipe, sums: Sums) -> Iterator[Asked]:
    for row in called_for(recipe, sums):
        if row.cure:
            yield Asked(f"Strength of {row.name}", "here" if row.stated else "missing", f"{row.strength or 'not known'}{'' if row.stated else ' assumed: read its label'}", row.line)


def _leave(item: Item) -> Asked:
    what = "The authority's written leave"
    return Asked(what, "here", f"“{item.told}”", item.line) if item.told is not None else Asked(what, "missing", "it is cured for sale, and the page names no variance")


def _of(what: str, item: Item | None) -> Asked:
    """What a new cook would ask, as the file asks it."""
    if item is None or item.told is None:
        return Asked(what, "missing", "not on the page")
    return Asked(what, "here", f"“{item.told}”", item.line)
