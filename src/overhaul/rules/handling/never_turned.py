"""Over a week in the cure and never turned."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    stay = process.cure_time
    if process.cure is None or stay is None or process.turning is not None or process.cure.method == "pumped" or recipe.product == "dried" or judging.is_fish(case):
        return
    if not recipe.of_role(*CURING_SALTS) or (recipe.of_role("nitrate") and not recipe.of_role("cure1", "cure2", "nitrite")):
        return
    week = judging.figure("turn_after_d")
    if judging.days(stay)[1] <= week.value:
        return
    cite = Cite("fb-2265", "overhauling")
    yield Finding(
        RULE.name, Grade.QUERY, False, stay.place,
        f"{words.told(stay)} in the cure, and nobody turns it; after {week.value:g} days it is usual to overhaul it ({judging.named(cite)}). Faces that touch cure slowly and stay grey. Is it turned, and when?",
        remedy=Remedy("Overhaul it: turn the pieces and stir the brine on set days.", (Edit(recipe.page.end_of(stay.line), "\nTurn it every other day."),)), sources=(cite, week.cite),
    )  # fmt: skip


RULE = Rule(
    name="never-turned",
    family="handling",
    check=check,
    reports="More than seven days in the cure with no turning or overhauling.",
    why="Pieces that lie on each other or on the tub are shut on that side.",
    silent="A week and less; any word of turning, stirring or overhauling; old saltpetre cures; fish.",
    sources=(Cite("fb-2265", "overhauling"),),
    sound=CORNED,
    faulty=changed(CORNED, (", turning every other day", "")),
    expect=("15:34-41", "12 days in the cure, and nobody turns it; after 7 days it is usual to overhaul it (Farmers' Bulletin 2265). Faces that touch cure slowly and stay grey. Is it turned, and when?"),
)
