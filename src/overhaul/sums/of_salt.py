"""Salt in the meat: when all is level, after the stated days, and as eaten, when soak and pot have taken some out again."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache, partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from overhaul import facts
from overhaul.findings import Cite
from overhaul.reading import units
from overhaul.span import Span, corners, exactly
from overhaul.sums import penetration, salting
from overhaul.sums.of_brine import all_salt
from overhaul.sums.of_time import SLAB, bath, celsius, needle_note, open_at, salt_speed, share_after, speed, stay, thickness
from overhaul.sums.piece import shape_of
from overhaul.sums.worked import CannotTell, Input, Sum, at, figure, total

if TYPE_CHECKING:
    from overhaul.sums.work import Sums

PARTS, SOAK_PARTS = 6, 3  # steps a bath, and in the ample water of a soak: within 1 percent of forty
_BALANCE = Cite("crank", "mass balance")


def _own(name: str) -> float:
    return facts.table("sums")[name].value


def _equilibrium(sums: Sums) -> Sum:
    if sums.method == "pumped":
        return _pumped(sums)
    salt, given = all_salt(sums)
    around = bath(sums)
    share = around.share

    def level(gram: float, bath_g: float, meat_g: float) -> float:
        return salting.percent_of_meat(salting.per_water_at_rest(gram, bath_g, meat_g), share)

    value = corners(level, salt, around.water, around.in_meat)
    water = (Input("water in the bath", around.water, "gram", None, False),) if around.water.high > 0 else ()
    return Sum(
        "salt_equilibrium", value, "percent", "all salt shared out over the water of bath and meat, in percent of the salted meat",
        (*given, *water, *sums.stated_meat().inputs), (f"the meat is {share:.0%} water",), (_BALANCE,),
    )  # fmt: skip


def _pumped(sums: Sums) -> Sum:
    pump = sums.recipe.process.pump
    if pump is None:
        raise CannotTell("the page does not say how much is pumped in")
    strength = sums.need("brine_strength")
    value = corners(salting.percent_pumped, pump.span, strength.value)
    given = (Input("pumped in", pump.span, "percent", pump.line), Input("brine strength", strength.value, "percent", None, False))
    if sums.rub is not None:
        rubbed = sums.rub.need("salt_equilibrium")
        both = Span(value.low + rubbed.value.low, value.likely + rubbed.value.likely, value.high + rubbed.value.high)
        rub = Input("salt of the rub", rubbed.value, "percent", None, False)
        return Sum("salt_equilibrium", both, "percent", "what the needle carries, and all the salt of the rub", (*given, rub), ("nothing runs out again",), (_BALANCE,))
    return Sum(
        "salt_equilibrium", value, "percent", "what the needle carries, evened out, in percent of the pumped meat", given,
        ("nothing runs out again",), (_BALANCE,),
        ((pump.span, "percent"), " × ", (strength.value, "percent"), " ÷ (100 % + ", (pump.span, "percent"), ")"),
    )  # fmt: skip


def _after_cure(sums: Sums) -> Sum:
    if sums.method in ("dry", "pumped"):
        level = sums.need("salt_equilibrium")
        formula = "all the salt of the rub, in percent of the salted meat" if sums.method == "dry" else level.formula
        return replace(level, name="salt_after_cure", formula=formula)
    salt, given = all_salt(sums)
    name, share = salt_speed(sums), bath(sums).share
    days = stay(sums)
    value = corners(lambda c: salting.percent_of_meat(c, share), share_after(sums, salt, name, shape_of(sums).uptake))
    return Sum(
        "salt_after_cure", value, "percent", "salt in the meat after the stated days, by diffusion", (*given, days, speed(sums, name)),
        (f"the meat is {share:.0%} water", *needle_note(sums)), (SLAB, facts.fact(name).cite),
    )  # fmt: skip


def _as_eaten(sums: Sums) -> Sum:
    """After rinse, soak and cooking, worked at each speed: more speed salts faster and leaches faster.

    A soak is a fresh bath. In a simmer the meat first shrinks, its juice goes into the pot, and the rest leaches.
    """
    after = sums.need("salt_after_cure")
    process = sums.recipe.process
    raw = process.final_temperature is None and process.cook is None
    cooked = facts.fact("water_share.cooked").value
    soak, simmer = process.soak.span if process.soak is not None else None, _simmer_hours(sums)

    def eaten(percent: float, kept: float) -> float:
        return _eaten(sums, raw, percent, kept)

    kept = exactly(1.0)
    if soak is None and simmer is None:
        value = corners(lambda percent: eaten(percent, 1.0), after.value)
    else:
        value, kept = _leached(sums, after, eaten, soak, simmer)
    rubbed, rub = _rubbed(sums, raw)
    value = Span(value.low + rubbed.low, value.likely + rubbed.likely, value.high + rubbed.high)
    assumed = [] if raw else [f"cooked meat is {cooked:.0%} water"]
    if soak is not None:
        changed = sums.recipe.process.soak_waters
        assumed.append(f"{figure(soak, 'hours')} of soaking in {'ample cold water' if changed == 1 else f'{changed} fresh cold waters'}")
    if simmer is not None:
        assumed.append(f"{figure(simmer, 'hours')} of simmering in fresh water after the first half hour")
    if rub:
        assumed.append(f"{figure(_rub_stays(), 'ratio')} of the rub’s salt is on the meat when it is eaten")
    formula = "salt after the cure × what soak and simmer leave, in percent of what is eaten"
    return Sum(
        "salt_as_eaten", value, "percent", f"{formula}, and the salt of the rub" if rub else formula,
        (Input("salt after the cure", after.value, "percent", None, False), Input("kept", kept, "ratio", None, False), *rub), tuple(assumed),
        (Cite("crank", "sequence of baths"),),
    )  # fmt: skip


def after_soak(sums: Sums) -> Sum:
    """Salt in the soaked meat, percent, before any cooking and without a rub; worked as ``salt_as_eaten`` is. Raises CannotTell without a soak."""
    process = sums.recipe.process
    if process.soak is None:
        raise CannotTell("the page tells no soak")
    after, eaten = sums.need("salt_after_cure"), partial(_eaten, sums, True)
    value, kept = _leached(sums, after, eaten, process.soak.span, None)
    given = (Input("salt after the cure", after.value, "percent", None, False), Input("kept", kept, "ratio", None, False))
    return Sum("salt_after_soak", value, "percent", "salt after the cure × what the soak leaves", given, (), (Cite("crank", "sequence of baths"),))


def likely_as_eaten(sums: Sums) -> float:
    """The likely value alone, as ``_as_eaten`` has it."""
    after = sums.need("salt_after_cure").value.likely
    process = sums.recipe.process
    raw = process.final_temperature is None and process.cook is None
    soak, simmer = process.soak.span.likely if process.soak is not None else 0.0, _simmer_hours(sums)
    kept = 1.0
    if process.soak is not None or simmer is not None:
        moves = sums.published(salt_speed(sums)).likely
        kept = _kept(sums, moves, sums.published("diffusion.simmer").likely, soak, simmer.likely if simmer is not None else 0.0)
    return _eaten(sums, raw, after, kept) + _rubbed(sums, raw)[0].likely


def _eaten(sums: Sums, raw: bool, percent: float, kept: float) -> float:
    """Percent of what is eaten, of so many percent after the cure and the share that is left of it."""
    share = bath(sums).share
    c = percent / 100 / (share * (1 - percent / 100)) * kept
    return salting.percent_of_meat(c, share) if raw else salting.percent_cooked(c, facts.fact("water_share.cooked").value)


def _rub_stays() -> Span:
    return facts.table("sums")["rub.stays"].span


def _rubbed(sums: Sums, raw: bool) -> tuple[Span, list[Input]]:
    """Percent of what is eaten that the salt of a rub adds, and its weights. It lies outside, and neither soaks nor simmers out."""
    rub = [
        Input(item.name or item.role, item.mass, "gram", item.line, item.weighed)
        for item in sums.recipe.of_role("salt", use="rub") if item.mass is not None and item.mass.low >= 0
    ]  # fmt: skip
    if not rub or sums.get("meat_mass") is None:
        return exactly(0.0), []
    left = 1.0 if raw else 1 - _own("simmer.loss")
    return corners(lambda gram, stays, meat: 100 * gram * stays / (meat * left), total(rub), _rub_stays(), sums.need("meat_mass").value), rub


def _leached(
    sums: Sums, after: Sum, eaten: Callable[[float, float], float], soak: Span | None, simmer: Span | None
) -> tuple[Span, Span]:
    """The span of what is eaten, and of the share that soak and simmer leave."""
    name, nothing = salt_speed(sums), exactly(0.0)
    found, left = [], []
    likely = kept = 1.0
    speeds, heats = sums.published(name), sums.published("diffusion.simmer")
    for end in (0, 1, 2):
        moves, heat = at(speeds, end), at(heats, end)
        there = _after_at(sums, after, name, moves)
        for most in ((0, 2) if any(span is not None and not span.exact for span in (soak, simmer)) else (1,)):
            part = _kept(sums, moves, heat, at(soak or nothing, most), at(simmer or nothing, most))
            left.append(part)
            found += [eaten(there.low, part), eaten(there.high, part)]
        if end == 1:
            kept = _kept(sums, moves, heat, (soak or nothing).likely, (simmer or nothing).likely)
            likely = eaten(there.likely, kept)
    return Span(min(*found, likely), likely, max(*found, likely)), Span(min(*left, kept), kept, max(*left, kept))


def _after_at(sums: Sums, after: Sum, name: str, moves: float) -> Span:
    """Salt after the cure, percent, at one speed."""
    if sums.method in ("dry", "pumped"):
        return after.value
    share = bath(sums).share
    per_water = share_after(sums, all_salt(sums)[0], name, shape_of(sums).uptake, only=moves)
    return corners(lambda c: salting.percent_of_meat(c, share), per_water)


def _path_at(sums: Sums, moves: float) -> float:
    """Metre that salt has to go at this speed."""
    return penetration.path(thickness(sums).value.likely / 1000, open_at(sums, moves, facts.fact(salt_speed(sums)).value))


def _kept(sums: Sums, moves: float, heat: float, soak: float, simmer: float) -> float:
    """The share of the salt per water that is left after ``soak`` and ``simmer`` hours, everything else at its likely.

    ``moves``, ``heat`` : speeds in the cold and in the pot, m²/s.
    """
    around, curve = bath(sums), shape_of(sums).endless
    cold, length = moves * penetration.temperature_factor(celsius(sums)), _path_at(sums, moves)
    brine = None
    if sums.method == "immersion" and around.water.likely > 0:
        brine = around.water.likely / around.in_meat.likely, penetration.theta(stay(sums).value.likely, length, cold)
    waters = sums.recipe.process.soak_waters
    each, pot = penetration.theta(soak / 24 / waters, length, cold), penetration.theta(simmer / 24, length, heat)
    return _left(curve, brine, around.share, waters, each, pot)


@lru_cache(maxsize=1024)
def _left(curve: Callable[[float], float], brine: tuple[float, float] | None, share: float, waters: int, each: float, simmer: float) -> float:
    """``_kept`` of dimensionless times; the sums of a recipe and of its remedies, which change no water, share it, and so do recipes of one kitchen.

    ``brine`` : water around per water in the meat, and the time in it; None for a piece that is salted evenly.
    """
    before, slab = _soaked(curve, brine, waters, each)
    if before <= 0:
        return 1.0
    if simmer > 0:
        slab = slab.copy()
        # Per gram of green meat: water left in the shrunken meat, juice that went into the pot, and the pot.
        stays = min(share, (1 - _own("simmer.loss")) * facts.fact("water_share.cooked").value)
        pot = _own("simmer.water_per_meat") + share - stays
        slab.into((share - stays) * slab.mean / pot, pot / stays, simmer)
    return slab.mean / before


@lru_cache(maxsize=64)  # the ends of a simmer's time begin with the same soak
def _soaked(curve: Callable[[float], float], brine: tuple[float, float] | None, waters: int, each: float) -> tuple[float, penetration.Slab]:
    """How much is in the piece when it comes out of the brine, and the piece after its soak, which is to be copied before it goes on."""
    slab = _brined(curve, brine).copy()
    before = slab.mean
    for _ in range(waters if before > 0 else 0):
        slab.into(0.0, _own("soak.water_ratio"), each, SOAK_PARTS)
    return before, slab


@lru_cache(maxsize=64)
def _brined(curve: Callable[[float], float], brine: tuple[float, float] | None) -> penetration.Slab:
    if brine is None:
        return penetration.Slab(1.0, PARTS, curve)
    slab = penetration.Slab(0.0, PARTS, curve)
    slab.into(1 + 1 / brine[0], *brine)
    return slab


def _simmer_hours(sums: Sums) -> Span | None:
    """Hours in the simmering pot that count: the first half hour, while the meat warms up, does not."""
    if not _simmered(sums):
        return None
    time = sums.recipe.process.cook_time
    if time is None:
        return exactly(_own("simmer.untold_h"))
    hour, warm = units.size(time.unit), _own("simmer.warm_up_h")
    return Span(*(max(0.0, value * hour - warm) for value in (time.span.low, time.span.likely, time.span.high)))


def _simmered(sums: Sums) -> bool:
    wet = any(step.does("cook") and {"simmer", "boil", "braise"} & set(step.actions) for step in sums.recipe.steps)
    return wet and sums.recipe.process.smoke is None


SUMS: Mapping[str, Callable[[Sums], Sum]] = {"salt_equilibrium": _equilibrium, "salt_after_cure": _after_cure, "salt_as_eaten": _as_eaten}
