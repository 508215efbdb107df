"""A cure with no weight of meat."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.span import exactly
from overhaul.sums import nitrite
from overhaul.sums.of_cure import agent_held
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    recipe, process = case.recipe, case.process
    cures = [item for item in recipe.of_role(*CURING_SALTS) if item.amount is not None]
    if not cures or all((item.amount is not None and item.amount.unit == "percent") or item.per is not None for item in cures):
        return
    meat = process.meat
    weighs_nothing = meat is not None and meat.mass_stated and meat.mass is not None and meat.mass.high <= 0
    if meat is not None and meat.mass_stated and not weighs_nothing:
        return
    message = "By this page the meat weighs nothing, so the curing salt that goes into it cannot be worked." if weighs_nothing else "The page does not say how much the meat weighs, so the curing salt that goes into it cannot be worked."
    pickle = case.sums.get("brine_mass")
    if pickle is not None and meat is not None and meat.mass is not None and not weighs_nothing:
        message += f" A typical piece weighs {words.figure(meat.mass, 'gram')}."
    elif pickle is not None:
        message += f" The brine weighs {words.figure(pickle.value, 'gram')}."
    message += _any_amount(case)
    text = "Weigh the meat after trimming and write the weight."
    sources = (Cite("inspectors-handbook", "green weight"),)
    listed = next((item for item in recipe.of_role("meat", use=None) if item.name), None)
    if listed is not None:
        yield Finding(RULE.name, Grade.QUERY, False, listed.name_place, message, remedy=Remedy(text), sources=sources)
    elif (line := words.first_line_of(recipe, "cure")) is not None:
        yield words.missing(recipe, RULE.name, line, message, text, sources=sources)
    else:
        yield Finding(RULE.name, Grade.QUERY, False, Place(recipe.title_place.end, recipe.title_place.end), message, True, remedy=Remedy(text), sources=sources)


def _any_amount(case: Case) -> str:
    """Whether the brine is within the limit whatever the meat weighs, else from what weight up."""
    limit, brine = judging.limit_for(case, "nitrite"), case.sums.get("nitrite_any_meat")
    if limit is None or brine is None:
        return ""
    if brine.value.high <= limit.top:
        return f" Any amount of meat is within {limit.told}, for the brine itself holds {words.figure(brine.value, 'ppm')}; whether it is enough hangs on the weight."
    least = nitrite.green_for_equilibrium(agent_held(case.sums, "nitrite").gram.high, limit.ppm, case.sums.need("brine_mass").value.low)
    return f" From {words.figure(exactly(least), 'gram')} of meat up it is within {limit.told}."


RULE = Rule(
    name="meat-weight-not-stated",
    family="brine",
    check=check,
    reports="A cure with no weight of meat.",
    why="Every limit is set on green weight. Without it a brine is only a brine.",
    silent="Meat weighed anywhere on the page, the title too; curing salt by percent of the meat or by a rate.",
    sources=(Cite("inspectors-handbook", "green weight"),),
    sound=CORNED,
    faulty=changed(CORNED, ("2 brisket flats, 9 lb in all, trimmed", "2 brisket flats, trimmed")),
    expect=("5:3-16", "The page does not say how much the meat weighs, so the curing salt that goes into it cannot be worked. A typical piece weighs 2,200 to 9,000 g (likely 4,600). From 2,034 g of meat up it is within 200 ppm for whole muscle in brine (9 CFR 424.21(c))."),
)
