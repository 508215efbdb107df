"""A cure with no days."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from overhaul.findings import Cite, Finding
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or (process.cure_time is not None and process.cure_time.stated) or judging.is_ground(case) or recipe.product == "jerky" or process.cure.method == "pumped":
        return
    if not recipe.of_role(*CURING_SALTS):
        return
    lines = [step.end_line for step in recipe.steps if step.does("cure", "overhaul") and any(word in step.text.lower() for word in ("week", "days", "as long", "until", "time"))]
    line = lines[-1] if lines else words.last_line_of(recipe, "cure", "overhaul") or process.cure.line
    cite = Cite("fb-2265", "curing")
    meat, found = process.meat, case.sums.get("days_to_middle")
    if found is None or meat is None or meat.thickness is None or not meat.thickness_stated:
        yield words.missing(
            recipe, RULE.name, line, f"The page gives no number of days in the cure; thickness decides them ({judging.named(cite)}). How long, and how thick is the piece?", "Write the days, for the thickest piece.", None, sources=(cite,),
        )  # fmt: skip
        return
    enough = ceil(found.value.likely)
    yield words.missing(
        recipe, RULE.name, line,
        f"The page gives no number of days in the cure; {judging.length(recipe, meat.thickness.likely)} of meat needs {words.figure(found.value, 'day')} by diffusion ({judging.named(Cite('crank'))}). How long is meant?",
        f"Write the days: {words.span(enough, enough, 'day')} or more for this thickness.", f"Leave it {words.span(enough, enough, 'day')} in the refrigerator.", sources=(cite, *found.sources), sum_=found.worked(),
    )  # fmt: skip


RULE = Rule(
    name="cure-time-not-stated",
    family="cold_and_time",
    check=check,
    reports="A cure with no days, or only “a few weeks”.",
    why="Too few leave a grey middle; nobody can plan a service by “until done”.",
    silent="Any number of hours or days; ground meat; strips for jerky; pumped meat; plain brines without curing salt.",
    sources=(Cite("fb-2265", "curing"),),
    sound=CORNED,
    faulty=changed(CORNED, ("Refrigerate at 36 to 40 F for 12 days, turning every other day", "Refrigerate at 36 to 40 F, turning it now and then")),
    expect=("15:55-55", "The page gives no number of days in the cure; 1.8 in (4.4 cm) of meat needs 1.45 to 12.9 days (likely 5.53) by diffusion (The Mathematics of Diffusion). How long is meant?"),
)
