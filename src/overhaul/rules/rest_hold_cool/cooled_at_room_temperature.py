"""Cooled on the counter."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.method import WARM_PLACE
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    page, process = case.recipe.page, case.process
    heated = [step.line for step in case.recipe.steps if step.phase in ("smoke", "cook")]
    if not heated or process.cooling:
        return
    for step in case.recipe.steps:
        if step.line < max(heated) or step.phase not in ("cool", "rest", "store", "other", "cook", "smoke"):
            continue
        text = page.plain[step.place.start : step.place.end].replace("\n", " ")
        found = WARM_PLACE.search(text)
        if found is None or (not any(word in text.lower() for word in ("cool", "cold")) and step.phase != "cool"):
            continue
        place = Place(step.place.start + found.start(), step.place.start + found.end())
        yield Finding(
            RULE.name, Grade.HAZARD, False, place, f"Cooled “{page.words(place)}”, with no time and no temperature: cooked meat has 2 hours from 135 to 70 °F (57 to 21 °C) and 6 in all to 41 °F (5 °C), which a large piece never makes on a counter.",
            remedy=Remedy("Cut it smaller or lay it in shallow pans, use an ice bath, and read both times."), sources=(Cite("food-code-2022", "3-501.14(A)"),),
        )  # fmt: skip
        return


RULE = Rule(
    name="cooled-at-room-temperature",
    family="rest_hold_cool",
    check=check,
    reports="Cooked meat left to cool at room temperature.",
    why="Spores that survive the cook wake up as it cools, and grow fastest between 109 and 117 °F.",
    silent="A cool-down with its times.",
    sources=(Cite("food-code-2022", "3-501.14(A)"),),
    sound=CORNED,
    faulty=changed(CORNED, ("8. Cool what is left from 135 to 70 F in 2 hours, and to 41 F in 4 hours more.", "8. Cool what is left on the counter, then refrigerate.")),
    expect=("19:22-36", "Cooled “on the counter”, with no time and no temperature: cooked meat has 2 hours from 135 to 70 °F (57 to 21 °C) and 6 in all to 41 °F (5 °C), which a large piece never makes on a counter."),
)
