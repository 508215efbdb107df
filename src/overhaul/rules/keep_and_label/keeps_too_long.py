"""Kept cold longer than the charts."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    kept, recipe = case.process.storage, case.recipe
    if kept is None or kept.kept != "cold" or recipe.product in ("dried", "jerky"):
        return
    sold = case.house.sold if case.house.sold is not None else recipe.sold
    limit = facts.fact("keep_home_d" if sold is False else "keep_sold_d")
    if kept.low <= limit.value:
        return
    whose = {True: "sold or served", False: "kept for the house", None: "cooked and kept cold"}[sold]
    yield Finding(
        RULE.name, Grade.FAULT, False, kept.place, f"It is said to keep {words.span(kept.low, kept.high, 'day')}; {limit.value:g} days is the most for cooked cured meat {whose}, the day it was made counted as day 1.",
        remedy=Remedy(f"Write {limit.value:g} days at 41 °F (5 °C) or colder, or freeze it dated."), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="keeps-too-long",
    family="keep_and_label",
    check=check,
    reports="A keeping time in the cold beyond the charts.",
    why="One germ grows in the refrigerator too, slowly, and salt and nitrite do not stop it.",
    silent="Within 7 days (4 for the house); frozen; dried products.",
    sources=(Cite("food-code-2022", "3-501.17(A)"), Cite("cold-storage-chart")),
    sound=CORNED,
    faulty=changed(CORNED, ("Keeps 4 days", "Keeps 21 days")),
    expect=("20:10-17", "It is said to keep 21 days; 7 days is the most for cooked cured meat cooked and kept cold, the day it was made counted as day 1."),
)
