"""What holds for every sum, whatever its inputs: direction, balance, size, spans, and what it makes of nonsense."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise, product
from math import inf, isfinite, nan
from random import Random
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from overhaul import facts
from overhaul.span import Span, corners
from overhaul.sums import brine, chilling, lethality, nitrite, penetration, salting, shapes, vessel


class Sum(NamedTuple):
    """A formula, for each input its sensible range, and whether the result rises (1) or falls (-1) with it; 0 is not claimed."""

    name: str
    formula: Callable[..., float]
    ranges: tuple[tuple[float, float], ...]
    ways: tuple[int, ...]


GRAM, LITTLE, MEAT, WATER, PICKLE = (1.0, 5000.0), (0.1, 50.0), (200.0, 20_000.0), (500.0, 30_000.0), (500.0, 30_000.0)
PERCENT, SHARE, PUMP, THETA, ALPHA = (0.0, 26.0), (0.4, 0.8), (0.02, 0.3), (0.001, 2.0), (0.05, 50.0)

SUMS = [
    Sum("strength", brine.strength, (GRAM, WATER), (1, -1)),
    Sum("salometer", brine.salometer, (PERCENT,), (1,)),
    Sum("gram_per_litre_of_water", brine.gram_per_litre_of_water, (PERCENT, (950.0, 1001.0)), (1, 1)),
    Sum("specific_gravity", brine.specific_gravity, (PERCENT,), (1,)),
    Sum("percent_of_water", brine.percent_of_water, ((0.0, 60.0),), (1,)),
    Sum("percent_of_brine", brine.percent_of_brine, ((0.0, 150.0),), (1,)),
    Sum("fullness", brine.fullness, (GRAM, WATER, (26.3, 28.2)), (1, -1, -1)),
    Sum("direct", nitrite.direct, (LITTLE, MEAT), (1, -1)),
    Sum("pumped", nitrite.pumped, (LITTLE, PUMP, PICKLE), (1, 1, -1)),
    Sum("equilibrium", nitrite.equilibrium, (LITTLE, MEAT, PICKLE), (1, -1, -1)),
    Sum("dry_mix", nitrite.dry_mix, (LITTLE, (0.01, 0.2), (20.0, 2000.0)), (1, 1, -1)),
    Sum("agent_for_direct", nitrite.agent_for_direct, ((10.0, 700.0), MEAT), (1, 1)),
    Sum("agent_for_pump", nitrite.agent_for_pump, ((10.0, 700.0), PUMP, PICKLE), (1, -1, 1)),
    Sum("agent_for_equilibrium", nitrite.agent_for_equilibrium, ((10.0, 700.0), MEAT, PICKLE), (1, 1, 1)),
    Sum("green_for_equilibrium", nitrite.green_for_equilibrium, (LITTLE, (10.0, 700.0), PICKLE), (1, -1, -1)),
    Sum("skin_on", nitrite.skin_on, ((50.0, 700.0), (0.0, 0.2)), (1, -1)),
    Sum("converted", lambda value: nitrite.converted(value, "NaNO2", "KNO2"), ((1.0, 700.0),), (1,)),
    Sum("percent_gain", nitrite.percent_gain, (MEAT, MEAT), (-1, 1)),
    Sum("per_water_at_rest", salting.per_water_at_rest, (GRAM, WATER, MEAT), (1, -1, -1)),
    Sum("percent_of_meat", salting.percent_of_meat, ((0.0, 0.3), SHARE), (1, 1)),
    Sum("percent at rest", lambda salt, bath, meat, share: salting.percent_of_meat(salting.per_water_at_rest(salt, bath, meat), share), (GRAM, WATER, MEAT, SHARE), (1, -1, -1, 1)),
    Sum("ppm_of_green", salting.ppm_of_green, ((0.0, 0.002), SHARE), (1, 1)),
    Sum("percent_cooked", salting.percent_cooked, ((0.0, 0.3), SHARE), (1, 1)),
    Sum("water_phase", salting.water_phase, ((0.0, 10.0), (40.0, 80.0)), (1, -1)),
    Sum("percent_pumped", salting.percent_pumped, ((2.0, 30.0), PERCENT), (1, 1)),
    Sum("salt_for_level", salting.salt_for_level, ((0.5, 8.0), WATER, MEAT, SHARE), (1, 1, 1, -1)),
    Sum("brine_heat_capacity", chilling.brine_heat_capacity, (PERCENT,), (-1,)),
    Sum("freezing_point", chilling.freezing_point, ((0.0, 23.3),), (-1,)),
    Sum("ratio", chilling.ratio, ((0.1, 20.0), (0.1, 20.0)), (1, -1)),
    Sum(
        "mixed_temperature",
        chilling.mixed_temperature,
        ((1.0, 20.0), (75.0, 100.0), (0.0, 5.0), (5.0, 25.0), (0.5, 15.0), (-20.0, 0.0), (0.0, 12.0)),
        (1, 1, 0, 1, -1, 1, 0),
    ),
    Sum("litres", vessel.litres, (PICKLE, PERCENT, MEAT, (960.0, 1075.0)), (1, -1, 1, -1)),
    Sum("uptake", penetration.uptake, (THETA, ALPHA), (1, -1)),
    Sum("middle", penetration.middle, (THETA, ALPHA), (1, -1)),
    Sum("theta_for_middle", penetration.theta_for_middle, ((0.05, 0.95), ALPHA), (1, 1)),
    Sum("theta_for_uptake", penetration.theta_for_uptake, ((0.05, 0.95), ALPHA), (1, 1)),
    Sum("temperature_factor", penetration.temperature_factor, ((-2.0, 95.0),), (1,)),
    Sum("path", penetration.path, ((0.01, 0.2), (0.0, 1.0)), (1, -1)),
    Sum("days_for", penetration.days_for, ((0.05, 0.9), ALPHA, (0.005, 0.1), (0.5e-10, 5e-10)), (1, 1, 1, -1)),
    Sum("theta", penetration.theta, ((0.5, 60.0), (0.005, 0.1), (0.5e-10, 5e-10)), (1, -1, 1)),
    Sum("roll_uptake", shapes.roll_uptake, (THETA,), (1,)),
    Sum("roll_middle", shapes.roll_middle, (THETA,), (1,)),
    Sum("ball_uptake", shapes.ball_uptake, (THETA,), (1,)),
    Sum("ball_middle", shapes.ball_middle, (THETA,), (1,)),
    Sum("block_uptake", lambda a, b, c, spread: shapes.block_uptake([a, b, c], spread), ((1.0, 4.0),) * 3 + (THETA,), (-1, -1, -1, 1)),
    Sum("block_middle", lambda a, b, c, spread: shapes.block_middle([a, b, c], spread), ((1.0, 4.0),) * 3 + (THETA,), (-1, -1, -1, 1)),
    Sum("film_uptake", shapes.film_uptake, ((0.06, 2.0), (0.1, 100.0)), (1, 1)),
    Sum("film_middle", shapes.film_middle, ((0.06, 2.0), (0.1, 100.0)), (1, 1)),
]
NAMES = [one.name for one in SUMS]
every_sum = pytest.mark.parametrize("one", SUMS, ids=NAMES)


@every_sum
def test_up_or_down_with_each_input(one: Sum) -> None:
    random = Random(one.name)
    for _ in range(300):
        point = [random.uniform(low, high) for low, high in one.ranges]
        value = one.formula(*point)
        for place, (way, (_, high)) in enumerate(zip(one.ways, one.ranges, strict=True)):
            more = point.copy()
            more[place] += random.random() * (high - point[place])
            assert way * (one.formula(*more) - value) >= -1e-7 * max(1.0, abs(value)), (point, more)


@every_sum
def test_every_draw_lies_in_the_span_and_the_span_is_no_wider(one: Sum) -> None:
    """Ten boxes within the ranges, a thousand draws and all corners in each."""
    random = Random(one.name + "span")
    for _ in range(10):
        ends = [sorted((random.uniform(low, high), random.uniform(low, high))) for low, high in one.ranges]
        span = corners(one.formula, *[Span(low, random.uniform(low, high), high) for low, high in ends])
        drawn = [one.formula(*[random.uniform(low, high) for low, high in ends]) for _ in range(1000)]
        slack = 1e-7 * max(abs(span.low), abs(span.high), 1e-9)
        assert span.low - slack <= min(drawn) and max(drawn) <= span.high + slack
        drawn += [one.formula(*corner) for corner in product(*ends)]
        assert span.high - span.low <= 1.01 * (max(drawn) - min(drawn)) + slack


@given(st.floats(1, 5000), st.floats(0, 2000), st.floats(500, 20_000), st.floats(500, 20_000), st.floats(0, 10_000), st.floats(0.02, 50))
def test_the_size_of_the_batch_changes_no_strength(salt: float, sugar: float, water: float, meat: float, ice: float, times: float) -> None:
    def figures(size: float) -> list[float]:
        grams = [size * gram for gram in (salt, sugar, water, meat, ice)]
        pickle = sum(grams[:3]) + grams[4]
        level = salting.per_water_at_rest(grams[0], grams[2] + grams[4], 0.7 * grams[3])
        percent = brine.strength(grams[0], pickle - grams[0])
        return [
            percent, brine.fullness(grams[0], grams[2], 26.4), level, salting.percent_of_meat(level, 0.7), nitrite.equilibrium(0.01 * grams[0], grams[3], pickle),
            nitrite.pumped(0.01 * grams[0], 0.1, pickle), nitrite.direct(0.01 * grams[0], grams[3]), nitrite.dry_mix(0.01 * grams[0], 0.03, grams[0] + grams[1]),
            chilling.mixed_temperature(grams[2] / 1000, 100, 0, 0, grams[4] / 1000, -10, min(percent, 20)), vessel.litres(pickle, percent, grams[3]) / size,
            nitrite.agent_for_equilibrium(150, grams[3], pickle) / size, nitrite.green_for_equilibrium(grams[0], 150, pickle) / size,
            salting.salt_for_level(2.5, grams[2], 0.7 * grams[3], 0.7) / size, nitrite.percent_gain(grams[3], 1.1 * grams[3]),
        ]  # fmt: skip

    assert figures(times) == pytest.approx(figures(1.0), rel=1e-6, abs=1e-6)


@given(st.floats(1, 5000), st.floats(500, 30_000), st.floats(500, 30_000), st.floats(0.4, 0.8), st.floats(0.001, 3), st.floats(0.001, 1), st.floats(500, 30_000))
def test_no_salt_is_lost_on_the_way(salt: float, water: float, green: float, share: float, time: float, soaked: float, soak: float) -> None:
    """Brine and meat hold what went in at any moment; then meat and soak hold what the meat had."""
    inside = green * share
    alpha = water / inside
    level = salting.per_water_at_rest(salt, water, inside)
    in_meat, in_brine = level * penetration.uptake(time, alpha) * inside, level * penetration.bath(time, alpha) * water
    assert in_meat + in_brine == pytest.approx(salt, rel=1e-9)
    percent = salting.percent_of_meat(in_meat / inside, share)
    assert percent / 100 * (green + in_meat) == pytest.approx(in_meat)
    slab = penetration.Slab(in_meat / inside)
    after = slab.into(0.0, soak / inside, soaked)
    assert -1e-9 <= after <= in_meat / inside * (1 + 1e-9)
    assert after >= in_meat / (inside + soak) * (1 - 0.02)  # never below level with the soak, but for the steps


@given(st.floats(0.5, 20), st.floats(50, 100), st.floats(0, 5), st.floats(5, 25), st.floats(0.1, 20), st.floats(-20, 0), st.floats(0.5, 8))
def test_no_heat_is_lost(hot: float, hot_c: float, cold: float, cold_c: float, ice: float, ice_c: float, percent: float) -> None:
    """What the hot liquid gives, the ice takes: melted, or with the ice left that the freezing point tells of. In kJ above water at 0 °C."""
    whole = hot + cold + ice
    salt = percent / 100 * whole
    found = chilling.mixed_temperature(hot, hot_c, cold, cold_c, ice, ice_c, percent)
    before = (hot * hot_c + cold * cold_c) * chilling.brine_heat_capacity(min(26.0, 100 * salt / (hot + cold))) - ice * (chilling.LATENT - chilling.ICE * ice_c)
    if found > chilling.freezing_point(percent) + 1e-9:
        assert whole * chilling.brine_heat_capacity(percent) * found == pytest.approx(before, abs=1e-6 * whole)
        return
    if found > chilling.freezing_point(23.2):
        strong = brentq(lambda at: chilling.freezing_point(at) - found, 0, 23.3)
        liquid = salt / strong * 100
        left = whole - liquid
        assert -1e-6 * whole <= left <= whole
        after = liquid * chilling.brine_heat_capacity(strong) * found - left * (chilling.LATENT - chilling.ICE * found)
        assert after == pytest.approx(before, abs=0.02 * whole + 1e-3 * abs(before))


def test_hotter_never_wants_a_longer_hold() -> None:
    for species in ("chicken", "turkey"):
        for percent in range(1, 13):
            rows = [lethality.wanted_seconds(species, degf, percent) or 0 for degf in range(136, 166)]
            assert rows == sorted(rows, reverse=True)
        for degf, seconds in facts.dwell_by_fat(species).items():
            assert seconds[-1] == max(seconds), degf
            # Three rows printed in tenths of a minute dip by one between 1 and 2 percent; else fat wants more.
            assert sum(later < earlier for earlier, later in pairwise(seconds)) <= (1 if degf in (150, 151) else 0)


BAD = (0.0, -0.0, -1.0, -100.0, -273.15, 1.0, 100.0, 5e-324, -5e-324, 1e-300, 1e-160, 1e160, -1e160, 1e300, -1e300, 1.7e308, -1.7e308, nan, inf, -inf)
ALSO = [
    *SUMS,
    Sum("erfcx", penetration.erfcx, ((0, 1),), (0,)),
    Sum("ierfc", penetration.ierfc, ((0, 1),), (0,)),
    Sum("roots", lambda alpha: sum(penetration.roots(alpha)), ((0.1, 1),), (0,)),
    Sum("uptake_unweakened", penetration.uptake_unweakened, (THETA,), (1,)),
    Sum("bath", penetration.bath, (THETA, ALPHA), (-1, 0)),
    Sum("film_roots", lambda biot: sum(shapes.film_roots(biot)), ((0.1, 1),), (0,)),
    Sum("needles", lambda gap, celsius, *speeds: sum(penetration.days_between_needles(gap, celsius, speeds, (0.5, 0.8, 0.9))), ((0.01, 0.1), (0, 10), *[(1e-10, 1e-9)] * 3), (0,) * 5),
    Sum("days_to_middle", lambda mm, ppm, alpha, celsius, *wanted: sum(penetration.days_to_middle(mm, ppm, alpha, celsius, (1e-10, 2e-10, 3e-10), wanted)), ((0.01, 0.1), (50, 300), ALPHA, (0, 10), *[(10, 50)] * 3), (0,) * 7),
    Sum("one bath", lambda strength, alpha, length: penetration.Slab(0.0, 4).into(strength, alpha, length), ((0, 1), ALPHA, THETA), (0,) * 3),
    Sum("hold", lambda degf, seconds, fat: lethality.hold_ratio("chicken", degf, seconds, fat) or 0.0, ((136, 165), (0, 100), (0, 12)), (0,) * 3),
]


@pytest.mark.parametrize("one", ALSO, ids=[one.name for one in ALSO])
def test_nonsense_is_refused_or_finite(one: Sum) -> None:
    random = Random(one.name + "bad")
    several = len(one.ranges)
    wild = [list(figures) for figures in product(BAD, repeat=several)] if several <= 2 else [[random.choice(BAD) for _ in range(several)] for _ in range(2000)]
    for place, bad in product(range(several), BAD):
        good = [random.uniform(low, high) for low, high in one.ranges]
        good[place] = bad
        wild.append(good)
    for figures in wild:
        try:
            value = one.formula(*figures)
        except ValueError:
            continue
        assert isfinite(value), figures
