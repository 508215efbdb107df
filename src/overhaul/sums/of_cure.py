"""The agents of a cure: nitrite, nitrate, accelerator and phosphate, by each way that they get into the meat."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.findings import Cite
from overhaul.recipe.model import CURING_SALTS, Ingredient
from overhaul.span import Span, added, corners, exactly
from overhaul.sums import nitrite
from overhaul.sums.worked import CannotTell, Input, Pencil, Sum, at, ends, figure, less, total

if TYPE_CHECKING:
    from overhaul.sums.work import Sums

_PURE = ("nitrite", "nitrate", "accelerator", "phosphate")
_Amounts = Callable[[float, float, float], tuple[float, float]]


class Held(Struct, frozen=True):
    """All of one agent on the page: gram of it, what it is in with the percent, the inputs as they are shown, what was assumed."""

    gram: Span
    sources: tuple[tuple[Input, Span], ...]
    inputs: tuple[Input, ...]
    assumed: tuple[str, ...]


def shares(sums: Sums, item: Ingredient) -> dict[str, Span]:
    """Percent of each agent in a curing salt: the page's, else the house sheet's, else the kind's."""
    if item.strength is not None:
        told = (("nitrite", item.strength.nitrite), ("nitrate", item.strength.nitrate))
        stated: dict[str, Span] = {agent: span for agent, span in told if span is not None}
        if item.role == "cure2" and "nitrate" not in stated:
            stated["nitrate"] = facts.cure_strength("cure2")["nitrate"].span
        return stated
    house = sums.house.strengths.get(item.role)
    if house is not None:
        return {agent: exactly(percent) for agent, percent in house.items()}
    return {agent: fact.span for agent, fact in facts.cure_strength(item.role).items()}


def agent_held(sums: Sums, agent: str) -> Held:
    """All of ``agent`` on the page, worked once."""
    if agent not in sums.kept.agents:
        sums.kept.agents[agent] = _held(sums, agent)
    return sums.kept.agents[agent]


def _held(sums: Sums, agent: str) -> Held:
    sources = _sources(sums, agent)
    if not sources:
        raise CannotTell(f"no {agent} on the page")
    spans = []
    given: list[Input] = []
    assumed: list[str] = []
    for weight, share in sources:
        spans.append(corners(lambda gram, percent: gram * percent / 100, weight.value, share))
        given.append(weight)
        item = sums.item_of(weight)
        stated = item.strength is not None or item.role in sums.house.strengths or item.role in _PURE
        given.append(Input(f"{agent} in it", share, "percent", item.line if item.strength is not None else None, stated))
        if not stated:
            assumed.append(f"{item.name} holds {figure(share, 'percent')} {agent}; the page does not say")
        if not weight.stated:
            assumed.append(f"{item.name} is measured, not weighed")
    return Held(added(spans), tuple(sources), tuple(given), tuple(assumed))


def _sources(sums: Sums, agent: str) -> list[tuple[Input, Span]]:
    """Everything that ``agent`` is in: its weight and its percent."""
    if agent in ("accelerator", "phosphate"):
        return [(one, exactly(100.0)) for one in sums.weights(agent)]
    found = []
    for item in sums.items(*CURING_SALTS):
        share = shares(sums, item).get(agent)
        if share is None or share.high <= 0:
            continue
        if item.mass is None:
            raise CannotTell(f"the grams of curing salt on line {item.line} are not known")
        if item.mass.low < 0:
            raise CannotTell(f"line {item.line} has an amount below nothing")
        found.append((Input(item.name or item.role, item.mass, "gram", item.line, item.weighed), share))
    return found


def _amounts(sums: Sums, held: Held) -> _Amounts:
    """A function of ends (of the weights, of the strengths) and of gram of meat: gram of the agent, and of what carries it."""
    meat = _meat(sums)
    parts = [(one.value, percent, _of_meat(sums, one, meat)) for one, percent in held.sources]

    def amounts(weight: float, share: float, green: float) -> tuple[float, float]:
        pure = carried = 0.0
        for mass, percent, part in parts:
            gram = part * green if part is not None else at(mass, weight)
            pure += gram * at(percent, share) / 100
            carried += gram
        return pure, carried

    return amounts


def _ends(held: Held) -> tuple[Span, Span]:
    """The ends that ``_amounts`` is to be asked for: of the weights, and of the strengths."""
    return ends(one.value for one, _ in held.sources), ends(percent for _, percent in held.sources)


def _meat(sums: Sums) -> Span | None:
    meat = sums.recipe.process.meat
    return meat.mass if meat is not None else None


def _of_meat(sums: Sums, weight: Input, meat: Span | None) -> float | None:
    """The share of the meat that an amount written in percent of it is: the meat's own span then cancels out."""
    item = sums.item_of(weight)
    if meat is None or meat.exact or meat.low <= 0 or item.amount is None or item.amount.unit not in ("percent", "permille"):
        return None
    parts = (weight.value.low / meat.low, weight.value.likely / meat.likely, weight.value.high / meat.high)
    return parts[1] if max(parts) - min(parts) <= 1e-9 * parts[1] else None


def _direct(sums: Sums, agent: str) -> Sum:
    if sums.rub is not None:
        return sums.rub.need(f"{agent}_direct")
    held = agent_held(sums, agent)
    amounts, assumed = _amounts(sums, held), held.assumed
    if sums.method not in ("dry", "none"):
        if agent != "nitrate" or any(item.mass is not None for item in sums.items("water", "ice", "liquid")):
            raise CannotTell("the cure is a brine")
        assumed = (*assumed, "all of it taken up; how much water is not stated")
    green = sums.stated_meat()
    value = corners(lambda weight, share, green_g: nitrite.direct(amounts(weight, share, green_g)[0], green_g), *_ends(held), green.value)
    return Sum(
        f"{agent}_direct", value, "ppm", f"{agent} ÷ green meat × 1,000,000", (*held.inputs, *green.inputs), assumed,
        (Cite("inspectors-handbook", "pages 12 to 24"),), ((held.gram, "gram"), f" {agent} ÷ ", (green.value, "gram"), " meat × 1,000,000"),
    )  # fmt: skip


def _equilibrium(sums: Sums, agent: str) -> Sum:
    held = agent_held(sums, agent)
    amounts = _amounts(sums, held)
    pickle, rest = _pickle(sums, held)
    if sums.method not in ("immersion", "pumped-immersion"):
        raise CannotTell("the meat does not lie in a brine")
    green = sums.stated_meat()

    def as_one(weight: float, share: float, green_g: float, rest_g: float) -> float:
        pure, carried = amounts(weight, share, green_g)
        return nitrite.equilibrium(pure, green_g, rest_g + carried)

    value = corners(as_one, *_ends(held), green.value, rest)
    pencil = ((held.gram, "gram"), f" {agent} ÷ (", (green.value, "gram"), " meat + ", (pickle.value, "gram"), " pickle) × 1,000,000")
    return Sum(
        f"{agent}_equilibrium", value, "ppm", f"{agent} ÷ (green meat + pickle) × 1,000,000", (*held.inputs, *green.inputs, pickle),
        held.assumed, (Cite("inspectors-handbook", "page 22, meat and pickle as one system"),), pencil,
    )  # fmt: skip


def _added(sums: Sums) -> Sum:
    """Brine or needle, and rub: the handbook adds what each way brings."""
    if sums.rub is None:
        raise CannotTell("one way of curing, or none")
    parts = [found for name in ("nitrite_pump", "nitrite_equilibrium") if (found := sums.get(name)) is not None][:1]
    parts.append(sums.need("nitrite_direct"))
    if len(parts) < 2:
        raise CannotTell("what the brine brings cannot be worked")
    given = tuple(Input(part.name.replace("_", " "), part.value, "ppm", None, False) for part in parts)
    pencil: Pencil = ((parts[0].value, "ppm"), " with the brine + ", (parts[1].value, "ppm"), " with the rub")
    return Sum("nitrite_added", total(list(given)), "ppm", "the ways of curing added", given, (), (Cite("inspectors-handbook", "page 33, from memory"),), pencil)


def _any_meat(sums: Sums) -> Sum:
    """The brine's own strength in nitrite: meat and brine as one cannot come to more, however little meat there is."""
    held = agent_held(sums, "nitrite")
    amounts = _amounts(sums, held)
    pickle, rest = _pickle(sums, held)
    if sums.method not in ("immersion", "pumped-immersion"):
        raise CannotTell("the meat does not lie in a brine")
    green = sums.recipe.process.meat.mass if sums.recipe.process.meat is not None else None
    in_all = green.likely if green is not None else 0.0

    def alone(weight: float, share: float, rest_g: float) -> float:
        pure, carried = amounts(weight, share, in_all)
        return nitrite.equilibrium(pure, 0.0, rest_g + carried)

    pencil: Pencil = ((held.gram, "gram"), " nitrite ÷ ", (pickle.value, "gram"), " pickle × 1,000,000")
    return Sum(
        "nitrite_any_meat", corners(alone, *_ends(held), rest), "ppm", "nitrite ÷ pickle × 1,000,000: the most as one system, whatever the meat weighs",
        (*held.inputs, pickle), held.assumed, (Cite("inspectors-handbook", "page 22, meat and pickle as one system"),), pencil,
    )  # fmt: skip


def _pump(sums: Sums, agent: str) -> Sum:
    held = agent_held(sums, agent)
    sums.need("brine_mass")  # what the brine lacks is said first
    pump = sums.recipe.process.pump
    if pump is None:
        raise CannotTell("the page does not say how much is pumped in" if sums.method.startswith("pumped") else "nothing is pumped")
    return _carried(sums, f"{agent}_pump", held, Input("pumped in", pump.span, "percent", pump.line), "pumped share", "page 19", ())


def _pick_up(sums: Sums, agent: str) -> Sum:
    held = agent_held(sums, agent)
    sums.need("brine_mass")  # what the brine lacks is said first
    if sums.method not in ("immersion", "pumped-immersion"):
        raise CannotTell("the meat does not lie in a brine")
    gain = Input("weight picked up", sums.published("pick_up_percent"), "percent", None, False, facts.fact("pick_up_percent").source)
    note = "the weight picked up is a published span, never judged by"
    return _carried(sums, f"{agent}_pick_up", held, gain, "pick-up", "page 21, pick-up", (note,))


def _carried(sums: Sums, name: str, held: Held, gain: Input, gain_words: str, page: str, notes: tuple[str, ...]) -> Sum:
    """What ``gain`` (percent of green weight) of the pickle carries in."""
    agent = name.partition("_")[0]
    amounts, meat = _amounts(sums, held), _meat(sums)
    pickle, rest = _pickle(sums, held)
    green = meat.likely if meat is not None else 0.0

    def carried_in(weight: float, share: float, percent: float, rest_g: float) -> float:
        pure, carried = amounts(weight, share, green)
        return nitrite.pumped(pure, percent / 100, rest_g + carried)

    value = corners(carried_in, *_ends(held), gain.value, rest)
    pencil = ((held.gram, "gram"), f" {agent} × ", (gain.value, "percent"), " ÷ ", (pickle.value, "gram"), " pickle × 1,000,000")
    return Sum(
        name, value, "ppm", f"{agent} × {gain_words} ÷ pickle × 1,000,000", (*held.inputs, gain, pickle), (*held.assumed, *notes),
        (Cite("inspectors-handbook", page),), pencil,
    )  # fmt: skip


def _pickle(sums: Sums, held: Held) -> tuple[Input, Span]:
    """The pickle, and gram of what is in it besides that which the agent is in."""
    pickle = sums.need("brine_mass").value
    return Input("pickle", pickle, "gram", None, False), less(pickle, total([weight for weight, _ in held.sources]))


def _sum_of(way: Callable[[Sums, str], Sum], agent: str) -> Callable[[Sums], Sum]:
    return lambda sums: _as_sodium(sums, way(sums, agent)) if agent == "nitrate" else way(sums, agent)


def _as_sodium(sums: Sums, found: Sum) -> Sum:
    """Saltpetre is the potassium salt and counts by its own weight; beside it, as the sodium salt that some laws reckon in."""
    if {item.role for item in sums.items(*CURING_SALTS) if "nitrate" in shares(sums, item)} != {"nitrate"}:
        return found
    factor = nitrite.FACTORS["KNO3", "NaNO3"]
    value = corners(lambda ppm: nitrite.converted(ppm, "KNO3", "NaNO3"), found.value)
    return replace(found, beside=(Sum(found.name, value, "ppm", f"saltpetre as sodium nitrate, × {factor:.3f}", (), (), (Cite("common-practice", "molar masses"),)),))


_WAYS = {"direct": _direct, "pump": _pump, "pick_up": _pick_up, "equilibrium": _equilibrium}
SUMS: Mapping[str, Callable[[Sums], Sum]] = {
    **{f"{agent}_{name}": _sum_of(way, agent) for agent in _PURE for name, way in _WAYS.items()},
    "nitrite_any_meat": _any_meat, "nitrite_added": _added,
}
