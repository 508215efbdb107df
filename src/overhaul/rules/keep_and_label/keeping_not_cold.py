"""Kept somewhere cool, or kept with no cold."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.recipe.method import COLD_PLACE
from overhaul.recipe.model import Fact
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    recipe, cure = case.recipe, case.process.cure
    if judging.dried_on_purpose(case) or (recipe.product == "ham" and cure is not None and cure.method == "dry"):
        return
    kept = case.process.storage
    if kept is not None and kept.temperature is not None:
        yield from _at(case, kept.temperature)
        return
    limit = facts.fact("cure_max_f")
    for step in recipe.steps:
        if not step.does("store"):
            continue
        text = recipe.page.low[step.place.start : step.place.end].replace("\n", " ")
        found = phrases.KEPT_WARM.search(text) or phrases.KEPT_COOL.search(text)
        if found is None or (COLD_PLACE.search(text) and not found[0].startswith("out")):
            continue
        place = Place(step.place.start + found.start(), step.place.start + found.end())
        yield Finding(
            RULE.name, Grade.HAZARD if phrases.KEPT_WARM.search(text) else Grade.FAULT, False, place,
            f"Kept “{recipe.page.words(place)}”: the limit for meat like this is {degrees(recipe, limit.value)} by {named(limit.cite)}, with a date, or frozen. The salt in it does not preserve it.",
            remedy=Remedy("Write the refrigerator, its temperature and the days."), sources=(limit.cite,),
        )  # fmt: skip
        return


def _at(case: Case, told: Fact) -> Iterator[Finding]:
    recipe, limit = case.recipe, facts.fact("cure_max_f")
    if told.high > limit.value:
        yield Finding(
            RULE.name, Grade.HAZARD, told.low > limit.value, told.place, f"Kept at {degrees(recipe, told.low, told.high)}; the limit is {degrees(recipe, limit.value)} by {named(limit.cite)}.",
            remedy=Remedy(f"Keep it at {degrees(recipe, limit.value)} or colder, with a date, or freeze it.", (Edit(told.place, judging.plain_degrees(recipe, judging.figure("cure_target_f").high)),)), sources=(limit.cite,),
        )  # fmt: skip


RULE = Rule(
    name="keeping-not-cold",
    family="keep_and_label",
    check=check,
    reports="Cured or cooked meat kept above 41 °F, “somewhere cool”, in a cellar or on the shelf.",
    why="Corned beef at 2.4 % salt is not preserved; it only looks it.",
    silent="A refrigerator, or 41 °F and less; frozen; long dry cures, dried and fermented products.",
    sources=(Cite("food-code-2022", "3-501.16(A)(2)"),),
    sound=CORNED,
    faulty=changed(CORNED, ("9. Keeps 4 days at 40 F or colder.", "9. Keep it somewhere cool.")),
    expect=("20:12-26", "Kept “somewhere cool”: the limit for meat like this is 41 °F (5 °C) by Food Code 2022, 3-501.16(A)(2), with a date, or frozen. The salt in it does not preserve it."),
)
