"""Too little nitrite to cure."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import judging, words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    source = judging.main_source(case, "nitrite")
    if source is None or source.amount is None or judging.product_class(case) is None:
        return
    found = case.sums.get("nitrite_equilibrium") or case.sums.get("nitrite_pump") or case.sums.get("nitrite_direct")
    if found is None:
        return
    low = facts.fact("nitrite.low_ppm")
    floor = facts.fact("nitrite.cold_min_ca_ppm" if case.house.law == "ca" else "nitrite.cold_min_ppm")
    if found.value.high < low.value:
        yield Finding(
            RULE.name, Grade.FAULT, True, source.amount.place, f"At most {words.ppm(found.value.high)} nitrite goes in: no cure to speak of. {words.ppm(low.value)} is the least that does anything.",
            sum=found.worked(), remedy=Remedy("Weigh more curing salt, or treat the meat as fresh: cook it promptly and do not smoke it cold."), sources=(low.cite,),
        )  # fmt: skip
    elif found.value.high < floor.value:
        yield Finding(
            RULE.name, Grade.QUERY, False, source.amount.place,
            f"At most {words.ppm(found.value.high)} nitrite goes in; for a cured product kept cold the usual least is {words.ppm(floor.value)}. Is it cooked and eaten at once, or kept?",
            sum=found.worked(), remedy=Remedy("If it is kept, weigh more curing salt."), sources=(floor.cite,),
        )  # fmt: skip


RULE = Rule(
    name="curing-salt-too-little",
    family="curing_salt",
    check=check,
    reports="Too little nitrite to cure, or less than the usual least for a product kept cold.",
    why="Under about 40 ppm there is neither colour nor protection; the meat is fresh meat that looks cured on the card.",
    silent="No nitrite on the page; meat or water not stated; 120 ppm and more by the highest sum.",
    sources=(Cite("inspectors-handbook", "page 12"),),
    sum="the highest of the ingoing sums",
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure", "4 g cure")),
    expect=("9:1-4", "At most 30.2 ppm nitrite goes in: no cure to speak of. 40 ppm is the least that does anything."),
)
