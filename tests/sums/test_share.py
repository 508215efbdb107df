"""Shares of the green weight."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.span import Span, exactly
from overhaul.sums.share import percent_of_green, pumped_gram


@pytest.mark.printed
def test_ten_pounds_pumped_with_one_weigh_eleven() -> None:
    """10 lb and 1 lb of pickle are 10 percent pump, 11 lb: the trade's own definition (glossary of percent pump)."""
    assert pumped_gram(10, 10) == pytest.approx(11)


@pytest.mark.computed
def test_an_ounce_to_twenty_five_pounds_is_a_quarter_of_a_percent() -> None:
    """1 oz of 400 oz: 0.25 %; between 1 and 2 oz of 400 to 500 oz it is 0.2 to 0.5 %."""
    assert percent_of_green(exactly(28.349523), exactly(25 * 453.59237)).likely == pytest.approx(0.25)
    spread = percent_of_green(Span(1, 1.5, 2), Span(400, 450, 500))
    assert (spread.low, spread.high) == pytest.approx((0.2, 0.5))


@given(st.floats(1, 1e6), st.floats(0, 50))
def test_the_percent_comes_back_from_the_weights(green: float, percent: float) -> None:
    assert 100 * (pumped_gram(green, percent) - green) / green == pytest.approx(percent, abs=1e-6)
