"""brine."""

RULES = ()
