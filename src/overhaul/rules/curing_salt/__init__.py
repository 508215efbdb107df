"""Curing salt: enough to cure, within the limit for the product and the method, of a kind that is named.

Every sum is of what goes in, on green weight. A brine has two official sums that differ several times over; both are shown.
"""

from overhaul.rules.curing_salt import (
    curing_salt_kind_not_named,
    curing_salt_not_weighed,
    curing_salt_over_limit,
    curing_salt_too_little,
    curing_salt_without_unit,
    fish_cure_not_judged,
    nitrate_in_a_short_cure,
    nitrate_in_bacon,
    nitrate_over_limit,
    nitrite_alone_in_a_long_drying,
    no_curing_salt,
    pumped_bacon_without_accelerator,
    pumped_share_not_stated,
    pure_nitrite,
    vegetable_cure_of_unknown_strength,
)

RULES = (
    curing_salt_over_limit.RULE,
    nitrate_over_limit.RULE,
    nitrate_in_bacon.RULE,
    curing_salt_too_little.RULE,
    pure_nitrite.RULE,
    curing_salt_kind_not_named.RULE,
    curing_salt_without_unit.RULE,
    curing_salt_not_weighed.RULE,
    no_curing_salt.RULE,
    fish_cure_not_judged.RULE,
    pumped_share_not_stated.RULE,
    nitrate_in_a_short_cure.RULE,
    pumped_bacon_without_accelerator.RULE,
    vegetable_cure_of_unknown_strength.RULE,
    nitrite_alone_in_a_long_drying.RULE,
)
