"""keep_and_label."""

RULES = ()
