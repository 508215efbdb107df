from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.reading import numbers
from overhaul.reading.tree import Chain, Measure, parse


def only(text: str) -> Measure:
    (item,) = parse(text)
    assert isinstance(item, Chain)
    first = item.first
    assert isinstance(first, Measure)
    return first


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("3", 3), ("1.5", "3/2"), (".75", "3/4"), ("1,5", "3/2"), ("1,000", 1000), ("12,500.5", "25001/2"), ("1/2", "1/2"), ("1 1/2", "3/2"), ("1-1/2", "3/2"),
        ("1 and 1/2", "3/2"), ("1½", "3/2"), ("1 ½", "3/2"), ("½", "1/2"), ("⅔", "2/3"), ("⅛", "1/8"), ("half a cup", "1/2"), ("a dozen", 12), ("half a dozen", 6),
        ("two", 2), ("twelve", 12), ("twenty-four", 24), ("one and a half", "3/2"), ("three quarters of a", "3/4"), ("a hundred", 100), ("five hundred", 500),
        ("a hundred and twenty", 120), ("a couple of", 2), ("five eighths", "5/8"), ("quarter cup", "1/4"),
    ],
)  # fmt: skip
def test_every_form_of_number(text: str, value: int | str) -> None:
    assert only(text).low == Fraction(value)
    assert only(text).doubt is None


@pytest.mark.parametrize(
    ("text", "value", "doubt"),
    [
        ("11/2 c", "3/2", "“11/2”: 1 1/2, or 11 over 2?"),
        ("2 /14 tsp", "9/4", "“2 /14”: 2 1/4, or 2 and 14?"),
        ("1/0", 1, "“1/0” has nothing under the stroke"),
        ("1 3/0", 1, "“1 3/0” has nothing under the stroke"),
    ],
)
def test_a_misprint_is_doubted(text: str, value: int | str, doubt: str) -> None:
    assert only(text).low == Fraction(value)
    assert only(text).doubt == doubt


def test_a_form_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="no number form: WORD"):
        numbers.read("WORD", "salt")


@given(st.integers(0, 99_999), st.integers(1, 15), st.sampled_from([2, 3, 4, 8, 16]))
def test_mixed_numbers_are_exact(whole: int, top: int, bottom: int) -> None:
    if top < bottom:
        assert only(f"{whole} {top}/{bottom} lb").low == whole + Fraction(top, bottom)
