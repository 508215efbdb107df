from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.sums import salting

GRAM = st.floats(1, 1e5)
SHARE = st.floats(0.3, 0.8)


@pytest.mark.computed
def test_a_loin_levels_out() -> None:
    """92.4 g salt and 10.5 g cure no. 1 (93.75 percent salt) in 1,200 g water with 3 kg loin at 73 percent water: 2.15 percent."""
    level = salting.per_water_at_rest(92.4 + 10.5 * 0.9375, 1200, 3000 * 0.73)
    assert salting.percent_of_meat(level, 0.73) == pytest.approx(2.15, abs=0.005)


@pytest.mark.computed
def test_the_worked_recipe_levels_out() -> None:
    """3.8 kg water, 328 g salt, 2.3 kg meat at 70 percent water: 0.060628 per kg water, 4.071 percent of the meat."""
    level = salting.per_water_at_rest(0.328, 3.8, 1.61)
    assert level == pytest.approx(0.060628, rel=1e-4)
    assert salting.percent_of_meat(level, 0.7) == pytest.approx(4.071, rel=1e-3)


@pytest.mark.computed
def test_corned_beef_in_water_phase() -> None:
    """2.4 percent salt and 60 percent water: 3.8 percent."""
    assert salting.water_phase(2.4, 60) == pytest.approx(3.85, abs=0.01)


@given(GRAM, GRAM, GRAM, SHARE)
def test_no_salt_is_lost(salt: float, bath: float, green: float, share: float) -> None:
    level = salting.per_water_at_rest(salt, bath, green * share)
    assert level * bath + level * green * share == pytest.approx(salt)
    percent = salting.percent_of_meat(level, share)
    salted = green + level * green * share
    assert percent / 100 * salted == pytest.approx(level * green * share)
    assert salting.salt_for_level(percent, bath, green * share, share) == pytest.approx(salt)


@given(GRAM, GRAM, GRAM, SHARE, st.floats(0.1, 50))
def test_scaling_the_batch_changes_no_strength(salt: float, bath: float, meat: float, share: float, times: float) -> None:
    one = salting.percent_of_meat(salting.per_water_at_rest(salt, bath, meat), share)
    assert salting.percent_of_meat(salting.per_water_at_rest(salt * times, bath * times, meat * times), share) == pytest.approx(one)
    assert salting.percent_of_meat(salting.per_water_at_rest(salt * 1.1, bath, meat), share) > one
    assert salting.percent_of_meat(salting.per_water_at_rest(salt, bath * 1.1, meat), share) < one


@given(st.floats(0.1, 60), st.floats(0.1, 26))
def test_what_is_pumped_is_all_there(pump: float, strength: float) -> None:
    """On 100 g of green meat: pump grams of brine, strength percent of it salt, in 100 + pump grams."""
    assert salting.percent_pumped(pump, strength) == pytest.approx(100 * (pump * strength / 100) / (100 + pump))


def test_without_water_there_is_no_sharing_out() -> None:
    with pytest.raises(ValueError, match="no water"):
        salting.per_water_at_rest(1, 0, 0)
    with pytest.raises(ValueError, match="neither"):
        salting.water_phase(0, 0)
    with pytest.raises(ValueError, match="no meat"):
        salting.salt_for_level(100, 1, 1, 0.7)
