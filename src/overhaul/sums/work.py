"""The sums of one recipe, each worked when it is first asked for.

The conventions that everybody works by: corners of all inputs, likely from every likely; a stated weight is
exact; ice counts as water; spices weigh nothing; diffusion shares out over water.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from math import inf

from overhaul import facts
from overhaul.findings import Cite
from overhaul.house import House
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Fact, Ingredient, Recipe
from overhaul.span import Span, corners, exactly
from overhaul.sums import brine, chilling, lethality, nitrite, penetration, salting, vessel


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a sum: where it came from, and whether the page states it."""

    name: str
    value: Span
    unit: str
    line: int | None = None
    stated: bool = True
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Sum:
    """One worked sum."""

    name: str
    value: Span
    unit: str
    formula: str
    inputs: tuple[Input, ...]
    assumed: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = ()

    def worked(self) -> str:
        """One pencil line: the formula with its numbers, and the result."""
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
    "accelerator_direct", "accelerator_pump", "accelerator_equilibrium", "phosphate_direct", "phosphate_pump", "phosphate_equilibrium",
    "salt_equilibrium", "salt_after_cure", "salt_as_eaten", "days_to_middle", "vessel_volume", "lethality", "cooling",
)  # fmt: skip

_MASS_ROLES = {
    "water_mass": ("water",), "ice_mass": ("ice",), "liquid_mass": ("liquid", "acid"), "salt_mass": ("salt",), "sugar_mass": ("sugar",),
    "cure_mass": tuple(sorted(CURING_SALTS)),
}  # fmt: skip
_SPECIES_WATER = {"beef": "beef", "venison": "beef", "lamb": "beef", "pork": "pork", "turkey": "poultry", "chicken": "poultry", "duck": "poultry", "goose": "poultry", "fish": "fish"}


class _CannotTell(Exception):
    """Why a sum cannot be worked, in plain words."""


class Sums:
    """The sums of ``recipe`` in ``house``; each worked once, on first asking."""

    def __init__(self, recipe: Recipe, house: House) -> None:
        self.recipe = recipe
        self.house = house
        self._done: dict[str, Sum | str] = {}
        self._ways: dict[str, Callable[[], Sum]] = {
            "brine_mass": self._brine_mass, "meat_mass": self._meat_mass, "brine_strength": self._brine_strength, "brine_salometer": self._brine_salometer,
            "brine_temperature": self._brine_temperature, "days_to_middle": self._days_to_middle, "nitrite_estimate": self._estimate, "nitrite_middle": self._middle,
            "salt_equilibrium": self._salt_equilibrium, "salt_after_cure": self._salt_after_cure, "salt_as_eaten": self._salt_as_eaten,
            "vessel_volume": self._vessel, "lethality": self._lethality, "cooling": self._cooling,
        }  # fmt: skip

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
        """The input that makes a sum's span wide, by taking each at its likely value in turn."""
        worked = self.get(name)
        if worked is None or worked.value.exact:
            return None
        wide = [one for one in worked.inputs if not one.value.exact and one.value.likely]
        return max(wide, key=lambda one: (one.value.high - one.value.low) / abs(one.value.likely), default=None)

    def _work(self, name: str) -> Sum:
        if name in self._ways:
            return self._ways[name]()
        if name in _MASS_ROLES:
            return self._mass(name, _MASS_ROLES[name])
        agent, _, way = name.partition("_")
        return self._agent_sum(agent, way)

    # -- what there is

    def items(self, *roles: str) -> list[Ingredient]:
        return [item for item in self.recipe.ingredients if item.role in roles and item.use == "cure"]

    @property
    def method(self) -> str:
        cure = self.recipe.process.cure
        return cure.method if cure is not None else "none"

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
        return wet + self._weights("salt", "sugar", "accelerator", "phosphate", *sorted(CURING_SALTS))

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
        salts = {(one.name, one.line) for one in salt} | {(one.name, one.line) for one, _ in cures}
        others = [one for one in pickle if (one.name, one.line) not in salts]
        salt_sum, other_sum = total(salt) if salt else exactly(0.0), total(others)
        cure_sum = total([one for one, _ in cures]) if cures else exactly(0.0)
        share = cures[0][1] if cures else exactly(1.0)

        def strength(salt_g: float, cure_g: float, plain: float, rest: float) -> float:
            return brine.strength(salt_g + cure_g * plain, cure_g * (1 - plain), rest)

        value = corners(strength, salt_sum, cure_sum, share, other_sum)
        given = tuple(salt + [one for one, _ in cures] + others)
        return Sum("brine_strength", value, "percent", "100 × all salt ÷ finished brine", given, ("ice melted; spices weigh nothing",), (Cite("salometer-table", "by weight"),))

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
        at = facts.fact("boil_temperature" if boils else "simmer_temperature")
        frozen = self._ice_temperature()
        tap = facts.fact("tap_temperature").span
        solids = total(self._weights("salt", "sugar")).likely / 1000 if self._weights("salt", "sugar") else 0.0
        percent = strength.value.likely

        def mixed(hot_g: float, hot_c: float, cold_g: float, cold_c: float, ice_g: float, ice_c: float) -> float:
            return chilling.mixed_temperature(hot_g / 1000 + solids, hot_c, cold_g / 1000, cold_c, ice_g / 1000, ice_c, percent)

        value = corners(mixed, hot, at.span, cold, tap, total(ice), frozen)
        given = (
            Input("hot liquid", hot, "gram", wet[0].line if wet else None, False), Input("its heat", at.span, "degC", process.brine_heated.line, False, at.source),
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
        return facts.fact("ice_temperature").span

    # -- agents

    def _shares(self, item: Ingredient) -> dict[str, Span]:
        """Percent of each agent in a curing salt: the page's, else the house sheet's, else the kind's."""
        if item.strength is not None:
            stated = {agent: span for agent, span in (("nitrite", item.strength.nitrite), ("nitrate", item.strength.nitrate)) if span is not None}
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
        for item in self.items(*sorted(CURING_SALTS)):
            share = self._shares(item).get(agent)
            if share is None or share.high <= 0:
                continue
            if item.mass is None:
                raise _CannotTell(f"the grams of curing salt on line {item.line} are not known")
            found.append((Input(item.name, item.mass, "gram", item.line, item.weighed), share))
        return found

    def _agent(self, agent: str) -> tuple[Span, list[Input], list[str]]:
        sources = self._agents(agent)
        if not sources:
            raise _CannotTell(f"no {agent} on the page")
        spans = []
        given: list[Input] = []
        assumed: list[str] = []
        for weight, share in sources:
            spans.append(corners(lambda gram, percent: gram * percent / 100, weight.value, share))
            given.append(weight)
            item = next(item for item in self.recipe.ingredients if item.line == weight.line and item.name == weight.name)
            stated = item.strength is not None or item.role in self.house.strengths or item.role in ("nitrite", "nitrate", "accelerator", "phosphate")
            given.append(Input(f"{agent} in it", share, "percent", item.line if item.strength is not None else None, stated))
            if not stated:
                assumed.append(f"{item.name} holds {figure(share, 'percent')} {agent}; the page does not say")
            if not weight.stated:
                assumed.append(f"{item.name} is measured, not weighed")
        return Span(sum(s.low for s in spans), sum(s.likely for s in spans), sum(s.high for s in spans)), given, assumed

    def _agent_sum(self, agent: str, way: str) -> Sum:
        name = f"{agent}_{way}"
        held, given, assumed = self._agent(agent)
        cite = (Cite("inspectors-handbook", "pages 12 to 24"),)
        if way == "direct":
            waterless = not any(item.mass is not None for item in self.items("water", "ice", "liquid"))
            if self.method not in ("dry", "none") and not (agent == "nitrate" and waterless):
                raise _CannotTell("the cure is a brine")
            if self.method not in ("dry", "none"):
                assumed = [*assumed, "all of it taken up; how much water is not stated"]
            green = self._stated_meat()
            value = corners(nitrite.direct, held, green.value)
            return Sum(name, value, "ppm", f"{agent} ÷ green meat × 1,000,000", (*given, *green.inputs), tuple(assumed), cite)
        pickle = self._need("brine_mass")
        if way == "equilibrium":
            if self.method not in ("immersion", "pumped-immersion"):
                raise _CannotTell("the meat does not lie in a brine")
            green = self._stated_meat()
            rest = Span(*(max(0.0, value) for value in (pickle.value.low, pickle.value.likely, pickle.value.high)))
            value = corners(nitrite.equilibrium, held, green.value, rest)
            return Sum(name, value, "ppm", f"{agent} ÷ (green meat + pickle) × 1,000,000", (*given, *green.inputs, Input("pickle", pickle.value, "gram", None, False)), tuple(assumed), (Cite("inspectors-handbook", "page 22, meat and pickle as one system"),))
        pump = self.recipe.process.pump
        if way == "pump":
            if pump is None:
                raise _CannotTell("the page does not say how much is pumped in" if self.method.startswith("pumped") else "nothing is pumped")
            gain = Input("pumped in", pump.span, "percent", pump.line)
            value = corners(lambda gram, percent, brine_g: nitrite.pumped(gram, percent / 100, brine_g), held, pump.span, pickle.value)
            return Sum(name, value, "ppm", f"{agent} × pumped share ÷ pickle × 1,000,000", (*given, gain, Input("pickle", pickle.value, "gram", None, False)), tuple(assumed), (Cite("inspectors-handbook", "page 19"),))
        if way == "pick_up":
            if self.method not in ("immersion", "pumped-immersion"):
                raise _CannotTell("the meat does not lie in a brine")
            fact = facts.fact("pick_up_percent")
            gain = Input("weight picked up", fact.span, "percent", None, False, fact.source)
            value = corners(lambda gram, percent, brine_g: nitrite.pumped(gram, percent / 100, brine_g), held, fact.span, pickle.value)
            return Sum(name, value, "ppm", f"{agent} × pick-up ÷ pickle × 1,000,000", (*given, gain, Input("pickle", pickle.value, "gram", None, False)), (*assumed, "the weight picked up is a published span, never judged by"), (Cite("inspectors-handbook", "page 21, pick-up"),))
        raise _CannotTell(f"no sum {name}")

    # -- into the meat

    def _bath(self) -> tuple[Span, Span, float, str]:
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

    def _share_after(self, solute: Span, diffusion: facts.Fact, curve: Callable[[float, float], float]) -> Span:
        """Gram of solute per gram of water in the meat after the stay, as ``curve`` has it."""
        meat = self.recipe.process.meat
        if meat is None or meat.thickness is None:
            raise _CannotTell("the page does not say how thick the meat is")
        bath, in_meat, _, _ = self._bath()
        stay, _ = self._stay()
        open_, _ = self.openness()
        factor = penetration.temperature_factor(self._celsius())
        thick = meat.thickness

        def after(gram: float, bath_g: float, meat_g: float, days: float, speed: float, mm: float) -> float:
            kappa = open_[0] if speed > diffusion.value else open_[2] if speed < diffusion.value else open_[1]
            theta = penetration.theta(days, penetration.path(mm / 1000, kappa), speed * factor)
            return salting.per_water_at_rest(gram, bath_g, meat_g) * curve(theta, bath_g / meat_g)

        return corners(after, solute, bath, in_meat, stay, diffusion.span, thick)

    def _estimate(self) -> Sum:
        held, given, assumed = self._agent("nitrite")
        if self.method not in ("immersion", "pumped-immersion"):
            raise _CannotTell("no bath: all of it goes into the meat")
        _, _, share, _ = self._bath()
        stay, fact = self._stay()
        speed = facts.fact("diffusion.nitrite")
        per_water = self._share_after(held, speed, penetration.uptake)
        value = Span(*(salting.ppm_of_green(c, share) for c in (per_water.low, per_water.likely, per_water.high)))
        meat = self._stated_meat()
        return Sum("nitrite_estimate", value, "ppm", "mean in the meat after the stated days, by diffusion from a limited bath", (*given, *meat.inputs, Input("days", stay, "day", fact.line)), tuple(assumed), (Cite("crank", "slab in a limited bath"), speed.cite))

    def _middle(self) -> Sum:
        held, given, assumed = self._agent("nitrite")
        if self.method.startswith("pumped"):
            raise _CannotTell("pumped: the needle carries the cure to the middle")
        _, _, share, _ = self._bath()
        stay, fact = self._stay()
        speed = facts.fact("diffusion.nitrite")
        per_water = self._share_after(held, speed, penetration.middle)
        value = Span(*(salting.ppm_of_green(c, share) for c in (per_water.low, per_water.likely, per_water.high)))
        return Sum("nitrite_middle", value, "ppm", "in the middle of the piece after the stated days", (*given, Input("days", stay, "day", fact.line)), tuple(assumed), (Cite("crank", "slab in a limited bath"), speed.cite))

    def _all_salt(self) -> tuple[Span, list[Input]]:
        salt = self._weights("salt")
        cures = self._cure_salt()
        if not salt and not cures:
            raise _CannotTell("no salt on the page")
        spans = [one.value for one in salt] + [corners(lambda gram, plain: gram * plain, one.value, plain) for one, plain in cures]
        return Span(sum(s.low for s in spans), sum(s.likely for s in spans), sum(s.high for s in spans)), salt + [one for one, _ in cures]

    def _salt_equilibrium(self) -> Sum:
        salt, given = self._all_salt()
        bath, in_meat, share, _ = self._bath()
        value = corners(lambda gram, bath_g, meat_g: salting.percent_of_meat(salting.per_water_at_rest(gram, bath_g, meat_g), share), salt, bath, in_meat)
        meat = self._stated_meat()
        return Sum("salt_equilibrium", value, "percent", "all salt shared out over the water of bath and meat, in percent of the salted meat", (*given, *meat.inputs), (f"the meat is {share:.0%} water",), (Cite("crank", "mass balance"),))

    def _salt_after_cure(self) -> Sum:
        if self.method == "dry":
            level = self._need("salt_equilibrium")
            return replace(level, name="salt_after_cure", formula="all the salt of the rub, in percent of the salted meat")
        if self.method.startswith("pumped"):
            raise _CannotTell("pumped: not worked")
        salt, given = self._all_salt()
        meat = self.recipe.process.meat
        speed = facts.fact("diffusion.salt_fish" if meat is not None and meat.species == "fish" else "diffusion.salt")
        _, _, share, _ = self._bath()
        stay, fact = self._stay()
        per_water = self._share_after(salt, speed, penetration.uptake)
        value = Span(*(salting.percent_of_meat(c, share) for c in (per_water.low, per_water.likely, per_water.high)))
        return Sum("salt_after_cure", value, "percent", "salt in the meat after the stated days, by diffusion", (*given, Input("days", stay, "day", fact.line)), (f"the meat is {share:.0%} water",), (Cite("crank", "slab in a limited bath"), speed.cite))

    def _salt_as_eaten(self) -> Sum:
        """After rinse, soak and cooking. A soak is a fresh bath; water that is not stated is taken as ample."""
        after = self._need("salt_after_cure")
        process = self.recipe.process
        _, _, share, _ = self._bath()
        cooked = facts.fact("water_share.cooked").value
        meat = process.meat
        raw = process.final_temperature is None and process.cook is None
        if meat is None or meat.thickness is None:
            raise _CannotTell("the page does not say how thick the meat is")
        length = penetration.path(meat.thickness.likely / 1000, self.openness()[0][1])
        speed = facts.fact("diffusion.salt").value * penetration.temperature_factor(self._celsius())
        kept, assumed = 1.0, [f"cooked meat is {cooked:.0%} water"] if not raw else []
        if process.soak is not None:
            hours = process.soak.span.likely
            gone = penetration.theta(hours / 24, length, speed)
            stay = penetration.theta(self._stay()[0].likely, length, speed) if process.cure_time is not None and self.method == "immersion" else 2.0
            means = penetration.sequence([(1.0, inf, stay), (0.0, 3.0, gone)])
            kept *= means[1] / means[0] if means[0] > 0 else 1.0
            assumed.append(f"{figure(process.soak.span, 'hours')} of soaking in ample cold water")
        if self._simmered():
            hours = max(0.0, units.hours(Fraction(process.cook_time.span.likely).limit_denominator(1000), process.cook_time.unit) - 0.5) if process.cook_time is not None else 2.0
            out = penetration.theta(hours / 24, length, facts.fact("diffusion.simmer").value)
            means = penetration.sequence([(1.0, inf, 2.0), (0.0, 3.0, out)])
            kept *= means[1] / means[0]
            assumed.append(f"{hours:.1f} hours of simmering in fresh water after the first half hour")

        def eaten(percent: float) -> float:
            c = percent / 100 / (share * (1 - percent / 100))
            return salting.percent_of_meat(c * kept, share) if raw else salting.percent_cooked(c * kept, cooked)

        value = corners(eaten, after.value)
        return Sum("salt_as_eaten", value, "percent", "salt after the cure × what soak and simmer leave, in percent of what is eaten", (Input("salt after the cure", after.value, "percent", None, False), Input("kept", exactly(kept), "ratio", None, False)), tuple(assumed), (Cite("crank", "sequence of baths"),))

    def _simmered(self) -> bool:
        process = self.recipe.process
        return any(step.phase == "cook" and {"simmer", "boil", "braise"} & set(step.actions) for step in self.recipe.steps) and process.smoke is None

    # -- the rest

    def _vessel(self) -> Sum:
        pickle, strength, meat = self._need("brine_mass"), self._need("brine_strength"), self._stated_meat()
        value = corners(vessel.litres, pickle.value, strength.value, meat.value)
        return Sum("vessel_volume", value, "litre", "brine ÷ its density + meat ÷ its density", (Input("brine", pickle.value, "gram", None, False), *meat.inputs), ("nothing for headspace or for gaps between pieces",), (facts.fact("meat_density").cite,))

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
        first = legs[0]
        allowed = facts.fact("cooling.stage1_h").value if first.end >= 69 else facts.fact("cooling.total_h").value
        value = Span(chilling.ratio(allowed, first.high), chilling.ratio(allowed, (first.low + first.high) / 2), chilling.ratio(allowed, first.low))
        return Sum("cooling", value, "ratio", "allowed time ÷ stated time, first stage", (Input("stated", Span(first.low, (first.low + first.high) / 2, first.high), "hours", first.line),), (), (Cite("food-code-2022", "3-501.14"),))


def total(given: list[Input]) -> Span:
    """All of them added, low with low and high with high."""
    return Span(sum(one.value.low for one in given), sum(one.value.likely for one in given), sum(one.value.high for one in given))


def _celsius(fact: Fact) -> Span:
    span = fact.span
    return Span(units.celsius(span.low), units.celsius(span.likely), units.celsius(span.high))


def _sentence_words(recipe: Recipe, line: int) -> str:
    return " ".join(step.text.lower() for step in recipe.steps if step.line <= line <= step.end_line)
