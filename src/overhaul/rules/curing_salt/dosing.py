"""The weight of curing salt that would keep the limit: the remedies' arithmetic, worked back and then worked again."""

from __future__ import annotations

from math import floor

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.findings import Edit
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.curing_salt.judging import INGOING, SOURCES, Limit, highest, share
from overhaul.rules.rule import Case
from overhaul.span import Span, between, exactly
from overhaul.sums import nitrite
from overhaul.sums.work import Sums
from overhaul.sums.worked import Sum
from overhaul.text import Place

CURE_1 = "cure #1 (6.25 % nitrite)"


class Dose(Struct, frozen=True):
    """The weight of one curing salt that reaches a level, and the sum worked again with it."""

    gram: float
    sum: Sum

    @property
    def told(self) -> str:
        return words.gram(self.gram)


def aim(case: Case, limit: Limit) -> float:
    """The level a remedy aims at, ppm: half way between the usual least and the limit, or the limit when that is lower."""
    fact = facts.fact("nitrite.cold_min_ca_ppm" if case.house.law == "ca" else "nitrite.cold_min_ppm")
    low = nitrite.skin_on(fact.value) if limit.rind else fact.value
    return limit.ppm if limit.ppm <= low else between(low, limit.ppm).likely


def dose(case: Case, item: Ingredient, limit: Limit, as_cure1: bool = False) -> Dose | None:
    """What to weigh instead of ``item`` so that the highest sum just reaches ``aim``; None where nothing settles it.

    The recipe's own sums are worked again with the new weight, so that the remedy is checked before it is given.
    """
    if item.amount is None or any(one is not item for one in case.recipe.of_role(*SOURCES["nitrite"])):
        return None
    step = case.house.scale.get("cure", 0.1)
    trial = _worked_with(case, item, exactly(step), as_cure1)
    # What meets the recipe's own sums meets the trial's; where the page gives no grams, only the trial has any.
    known = case.sums if highest(case.sums) is not None else trial
    held = share(case, replace(item, role="cure1", strength=None) if as_cure1 else item, "nitrite")
    if held is None or held.high <= 0:
        return None
    solved = [gram for name in INGOING if (one := known.get(name)) is not None and (gram := _solved(trial, one, held, aim(case, limit))) is not None]
    if not solved or min(solved) < step:
        return None
    count = min(solved) / step
    for gram in (round(count) * step, floor(count) * step):
        again = highest(_worked_with(case, item, exactly(gram), as_cure1))
        if again is not None and again.value.high <= limit.top:
            return Dose(gram, again)
    return None


def _solved(trial: Sums, one: Sum, held: Span, wanted: float) -> float | None:
    """Gram of a curing salt that holds ``held`` percent for ``wanted`` ppm by the sum ``one``, with every other input at its harder end."""
    meat, pickle = trial.get("meat_mass"), trial.get("brine_mass")
    if one.name == "nitrite_direct" and meat is not None:
        agent = nitrite.agent_for_direct(wanted, meat.value.low)
    elif one.name == "nitrite_equilibrium" and meat is not None and pickle is not None:
        agent = nitrite.agent_for_equilibrium(wanted, meat.value.low, pickle.value.low)
    elif one.name == "nitrite_pump" and pickle is not None:
        pumped = next(given.value.high for given in one.inputs if given.name == "pumped in")
        agent = nitrite.agent_for_pump(wanted, pumped / 100, pickle.value.low)
    else:
        return None
    return agent * 100 / held.high


def _worked_with(case: Case, item: Ingredient, mass: Span, as_cure1: bool) -> Sums:
    if as_cure1 and item.role != "cure1":
        return words.worked_with(case, item, mass, role="cure1", kind="cure_no1", strength=None, name="cure #1")
    return words.worked_with(case, item, mass)


def edits(case: Case, item: Ingredient, found: Dose | None, as_cure1: bool = False) -> tuple[Edit, ...]:
    """The dose put in place of the amount, where the line is a plain one; where the kind has to change too, in place of the name as well."""
    if found is None:
        return ()
    if as_cure1 and item.role != "cure1":
        whole = item.amount is not None and words.plain_line(item) and item.name_place.start >= item.amount.place.end
        return (Edit(Place(item.amount.place.start, item.name_place.end), f"{found.told} {CURE_1}"),) if whole and item.amount is not None else ()
    return words.weighed_instead(item, found.told)
