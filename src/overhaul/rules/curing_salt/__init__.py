"""curing_salt."""

RULES = ()
