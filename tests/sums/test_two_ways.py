"""A page with two ways of curing: what is rubbed on is no part of the brine, and the other way round."""

from __future__ import annotations

import pytest

from overhaul.house import House
from overhaul.sums.work import Sums
from overhaul.sums.worked import Sum
from tests.conftest import findings_of, recipe_of

HAM = """Ham, pumped and rubbed

1 fresh ham, 15 lb

Pickle to pump
950 g water
230 g salt
20 g curing salt no. 1 (6.25 % nitrite)

Dry cure
250 g salt
100 g brown sugar
15 g curing salt no. 1 (6.25 % nitrite)

Chill the pickle to 38 F. Pump the ham with 10 % of its weight of pickle.
Rub all over with the dry cure. Refrigerate at 38 F for 30 days, turning every 3 days.
Rinse, soak 2 hours in the refrigerator. Smoke at 225 F to 150 F inside. Chill to 70 F in 2 hours and to 41 F in 4 more. Keeps 7 days.
"""
GREEN = 15 * 453.59237


def worked(name: str, text: str = HAM) -> Sum:
    sums = Sums(recipe_of(text), House())
    found = sums.get(name)
    assert found is not None, sums.why_not(name)
    return found


@pytest.mark.computed
def test_each_way_has_its_own_sum() -> None:
    """By hand: 1.25 g × 10 % ÷ 1,200 g pickle is 104 ppm; 0.9375 g ÷ 6,804 g is 138."""
    assert worked("brine_mass").value.likely == pytest.approx(1200)
    assert worked("nitrite_pump").value.likely == pytest.approx(104.17, abs=0.01)
    assert worked("nitrite_direct").value.likely == pytest.approx(0.9375 / GREEN * 1e6)
    added = worked("nitrite_added")
    assert added.value.likely == pytest.approx(104.17 + 137.78, abs=0.02)
    assert [one.name for one in added.inputs] == ["nitrite pump", "nitrite direct"]


def test_the_salt_of_both_is_in_the_meat() -> None:
    pumped = Sums(recipe_of(HAM.replace("Dry cure\n250 g salt\n100 g brown sugar\n15 g curing salt no. 1 (6.25 % nitrite)\n", "")), House()).get("salt_equilibrium")
    assert pumped is not None
    assert worked("salt_equilibrium").value.likely > pumped.value.likely + 100 * 250 / (GREEN + 300)


def test_neither_within_its_limit_is_a_hazard_for_the_other() -> None:
    assert [one.rule for one in findings_of(HAM) if "limit" in one.rule or "salt-than" in one.rule] == []


def test_a_rub_is_held_against_the_limit_for_a_rub() -> None:
    """56 g of curing salt are 514 ppm: more than the needle may bring, less than the 625 of a dry cure, and over what may be left in it."""
    (found,) = (one for one in findings_of(HAM.replace("15 g curing", "56 g curing")) if one.rule == "curing-salt-over-limit")
    assert found.message.startswith("514 ppm nitrite by the sum on green weight. ")
    assert not found.certain


def test_one_way_adds_nothing() -> None:
    plain = HAM.replace("Dry cure\n250 g salt\n100 g brown sugar\n15 g curing salt no. 1 (6.25 % nitrite)\n", "")
    assert Sums(recipe_of(plain), House()).why_not("nitrite_added") == "one way of curing, or none"


def test_a_list_of_its_own_that_is_stirred_into_the_brine_is_part_of_it() -> None:
    text = "Corned beef\n\n2 kg brisket flat, 40 mm thick\n\nBrine\n2 kg water\n100 g salt\n\nCure\n20 g curing salt no. 1 (6.25 % nitrite)\n\nStir it all into the water, cold. Brine the flat 7 days at 38 F.\n"
    sums = Sums(recipe_of(text), House())
    assert sums.rub is None
    level = sums.get("nitrite_equilibrium")
    assert level is not None
    assert level.value.likely == pytest.approx(1.25 / 4120 * 1e6)
