"""Held under, turned, and the brine used once."""

from __future__ import annotations

import pytest

from overhaul.rules.texts import BACON, CORNED, TURKEY, changed
from tests.conftest import findings_of
from tests.rules.cases import edited, said

UNDER, TURNED, AGAIN = "nothing-holds-it-under", "never-turned", "brine-used-again"
PLATE = ", and weigh them down with a plate"


def of(rule: str, text: str) -> list[tuple[str, str]]:
    return [(grade, place) for one, grade, place in said(text) if one == rule]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(CORNED, (PLATE, "")), [("query", "14:70-70")]),
        (changed(CORNED, (PLATE, ", so that they stay under the brine")), []),
        (changed(CORNED, (PLATE, ", with a rock on top")), []),
        (changed(BACON, (" with the air pressed out", "")), []),  # a dry cure in a bag has nothing to weigh down
        (changed(TURKEY, (", hold it under with a plate,", "")), []),  # a plain brine for a night
    ],
    ids=["nothing", "under", "a rock", "dry", "plain"],
)
def test_what_holds_it_under(text: str, wanted: list[tuple[str, str]]) -> None:
    assert of(UNDER, text) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (changed(CORNED, (", turning every other day", "")), [("query", "15:34-41")]),
        (changed(CORNED, (", turning every other day", ""), ("12 days", "7 days")), []),
        (changed(CORNED, (", turning every other day", ""), ("12 days", "8 days")), [("query", "15:34-40")]),
        (changed(CORNED, ("turning every other day", "overhauling on day 6")), []),
        (changed(CORNED, (", turning every other day", ""), ("20 g cure #1 (6.25 % nitrite)", "20 g saltpetre"), (" Stir in the cure #1.", " Stir in the saltpetre.")), []),
    ],
    ids=["twelve", "a week", "eight", "overhauled", "saltpetre"],
)
def test_a_week_unturned(text: str, wanted: list[tuple[str, str]]) -> None:
    assert of(TURNED, text) == wanted


@pytest.mark.parametrize(("rule", "cut"), [(UNDER, PLATE), (TURNED, ", turning every other day")])
def test_the_line_to_add_settles_it(rule: str, cut: str) -> None:
    text = changed(CORNED, (cut, ""))
    (found,) = [one for one in findings_of(text) if one.rule == rule]
    assert said(edited(text, found)) == []


@pytest.mark.parametrize(
    "sentence",
    [
        "Save the brine for the next one.",
        "Keep the brine for another batch.",
        "Use the same brine again.",
        "Reuse the brine twice.",
        "The brine may be kept and used a second time.",
        "The brine is good for another batch.",
        "Should the brine mould, skim and boil again.",
    ],
)
def test_a_second_batch_in_the_same_brine(sentence: str) -> None:
    assert [grade for grade, _ in of(AGAIN, changed(CORNED, ("5. Rinse well.", f"5. {sentence} Rinse well.")))] == ["fault"]


@pytest.mark.parametrize(
    "sentence",
    [
        "Keep the brine below 40 F.",
        "Keep the brine cold and to the brim.",
        "Use the brine cold.",
        "Turn the meat in the brine again on day 6.",
        "On day 6 lift the meat out, save the brine, stir it, and put the meat back.",
        "On day 6 put the meat back in its own brine again.",
        "Do not save the brine for another batch.",
        "Never use the same brine again.",
        "Throw the brine out; it does not serve again.",
    ],
)
def test_the_same_batch_and_warnings_are_silent(sentence: str) -> None:
    assert of(AGAIN, changed(CORNED, ("turning every other day.", f"turning every other day. {sentence}"))) == []


def test_a_weak_brine_is_told_as_it_is() -> None:
    weak = "Turkey breast\n\n2.6 kg turkey breast\n4 l water\n240 g salt\n16 g cure #1\n\nChill to 3 °C. Turkey in, 24 hours in the fridge at 3 °C.\n"
    (found,) = (one for one in findings_of(weak) if one.rule == UNDER)
    assert found.message == "Nothing on the page holds the meat under the brine. In this one, of 5.73 to 6.29 % (likely 6), lean meat sinks, but skin, fat and air lift it; Farmers' Bulletin 2263 has it weighted down. What keeps it under?"
