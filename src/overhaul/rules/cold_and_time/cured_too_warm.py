"""Cured at a temperature above the cold limit, or at room temperature."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe.method import WARM_PLACE
from overhaul.recipe.model import CURING_SALTS, Fact, Mention
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process = case.process
    if process.cure is None or case.recipe.product == "dried" or _short(case):
        return
    if process.cure_temperature is not None:
        yield from _at(case, process.cure_temperature)
    elif process.cure_warm is not None:
        yield from _in(case, process.cure_warm)


def _short(case: Case) -> bool:
    """Out of the cold no longer than meat may be."""
    stay = case.process.cure_time
    return stay is not None and judging.hours(stay)[1] <= judging.figure("room_max_h").value


def _at(case: Case, told: Fact) -> Iterator[Finding]:
    recipe, cure = case.recipe, case.process.cure
    limit = facts.fact("cure_max_f")
    dry = cure is not None and cure.method == "dry"
    step = judging.step_of(recipe, told)
    if dry and step is not None and (step.does("equalize", "dry") or "equali" in step.text.lower()):
        return  # the salt is in: a ham evens out and dries warmer on purpose
    said = f"Cured at {degrees(recipe, told.low, told.high)}"
    remedy = Remedy(f"Cure at {judging.target(recipe)}, measured in the brine or beside the meat.", (Edit(told.place, judging.plain_target(recipe)),))
    if told.high > limit.value:
        room = judging.figure("dry_cure_room_max_f")
        mild = dry and told.high <= room.value
        source = f"{named(limit.cite)}" + (f"; {named(room.cite)} allows a dry-cure room {degrees(recipe, room.value)}" if mild else "")
        yield Finding(
            RULE.name, Grade.FAULT if mild else Grade.HAZARD, not mild and told.low > limit.value, told.place, f"{said}; the limit is {degrees(recipe, limit.value)} by {source}. Warmer, germs outrun the salt.{_other_scale(case, told)}",
            remedy=remedy, sources=(limit.cite, room.cite if mild else Cite("nchfp", "6.1.3")),
        )  # fmt: skip


def _other_scale(case: Case, told: Fact) -> str:
    """Whether the figure is that of a cold place in Fahrenheit with a Celsius sign."""
    figure = units.celsius(told.low)
    cooler = facts.fact("cooler_temperature").span
    if "c" not in case.recipe.page.words(told.place).lower() or not cooler.low <= figure <= cooler.high:
        return ""
    return f" Is {figure:g} °F meant?"


def _in(case: Case, place: Mention) -> Iterator[Finding]:
    recipe, stay = case.recipe, case.process.cure_time
    limit = facts.fact("cure_max_f")
    said = place.words.replace("\n", " ")
    if WARM_PLACE.search(said.lower()):
        # Certain only where it stays: a cure takes days, and of a plain brine the hours have to be on the page.
        long = judging.hours(stay)[0] > judging.figure("room_max_h").value if stay is not None else bool(recipe.of_role(*CURING_SALTS))
        yield Finding(
            RULE.name, Grade.HAZARD, long, place.place, f"Cured “{said}”, where germs outrun the salt; the limit is {degrees(recipe, limit.value)} by {named(limit.cite)}.",
            remedy=Remedy(f"Cure in the refrigerator at {judging.target(recipe)}."), sources=(limit.cite, Cite("nchfp", "6.1.3")),
        )  # fmt: skip
    else:
        yield Finding(
            RULE.name, Grade.FAULT, False, place.place, f"“{said}” is a place, not a temperature; the limit for a cure is {degrees(recipe, limit.value)} by {named(limit.cite)}.",
            remedy=Remedy(f"Write the temperature, {judging.target(recipe)}, and cure in the refrigerator."), sources=(limit.cite,),
        )  # fmt: skip


RULE = Rule(
    name="cured-too-warm",
    family="cold_and_time",
    check=check,
    reports="A cure that stands above 41 °F, at room temperature, or in a cool place with no figure.",
    why="Cold is what keeps the meat until the salt has reached the middle.",
    silent="41 °F and colder; a refrigerator without a figure; two hours or less; long dry cures, whose drying rooms are warmer on purpose.",
    sources=(Cite("food-code-2022", "3-501.16(A)(2)"), Cite("nchfp", "6.1.3")),
    sound=CORNED,
    faulty=changed(CORNED, ("Refrigerate at 36 to 40 F for", "Keep at 50 F for")),
    expect=("15:12-16", "Cured at 50 °F (10 °C); the limit is 41 °F (5 °C) by Food Code 2022, 3-501.16(A)(2). Warmer, germs outrun the salt."),
)
