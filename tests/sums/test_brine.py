from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.span import Span, exactly
from overhaul.sums import brine, vessel
from tests.sums.check_values import (
    DENSITIES,
    EGGS,
    FLOATING,
    GRAVITY_AND_FREEZING,
    METRIC_BRINES,
    SALOMETER,
    SALOMETER_AS_PRINTED,
    SALOMETER_BY_GALLON,
    SIX_QUARTS,
)


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


# US fisheries table as copied, degrees 0 to 49 (seen): pounds by the US gallon, a gallon of water being 8.328 lb in air.
@pytest.mark.printed
@pytest.mark.parametrize(("degrees", "percent", "salt", "water"), SALOMETER_AS_PRINTED)
def test_the_salometer_table_as_printed(degrees: float, percent: float, salt: float, water: float) -> None:
    assert brine.salometer(percent) == pytest.approx(degrees, abs=0.003)
    assert brine.gram_per_litre_of_water(percent, 8.328) == pytest.approx(salt, abs=6e-4)
    assert (100 - percent) / 100 * 8.328 * brine.specific_gravity(percent) == pytest.approx(water, abs=0.006)  # the table's gravity has three decimals


@pytest.mark.computed
@pytest.mark.parametrize(("degrees", "percent", "gravity", "in_water", "salt", "water", "_freezing"), SALOMETER_BY_GALLON)
def test_the_salometer_table_by_the_gallon(degrees: float, percent: float, gravity: float, in_water: float, salt: float, water: float, _freezing: float | None) -> None:
    assert brine.specific_gravity(percent) == pytest.approx(gravity, abs=9e-4)
    assert brine.gram_per_litre_of_water(percent, 8.328) == pytest.approx(in_water, abs=6e-4)
    assert percent / 100 * 8.328 * brine.specific_gravity(percent) == pytest.approx(salt, abs=2.5e-3)
    assert (100 - percent) / 100 * 8.328 * brine.specific_gravity(percent) == pytest.approx(water, abs=8e-3)
    assert brine.percent_of_water(percent) == pytest.approx(100 * in_water / 8.328, abs=0.007)
    assert brine.strength(in_water, 8.328) == pytest.approx(percent, abs=0.006)


@pytest.mark.printed
@pytest.mark.parametrize(("degrees", "percent", "in_water", "litres", "gram", "salt"), METRIC_BRINES)
def test_the_metric_table_every_row(degrees: float, percent: float, in_water: float, litres: float, gram: float, salt: float) -> None:
    assert brine.salometer(percent) == pytest.approx(degrees, abs=0.03)
    assert brine.gram_per_litre_of_water(percent) == pytest.approx(in_water, rel=3e-3)
    # Its litres stand at 20 °C: its brines are 0.07 to 0.2 percent lighter than ours.
    assert 999.017 * brine.specific_gravity(percent) == pytest.approx(gram, rel=2.2e-3)
    assert percent / 100 * 999.017 * brine.specific_gravity(percent) == pytest.approx(salt, rel=3e-3)
    assert vessel.litres(999.017 + brine.gram_per_litre_of_water(percent), percent, 0) == pytest.approx(litres, abs=0.011)


@pytest.mark.printed
@pytest.mark.parametrize(("percent", "gravity", "_freezing"), GRAVITY_AND_FREEZING)
def test_gravities_of_a_chemists_handbook(percent: float, gravity: float, _freezing: float) -> None:
    assert brine.specific_gravity(percent) == pytest.approx(gravity, abs=1.3e-3)  # it is the higher, most at 9 percent


# Every row is within a quarter ounce or 3 percent, but for 28 degrees: 14 1/2 oz is a misprint for 15.6.
@pytest.mark.printed
@pytest.mark.parametrize(("percent", "degrees", "printed", "worked"), SIX_QUARTS)
def test_a_farm_table_by_six_quarts(percent: float, degrees: float, printed: float, worked: float) -> None:
    ounces = percent / 100 * 8.328 * 16 * 1.5 * brine.specific_gravity(percent)
    assert ounces == pytest.approx(worked, abs=0.12)
    assert brine.salometer(percent) == pytest.approx(degrees, rel=5e-3)  # its 100 degrees are 26.5 percent
    right = abs(ounces - printed) <= max(0.25, 0.03 * printed)
    assert right is (degrees != 28)


@pytest.mark.computed
@pytest.mark.parametrize(("percent", "densities"), [(row[0], row[1:]) for row in DENSITIES])
def test_density_by_four_libraries(percent: float, densities: tuple[float | None, ...]) -> None:
    assert 999.017 * brine.specific_gravity(percent) == pytest.approx(densities[0], abs=0.11)
    for density in densities:
        assert density is None or 999.017 * brine.specific_gravity(percent) == pytest.approx(density, abs=0.8)


@pytest.mark.computed
@pytest.mark.parametrize(("density", "percent"), FLOATING)
def test_the_brine_in_which_a_cut_floats(density: float, percent: float) -> None:
    # These percents are of brine at 4 °C, which weighs 2.1 to 2.5 kg/m3 more than at 60 °F.
    assert 1.5 < density - 999.017 * brine.specific_gravity(percent) < 2.8


@pytest.mark.computed
@pytest.mark.parametrize(("gravity", "degrees", "percent", "salt"), EGGS)
def test_the_brine_that_floats_an_egg(gravity: float, degrees: float, percent: float, salt: float) -> None:
    assert brine.specific_gravity(percent) == pytest.approx(gravity, abs=6e-4)
    assert brine.salometer(percent) == pytest.approx(degrees, abs=0.2)
    assert brine.gram_per_litre_of_water(percent, 8.328) == pytest.approx(salt, abs=6e-3)


# Ham card of the 1920s, an egg to float out of the water; an old pork recipe (both seen); a rule of 1924 (FB 1438): "about 10 percent, 38 degrees".
@pytest.mark.computed
@pytest.mark.parametrize(("pounds", "gallons", "percent"), [(10, 4.0, 23.1), (10, 4.5, 21.0), (3, 2.0, 15.3)])
def test_recipes_that_ask_for_an_egg(pounds: float, gallons: float, percent: float) -> None:
    assert brine.strength(pounds, gallons * 8.328) == pytest.approx(percent, abs=0.07)
    assert brine.salometer(10) == pytest.approx(38, abs=0.2)


# Traps of printed advice: an imperial gallon (10 lb) in a table that looks American; half a pound in nine pints called 5 percent and 20 degrees.
@pytest.mark.printed
def test_traps_of_printed_brine_advice() -> None:
    assert brine.gram_per_litre_of_water(15.837, 10) == pytest.approx(1.882, abs=1e-3)
    assert brine.gram_per_litre_of_water(15.837, 8.328) == pytest.approx(1.567, abs=1e-3)
    half = brine.strength(0.5, 8.328 * 9 / 8)
    assert half == pytest.approx(5.1, abs=0.05)
    assert brine.salometer(half) == pytest.approx(19.2, abs=0.1)


# Three cups of kosher salt, two gallons of water, two of ice: lows and highs of the note's own span, percent and degrees.
@pytest.mark.computed
def test_three_cups_two_gallons_two_of_ice() -> None:
    assert brine.strength(375, 7900 + 7560) == pytest.approx(2.4, abs=0.05)
    assert brine.strength(555, 7560 + 4000) == pytest.approx(4.6, abs=0.05)
    assert brine.strength(765, 7200 + 3000) == pytest.approx(7.0, abs=0.05)
    assert [round(brine.salometer(percent)) for percent in (2.4, 4.6, 7.0)] == [9, 17, 27]  # the note cuts the last to 26


# Half the recipe above, 7.7 L, with the same brisket wants 12.9 L; 6 kg of brisket displaces 5.8 L.
@pytest.mark.computed
def test_what_half_a_recipe_wants() -> None:
    assert vessel.litres(7_900, 4.4, 0) == pytest.approx(7.7, abs=0.05)
    assert vessel.litres(7_900, 4.4, 5_400, 1035) == pytest.approx(12.9, abs=0.05)
    assert vessel.litres(0, 0, 6_000, 1035) == pytest.approx(5.8, abs=0.05)
