"""Too salty on the plate."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.brine import dosing, more_salt_than_water_holds
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import BACON, changed
from overhaul.sums.of_brine import all_salt


def check(case: Case) -> Iterator[Finding]:
    salt = next((item for item in case.recipe.of_role("salt") if item.amount is not None), None)
    cure = case.process.cure
    if salt is None or salt.amount is None or not brine_known(case) or case.found_by(more_salt_than_water_holds.check):
        return
    dry_ham = case.recipe.product == "ham" and cure is not None and cure.method == "dry"
    dried = dry_ham or case.recipe.product in ("dried", "jerky", "gravlax")
    limit = facts.fact("salt_band.too_salty_dried" if dried else "salt_band.too_salty")
    raw = dried or case.recipe.product == "bacon"  # both are judged before the pan or the drying
    likely = case.sums.likely_as_eaten() if not raw else None
    if not raw and (likely is None or likely <= limit.value):
        return
    found = case.sums.get("salt_after_cure" if raw else "salt_as_eaten")
    if found is not None and found.value.likely > limit.value and not _by_the_curing_salt(case, found.value.likely, limit.value):
        yield Finding(
            RULE.name, Grade.FAULT, found.value.low > limit.value, salt.amount.place,
            f"It comes out at {words.figure(found.value, 'percent')} salt {'by raw weight' if raw else 'as eaten'}; above {limit.value:g} % is too salty for most ({words.short(limit.cite)}).",
            sum=found.worked(), remedy=_remedy(case, salt, raw), sources=(limit.cite,),
        )  # fmt: skip


def _remedy(case: Case, salt: Ingredient, raw: bool) -> Remedy:
    otherwise = "Less salt, or a soak in the cold before it is cooked; fry a slice and taste first."
    return Remedy(otherwise) if raw else dosing.as_eaten(case, salt, "salt_as_eaten", dosing.usual_as_eaten(), otherwise)


def _by_the_curing_salt(case: Case, percent: float, limit: float) -> bool:
    """Whether ground meat is too salty only by what its curing salt brings: then the rules for that say what is wrong."""
    salt = case.sums.get("salt_mass")
    if not judging.is_ground(case) or salt is None:
        return False
    every = all_salt(case.sums)[0].likely
    return every > 0 and percent * salt.value.likely / every <= limit


def brine_known(case: Case) -> bool:
    """Whether what goes into the meat can be told: not a loose rub, which falls off, nor a brine of unknown water."""
    cure = case.process.cure
    if judging.is_ground(case):
        return case.sums.get("salt_equilibrium") is not None  # mixed in, all of it
    if cure is None:
        return False
    if cure.method == "dry":
        return cure.balance == "equilibrium"
    return case.sums.get("brine_mass") is not None


RULE = Rule(
    name="too-salty-as-eaten",
    family="brine",
    check=check,
    reports="Meat that is likely saltier on the plate than most people will eat.",
    why="A strong brine with no soak, or a rub weighed for a bigger piece, is the commonest way to spoil good meat.",
    silent="Anything the sum needs is missing, the water too; more salt than the water holds (then that is said); a loose dry rub, of which nobody knows how much goes in; dried products are held to 6 %, bacon by its raw weight.",
    sources=(Cite("ham-saltiness"),),
    sum="salt after the cure × what soak and simmer leave",
    sound=BACON,
    faulty=changed(BACON, ("55 g kosher", "110 g kosher")),
    expect=("4:1-6", "It comes out at 4.83 % salt by raw weight; above 3.2 % is too salty for most (Saltiness of cooked ham)."),
)
