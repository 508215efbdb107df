"""rest_hold_cool."""

RULES = ()
