from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.sums import brine, chilling
from tests.sums.check_values import (
    BRINE_AND_ICE,
    BRINE_WITH_ICE_LEFT,
    FREEZING,
    GRAVITY_AND_FREEZING,
    HEAT_CAPACITIES,
    SALOMETER_BY_GALLON,
    TWO_GALLONS_AND_TWO,
    WATER_AND_ICE,
)


@pytest.mark.computed
@pytest.mark.parametrize(("hot", "ice", "final"), WATER_AND_ICE)
def test_equal_weights_of_hot_water_and_ice(hot: float, ice: float, final: float) -> None:
    assert chilling.mixed_temperature(1, hot, 0, 0, 1, ice, 0) == pytest.approx(final, abs=0.5)


@pytest.mark.computed
@pytest.mark.parametrize(("percent", "hot_percent", "hot", "ice", "final"), BRINE_AND_ICE)
def test_hot_brine_on_its_own_weight_of_water_as_ice(percent: float, hot_percent: float, hot: float, ice: float, final: float) -> None:
    found = chilling.mixed_temperature(1 / (1 - hot_percent / 100), hot, 0, 0, 1, ice, percent)
    assert found == pytest.approx(final, abs=0.6)


@pytest.mark.printed
@pytest.mark.parametrize(("percent", "celsius"), FREEZING)
def test_freezing_points(percent: float, celsius: float) -> None:
    assert chilling.freezing_point(percent) == pytest.approx(celsius, abs=0.25)


@given(st.floats(0.5, 20), st.floats(60, 100), st.floats(0.5, 20), st.floats(-20, 0), st.floats(0, 15))
def test_more_ice_or_colder_ice_is_colder(hot: float, heat: float, ice: float, cold: float, salt: float) -> None:
    found = chilling.mixed_temperature(hot, heat, 0, 0, ice, cold, salt)
    assert chilling.mixed_temperature(hot, heat, 0, 0, ice * 1.2, cold, salt) <= found + 1e-9
    assert chilling.mixed_temperature(hot, heat, 0, 0, ice, cold - 1, salt) <= found + 1e-9
    assert chilling.mixed_temperature(hot, heat + 1, 0, 0, ice, cold, salt) >= found - 1e-9
    assert chilling.mixed_temperature(hot * 3, heat, 0, 0, ice * 3, cold, salt) == pytest.approx(found, abs=1e-4)


def test_nothing_mixed_has_no_temperature() -> None:
    with pytest.raises(ValueError, match="nothing to mix"):
        chilling.mixed_temperature(0, 100, 0, 0, 0, 0, 0)
    with pytest.raises(ValueError, match="no time"):
        chilling.ratio(2, 0)


# CRC Handbook; the docstring of the fit claims 0.03.
@pytest.mark.printed
@pytest.mark.parametrize(("percent", "celsius"), FREEZING)
def test_freezing_points_as_close_as_claimed(percent: float, celsius: float) -> None:
    assert chilling.freezing_point(percent) == pytest.approx(celsius, abs=0.03)


@pytest.mark.printed
@pytest.mark.parametrize(("percent", "_gravity", "degf"), GRAVITY_AND_FREEZING)
def test_freezing_points_of_another_handbook(percent: float, _gravity: float, degf: float) -> None:
    assert chilling.freezing_point(percent) * 9 / 5 + 32 == pytest.approx(degf, abs=0.3)


# The freezing column of the salometer table is from memory.
@pytest.mark.computed
@pytest.mark.parametrize(("percent", "degf"), [(row[1], row[6]) for row in SALOMETER_BY_GALLON if row[6] is not None])
def test_freezing_points_of_the_salometer_table(percent: float, degf: float) -> None:
    assert chilling.freezing_point(percent) * 9 / 5 + 32 == pytest.approx(degf, abs=0.4)


@pytest.mark.computed
@pytest.mark.parametrize(("percent", "capacities"), [(row[0], row[1:]) for row in HEAT_CAPACITIES])
def test_heat_capacities(percent: float, capacities: tuple[float, ...]) -> None:
    for capacity in capacities:
        assert chilling.brine_heat_capacity(percent) == pytest.approx(capacity, abs=0.038)


@pytest.mark.computed
@pytest.mark.parametrize(("celsius", "percent"), BRINE_WITH_ICE_LEFT)
def test_with_ice_left_the_brine_is_at_its_freezing_point(celsius: float, percent: float) -> None:
    assert chilling.freezing_point(percent) == pytest.approx(celsius, abs=0.06)


@pytest.mark.computed
@pytest.mark.parametrize(("ice", "melting", "freezer", "light", "dense", "table"), TWO_GALLONS_AND_TWO)
def test_two_gallons_of_water_and_two_of_ice(ice: float, melting: float, freezer: float, light: float, dense: float, table: float) -> None:
    """The eight readings of two gallons of ice on 7.56 kg of boiling water; the note allows half a degree."""
    assert chilling.mixed_temperature(7.56, 100, 0, 0, ice, 0, 0) == pytest.approx(melting, abs=0.5)
    assert chilling.mixed_temperature(7.56, 100, 0, 0, ice, -18, 0) == pytest.approx(freezer, abs=0.5)
    for salt, percent in ((0.402, light), (0.69, dense), (0.876, table)):
        assert brine.strength(salt, 7.56 + ice) == pytest.approx(percent, abs=0.03)


# "Each degree of the hot water above 79.5 °C is half a degree at the end" (equal weights, ice at 0 °C).
@pytest.mark.computed
def test_the_kitchen_rule_of_equal_weights() -> None:
    for hot in (82.0, 90.0, 100.0):
        assert chilling.mixed_temperature(1, hot, 0, 0, 1, 0, 0) == pytest.approx((hot - 79.5) / 2, abs=0.3)
