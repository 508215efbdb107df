"""Smoke and cook: hot enough inside, in air that can get it there."""

from overhaul.rules.smoke_and_cook import (
    boiled_hard,
    brisket_not_tender,
    come_up_slow,
    drying_not_judged,
    final_temperature_low,
    final_temperature_missing,
    first_heat_long,
    hotter_than_boiling_inside,
    jerky_not_heated,
    resinous_wood,
    simmered_short,
    smoke_temperature_missing,
    smoker_cool_for_uncured,
    target_above_air,
)

RULES = (
    final_temperature_low.RULE,
    final_temperature_missing.RULE,
    smoke_temperature_missing.RULE,
    target_above_air.RULE,
    drying_not_judged.RULE,
    resinous_wood.RULE,
    come_up_slow.RULE,
    smoker_cool_for_uncured.RULE,
    hotter_than_boiling_inside.RULE,
    brisket_not_tender.RULE,
    simmered_short.RULE,
    boiled_hard.RULE,
    first_heat_long.RULE,
    jerky_not_heated.RULE,
)
