from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.span import Span, between, corners, exactly

FINITE = st.floats(-1e6, 1e6)


def spans() -> st.SearchStrategy[Span]:
    return st.lists(st.floats(0.01, 1e4), min_size=3, max_size=3).map(lambda values: Span(*sorted(values)))


@pytest.mark.parametrize("values", [(2.0, 1.0, 3.0), (1.0, 4.0, 3.0), (float("nan"), 1.0, 2.0), (0.0, 1.0, float("inf"))])
def test_what_is_out_of_order_or_not_finite_is_no_span(values: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="not a span"):
        Span(*values)


def test_a_stated_range_has_its_middle_as_likely() -> None:
    assert between(7, 10) == Span(7, 8.5, 10)


def test_a_stated_value_is_exact() -> None:
    assert exactly(4.0).exact
    assert not Span(1, 2, 3).exact


@given(spans(), spans(), spans())
def test_corners_hold_what_random_draws_give(one: Span, two: Span, three: Span) -> None:
    def strength(a: float, b: float, c: float) -> float:
        return a / (a + b + c)

    found = corners(strength, one, two, three)
    draw = random.Random(7)
    for _ in range(50):
        value = strength(*(draw.uniform(span.low, span.high) for span in (one, two, three)))
        assert found.low - 1e-12 <= value <= found.high + 1e-12


@given(spans(), spans())
def test_an_input_used_twice_takes_one_value_at_a_time(one: Span, two: Span) -> None:
    found = corners(lambda a, b: a / (a + b), one, two)
    assert found.high <= one.high / (one.high + two.low) + 1e-9
