"""A keeping time and a use-by that are not the same."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases, units
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_CITE = Cite("food-code-2022", "3-501.17(A)")


def check(case: Case) -> Iterator[Finding]:
    kept, page = case.process.storage, case.recipe.page
    if kept is None or kept.kept != "cold":
        return
    start, text = case.recipe.own_words
    for found in phrases.USE_BY_DAY.finditer(text):
        place = Place(start + found.start(), start + found.end())
        day = units.hours(Fraction(found[1]), (found[2] or "day").rstrip("s")) / 24
        if place.start <= kept.place.start < place.end or kept.low <= day <= kept.high + 1:
            continue  # the last of 4 days is day 4, or day 5 where the first is not counted
        said = page.words(place).replace("\n", " ")
        yield Finding(
            RULE.name, Grade.QUERY, False, place,
            f"“{said}” here, and {words.span(kept.low, kept.high, 'day')} on line {kept.line}. Which one holds? The day it was made counts as day 1 ({judging.named(_CITE)}).",
            remedy=Remedy("Leave one, counted from the day it was made."), sources=(_CITE,),
        )  # fmt: skip
        return


RULE = Rule(
    name="keeping-times-differ",
    family="keep_and_label",
    check=check,
    reports="A page that keeps it so many days in one place and dates it for another in the next.",
    why="Whoever writes the label takes the longer one.",
    silent="The same days, or one more where the first day is not counted; what is kept frozen.",
    sources=(_CITE,),
    sound=changed(CORNED, ("9. Keeps 4 days at 40 F or colder.", "9. Keeps 4 days at 40 F or colder. Label it use by day 4.")),
    faulty=changed(CORNED, ("9. Keeps 4 days at 40 F or colder.", "9. Keeps 4 days at 40 F or colder. Label it use by day 7.")),
    expect=("20:45-57", "“use by day 7” here, and 4 days on line 20. Which one holds? The day it was made counts as day 1 (Food Code 2022, 3-501.17(A))."),
)
