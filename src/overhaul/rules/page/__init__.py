"""The arithmetic of the page itself: figures that contradict each other, or that may be misprints."""

from overhaul.rules.page import (
    amount_in_doubt,
    amounts_disagree,
    another_language,
    columns_do_not_scale,
    field_and_text_differ,
    list_and_method_disagree,
    page_and_data_differ,
    sign_off_not_read,
    sign_off_stale,
    step_that_is_not_there,
    sub_recipe_short,
)

RULES = (
    amounts_disagree.RULE,
    list_and_method_disagree.RULE,
    amount_in_doubt.RULE,
    page_and_data_differ.RULE,
    field_and_text_differ.RULE,
    sign_off_not_read.RULE,
    sign_off_stale.RULE,
    columns_do_not_scale.RULE,
    sub_recipe_short.RULE,
    step_that_is_not_there.RULE,
    another_language.RULE,
)
