from __future__ import annotations

from itertools import pairwise
from math import inf, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import solve_banded

from overhaul.sums import penetration as p
from tests.sums.check_values import DAYS, ROOTS, SEQUENCES, SLAB_INFINITE, SLAB_LIMITED, SLAB_SURFACE, TEMPERATURE, THETA_MIDDLE, THETA_UPTAKE

THETA = st.floats(0.001, 3)
ALPHA = st.floats(0.05, 50)
NITRITE = (1.0e-10, 2.0e-10, 4.5e-10)
COLOUR = (14.0, 40.0, 50.0)
FACES = {"both": (1.0, 1.0, 1.0), "cap": (1.0, 0.6, 0.25), "one_face": (0.0, 0.0, 0.0)}


@pytest.mark.printed
@pytest.mark.parametrize(("alpha", "values"), ROOTS)
def test_roots(alpha: float, values: tuple[float, ...]) -> None:
    assert p.roots(alpha)[:6] == pytest.approx(values, abs=1e-6)
    for q in p.roots(alpha)[:6]:
        assert tan(q) == pytest.approx(-alpha * q, rel=1e-6)


@pytest.mark.computed
@pytest.mark.parametrize(("theta", "uptake", "middle"), SLAB_INFINITE)
def test_a_bath_that_never_weakens(theta: float, uptake: float, middle: float) -> None:
    assert p.uptake(theta, inf) == pytest.approx(uptake, abs=1e-6)
    assert p.middle(theta, inf) == pytest.approx(middle, abs=1e-7)


@pytest.mark.printed
def test_one_value_stands_in_a_kinetics_librarys_documentation() -> None:
    """Plane sheet, constant surface, theta 0.25 (documentation of polykin, after Crank 1975, page 47)."""
    assert p.middle(0.25, inf) == pytest.approx(0.3145542331096478, abs=1e-12)


@pytest.mark.computed
@pytest.mark.parametrize(("alpha", "theta", "uptake", "middle", "bath"), SLAB_LIMITED)
def test_a_limited_bath(alpha: float, theta: float, uptake: float, middle: float, bath: float) -> None:
    assert p.uptake(theta, alpha) == pytest.approx(uptake, abs=1e-7)
    assert p.middle(theta, alpha) == pytest.approx(middle, abs=1e-7)
    assert p.bath(theta, alpha) == pytest.approx(bath, abs=1e-6)


@pytest.mark.computed
@pytest.mark.parametrize(("theta", "middle"), SLAB_SURFACE)
def test_all_of_it_on_the_surface(theta: float, middle: float) -> None:
    assert p.middle(theta, 0.0) == pytest.approx(middle, abs=1e-7)


@pytest.mark.computed
@pytest.mark.parametrize(("share", "row"), THETA_MIDDLE)
def test_how_long_until_the_middle_has_its_share(share: float, row: dict[float, float]) -> None:
    for alpha, theta in row.items():
        assert p.theta_for_middle(share, alpha) == pytest.approx(theta, abs=2e-5)


@pytest.mark.computed
@pytest.mark.parametrize(("share", "row"), THETA_UPTAKE)
def test_how_long_until_the_meat_has_its_share(share: float, row: dict[float, float]) -> None:
    for alpha, theta in row.items():
        assert p.theta_for_uptake(share, alpha) == pytest.approx(theta, abs=2e-5)


@pytest.mark.computed
@pytest.mark.parametrize(("mm", "ppm", "alpha", "faces", "days"), DAYS)
def test_days_to_the_middle(mm: float, ppm: float, alpha: float, faces: str, days: tuple[float, float, float]) -> None:
    assert p.days_to_middle(mm / 1000, ppm, alpha, 3, NITRITE, COLOUR, FACES[faces]) == pytest.approx(days, rel=0.02)


@pytest.mark.computed
@pytest.mark.parametrize(("celsius", "factor"), TEMPERATURE)
def test_warmer_is_faster(celsius: float, factor: float) -> None:
    assert p.temperature_factor(celsius) == pytest.approx(factor, abs=1e-4)


@pytest.mark.computed
@pytest.mark.parametrize(("alpha_1", "theta_1", "alpha_2", "theta_2", "mean"), SEQUENCES)
def test_brine_then_fresh_water(alpha_1: float, theta_1: float, alpha_2: float, theta_2: float, mean: float) -> None:
    fresh = 1 + 1 / alpha_1
    assert p.sequence([(fresh, alpha_1, theta_1), (0.0, alpha_2, theta_2)])[-1] == pytest.approx(mean, abs=3e-3)


def finite_volumes(alpha: float, theta: float, cells: int = 200, steps: int = 800) -> tuple[float, float]:
    """Uptake and middle of half a slab in a mixed bath, implicit finite volumes: shares no code with the series."""
    h, dt = 1.0 / cells, theta / steps
    meat = np.zeros(cells)
    bath = 1 + 1 / alpha
    g, edge = dt / h**2, 2 * dt / h**2
    matrix = np.zeros((3, cells + 1))
    matrix[1, :cells] = 1 + 2 * g
    matrix[1, 0], matrix[1, cells - 1] = 1 + g, 1 + g + edge
    matrix[0, 1:cells], matrix[2, : cells - 1] = -g, -g
    matrix[0, cells], matrix[2, cells - 1] = -edge, -edge * h / alpha
    matrix[1, cells] = 1 + edge * h / alpha
    for _ in range(steps):
        solved = solve_banded((1, 1), matrix, np.append(meat, bath))
        meat, bath = solved[:cells], solved[cells]
    return float(meat.mean()), float(meat[0])


@pytest.mark.computed
@pytest.mark.parametrize(("alpha", "theta"), [(0.5, 0.1), (2.5, 0.2), (2.5, 0.5), (10.0, 0.3)])
def test_the_series_against_finite_volumes(alpha: float, theta: float) -> None:
    uptake, middle = finite_volumes(alpha, theta)
    assert p.uptake(theta, alpha) == pytest.approx(uptake, abs=2e-3)
    assert p.middle(theta, alpha) == pytest.approx(middle, abs=3e-3)


@given(THETA, ALPHA)
def test_what_physics_says(theta: float, alpha: float) -> None:
    uptake, middle, bath = p.uptake(theta, alpha), p.middle(theta, alpha), p.bath(theta, alpha)
    assert -1e-9 <= middle <= uptake + 1e-9
    assert uptake <= 1 + 1e-9
    assert bath >= uptake - 1e-9
    assert uptake + alpha * bath == pytest.approx(1 + alpha)
    assert p.uptake(theta * 1.2, alpha) >= uptake - 1e-9
    assert p.middle(theta * 1.2, alpha) >= middle - 1e-9
    assert p.middle(theta, alpha * 2) <= middle + 1e-9


@given(st.floats(0.01, 0.2), st.floats(60, 600), ALPHA)
def test_twice_as_thick_takes_four_times_as_long(thickness: float, ppm: float, alpha: float) -> None:
    thin = p.days_to_middle(thickness, ppm, alpha, 3, NITRITE, COLOUR)
    thick = p.days_to_middle(2 * thickness, ppm, alpha, 3, NITRITE, COLOUR)
    shut = p.days_to_middle(thickness, ppm, alpha, 3, NITRITE, COLOUR, FACES["one_face"])
    assert thick == pytest.approx([4 * days for days in thin])
    assert shut == pytest.approx([4 * days for days in thin])
    assert all(earlier <= later for earlier, later in pairwise(thin))


@given(st.floats(0.05, 1.0), st.floats(0.2, 10), st.floats(0.01, 0.5))
def test_a_soak_never_adds_salt(first: float, alpha: float, second: float) -> None:
    before, after = p.sequence([(1 + 1 / alpha, alpha, first), (0.0, 3.0, second)])
    assert 0 <= after <= before + 1e-9


def test_nothing_to_reach_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing to reach"):
        p.days_to_middle(0.05, 0, 2.5, 3, NITRITE, COLOUR)
    with pytest.raises(ValueError, match="share must lie between"):
        p.theta_for_middle(1.0, 2.5)
