"""The arithmetic of the page itself: figures that contradict each other, or that may be misprints."""

from overhaul.rules.page import amount_in_doubt, amounts_disagree, field_and_text_differ, list_and_method_disagree, page_and_data_differ

RULES = (amounts_disagree.RULE, list_and_method_disagree.RULE, amount_in_doubt.RULE, page_and_data_differ.RULE, field_and_text_differ.RULE)
