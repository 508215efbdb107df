"""Too few days for the thickness."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from msgspec import Struct

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS, Fact, Meat
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import named
from overhaul.rules.curing_salt import judging as curing
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.sums.worked import Sum

_GRAM_PER_POUND = 453.59237
_NITRITE = curing.SOURCES["nitrite"]
_DIFFUSION = Cite("crank", "slab in a limited bath")


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    stay, meat = process.cure_time, process.meat
    if stay is None or meat is None or process.cure is None or not recipe.of_role(*CURING_SALTS) or process.cure.method.startswith("pumped"):
        return
    if recipe.product == "jerky" or judging.is_fish(case) or judging.is_ground(case):
        return
    yield from _judged(case, stay, meat)
    if process.cure_time_hurried is not None:
        yield from _judged(case, process.cure_time_hurried, meat)


def _judged(case: Case, stay: Fact, meat: Meat) -> Iterator[Finding]:
    found = case.sums.get("days_to_middle")
    if meat.thickness_stated:
        if found is not None:
            yield from _by_thickness(case, stay, meat, found)
        return
    by_weight = list(_by_weight(case, stay, meat))
    yield from by_weight
    if not by_weight and found is not None:
        yield from _by_typical(case, stay, meat, found)


class _Schedule(Struct, frozen=True):
    """The days that a published schedule gives this piece, or the trade's rate where none is published."""

    days: float
    cite: Cite


def _schedule(case: Case, meat: Meat) -> _Schedule | None:
    method = case.process.cure.method if case.process.cure is not None else "dry"
    if case.recipe.product == "ham":
        rate = facts.fact("days_per_pound.ham_wet") if method == "immersion" else judging.figure("days_per_pound.ham_dry")
        pounds = _pounds(meat)
        return _Schedule(rate.low * pounds, rate.cite) if pounds is not None else None
    if meat.thickness is None:
        return None
    if method == "immersion":
        if meat.species not in ("beef", "venison", "lamb"):
            return None
        rate = facts.fact("days_per_inch.wet")
    else:
        rate = facts.fact("days_per_inch.belly_dry" if meat.cut == "pork_belly_whole" else "days_per_inch.dry")
    return _Schedule(rate.value * judging.inches(meat.thickness.likely), rate.cite)


def _met(schedule: _Schedule | None, high: float) -> bool:
    # A published day count is a round number, and is told as one.
    return schedule is not None and high >= round(schedule.days)


def _or_else(case: Case) -> str:
    return "or cut it thinner" if case.house.needle is False else "or pump it, or cut it thinner"


def _longer(case: Case, stay: Fact, days: int) -> tuple[Edit, ...]:
    """The days in place of those on the page, where they stand there as a figure."""
    said = case.recipe.page.words(stay.place)
    return (Edit(stay.place, words.span(days, days, "day")),) if said[:1].isdigit() and stay.stated else ()


def _enough(found: Sum, high: float) -> bool:
    """Nine days are nine, whether nine or nine and a little are worked: the sum does not know the hour."""
    return high >= found.value.likely * (1 - judging.figure("days.slack").value)


def _by_thickness(case: Case, stay: Fact, meat: Meat, found: Sum) -> Iterator[Finding]:
    if meat.thickness is None:
        return
    high = judging.days(stay)[1]
    schedule = _schedule(case, meat)
    if _met(schedule, high) or _enough(found, high):
        return
    # Certain only by the colour of nitrite: saltpetre is followed by its salt, whose share in the middle is our own choice.
    sure = not meat.bone and not meat.skin and meat.fat_cap in (None, "none") and bool(case.recipe.of_role(*_NITRITE))
    message = f"{words.told(stay)} for {judging.length(case.recipe, meat.thickness.likely)}: cure needs {words.figure(found.value, 'day')} to reach the middle by diffusion ({named(_DIFFUSION)})"
    message += f", and {schedule.days:.0f} days by {named(schedule.cite)}." if schedule is not None else "."
    enough = ceil(found.value.likely)
    yield Finding(
        RULE.name, Grade.FAULT, high < found.value.low and sure, stay.place, f"{message} Expect a grey middle.", sum=found.worked(),
        remedy=Remedy(f"Give it {words.span(enough, enough, 'day')} or more, {_or_else(case)}.", _longer(case, stay, enough)), sources=(_DIFFUSION, facts.fact("colour_ppm").cite, *((schedule.cite,) if schedule is not None else ())),
    )  # fmt: skip


def _by_typical(case: Case, stay: Fact, meat: Meat, found: Sum) -> Iterator[Finding]:
    """The thickness of a usual piece of this cut is not this page's: it can only ask."""
    if meat.thickness is None or meat.species not in ("beef", "pork", "lamb", "venison") or not case.recipe.of_role(*_NITRITE):
        return
    high = judging.days(stay)[1]
    if _enough(found, high) or _met(_schedule(case, meat), high):
        return
    yield Finding(
        RULE.name, Grade.QUERY, False, stay.place,
        f"{words.told(stay)}, and the page gives no thickness. A usual {meat.name or 'piece'} is about {judging.length(case.recipe, meat.thickness.likely)} and needs {words.figure(found.value, 'day')} to cure to the middle by diffusion ({named(_DIFFUSION)}). How thick is this one?",
        sum=found.worked(), remedy=Remedy("Measure the thickest place and write it beside the meat."), sources=(_DIFFUSION, facts.fact("colour_ppm").cite),
    )  # fmt: skip


def _pounds(meat: Meat) -> float | None:
    """One piece, in pounds, where its weight is stated."""
    if meat.mass is None or not meat.mass_stated:
        return None
    pieces = meat.pieces[1] if meat.pieces is not None else 1
    return meat.mass.likely / max(1, pieces) / _GRAM_PER_POUND


def _by_weight(case: Case, stay: Fact, meat: Meat) -> Iterator[Finding]:
    """Old pages give a weight and no thickness: the trade's days to the pound, for a compact piece or a ham."""
    process = case.process
    pounds = _pounds(meat)
    single = meat.pieces is not None or _one_piece(case)
    slab = meat.thickness is not None and meat.thickness.likely <= facts.fact("thick_piece_mm").value
    if pounds is None or not single or slab or process.cure is None or judging.is_poultry(case):
        return
    wet = process.cure.method == "immersion"
    if wet and case.recipe.product != "ham":
        return  # the trade's rate is for a rub; of a brine the thickness is asked for
    rate = facts.fact("days_per_pound.ham_wet" if wet else "days_per_pound.dry")
    low, high = judging.days(stay)
    if pounds < judging.figure("days_per_pound.least_lb").value or high >= rate.low * pounds:
        return
    usual = "common practice" if rate.cite.key == "common-practice" else f"the rate of {named(rate.cite)}"
    each = f"{high / pounds:.1f}" if low == high else f"{low / pounds:.1f} to {high / pounds:.1f}"
    yield Finding(
        RULE.name, Grade.FAULT, False, stay.place,
        f"{words.told(stay)} for a piece of {pounds:.0f} lb is {each} days to the pound; {rate.low:g} to {rate.high:g} is {usual}, so the middle is likely not reached. The page gives no thickness, which decides it.",
        remedy=Remedy("Measure the thickest place and give it the days for that, or cut it thinner."), sources=(rate.cite,),
    )  # fmt: skip


def _one_piece(case: Case) -> bool:
    meat = case.process.meat
    if meat is None:
        return False
    name = case.recipe.page.plain[max(0, meat.place.start - 20) : meat.place.end].lower()
    return any(word in name for word in ("a round", "a piece", "one piece", "a ham", "a leg", "the piece", "a brisket", "piece of"))


RULE = Rule(
    name="cure-time-short",
    family="cold_and_time",
    check=check,
    reports="Fewer days than cure needs to reach the middle.",
    why="Time goes with the square of the thickness. A flat that takes six days at an inch and three quarters takes seventeen at three.",
    silent="Days enough for the thickness, or for a published schedule of the product; pumped, ground and dried strips; fish; plain brines. Without a thickness a compact piece in a rub, and a ham, is held to the trade's days a pound, and any other is asked after.",
    sources=(Cite("crank", "slab in a limited bath"), Cite("fb-2263", "corned beef"), Cite("fb-2265", "curing")),
    sum="time for 14, 40, 50 ppm nitrite to reach the middle by diffusion, fastest to slowest",
    sound=CORNED,
    faulty=changed(CORNED, ("for 12 days", "for 1 day")),
    expect=("15:34-39", "1 day for 1.8 in (4.4 cm): cure needs 1.45 to 12.9 days (likely 5.53) to reach the middle by diffusion (The Mathematics of Diffusion), and 8 days by Farmers' Bulletin 2263. Expect a grey middle."),
)
