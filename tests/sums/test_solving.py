from __future__ import annotations

from collections.abc import Callable
from math import inf, isfinite, nan
from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from overhaul.sums import brine, chilling, nitrite, salting, solving
from overhaul.sums.solving import Exchange, weighable

STEP = st.sampled_from((0.01, 0.1, 0.5, 1.0, 5.0))
GREEN, WATER, OTHERS, PPM = st.floats(300, 20_000), st.floats(300, 30_000), st.floats(300, 30_000), st.floats(20, 650)
STRENGTH, SHARE, PUMP = st.sampled_from((0.6, 0.9, 5.88, 6.25, 100.0)), st.floats(0.45, 0.78), st.floats(0.03, 0.25)


def within_the_rounding(forward: Callable[[float], float], solved: float, wanted: float, step: float) -> None:
    """What was solved gives the wanted figure; what the scale shows gives it but for half a step."""
    assert forward(solved) == pytest.approx(wanted, rel=1e-7, abs=1e-7)
    shown = weighable(solved, step)
    least, most = sorted((forward(max(shown - step / 2, 0.0)), forward(shown + step / 2)))
    slack = 1e-7 * max(1.0, abs(wanted))
    assert least - slack <= wanted <= most + slack
    assert least - slack <= forward(shown) <= most + slack


@pytest.mark.parametrize(("gram", "step", "shown"), [(5.67, 0.1, 5.7), (5.65, 0.1, 5.7), (12.5, 1, 13), (12.49, 1, 12), (327.6, 5, 330), (0.04, 0.1, 0.0), (0.3, 0.1, 0.3), (7.5, 0.5, 7.5), (1e6, 1, 1e6)])
def test_what_a_scale_shows(gram: float, step: float, shown: float) -> None:
    assert weighable(gram, step) == shown


@given(st.floats(0, 50_000), STEP)
def test_a_scale_is_off_by_half_a_step(gram: float, step: float) -> None:
    shown = weighable(gram, step)
    assert abs(shown - gram) <= step / 2 + 1e-7
    assert weighable(shown, step) == shown


@given(st.floats(0.5, 6), WATER, GREEN, SHARE, st.floats(0, 3), STEP)
def test_salt_for_a_percentage_of_the_meat(percent: float, water: float, green: float, share: float, brought: float, step: float) -> None:
    solved = solving.salt_for_meat(percent, water, green, share, brought)
    within_the_rounding(lambda salt: salting.percent_of_meat(salting.per_water_at_rest(salt + brought, water, share * green), share), solved, percent, step)


@given(st.floats(1, 25), OTHERS, st.floats(0, 2), STEP)
def test_salt_for_a_strength_of_brine(percent: float, others: float, brought: float, step: float) -> None:
    solved = solving.salt_for_brine(percent, others, brought)
    within_the_rounding(lambda salt: brine.strength(salt + brought, others), solved, percent, step)


@given(PPM, GREEN, OTHERS, PUMP, STRENGTH, STEP)
def test_cure_by_each_official_sum(ppm: float, green: float, others: float, pump: float, strength: float, step: float) -> None:
    share = strength / 100
    within_the_rounding(lambda cure: nitrite.direct(cure * share, green), solving.cure_for_direct(ppm, green, strength), ppm, step)
    within_the_rounding(lambda cure: nitrite.equilibrium(cure * share, green, others + cure), solving.cure_for_equilibrium(ppm, green, others, strength), ppm, step)
    assume(ppm < 0.9e6 * share * pump)
    within_the_rounding(lambda cure: nitrite.pumped(cure * share, pump, others + cure), solving.cure_for_pump(ppm, pump, others, strength), ppm, step)


# The 1978 farm pickle of 8 lb salt, 3 lb sugar, 4 1/2 US gal to 100 lb pork has 0.07375 lb nitrite; worked examples of the handbook's forms: 150 ppm
# in 8 lb of meat in 31.71 lb of pickle want 0.0059565 lb nitrite; 120 ppm pumped by a fifth want 0.06 lb in 100 lb; 200 ppm on 1 kg 3.2 g of 6.25 percent.
@pytest.mark.printed
def test_cure_as_printed() -> None:
    assert solving.cure_for_equilibrium(150, 8, 31.71 - 0.0059565, 100) == pytest.approx(0.0059565, abs=1e-7)
    assert solving.cure_for_pump(120, 0.2, 100 - 0.06, 100) == pytest.approx(0.06, abs=1e-7)
    assert solving.cure_for_direct(200, 1000, 6.25) == pytest.approx(3.2)
    assert solving.cure_for_pump(151.67, 0.1, 48.62625 - 0.07375, 100) == pytest.approx(0.07375, rel=1e-4)


@given(st.floats(0.1, 500), STRENGTH, STRENGTH, STEP)
def test_another_cure_for_the_same_nitrite(gram: float, strength: float, other: float, step: float) -> None:
    found = solving.other_cure(gram, strength, other)
    within_the_rounding(lambda cure: cure * other / 100, found.cure, gram * strength / 100, step)
    # Nitrite and salt together are what they were, and back again is the first.
    assert found.cure - found.salt_off == pytest.approx(gram)
    back = solving.other_cure(found.cure, other, strength)
    assert (back.cure, back.salt_off) == pytest.approx((gram, -found.salt_off))


@pytest.mark.computed
@pytest.mark.parametrize(
    ("gram", "strength", "other", "cure", "salt_off"),
    [(2.5, 6.25, 0.6, 26.0417, 23.5417), (25, 0.6, 6.25, 2.4, -22.6), (1, 100, 6.25, 16, 15), (16, 6.25, 5.88, 17.0068, 1.0068)],
)
def test_exchanges(gram: float, strength: float, other: float, cure: float, salt_off: float) -> None:
    """By hand: 2.5 g of 6.25 percent hold 0.15625 g nitrite and 2.34375 g salt; so do 26.0417 g of 0.6 percent, with 25.8854 g salt."""
    found = solving.other_cure(gram, strength, other)
    assert (found.cure, found.salt_off) == pytest.approx((cure, salt_off), abs=1e-4)


def test_an_exchange_for_a_complete_cure() -> None:
    """A cure of 0.75 percent nitrite, 85 salt and the rest sugar; no. 2 holds 4 percent nitrate, 89.75 salt."""
    complete, second = solving.other_cure(12, 6.25, 0.75, other_salt=85), solving.other_cure(10, 6.25, 6.25, other_salt=89.75)
    assert (complete.cure, complete.salt_off) == pytest.approx((100, 85 - 11.25))
    assert (second.cure, second.salt_off) == pytest.approx((10, -0.4))
    with pytest.raises(ValueError, match="more than 100 percent"):
        solving.other_cure(10, 6.25, 6.25, other_salt=94)


@given(st.floats(5, 35), st.floats(1000, 20_000), st.floats(80, 101), st.floats(0, 0.15), st.floats(-20, 0), st.floats(0, 3000), st.floats(2, 25), st.sampled_from((1.0, 10.0, 50.0)))
def test_ice_for_a_temperature(wanted: float, hot: float, hot_c: float, share: float, ice_c: float, cold: float, cold_c: float, step: float) -> None:
    salt = share * hot

    def forward(ice: float) -> float:
        return chilling.mixed_temperature(hot / 1000, hot_c, cold / 1000, cold_c, ice / 1000, ice_c, 100 * salt / (hot + cold + ice))

    ice = solving.ice_for_temperature(wanted, hot, hot_c, salt, ice_c, cold, cold_c)
    if forward(0.0) <= wanted:
        assert ice == 0
        return
    within_the_rounding(forward, ice, wanted, step)


# Equal weights of boiling water and ice at 0 °C end at 10.2 °C, with ice of -18 at 5.8; 10 percent brine of 18.18 at 11.0 and 6.6 (half a degree allowed).
@pytest.mark.computed
@pytest.mark.parametrize(("wanted", "hot", "salt", "ice_c", "ice"), [(10.2, 1000, 0, 0, 1000), (5.8, 1000, 0, -18, 1000), (11.0, 1222.2, 222.2, 0, 1000), (6.6, 1222.2, 222.2, -18, 1000)])
def test_ice_of_the_note(wanted: float, hot: float, salt: float, ice_c: float, ice: float) -> None:
    assert solving.ice_for_temperature(wanted, hot, 100, salt, ice_c) == pytest.approx(ice, rel=0.02)


def test_ice_that_is_not_wanted_or_does_not_do() -> None:
    assert solving.ice_for_temperature(20, 1000, 15, 50) == 0.0
    with pytest.raises(ValueError, match="that cold"):
        solving.ice_for_temperature(-1, 1000, 100, 0)
    with pytest.raises(ValueError, match="that cold"):
        solving.ice_for_temperature(-8, 1000, 100, 100)
    assert solving.ice_for_temperature(-2, 1000, 100, 150) > 1000


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: solving.salt_for_meat(2, 1000, 1000, 0.7, 500), "the curing salt brings more"),
        (lambda: solving.salt_for_meat(0, 1000, 1000, 0.7), "no percent"),
        (lambda: solving.salt_for_brine(100, 1000), "no water in it"),
        (lambda: solving.cure_for_direct(150, 1000, 0), "a curing salt holds"),
        (lambda: solving.cure_for_pump(700, 0.1, 1000, 0.6), "too weak"),
        (lambda: weighable(10, 0), "nothing to weigh"),
        (lambda: weighable(-1, 1), "nothing to weigh"),
    ],
)
def test_what_cannot_be_is_refused(call: Callable[[], float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()


BAD = (0.0, -1.0, -273.15, 5e-324, 1e-300, 1e160, -1e160, 1.7e308, nan, inf, -inf)
CALLS: list[tuple[Callable[..., float | Exchange], tuple[float, ...]]] = [
    (weighable, (12.3, 0.1)),
    (solving.salt_for_meat, (2.5, 4000, 2300, 0.7, 2)),
    (solving.salt_for_brine, (7, 4000, 2)),
    (solving.cure_for_direct, (150, 2300, 6.25)),
    (solving.cure_for_equilibrium, (150, 2300, 4000, 6.25)),
    (solving.cure_for_pump, (150, 0.1, 4000, 6.25)),
    (solving.other_cure, (10, 6.25, 0.6, 93, 99)),
    (solving.ice_for_temperature, (5, 4000, 100, 300, -18, 500, 10)),
]


@pytest.mark.parametrize(("call", "good"), CALLS, ids=[call.__name__ for call, _ in CALLS])
def test_nonsense_is_refused_or_finite(call: Callable[..., float | Exchange], good: tuple[float, ...]) -> None:
    random = Random(call.__name__)
    wild = [[*good[:place], bad, *good[place + 1 :]] for place in range(len(good)) for bad in BAD]
    wild += [[random.choice((figure, *BAD)) for figure in good] for _ in range(2000)]
    for figures_in in wild:
        try:
            found = call(*figures_in)
        except ValueError:
            continue
        figures = [getattr(found, field) for field in found.__struct_fields__] if isinstance(found, Exchange) else [found]
        assert all(isfinite(figure) for figure in figures), figures_in
