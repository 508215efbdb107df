from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.sums import chilling
from tests.sums.check_values import BRINE_AND_ICE, FREEZING, WATER_AND_ICE


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
    assert chilling.mixed_temperature(hot * 3, heat, 0, 0, ice * 3, cold, salt) == pytest.approx(found)


def test_nothing_mixed_has_no_temperature() -> None:
    with pytest.raises(ValueError, match="nothing to mix"):
        chilling.mixed_temperature(0, 100, 0, 0, 0, 0, 0)
    with pytest.raises(ValueError, match="no time"):
        chilling.ratio(2, 0)
