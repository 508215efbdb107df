"""The days on which the meat is turned: day 1 is the day it goes in."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.scheduling.clock import WEEKDAYS, Clock
from overhaul.scheduling.turning import Turning, turning
from tests.conftest import recipe_of
from tests.scheduling.made import corned

INTO, OUT = date(2026, 12, 14), date(2026, 12, 23)  # Monday to Wednesday


def turned(often: str, closed: tuple[str, ...] = (), out: date = OUT) -> Turning:
    found = turning(recipe_of(corned(often=often)), INTO, out, Clock(datetime(2026, 12, 24, 11), closed))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("often", "days"),
    [
        ("every other day", [3, 5, 7, 9]),
        ("it every second day", [3, 5, 7, 9]),
        ("daily", [2, 3, 4, 5, 6, 7, 8, 9]),
        ("every day", [2, 3, 4, 5, 6, 7, 8, 9]),
        ("once a day", [2, 3, 4, 5, 6, 7, 8, 9]),
        ("every third day", [4, 7]),
        ("on days 3, 6 and 8", [3, 6, 8]),
        ("them now and then", []),
    ],
)
def test_how_often(often: str, days: list[int]) -> None:
    assert [turn.day for turn in turned(often).turns] == days


def test_what_the_page_does_not_say_is_said() -> None:
    assert turned("them now and then").words == "the page does not say how often"


def test_twice_a_day_is_one_day_and_says_so() -> None:
    found = turned("twice a day")
    assert found.twice and len(found.turns) == 8


def test_a_turn_on_a_closed_day_goes_to_the_day_before_and_says_so() -> None:
    assert [(turn.on.day, turn.day, turn.note) for turn in turned("every other day", ("Fri",)).turns] == [
        (16, 3, None), (17, 4, "Thu 17 Dec instead of Fri 18 Dec, a closed day"), (20, 7, None), (22, 9, None),
    ]  # fmt: skip


def test_the_day_after_where_the_day_before_is_the_one_it_went_in() -> None:
    assert next((turn.on.day, turn.note) for turn in turned("every third day", ("Thu", "Wed", "Tue")).turns) == (18, "Fri 18 Dec instead of Thu 17 Dec, a closed day")


def test_a_daily_turn_on_a_closed_day_is_not_done_twice_next_day_without_a_word() -> None:
    found = turned("daily", ("Sun",))
    assert [turn.on.day for turn in found.turns] == [15, 16, 17, 18, 19, 21, 22]
    assert [turn.note for turn in found.turns if turn.note] == ["Sun 20 Dec is closed: the turn of Sat 19 Dec stands for both"]


def test_nobody_there_at_all() -> None:
    found = turned("every other day", WEEKDAYS)
    assert [turn.note for turn in found.turns] == [f"{name} is closed, and so is every day near it: somebody has to come in" for name in ("Wed 16 Dec", "Fri 18 Dec", "Sun 20 Dec", "Tue 22 Dec")]


def test_month_end_and_leap_day() -> None:
    recipe = recipe_of(corned(often="daily"))
    found = turning(recipe, date(2028, 2, 27), date(2028, 3, 2), Clock(datetime(2028, 3, 3, 11)))
    assert found is not None
    assert [(turn.on.month, turn.on.day, turn.day) for turn in found.turns] == [(2, 28, 2), (2, 29, 3), (3, 1, 4)]
    found = turning(recipe, date(2027, 2, 27), date(2027, 3, 2), Clock(datetime(2027, 3, 3, 11)))
    assert found is not None
    assert [(turn.on.month, turn.on.day, turn.day) for turn in found.turns] == [(2, 28, 2), (3, 1, 3)]


@given(st.sets(st.sampled_from(WEEKDAYS)), st.sampled_from(["daily", "every other day", "every third day"]), st.integers(2, 30))
def test_turns_lie_inside_the_cure_each_on_a_day_of_its_own_and_open_unless_it_is_said(closed: set[str], often: str, days: int) -> None:
    out = date.fromordinal(INTO.toordinal() + days)
    found = turned(often, tuple(closed), out)
    on = [turn.on for turn in found.turns]
    assert on == sorted(set(on)) and all(INTO < one < out for one in on)
    for turn in found.turns:
        assert turn.day == (turn.on - INTO).days + 1
        assert WEEKDAYS[turn.on.weekday()] not in closed or "somebody has to come in" in (turn.note or "")
