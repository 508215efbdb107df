"""The days that rules of thumb give, set beside the days to the middle."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from overhaul.house import House
from overhaul.sums.trade import trade_days
from overhaul.sums.work import Sums
from tests.sums.recipes import POUND, fact, item, recipe

BRINE = (item("water", 4000), item("salt", 400), item("cure1", 30, nitrite=6.25))


def told(*items: Any, product: str | None = None, pieces: tuple[int, int] = (1, 1), **more: Any) -> list[tuple[str, float, float]]:
    made = recipe(*(items or BRINE), **more)
    assert made.process.meat is not None
    made = replace(made, product=product, process=replace(made.process, meat=replace(made.process.meat, pieces=pieces)))
    return [(one.formula, round(one.value.low, 2), round(one.value.high, 2)) for one in trade_days(Sums(made, House()))]


# A quarter inch a day and two days, 2 days a pound: common practice, no source. 3 in of corned beef in 14 days: Farmers' Bulletin 2263.
@pytest.mark.printed
def test_corned_beef_in_a_brine() -> None:
    assert told(mm=76.2, meat=6 * POUND) == [
        ("4.67 days an inch", 14.01, 14.01), ("a quarter inch a day from each open face, and 2 days", 8.0, 8.0), ("2 days a pound", 12.0, 12.0),
    ]  # fmt: skip


# Farmers' Bulletin 2265: 3.5 to 4 days to the pound in sweet pickle, 6 lb 24 days, 15 lb 60 days.
@pytest.mark.printed
@pytest.mark.parametrize(("pounds", "most"), [(6, 24), (15, 60)])
def test_a_ham_in_sweet_pickle_goes_by_its_own_rate(pounds: float, most: float) -> None:
    assert told(mm=None, meat=pounds * POUND, product="ham") == [("3.5 to 4 days a pound", 3.5 * pounds, most)]


# Five days an inch and an eighth of an inch a day in a rub: common practice, no source.
def test_in_a_rub() -> None:
    rub = (item("salt", 50), item("cure1", 5, nitrite=6.25))
    assert told(*rub, method="dry", mm=50.8, meat=4 * POUND) == [
        ("5 days an inch", 10.0, 10.0), ("an eighth of an inch a day from each open face", 8.0, 8.0), ("2 days a pound", 8.0, 8.0),
    ]  # fmt: skip


def test_the_weight_is_that_of_one_piece() -> None:
    assert told(mm=None, meat=10 * POUND, pieces=(2, 2))[-1] == ("2 days a pound", 10.0, 10.0)
    assert told(mm=None, meat=12 * POUND, pieces=(2, 3))[-1] == ("2 days a pound", 8.0, 12.0)


def test_nothing_for_the_needle() -> None:
    assert told(method="pumped", pump=fact(10, 10, "percent")) == []


def test_they_stand_beside_the_days_to_the_middle() -> None:
    found = Sums(recipe(*BRINE), House()).get("days_to_middle")
    assert found is not None
    assert [one.unit for one in found.beside] == ["day"] * 3
