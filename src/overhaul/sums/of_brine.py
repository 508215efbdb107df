"""The brine of a recipe: its salt, how strong it is, and how warm it is when the meat goes in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from overhaul import facts
from overhaul.findings import Cite
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Fact
from overhaul.span import Span, added, corners, exactly
from overhaul.sums import brine, chilling
from overhaul.sums.of_cure import shares
from overhaul.sums.worked import CannotTell, Input, Pencil, Sum, at, ends, figure, less, total

if TYPE_CHECKING:
    from overhaul.sums.work import Sums


_WATER_DENSITY = 0.99902  # kg a litre at 60 °F
_EUTECTIC = 23.3  # percent: no brine freezes lower


def _cure_salt(sums: Sums) -> list[tuple[Input, Span]]:
    """Each curing salt's weight and the share of it that is plain salt."""
    found = []
    for item in sums.items("cure1", "cure2", "ready-mix"):
        if item.mass is None:
            continue
        if item.mass.low < 0:
            raise CannotTell(f"line {item.line} has an amount below nothing")
        agents = shares(sums, item)
        rest = corners(lambda *held: max(0.0, 1 - sum(held) / 100), *agents.values()) if agents else exactly(1.0)
        found.append((Input(item.name, item.mass, "gram", item.line, item.weighed), rest))
    return found


def _salts(sums: Sums) -> tuple[list[Input], list[tuple[Input, Span]]]:
    """Plain salt, and curing salt with its share of plain salt."""
    salt, cures = sums.weights("salt"), _cure_salt(sums)
    if not salt and not cures:
        raise CannotTell("no salt on the page")
    return salt, cures


def all_salt(sums: Sums) -> tuple[Span, list[Input]]:
    """Gram of salt in all, that in the curing salt too, and what it is in; worked once."""
    if sums.kept.salt is None:
        sums.kept.salt = _all_salt(sums)
    return sums.kept.salt


def _all_salt(sums: Sums) -> tuple[Span, list[Input]]:
    salt, cures = _salts(sums)
    spans = [one.value for one in salt] + [corners(lambda gram, plain: gram * plain, one.value, plain) for one, plain in cures]
    return added(spans), salt + [one for one, _ in cures]


def pickle(sums: Sums) -> list[Input]:
    """The grams of all that is in the brine."""
    wet = sums.weights("water", "ice", "liquid", "acid")
    if wet and sums.method == "dry":
        raise CannotTell("no brine: the water is mixed in")
    if not wet:
        raise CannotTell("no water on the page" if sums.method in ("immersion", "pumped", "pumped-immersion") else "no brine: a dry cure")
    return wet + sums.weights("salt", "sugar", "accelerator", "phosphate", *CURING_SALTS)


def acid_share(sums: Sums) -> float:
    """What part of the liquid is vinegar, by weight; 0 where there is none. Raises CannotTell where the page does not say how much."""
    wet = total(sums.weights("water", "ice", "liquid", "acid")).likely
    return total(sums.weights("acid")).likely / wet if wet > 0 else 0.0


def _strength(sums: Sums) -> Sum:
    salt, cures = _salts(sums)
    everything = pickle(sums)
    salt_sum, cure_sum = total(salt), total([one for one, _ in cures])
    others = less(total(everything), salt_sum, cure_sum)

    def strength(salt_g: float, weight: float, share: float, rest: float) -> float:
        grams = [(at(one.value, weight), at(plain, share)) for one, plain in cures]
        return brine.strength(salt_g + sum(gram * plain for gram, plain in grams), sum(gram * (1 - plain) for gram, plain in grams), rest)

    value = corners(strength, salt_sum, ends(one.value for one, _ in cures), ends(plain for _, plain in cures), others)
    known = {(one.name, one.line) for one in salt} | {(one.name, one.line) for one, _ in cures}
    given = (*salt, *(one for one, _ in cures), *(one for one in everything if (one.name, one.line) not in known))
    pencil = ("100 × ", (all_salt(sums)[0], "gram"), " salt ÷ ", (total(everything), "gram"), " brine")
    return Sum(
        "brine_strength", value, "percent", "100 × all salt ÷ finished brine", given, ("ice melted; spices weigh nothing",),
        (Cite("salometer-table", "by weight"),), pencil,
    )  # fmt: skip


def _salometer(sums: Sums) -> Sum:
    strength = sums.need("brine_strength")
    value = corners(brine.salometer, strength.value)
    given = (Input("brine strength", strength.value, "percent", None, False),)
    return Sum("brine_salometer", value, "degree", "percent ÷ 0.26395", given, (), (facts.fact("salometer_percent_per_degree").cite,))


def _of_water(sums: Sums) -> Sum:
    strength = sums.need("brine_strength")
    salt, _ = all_salt(sums)
    water = total(sums.weights("water", "ice", "liquid", "acid"))
    value = corners(lambda gram, wet: brine.percent_of_water(brine.strength(gram, wet)), salt, water)
    pencil: Pencil = ("100 × ", (salt, "gram"), " salt ÷ ", (water, "gram"), " water, ice and other liquid")
    return Sum("brine_of_water", value, "percent", "100 × all salt ÷ the water's weight, as some kitchens tell it", strength.inputs, (), (Cite("salometer-table", "by weight"),), pencil)


def _fullness(sums: Sums) -> Sum:
    """Sugar hides nothing here: it is in the brine's weight, but the water holds no less salt for it."""
    salt, given = all_salt(sums)
    sums.need("brine_strength")
    water = total(sums.weights("water", "ice", "liquid", "acid"))
    most = facts.fact("brine_saturation_percent")
    value = corners(lambda gram, wet: brine.fullness(gram, wet, most.value), salt, water)
    pencil: Pencil = ((salt, "gram"), " salt ÷ (", (water, "gram"), f" water × {most.value / (100 - most.value):.3f} that it holds)")
    return Sum("brine_fullness", value, "ratio", "all salt ÷ all the salt that the water holds; above 1 some stays undissolved", tuple(given), (), (most.cite,), pencil)


def _from_strength(sums: Sums, name: str, unit: str, formula: str, way: Callable[[float], float], cite: Cite) -> Sum:
    strength = sums.need("brine_strength")
    given = Input("brine strength", strength.value, "percent", None, False)
    return Sum(name, corners(way, strength.value), unit, formula, (given,), (), (cite,))


def _density(sums: Sums) -> Sum:
    most = facts.fact("brine_saturation_percent").value
    way = lambda percent: _WATER_DENSITY * brine.specific_gravity(min(percent, most))  # noqa: E731 - handed on
    return _from_strength(sums, "brine_density", "kilogram_per_litre", "weight of a litre at 60 °F, salt alone counted", way, Cite("laliberte"))


def _freezing(sums: Sums) -> Sum:
    return _from_strength(sums, "brine_freezing", "degC", "where ice forms in it, salt alone counted", lambda percent: chilling.freezing_point(min(percent, _EUTECTIC)), Cite("laliberte"))


def _temperature(sums: Sums) -> Sum:
    process = sums.recipe.process
    stated = process.brine_temperature
    if stated is not None:
        value = _celsius(stated)
        return Sum("brine_temperature", value, "degC", "as the page states it", (Input("brine", value, "degC", stated.line, True),))
    heated = process.brine_heated
    if heated is None:
        raise CannotTell("the brine is made cold and the page gives no temperature")
    ice = sums.weights("ice")
    if not ice:
        raise CannotTell("heated, no ice, and how long it cools is not stated")
    percent = sums.need("brine_strength").value.likely
    wet = sums.weights("water", "liquid", "acid")
    hot, cold = hot_part(sums, wet)
    boils = heated.words.lower().startswith("boil") or "boil" in _sentence_words(sums, heated.line)
    heat_name = "boil_temperature" if boils else "simmer_temperature"
    heat, frozen, tap = sums.published(heat_name), _ice_temperature(sums), sums.published("tap_temperature")
    solids = total(sums.weights("salt", "sugar")).likely / 1000

    def mixed(hot_g: float, hot_c: float, cold_g: float, cold_c: float, ice_g: float, ice_c: float) -> float:
        return chilling.mixed_temperature(hot_g / 1000 + solids, hot_c, cold_g / 1000, cold_c, ice_g / 1000, ice_c, percent)

    value = corners(mixed, hot, heat, cold, tap, total(ice), frozen)
    given = (
        Input("hot liquid", hot, "gram", wet[0].line if wet else None, False),
        Input("its heat", heat, "degC", heated.line, False, facts.fact(heat_name).source),
        *ice, Input("ice at", frozen, "degC", None, sums.house.ice is not None, "own-model"),
    )  # fmt: skip
    assumed = (
        "nothing lost to pot or room; cooling in the refrigerator is not counted",
        f"the ice comes at {figure(frozen, 'degC')}; the page does not say",
    )
    formula = "(hot × its heat − ice × (333 kJ/kg to melt + warming)) ÷ the mix"
    return Sum("brine_temperature", value, "degC", formula, given, assumed, (facts.fact("latent_heat").cite,))


def hot_part(sums: Sums, wet: list[Input]) -> tuple[Span, Span]:
    """How much of the liquid is heated and how much is not, gram: what the heating step names, else all of it."""
    whole = total(wet)
    heated = sums.recipe.process.brine_heated
    for step in sums.recipe.steps:
        if heated is None or not step.place.start <= heated.place.start < step.place.end:
            continue
        for taken in step.uses:
            if taken.amount is None or "water" not in taken.name:
                continue
            if units.dimension(taken.amount.unit) == "volume" and taken.amount.unit not in units.WORD_MEASURES:
                one = facts.measure("water_cold", taken.amount.unit)
                if one is not None:
                    gram = one.likely * float(taken.amount.low)
                    if gram < whole.likely * 0.98:
                        return exactly(gram), exactly(max(0.0, whole.likely - gram))
    return whole, exactly(0.0)


def _ice_temperature(sums: Sums) -> Span:
    """°C of the ice as it goes in: the house sheet's, else the published span."""
    ice = sums.house.ice
    if ice is not None:
        return Span(*(units.celsius(value) for value in (ice.low, ice.likely, ice.high)))
    return sums.published("ice_temperature")


def _celsius(fact: Fact) -> Span:
    span = fact.span
    return Span(units.celsius(span.low), units.celsius(span.likely), units.celsius(span.high))


def _sentence_words(sums: Sums, line: int) -> str:
    return " ".join(step.text.lower() for step in sums.recipe.steps if step.line <= line <= step.end_line)


SUMS: Mapping[str, Callable[[Sums], Sum]] = {
    "brine_strength": _strength, "brine_of_water": _of_water, "brine_salometer": _salometer, "brine_density": _density, "brine_fullness": _fullness,
    "brine_freezing": _freezing, "brine_temperature": _temperature,
}  # fmt: skip
