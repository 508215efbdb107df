"""Too little salt on the plate, in something that is called cured."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.brine import brine_weak, dosing, salt_not_weighed, salt_unmeasured
from overhaul.rules.brine.too_salty_as_eaten import brine_known
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    if not recipe.cured or recipe.product in ("dried", "jerky", "gravlax", "fish") or not brine_known(case):
        return
    amounts = [item.amount for item in (*recipe.of_role("salt"), *recipe.of_role(*CURING_SALTS)) if item.amount is not None]
    bland = facts.fact("salt_band.bland")
    likely = case.sums.likely_as_eaten() if amounts else None
    if likely is None or likely >= bland.value:
        return
    found = case.sums.get("salt_as_eaten")
    if found is None or any(case.found_by(other.check) for other in (brine_weak, salt_not_weighed, salt_unmeasured)):
        return  # said already, of the same salt
    yield Finding(
        RULE.name, Grade.QUERY, False, amounts[0].place,
        f"It comes out at {words.figure(found.value, 'percent')} salt as eaten; under {bland.value:g} % a cured product is bland ({words.short(bland.cite)}). Is that meant, or is salt missing from the list?",
        sum=found.worked(), remedy=_remedy(case), sources=(bland.cite,),
    )  # fmt: skip


def _remedy(case: Case) -> Remedy:
    otherwise = "Look for a line of salt that was lost; fry a slice and taste before the batch is finished."
    salt = next((item for item in case.recipe.of_role("salt") if item.amount is not None), None)
    return dosing.as_eaten(case, salt, "salt_as_eaten", dosing.usual_as_eaten(), otherwise) if salt is not None else Remedy(otherwise)


RULE = Rule(
    name="too-little-salt-as-eaten",
    family="brine",
    check=check,
    reports="A cured product that is likely under 1 % salt on the plate.",
    why="A line of salt lost in copying leaves meat that is pink and flat, and that spoils early.",
    silent="Anything the sum needs is missing; not a cured product; dried products and fish; a loose dry rub; salt by the cup or the handful, or a brine so weak, that another rule speaks already.",
    sources=(Cite("ham-saltiness"),),
    sum="salt after the cure × what soak and simmer leave",
    sound=CORNED,
    faulty=changed(CORNED, ("10 oz kosher", "4 oz kosher")),
    expect=("7:1-5", "It comes out at 0.68 to 0.86 % (likely 0.81) salt as eaten; under 1 % a cured product is bland (Saltiness of cooked ham). Is that meant, or is salt missing from the list?"),
)
