"""The sums of one recipe, each worked when it is first asked for.

The conventions that everybody works by: corners of all inputs, likely from every likely; a stated weight is
exact; ice counts as water; spices weigh nothing; diffusion shares out over water.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.findings import Cite
from overhaul.house import House
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Fact, Ingredient, Recipe, Strength
from overhaul.span import Span, added, corners, exactly
from overhaul.sums import brine, chilling, lethality, nitrite, penetration, salting, vessel


class Input(Struct, frozen=True):
    """One input of a sum: where it came from, and whether the page states it."""

    name: str
    value: Span
    unit: str
    line: int | None = None
    stated: bool = True
    source: str | None = None


class Sum(Struct, frozen=True):
    """One worked sum."""

    name: str
    value: Span
    unit: str
    formula: str
    inputs: tuple[Input, ...]
    assumed: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = ()
    pencil: tuple[str | tuple[Span, str], ...] = ()  # the formula with its numbers in, where there is one short enough to read

    def worked(self) -> str:
        """One pencil line: the formula with its numbers, and the result."""
        if self.pencil:
            formula = "".join(part if isinstance(part, str) else figure(*part) for part in self.pencil)
            return f"{formula} = {figure(self.value, self.unit)}"
        given = ", ".join(f"{one.name} {figure(one.value, one.unit)}" for one in self.inputs)
        return f"{self.formula}: {given}; = {figure(self.value, self.unit)}"


_UNITS = {"gram": "g", "percent": "%", "ppm": "ppm", "degC": "°C", "degree": "° salometer", "day": "days", "litre": "litres", "millimetre": "mm", "ratio": "×"}


def figure(span: Span, unit: str) -> str:
    """A span as a cook would write it: ``162 ppm``, ``2.4 to 7.0 % (likely 4.6)``."""
    sign = _UNITS.get(unit, unit)
    if round_(span.low) == round_(span.high):
        return f"{round_(span.likely)} {sign}".rstrip()
    return f"{round_(span.low)} to {round_(span.high)} {sign} (likely {round_(span.likely)})"


def round_(value: float) -> str:
    """Three figures, thousands with a comma."""
    if value == 0:
        return "0"
    size = abs(value)
    if size >= 100:
        return f"{value:,.0f}"
    if size >= 10:
        return f"{value:.1f}".rstrip("0").rstrip(".")
    if size >= 0.1:
        return f"{value:.2f}".rstrip("0").rstrip(".")
    return f"{value:.2g}"


NAMES = (
    "water_mass", "ice_mass", "liquid_mass", "salt_mass", "sugar_mass", "cure_mass", "meat_mass", "brine_mass",
    "brine_strength", "brine_salometer", "brine_temperature",
    "nitrite_direct", "nitrite_pump", "nitrite_pick_up", "nitrite_equilibrium", "nitrite_estimate", "nitrite_middle",
    "nitrate_direct", "nitrate_pump", "nitrate_pick_up", "nitrate_equilibrium",
    "accelerator_direct", "accelerator_pump", "accelerator_pick_up", "accelerator_equilibrium",
    "phosphate_direct", "phosphate_pump", "phosphate_pick_up", "phosphate_equilibrium",
    "salt_equilibrium", "salt_after_cure", "salt_as_eaten", "days_to_middle", "vessel_volume", "section_yield", "lethality", "cooling",
)  # fmt: skip

_MASS_ROLES = {
    "water_mass": ("water",), "ice_mass": ("ice",), "liquid_mass": ("liquid", "acid"), "salt_mass": ("salt",), "sugar_mass": ("sugar",),
    "cure_mass": tuple(sorted(CURING_SALTS)),
}  # fmt: skip
_SPECIES_WATER = {"beef": "beef", "venison": "beef", "lamb": "beef", "pork": "pork", "turkey": "poultry", "chicken": "poultry", "duck": "poultry", "goose": "poultry", "fish": "fish"}


# Figures of facts/ that are spans, and what a cook calls them.
_SETTLED_WORDS = {
    "diffusion.nitrite": "how fast nitrite moves in meat", "diffusion.salt": "how fast salt moves in meat", "diffusion.salt_fish": "how fast salt moves in fish",
    "diffusion.simmer": "how fast salt leaches in the pot", "pick_up_percent": "weight picked up", "ice_temperature": "ice at", "simmer_temperature": "its heat",
    "tap_temperature": "the cold water's temperature",
}  # fmt: skip
_PARTS, _SOAK_PARTS = 6, 3  # steps a bath, and in the ample water of a soak: within 1 percent of forty


def _own(name: str) -> float:
    return facts.table("sums")[name].value


class SectionYield(Struct, frozen=True):
    """What a list of its own (a spice mix, a rub) makes, and what other lists take from it, where their grams are known."""

    section: str
    makes: Sum
    takes: tuple[Input, ...]


class _CannotTell(Exception):
    """Why a sum cannot be worked, in plain words."""


class Sums:
    """The sums of ``recipe`` in ``house``; each worked once, on first asking."""

    def __init__(self, recipe: Recipe, house: House, settled: frozenset[str] = frozenset()) -> None:
        """``settled`` : figures of ``facts`` to take at their likely value alone (see ``widest``)."""
        self.recipe = recipe
        self.house = house
        self._settled = settled
        self._variants: list[tuple[Input, Sums]] | None = None
        self._done: dict[str, Sum | str] = {}
        self._agents_done: dict[str, tuple[Span, list[Input], list[str]]] = {}
        self._bath_done: tuple[Span, Span, float, str] | None = None
        self._in_cure = [item for item in recipe.ingredients if item.use == "cure"]
        self._items: dict[tuple[int | None, str], Ingredient] = {(item.line, item.name or item.role): item for item in reversed(self._in_cure)}

    def get(self, name: str) -> Sum | None:
        """The sum of this name, or None where it cannot be worked (see ``why_not``)."""
        if name not in self._done:
            try:
                self._done[name] = self._work(name)
            except _CannotTell as reason:
                self._done[name] = str(reason)
            except (ValueError, OverflowError, ZeroDivisionError) as reason:
                self._done[name] = f"the amounts do not make sense ({reason})"
        found = self._done[name]
        return found if isinstance(found, Sum) else None

    def why_not(self, name: str) -> str | None:
        """What is missing for this sum, or None where it was worked."""
        self.get(name)
        found = self._done[name]
        return found if isinstance(found, str) else None

    def all(self) -> dict[str, Sum]:
        """Every sum that can be worked, in the order of NAMES."""
        return {name: worked for name in NAMES if (worked := self.get(name)) is not None}

    def widest(self, name: str) -> Input | None:
        """The input that accounts for most of a sum's span: settling it alone narrows the sum most. None for an exact sum."""
        worked = self.get(name)
        if worked is None or worked.value.exact or not worked.inputs:
            return None
        if self._variants is None:
            self._variants = [(one, Sums(recipe, self.house, settled)) for one, recipe, settled in _one_settled(self)]
        found: Input | None = None
        narrowest = (worked.value.high - worked.value.low) * (1 - 1e-9)
        for one, sums in self._variants:
            other = sums.get(name)
            if other is not None and other.value.high - other.value.low < narrowest:
                found, narrowest = one, other.value.high - other.value.low
        return found

    def _figure(self, name: str) -> Span:
        """A figure of ``facts`` as a span."""
        fact = facts.fact(name)
        return exactly(fact.value) if name in self._settled else fact.span

    def _work(self, name: str) -> Sum:
        if name in _WAYS:
            return _WAYS[name](self)
        if name in _MASS_ROLES:
            return self._mass(name, _MASS_ROLES[name])
        agent, _, way = name.partition("_")
        return self._agent_sum(agent, way)

    # -- what there is

    def items(self, *roles: str) -> list[Ingredient]:
        return [item for item in self._in_cure if item.role in roles]

    @property
    def method(self) -> str:
        """How it is cured; where the page does not say, water makes it a brine and salt alone a dry cure."""
        cure = self.recipe.process.cure
        if cure is not None:
            return cure.method
        if not self.items("salt", *CURING_SALTS):
            return "none"
        return "immersion" if self.items("water", "ice", "liquid") else "dry"

    def _weights(self, *roles: str) -> list[Input]:
        found = []
        for item in self.items(*roles):
            if item.mass is None:
                if item.optional or (item.amount is None and item.role not in ("water", "salt")):
                    continue
                raise _CannotTell(f"line {item.line} does not say how much {item.name or item.role}" if item.amount is None else f"nothing tells the grams of “{item.text.strip()}” on line {item.line}")
            if item.mass.low < 0:
                raise _CannotTell(f"line {item.line} has an amount below nothing")
            found.append(Input(item.name or item.role, item.mass, "gram", item.line, item.weighed))
        return found

    def _mass(self, name: str, roles: tuple[str, ...]) -> Sum:
        given = self._weights(*roles)
        if not given:
            raise _CannotTell(f"no {name.removesuffix('_mass')} on the page")
        return Sum(name, total(given), "gram", "all of it together", tuple(given))

    def _pickle(self) -> list[Input]:
        wet = self._weights("water", "ice", "liquid", "acid")
        if wet and self.method == "dry":
            raise _CannotTell("no brine: the water is mixed in")
        if not wet:
            raise _CannotTell("no water on the page" if self.method in ("immersion", "pumped", "pumped-immersion") else "no brine: a dry cure")
        return wet + self._weights("salt", "sugar", "accelerator", "phosphate", *CURING_SALTS)

    def _brine_mass(self) -> Sum:
        given = self._pickle()
        return Sum("brine_mass", total(given), "gram", "water + ice + other liquid + salt + sugar + curing salt", tuple(given), ("spices weigh nothing",))

    def _meat_mass(self) -> Sum:
        meat = self.recipe.process.meat
        if meat is None or meat.mass is None:
            raise _CannotTell("the page does not say how much meat")
        if meat.mass.high <= 0:
            raise _CannotTell("no meat: its weight is nothing")
        assumed = () if meat.mass_stated else (f"a typical piece weighs {figure(meat.mass, 'gram')}; the page does not say",)
        return Sum("meat_mass", meat.mass, "gram", "green weight", (Input(meat.name, meat.mass, "gram", meat.line, meat.mass_stated),), assumed)

    def _stated_meat(self) -> Sum:
        meat = self._need("meat_mass")
        if not meat.inputs[0].stated:
            raise _CannotTell("the page does not say how much meat")
        return meat

    def _need(self, name: str) -> Sum:
        found = self.get(name)
        if found is None:
            raise _CannotTell(self.why_not(name) or f"no {name}")
        return found

    # -- brine

    def _cure_salt(self) -> list[tuple[Input, Span]]:
        """Each curing salt's weight and the share of it that is plain salt."""
        found = []
        for item in self.items("cure1", "cure2", "ready-mix"):
            if item.mass is None:
                continue
            if item.mass.low < 0:
                raise _CannotTell(f"line {item.line} has an amount below nothing")
            agents = self._shares(item)
            rest = corners(lambda *held: max(0.0, 1 - sum(held) / 100), *agents.values()) if agents else exactly(1.0)
            found.append((Input(item.name, item.mass, "gram", item.line, item.weighed), rest))
        return found

    def _brine_strength(self) -> Sum:
        salt = self._weights("salt")
        cures = self._cure_salt()
        if not salt and not cures:
            raise _CannotTell("no salt on the page")
        pickle = self._pickle()
        salt_sum, cure_sum = total(salt), total([one for one, _ in cures])
        others = less(total(pickle), salt_sum, cure_sum)

        def strength(salt_g: float, weight: float, share: float, rest: float) -> float:
            grams = [(at(one.value, weight), at(plain, share)) for one, plain in cures]
            return brine.strength(salt_g + sum(gram * plain for gram, plain in grams), sum(gram * (1 - plain) for gram, plain in grams), rest)

        value = corners(strength, salt_sum, ENDS, ENDS, others)
        known = {(one.name, one.line) for one in salt} | {(one.name, one.line) for one, _ in cures}
        given = (*salt, *(one for one, _ in cures), *(one for one in pickle if (one.name, one.line) not in known))
        every, _ = self._all_salt()
        pencil = ("100 × ", (every, "gram"), " salt ÷ ", (total(pickle), "gram"), " brine")
        return Sum("brine_strength", value, "percent", "100 × all salt ÷ finished brine", given, ("ice melted; spices weigh nothing",), (Cite("salometer-table", "by weight"),), pencil)

    def _brine_salometer(self) -> Sum:
        strength = self._need("brine_strength")
        value = corners(brine.salometer, strength.value)
        return Sum("brine_salometer", value, "degree", "percent ÷ 0.26395", (Input("brine strength", strength.value, "percent", None, False),), (), (facts.fact("salometer_percent_per_degree").cite,))

    def _brine_temperature(self) -> Sum:
        process = self.recipe.process
        stated = process.brine_temperature
        if stated is not None:
            value = _celsius(stated)
            return Sum("brine_temperature", value, "degC", "as the page states it", (Input("brine", value, "degC", stated.line, True),))
        if process.brine_heated is None:
            raise _CannotTell("the brine is made cold and the page gives no temperature")
        ice = self._weights("ice")
        if not ice:
            raise _CannotTell("heated, no ice, and how long it cools is not stated")
        strength = self._need("brine_strength")
        wet = self._weights("water", "liquid", "acid")
        hot, cold = self._hot_part(wet)
        boils = process.brine_heated.words.lower().startswith("boil") or "boil" in _sentence_words(self.recipe, process.brine_heated.line)
        heat_name = "boil_temperature" if boils else "simmer_temperature"
        heat, heat_source = self._figure(heat_name), facts.fact(heat_name).source
        frozen = self._ice_temperature()
        tap = self._figure("tap_temperature")
        solids = total(self._weights("salt", "sugar")).likely / 1000 if self._weights("salt", "sugar") else 0.0
        percent = strength.value.likely

        def mixed(hot_g: float, hot_c: float, cold_g: float, cold_c: float, ice_g: float, ice_c: float) -> float:
            return chilling.mixed_temperature(hot_g / 1000 + solids, hot_c, cold_g / 1000, cold_c, ice_g / 1000, ice_c, percent)

        value = corners(mixed, hot, heat, cold, tap, total(ice), frozen)
        given = (
            Input("hot liquid", hot, "gram", wet[0].line if wet else None, False), Input("its heat", heat, "degC", process.brine_heated.line, False, heat_source),
            *ice, Input("ice at", frozen, "degC", None, self.house.ice is not None, "own-model"),
        )  # fmt: skip
        assumed = ("nothing lost to pot or room; cooling in the refrigerator is not counted", f"the ice comes at {figure(frozen, 'degC')}; the page does not say")
        return Sum("brine_temperature", value, "degC", "(hot × its heat − ice × (333 kJ/kg to melt + warming)) ÷ the mix", given, assumed, (facts.fact("latent_heat").cite,))

    def _hot_part(self, wet: list[Input]) -> tuple[Span, Span]:
        """How much of the liquid is heated: what the heating step names, else all of it."""
        whole = total(wet) if wet else exactly(0.0)
        heated = self.recipe.process.brine_heated
        for step in self.recipe.steps:
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

    def _ice_temperature(self) -> Span:
        if self.house.ice is not None:
            return Span(*(units.celsius(value) for value in (self.house.ice.low, self.house.ice.likely, self.house.ice.high)))
        return self._figure("ice_temperature")

    # -- agents

    def _shares(self, item: Ingredient) -> dict[str, Span]:
        """Percent of each agent in a curing salt: the page's, else the house sheet's, else the kind's."""
        if item.strength is not None:
            stated: dict[str, Span] = {agent: span for agent, span in (("nitrite", item.strength.nitrite), ("nitrate", item.strength.nitrate)) if span is not None}
            if item.role == "cure2" and "nitrate" not in stated:
                stated["nitrate"] = facts.cure_strength("cure2")["nitrate"].span
            return stated
        house = self.house.strengths.get(item.role)
        if house is not None:
            return {agent: exactly(percent) for agent, percent in house.items()}
        return {agent: fact.span for agent, fact in facts.cure_strength(item.role).items()}

    def _agents(self, agent: str) -> list[tuple[Input, Span]]:
        """Every source of ``agent``: its weight and its percent."""
        if agent in ("accelerator", "phosphate"):
            return [(one, exactly(100.0)) for one in self._weights(agent)]
        found = []
        for item in self.items(*CURING_SALTS):
            share = self._shares(item).get(agent)
            if share is None or share.high <= 0:
                continue
            if item.mass is None:
                raise _CannotTell(f"the grams of curing salt on line {item.line} are not known")
            if item.mass.low < 0:
                raise _CannotTell(f"line {item.line} has an amount below nothing")
            found.append((Input(item.name or item.role, item.mass, "gram", item.line, item.weighed), share))
        return found

    def _agent(self, agent: str) -> tuple[Span, list[Input], list[str]]:
        if agent not in self._agents_done:
            self._agents_done[agent] = self._work_agent(agent)
        return self._agents_done[agent]

    def _work_agent(self, agent: str) -> tuple[Span, list[Input], list[str]]:
        sources = self._agents(agent)
        if not sources:
            raise _CannotTell(f"no {agent} on the page")
        spans = []
        given: list[Input] = []
        assumed: list[str] = []
        for weight, share in sources:
            spans.append(corners(lambda gram, percent: gram * percent / 100, weight.value, share))
            given.append(weight)
            item = self._items[weight.line, weight.name]
            stated = item.strength is not None or item.role in self.house.strengths or item.role in ("nitrite", "nitrate", "accelerator", "phosphate")
            given.append(Input(f"{agent} in it", share, "percent", item.line if item.strength is not None else None, stated))
            if not stated:
                assumed.append(f"{item.name} holds {figure(share, 'percent')} {agent}; the page does not say")
            if not weight.stated:
                assumed.append(f"{item.name} is measured, not weighed")
        return added(spans), given, assumed

    def _agent_sum(self, agent: str, way: str) -> Sum:
        name = f"{agent}_{way}"
        held, given, assumed = self._agent(agent)
        sources = self._agents(agent)
        meat_span = self.recipe.process.meat.mass if self.recipe.process.meat is not None else None
        of_meat = [self._of_meat(weight, meat_span) for weight, _ in sources]

        def amounts(weight: float, share: float, green: float) -> tuple[float, float]:
            """Gram of the agent and of what carries it, each input at one of its ends."""
            pure = carried = 0.0
            for (one, percent), part in zip(sources, of_meat, strict=True):
                gram = part * green if part is not None else at(one.value, weight)
                pure += gram * at(percent, share) / 100
                carried += gram
            return pure, carried

        if way == "direct":
            return self._direct(agent, held, given, assumed, amounts)
        pickle = self._need("brine_mass")
        rest = less(pickle.value, total([weight for weight, _ in sources]))
        brine_input = Input("pickle", pickle.value, "gram", None, False)
        if way == "equilibrium":
            if self.method not in ("immersion", "pumped-immersion"):
                raise _CannotTell("the meat does not lie in a brine")
            green = self._stated_meat()

            def as_one(weight: float, share: float, green_g: float, rest_g: float) -> float:
                pure, carried = amounts(weight, share, green_g)
                return nitrite.equilibrium(pure, green_g, rest_g + carried)

            value = corners(as_one, ENDS, ENDS, green.value, rest)
            pencil = ((held, "gram"), f" {agent} ÷ (", (green.value, "gram"), " meat + ", (pickle.value, "gram"), " pickle) × 1,000,000")
            return Sum(
                name, value, "ppm", f"{agent} ÷ (green meat + pickle) × 1,000,000", (*given, *green.inputs, brine_input), tuple(assumed),
                (Cite("inspectors-handbook", "page 22, meat and pickle as one system"),), pencil,
            )  # fmt: skip

        def carried_in(weight: float, share: float, percent: float, rest_g: float) -> float:
            pure, carried = amounts(weight, share, meat_span.likely if meat_span is not None else 0.0)
            return nitrite.pumped(pure, percent / 100, rest_g + carried)

        if way == "pump":
            pump = self.recipe.process.pump
            if pump is None:
                raise _CannotTell("the page does not say how much is pumped in" if self.method.startswith("pumped") else "nothing is pumped")
            gain = Input("pumped in", pump.span, "percent", pump.line)
            words, cite = "pumped share", Cite("inspectors-handbook", "page 19")
        elif way == "pick_up":
            if self.method not in ("immersion", "pumped-immersion"):
                raise _CannotTell("the meat does not lie in a brine")
            gain = Input("weight picked up", self._figure("pick_up_percent"), "percent", None, False, facts.fact("pick_up_percent").source)
            assumed = [*assumed, "the weight picked up is a published span, never judged by"]
            words, cite = "pick-up", Cite("inspectors-handbook", "page 21, pick-up")
        else:
            raise _CannotTell(f"no sum {name}")
        value = corners(carried_in, ENDS, ENDS, gain.value, rest)
        pencil = ((held, "gram"), f" {agent} × ", (gain.value, "percent"), " ÷ ", (pickle.value, "gram"), " pickle × 1,000,000")
        return Sum(name, value, "ppm", f"{agent} × {words} ÷ pickle × 1,000,000", (*given, gain, brine_input), tuple(assumed), (cite,), pencil)

    def _direct(self, agent: str, held: Span, given: list[Input], assumed: list[str], amounts: Callable[[float, float, float], tuple[float, float]]) -> Sum:
        waterless = not any(item.mass is not None for item in self.items("water", "ice", "liquid"))
        if self.method not in ("dry", "none") and not (agent == "nitrate" and waterless):
            raise _CannotTell("the cure is a brine")
        if self.method not in ("dry", "none"):
            assumed = [*assumed, "all of it taken up; how much water is not stated"]
        green = self._stated_meat()
        value = corners(lambda weight, share, green_g: nitrite.direct(amounts(weight, share, green_g)[0], green_g), ENDS, ENDS, green.value)
        pencil = ((held, "gram"), f" {agent} ÷ ", (green.value, "gram"), " meat × 1,000,000")
        return Sum(f"{agent}_direct", value, "ppm", f"{agent} ÷ green meat × 1,000,000", (*given, *green.inputs), tuple(assumed), (Cite("inspectors-handbook", "pages 12 to 24"),), pencil)

    def _of_meat(self, weight: Input, meat: Span | None) -> float | None:
        """The share of the meat that an amount written in percent of it is: the meat's own span then cancels out."""
        item = self._items[weight.line, weight.name]
        if meat is None or meat.exact or meat.low <= 0 or item.amount is None or item.amount.unit not in ("percent", "permille"):
            return None
        shares = (weight.value.low / meat.low, weight.value.likely / meat.likely, weight.value.high / meat.high)
        return shares[1] if max(shares) - min(shares) <= 1e-9 * shares[1] else None

    # -- into the meat

    def _bath(self) -> tuple[Span, Span, float, str]:
        if self._bath_done is None:
            self._bath_done = self._work_bath()
        return self._bath_done

    def _work_bath(self) -> tuple[Span, Span, float, str]:
        """Water in the bath and in the meat (gram), the meat's water share, and its species."""
        meat = self.recipe.process.meat
        green = self._stated_meat()
        kind = "belly" if meat is not None and meat.cut == "pork_belly_whole" else _SPECIES_WATER.get((meat.species or "") if meat else "", "beef")
        share = facts.fact(f"water_share.{kind}").value
        in_meat = corners(lambda gram: gram * share, green.value)
        wet = self._weights("water", "ice", "liquid", "acid") if self.method in ("immersion", "pumped-immersion") else []
        return (total(wet) if wet else exactly(0.0)), in_meat, share, kind

    def _celsius(self) -> float:
        fact = self.recipe.process.cure_temperature
        if fact is not None:
            return units.celsius(fact.span.likely)
        if self.house.cooler is not None:
            return units.celsius(self.house.cooler.likely)
        return units.celsius(facts.fact("cooler_temperature").value)

    def openness(self) -> tuple[tuple[float, float, float], str]:
        """How open the second face is, for least, typical and most days, and why."""
        meat = self.recipe.process.meat
        if meat is None:
            return (1, 1, 1), "both faces bare"
        if meat.skin or meat.fat_cap == "thick":
            return (0, 0, 0), "one face shut by skin or thick fat"
        if meat.bone:
            return (0, 0, 0), "on the bone, counted from one face"
        if meat.fat_cap == "thin":
            return (1, 0.6, 0.25), "a thin fat cap on one face"
        return (1, 1, 1), "both faces bare"

    def _days_to_middle(self) -> Sum:
        meat = self.recipe.process.meat
        if meat is None or meat.thickness is None:
            raise _CannotTell("the page does not say how thick the meat is")
        if self.method.startswith("pumped"):
            raise _CannotTell("pumped: the needle carries the cure to the middle")
        held, _given, assumed = self._agent("nitrite")
        bath, in_meat, share, _ = self._bath()
        if in_meat.likely <= 0:
            raise _CannotTell("no meat")
        level = salting.ppm_of_green(salting.per_water_at_rest(held.likely, bath.likely, in_meat.likely), share)
        colour = facts.fact("colour_ppm")
        if level < colour.value:
            raise _CannotTell(f"only {round_(level)} ppm nitrite when all is level: too little to ask after days")
        speed = facts.fact("diffusion.nitrite")
        open_, why = self.openness()
        thick = meat.thickness.likely
        least, typical, most = penetration.days_to_middle(
            thick / 1000, level, bath.likely / in_meat.likely, self._celsius(), (speed.low, speed.value, speed.high), (colour.low, colour.value, colour.high), open_
        )
        thickness = Input("thickness", meat.thickness, "millimetre", meat.line, meat.thickness_stated)
        if not meat.thickness_stated:
            assumed = [*assumed, f"a typical piece is {figure(meat.thickness, 'millimetre')} thick; the page does not say"]
        return Sum(
            "days_to_middle", Span(least, typical, most), "day", "time for 14, 40, 50 ppm nitrite to reach the middle by diffusion, fastest to slowest",
            (thickness, Input("nitrite when all is level", exactly(level), "ppm", None, False), Input("bath water to meat water", exactly(bath.likely / in_meat.likely), "ratio", None, False)),
            (*assumed, why, f"cured at {self._celsius():.0f} °C"), (Cite("crank", "slab in a limited bath"), speed.cite),
        )  # fmt: skip

    def _stay(self) -> tuple[Span, Fact]:
        fact = self.recipe.process.cure_time
        if fact is None:
            raise _CannotTell("the page does not say how long it cures")
        day = float(units.factor(fact.unit)) / 24
        span = fact.span
        return Span(span.low * day, span.likely * day, span.high * day), fact

    def _share_after(self, solute: Span, name: str, curve: Callable[[float, float], float], of_green: bool = False, only: float | None = None) -> Span:
        """Gram of solute per gram of water in the meat after the stay, as ``curve`` has it; ``name`` is the speed's.

        ``of_green`` : per gram of the green meat's own water instead, which is the same unless brine was pumped in.
        ``only`` : at this one speed.
        """
        meat = self.recipe.process.meat
        if meat is None or meat.thickness is None:
            raise _CannotTell("the page does not say how thick the meat is")
        bath, in_meat, share, _ = self._bath()
        stay, _ = self._stay()
        factor = penetration.temperature_factor(self._celsius())
        typical = facts.fact(name).value
        pump = self.recipe.process.pump if self.method == "pumped-immersion" else None
        pickle = self._need("brine_mass").value.likely if pump is not None else 0.0

        def reached(days: float, speed: float, mm: float) -> float:
            return penetration.theta(days, penetration.path(mm / 1000, self._open_at(speed, typical)), speed * factor)

        def after(gram: float, bath_g: float, meat_g: float, theta: float, gain: float) -> float:
            driven = min(1.0, gain / 100 * meat_g / share / pickle) if gain else 0.0  # of the pickle, by the needle
            water = meat_g + driven * bath_g
            start = driven * gram / water
            level = salting.per_water_at_rest(gram, bath_g, meat_g)
            found = start + (level - start) * curve(theta, (1 - driven) * bath_g / water)
            return found * water / meat_g if of_green else found

        speeds = exactly(only) if only is not None else self._figure(name)
        # Days, speed and thickness act through theta alone: their corners are two of it.
        theta = corners(reached, stay, speeds, meat.thickness)
        return corners(after, solute, bath, in_meat, theta, pump.span if pump is not None else exactly(0.0))

    def _open_at(self, speed: float, typical: float) -> float:
        """How open the second face is taken to be when cure moves at this speed."""
        openness, _ = self.openness()
        return openness[0] if speed > typical else openness[2] if speed < typical else openness[1]

    def _needle_note(self) -> tuple[str, ...]:
        lacking = self.method == "pumped-immersion" and self.recipe.process.pump is None
        return ("what the needle carries is not counted; the page does not say how much",) if lacking else ()

    def _estimate(self) -> Sum:
        held, given, assumed = self._agent("nitrite")
        if self.method not in ("immersion", "pumped-immersion"):
            raise _CannotTell("no bath: all of it goes into the meat")
        _, _, share, _ = self._bath()
        stay, fact = self._stay()
        speed = facts.fact("diffusion.nitrite")
        per_water = self._share_after(held, "diffusion.nitrite", penetration.uptake, of_green=True)
        value = Span(*(salting.ppm_of_green(c, share) for c in (per_water.low, per_water.likely, per_water.high)))
        meat = self._stated_meat()
        return Sum("nitrite_estimate", value, "ppm", "mean in the meat after the stated days, by diffusion from a limited bath", (*given, *meat.inputs, Input("days", stay, "day", fact.line), self._speed("diffusion.nitrite")), (*assumed, *self._needle_note()), (Cite("crank", "slab in a limited bath"), speed.cite))

    def _middle(self) -> Sum:
        held, given, assumed = self._agent("nitrite")
        if self.method.startswith("pumped"):
            raise _CannotTell("pumped: the needle carries the cure to the middle")
        _, _, share, _ = self._bath()
        stay, fact = self._stay()
        speed = facts.fact("diffusion.nitrite")
        per_water = self._share_after(held, "diffusion.nitrite", penetration.middle)
        value = Span(*(salting.ppm_of_green(c, share) for c in (per_water.low, per_water.likely, per_water.high)))
        return Sum("nitrite_middle", value, "ppm", "in the middle of the piece after the stated days", (*given, Input("days", stay, "day", fact.line), self._speed("diffusion.nitrite")), tuple(assumed), (Cite("crank", "slab in a limited bath"), speed.cite))

    def _all_salt(self) -> tuple[Span, list[Input]]:
        salt = self._weights("salt")
        cures = self._cure_salt()
        if not salt and not cures:
            raise _CannotTell("no salt on the page")
        spans = [one.value for one in salt] + [corners(lambda gram, plain: gram * plain, one.value, plain) for one, plain in cures]
        return added(spans), salt + [one for one, _ in cures]

    def _speed(self, name: str) -> Input:
        return Input(_SETTLED_WORDS[name], self._figure(name), "m2/s", None, False, facts.fact(name).source)

    def _salt_equilibrium(self) -> Sum:
        if self.method == "pumped":
            return self._salt_pumped()
        salt, given = self._all_salt()
        bath, in_meat, share, _ = self._bath()
        value = corners(lambda gram, bath_g, meat_g: salting.percent_of_meat(salting.per_water_at_rest(gram, bath_g, meat_g), share), salt, bath, in_meat)
        meat = self._stated_meat()
        water = (Input("water in the bath", bath, "gram", None, False),) if bath.high > 0 else ()
        return Sum("salt_equilibrium", value, "percent", "all salt shared out over the water of bath and meat, in percent of the salted meat", (*given, *water, *meat.inputs), (f"the meat is {share:.0%} water",), (Cite("crank", "mass balance"),))

    def _salt_pumped(self) -> Sum:
        pump = self.recipe.process.pump
        if pump is None:
            raise _CannotTell("the page does not say how much is pumped in")
        strength = self._need("brine_strength")
        value = corners(salting.percent_pumped, pump.span, strength.value)
        given = (Input("pumped in", pump.span, "percent", pump.line), Input("brine strength", strength.value, "percent", None, False))
        pencil = ((pump.span, "percent"), " × ", (strength.value, "percent"), " ÷ (100 % + ", (pump.span, "percent"), ")")
        return Sum("salt_equilibrium", value, "percent", "what the needle carries, evened out, in percent of the pumped meat", given, ("nothing runs out again",), (Cite("crank", "mass balance"),), pencil)

    def _salt_speed(self) -> str:
        meat = self.recipe.process.meat
        return "diffusion.salt_fish" if meat is not None and meat.species == "fish" else "diffusion.salt"

    def _salt_after_cure(self) -> Sum:
        if self.method in ("dry", "pumped"):
            level = self._need("salt_equilibrium")
            return replace(level, name="salt_after_cure", formula="all the salt of the rub, in percent of the salted meat" if self.method == "dry" else level.formula)
        salt, given = self._all_salt()
        speed = self._salt_speed()
        _, _, share, _ = self._bath()
        stay, fact = self._stay()
        per_water = self._share_after(salt, speed, penetration.uptake)
        value = corners(lambda c: salting.percent_of_meat(c, share), per_water)
        return Sum(
            "salt_after_cure", value, "percent", "salt in the meat after the stated days, by diffusion", (*given, Input("days", stay, "day", fact.line), self._speed(speed)),
            (f"the meat is {share:.0%} water", *self._needle_note()), (Cite("crank", "slab in a limited bath"), facts.fact(speed).cite),
        )  # fmt: skip

    def _salt_as_eaten(self) -> Sum:
        """After rinse, soak and cooking, worked at each speed: more speed salts faster and leaches faster.

        A soak is a fresh bath. In a simmer the meat first shrinks, its juice goes into the pot, and the rest leaches.
        """
        after = self._need("salt_after_cure")
        process = self.recipe.process
        meat = process.meat
        raw = process.final_temperature is None and process.cook is None
        if meat is None or meat.thickness is None:
            raise _CannotTell("the page does not say how thick the meat is")
        _, _, share, _ = self._bath()
        cooked = facts.fact("water_share.cooked").value
        soak, simmer = process.soak.span if process.soak is not None else None, self._simmer_hours()

        def eaten(percent: float, kept: float) -> float:
            c = percent / 100 / (share * (1 - percent / 100)) * kept
            return salting.percent_of_meat(c, share) if raw else salting.percent_cooked(c, cooked)

        kept = exactly(1.0)
        if soak is None and simmer is None:
            value = corners(lambda percent: eaten(percent, 1.0), after.value)
        else:
            value, kept = self._leached(after, eaten, soak, simmer)
        assumed = [] if raw else [f"cooked meat is {cooked:.0%} water"]
        if soak is not None:
            assumed.append(f"{figure(soak, 'hours')} of soaking in ample cold water")
        if simmer is not None:
            assumed.append(f"{figure(simmer, 'hours')} of simmering in fresh water after the first half hour")
        given = (Input("salt after the cure", after.value, "percent", None, False), Input("kept", kept, "ratio", None, False))
        return Sum("salt_as_eaten", value, "percent", "salt after the cure × what soak and simmer leave, in percent of what is eaten", given, tuple(assumed), (Cite("crank", "sequence of baths"),))

    def _leached(self, after: Sum, eaten: Callable[[float, float], float], soak: Span | None, simmer: Span | None) -> tuple[Span, Span]:
        """The span of what is eaten, and of the share that soak and simmer leave."""
        name, nothing = self._salt_speed(), exactly(0.0)
        found, left = [], []
        likely = kept = 1.0
        speeds, heats = self._figure(name), self._figure("diffusion.simmer")
        for end in (0, 1, 2):
            speed, heat = at(speeds, end), at(heats, end)
            there = self._after_at(after, name, speed)
            cured = self._cured(speed)
            for most in ((0, 2) if any(span is not None and not span.exact for span in (soak, simmer)) else (1,)):
                part = self._kept(cured, speed, heat, at(soak or nothing, most), at(simmer or nothing, most))
                left.append(part)
                found += [eaten(there.low, part), eaten(there.high, part)]
            if end == 1:
                kept = self._kept(cured, speed, heat, (soak or nothing).likely, (simmer or nothing).likely)
                likely = eaten(there.likely, kept)
        return Span(min(*found, likely), likely, max(*found, likely)), Span(min(*left, kept), kept, max(*left, kept))

    def _after_at(self, after: Sum, name: str, speed: float) -> Span:
        """Salt after the cure, percent, at one speed."""
        if self.method in ("dry", "pumped"):
            return after.value
        _, _, share, _ = self._bath()
        return corners(lambda c: salting.percent_of_meat(c, share), self._share_after(self._all_salt()[0], name, penetration.uptake, only=speed))

    def _path_at(self, speed: float) -> float:
        """Metre that salt has to go at this speed."""
        meat = self.recipe.process.meat
        if meat is None or meat.thickness is None:
            raise _CannotTell("the page does not say how thick the meat is")
        return penetration.path(meat.thickness.likely / 1000, self._open_at(speed, facts.fact(self._salt_speed()).value))

    def _cured(self, speed: float) -> penetration.Slab:
        """The meat as it comes out of the cure, everything but the speed at its likely: salt per water, in any unit."""
        bath, in_meat, _, _ = self._bath()
        if self.method != "immersion" or bath.likely <= 0:
            return penetration.Slab(1.0, _PARTS)
        alpha = bath.likely / in_meat.likely
        slab = penetration.Slab(0.0, _PARTS)
        slab.into(1 + 1 / alpha, alpha, penetration.theta(self._stay()[0].likely, self._path_at(speed), speed * penetration.temperature_factor(self._celsius())))
        return slab

    def _kept(self, cured: penetration.Slab, speed: float, heat: float, soak: float, simmer: float) -> float:
        """The share of the salt per water that is left after ``soak`` and ``simmer`` hours, everything else at its likely."""
        before, slab = cured.mean, cured.copy()
        if before <= 0:
            return 1.0
        _, _, share, _ = self._bath()
        cold, length = speed * penetration.temperature_factor(self._celsius()), self._path_at(speed)
        slab.into(0.0, _own("soak.water_ratio"), penetration.theta(soak / 24, length, cold), _SOAK_PARTS)
        if simmer > 0:
            # Per gram of green meat: water left in the shrunken meat, juice that went into the pot, and the pot.
            stays = min(share, (1 - _own("simmer.loss")) * facts.fact("water_share.cooked").value)
            pot = _own("simmer.water_per_meat") + share - stays
            slab.into((share - stays) * slab.mean / pot, pot / stays, penetration.theta(simmer / 24, length, heat))
        return slab.mean / before

    def _simmer_hours(self) -> Span | None:
        """Hours in the simmering pot that count: the first half hour, while the meat warms up, does not."""
        if not self._simmered():
            return None
        time = self.recipe.process.cook_time
        if time is None:
            return exactly(_own("simmer.untold_h"))
        hour, warm = float(units.factor(time.unit)), _own("simmer.warm_up_h")
        return Span(*(max(0.0, value * hour - warm) for value in (time.span.low, time.span.likely, time.span.high)))

    def _simmered(self) -> bool:
        process = self.recipe.process
        return any(step.does("cook") and {"simmer", "boil", "braise"} & set(step.actions) for step in self.recipe.steps) and process.smoke is None

    # -- the rest

    def _vessel(self) -> Sum:
        pickle, strength, meat = self._need("brine_mass"), self._need("brine_strength"), self._stated_meat()
        salt, _ = self._all_salt()
        value = corners(lambda salt_g, rest, meat_g: vessel.litres(salt_g + rest, brine.strength(salt_g, rest), meat_g), salt, less(pickle.value, salt), meat.value)
        return Sum("vessel_volume", value, "litre", "brine ÷ its density + meat ÷ its density", (Input("brine", pickle.value, "gram", None, False), Input("brine strength", strength.value, "percent", None, False), *meat.inputs), ("nothing for headspace or for gaps between pieces",), (facts.fact("meat_density").cite,))

    def section_yields(self) -> tuple[SectionYield, ...]:
        """What each list makes that the page takes from by name, in the order of the lists."""
        found = []
        for section in self.recipe.sections:
            title = (section.name or "").strip(" :").lower()
            taken = [item for other in self.recipe.sections if other is not section for item in other.ingredients if item.name.lower() == title]
            if not title or not (taken or any(one.name.lower() in (title, f"the {title}") for step in self.recipe.steps for one in step.uses)):
                continue
            known = [Input(item.name, item.mass, "gram", item.line, item.weighed) for item in section.ingredients if item.mass is not None and item.mass.low >= 0]
            if not known:
                continue
            lacking = tuple(f"{item.name or f'line {item.line}'} is not counted; nothing tells its grams" for item in section.ingredients if item.mass is None)
            takes = [Input(item.name, item.mass, "gram", item.line, item.weighed) for item in taken if item.mass is not None]
            made = Sum("section_yield", total(known), "gram", f"what “{title}” makes, all of it together", tuple(known), lacking)
            found.append(SectionYield(title, made, tuple(takes)))
        return tuple(found)

    def _section_yield(self) -> Sum:
        every = self.section_yields()
        if not every:
            raise _CannotTell("nothing is taken from a list that has a name of its own and grams to add up")
        return every[0].makes

    def _lethality(self) -> Sum:
        final = self.recipe.process.final_temperature
        if final is None:
            raise _CannotTell("the page gives no temperature inside")
        table = self.lethality_table()
        seconds = final.dwell
        wanted = lethality.wanted_seconds(table, final.low)
        if wanted is None or wanted == 0:
            raise _CannotTell("nothing more is wanted at that temperature" if wanted == 0 else "the table gives no credit at that temperature")
        if seconds is None:
            raise _CannotTell("how long it is held there is not stated")
        value = Span(seconds.low * 60 / wanted, (seconds.low + seconds.high) * 30 / wanted, seconds.high * 60 / wanted)
        return Sum("lethality", value, "ratio", "stated hold ÷ hold the table wants", (Input("held", Span(seconds.low, (seconds.low + seconds.high) / 2, seconds.high), "minutes", seconds.line),), (), (Cite("fsis-appendix-a-2021", "Tables 2 to 4"),))

    def lethality_table(self) -> str:
        """Which published table this product is held to."""
        meat = self.recipe.process.meat
        species = meat.species if meat is not None else None
        if species in ("chicken", "turkey"):
            return species
        if species in ("duck", "goose", "poultry"):
            return "turkey"
        return "meat"

    def _cooling(self) -> Sum:
        legs = self.recipe.process.cooling
        if not legs:
            raise _CannotTell("no cool-down is written")
        first, last = legs[0], legs[-1]
        stage, whole = facts.fact("cooling.stage1_h").value, facts.fact("cooling.total_h").value
        tests = [(stage if first.end >= facts.table("rules")["cooling.stage_end_f"].low else whole, first.low, first.high)]
        if len(legs) > 1 and last.end <= facts.table("rules")["cooling.cold_end_f"].high:
            tests.append((whole, sum(leg.low for leg in legs), sum(leg.high for leg in legs)))
        allowed, low, high = min(tests, key=lambda test: test[0] / max(test[1] + test[2], 1e-9))
        value = Span(chilling.ratio(allowed, high), chilling.ratio(allowed, (low + high) / 2), chilling.ratio(allowed, low))
        return Sum("cooling", value, "ratio", "allowed time ÷ stated time, of the step that is tightest", (Input("stated", Span(low, (low + high) / 2, high), "hours", first.line),), (), (Cite("food-code-2022", "3-501.14"),))


_WAYS: dict[str, Callable[[Sums], Sum]] = {
    "brine_mass": Sums._brine_mass, "meat_mass": Sums._meat_mass, "brine_strength": Sums._brine_strength, "brine_salometer": Sums._brine_salometer,
    "brine_temperature": Sums._brine_temperature, "days_to_middle": Sums._days_to_middle, "nitrite_estimate": Sums._estimate, "nitrite_middle": Sums._middle,
    "salt_equilibrium": Sums._salt_equilibrium, "salt_after_cure": Sums._salt_after_cure, "salt_as_eaten": Sums._salt_as_eaten, "vessel_volume": Sums._vessel,
    "section_yield": Sums._section_yield, "lethality": Sums._lethality, "cooling": Sums._cooling,
}  # fmt: skip


def _one_settled(sums: Sums) -> Iterator[tuple[Input, Recipe, frozenset[str]]]:
    """Each open input of the sums, and the recipe (or the figure of ``facts``) with that one input at its likely value."""
    recipe = sums.recipe
    none: frozenset[str] = frozenset()
    for item in recipe.ingredients:
        if item.use != "cure":
            continue
        if item.mass is not None and not item.mass.exact:
            yield Input(item.name or item.role, item.mass, "gram", item.line, item.weighed), _with(recipe, item, replace(item, mass=exactly(item.mass.likely))), none
        if item.role in CURING_SALTS:
            for agent, share in sums._shares(item).items():
                if not share.exact:
                    held = {**sums._shares(item), agent: exactly(share.likely)}
                    stated = Strength(held.get("nitrite"), held.get("nitrate"), item.place)
                    yield Input(f"{agent} in it", share, "percent", item.line if item.strength is not None else None, item.strength is not None), _with(recipe, item, replace(item, strength=stated)), none
    process = recipe.process
    meat = process.meat
    if meat is not None and meat.mass is not None and not meat.mass.exact:
        yield Input(meat.name, meat.mass, "gram", meat.line, meat.mass_stated), replace(recipe, process=replace(process, meat=replace(meat, mass=exactly(meat.mass.likely)))), none
    if meat is not None and meat.thickness is not None and not meat.thickness.exact:
        yield Input("thickness", meat.thickness, "millimetre", meat.line, meat.thickness_stated), replace(recipe, process=replace(process, meat=replace(meat, thickness=exactly(meat.thickness.likely)))), none
    for name, words in (("cure_time", "days"), ("pump", "pumped in"), ("soak", "hours of soaking"), ("cook_time", "hours of cooking")):
        told: Fact | None = getattr(process, name)
        if told is not None and told.low != told.high:
            middle = told.span.likely
            changed: dict[str, Any] = {name: replace(told, low=middle, high=middle)}
            yield Input(words, told.span, told.unit, told.line), replace(recipe, process=replace(process, **changed)), none
    for name, words in _SETTLED_WORDS.items():
        fact = facts.fact(name)
        yield Input(words, fact.span, fact.unit, None, False, fact.source), recipe, frozenset([name])


def _with(recipe: Recipe, old: Ingredient, new: Ingredient) -> Recipe:
    """``recipe`` with one ingredient changed."""
    return replace(recipe, sections=tuple(replace(section, ingredients=tuple(new if item is old else item for item in section.ingredients)) for section in recipe.sections))


ENDS = Span(0, 1, 2)  # an input of ``corners`` that picks an end: several spans that stand for one thing move together


def at(span: Span, end: float) -> float:
    """The low (0), likely (1) or high (2) of a span."""
    return span.low if end == 0 else span.high if end == 2 else span.likely


def less(whole: Span, *parts: Span) -> Span:
    """A total without some of the spans that were added up in it, end by end; never below nothing."""
    low, likely, high = (max(0.0, at(whole, end) - sum(at(part, end) for part in parts)) for end in (0, 1, 2))
    return Span(min(low, likely), likely, max(likely, high))


def total(given: list[Input]) -> Span:
    """All of them added, low with low and high with high."""
    return added(one.value for one in given)


def _celsius(fact: Fact) -> Span:
    span = fact.span
    return Span(units.celsius(span.low), units.celsius(span.likely), units.celsius(span.high))


def _sentence_words(recipe: Recipe, line: int) -> str:
    return " ".join(step.text.lower() for step in recipe.steps if step.line <= line <= step.end_line)
