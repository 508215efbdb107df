"""The judging table, row by row, and the limits it judges by."""

from __future__ import annotations

from typing import Any

import pytest

from overhaul.findings import Grade
from overhaul.house import House
from overhaul.rules.curing_salt import curing_salt_over_limit, judging
from overhaul.rules.rule import Case
from overhaul.sums.worked import Sum
from tests.rules.cases import case_with, ppm, says

HAZARD, FAULT, QUERY = Grade.HAZARD, Grade.FAULT, Grade.QUERY
CERTAIN = (HAZARD, True)
POSSIBLE = (HAZARD, False)


def verdict(case: Case, agent: str = "nitrite") -> tuple[Grade, bool] | None:
    limit = judging.limit_for(case, agent)
    assert limit is not None
    found = judging.judge(case, agent, limit)
    return (found.grade, found.certain) if found is not None else None


def s(low: float, likely: float, high: float) -> Sum:
    return ppm("nitrite_equilibrium", low, likely, high)


def e(low: float, likely: float, high: float) -> Sum:
    return ppm("nitrite_estimate", low, likely, high)


def picked_up(value: float, stated: bool) -> Sum:
    return ppm("nitrite_pick_up", value, value, value, stated)


# 9 CFR 424.21(c) and 424.22(b); the rind's tenth: handbook page 28. Classes as the regulation draws them.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("recipe", "nitrite", "nitrate"),
    [
        ({"method": "immersion"}, 200, 700),
        ({"method": "pumped", "pump": 10}, 200, 700),
        ({"method": "dry", "wet": False}, 625, 2187.5),
        ({"method": "dry", "wet": False, "ground": True}, 156.25, 1718.75),
        ({"method": "immersion", "product": "bacon", "species": "pork", "cut": "pork_belly_whole"}, 120, None),
        ({"method": "pumped", "product": "bacon", "species": "pork", "cut": "pork_belly_whole", "pump": 10}, 120, None),
        ({"method": "dry", "product": "bacon", "species": "pork", "cut": "pork_belly_whole", "wet": False}, 200, None),
        ({"method": "immersion", "product": "bacon", "species": "pork", "cut": "pork_belly_whole", "skin": True}, 108, None),
        ({"method": "dry", "product": "bacon", "species": "pork", "cut": "pork_belly_whole", "skin": True, "wet": False}, 180, None),
        # bacon from loin is not the class of bacon from belly
        ({"method": "immersion", "product": "bacon", "species": "pork", "cut": "pork_loin_boneless_whole"}, 200, 700),
    ],
)
def test_the_limit_of_each_class(recipe: dict[str, Any], nitrite: float, nitrate: float | None) -> None:
    case = case_with(**recipe)
    for agent, value in (("nitrite", nitrite), ("nitrate", nitrate)):
        found = judging.limit_for(case, agent)
        assert (found.ppm if found is not None else None) == (pytest.approx(value) if value is not None else None)


def test_fish_is_never_judged_by_the_limits_for_meat() -> None:
    case = case_with(s(900, 900, 900), product="fish", species="fish", cut=None)
    assert judging.product_class(case) is None
    assert judging.limit_for(case, "nitrite") is None
    assert says(curing_salt_over_limit.RULE, case) == []


# Regulation (EU) 2023/2108: 80 mg/kg as ion is 120 as sodium nitrite; SI 2007/1778: 150; Canada: 200, side bacon 120.
@pytest.mark.printed
@pytest.mark.parametrize(("law", "value"), [("eu", 120), ("uk", 150), ("ca", 200), ("au-nz", 125)])
def test_the_limit_of_each_law(law: Any, value: float) -> None:
    found = judging.limit_for(case_with(house=House(law=law)), "nitrite")
    assert found is not None
    assert found.ppm == pytest.approx(value, abs=0.05)


@pytest.mark.parametrize(
    ("sums", "wanted"),
    [
        # the whole span within: 0.5 ppm is allowed for rounding
        ([s(150, 160, 200.4)], None),
        ([s(150, 160, 200.5)], None),
        # only the high end over
        ([s(150, 180, 201)], (QUERY, False)),
        ([s(150, 200.5, 260)], (QUERY, False)),
        # likely over, by the one-system sum alone
        ([s(150, 201, 260)], (FAULT, False)),
        ([s(150, 216, 260), e(90, 140, 190)], (FAULT, False)),
        ([s(150, 216, 260), e(90, 200, 250)], (FAULT, False)),
        # the estimate likely over too
        ([s(150, 216, 260), e(90, 201, 250)], POSSIBLE),
        # likely over twice the limit, whatever the estimate says
        ([s(390, 400, 410)], (FAULT, False)),
        ([s(390, 401, 410), e(50, 80, 90)], POSSIBLE),
        # wholly over, but not ten times: never certain by this sum alone
        ([s(1405, 1405, 1405), e(900, 1000, 1100)], POSSIBLE),
        ([s(1999, 2050, 2100)], POSSIBLE),
        # low end ten times the limit
        ([s(2000, 2050, 2100)], CERTAIN),
        # pick-up with an assumed gain neither condemns nor clears
        ([s(210, 210, 210), picked_up(900, False)], (FAULT, False)),
        ([s(210, 210, 210), picked_up(10, False)], (FAULT, False)),
        # with a stated gain and both wholly over
        ([s(210, 210, 210), picked_up(210, True)], CERTAIN),
        ([s(190, 210, 230), picked_up(210, True)], (FAULT, False)),
        ([s(210, 210, 210), picked_up(200, True)], (FAULT, False)),
    ],
)
def test_a_soaked_cure(sums: list[Sum], wanted: tuple[Grade, bool] | None) -> None:
    given = {one.name for one in sums}
    quiet = [e(1, 1, 1)] if "nitrite_estimate" not in given else []
    assert verdict(case_with(*sums, *quiet)) == wanted


def test_an_amount_that_is_a_poison_is_certain_whatever_the_limit() -> None:
    """Above 2,000 ppm, and ten times a limit: certain even under a law whose limit we only know second hand."""
    for house in (House(law="eu"), House(law="au-nz"), House(law="ca")):
        assert verdict(case_with(s(2001, 2001, 2001), e(1, 1, 1), house=house)) == CERTAIN


def test_pure_nitrite_at_the_dose_of_a_premix_is_certain() -> None:
    assert verdict(case_with(s(401, 420, 440), e(1, 1, 1), role="nitrite")) == CERTAIN
    assert verdict(case_with(s(399, 420, 440), e(1, 1, 1), role="nitrite")) == POSSIBLE
    assert verdict(case_with(s(401, 420, 440), e(1, 1, 1), role="cure1")) == POSSIBLE


@pytest.mark.parametrize(
    ("value", "wanted"),
    [((150, 156, 156.25), None), ((150, 156, 156.75), None), ((116, 156, 207), (QUERY, False)), ((150, 160, 170), POSSIBLE), ((157, 160, 170), CERTAIN)],
)
def test_ground_meat_has_one_sum(value: tuple[float, float, float], wanted: tuple[Grade, bool] | None) -> None:
    assert verdict(case_with(ppm("nitrite_direct", *value), method="dry", wet=False, ground=True)) == wanted


@pytest.mark.parametrize(
    ("value", "wanted"),
    [((150, 160, 200.5), None), ((150, 160, 210), (QUERY, False)), ((150, 300, 610), POSSIBLE), ((150, 300, 700), POSSIBLE), ((500, 700, 800), POSSIBLE), ((626, 700, 800), CERTAIN)],
)
def test_dry_cured_whole_muscle_is_possible_from_200_and_certain_from_625(value: tuple[float, float, float], wanted: tuple[Grade, bool] | None) -> None:
    assert verdict(case_with(ppm("nitrite_direct", *value), method="dry", wet=False)) == wanted


def test_pumped_has_one_sum_and_a_cover_pickle_a_second() -> None:
    needle, within = ppm("nitrite_pump", 201, 210, 220), ppm("nitrite_pump", 140, 140, 140)
    assert verdict(case_with(needle, method="pumped", pump=10)) == CERTAIN
    assert verdict(case_with(within, method="pumped", pump=10)) is None
    assert verdict(case_with(within, s(450, 450, 450), e(1, 1, 1), method="pumped-immersion", pump=10)) == POSSIBLE
    assert verdict(case_with(needle, s(190, 190, 190), e(1, 1, 1), method="pumped-immersion", pump=10)) == CERTAIN


def test_a_limit_known_second_hand_condemns_nobody_for_certain() -> None:
    """au-nz is from memory (facts/limits.tsv): possible at most."""
    assert verdict(case_with(ppm("nitrite_direct", 160, 160, 160), method="dry", wet=False, house=House(law="au-nz"))) == POSSIBLE


# USDA farm pickle of 1978 per 100 lb of pork: 8 lb salt, 3 lb sugar, 1.18 oz nitrite, 4 1/2 gallons: 496 ppm as one
# system. An official recipe; it must not be condemned for certain.
@pytest.mark.printed
def test_an_official_pickle_is_not_condemned_for_certain() -> None:
    assert verdict(case_with(s(496.2, 496.2, 496.2), picked_up(151.7, False), e(100, 150, 190), product="ham", species="pork", cut=None)) == POSSIBLE
