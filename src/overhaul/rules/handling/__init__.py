"""Handling in the cure: under the brine, turned, and the brine used once."""

from overhaul.rules.handling import brine_used_again, never_turned, nothing_holds_it_under

RULES = (nothing_holds_it_under.RULE, never_turned.RULE, brine_used_again.RULE)
