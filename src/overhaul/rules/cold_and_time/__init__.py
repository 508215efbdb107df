"""cold_and_time."""

RULES = ()
