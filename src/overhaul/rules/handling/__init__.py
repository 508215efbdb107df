"""handling."""

RULES = ()
