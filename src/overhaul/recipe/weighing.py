"""From drafts to ingredients with their grams: rates and percentages filled in, slips doubted, the days worked from the page's own rate."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from overhaul import facts
from overhaul.house import House
from overhaul.reading import units
from overhaul.reading.patterns import Pattern
from overhaul.recipe import masses
from overhaul.recipe.model import (
    CURING_SALTS,
    Amount,
    Fact,
    Ingredient,
    Instead,
    Process,
    Section,
    Strength,
    Use,
)  # fmt: skip
from overhaul.recipe.naming import Draft
from overhaul.recipe.parts import Part
from overhaul.span import Span, added, between
from overhaul.text import Page, Place

_EQUAL_WEIGHT = Pattern(r"\b(?:equal weights?|same weight|by weight|weigh(?:ed|s)?|equal parts by weight)\b")
_ICE_ALIKE = ("equal weight", "equal parts by weight", "the same weight of ice", "the same weight in ice", "weight for weight")
_TOGETHER = ("meat + water", "meat and water", "meat plus water")
_LABEL = Pattern(r"\b(?:curing salt|pink salt|cure)\b[^.%\n]{0,40}?(\d+(?:\.\d+)?) ?%\s*(?:of )?(?:sodium )?nitrite\b")
_MATTERING = frozenset(["salt", "cure1", "cure2", "nitrite", "nitrate"])


def weigh(page: Page, parts: list[Part], house: House) -> list[Section]:
    told = page.told
    equal = any(words in told for words in _ICE_ALIKE)
    sections = []
    for part in parts:
        if not part.drafts and part.name is None:
            continue
        items = []
        for draft, use, from_method in part.drafts:
            items.append(_ingredient(page, draft, use, from_method, house, equal))
        for number, (draft, use, _) in enumerate(part.drafts):
            if draft.in_all and items[number].mass is not None:
                items[number] = replace(items[number], mass=_filled_up(items[number], [item for item in items if item.use == use]), weighed=False)
        sections.append(Section(part.name, part.line or (items[0].line if items else 1), part.place, tuple(items), part.use))
    return sections


def _filled_up(water: Ingredient, items: list[Ingredient]) -> Span | None:
    """The water that fills up to the amount told for the whole brine: the amount less what else is poured and dissolved in it."""
    whole = water.mass
    poured = added([item.mass for item in items if item is not water and item.role in ("water", "ice", "liquid", "acid") and item.mass is not None])
    dissolved = added([item.mass for item in items if item.role in ("salt", "sugar", *CURING_SALTS) and item.mass is not None])
    room = facts.fact("dissolved.room").span
    assert whole is not None
    left = Span(whole.low - poured.high - room.high * dissolved.high, whole.likely - poured.likely - room.likely * dissolved.likely, whole.high - poured.low - room.low * dissolved.low)
    return left if left.low > 0 else None


def _ingredient(page: Page, draft: Draft, use: Use, from_method: bool, house: House, equal: bool) -> Ingredient:
    by_weight = equal or bool(_EQUAL_WEIGHT.search(page.low, draft.place.start, draft.place.end))
    role, kind = draft.role, draft.kind
    mass: Span | None = None
    weighed = False
    by_weight = by_weight or draft.poured is not None
    candidates = [amount for amount in (draft.poured or draft.amount, *(() if draft.poured else draft.also)) if amount is not None]
    for amount in candidates:  # a weight beats the spoon on its line
        span, by_scale = masses.in_grams(amount, role, kind, house, by_weight)
        if span is not None and by_scale:
            mass, weighed = span, True
            break
        mass = mass or span
    if draft.count is not None and mass is not None and draft.each and draft.amount is not None:
        mass = masses.scaled(mass, float(draft.count.low), float(draft.count.high))
    elif draft.count is not None and mass is not None and draft.each is None and draft.count.high > 1:
        cut = facts.cut(kind) if kind else None
        if cut is not None and mass.likely * 0.6 <= cut.mass.high and mass.likely >= cut.mass.low * 0.9 and mass.likely / float(draft.count.high) < cut.mass.low * 0.8:
            mass = masses.scaled(mass, float(draft.count.low), float(draft.count.high))
            draft.each = True  # four flats of 6 to 7 lb are no four of 1 1/2
    instead = tuple(Instead(other.name, other.role, other.kind, other.amount, masses.in_grams(other.amount, other.role, other.kind, house)[0] if other.amount else None, other.place, other.also) for other in draft.instead)
    start = draft.amount.place.start if draft.amount is not None and from_method else draft.place.start
    if role == "meat" and (draft.amount is None or units.dimension(draft.amount.unit) != "mass"):
        mass, weighed = None, False
    return Ingredient(
        line=page.line_at(start), text=page.words(draft.place), place=draft.place, name=draft.name, name_place=draft.name_place, role=role, kind=kind,
        amount=draft.amount, count=draft.count, each=draft.each, per=draft.per, also=tuple(draft.also), instead=instead, columns=tuple(draft.columns),
        was=tuple(draft.was), state=draft.state, optional=draft.optional, doubt=draft.doubt, mass=mass, weighed=weighed, strength=draft.strength,
        in_method=from_method, use=use,
    )  # fmt: skip


def strength_in_a_note(page: Page, sections: list[Section]) -> list[Section]:
    """``Pink curing salt is 6.25 % sodium nitrite``, told anywhere on the page, is the strength of the one curing salt that has none."""
    salts = [item for section in sections for item in section.ingredients if item.role in ("cure1", "cure2", "ready-mix")]
    told = _LABEL.search(page.low) if len(salts) == 1 and salts[0].strength is None and "nitrite" in page.low else None
    if told is None:
        return sections
    value = float(told[1])
    strength = Strength(Span(value, value, value), None, Place(told.start(1), told.end(1)))
    return [replace(section, ingredients=tuple(replace(item, strength=strength) if item is salts[0] else item for item in section.ingredients)) for section in sections]


_ON_DRY = Pattern(r"\b(?:dry|rub(?:bed|bing)?|box|salting)\b", re.I)
_IN_A_BRINE = ("immersion", "pumped", "pumped-immersion")


def rubbed_apart(sections: list[Section], process: Process) -> list[Section]:
    """``Pickle to pump`` and ``Dry cure`` on one page are two ways of curing: the second goes on dry, and is no part of the first."""
    if process.cure is None or process.cure.method not in _IN_A_BRINE:
        return sections

    def wet(section: Section) -> bool:
        return any(item.role in ("water", "ice", "liquid") and item.use == "cure" for item in section.ingredients)

    def dry(section: Section) -> bool:
        salted = any(item.role in ("salt", *CURING_SALTS) and item.use == "cure" for item in section.ingredients)
        return salted and not wet(section) and bool(_ON_DRY.search(section.name or ""))

    brines = [section for section in sections if wet(section) and any(item.role in ("salt", *CURING_SALTS) for item in section.ingredients)]
    return [replace(section, rubbed=True) if dry(section) else section for section in sections] if brines else sections


def by_rate(process: Process) -> Process:
    """The days that the page's own rate gives this piece, where its thickness or weight is stated."""
    rate, meat = process.cure_rate, process.meat
    if rate is None or process.cure_time is not None or meat is None:
        return process
    per = rate.per * units.size(rate.per_unit)
    if units.dimension(rate.per_unit) == "length":
        size = meat.thickness if meat.thickness_stated else None
    elif meat.mass is not None and meat.mass_stated:
        low, high = meat.pieces or (1, 1)
        size = Span(meat.mass.low / high, meat.mass.likely / max(low, 1), meat.mass.high / max(low, 1)) if high else None
    else:
        size = None
    if size is None or per <= 0:
        return process
    time = Fact(rate.low * size.low / per + rate.more, rate.high * size.high / per + rate.more, rate.unit, rate.line, rate.place)
    return replace(process, cure_time=time)


def rates(page: Page, sections: list[Section], process: Process, house: House) -> list[Section]:
    """Fill in the grams of rates and percentages, now that meat and water are known."""
    items = [item for section in sections for item in section.ingredients]
    if not any(item.per is not None for item in items):
        return sections
    meat_mass = process.meat.mass if process.meat is not None and process.meat.mass_stated else None
    sections = [replace(section, ingredients=tuple(_water_of_the_meat(item, meat_mass) for item in section.ingredients)) for section in sections]
    items = [item for section in sections for item in section.ingredients]
    water = [item.mass for item in items if item.role in ("water", "ice", "liquid") and item.use == "cure" and item.mass is not None]
    water_mass = added(water) if water else None
    told = page.told
    together = any(words in told for words in _TOGETHER)

    of_brine = [item for item in items if _of_the_brine(item)]
    shares = added([_percent(item) for item in of_brine]) if of_brine else None
    beside = [item.mass for item in items if item.use == "cure" and item.role in ("salt", "sugar", *CURING_SALTS) and item.per is None and item.mass is not None]
    brine_mass = _finished(water_mass, beside, shares) if shares is not None else None

    def base(of: str | None, default: str) -> Span | None:
        word = of or default
        if brine_mass is not None and _BRINE.search(word):
            return brine_mass
        if (together and of is None) or ("meat" in word and "water" in word):
            return _sum(meat_mass, water_mass)
        if re.search(r"water|brine|liquid", word):
            return water_mass
        return meat_mass

    def filled(item: Ingredient) -> Ingredient:
        if item.per is None or item.amount is None or (item.role in ("meat", "water") and item.amount.unit != "percent"):
            return item
        if item.amount.unit == "percent":
            weights = [amount for amount in item.also if units.dimension(amount.unit) == "mass"]
            if weights:
                return item
            whole = base(item.per.of, "water" if process.cure is not None and process.cure.method == "immersion" and water_mass is not None and meat_mass is None else "meat")
            if whole is None:
                return item
            return replace(item, mass=_percent_of(item.amount, whole), weighed=True)
        unit = item.per.unit
        if unit is None:
            return item
        one, weighed = masses.in_grams(item.amount, item.role, item.kind, house)
        if one is None:
            return item
        dimension = units.dimension(unit)
        amount = float(item.per.amount or 1)
        if dimension == "mass":
            whole, share = base(item.per.of, "meat"), units.size(unit) * amount
        elif dimension == "volume":
            litre = masses.in_grams(Amount(Fraction(1), Fraction(1), unit, item.per.place), "water", "water_cold", house)[0]
            whole, share = water_mass, (litre.likely if litre else 0.0) * amount
        else:
            return item
        if whole is None or share <= 0:
            return replace(item, mass=None, weighed=False)
        return replace(item, mass=Span(one.low * whole.low / share, one.likely * whole.likely / share, one.high * whole.high / share), weighed=weighed and whole.exact)

    return [replace(section, ingredients=tuple(filled(item) for item in section.ingredients)) for section in sections]


def _water_of_the_meat(item: Ingredient, meat: Span | None) -> Ingredient:
    """``water 60 % of meat``: its grams come first, for the rest may be told in percent of both."""
    if meat is None or item.role != "water" or item.mass is not None or item.per is None or item.amount is None or item.amount.unit != "percent" or item.per.of is None or "meat" not in item.per.of or "water" in item.per.of:
        return item
    return replace(item, mass=_percent_of(item.amount, meat), weighed=True)


def _percent_of(amount: Amount, whole: Span) -> Span:
    return masses.scaled(whole, float(amount.low) / 100, float(amount.high) / 100)


_BRINE = Pattern(r"\b(?:brine|pickle)\b")


def _of_the_brine(item: Ingredient) -> bool:
    """``salt, 8 % of the brine``: of the finished brine, the salt in it too."""
    return item.per is not None and item.amount is not None and item.amount.unit == "percent" and item.use == "cure" and bool(_BRINE.search(item.per.of or ""))


def _percent(item: Ingredient) -> Span:
    assert item.amount is not None
    return between(float(item.amount.low), float(item.amount.high))


def _finished(water: Span | None, beside: list[Span], shares: Span) -> Span | None:
    """The brine of which ``shares`` percent in all are told: water and what has grams of its own are the rest."""
    if water is None or shares.high >= 100:
        return None
    rest = added([water, *beside])
    return Span(rest.low / (1 - shares.low / 100), rest.likely / (1 - shares.likely / 100), rest.high / (1 - shares.high / 100))


def slips(page: Page, sections: list[Section], process: Process) -> list[Section]:
    doubted = {id(item): slip for section in sections for item in section.ingredients if item.role in _MATTERING and (slip := _slip(page, item, sections, process)) is not item}
    return [replace(section, ingredients=tuple(doubted.get(id(item), item) for item in section.ingredients)) for section in sections] if doubted else sections


def _slip(page: Page, item: Ingredient, sections: list[Section], process: Process) -> Ingredient:
    """``item``, its amount doubted where no cook would write so much salt or curing salt."""
    amount = item.amount
    if amount is None or amount.doubt is not None or item.per is not None or units.dimension(amount.unit) != "volume":
        return item
    said = page.words(amount.place).replace("\n", " ")
    if amount.unit in ("teaspoon", "tablespoon") and not amount.parts and float(amount.low) > facts.fact(f"slip.{amount.unit}").value:
        tenth = f", or {float(amount.low / 10):g}" if amount.low % 10 == 0 else ""
        return replace(item, amount=replace(amount, doubt=f"“{said}” is {float(amount.low * units.factor(amount.unit) / units.factor('cup')):.1f} cups: so many spoons{tenth}?"))
    if item.role == "salt" or item.mass is None:
        return item
    wet = [one.mass for section in sections for one in section.ingredients if one.use == "cure" and one.role in ("water", "ice", "liquid") and one.mass is not None]
    meat = process.meat.mass if process.meat is not None and process.meat.mass_stated else None
    whole = sum(mass.likely for mass in (*wet, meat) if mass is not None)
    if whole and item.mass.likely > facts.fact("slip.share").value * whole:
        return replace(item, amount=replace(amount, doubt=f"“{said}” of curing salt is about {item.mass.likely:,.0f} g to {whole / 1000:,.1f} kg of meat and water: a smaller spoon, another salt, or is so much meant?"))
    return item


def _sum(*spans: Span | None) -> Span | None:
    if any(span is None for span in spans):
        return None
    known = [span for span in spans if span is not None]
    return added(known)
