"""After the fire: rest, hot hold and cool-down. The worst events on record with corned beef were here, not in the brine."""

from overhaul.rules.rest_hold_cool import (
    cool_down_not_written,
    cooled_at_room_temperature,
    cooling_slow,
    hot_hold_low,
    reheated_low,
    rest_missing,
)

RULES = (
    rest_missing.RULE,
    hot_hold_low.RULE,
    cool_down_not_written.RULE,
    cooled_at_room_temperature.RULE,
    cooling_slow.RULE,
    reheated_low.RULE,
)
