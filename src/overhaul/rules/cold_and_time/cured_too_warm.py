"""Cured at a temperature above the cold limit, or at room temperature."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_ROOM = re.compile(r"\b(?:room|counter|bench|table|worktop|sink)", re.I)


def check(case: Case) -> Iterator[Finding]:
    process = case.process
    if process.cure is None or case.recipe.product == "dried":
        return
    limit, stalls = facts.fact("cure_max_f"), facts.fact("cure_stalls_f")
    told = process.cure_temperature
    if told is not None:
        if told.high > limit.value:
            certain = told.low > limit.value or (told.high > limit.value and told.low == told.high)
            yield Finding(
                RULE.name, Grade.HAZARD, certain, told.place, f"Cured at {words.degrees(told.low, told.high)}; above {words.degrees(limit.value)} germs outrun the salt.",
                remedy=Remedy("Cure at 36 to 40 °F (2 to 4 °C), measured in the brine."), sources=(limit.cite, Cite("nchfp", "6.1.3")),
            )  # fmt: skip
        elif told.high < stalls.value:
            yield Finding(
                RULE.name, Grade.FAULT, False, told.place, f"Cured at {words.degrees(told.low, told.high)}; under {words.degrees(stalls.value)} the cure stands still and the days do not count.",
                remedy=Remedy("Cure at 36 to 40 °F (2 to 4 °C)."), sources=(stalls.cite,),
            )  # fmt: skip
        return
    if process.cure_warm is None:
        return
    place = process.cure_warm
    said = place.words.replace("\n", " ")
    if _ROOM.search(said):
        yield Finding(
            RULE.name, Grade.HAZARD, True, place.place, f"Cured “{said}”: at room temperature germs outrun the salt. The limit is {words.degrees(limit.value)}.",
            remedy=Remedy("Cure in the refrigerator at 36 to 40 °F (2 to 4 °C)."), sources=(limit.cite, Cite("nchfp", "6.1.3")),
        )  # fmt: skip
    else:
        yield Finding(
            RULE.name, Grade.FAULT, False, place.place, f"“{said}” is a place, not a temperature; the cure has to stand at {words.degrees(limit.value)} or colder.",
            remedy=Remedy("Write the temperature, 36 to 40 °F (2 to 4 °C), and cure in the refrigerator."), sources=(limit.cite,),
        )  # fmt: skip


RULE = Rule(
    name="cured-too-warm",
    family="cold_and_time",
    check=check,
    reports="A cure that stands above 41 °F, at room temperature, in a cool place with no figure, or so cold that it stalls.",
    why="Cold is what keeps the meat until the salt has reached the middle.",
    silent="34 to 41 °F; a refrigerator without a figure; long dry cures, whose drying rooms are warmer on purpose.",
    sources=(Cite("food-code-2022", "3-501.16(A)(2)"), Cite("nchfp", "6.1.3"), Cite("game-extension")),
    sound=CORNED,
    faulty=changed(CORNED, ("Refrigerate at 36 to 40 F for", "Keep at 50 F for")),
    expect=("15:12-16", "Cured at 50 °F (10 °C); above 41 °F (5 °C) germs outrun the salt."),
)
