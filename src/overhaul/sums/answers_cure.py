"""Curing salt, meat and days for a wanted figure."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from msgspec.structs import replace

from overhaul import facts
from overhaul.findings import Cite
from overhaul.recipe.model import CURING_SALTS, Ingredient, Strength
from overhaul.span import Span, exactly
from overhaul.sums import nitrite, solving
from overhaul.sums.answers import Answer, Bound, Wanted, Weighed, again
from overhaul.sums.changed import weighed, with_days, with_ingredient, with_meat, with_weights
from overhaul.sums.of_cure import agent_held, shares
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, Pencil, figure

_FORMS = Cite("inspectors-handbook", "pages 12 to 24")
_NITRITE = ("nitrite_direct", "nitrite_pump", "nitrite_equilibrium")


def _step(sums: Sums) -> float:
    """Gram that the kitchen's scale shows of a curing salt."""
    return sums.house.scale.get("cure", facts.table("sums")["scale.cure"].value)


def doses(sums: Sums, wanted: Wanted, bound: Bound | None) -> Iterator[Answer]:
    """The curing salt on the page for the asked, or the usual, dose, and for no more than the limit."""
    item, strength = _nitrite_item(sums)
    usual = facts.table("sums")["nitrite.usual_ppm"]
    if wanted.nitrite is not None:
        yield _dose(sums, item, strength, wanted.nitrite, f"{wanted.nitrite:g} ppm nitrite", False, ())
        return
    if bound is None or usual.value < bound.ppm:
        yield _dose(sums, item, strength, usual.value, "156 ppm nitrite, the usual dose", False, (usual.cite,))
    if bound is not None:
        yield _dose(sums, item, strength, bound.ppm, f"no more than {bound.told}", True, (bound.cite,))


def _nitrite_item(sums: Sums) -> tuple[Ingredient, float]:
    """The one curing salt that brings nitrite, and the likely percent in it."""
    found = [(item, held["nitrite"].likely) for item in sums.items(*CURING_SALTS) if "nitrite" in (held := shares(sums, item)) and held["nitrite"].likely > 0]
    if not found:
        raise CannotTell("no curing salt with nitrite on the page")
    if len(found) > 1:
        raise CannotTell("several things on the page bring nitrite")
    return found[0]


def _dose(sums: Sums, item: Ingredient, strength: float, ppm: float, asked: str, most: bool, sources: tuple[Cite, ...]) -> Answer:
    gram, pencil = _for_ppm(sums, item, strength, ppm)
    step = _step(sums)
    shown = _down(gram, step) if most else solving.weighable(gram, step)
    held = shares(sums, item)["nitrite"]
    assumed = () if held.exact else (f"{item.name} holds {strength:g} % nitrite",)
    worked = again(sums, with_weights(sums.recipe, (item, shown)), *_NITRITE)
    over = max((one.value.high for one in worked), default=0.0)
    if most and over > ppm:
        # What is not known may all lie on the wrong side: less, by as much as that would be over.
        shown = _down(shown * ppm / over, step)
        worked = again(sums, with_weights(sums.recipe, (item, shown)), *_NITRITE)
        assumed = ("less than that, for all that is not known may lie on the wrong side",)
    if shown <= 0:
        raise CannotTell("less than the scale shows")
    what = Weighed(item.name or item.role, shown, "gram", item.line, item.mass)
    return Answer("nitrite", asked, (what,), pencil, (gram, "gram"), worked, assumed, (_FORMS, *sources))


def _down(gram: float, step: float) -> float:
    """To the step of the scale below."""
    return round(floor(gram / step + 1e-9) * step, 9)


def _for_ppm(sums: Sums, item: Ingredient | None, strength: float, ppm: float) -> tuple[float, Pencil]:
    """Gram of a curing salt of ``strength`` percent in place of ``item``, by the official sum of this way of curing, and its pencil line."""
    share = exactly(strength)
    if sums.method in ("dry", "none"):
        green = sums.stated_meat().value.likely
        pencil: Pencil = ((exactly(ppm), "ppm"), " × ", (exactly(green), "gram"), " meat ÷ (1,000,000 × ", (share, "percent"), ")")
        return solving.cure_for_direct(ppm, green, strength), pencil
    rest = sums.need("brine_mass").value.likely - (item.mass.likely if item is not None and item.mass is not None else 0.0)
    if sums.method == "pumped":
        pump = sums.recipe.process.pump
        if pump is None:
            raise CannotTell("the page does not say how much is pumped in")
        pencil = (
            (exactly(ppm), "ppm"), " × ", (exactly(rest), "gram"), " other pickle ÷ (1,000,000 × ", (share, "percent"), " × ", (pump.span, "percent"),
            " pumped in − ", (exactly(ppm), "ppm"), ")",
        )  # fmt: skip
        return solving.cure_for_pump(ppm, pump.span.likely / 100, rest, strength), pencil
    green = sums.stated_meat().value.likely
    pencil = (
        (exactly(ppm), "ppm"), " × (", (exactly(green), "gram"), " meat + ", (exactly(rest), "gram"), " other pickle) ÷ (1,000,000 × ", (share, "percent"),
        " − ", (exactly(ppm), "ppm"), ")",
    )  # fmt: skip
    return solving.cure_for_equilibrium(ppm, green, rest, strength), pencil


def least_meat(sums: Sums, bound: Bound | None) -> Iterator[Answer]:
    """The least meat that keeps meat and brine as one system within the limit, at the high end of all that is not known."""
    if bound is None or sums.method not in ("immersion", "pumped-immersion"):
        return
    held, pickle = agent_held(sums, "nitrite"), sums.need("brine_mass").value
    gram = nitrite.green_for_equilibrium(held.gram.high, bound.ppm, pickle.low)
    asked = f"no more than {bound.told} in the brine as it is"
    pencil = ((exactly(held.gram.high), "gram"), " nitrite ÷ ", (exactly(bound.ppm), "ppm"), " − ", (exactly(pickle.low), "gram"), " pickle")
    sources = (Cite("inspectors-handbook", "page 22, meat and pickle as one system"), bound.cite)
    if gram <= 0:
        most = nitrite.equilibrium(held.gram.high, 0.0, pickle.low)
        note = f"within it for any amount of meat: the brine itself holds {figure(exactly(most), 'ppm')} at most"
        yield Answer("least_meat", asked, (), pencil, (gram, "gram"), (), (note,), sources)
        return
    meat = sums.recipe.process.meat
    shown = ceil(gram / 100) * 100.0
    what = Weighed(f"{meat.name if meat is not None else 'meat'} or more", shown, "gram", meat.line if meat is not None else None, meat.mass if meat is not None and meat.mass_stated else None)
    yield Answer("least_meat", asked, (what,), pencil, (gram, "gram"), again(sums, with_meat(sums.recipe, shown), "nitrite_equilibrium"), (), sources)


def days(sums: Sums) -> Iterator[Answer]:
    """Whole days for cure to reach the middle: the typical, and the most."""
    found = sums.need("days_to_middle")
    ways = (
        ("cure in the middle, typically", found.value.likely, found.assumed, found.sources),
        ("cure in the middle at the slowest it may go", found.value.high, (), ()),
    )
    for asked, enough, assumed, sources in ways:
        whole = ceil(enough - 1e-9)
        stay = sums.recipe.process.cure_time
        factor = {"hour": 1 / 24, "week": 7.0, "month": 30.0}.get(stay.unit, 1.0) if stay is not None else 1.0
        now = Span(*(value * factor for value in (stay.span.low, stay.span.likely, stay.span.high))) if stay is not None else None
        what = Weighed("in the cure", whole, "day", stay.line if stay is not None else None, now)
        after = with_days(sums.recipe, whole)
        yield Answer("days", asked, (what,), ("time for cure to reach the middle",), (enough, "day"), again(sums, after, "nitrite_middle", "salt_after_cure"), assumed, sources)


def exchanged(sums: Sums, wanted: Wanted, bound: Bound | None) -> Iterator[Answer]:
    """The same recipe with the curing salt in hand, or with one that holds nitrite in place of saltpetre."""
    sources = [item for item in sums.items(*CURING_SALTS) if item.mass is not None]
    if len(sources) != 1:
        raise CannotTell("no curing salt on the page" if not sources else "several curing salts on the page")
    old = sources[0]
    if old.role == "nitrate":
        yield _for_saltpetre(sums, old, wanted, bound)
        return
    if wanted.cure is None:
        return
    held = {agent: span.likely for agent, span in shares(sums, old).items()}
    if not held.get("nitrite") or not wanted.cure.get("nitrite"):
        raise CannotTell("one of the two curing salts holds no nitrite")
    mass = old.mass.likely if old.mass is not None else 0.0
    other = wanted.cure["nitrite"]
    found = solving.other_cure(mass, held["nitrite"], other, 100 - sum(held.values()), 100 - sum(wanted.cure.values()))
    shown = solving.weighable(found.cure, _step(sums))
    pencil = ((exactly(mass), "gram"), f" {old.name or old.role} × ", (exactly(held["nitrite"]), "percent"), " ÷ ", (exactly(other), "percent"))
    yield _swapped(sums, old, wanted.cure, shown, found.salt_off, pencil, found.cure, f"the same nitrite from a curing salt of {_told(wanted.cure)}", ())


def _for_saltpetre(sums: Sums, old: Ingredient, wanted: Wanted, bound: Bound | None) -> Answer:
    held = wanted.cure or {"nitrite": facts.cure_strength("cure1")["nitrite"].value}
    usual = facts.table("sums")["nitrite.usual_ppm"]
    ppm = wanted.nitrite or (min(usual.value, bound.ppm) if bound is not None else usual.value)
    if not held.get("nitrite"):
        raise CannotTell("the curing salt in hand holds no nitrite")
    gram, pencil = _for_ppm(sums, old, held["nitrite"], ppm)
    shown = solving.weighable(gram, _step(sums))
    salt_off = shown * (1 - sum(held.values()) / 100)
    asked = f"{ppm:.0f} ppm nitrite from a curing salt of {_told(held)}, in place of {old.name or 'saltpetre'}"
    return _swapped(sums, old, held, shown, salt_off, pencil, gram, asked, (usual.cite,))


def _told(cure: dict[str, float]) -> str:
    return " and ".join(f"{percent:g} % {agent}" for agent, percent in cure.items())


def _swapped(
    sums: Sums, old: Ingredient, cure: dict[str, float], gram: float, salt_off: float, pencil: Pencil, result: float, asked: str, sources: tuple[Cite, ...]
) -> Answer:  # fmt: skip
    """``old`` taken out, so much of the other curing salt put in, and the salt that it brings more taken off the salt of the page."""
    nitrite_in, nitrate_in = (exactly(cure[agent]) if agent in cure else None for agent in ("nitrite", "nitrate"))
    strength = Strength(nitrite_in, nitrate_in, old.place)
    new = replace(weighed(old, gram), role="cure2" if "nitrate" in cure else "cure1", name="the other curing salt", strength=strength, amount=None)
    changed = with_ingredient(sums.recipe, old, new)
    weigh = [Weighed(f"curing salt of {_told(cure)}", round(gram, 9), "gram", old.line), Weighed(old.name or old.role, 0.0, "gram", old.line, old.mass)]
    notes: tuple[str, ...] = ()
    salts = [item for item in sums.items("salt") if item.mass is not None]
    whole = sum(item.mass.likely for item in salts if item.mass is not None)
    if whole > salt_off and whole > 0:
        step = sums.house.scale.get("other", facts.table("sums")["scale.other"].value)
        for item in salts:
            assert item.mass is not None
            shown = solving.weighable(item.mass.likely * (1 - salt_off / whole), step)
            changed = with_weights(changed, (item, shown))
            weigh.append(Weighed(item.name or item.role, shown, "gram", item.line, item.mass))
    elif salt_off > 0:
        notes = (f"it brings {figure(exactly(salt_off), 'gram')} salt more, and the page has less than that to take off",)
    return Answer("other_cure", asked, tuple(weigh), pencil, (result, "gram"), again(sums, changed, *_NITRITE, "brine_strength"), notes, (_FORMS, *sources))
