"""Too few days for the thickness."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Fact
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_MM_PER_INCH = 25.4
_GRAM_PER_POUND = 453.59237


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    stay, meat = process.cure_time, process.meat
    if stay is None or meat is None or not recipe.of_role(*CURING_SALTS) or process.cure is None or recipe.product in ("ground", "jerky", "fish", "gravlax") or meat.ground:
        return
    if process.cure.method.startswith("pumped"):
        return
    day = float(units.factor(stay.unit)) / 24
    low, high = stay.low * day, stay.high * day
    found = case.sums.get("days_to_middle")
    if found is not None and meat.thickness_stated:
        yield from _by_thickness(case, stay, low, high)
    elif meat.mass is not None and meat.mass_stated:
        yield from _by_weight(case, stay, low, high)


def _by_thickness(case: Case, stay: Fact, low: float, high: float) -> Iterator[Finding]:
    found, meat, recipe = case.sums.get("days_to_middle"), case.process.meat, case.recipe
    if found is None or meat is None or meat.thickness is None:
        return
    least, typical = found.value.low, found.value.likely
    inches = meat.thickness.likely / _MM_PER_INCH
    schedule, words_for = _schedule(case)
    if high < least:
        grade, certain = Grade.FAULT, not meat.bone and not meat.skin and meat.fat_cap != "thick"
    elif high < typical and not (schedule is not None and high >= schedule * inches):
        grade, certain = Grade.FAULT, False
    else:
        return
    message = f"{words.told(stay)} for {meat.thickness.likely / 10:.1f} cm ({inches:.1f} in): cure needs {words.figure(found.value, 'day')} to reach the middle. Expect a grey middle."
    if schedule is not None:
        message += f" By {words_for} it would be {schedule * inches:.0f} days."
    days = max(1, round(typical + 0.5))
    yield Finding(
        RULE.name, grade, certain, stay.place, message, sum=found.worked(),
        remedy=Remedy(f"Give it {days} days, or pump it, or cut it thinner."), sources=(Cite("crank", "slab in a limited bath"), facts.fact("colour_ppm").cite),
    )  # fmt: skip
    del low, recipe


def _schedule(case: Case) -> tuple[float | None, str]:
    """Days an inch of the published schedule for this product and method."""
    method = case.process.cure.method if case.process.cure is not None else "dry"
    meat = case.process.meat
    if method == "immersion" and meat is not None and meat.species in ("beef", "venison", "lamb"):
        return facts.fact("days_per_inch.wet").value, "the farm bulletin's rate"
    if method == "dry" and meat is not None and meat.cut == "pork_belly_whole":
        return facts.fact("days_per_inch.belly_dry").value, "the farm bulletin's rate for dry-cured belly"
    if method == "dry":
        return facts.fact("days_per_inch.dry").value, "the trade's rate for a dry cure in a bag"
    return None, ""


def _by_weight(case: Case, stay: Fact, low: float, high: float) -> Iterator[Finding]:
    """Old pages give a weight and no thickness: the trade's days to the pound, one piece at a time."""
    meat, process = case.process.meat, case.process
    if meat is None or meat.mass is None or process.cure is None:
        return
    if process.cure.method == "immersion":
        if case.recipe.product != "ham":
            return
        rate = facts.fact("days_per_pound.ham_wet")
    else:
        rate = facts.fact("days_per_pound.dry")
    single = (meat.pieces is not None and meat.pieces[1] == 1) or (meat.pieces is None and _one_piece(case))
    pounds = meat.mass.likely / _GRAM_PER_POUND
    if not single or pounds < 4 or high >= rate.low * pounds:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, stay.place,
        f"{words.told(stay)} for a piece of {pounds:.0f} lb is {low / pounds:.1f} to {high / pounds:.1f} days to the pound; {rate.low:g} to {rate.high:g} is common practice, so the middle is likely not reached. The page gives no thickness, which decides it."
        if low != high else
        f"{words.told(stay)} for a piece of {pounds:.0f} lb is {high / pounds:.1f} days to the pound; {rate.low:g} to {rate.high:g} is common practice, so the middle is likely not reached. The page gives no thickness, which decides it.",
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
    silent="Thickness not stated (one piece by weight is held to the trade's days a pound); pumped meat; plain brines; a published schedule for the product that is met.",
    sources=(Cite("crank", "slab in a limited bath"), Cite("fb-2263", "corned beef")),
    sum="time for 14, 40, 50 ppm nitrite to reach the middle by diffusion, fastest to slowest",
    sound=CORNED,
    faulty=changed(CORNED, ("for 12 days", "for 1 day")),
    expect=("15:34-39", "1 day for 4.4 cm (1.8 in): cure needs 1.45 to 12.9 days (likely 5.53) to reach the middle. Expect a grey middle. By the farm bulletin's rate it would be 8 days."),
)
