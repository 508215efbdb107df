from __future__ import annotations

from itertools import pairwise
from math import exp, inf, pi, sqrt, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import solve_banded

from overhaul.sums import of_salt, salting
from overhaul.sums import penetration as p
from tests.sums import volumes
from tests.sums.check_values import (
    DAYS,
    DAYS_TO_A_SHARE,
    ROOTS,
    ROOTS_AS_PRINTED,
    SEQUENCES,
    SHARES_IN_THE_MIDDLE,
    SLAB_INFINITE,
    SLAB_LIMITED,
    SLAB_SURFACE,
    TEMPERATURE,
    THETA_MIDDLE,
    THETA_UPTAKE,
)

THETA = st.floats(0.001, 3)
ALPHA = st.floats(0.05, 50)
NITRITE = (1.0e-10, 2.0e-10, 4.5e-10)
COLOUR = (14.0, 40.0, 50.0)
FACES = {"both": (1.0, 1.0, 1.0), "cap": (1.0, 0.6, 0.25), "one_face": (0.0, 0.0, 0.0)}


@pytest.mark.computed
@pytest.mark.parametrize(("alpha", "values"), ROOTS)
def test_roots(alpha: float, values: tuple[float, ...]) -> None:
    assert p.roots(alpha)[:6] == pytest.approx(values, abs=1e-6)
    for q in p.roots(alpha)[:6]:
        assert tan(q) == pytest.approx(-alpha * q, rel=1e-6)


@pytest.mark.computed
@pytest.mark.parametrize(("theta", "uptake", "middle"), SLAB_INFINITE)
def test_a_bath_that_never_weakens(theta: float, uptake: float, middle: float) -> None:
    assert p.uptake(theta, inf) == pytest.approx(uptake, abs=1e-7)
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


# The same sequences as SEQUENCES: what is in the middle after both baths; finite volumes.
@pytest.mark.computed
@pytest.mark.parametrize(
    ("alpha_1", "theta_1", "alpha_2", "theta_2", "middle"),
    [(2.5, 0.3, 3, 0.02, 0.5114), (1, 0.15, 2, 0.1, 0.4101), (5, 0.6, 1, 0.3, 0.5963), (inf, 0.3, inf, 0.05, 0.46019226), (0.6, 0.4, 6, 0.005, 0.7836)],
)
def test_the_middle_after_two_baths(alpha_1: float, theta_1: float, alpha_2: float, theta_2: float, middle: float) -> None:
    slab = p.Slab()
    slab.into(1 + 1 / alpha_1, alpha_1, theta_1)
    slab.into(0.0, alpha_2, theta_2)
    assert slab.middle() == pytest.approx(middle, abs=3e-3)


@pytest.mark.computed
def test_two_baths_that_never_weaken_are_exact() -> None:
    assert p.sequence([(1.0, inf, 0.3), (0.0, inf, 0.05)])[-1] == pytest.approx(0.40587585, abs=1e-7)
    assert p.sequence([(1.0, inf, 0.3), (0.0, inf, 0.05)])[-1] == pytest.approx(p.uptake(0.35, inf) - p.uptake(0.05, inf))


# Worked recipe: 3.8 kg water, 328 g salt, 2.3 kg beef at 70 percent water, 45 mm, 3 °C; percent salt of the meat after each step.
WATER, BEEF, HALF, COLD = 3.8, 2.3 * 0.7, 0.0225, 2.2e-10


def _after_brine(days: float, diffusion: float = COLD) -> p.Slab:
    slab = p.Slab()
    slab.into(0.328 / WATER, WATER / BEEF, p.theta(days, HALF, diffusion * p.temperature_factor(3)))
    return slab


@pytest.mark.computed
@pytest.mark.parametrize(
    ("days", "percents"),
    [(3, (1.49, 1.95, 2.75)), (5, (1.87, 2.43, 3.30)), (7, (2.17, 2.78, 3.62)), (10, (2.52, 3.17, 3.87)), (14, (2.88, 3.51, 4.00))],
)
def test_salt_of_the_worked_recipe_day_by_day(days: float, percents: tuple[float, float, float]) -> None:
    for diffusion, percent in zip((1.2e-10, 2.2e-10, 5.0e-10), percents, strict=True):
        assert salting.percent_of_meat(_after_brine(days, diffusion).mean, 0.7) == pytest.approx(percent, rel=5e-3)


@pytest.mark.computed
@pytest.mark.parametrize(
    ("days", "means", "middles"),
    [
        (3, (80, 109, 155), (1, 16, 82)), (5, (101, 137, 188), (9, 51, 142)), (7, (117, 157, 209), (24, 86, 181)),
        (10, (137, 181, 226), (51, 128, 212)), (14, (157, 202, 236), (86, 168, 231)),
    ],
)  # fmt: skip
def test_nitrite_of_the_worked_recipe_day_by_day(days: float, means: tuple[float, ...], middles: tuple[float, ...]) -> None:
    level = salting.ppm_of_green(1.875e-3 / (WATER + BEEF), 0.7)
    assert level == pytest.approx(242.6, rel=5e-3)
    for diffusion, mean, middle in zip(NITRITE, means, middles, strict=True):
        theta = p.theta(days, HALF, diffusion * p.temperature_factor(3))
        assert level * p.uptake(theta, WATER / BEEF) == pytest.approx(mean, rel=5e-3, abs=0.5)
        assert level * p.middle(theta, WATER / BEEF) == pytest.approx(middle, rel=5e-3, abs=0.5)


@pytest.mark.computed
@pytest.mark.parametrize(
    ("baths", "mean", "middle", "kept"),
    [
        ([(inf, 2 / 60)], 2.745, 1.67, 0.987), ([(4 / BEEF, 0.5)], 2.644, 1.67, 0.949), ([(4 / BEEF, 4)], 2.416, 1.71, 0.866), ([(4 / BEEF, 12)], 2.192, 1.80, 0.783),
        ([(4 / BEEF, 24)], 2.004, 1.93, 0.715), ([(4 / BEEF, 8)] * 3, 1.962, 1.93, 0.699),
    ],
)  # fmt: skip
def test_rinse_and_soak_of_the_worked_recipe(baths: list[tuple[float, float]], mean: float, middle: float, kept: float) -> None:
    slab = _after_brine(7)
    before = slab.mean
    for alpha, hours in baths:
        slab.into(0.0, alpha, p.theta(hours / 24, HALF, COLD * p.temperature_factor(3)))
    assert salting.percent_of_meat(slab.mean, 0.7) == pytest.approx(mean, rel=0.01)
    assert salting.percent_of_meat(slab.middle(), 0.7) == pytest.approx(middle, rel=0.01)
    assert slab.mean / before == pytest.approx(kept, rel=0.01)


@pytest.mark.computed
@pytest.mark.parametrize(("hours", "percents"), [(0.5, (2.45, 2.45, 2.45)), (2, (2.09, 1.98, 1.82)), (3, (2.00, 1.86, 1.68)), (4, (1.93, 1.78, 1.58))])
def test_simmer_of_the_worked_recipe(hours: float, percents: tuple[float, float, float]) -> None:
    """35 percent lost, cooked meat 60 percent water, 5 kg in the pot, the first half hour not counted; half an hour is the same as steamed."""
    left = 2.3 * 0.65 * 0.60
    for diffusion, percent in zip((0.8e-9, 1.5e-9, 3.0e-9), percents, strict=True):
        slab = _after_brine(7)
        juice = BEEF - left
        slab.into(juice * slab.mean / (5 + juice), (5 + juice) / left, p.theta((hours - 0.5) / 24, HALF, diffusion))
        assert salting.percent_cooked(slab.mean, 0.60) == pytest.approx(percent, rel=0.02)


@pytest.mark.computed
@pytest.mark.parametrize(("spacing", "days"), [(25, (0.58, 2.19, 5.71)), (40, (1.49, 5.61, 14.61))])
def test_between_the_needles(spacing: float, days: tuple[float, float, float]) -> None:
    assert p.days_between_needles(spacing / 1000, 3, NITRITE, (0.5, 0.8, 0.9)) == pytest.approx(days, rel=0.02)
    with pytest.raises(ValueError, match="no spacing"):
        p.days_between_needles(0, 3, NITRITE, (0.5, 0.8, 0.9))


@given(st.floats(0.05, 1.0), st.floats(0.2, 10), st.floats(0.001, 0.5), st.floats(0.2, 10))
def test_no_salt_is_lost_between_meat_and_soak(first: float, alpha: float, second: float, soak: float) -> None:
    """What the meat has lost is in the soak: a long soak levels out at meat and soak together."""
    slab = p.Slab()
    salted = slab.into(1 + 1 / alpha, alpha, first)
    assert 0 <= slab.into(0.0, soak, second) <= salted + 1e-9
    assert slab.into(0.0, soak, 0.0) == slab.mean
    even = p.Slab(1.0)
    assert even.into(0.0, soak, 30.0) == pytest.approx(1 / (1 + soak), rel=0.02)


@given(alpha=st.floats(0.3, 5), cured=st.floats(0.05, 3), soaked=st.floats(0.002, 0.1), pot=st.floats(2, 6), simmered=st.floats(0.01, 0.5))
def test_the_steps_that_an_audit_takes_are_close_to_many(alpha: float, cured: float, soaked: float, pot: float, simmered: float) -> None:
    def kept(parts: int, in_soak: int) -> float:
        slab = p.Slab(0.0, parts)
        before = slab.into(1 + 1 / alpha, alpha, cured)
        slab.into(0.0, 3, soaked, in_soak)
        return slab.into(0.3, pot, simmered) / before

    assert kept(of_salt.PARTS, of_salt.SOAK_PARTS) == pytest.approx(kept(40, 40), rel=0.012)


@pytest.mark.printed
@pytest.mark.parametrize(("alpha", "values"), ROOTS_AS_PRINTED)
def test_roots_of_a_textbook(alpha: float, values: tuple[float, ...]) -> None:
    assert p.roots(alpha)[: len(values)] == pytest.approx(values, abs=1.5e-4)


@pytest.mark.computed
@pytest.mark.parametrize(("mm", "quarter", "week", "dry", "seven", "ten"), SHARES_IN_THE_MIDDLE)
def test_trade_rules_against_the_model(mm: int, quarter: tuple[float, ...], week: tuple[float, ...], dry: tuple[float, ...], seven: tuple[float, ...], ten: tuple[float, ...]) -> None:
    """An inch is 25.4 mm, and the rules go by the inches that the millimetres were rounded from."""
    inches = {25: 1.0, 38: 1.5, 51: 2.0, 64: 2.5, 76: 3.0, 102: 4.0}[mm]
    factor = p.temperature_factor(3)
    for days, alpha, shares in ((inches / 2 / 0.25 + 2, 2.5, quarter), (7 * inches, 2.5, week), (7 * inches, 0.0, dry), (7.0, 2.5, seven), (10.0, 2.5, ten)):
        found = [p.middle(p.theta(days, mm / 2000, speed * factor), alpha) for speed in NITRITE]
        assert found == pytest.approx(shares, abs=0.0125)


@pytest.mark.computed
@pytest.mark.parametrize(("mm", "pink", "colour", "half", "most"), DAYS_TO_A_SHARE)
def test_days_to_a_share_in_the_middle(mm: float, pink: tuple[float, ...], colour: tuple[float, ...], half: tuple[float, ...], most: tuple[float, ...]) -> None:
    factor = p.temperature_factor(3)
    for share, days in ((14 / 150, pink), (40 / 150, colour), (0.5, half), (0.9, most)):
        found = [p.days_for(share, 2.5, mm / 2000, speed * factor) for speed in reversed(NITRITE)]
        assert found == pytest.approx(days, rel=0.015, abs=0.06)  # the largest are printed without decimals


# Crank's rules of thumb and chart readings as the note gives them.
@pytest.mark.computed
def test_one_liners() -> None:
    assert p.uptake(0.19673, inf) == pytest.approx(0.5, abs=1e-5)
    assert 1 - p.middle(0.2, inf) == pytest.approx(0.772, abs=5e-4)
    for theta in (0.01, 0.05, 0.1, 0.196):
        assert 2 * sqrt(theta / pi) == pytest.approx(p.uptake(theta, inf), rel=3e-3)
    for theta in (0.2, 0.3, 0.6, 1.5):
        assert 1 - 1.27324 * exp(-2.46740 * theta) == pytest.approx(p.middle(theta, inf), abs=5e-3)
    assert [p.temperature_factor(2), p.temperature_factor(6)] == pytest.approx([0.92, 1.08], abs=5e-3)


# The worked recipe's own heads; days to the middle for COLOUR.
@pytest.mark.computed
def test_the_worked_recipe_starts_and_levels_out() -> None:
    alpha, level = WATER / BEEF, 1.875e-3 / (WATER + BEEF)
    assert alpha == pytest.approx(2.36025, rel=1e-5)
    assert salting.per_water_at_rest(0.328, WATER, 0) == pytest.approx(0.086316, rel=1e-5)
    assert salting.per_water_at_rest(0.328, WATER, BEEF) == pytest.approx(0.060628, rel=1e-5)
    assert p.days_to_middle(0.045, salting.ppm_of_green(level, 0.7), alpha, 3, NITRITE, COLOUR) == pytest.approx((1.28, 4.41, 9.91), rel=5e-3)


# Two minutes of soak for a day of cure take about 4 percent; a rinse about 1.
@pytest.mark.computed
def test_the_old_soak() -> None:
    slab = _after_brine(7)
    before = slab.mean
    slab.into(0.0, 4 / BEEF, p.theta(14 / 1440, HALF, COLD * p.temperature_factor(3)))
    assert 1 - slab.mean / before == pytest.approx(0.04, abs=6e-3)


# An evenly salted piece of 60 mm, simmered three hours: 0.83 to 0.91 of its salt a kilogram of water, 0.88 typical; the food tables' corned beef 0.90.
@pytest.mark.computed
def test_corned_beef_of_the_food_tables() -> None:
    kept = []
    for speed in (3.0e-9, 1.5e-9, 0.8e-9):
        slab, left, juice = p.Slab(1.0), 2.3 * 0.65 * 0.60, BEEF - 2.3 * 0.65 * 0.60
        kept.append(slab.into(juice / (5 + juice), (5 + juice) / left, p.theta(2.5 / 24, 0.03, speed)))
    assert kept == pytest.approx([0.83, 0.88, 0.91], abs=0.012)


@pytest.mark.computed
@pytest.mark.parametrize("theta", (0.004, 0.03, 0.049, 0.051, 0.12, 0.3, 0.7, 1.5))
@pytest.mark.parametrize("alpha", (0.1, 0.5, 1.0, 2.5, 10.0, 50.0, inf))
def test_the_series_against_finite_volumes_exact_in_time(alpha: float, theta: float) -> None:
    mean, middle, bath = volumes.shells(volumes.SLAB, theta, alpha)
    assert p.uptake(theta, alpha) == pytest.approx(mean, abs=5e-5)
    assert p.middle(theta, alpha) == pytest.approx(middle, abs=5e-5)
    assert alpha == inf or p.bath(theta, alpha) == pytest.approx(bath, abs=5e-4)
