"""Kept cold longer than the charts."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    kept, recipe = case.process.storage, case.recipe
    if kept is None or kept.kept != "cold" or judging.dried_on_purpose(case):
        return
    sold = case.house.sold if case.house.sold is not None else recipe.sold
    if judging.is_fish(case) and not sold:
        return  # the charts for meat say nothing of it; a shop's date mark does
    raw = judging.fried_before_eating(case)
    limit = facts.fact("keep_raw_bacon_d" if raw else "keep_home_d" if sold is False else "keep_sold_d")
    if kept.high <= limit.value:
        return
    cured = "cured " if recipe.of_role(*CURING_SALTS) else ""
    what = f"raw {cured}meat" if raw else f"cooked {cured}meat{'' if sold is None else ' that is sold or served' if sold else ' in the house'}"
    days = f"{limit.value:g} days"
    yield Finding(
        RULE.name, Grade.FAULT, False, kept.place,
        f"It is said to keep {words.span(kept.low, kept.high, 'day')} cold; the limit for {what} is {days}, the day it was made counted as the first, by {judging.named(limit.cite)}.",
        remedy=Remedy(f"Write {days} at {judging.degrees(recipe, facts.fact('cure_max_f').value)} or colder, or freeze it dated.", (Edit(kept.place, days),)), sources=(limit.cite,),
    )  # fmt: skip


RULE = Rule(
    name="keeps-too-long",
    family="keep_and_label",
    check=check,
    reports="A keeping time in the cold beyond the charts.",
    why="One germ grows in the refrigerator too, slowly, and salt and nitrite do not stop it.",
    silent="Within 7 days (4 for the house, 7 for raw bacon); frozen; dried products; fish that is not sold.",
    sources=(Cite("food-code-2022", "3-501.17(A)"), Cite("cold-storage-chart")),
    sound=CORNED,
    faulty=changed(CORNED, ("Keeps 4 days", "Keeps 21 days")),
    expect=("20:10-17", "It is said to keep 21 days cold; the limit for cooked cured meat is 7 days, the day it was made counted as the first, by Food Code 2022, 3-501.17(A)."),
)
