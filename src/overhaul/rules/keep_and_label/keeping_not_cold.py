"""Kept somewhere cool, or kept with no cold."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_COOL = re.compile(r"\b(?:somewhere cool|(?:in )?a cool,? (?:dry )?place|(?:in )?the (?:cellar|pantry|larder)|at room temperature|on the shelf)\b", re.I)


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    if recipe.product in ("dried", "jerky") or (recipe.product == "ham" and case.process.cure is not None and case.process.cure.method == "dry"):
        return
    limit = facts.fact("cure_max_f")
    for step in recipe.steps:
        if step.phase != "store":
            continue
        text = recipe.page.plain[step.place.start : step.place.end].replace("\n", " ")
        found = _COOL.search(text)
        if found is None:
            continue
        place = Place(step.place.start + found.start(), step.place.start + found.end())
        yield Finding(
            RULE.name, Grade.FAULT, False, place, f"“{recipe.page.words(place)}” is no temperature to keep cured meat at: keep it at {words.degrees(limit.value)} or colder, with a date, or freeze it.",
            remedy=Remedy("Write the refrigerator, its temperature and the days."), sources=(limit.cite,),
        )  # fmt: skip
        return


RULE = Rule(
    name="keeping-not-cold",
    family="keep_and_label",
    check=check,
    reports="Cured meat kept “somewhere cool”, in a cellar or on the shelf.",
    why="Corned beef at 2.4 % salt is not preserved; it only looks it.",
    silent="A refrigerator or a temperature; long dry cures.",
    sources=(Cite("food-code-2022", "3-501.16(A)(2)"),),
    sound=CORNED,
    faulty=changed(CORNED, ("9. Keeps 4 days at 40 F or colder.", "9. Keep it somewhere cool.")),
    expect=("20:12-26", "“somewhere cool” is no temperature to keep cured meat at: keep it at 41 °F (5 °C) or colder, with a date, or freeze it."),
)
