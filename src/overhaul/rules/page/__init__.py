"""page."""

RULES = ()
