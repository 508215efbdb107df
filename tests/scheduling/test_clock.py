"""The kitchen's clock: quarters of an hour, closed days, and the nights when the clocks change."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.scheduling.clock import Clock, NoSuchTime, day_name, served, zone

BERLIN = "Europe/Berlin"


@pytest.mark.parametrize(
    ("serve", "name", "hours", "shown"),
    [
        (datetime(2027, 3, 28, 12), BERLIN, 24, "Sat 27 Mar 11:00"),  # the clocks go on at 02:00: that day has 23 hours
        (datetime(2026, 10, 25, 12), BERLIN, 24, "Sat 24 Oct 13:00"),  # and back at 03:00: that one has 25
        (datetime(2027, 3, 14, 12), "America/New_York", 24, "Sat 13 Mar 11:00"),
        (datetime(2027, 3, 28, 12), None, 24, "Sat 27 Mar 12:00"),  # no zone: the clock runs on
        (datetime(2028, 3, 1, 12), None, 24, "Tue 29 Feb 12:00"),
        (datetime(2027, 3, 1, 12), None, 24, "Sun 28 Feb 12:00"),
        (datetime(2027, 1, 1, 6), None, 8, "Thu 31 Dec 22:00"),
    ],
)
def test_so_many_hours_before(serve: datetime, name: str | None, hours: int, shown: str) -> None:
    when = Clock(served(serve, name)).at(hours * 60)
    assert f"{day_name(when)} {when:%H:%M}" == shown


@given(st.integers(0, 400 * 24 * 60), st.sampled_from([None, BERLIN, "Australia/Lord_Howe", "Asia/Kathmandu"]))
def test_minutes_before_and_back(minutes: int, name: str | None) -> None:
    clock = Clock(served(datetime(2027, 6, 1, 11, 20), name))
    assert clock.before(clock.at(minutes)) == minutes


@given(st.integers(0, 10_000), st.integers(0, 59))
def test_a_quarter_is_a_quarter_and_never_later(minutes: int, past: int) -> None:
    clock = Clock(datetime(2027, 6, 1, 11, past))
    found = clock.quarter(minutes)
    assert 0 <= found - minutes < 15
    assert clock.at(found).minute % 15 == 0


def test_a_time_that_the_clocks_leave_out() -> None:
    with pytest.raises(NoSuchTime, match="the clocks of Europe/Berlin leave out 02:30 on 2027-03-28"):
        served(datetime(2027, 3, 28, 2, 30), BERLIN)


def test_of_a_time_that_comes_twice_the_first_is_meant() -> None:
    assert served(datetime(2026, 10, 25, 2, 30), BERLIN).astimezone(UTC).hour == 0


@pytest.mark.parametrize("name", ["Mars/Base", "", "../../etc/passwd", "/etc/passwd", "Europe", "\0"])
def test_an_unknown_zone(name: str) -> None:
    with pytest.raises(NoSuchTime, match="no time zone is called"):
        zone(name)


def test_closed_days_and_nights_count_only_where_days_matter() -> None:
    monday = datetime(2026, 12, 21, 23)
    assert Clock(monday, ("Mon",)).is_closed(monday) and Clock(monday).at_night(monday)
    assert not Clock(monday, ("Mon",), False).is_closed(monday) and not Clock(monday, (), False).at_night(monday)
    assert not Clock(monday).at_night(datetime(2026, 12, 21, 6)) and not Clock(monday).at_night(datetime(2026, 12, 21, 21))
