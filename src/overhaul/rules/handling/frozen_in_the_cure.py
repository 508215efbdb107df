"""Frozen meat that goes into the cure with nothing said of thawing."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_CITE = Cite("fb-2265", "curing")


def check(case: Case) -> Iterator[Finding]:
    process = case.process
    if process.cure is None:
        return
    told = _told(case)
    if told is not None:
        yield Finding(
            RULE.name, Grade.FAULT, False, told,
            f"“{case.recipe.page.words(told)}”: cure does not go into ice, and the days count only from when the meat has thawed ({judging.named(_CITE)}).", remedy=_remedy(case), sources=(_CITE,),
        )  # fmt: skip
        return
    if process.thaw is not None or process.thaw_warm is not None:
        return
    for meat in process.meats:
        if meat.frozen and "thaw" not in case.recipe.page.low[meat.place.start : meat.place.end + 40] and "never frozen" not in case.recipe.page.low:
            yield Finding(
                RULE.name, Grade.FAULT, False, _word(case, meat.place),
                f"Frozen {meat.name} goes into the cure, and nothing thaws it. Cure does not go into ice, and the days count only from when it has thawed ({judging.named(_CITE)}).",
                remedy=_remedy(case), sources=(_CITE,),
            )  # fmt: skip


def _told(case: Case) -> Place | None:
    """The words of the method that put it in frozen, before anything takes it out of the cure."""
    page, process = case.recipe.page, case.process
    for step in case.recipe.steps:
        if step.does("rinse", "soak", "smoke", "cook", "store"):
            return None
        text = page.low[step.place.start : step.place.end].replace("\n", " ")
        found = phrases.HALF_THAWED.search(text) or (phrases.OUT_OF_THE_FREEZER.search(text) if process.thaw is None and step.does("cure", "pump", "other", "trim") else None)
        if found is not None and not phrases.SPOKEN_AGAINST.search(judging.sentence_before(text, found.start())) and not phrases.ANSWERED.search(text, found.end()):
            return Place(step.place.start + found.start(), step.place.start + found.end())
    return None


def _remedy(case: Case) -> Remedy:
    return Remedy(f"Thaw it in the refrigerator first, about a day for every {judging.thawed_a_day(case.recipe)}, and weigh it then.")


def _word(case: Case, place: Place) -> Place:
    at = case.recipe.page.low.find("frozen", place.start, place.end)
    return Place(at, at + len("frozen")) if at >= 0 else place


RULE = Rule(
    name="frozen-in-the-cure",
    family="handling",
    check=check,
    reports="Frozen meat put into a cure.",
    why="The outside cures while the middle is ice, and stays grey.",
    silent="A step that thaws it; meat that the line says is thawed; ice and what is stored frozen.",
    sources=(_CITE,),
    sound=changed(CORNED, ("trimmed of fat", "bought frozen, thawed, trimmed of fat")),
    faulty=changed(CORNED, ("2 brisket flats", "2 frozen brisket flats")),
    expect=("5:3-9", "Frozen brisket flat goes into the cure, and nothing thaws it. Cure does not go into ice, and the days count only from when it has thawed (Farmers' Bulletin 2265)."),
)
