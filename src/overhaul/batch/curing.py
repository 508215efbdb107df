"""The curing salt of a batch: the one in hand in place of the recipe's, and what a fuller tub wants of it."""

from __future__ import annotations

from msgspec import Struct

from overhaul.batch.sizing import CannotMake, Size, stated_meat
from overhaul.house import House
from overhaul.recipe.model import CURING_SALTS, Ingredient, Strength
from overhaul.span import exactly
from overhaul.sums import scaling, solving
from overhaul.sums.of_brine import all_salt, pickle
from overhaul.sums.of_cure import shares
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, round_, total

_LEAST_OFF = 0.5  # gram of salt that is worth telling


class Exchanged(Struct, frozen=True):
    """``gram`` of another curing salt in place of ``item``; ``salts`` are the salts of the page, gram, by identity; ``off`` gram taken off them."""

    item: Ingredient
    gram: float
    name: str
    strength: Strength
    told: str
    salts: dict[int, float]
    off: float
    notes: tuple[str, ...]


def exchanged(sized: Size, cure: dict[str, float], house: House) -> Exchanged:
    """The curing salt in hand for the same nitrite, and the table salt that it brings more or less. Raises CannotMake where it cannot stand in."""
    sums = Sums(sized.base, house)
    found = [item for item in sized.base.ingredients if item.role in CURING_SALTS and item.mass is not None]
    if len(found) != 1:
        raise CannotMake("--cure: no curing salt in the recipe to put another in place of" if not found else f"--cure: several curing salts in the recipe (lines {', '.join(str(item.line) for item in found)}), and nothing tells which of them it is for")
    item = found[0]
    held = {agent: span.likely for agent, span in shares(sums, item).items()}
    if not held.get("nitrite"):
        raise CannotMake(f"--cure: line {item.line} (“{item.text.strip()}”) holds no nitrite, so that nothing says how much there is to be; `overhaul sums --cure` works a dose")
    if not cure.get("nitrite"):
        raise CannotMake("--cure: the curing salt in hand holds no nitrite")
    own = cure_for_size(sized, house).get(id(item))
    now = own if own is not None else (item.mass.likely if item.mass is not None else 0.0) * sized.of(item)
    swap = solving.other_cure(now, held["nitrite"], cure["nitrite"], max(0.0, 100 - sum(held.values())), 100 - sum(cure.values()))
    told = ", ".join(f"{percent:g} % {agent}" for agent, percent in cure.items())
    salts = [one for section in sized.base.sections if any(each is item for each in section.ingredients) for one in section.ingredients if one.role == "salt" and one.mass is not None]
    salts = salts or [one for one in sized.base.of_role("salt") if one.mass is not None]
    table = sum(one.mass.likely * sized.of(one) for one in salts if one.mass is not None)
    if swap.salt_off > table:
        raise CannotMake(f"--cure: {round_(swap.cure)} g of it would bring {round_(swap.salt_off)} g more salt than the recipe’s curing salt, and the recipe has {round_(table)} g to take it off")
    by_item = {id(one): (one.mass.likely if one.mass is not None else 0.0) * sized.of(one) * (1 - swap.salt_off / table) for one in salts} if table and abs(swap.salt_off) >= _LEAST_OFF else {}
    nitrite, nitrate = (exactly(cure[agent]) if agent in cure else None for agent in ("nitrite", "nitrate"))
    notes = [f"the same nitrite from the curing salt in hand: {round_(now)} g × {held['nitrite']:g} % ÷ {cure['nitrite']:g} % = {round_(swap.cure)} g"]
    if by_item:
        notes.append(f"{scaling.shown(abs(swap.salt_off), 1.0):g} g of salt {'off, which it brings' if swap.salt_off > 0 else 'more, which it does not bring'}")
    if (cure.get("nitrate", 0.0) > 0) != (held.get("nitrate", 0.0) > 0):
        notes.append("the curing salt in hand holds nitrate and the recipe’s does not" if cure.get("nitrate") else "the recipe’s curing salt holds nitrate too, and the one in hand does not")
    return Exchanged(item, swap.cure, "curing salt", Strength(nitrite, nitrate, item.place), told, by_item, swap.salt_off, tuple(notes))


def cure_for_size(sized: Size, house: House) -> dict[int, float]:
    """Gram of each curing salt and each salt where there is more or less brine to the meat: nitrite as one system, and the brine's strength, stay.

    Empty where the whole recipe goes by one factor.
    """
    if abs(sized.meat - sized.brine) <= 1e-9 * sized.brine:
        return {}
    sums, meat = Sums(sized.base, house), stated_meat(sized.base)
    cures = [item for item in sums.items(*CURING_SALTS) if item.mass is not None]
    salts = [item for item in sums.items("salt") if item.mass is not None]
    try:
        made, percent = sums.need("brine_mass").value.likely, sums.need("brine_strength").value.likely
        own = [item.mass.likely for item in cures if item.mass is not None]
        held = [sum(span.likely for span in shares(sums, item).values()) / 100 for item in cures]
        table = sum(item.mass.likely for item in salts if item.mass is not None)
        poured = total(pickle(sums)).likely - sum(own) - table
        all_of = all_salt(sums)[0].likely
    except CannotTell as reason:
        raise CannotMake(f"what the brine comes to cannot be worked: {reason}") from None
    if meat is None:
        return {}
    # The table salt's weight in the fuller tub is near enough the factor's; one more round settles both to far below what a scale shows.
    salt, cure = table * sized.brine, sum(own) * sized.brine
    for _ in range(6):
        if own:
            cure = scaling.cure_for_brine(sum(own), meat.likely, made, meat.likely * sized.meat, poured * sized.brine + salt)
        brought = sum(cure * gram / sum(own) * (1 - share) for gram, share in zip(own, held, strict=True)) if own else 0.0
        if table:
            salt = solving.salt_for_brine(percent, poured * sized.brine + cure - brought, brought)
    assert all_of >= 0
    found = {id(item): cure * gram / sum(own) for item, gram in zip(cures, own, strict=True)}
    return found | {id(item): salt * item.mass.likely / table for item in salts if item.mass is not None and table}
