"""Days in the cure, and no cold named."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or process.cure_temperature is not None or process.cure_cold is not None or recipe.product in ("dried", "ground"):
        return
    if process.cure_warm is not None:
        return  # a place is named: cured-too-warm speaks of it
    cured = bool(recipe.of_role(*CURING_SALTS))
    stay = process.cure_time
    hours = stay.span.high * float(units.factor(stay.unit)) if stay is not None else None
    if not cured and (hours is None or hours < 2):
        return
    line = stay.line if stay is not None else words.last_line_of(recipe, "cure", "overhaul") or process.cure.line
    length = words.told(stay) if stay is not None else "an unknown time"
    yield words.missing(
        recipe, RULE.name, line, f"{length[:1].upper()}{length[1:]} in the cure, and no temperature or refrigerator is named.",
        "Write where it stands and how cold.", "Refrigerate at 36 to 40 F.", sources=(Cite("nchfp", "6.1.3"), Cite("food-code-2022", "3-501.16(A)(2)")),
    )  # fmt: skip


RULE = Rule(
    name="cure-temperature-not-stated",
    family="cold_and_time",
    check=check,
    reports="Meat in a cure with neither a temperature nor a refrigerator on the page.",
    why="Whoever makes it the first time puts it where there is room.",
    silent="Any temperature or cold place by the cure; a plain brine of under two hours; long dry cures.",
    sources=(Cite("nchfp", "6.1.3"),),
    sound=CORNED,
    faulty=changed(CORNED, ("Refrigerate at 36 to 40 F for 12 days", "Leave it for 12 days")),
    expect=("15:50-50", "12 days in the cure, and no temperature or refrigerator is named."),
)
