"""rinse_soak_dry."""

RULES = ()
