"""Larger and smaller: rounding, pieces, portions, tubs; by hand, by printed figures, and as properties."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.sums import nitrite, scaling

POUND, OUNCE = 453.59237, 28.349523125
GRAMS = st.floats(0, 1e6)
STEPS = st.sampled_from([0.01, 0.1, 0.5, 1.0, 2.0, 5.0])


@pytest.mark.parametrize(
    ("gram", "step", "told"),
    [(0.05, 0.1, 0.1), (0.15, 0.1, 0.2), (0.25, 0.1, 0.3), (17.25, 0.1, 17.3), (17.249, 0.1, 17.2), (2.5, 1, 3), (3.5, 1, 4), (12.4, 5, 10), (12.5, 5, 15), (0.0, 0.1, 0.0), (0.034, 0.1, 0.034), (0.0344, 0.1, 0.034)],
)
def test_what_a_scale_shows_with_ties_up_and_never_nothing_of_something(gram: float, step: float, told: float) -> None:
    assert scaling.shown(gram, step) == told


@given(GRAMS, STEPS)
def test_rounding_is_within_half_a_step_and_done_once(gram: float, step: float) -> None:
    told = scaling.shown(gram, step)
    assert abs(told - gram) <= step / 2 + 1e-8
    if told >= step:
        assert scaling.shown(told, step) == told
        assert (Fraction(str(round(told, 6))) / Fraction(str(step))).denominator == 1


@given(GRAMS, GRAMS, STEPS)
def test_more_never_shows_as_less(one: float, other: float, step: float) -> None:
    low, high = sorted((one, other))
    assert scaling.shown(low, step) <= scaling.shown(high, step)


@pytest.mark.parametrize(("gram", "step"), [(-1, 1), (1, 0), (1, -1), (float("nan"), 1), (float("inf"), 1), (1, float("nan"))])
def test_nothing_to_weigh(gram: float, step: float) -> None:
    with pytest.raises(ValueError, match="nothing to weigh"):
        scaling.shown(gram, step)


def test_too_fine_for_the_scale() -> None:
    assert scaling.too_fine(0.99, 0.1)
    assert not scaling.too_fine(1.0, 0.1)
    assert not scaling.too_fine(0.0, 0.1)


@pytest.mark.parametrize(
    ("count", "factor", "halves", "told"),
    [(4, 2, False, "8"), (4, 1.125, False, "5"), (1, 0.1, False, "1"), (3, 0.5, False, "2"), (1, 1.5, True, "3/2"), (1, 0.1, True, "1/2"), (2, 1.6, True, "3"), (0, 2, False, "0")],
)
def test_things_stay_whole(count: float, factor: float, halves: bool, told: str) -> None:
    assert scaling.counted(count, factor, halves=halves) == Fraction(told)


# Practitioners' sum: buy_lb = portions × portion_oz ÷ 16 ÷ yield. 22 portions at 5 oz and half the green weight are 13.75 lb: a packer of 14.
@pytest.mark.printed
def test_green_weight_for_portions() -> None:
    assert scaling.green_for_portions(22, 5 * OUNCE, 0.5) == pytest.approx(13.75 * POUND)
    assert scaling.pieces_for(13.75 * POUND, 14 * POUND) == 1


@given(st.integers(1, 500), st.floats(0.1, 5000))
def test_whole_pieces_are_enough_and_no_more_than_one_too_many(count: int, piece: float) -> None:
    assert scaling.pieces_for(count * piece, piece) == count
    assert scaling.pieces_for(count * piece * 1.001, piece) == count + 1


def test_a_tub_is_filled_to_its_head_room() -> None:
    factor = scaling.factor_for_tub(20, 0.1, 6, 3)
    assert factor == 2
    assert scaling.factor_for_brine(20, 0.1, 6, 3) == 2.5
    assert scaling.factor_for_brine(3, 0.1, 6, 3) < 0


@given(st.floats(1, 100), st.floats(500, 50_000), st.floats(500, 50_000), st.floats(500, 50_000), st.floats(500, 50_000))
def test_curing_salt_for_another_share_of_brine_keeps_the_nitrite_as_one_system(cure: float, meat: float, pickle: float, meat_now: float, pickle_now: float) -> None:
    gram = scaling.cure_for_brine(cure, meat, pickle + cure, meat_now, pickle_now)
    before = nitrite.equilibrium(cure * 0.0625, meat, pickle + cure)
    assert nitrite.equilibrium(gram * 0.0625, meat_now, pickle_now + gram) == pytest.approx(before)


@pytest.mark.parametrize("call", [lambda: scaling.green_for_portions(1, 1, 0), lambda: scaling.pieces_for(1, 0), lambda: scaling.factor_for_tub(1, 0.1, 0, 0), lambda: scaling.factor_for_brine(1, 0.1, 0, 1), lambda: scaling.counted(1, float("inf"))])
def test_what_cannot_be(call: object) -> None:
    with pytest.raises(ValueError, match=r"no |nothing"):
        call()  # type: ignore[operator]
