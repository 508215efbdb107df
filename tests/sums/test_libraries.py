"""Brine and ice by two general property libraries: CoolProp (INCOMP::MNA, after Melinder, to 23 percent and 40 °C) and iapws.

Heat balances are worked here from their enthalpies, not from a mean heat capacity.
"""

from __future__ import annotations

from typing import Any

import pytest
from scipy.optimize import brentq

from overhaul.sums import brine, chilling, vessel

coolprop: Any = pytest.importorskip("CoolProp.CoolProp")
iapws: Any = pytest.importorskip("iapws")

PERCENTS = (0.5, 1, 2, 3.5, 5, 7.5, 10, 12.5, 15, 17.5, 20, 22.5)
ZERO, ATMOSPHERE = 273.15, 101_325


def of_brine(what: str, percent: float, celsius: float) -> float:
    return float(coolprop.PropsSI(what, "T", ZERO + celsius, "P", ATMOSPHERE, f"INCOMP::MNA[{percent / 100}]"))


def water(celsius: float) -> float:
    """kJ/kg of liquid water, IAPWS-IF97, 0 near 0 °C."""
    return float(iapws.IAPWS97(T=ZERO + max(celsius, 0.001), P=0.101325).h)


def ice(celsius: float) -> float:
    """kJ/kg of ice on the same scale (IAPWS 2006)."""
    return float(iapws._iapws._Ice(ZERO + celsius, 0.101325)["h"])


@pytest.mark.computed
@pytest.mark.parametrize("percent", PERCENTS)
def test_density(percent: float) -> None:
    """The note: libraries differ by at most 0.7 kg/m3."""
    assert 999.017 * brine.specific_gravity(percent) == pytest.approx(of_brine("D", percent, 15.56), abs=0.5)
    assert vessel.litres(10_000, percent, 0) == pytest.approx(10_000 / of_brine("D", percent, 15.56), rel=6e-4)
    assert brine.gram_per_litre_of_water(percent, float(iapws.IAPWS95(T=288.71, P=0.101325).rho)) == pytest.approx(brine.gram_per_litre_of_water(percent), rel=1e-5)


@pytest.mark.computed
@pytest.mark.parametrize("percent", PERCENTS)
@pytest.mark.parametrize("celsius", (4, 20, 40))
def test_heat_capacity(percent: float, celsius: float) -> None:
    assert chilling.brine_heat_capacity(percent) == pytest.approx(of_brine("C", percent, celsius) / 1000, abs=0.04)


@pytest.mark.computed
@pytest.mark.parametrize("celsius", (4, 20, 40, 60, 80))
def test_heat_capacity_of_water(celsius: float) -> None:
    assert chilling.brine_heat_capacity(0) == pytest.approx(iapws.IAPWS97(T=ZERO + celsius, P=0.101325).cp, abs=0.02)
    assert pytest.approx((water(100 - 0.05) - water(0)) / 99.95, abs=0.003) == chilling.WATER


@pytest.mark.computed
@pytest.mark.parametrize("percent", PERCENTS)
def test_freezing_point(percent: float) -> None:
    """The note: within 0.08 °C of the handbook, which ours follows within 0.03. Above 22 percent the library parts from it by 0.11."""
    found = float(coolprop.PropsSI("T_freeze", "T", 290, "P", ATMOSPHERE, f"INCOMP::MNA[{percent / 100}]")) - ZERO
    assert chilling.freezing_point(percent) == pytest.approx(found, abs=0.08 if percent <= 22 else 0.12)


@pytest.mark.computed
@pytest.mark.parametrize(("density", "percent"), [(1035, 4.7), (1052, 7.0), (1042, 5.6), (1032, 4.3), (1050, 6.7), (1055, 7.4)])
def test_the_note_floats_its_cuts_in_cold_brine(density: float, percent: float) -> None:
    assert of_brine("D", percent, 4) == pytest.approx(density, abs=0.8)


@pytest.mark.computed
def test_ice_and_its_melting() -> None:
    assert pytest.approx(water(0) - ice(0), abs=0.1) == chilling.LATENT
    assert pytest.approx((ice(0) - ice(-18)) / 18, abs=0.005) == chilling.ICE


@pytest.mark.computed
@pytest.mark.parametrize("hot", (70.0, 85.0, 99.9))
@pytest.mark.parametrize("cold", (0.0, -10.0, -18.0))
@pytest.mark.parametrize("part", (0.1, 0.3, 0.6))
def test_water_and_ice_by_enthalpy(hot: float, cold: float, part: float) -> None:
    """One kilogram of hot water, ``part`` of ice, half a kilogram of tap water at 15 °C."""
    whole = 1.5 + part
    heat = water(hot) + 0.5 * water(15) + part * ice(cold)
    final = brentq(lambda celsius: whole * water(celsius) - heat, 0.01, 99)
    assert chilling.mixed_temperature(1, hot, 0.5, 15, part, cold, 0) == pytest.approx(final, abs=0.35)


@pytest.mark.computed
@pytest.mark.parametrize("percent", (5.0, 10.0, 18.0))
@pytest.mark.parametrize("cold", (0.0, -18.0))
@pytest.mark.parametrize("part", (0.1, 0.2, 0.3))
def test_brine_and_ice_by_enthalpy(percent: float, cold: float, part: float) -> None:
    """One kilogram of brine of ``percent`` at 40 °C, ``part`` of ice: cooled to 0, the ice melted into it, warmed again; heat of
    dilution left out, as in ours."""
    weak = percent / (1 + part)
    left = (of_brine("H", percent, 40) - of_brine("H", percent, 0)) / 1000 - part * (water(0) - ice(cold))
    floor = chilling.freezing_point(weak)
    if left / (1 + part) / 3.5 < floor + 0.1:
        assert chilling.mixed_temperature(1, 40, 0, 0, part, cold, weak) <= floor + 0.2
        return
    final = brentq(lambda celsius: (1 + part) * (of_brine("H", weak, celsius) - of_brine("H", weak, 0)) / 1000 - left, floor + 0.02, 40)
    assert chilling.mixed_temperature(1, 40, 0, 0, part, cold, weak) == pytest.approx(final, abs=0.35)
