"""The heat of the smoker, and a target it cannot reach; drying, which is not judged."""

from __future__ import annotations

import pytest

from overhaul.house import House
from overhaul.rules.smoke_and_cook import drying_not_judged
from overhaul.rules.texts import BACON, CORNED, PASTRAMI, changed
from overhaul.span import Span
from tests.rules.cases import said
from tests.rules.smoke_and_cook.test_final_temperature import FINISH

AIR, ABOVE, DRIED = "smoke-temperature-missing", "target-above-air", "drying-not-judged"


def of(rule: str, text: str, house: House | None = None) -> list[tuple[str, str]]:
    return [(grade, place) for one, grade, place in said(text, house or House()) if one == rule]


def finished(words: str) -> str:
    return changed(PASTRAMI, (FINISH, f"{words}\n9. Rest 30 minutes before slicing."))


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("7. Smoke until 195 F inside.", [("query", "16:29-29")]),
        ("7. Smoke at 250 F until 195 F inside.", []),
        ("7. Smoke at 120 °C until 90 °C inside.", []),
        ("7. Cold smoke 12 hours.", []),
        ("7. Simmer 3 hours with a spoon of liquid smoke.", []),
        ("7. Simmer 3 hours until tender.", []),
    ],
)
def test_the_heat_of_the_smoker(words: str, wanted: list[tuple[str, str]]) -> None:
    assert of(AIR, finished(words)) == wanted


def test_the_house_sheet_gives_the_smoker() -> None:
    assert of(AIR, finished("7. Smoke until 195 F inside."), House(smoker=Span(225, 240, 250))) == []


# Physics: meat gets no hotter than the air round it.
@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("7. Smoke at 200 F until 203 F inside.", [("certain fault", "16:25-30")]),
        ("7. Smoke at 203 F until 203 F inside.", [("certain fault", "16:25-30")]),
        ("7. Smoke at 180 to 225 F until 203 F inside.", []),
        ("7. Smoke at 200 F until 195 to 205 F inside.", []),  # its low end can be reached
        ("7. Smoke at 90 °C until 95 °C inside.", [("certain fault", "16:25-30")]),
        ("7. Roast in the oven at 200 F until 203 F inside.", [("certain fault", "16:37-42")]),
        ("7. Smoke uncovered at 200 F until 203 F inside.", [("certain fault", "16:35-40")]),
        ("7. Smoke at 200 F for 3 hours. Roast in the oven at 300 F until 203 F inside.", []),
        ("7. Smoke at 200 F until 165 F inside. Wrap in foil. Return to the smoker until 203 F inside.", []),
        ("7. Smoke at 200 F until 165 F inside.\n8. Steam, covered, to 203 F inside.", []),
        ("7. Smoke at 200 F until 165 F inside.\n8. Braise 3 hours, to 203 F inside.", []),
        ("7. Simmer at 190 F until 195 F inside.", []),
        ("7. Smoke 4 hours at 130 F, then raise to 170 F until 152 F inside.", []),
    ],
)
def test_a_target_above_the_air(words: str, wanted: list[tuple[str, str]]) -> None:
    assert of(ABOVE, finished(words)) == wanted


SALAMI = """\
Dry salami

5 lb pork shoulder, ground
2.5 oz kosher salt
5 g cure #2 (6.25 % nitrite, 4 % nitrate)

1. Mix well and stuff into casings.
2. Ferment at 75 F for 48 hours.
3. Hang at 55 F for 6 weeks until it has lost 35 % of its weight.
"""


@pytest.mark.parametrize("text", [SALAMI, drying_not_judged.RULE.faulty], ids=["salami", "bresaola"])
def test_dried_meat_is_said_not_to_be_judged_and_only_that(text: str) -> None:
    ours = {"cured-too-warm", "cure-temperature-not-stated", "cure-time-not-stated", "final-temperature-missing", "final-temperature-low", "cool-down-not-written", "keeps-too-long", "keeping-not-cold", "never-turned", AIR, ABOVE}
    found = said(text)
    assert [rule for rule, _, _ in found].count(DRIED) == 1
    assert not {rule for rule, _, _ in found} & ours


@pytest.mark.parametrize("text", [CORNED, PASTRAMI, BACON])
def test_what_is_cooked_is_judged(text: str) -> None:
    assert of(DRIED, text) == []
