"""Cold, and time in the cure: cold enough before the meat goes in and all the while, long enough for the thickness.

Time never makes up for warmth, and days that suit a thin flat leave a thick one grey.
"""

from overhaul.rules.cold_and_time import (
    brine_warm,
    cure_temperature_not_stated,
    cure_time_not_stated,
    cure_time_short,
    cured_too_cold,
    cured_too_warm,
    pumped_and_not_evened,
    salt_instead_of_cold,
)

RULES = (
    brine_warm.RULE,
    cured_too_warm.RULE,
    cured_too_cold.RULE,
    salt_instead_of_cold.RULE,
    cure_temperature_not_stated.RULE,
    cure_time_not_stated.RULE,
    cure_time_short.RULE,
    pumped_and_not_evened.RULE,
)
