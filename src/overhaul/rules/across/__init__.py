"""References from one file to another: said of a binder, by its second pass (``cross_references.py``), and never of one page alone.

A text of such a rule is several files, each under a line ``=== its name ===``; the rule speaks of the first.
"""

from overhaul.rules.across import page_not_in_binder, step_not_on_that_page, two_pages_of_one_number

FAMILY = "across"
RULES = (
    page_not_in_binder.RULE,
    step_not_on_that_page.RULE,
    two_pages_of_one_number.RULE,
)
