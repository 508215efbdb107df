"""Drying and ripening: said once, not judged."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule

_PLAN = Cite("food-code-2022", "3-502.11")
_SOUND = """\
Roast pork loin

1 boneless pork loin, 4 lb
1 oz kosher salt

Rub the salt over the loin and refrigerate at 38 F for 18 hours.
Roast at 350 F until 150 F inside.
Rest 15 minutes, then slice.
"""

_FAULTY = """\
Air-dried loin, in the manner of bresaola

1 beef eye of round, 4 lb
50 g kosher salt
5 g cure #2 (6.25 % nitrite, 4 % nitrate)

Rub the salt and the cure into the meat and put it in a zip bag with the air pressed out.
Refrigerate at 38 F for 21 days, turning every other day.
Hang at 55 F until it has lost a third of its weight.
"""


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    if judging.dried_on_purpose(case):
        yield Finding(
            RULE.name, Grade.QUERY, False, recipe.title_place,
            "Drying, ripening and fermenting were not judged: what keeps such meat is its acid, its water and its salt at the end, and none of that is worked here. Where it is sold it needs a plan of its own by Food Code 2022, 3-502.11. Salt and curing salt were judged, where the page gives them.",
            remedy=Remedy("Have the drying and the fermenting checked by somebody qualified, with a thermometer, a scale and a pH meter."), sources=(_PLAN,),
        )  # fmt: skip


RULE = Rule(
    name="drying-not-judged",
    family="smoke_and_cook",
    check=check,
    reports="Dried, air-cured or fermented meat, of which only the salt and the curing salt are judged.",
    why="A page that gets no finding reads like a page that was found right.",
    silent="Everything that is cooked, or kept cold.",
    sources=(_PLAN,),
    sound=_SOUND,
    faulty=_FAULTY,
    expect=("1:1-42", "Drying, ripening and fermenting were not judged: what keeps such meat is its acid, its water and its salt at the end, and none of that is worked here. Where it is sold it needs a plan of its own by Food Code 2022, 3-502.11. Salt and curing salt were judged, where the page gives them."),
)
