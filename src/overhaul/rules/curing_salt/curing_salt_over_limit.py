"""More nitrite goes in than the limit for this product and method."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import words
from overhaul.rules.curing_salt import dosing, judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.sums.worked import Sum

_BY = {
    "nitrite_equilibrium": "the sum that takes meat and pickle as one system", "nitrite_estimate": "diffusion over the stated days",
    "nitrite_pick_up": "the pick-up sum", "nitrite_pump": "the pumping sum", "nitrite_direct": "the sum on green weight",
}  # fmt: skip


def check(case: Case) -> Iterator[Finding]:
    limit = judging.limit_for(case, "nitrite")
    source = judging.main_source(case, "nitrite")
    if limit is None or source is None or source.amount is None:
        return
    verdict = judging.judge(case, "nitrite", limit)
    if verdict is None or verdict.grade is Grade.QUERY:
        return
    decided, broken = verdict.decided, verdict.limit
    message = f"{words.figure(decided.value, 'ppm')} nitrite by {_BY[decided.name]}{_times(decided, broken) if broken is limit else ''}. "
    if broken is not limit:
        message += f"Going in, the limit is {limit.told}, but the finished product may hold no more than {words.ppm(broken.ppm)}, and a short cure in the cold cannot be shown to end there."
    else:
        message += f"The limit is {limit.told}."
    if decided.name == "nitrite_equilibrium":
        message += "".join(_other(other) for name in ("nitrite_pick_up", "nitrite_estimate") if (other := case.sums.get(name)) is not None)
    kept = case.process.kept_back
    if kept is not None:
        message += f" The sum takes all of the mix; line {kept.line} keeps some of it back."
    yield Finding(
        RULE.name, verdict.grade, verdict.certain and kept is None, source.amount.place, message, sum=decided.worked(), remedy=_remedy(case, source, judging.finished_limit(case, "nitrite", limit) or limit),
        sources=tuple(dict.fromkeys((limit.fact.cite, broken.fact.cite, *decided.sources))),
    )  # fmt: skip


def _times(decided: Sum, limit: judging.Limit) -> str:
    """In plain multiples from one and a half up: below that the figures tell it better."""
    times = decided.value.likely / limit.ppm
    return f", {words.round_(times)} times the limit" if times > 1.5 else ""


def _other(other: Sum) -> str:
    shown = ", shown and not judged by" if any(one.name == "weight picked up" and not one.stated for one in other.inputs) else ""
    return f" By {_BY[other.name]}{shown}: {words.figure(other.value, 'ppm')}."


def _remedy(case: Case, source: Ingredient, limit: judging.Limit) -> Remedy:
    """The weight of this curing salt, or of cure #1 where the kind has to change too."""
    belly = (judging.product_class(case) or "").startswith("belly")
    barred = source.role == "nitrite" or (belly and judging.share(case, source, "nitrate") is not None)
    dose = dosing.dose(case, source, limit, as_cure1=barred)
    if dose is None:
        return Remedy("Do not use this amount. Weigh one curing salt for this meat and this water.")
    name = "cure #1 (6.25 % nitrite)" if barred else source.name or "curing salt"
    return Remedy(f"Weigh {dose.told} of {name}: worked again, {words.figure(dose.sum.value, 'ppm')} in this batch.", dosing.edits(case, source, dose, as_cure1=barred))


RULE = Rule(
    name="curing-salt-over-limit",
    family="curing_salt",
    check=check,
    reports="More nitrite goes in than the limit for this product and this method.",
    why="Too much nitrite is a poison. Ten times too much, from a slipped point or curing salt taken for salt, has killed.",
    silent="No nitrite on the page; meat or water not stated; only the spoons' span reaches the limit (then curing-salt-not-weighed asks); fish, which stands under other law (then fish-cure-not-judged says so).",
    sources=(Cite("cfr-424-21", "(c)"), Cite("cfr-424-22", "(b)"), Cite("inspectors-handbook", "pages 12 to 28")),
    sum="dry or ground: nitrite ÷ green meat; pumped: nitrite × pumped share ÷ pickle; soaked: nitrite ÷ (green meat + pickle), beside the pick-up sum and the diffusion estimate; all × 1,000,000",
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure", "200 g cure")),
    expect=("9:1-6", "1,474 ppm nitrite by the sum that takes meat and pickle as one system, 7.37 times the limit. The limit is 200 ppm for whole muscle in brine (9 CFR 424.21(c)). By the pick-up sum, shown and not judged by: 85.3 to 341 ppm (likely 227). By diffusion over the stated days: 899 to 1,292 ppm (likely 1,126)."),
)
