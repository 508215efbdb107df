"""A cure with no days."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or process.cure_time is not None or recipe.product == "ground" or process.cure.method == "pumped":
        return
    if not recipe.of_role(*CURING_SALTS):
        return
    lines = [step.end_line for step in recipe.steps if step.phase in ("cure", "overhaul") and any(word in step.text.lower() for word in ("week", "days", "as long", "until", "time"))]
    line = lines[-1] if lines else words.last_line_of(recipe, "cure", "overhaul") or process.cure.line
    yield words.missing(
        recipe, RULE.name, line, "The page gives no number of days in the cure. How long, for this thickness?", "Write the days; thickness decides them.", sources=(Cite("fb-2265", "curing"),),
    )  # fmt: skip


RULE = Rule(
    name="cure-time-not-stated",
    family="cold_and_time",
    check=check,
    reports="A cure with no days, or only “a few weeks”.",
    why="Too few leave a grey middle; nobody can plan a service by “until done”.",
    silent="Any number of hours or days; ground meat; pumped meat; plain brines without curing salt.",
    sources=(Cite("fb-2265", "curing"),),
    sound=CORNED,
    faulty=changed(CORNED, ("Refrigerate at 36 to 40 F for 12 days, turning every other day", "Refrigerate at 36 to 40 F, turning it now and then")),
    expect=("15:55-55", "The page gives no number of days in the cure. How long, for this thickness?"),
)
