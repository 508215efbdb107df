"""How much there is: each kind of thing on the page, the brine, the meat, what a list makes, and the tub that holds it all."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import TYPE_CHECKING

from overhaul import facts
from overhaul.recipe.model import CURING_SALTS, Ingredient, Section
from overhaul.span import corners
from overhaul.sums import brine, vessel
from overhaul.sums.of_brine import all_salt, pickle
from overhaul.sums.worked import CannotTell, Input, SectionYield, Sum, figure, less, total

if TYPE_CHECKING:
    from overhaul.sums.work import Sums

_ROLES = {
    "water_mass": ("water",), "ice_mass": ("ice",), "liquid_mass": ("liquid", "acid"), "salt_mass": ("salt",), "sugar_mass": ("sugar",),
    "cure_mass": tuple(sorted(CURING_SALTS)),
}  # fmt: skip


def _mass(sums: Sums, name: str) -> Sum:
    given = sums.weights(*_ROLES[name])
    if not given:
        raise CannotTell(f"no {name.removesuffix('_mass')} on the page")
    return Sum(name, total(given), "gram", "all of it together", tuple(given))


def _brine_mass(sums: Sums) -> Sum:
    given = pickle(sums)
    formula = "water + ice + other liquid + salt + sugar + curing salt"
    return Sum("brine_mass", total(given), "gram", formula, tuple(given), ("spices weigh nothing",))


def _meat_mass(sums: Sums) -> Sum:
    meat = sums.recipe.process.meat
    if meat is None or meat.mass is None:
        raise CannotTell("the page does not say how much meat")
    if meat.mass.high <= 0:
        raise CannotTell("no meat: its weight is nothing")
    assumed = () if meat.mass_stated else (f"a typical piece weighs {figure(meat.mass, 'gram')}; the page does not say",)
    return Sum("meat_mass", meat.mass, "gram", "green weight", (Input(meat.name, meat.mass, "gram", meat.line, meat.mass_stated),), assumed)


def _vessel(sums: Sums) -> Sum:
    made, strength, meat = sums.need("brine_mass"), sums.need("brine_strength"), sums.stated_meat()
    salt, _ = all_salt(sums)

    def litres(salt_g: float, rest: float, meat_g: float) -> float:
        return vessel.litres(salt_g + rest, brine.strength(salt_g, rest), meat_g)

    given = (Input("brine", made.value, "gram", None, False), Input("brine strength", strength.value, "percent", None, False), *meat.inputs)
    return Sum(
        "vessel_volume", corners(litres, salt, less(made.value, salt), meat.value), "litre", "brine ÷ its density + meat ÷ its density",
        given, ("nothing for headspace or for gaps between pieces",), (facts.fact("meat_density").cite,),
    )  # fmt: skip


def section_yields(sums: Sums) -> tuple[SectionYield, ...]:
    """What each list makes that the page takes from by name, in the order of the lists."""
    found = []
    recipe = sums.recipe
    called: dict[str, list[tuple[Section, Ingredient]]] = {}
    for section in recipe.sections:
        for item in section.ingredients:
            called.setdefault(item.name.lower(), []).append((section, item))
    used = {one.name.lower() for step in recipe.steps for one in step.uses}
    for section in recipe.sections:
        title = (section.name or "").strip(" :").lower()
        taken = [item for other, item in called.get(title, ()) if other is not section]
        if not title or not (taken or title in used or f"the {title}" in used):
            continue
        known = [
            Input(item.name, item.mass, "gram", item.line, item.weighed)
            for item in section.ingredients if item.mass is not None and item.mass.low >= 0
        ]  # fmt: skip
        if not known:
            continue
        unknown = [item.name or f"line {item.line}" for item in section.ingredients if item.mass is None]
        lacking = tuple(f"{name} is not counted; nothing tells its grams" for name in unknown)
        takes = [Input(item.name, item.mass, "gram", item.line, item.weighed) for item in taken if item.mass is not None]
        made = Sum("section_yield", total(known), "gram", f"what “{title}” makes, all of it together", tuple(known), lacking)
        found.append(SectionYield(title, made, tuple(takes)))
    return tuple(found)


def _section_yield(sums: Sums) -> Sum:
    every = section_yields(sums)
    if not every:
        raise CannotTell("nothing is taken from a list that has a name of its own and grams to add up")
    return every[0].makes


SUMS: Mapping[str, Callable[[Sums], Sum]] = {
    **{name: partial(_mass, name=name) for name in _ROLES},
    "meat_mass": _meat_mass, "brine_mass": _brine_mass, "vessel_volume": _vessel, "section_yield": _section_yield,
}  # fmt: skip
