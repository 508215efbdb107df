"""More nitrite goes in than the limit for this product and method."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.recipe.model import Ingredient
from overhaul.rules import judging, words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.sums import nitrite
from overhaul.sums.work import Sum


def check(case: Case) -> Iterator[Finding]:
    limit = judging.limit_for(case, "nitrite")
    source = judging.main_source(case, "nitrite")
    if limit is None or source is None or source.amount is None:
        return
    verdict = judging.judge(case, "nitrite", limit)
    if verdict is None or verdict.grade is Grade.QUERY:
        return
    decided = verdict.decided
    message = f"{words.figure(decided.value, 'ppm')} nitrite by {_by(decided)}; the limit for {limit.words}{' weighed with its rind' if limit.rind else ''} is {words.ppm(limit.ppm)}"
    message += f", so {words.round_(decided.value.likely / limit.ppm)} times over it." if decided.value.likely > 1.5 * limit.ppm else "."
    others = [found for name in ("nitrite_pick_up", "nitrite_estimate") if (found := case.sums.get(name)) is not None]
    if decided.name == "nitrite_equilibrium" and others:
        message += " " + " ".join(f"By {_by(other)}: {words.figure(other.value, 'ppm')}." for other in others)
    yield Finding(RULE.name, verdict.grade, verdict.certain, source.amount.place, message, sum=decided.worked(), remedy=_remedy(case, source, decided, limit.ppm), sources=(limit.fact.cite, *decided.sources))


def _by(found: Sum) -> str:
    return {
        "nitrite_equilibrium": "the sum that takes meat and pickle as one system", "nitrite_estimate": "diffusion over the stated days",
        "nitrite_pick_up": "the pick-up sum with a published gain, shown and not judged by", "nitrite_pump": "the pumping sum", "nitrite_direct": "the sum on green weight",
    }[found.name]  # fmt: skip


def _remedy(case: Case, source: Ingredient, decided: Sum, limit: float) -> Remedy:
    """Three quarters of the limit, worked back to grams of the curing salt in hand."""
    wanted = 0.75 * limit
    meat, pickle = case.sums.get("meat_mass"), case.sums.get("brine_mass")
    share = next((one.value.likely / 100 for one in decided.inputs if one.name == "nitrite in it"), 0.0625)
    agent = None
    if decided.name == "nitrite_equilibrium" and meat is not None and pickle is not None:
        agent = nitrite.agent_for_equilibrium(wanted, meat.value.likely, pickle.value.likely)
    elif decided.name == "nitrite_direct" and meat is not None:
        agent = nitrite.agent_for_direct(wanted, meat.value.likely)
    elif decided.name == "nitrite_pump" and pickle is not None and case.process.pump is not None:
        agent = nitrite.agent_for_pump(wanted, case.process.pump.span.likely / 100, pickle.value.likely)
    if agent is None or share <= 0:
        return Remedy("Do not use this amount. Weigh the curing salt for this meat and this water.")
    grams = f"{agent / share:.1f} g"
    edit = (Edit(source.amount.place, grams),) if source.amount is not None and not source.also else ()
    return Remedy(f"For {words.ppm(wanted)} in this batch weigh {grams} of {source.name or 'curing salt'}.", edit)


RULE = Rule(
    name="curing-salt-over-limit",
    family="curing_salt",
    check=check,
    reports="More nitrite goes in than the limit for this product and this method.",
    why="Too much nitrite is a poison. Ten times too much, from a slipped point or curing salt taken for salt, has killed.",
    silent="No nitrite on the page; meat or water not stated; only the spoons' span reaches the limit (then curing-salt-not-weighed asks); fish, which stands under other law.",
    sources=(Cite("cfr-424-21", "(c)"), Cite("cfr-424-22", "(b)"), Cite("inspectors-handbook", "pages 12 to 28")),
    sum="dry or ground: nitrite ÷ green meat; pumped: nitrite × pumped share ÷ pickle; soaked: nitrite ÷ (green meat + pickle), beside the pick-up sum and the diffusion estimate; all × 1,000,000",
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure", "200 g cure")),
    expect=("9:1-6", "1,474 ppm nitrite by the sum that takes meat and pickle as one system; the limit for whole muscle in brine is 200 ppm, so 7.37 times over it. By the pick-up sum with a published gain, shown and not judged by: 85.3 to 341 ppm (likely 227). By diffusion over the stated days: 899 to 1,292 ppm (likely 1,126)."),
)
