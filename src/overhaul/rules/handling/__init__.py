"""Handling in the cure: under the brine, turned, and the brine used once."""

from overhaul.rules.handling import (
    brine_used_again,
    frozen_in_the_cure,
    left_out_warm,
    never_turned,
    nothing_holds_it_under,
    thawed_warm,
    vessel_not_for_brine,
)

RULES = (
    nothing_holds_it_under.RULE,
    never_turned.RULE,
    brine_used_again.RULE,
    thawed_warm.RULE,
    frozen_in_the_cure.RULE,
    vessel_not_for_brine.RULE,
    left_out_warm.RULE,
)
