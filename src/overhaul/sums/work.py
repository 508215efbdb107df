"""The sums of one recipe, each worked when it is first asked for.

The conventions that everybody works by: corners of all inputs, likely from every likely; a stated weight is
exact; ice counts as water; spices weigh nothing; diffusion shares out over water.

``Sums`` is what the rest of the program asks; each sum is worked in the ``of_…`` file of its subject.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import TYPE_CHECKING

from msgspec import Struct, field

from overhaul import facts
from overhaul.house import House
from overhaul.recipe.model import CURING_SALTS, Ingredient, Recipe
from overhaul.span import Span, exactly
from overhaul.sums.worked import CannotTell, Input, SectionYield, Sum

if TYPE_CHECKING:
    from overhaul.sums.of_cure import Held
    from overhaul.sums.of_time import Bath


NAMES = (
    "water_mass", "ice_mass", "liquid_mass", "salt_mass", "sugar_mass", "cure_mass", "meat_mass", "brine_mass",
    "brine_strength", "brine_of_water", "brine_salometer", "brine_density", "brine_fullness", "brine_freezing", "brine_temperature",
    "nitrite_direct", "nitrite_pump", "nitrite_pick_up", "nitrite_equilibrium", "nitrite_added", "nitrite_any_meat", "nitrite_estimate", "nitrite_middle",
    "nitrate_direct", "nitrate_pump", "nitrate_pick_up", "nitrate_equilibrium",
    "accelerator_direct", "accelerator_pump", "accelerator_pick_up", "accelerator_equilibrium",
    "phosphate_direct", "phosphate_pump", "phosphate_pick_up", "phosphate_equilibrium",
    "salt_equilibrium", "salt_after_cure", "salt_as_eaten", "days_to_middle", "vessel_volume", "section_yield", "lethality", "air_over_end", "come_up",
    "rest", "cooling", "hot_hold", "reheating", "keeping",
)  # fmt: skip

# The file next to this one that works each sum: imported when one of its sums is first asked for. The agents' are all in ``of_cure``.
_SUBJECTS = {
    "of_amounts": (
        "water_mass", "ice_mass", "liquid_mass", "salt_mass", "sugar_mass", "cure_mass", "meat_mass", "brine_mass", "vessel_volume",
        "section_yield",
    ),
    "of_brine": (
        "brine_strength", "brine_of_water", "brine_salometer", "brine_density", "brine_fullness", "brine_freezing", "brine_temperature",
    ),
    "of_time": ("days_to_middle", "nitrite_estimate", "nitrite_middle"),
    "of_salt": ("salt_equilibrium", "salt_after_cure", "salt_as_eaten"),
    "of_heat": ("lethality", "air_over_end", "come_up", "rest", "cooling", "hot_hold", "reheating", "keeping"),
}  # fmt: skip
_SUBJECT_OF = {name: subject for subject, names in _SUBJECTS.items() for name in names}

# Figures of facts/ that are spans, and what a cook calls them.
FIGURE_WORDS = {
    "diffusion.nitrite": "how fast nitrite moves in meat", "diffusion.salt": "how fast salt moves in meat",
    "diffusion.salt_fish": "how fast salt moves in fish", "diffusion.simmer": "how fast salt leaches in the pot",
    "pick_up_percent": "weight picked up", "ice_temperature": "ice at", "simmer_temperature": "its heat",
    "tap_temperature": "the cold water's temperature", "colour_ppm": "how much nitrite colours the middle",
}  # fmt: skip


class Kept(Struct):
    """What several sums of one recipe rest on, worked once."""

    agents: dict[str, Held] = field(default_factory=dict)
    bath: Bath | None = None
    rub: Sums | None = None
    eaten: list[float | None] = field(default_factory=list)  # the likely salt as eaten, once it was asked for
    salt: tuple[Span, list[Input]] | None = None
    weights: dict[tuple[str, ...], list[Input]] = field(default_factory=dict)


class Sums:
    """The sums of ``recipe`` in ``house``; each worked once, on first asking."""

    def __init__(self, recipe: Recipe, house: House, settled: frozenset[str] = frozenset()) -> None:
        """``settled`` : figures of ``facts`` to take at their likely value alone (see ``widest``)."""
        self.recipe = recipe
        self.house = house
        self.kept = Kept()
        self._settled = settled
        self._variants: list[tuple[Input, Sums]] | None = None
        self._done: dict[str, Sum | str] = {}
        self._in_cure = [item for section in recipe.sections if not section.rubbed for item in section.ingredients if item.use == "cure"]
        self._items: dict[tuple[int | None, str], Ingredient] = {
            (item.line, item.name or item.role): item for item in reversed(self._in_cure)
        }

    # -- what the rest of the program asks

    def get(self, name: str) -> Sum | None:
        """The sum of this name, or None where it cannot be worked (see ``why_not``)."""
        if name not in self._done:
            try:
                self._done[name] = self._work(name)
            except CannotTell as reason:
                self._done[name] = str(reason)
            except ValueError as reason:
                self._done[name] = f"the amounts do not make sense ({reason})"
            except (OverflowError, ZeroDivisionError):
                self._done[name] = "the amounts do not make sense"
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
        found = self.widest_share(name)
        return found[0] if found is not None else None

    def widest_share(self, name: str) -> tuple[Input, float] | None:
        """What ``widest`` names, and the share (over 0 to 1) of the sum's width that goes when it alone is taken at its likely value.

        The width is high − low.
        """
        worked = self.get(name)
        if worked is None or worked.value.exact or not worked.inputs:
            return None
        if self._variants is None:
            from overhaul.sums.settling import one_settled

            self._variants = [(one, Sums(recipe, self.house, settled)) for one, recipe, settled in one_settled(self)]
        width = worked.value.high - worked.value.low
        found: Input | None = None
        narrowest = width * (1 - 1e-9)
        for one, sums in self._variants:
            other = sums.get(name)
            if other is not None and other.value.high - other.value.low < narrowest:
                found, narrowest = one, other.value.high - other.value.low
        return (found, 1 - narrowest / width) if found is not None else None

    def section_yields(self) -> tuple[SectionYield, ...]:
        """What each list makes that the page takes from by name, in the order of the lists."""
        from overhaul.sums.of_amounts import section_yields

        return section_yields(self)

    @property
    def rub(self) -> Sums | None:
        """The sums of what goes on dry beside a brine, by itself; None where nothing does."""
        if not any(section.rubbed for section in self.recipe.sections):
            return None
        if self.kept.rub is None:
            from overhaul.sums.changed import rub_alone

            self.kept.rub = Sums(rub_alone(self.recipe), self.house, self._settled)
        return self.kept.rub

    def likely_as_eaten(self) -> float | None:
        """The likely of ``salt_as_eaten`` by itself, which is a sixth of the work; None where it cannot be worked."""
        if (found := self._done.get("salt_as_eaten")) is not None:
            return found.value.likely if isinstance(found, Sum) else None
        if not self.kept.eaten:
            from overhaul.sums.of_salt import likely_as_eaten

            try:
                self.kept.eaten.append(likely_as_eaten(self))
            except (CannotTell, ValueError, OverflowError, ZeroDivisionError):
                self.kept.eaten.append(None)
        return self.kept.eaten[0]

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

    def lethality_table(self) -> str:
        """Which published table this product is held to."""
        meat = self.recipe.process.meat
        species = meat.species if meat is not None else None
        if species in ("chicken", "turkey"):
            return species
        if species in ("duck", "goose", "poultry"):
            return "poultry"
        return "meat"

    def items(self, *roles: str) -> list[Ingredient]:
        """What is in the cure and has one of these roles."""
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

    # -- what the subjects share

    def need(self, name: str) -> Sum:
        """``get``, for a sum that rests on another: without it the reason is the other's."""
        found = self.get(name)
        if found is None:
            raise CannotTell(self.why_not(name) or f"no {name}")
        return found

    def weights(self, *roles: str) -> list[Input]:
        """The grams of what is in the cure and has one of these roles, worked once."""
        if roles not in self.kept.weights:
            self.kept.weights[roles] = self._weights(roles)
        return list(self.kept.weights[roles])

    def _weights(self, roles: tuple[str, ...]) -> list[Input]:
        found = []
        for item in self.items(*roles):
            if item.mass is None:
                if item.optional or (item.amount is None and item.role not in ("water", "salt")):
                    continue
                if item.amount is None:
                    raise CannotTell(f"line {item.line} does not say how much {item.name or item.role}")
                raise CannotTell(f"nothing tells the grams of “{item.text.strip()}” on line {item.line}")
            if item.mass.low < 0:
                raise CannotTell(f"line {item.line} has an amount below nothing")
            found.append(Input(item.name or item.role, item.mass, "gram", item.line, item.weighed))
        return found

    def item_of(self, weight: Input) -> Ingredient:
        """The ingredient that one of ``weights`` is of."""
        return self._items[weight.line, weight.name]

    def stated_meat(self) -> Sum:
        """The green weight, where the page states it."""
        meat = self.need("meat_mass")
        if not meat.inputs[0].stated:
            raise CannotTell("the page does not say how much meat")
        return meat

    def published(self, name: str) -> Span:
        """A figure of ``facts`` as a span."""
        fact = facts.fact(name)
        return exactly(fact.value) if name in self._settled else fact.span

    def _work(self, name: str) -> Sum:
        ways = _ways(_SUBJECT_OF.get(name, "of_cure"))
        if name not in ways:
            raise CannotTell(f"no sum {name}")
        return ways[name](self)


@cache
def _ways(subject: str) -> Mapping[str, Callable[[Sums], Sum]]:
    """How the sums of one subject are worked, by name."""
    from importlib import import_module

    found: Mapping[str, Callable[[Sums], Sum]] = import_module(f"overhaul.sums.{subject}").SUMS
    return found
