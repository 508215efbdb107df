"""Between cure and heat: what takes the surface salt off, and what lets smoke take."""

from overhaul.rules.rinse_soak_dry import (
    no_rinse_or_soak,
    smoked_wet,
    soaked_warm,
)

RULES = (
    no_rinse_or_soak.RULE,
    soaked_warm.RULE,
    smoked_wet.RULE,
)
