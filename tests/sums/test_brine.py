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
    assert (found.low, found.high) == (pytest.approx(3.14, abs=0.01), pytest.approx(6.21, abs=0.01))


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
