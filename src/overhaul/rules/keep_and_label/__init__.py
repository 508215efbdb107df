"""Keeping: how long, and how cold. Day 1 is the day it was made."""

from overhaul.rules.keep_and_label import keeping_not_cold, keeping_times_differ, keeps_too_long

RULES = (keeps_too_long.RULE, keeping_not_cold.RULE, keeping_times_differ.RULE)
