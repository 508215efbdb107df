"""Cooking and cooling: the stated hold and the stated cool-down against the published ones."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from overhaul import facts
from overhaul.findings import Cite
from overhaul.span import Span, between
from overhaul.sums import chilling, lethality
from overhaul.sums.worked import CannotTell, Input, Sum

if TYPE_CHECKING:
    from overhaul.sums.work import Sums


def _lethality(sums: Sums) -> Sum:
    final = sums.recipe.process.final_temperature
    if final is None:
        raise CannotTell("the page gives no temperature inside")
    table = sums.lethality_table()
    seconds = final.dwell
    wanted = lethality.wanted_seconds(table, final.low)
    if wanted is None or wanted == 0:
        raise CannotTell("nothing more is wanted at that temperature" if wanted == 0 else "the table gives no credit at that temperature")
    if seconds is None:
        raise CannotTell("how long it is held there is not stated")
    value = Span(seconds.low * 60 / wanted, (seconds.low + seconds.high) * 30 / wanted, seconds.high * 60 / wanted)
    held = Input("held", between(seconds.low, seconds.high), "minutes", seconds.line)
    formula = "stated hold ÷ hold the table wants"
    return Sum("lethality", value, "ratio", formula, (held,), (), (Cite("fsis-appendix-a-2021", "Tables 2 to 4"),))


def _cooling(sums: Sums) -> Sum:
    legs = sums.recipe.process.cooling
    if not legs:
        raise CannotTell("no cool-down is written")
    first, last = legs[0], legs[-1]
    stage, whole = facts.fact("cooling.stage1_h").value, facts.fact("cooling.total_h").value
    tests = [(stage if first.end >= facts.table("rules")["cooling.stage_end_f"].low else whole, first.low, first.high)]
    if len(legs) > 1 and last.end <= facts.table("rules")["cooling.cold_end_f"].high:
        tests.append((whole, sum(leg.low for leg in legs), sum(leg.high for leg in legs)))
    allowed, low, high = min(tests, key=lambda test: test[0] / max(test[1] + test[2], 1e-9))
    value = Span(chilling.ratio(allowed, high), chilling.ratio(allowed, (low + high) / 2), chilling.ratio(allowed, low))
    stated = Input("stated", between(low, high), "hours", first.line)
    formula = "allowed time ÷ stated time, of the step that is tightest"
    return Sum("cooling", value, "ratio", formula, (stated,), (), (Cite("food-code-2022", "3-501.14"),))


SUMS: Mapping[str, Callable[[Sums], Sum]] = {"lethality": _lethality, "cooling": _cooling}
