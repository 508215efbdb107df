"""Too little nitrite to cure."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.curing_salt import dosing, judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.sums import nitrite


def check(case: Case) -> Iterator[Finding]:
    source = judging.main_source(case, "nitrite")
    found = judging.highest(case.sums)
    if source is None or source.amount is None or found is None or judging.product_class(case) is None:
        return
    limit = judging.limit_for(case, "nitrite")
    low, usual = facts.fact("nitrite.low_ppm"), judging.least(case, limit)
    slack = facts.fact("nitrite.rounding_ppm").value
    if found.value.high < low.value:
        # Only under what no colour comes from is it sure: the 40 is an inspectors' round figure.
        certain = found.value.high < facts.fact("colour_ppm").low
        message = f"At most {words.ppm(found.value.high)} nitrite goes in: no cure to speak of. {words.ppm(low.value)} is the least that does anything ({words.short(low.cite)})."
        yield Finding(
            RULE.name, Grade.FAULT, certain, source.amount.place, message, sum=found.worked(), sources=(low.cite,),
            remedy=_remedy(case, source, limit, "or treat the meat as fresh: cook it promptly and do not smoke it cold"),
        )  # fmt: skip
    elif usual is not None and found.value.high + slack < (nitrite.skin_on(usual.value) if limit is not None and limit.rind else usual.value):
        dose = dosing.dose(case, source, limit) if limit is not None else None
        if dose is not None and source.mass is not None and dose.gram <= source.mass.high:
            return  # as near to the limit as this kitchen's scale can weigh: there is no room above
        message = f"At most {words.ppm(found.value.high)} nitrite goes in; for a cured product kept cold the usual least is {words.ppm(usual.value)} ({words.short(usual.cite)}). Is it cooked and eaten at once, or kept?"
        yield Finding(
            RULE.name, Grade.QUERY, False, source.amount.place, message, sum=found.worked(), sources=(usual.cite,),
            remedy=_remedy(case, source, limit, "or write that it is cooked and eaten at once"),
        )  # fmt: skip


def _remedy(case: Case, source: Ingredient, limit: judging.Limit | None, otherwise: str) -> Remedy:
    dose = dosing.dose(case, source, limit) if limit is not None and source.role != "nitrite" else None
    if dose is None:
        return Remedy(f"Weigh more curing salt, {otherwise}.")
    return Remedy(f"Weigh {dose.told} of {source.name or 'curing salt'} (worked again, {words.figure(dose.sum.value, 'ppm')}), {otherwise}.", dosing.edits(case, source, dose))


RULE = Rule(
    name="curing-salt-too-little",
    family="curing_salt",
    check=check,
    reports="Too little nitrite to cure, or less than the usual least for a product kept cold.",
    why="Under about 40 ppm there is neither colour nor protection; the meat is fresh meat that looks cured on the card.",
    silent="No nitrite on the page; meat or water not stated; 120 ppm (100 in Canada) and more by the highest sum; dried products and those kept on the shelf; a law whose limit is below that.",
    sources=(Cite("inspectors-handbook", "page 12"),),
    sum="the highest of the ingoing sums",
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure", "4 g cure")),
    expect=("9:1-4", "At most 30.2 ppm nitrite goes in: no cure to speak of. 40 ppm is the least that does anything (Processing Inspectors' Calculations Handbook)."),
)
