"""Salt and brine: strong enough to season and to keep, not more than water holds, not too salty on the plate.

Half of all kitchen brines are a factor of two uncertain, because a cup of salt is. One query says so, once.
"""

from overhaul.rules.brine import (
    brine_weak,
    meat_weight_not_stated,
    more_salt_than_water_holds,
    salt_not_weighed,
    salt_unmeasured,
    too_little_salt_as_eaten,
    too_salty_as_eaten,
    water_not_stated,
)

RULES = (
    brine_weak.RULE,
    more_salt_than_water_holds.RULE,
    too_salty_as_eaten.RULE,
    too_little_salt_as_eaten.RULE,
    salt_not_weighed.RULE,
    salt_unmeasured.RULE,
    water_not_stated.RULE,
    meat_weight_not_stated.RULE,
)
