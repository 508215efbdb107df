"""Handling in the cure: under the brine, turned, and the brine used once."""

from overhaul.rules.handling import (
    brine_used_again,
    frozen_in_the_cure,
    left_out_warm,
    never_turned,
    nothing_holds_it_under,
    several_species_in_one_cure,
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
    several_species_in_one_cure.RULE,
    left_out_warm.RULE,
)
