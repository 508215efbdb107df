"""Jerky dried without ever being hot."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding
from overhaul.reading import units
from overhaul.recipe.model import Step
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule

_WET = frozenset(["simmer", "boil", "poach", "steam"])
_SOUND = """\
Roast round for the bar

1 beef top round, 4 lb
1 oz kosher salt

Rub the salt over the round and refrigerate at 38 F overnight.
Roast at 300 F until 150 F inside.
Rest 15 minutes, slice thin and serve.
"""
_FAULTY = """\
Jerky for the bar

2 lb beef top round, no fat, 1/4 in thick
20 g pickling salt
2 g cure #1 (6.25 % nitrite)
1 tbsp black pepper

1. Slice the beef 1/4 inch thick.
2. Mix the salt, cure and pepper, toss the strips in it, and put them in a zip bag with the air pressed out.
3. Refrigerate at 38 F for 2 days, turning daily.
4. Dry them at 145 F for 6 hours, until they bend and crack.
5. Keep 7 days at 38 F.
"""


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    if recipe.product != "jerky" or any(_hot(step) for step in recipe.steps):
        return
    line = words.first_line_of(recipe, "dry", "smoke", "cook") or recipe.last_line
    limit = judging.figure("jerky.poultry_f" if judging.is_poultry(case) else "jerky.meat_f")
    heat = judging.plain_degrees(recipe, limit.value)
    yield words.missing(
        recipe, RULE.name, line,
        f"Nothing on the page brings the strips to {judging.degrees(recipe, limit.value)}. They are to be that hot before they dry (the jerky advice of the Department of Agriculture, from memory): germs that have dried stand a heat that kills them wet. How hot do the strips get?",
        "Heat the strips through before they dry, and write how.", f"Before drying, heat the strips to {heat} inside.", sources=(limit.cite,),
    )  # fmt: skip


def _hot(step: Step) -> bool:
    """Hot inside, in hot air, or in the pot."""
    for one in step.temperatures:
        if one.amount.unit in ("degF", "degC"):
            found = units.fahrenheit(one.amount.high, one.amount.unit)
            if found >= judging.figure("jerky.hot_air_f").value or (one.of == "meat" and found >= judging.figure("jerky.meat_f").value):
                return True
    return step.does("cook") and bool(_WET & set(step.actions))


RULE = Rule(
    name="jerky-not-heated",
    family="smoke_and_cook",
    check=check,
    reports="Jerky that is dried in warm air and never brought to the heat that kills.",
    why="In a dryer the strips stay cool while they are wet, and germs that have dried stand heat that would have killed them wet.",
    silent="Strips heated to 160 °F, boiled, or put in an oven of 250 °F and more; every other product.",
    sources=(judging.figure("jerky.meat_f").cite,),
    sound=_SOUND,
    faulty=_FAULTY,
    expect=("11:61-61", "Nothing on the page brings the strips to 160 °F (71 °C). They are to be that hot before they dry (the jerky advice of the Department of Agriculture, from memory): germs that have dried stand a heat that kills them wet. How hot do the strips get?"),
)
