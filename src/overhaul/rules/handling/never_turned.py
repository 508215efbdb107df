"""Over a week in the cure and never turned."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_WEEK = 7.0


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    stay = process.cure_time
    if process.cure is None or stay is None or process.turning is not None or process.cure.method == "pumped" or recipe.product == "dried":
        return
    if not recipe.of_role(*CURING_SALTS) or (recipe.of_role("nitrate") and not recipe.of_role("cure1", "cure2", "nitrite")):
        return
    if stay.span.high * float(units.factor(stay.unit)) / 24 <= _WEEK:
        return
    yield Finding(
        RULE.name, Grade.QUERY, False, stay.place, f"{words.told(stay)} in the cure, and nobody turns it. Faces that touch cure slowly and stay grey.",
        remedy=Remedy("Overhaul it: turn the pieces and stir the brine on set days."), sources=(Cite("fb-2265", "overhauling"),),
    )  # fmt: skip


RULE = Rule(
    name="never-turned",
    family="handling",
    check=check,
    reports="More than seven days in the cure with no turning or overhauling.",
    why="Pieces that lie on each other or on the tub are shut on that side.",
    silent="A week and less; any word of turning, stirring or overhauling; old saltpetre cures.",
    sources=(Cite("fb-2265", "overhauling"),),
    sound=CORNED,
    faulty=changed(CORNED, (", turning every other day", "")),
    expect=("15:34-41", "12 days in the cure, and nobody turns it. Faces that touch cure slowly and stay grey."),
)
