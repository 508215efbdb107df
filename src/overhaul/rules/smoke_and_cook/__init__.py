"""smoke_and_cook."""

RULES = ()
