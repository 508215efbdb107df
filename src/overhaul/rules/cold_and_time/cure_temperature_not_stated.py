"""Days in the cure, and no cold named."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or process.cure_temperature is not None or process.cure_cold is not None or recipe.product in ("dried", "ground"):
        return
    if process.cure_warm is not None:
        return  # a place is named: cured-too-warm speaks of it
    stay = process.cure_time
    # A plain brine of an hour or two stands within the time that meat may be out of the cold.
    if not recipe.of_role(*CURING_SALTS) and (stay is None or judging.hours(stay)[1] <= judging.figure("room_max_h").value):
        return
    line = stay.line if stay is not None else words.last_line_of(recipe, "cure", "overhaul") or process.cure.line
    length = words.told(stay) if stay is not None else "an unknown time"
    limit = facts.fact("cure_max_f")
    yield words.missing(
        recipe, RULE.name, line,
        f"{length[:1].upper()}{length[1:]} in the cure, and no temperature or refrigerator is named; the limit is {judging.degrees(recipe, limit.value)} by {judging.named(limit.cite)}. Where does it stand, and how cold?",
        f"Write where it stands and how cold: {judging.target(recipe)}.", f"Refrigerate at {judging.plain_target(recipe)}.", sources=(Cite("nchfp", "6.1.3"), limit.cite),
    )  # fmt: skip


RULE = Rule(
    name="cure-temperature-not-stated",
    family="cold_and_time",
    check=check,
    reports="Meat in a cure with neither a temperature nor a refrigerator on the page.",
    why="Whoever makes it the first time puts it where there is room.",
    silent="Any temperature or cold place by the cure; a plain brine of two hours or less; long dry cures.",
    sources=(Cite("nchfp", "6.1.3"), Cite("food-code-2022", "3-501.16(A)(2)")),
    sound=CORNED,
    faulty=changed(CORNED, ("Refrigerate at 36 to 40 F for 12 days", "Leave it for 12 days")),
    expect=("15:50-50", "12 days in the cure, and no temperature or refrigerator is named; the limit is 41 °F (5 °C) by Food Code 2022, 3-501.16(A)(2). Where does it stand, and how cold?"),
)
