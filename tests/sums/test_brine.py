from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.span import Span, exactly
from overhaul.sums import brine, vessel
from tests.sums.check_values import SALOMETER


@pytest.mark.printed
@pytest.mark.parametrize(("degrees", "percent", "gravity", "grams"), SALOMETER)
def test_the_salometer_table_every_row(degrees: float, percent: float, gravity: float, grams: float) -> None:
    assert brine.salometer(percent) == pytest.approx(degrees, abs=0.01)
    assert brine.gram_per_litre_of_water(percent) == pytest.approx(grams, abs=0.15)
    assert brine.specific_gravity(percent) == pytest.approx(gravity, abs=1.5e-4)
    if grams:
        assert brine.strength(grams, 999.017) == pytest.approx(percent, abs=0.01)


# UK sea-fish industry training table, by the metric litre: 60 degrees is 188.18 g to the litre, 15.84 percent.
@pytest.mark.printed
@pytest.mark.parametrize(("percent", "grams"), [(2.64, 27.07), (7.92, 86.01), (15.84, 188.18), (21.12, 267.69)])
def test_an_independent_metric_table_agrees(percent: float, grams: float) -> None:
    assert brine.gram_per_litre_of_water(percent) == pytest.approx(grams, rel=3e-3)


@given(st.floats(0.1, 1000), st.floats(1, 1e4), st.floats(0.1, 50))
def test_strength_keeps_its_size_and_direction(salt: float, water: float, times: float) -> None:
    assert 0 < brine.strength(salt, water) < 100
    assert brine.strength(salt * times, water * times) == pytest.approx(brine.strength(salt, water))
    assert brine.strength(salt * 1.1, water) > brine.strength(salt, water)
    assert brine.strength(salt, water * 1.1) < brine.strength(salt, water)


def test_a_span_of_salt_is_a_span_of_brine() -> None:
    found = brine.strength_span(Span(375, 555, 765), exactly(11_560))
    assert found.low == pytest.approx(3.14, abs=0.01)
    assert found.high == pytest.approx(6.21, abs=0.01)


def test_no_brine_has_no_strength() -> None:
    with pytest.raises(ValueError, match="no brine"):
        brine.strength(0)
    with pytest.raises(ValueError, match="no water"):
        brine.gram_per_litre_of_water(100)


# Worked in our notes from the density table: 15.8 kg of 4.4 percent brine is 15.3 L; with 5.4 kg of brisket 20.5 L.
@pytest.mark.computed
def test_what_a_pail_must_hold() -> None:
    assert vessel.litres(15_800, 4.4, 0) == pytest.approx(15.3, abs=0.05)
    assert vessel.litres(15_800, 4.4, 5_400, 1035) == pytest.approx(20.5, abs=0.06)


# A wartime canning handbook gives 6 2/3 oz salt to the US gallon (8.328 lb) for "5 percent": that is percent of the water, not of the brine,
# which wants 7.0 oz; a farm bulletin of 1924 (FB 1438) calls 1 lb in 9 pints "about 10 percent, 40 degrees": it is 9.6 and 36.5.
@pytest.mark.printed
def test_percent_of_the_water_is_not_percent_of_the_brine() -> None:
    water = 8.328 * 16
    assert 0.05 * water == pytest.approx(6.667, abs=0.01)
    assert brine.percent_of_water(5) / 100 * water == pytest.approx(7.0, abs=0.02)
    assert brine.percent_of_water(10) / 100 * water == pytest.approx(14.8, abs=0.02)
    assert brine.percent_of_water(15) / 100 * water == pytest.approx(23.5, abs=0.02)
    nine_pints = 8.328 * 9 / 8
    assert brine.strength(1, nine_pints) == pytest.approx(9.6, abs=0.05)
    assert brine.salometer(brine.strength(1, nine_pints)) == pytest.approx(36.5, abs=0.1)


@given(st.floats(0, 60))
def test_percent_of_water_and_back(percent: float) -> None:
    assert brine.percent_of_brine(brine.percent_of_water(percent)) == pytest.approx(percent)


# Saturation at 20 °C 26.43 percent by weight (Kaufmann, Sodium Chloride, 1960): 359 g in a litre of water.
@pytest.mark.printed
def test_what_water_holds() -> None:
    assert brine.fullness(359.2, 1000, 26.43) == pytest.approx(1.0, abs=1e-3)
    assert brine.fullness(400, 1000, 26.43) > 1
    with pytest.raises(ValueError, match="no water"):
        brine.fullness(1, 0, 26.43)
    with pytest.raises(ValueError, match="no water"):
        brine.percent_of_water(100)
