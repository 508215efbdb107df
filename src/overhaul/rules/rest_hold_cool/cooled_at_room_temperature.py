"""Cooled on the counter."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases, units
from overhaul.recipe.method import COLD_PLACE, OUT_OF_THE_COLD, WARM_PLACE
from overhaul.recipe.model import Step
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    recipe, page = case.recipe, case.recipe.page
    last_heated = max((step.line for step in recipe.steps if step.does("smoke", "cook")), default=None)
    if last_heated is None or case.process.cooling:
        return
    for step in recipe.steps:
        if step.line < last_heated:
            continue
        text = page.low[step.place.start : step.place.end].replace("\n", " ")
        if not step.does("cool", "rest", "store", "other", "cook", "smoke"):
            if not step.does("season", "slice", "wrap") or phrases.COLD_IN_THE_POT.search(text) is None:
                continue  # "go cold in the pot overnight, press it, slice thin" is called by its slicing
        found = WARM_PLACE.search(text) or phrases.LEFT_OUT.search(text) or (phrases.COLD_IN_THE_POT.search(text) if not COLD_PLACE.search(text) else None)
        if found is None and not COLD_PLACE.search(text) and not phrases.CHILLED.search(text):
            found = phrases.LEFT_OVERNIGHT.search(text) or (OUT_OF_THE_COLD.search(text) if step.does("cool") and not step.temperatures else None)
        if found is None or not (any(word in text for word in ("cool", "cold")) or step.does("cool") or phrases.DOWN_TO_ROOM.search(text)) or _short(step):
            continue
        place = Place(step.place.start + found.start(), step.place.start + found.end())
        yield Finding(
            RULE.name, Grade.HAZARD, False, place,
            f"Cooled “{page.words(place)}”, and no temperature is read; the limit is {judging.two_steps(recipe)}, which a large piece never makes on a counter.",
            remedy=Remedy("Cut it smaller or lay it in shallow pans, use an ice bath, and read both times."), sources=(Cite("food-code-2022", "3-501.14(A)"),),
        )  # fmt: skip
        return


def _short(step: Step) -> bool:
    """Out for no longer than cooked meat may be: a stated time within it."""
    stated = [units.factor(measured.amount.unit) * measured.amount.high for measured in step.times if measured.amount.unit in ("minute", "hour")]
    return bool(stated) and max(stated) <= Fraction(judging.figure("room_max_h").value)


RULE = Rule(
    name="cooled-at-room-temperature",
    family="rest_hold_cool",
    check=check,
    reports="Cooked meat left to cool at room temperature.",
    why="Spores that survive the cook wake up as it cools, and grow fastest between 109 and 117 °F.",
    silent="A cool-down with its times; two hours or less on the counter before the cold.",
    sources=(Cite("food-code-2022", "3-501.14(A)"),),
    sound=CORNED,
    faulty=changed(CORNED, ("8. Cool what is left from 135 to 70 F in 2 hours, and to 41 F in 4 hours more.", "8. Cool what is left on the counter, then refrigerate.")),
    expect=("19:22-36", "Cooled “on the counter”, and no temperature is read; the limit is 2 hours from 135 to 70 °F (57 to 21 °C) and 6 in all to 41 °F (5 °C) (Food Code 2022, 3-501.14(A)), which a large piece never makes on a counter."),
)
