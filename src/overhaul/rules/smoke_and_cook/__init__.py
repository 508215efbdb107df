"""Smoke and cook: hot enough inside, in air that can get it there."""

from overhaul.rules.smoke_and_cook import (
    drying_not_judged,
    final_temperature_low,
    final_temperature_missing,
    smoke_temperature_missing,
    target_above_air,
)

RULES = (final_temperature_low.RULE, final_temperature_missing.RULE, smoke_temperature_missing.RULE, target_above_air.RULE, drying_not_judged.RULE)
