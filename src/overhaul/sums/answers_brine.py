"""Salt, ice and brine for a wanted figure."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.findings import Cite
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Ingredient, Recipe
from overhaul.span import Span, exactly
from overhaul.sums import penetration, salting, scaling, solving, vessel
from overhaul.sums.answers import Answer, Wanted, Weighed, again
from overhaul.sums.changed import weighed, with_ingredient, with_weights
from overhaul.sums.of_brine import all_salt, hot_part, pickle
from overhaul.sums.of_cure import shares
from overhaul.sums.of_time import bath
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, Pencil, round_, total

_GRAM_PER_LITRE = 999.0  # water at 60 °F, as in vessel.litres
_WET = ("water", "liquid", "acid")
_DISSOLVED = (*_WET, "ice", "sugar", "accelerator", "phosphate")


def _step(sums: Sums) -> float:
    """Gram that the kitchen's scale shows of anything but a curing salt."""
    return sums.house.scale.get("other", facts.table("sums")["scale.other"].value)


def salt(sums: Sums, wanted: Wanted) -> Iterator[Answer]:
    """Table salt for so much salt in the meat as it comes out of the cure; days and thickness as on the page."""
    if wanted.salt is None:
        return
    level = sums.need("salt_equilibrium").value.likely
    after = sums.get("salt_after_cure")
    name = "salt_after_cure" if after is not None else "salt_equilibrium"
    if sums.method == "pumped":
        raise CannotTell("pumped: the needle's share and the strength of the brine decide; ask for the brine")
    around = bath(sums)
    reached = _per_water(after.value.likely, around.share) / _per_water(level, around.share) if after is not None else 1.0
    brought = all_salt(sums)[0].likely - _table_salt(sums)
    gram = solving.salt_for_meat(_at_rest(wanted.salt, reached, around.share), around.water.likely, around.in_meat.likely / around.share, around.share, brought)
    pencil = (
        (exactly(wanted.salt), "percent"), " ÷ ", (exactly(100 - wanted.salt), "percent"), f" ÷ {around.share:g} × (", (exactly(around.water.likely), "gram"),
        " water in the bath + ", (exactly(around.in_meat.likely), "gram"), f" in the meat) ÷ {round_(reached)} reached by then, less what the curing salt brings",
    )  # fmt: skip
    yield _salted(sums, "salt", f"{wanted.salt:g} % salt in the meat out of the cure", gram, pencil, (name, "salt_as_eaten", "brine_strength"), Cite("crank", "mass balance"))


def _per_water(percent: float, share: float) -> float:
    return percent / (100 - percent) / share


def _at_rest(percent: float, reached: float, share: float) -> float:
    """Percent when all is level, where only the share ``reached`` of the level gets in."""
    c = _per_water(percent, share) / reached
    return salting.percent_of_meat(c, share)


def _table_salt(sums: Sums) -> float:
    """Gram of salt on the page without what the curing salt brings."""
    return total(sums.weights("salt")).likely


def strength(sums: Sums, wanted: Wanted) -> Iterator[Answer]:
    """Table salt for a strength of the finished brine."""
    if wanted.brine is None:
        return
    every = all_salt(sums)[0].likely
    others = total(pickle(sums)).likely - every
    gram = solving.salt_for_brine(wanted.brine, others, every - _table_salt(sums))
    pencil = ((exactly(wanted.brine), "percent"), " ÷ ", (exactly(100 - wanted.brine), "percent"), " × ", (exactly(others), "gram"), " besides salt, less what the curing salt brings")
    yield _salted(sums, "brine", f"a brine of {wanted.brine:g} %", gram, pencil, ("brine_strength", "brine_salometer"), Cite("salometer-table", "by weight"))


def _salted(sums: Sums, name: str, asked: str, gram: float, pencil: Pencil, names: tuple[str, ...], cite: Cite) -> Answer:
    """``gram`` of table salt in all, shared out over the salts of the page as they are."""
    now = _table_salt(sums)
    if now <= 0:
        raise CannotTell("no salt on the page to weigh anew")
    grams = [(item, solving.weighable(item.mass.likely * gram / now, _step(sums))) for item in sums.items("salt") if item.mass is not None]
    weigh = tuple(Weighed(item.name or item.role, one, "gram", item.line, item.mass) for item, one in grams)
    return Answer(name, asked, weigh, pencil, (gram, "gram"), again(sums, with_weights(sums.recipe, *grams), *names), (), (cite,))


class _Water(Struct, frozen=True):
    """All the water of a brine, its ice too; what else is poured in and dissolved; and how much of the liquid is boiled. Gram."""

    waters: tuple[tuple[Ingredient, float], ...]
    frozen: tuple[tuple[Ingredient, float], ...]
    other: float
    solids: float
    boiled: float

    @property
    def whole(self) -> float:
        return sum(gram for _, gram in (*self.waters, *self.frozen))


def _water(sums: Sums) -> _Water:
    liquid = sums.weights(*_WET)
    wet = [(sums.item_of(one), one.value.likely) for one in liquid]
    frozen = tuple((sums.item_of(one), one.value.likely) for one in sums.weights("ice"))
    waters = tuple((item, gram) for item, gram in wet if item.role == "water")
    if not waters:
        raise CannotTell("no water on the page")
    other = sum(gram for item, gram in wet if item.role != "water")
    return _Water(waters, frozen, other, total(sums.weights("salt", "sugar")).likely, hot_part(sums, liquid)[0].likely)


def ice(sums: Sums, wanted: Wanted) -> Iterator[Answer]:
    """How much of a boiled brine's water to put in as ice: likely, and with the warmest ice there is."""
    if sums.recipe.process.brine_heated is None:
        raise CannotTell("the brine is not heated")
    limit = facts.fact("brine_into_meat_max_f")
    cold = wanted.celsius if wanted.celsius is not None else units.celsius(limit.value)
    water = _water(sums)
    told = sums.house.ice
    coldness = facts.fact("ice_temperature").span if told is None else Span(*(units.celsius(value) for value in (told.low, told.likely, told.high)))
    for ice_c in dict.fromkeys((coldness.likely, coldness.high)):
        exact = _ice(sums, water, cold, ice_c)
        gram = ceil(exact / _step(sums)) * _step(sums)
        if gram <= 0:
            continue
        if gram >= water.whole:
            raise CannotTell("no ice makes it that cold by itself; let it cool in the refrigerator")
        yield Answer(
            "ice", f"a brine of {cold:.1f} °C ({cold * 1.8 + 32:.0f} °F) as soon as the ice is in",
            (_weighed("ice", gram, water.frozen), _weighed("water", round(water.whole - gram), water.waters)),
            ("heat of ", (exactly(_boiling(water, gram)), "gram"), " of boiling brine ÷ (333 kJ a kg of ice to melt + warming it), the water being ", (exactly(water.whole), "gram"), " in all"),
            (exact, "gram"),
            again(sums, _with_ice(sums.recipe, water, gram), "brine_temperature", "brine_strength"),
            (f"ice at {round_(ice_c)} °C", "nothing lost to pot or room"), (facts.fact("latent_heat").cite, limit.cite),
        )  # fmt: skip


def _weighed(name: str, gram: float, now: tuple[tuple[Ingredient, float], ...]) -> Weighed:
    return Weighed(name, gram, "gram", now[0][0].line if now else None, exactly(sum(one for _, one in now)) if now else None)


def _ice(sums: Sums, water: _Water, cold: float, ice_c: float) -> float:
    """Gram of ice in place of as much of the water, so that the strength stays; 0 where none is wanted."""
    boiling, tap = facts.fact("boil_temperature").value, facts.fact("tap_temperature").value
    whole = water.whole + water.other + water.solids
    salt_g = sums.need("brine_strength").value.likely / 100 * whole

    def over(gram: float) -> float:
        hot = _boiling(water, gram)
        return solving.ice_for_temperature(cold, hot, boiling, min(salt_g, hot * 0.99), ice_c, max(0.0, whole - gram - hot), tap) - gram

    return penetration.crossing(over, 0.0, water.whole) if over(0.0) > 0 else 0.0


def _boiling(water: _Water, gram: float) -> float:
    """Gram of boiling brine where ``gram`` of the water is ice: what the page boils, or what is left of it."""
    return min(water.boiled, water.whole + water.other - gram) + water.solids


def _with_ice(recipe: Recipe, water: _Water, gram: float) -> Recipe:
    """``recipe`` with ``gram`` of all its water as ice."""
    left = (water.whole - gram) / sum(one for _, one in water.waters)
    changed = with_weights(recipe, *((item, one * left) for item, one in water.waters[1:]), *((item, 0.0) for item, _ in water.frozen))
    first, mass = water.waters[0]
    changed = replace(changed, process=replace(changed.process, brine_temperature=None))  # what the page states is not what it comes to
    return with_ingredient(changed, first, weighed(first, mass * left), replace(weighed(first, gram), role="ice", name="ice"))


def cover(sums: Sums) -> Iterator[Answer]:
    """Water to cover, where the page says no more than that and names a tub: by what brine usually covers meat, and what the tub takes."""
    told = sums.recipe.process.tub
    unsaid = [item for item in sums.items("water") if item.amount is None]
    if told is None or len(unsaid) != 1 or sums.method != "immersion":
        return
    meat = sums.stated_meat().value.likely
    covering, head = facts.table("sums")["cover.brine_per_meat"], facts.table("sums")["tub.head_room"]
    room = told.span.likely * (1 - head.value) - vessel.litres(0.0, 0.0, meat)
    if not room > 0:
        raise CannotTell("the meat does not go in")
    exact = Span(*(min(share * meat, room * _GRAM_PER_LITRE) for share in (covering.low, covering.value, covering.high)))
    gram = solving.weighable(exact.likely, _step(sums))
    item = unsaid[0]
    pencil: Pencil = ((covering.span, "ratio"), " the meat’s weight, ", (exactly(meat), "gram"), f", and no more than the tub of {round_(told.span.likely)} litres takes")
    worked = again(sums, with_ingredient(sums.recipe, item, weighed(item, gram)), "brine_strength", "nitrite_equilibrium", "vessel_volume")
    notes = (f"between {round_(exact.low)} and {round_(exact.high)} g by how snug the tub is; weigh what covers, and write it down",)
    yield Answer("cover", "water that covers the meat", (Weighed(item.name or "water", gram, "gram", item.line),), pencil, (exact.likely, "gram"), worked, notes, (covering.cite,))


def tub(sums: Sums) -> Iterator[Answer]:
    """The brine of the page made larger or smaller for the tub that it names: the same strength, and the same nitrite as one system."""
    told = sums.recipe.process.tub
    if told is None or sums.method != "immersion":
        return
    made, meat, percent = sums.need("brine_mass").value.likely, sums.stated_meat().value.likely, sums.need("brine_strength").value.likely
    head = facts.table("sums")["tub.head_room"].value
    room, brine_l = vessel.litres(0.0, 0.0, meat), vessel.litres(made, percent, 0.0)
    factor = (told.span.likely * (1 - head) - room) / brine_l
    if not factor > 0:
        raise CannotTell("the meat does not go in")
    others = [(item, solving.weighable(item.mass.likely * factor, _step(sums))) for item in sums.items(*_DISSOLVED) if item.mass is not None]
    cures = _cures_for(sums, factor, meat, made)
    salts = [(item, item.mass.likely) for item in sums.items("salt") if item.mass is not None]
    grams = [*others, *cures]
    if salts:
        table = _table_salt(sums)
        brought = sum(gram * (1 - share) for (_, gram), share in zip(cures, _agents(sums), strict=True))
        rest = sum(gram for _, gram in others) + sum(gram for _, gram in cures) - brought
        wanted = solving.salt_for_brine(percent, rest, brought)
        grams += [(item, solving.weighable(gram * wanted / table, _step(sums))) for item, gram in salts]
    weigh = tuple(Weighed(item.name or item.role, gram, "gram", item.line, item.mass) for item, gram in grams)
    pencil: Pencil = ("(", (told.span, "litre"), f" × {1 - head:g} − ", (exactly(room), "litre"), " of meat) ÷ ", (exactly(brine_l), "litre"), " of brine")
    notes = (f"{100 * head:g} % of the tub left empty", "the same strength, and the same nitrite by meat and brine as one")
    worked = again(sums, with_weights(sums.recipe, *grams), "brine_strength", "nitrite_equilibrium", "vessel_volume")
    yield Answer("tub", f"the brine that fills the tub of {round_(told.span.likely)} litres", weigh, pencil, (factor, "ratio"), worked, notes, (facts.fact("meat_density").cite,))


def _agents(sums: Sums) -> list[float]:
    """The share of each curing salt that is no salt."""
    return [sum(span.likely for span in shares(sums, item).values()) / 100 for item in sums.items(*CURING_SALTS) if item.mass is not None]


def _cures_for(sums: Sums, factor: float, meat: float, made: float) -> list[tuple[Ingredient, float]]:
    """Each curing salt for ``factor`` times the brine, so that its nitrite in meat and brine as one stays what it is."""
    found = [(item, item.mass.likely) for item in sums.items(*CURING_SALTS) if item.mass is not None]
    now = sum(gram for _, gram in found)
    by = scaling.cure_for_brine(now, meat, made, meat, factor * (made - now)) / now if now else factor
    scale = sums.house.scale.get("cure", facts.table("sums")["scale.cure"].value)
    return [(item, solving.weighable(gram * by, scale)) for item, gram in found]
