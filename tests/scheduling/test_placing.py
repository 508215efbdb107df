"""Tasks in their days: pinned dates, and what must hold of every plan."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.house import House
from overhaul.recipe import read_page
from overhaul.recipe.model import Recipe
from overhaul.scheduling.clock import WEEKDAYS, Clock, served
from overhaul.scheduling.placing import Placed, Schedule, schedule
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.conftest import CORPUS
from tests.scheduling.made import HAM, TODAY, corned, planned, starts, task

EVE = datetime(2026, 12, 24, 11)
RECIPES = sorted(path for path in CORPUS.rglob("*") if path.suffix in (".txt", ".md") and path.name != "README.md")


def test_worked_back_from_the_serving() -> None:
    assert starts(planned(corned(), EVE)) == [
        "brine Mon 14 Dec 16:15", "chill Mon 14 Dec 16:45", "cure Mon 14 Dec 20:45", "out Wed 23 Dec 20:45", "soak Wed 23 Dec 21:00",
        "cook Thu 24 Dec 07:00", "rest Thu 24 Dec 10:00", "slice Thu 24 Dec 10:30",
    ]  # fmt: skip


def test_cooked_ahead_cooled_by_day_and_kept() -> None:
    plan = planned(HAM.format(keeps=7), EVE)
    assert starts(plan)[-3:] == ["smoke Wed 23 Dec 08:30", "rest Wed 23 Dec 14:30", "cool Wed 23 Dec 15:00"]
    assert task(plan, "cool").waits == 14


@pytest.mark.parametrize(
    ("serve", "into", "out"),
    [
        (datetime(2028, 3, 4, 18), "Sat 26 Feb 11:45", "Sat 04 Mar 11:45"),  # over 29 February
        (datetime(2027, 3, 4, 18), "Thu 25 Feb 11:45", "Thu 04 Mar 11:45"),  # a year without one
        (datetime(2027, 1, 3, 18), "Sun 27 Dec 11:45", "Sun 03 Jan 11:45"),  # over the year's end
        (datetime(2027, 5, 3, 18), "Mon 26 Apr 11:45", "Mon 03 May 11:45"),  # a month of thirty days
        (datetime(2028, 2, 29, 18), "Tue 22 Feb 11:45", "Tue 29 Feb 11:45"),
    ],
)
def test_seven_days_are_seven_days(serve: datetime, into: str, out: str) -> None:
    plan = planned(corned("7 days"), serve)
    assert [f"{task(plan, kind).start:%a %d %b %H:%M}" for kind in ("cure", "out")] == [into, out]


SMOKED = "Brisket\n\n1 brisket flat, 6 lb\n2 oz salt\n\nRub with the salt. Smoke at 225 F for 24 hours to 203 F inside. Slice.\n"


@pytest.mark.parametrize(
    ("serve", "zone", "start"),
    [
        (datetime(2027, 3, 28, 18), "Europe/Berlin", "Sat 27 Mar 16:30"),  # 24 hours over the night of 23
        (datetime(2026, 10, 25, 18), "Europe/Berlin", "Sat 24 Oct 18:30"),  # and over that of 25
        (datetime(2027, 3, 28, 18), None, "Sat 27 Mar 17:30"),
        (datetime(2027, 3, 28, 18), "America/New_York", "Sat 27 Mar 17:30"),  # its clocks changed two weeks before
    ],
)
def test_a_day_of_smoking_over_the_change_of_the_clocks(serve: datetime, zone: str | None, start: str) -> None:
    plan = planned(SMOKED, serve, zone=zone)
    assert f"{task(plan, 'smoke').start:%a %d %b %H:%M}" == start
    assert task(plan, "smoke").takes == 24


def test_cooling_over_the_change_of_the_clocks_is_six_hours() -> None:
    page = HAM.format(keeps=7).replace("6 hours. Rest", "4 hours. Rest")
    for zone in ("Europe/Berlin", None):
        plan = planned(page, datetime(2026, 10, 25, 6), zone=zone)
        cool = task(plan, "cool")
        assert plan.clock.before(cool.start) - plan.clock.before(cool.end) == 6 * 60


def test_the_long_end_is_planned_and_both_are_told() -> None:
    cure = task(planned(corned("7 to 10 days"), EVE), "cure")
    assert cure.takes >= 9.5 * 24
    assert cure.earliest_out is not None and cure.earliest_out - cure.start == timedelta(days=7)
    assert cure.latest_in is not None and cure.end - cure.latest_in == timedelta(days=7)


def test_for_want_of_time_the_short_end_is_planned() -> None:
    assert not planned(corned("7 to 10 days"), EVE, today=date(2026, 12, 13)).short
    plan = planned(corned("7 to 10 days"), EVE, today=date(2026, 12, 16))
    assert plan.short and plan.too_late is None and plan.first.start.date() == date(2026, 12, 16)
    assert 7 * 24 <= task(plan, "cure").takes < 7.1 * 24


def test_too_late_says_when_and_what_next() -> None:
    plan = planned(corned("9 days"), EVE, today=date(2026, 12, 20))
    assert plan.too_late is not None
    assert plan.too_late.latest == datetime(2026, 12, 14, 16, 15)
    # Nine days and a half earlier must be after the 20th.
    assert plan.too_late.next_serve == datetime(2026, 12, 31, 11)
    again = planned(corned("9 days"), plan.too_late.next_serve, today=date(2026, 12, 21))
    assert again.too_late is None and again.first.start.date() == date(2026, 12, 21)


def test_a_serving_long_past() -> None:
    plan = planned(corned("9 days"), datetime(2020, 1, 5, 11), today=date(2026, 12, 20))
    assert plan.too_late is not None and plan.too_late.next_serve == datetime(2026, 12, 31, 11)


def test_the_next_serving_is_not_on_a_closed_day() -> None:
    plan = planned(corned("9 days"), EVE, ("Thu",), today=date(2026, 12, 20))
    assert plan.too_late is not None and plan.too_late.next_serve is not None
    assert plan.too_late.next_serve.strftime("%a") != "Thu"


def test_a_closed_day_is_stepped_over_within_the_range_and_it_is_said() -> None:
    plan = planned(corned("8 to 10 days"), EVE, ("Mon", "Sun"))
    free = planned(corned("8 to 10 days"), EVE)
    assert task(free, "cure").start.strftime("%a") in ("Sun", "Mon")
    cure = task(plan, "cure")
    assert cure.start.strftime("%a") not in ("Sun", "Mon") and 8 * 24 <= cure.takes <= 10 * 24
    assert cure.notes == (f"moved from {free.of('cure').start:%a} {free.of('cure').start.day} Dec, a closed day",)  # type: ignore[union-attr]


def test_a_closed_day_that_cannot_be_avoided_is_flagged_never_silent() -> None:
    plan = planned(corned("9 days"), EVE, ("Thu",))
    assert task(plan, "cook").notes == ("Thu 24 Dec is a closed day, and this cannot be moved off it: what follows comes straight after it",)
    assert plan.notes == ("The serving itself falls on Thu 24 Dec, a closed day.",)


def test_frozen_meat_is_out_of_the_freezer_in_time() -> None:
    page = corned("9 days").replace("1 brisket flat, 6 lb,", "2 brisket flats, frozen, 12 lb in all,").replace("Stir salt", "Thaw in the walk-in. Stir salt")
    plan = planned(page, EVE)
    thaw = task(plan, "thaw")
    # 6 lb a piece at 4 to 5 lb a day: 28.8 to 36 hours, and thawed before the meat goes in.
    assert plan.placed[0] is thaw and 28.8 <= thaw.takes <= 36.25
    assert thaw.end <= task(plan, "cure").start


def test_without_a_serving_there_are_distances_only() -> None:
    plan = planned(corned("9 days"))
    assert plan.turning is None and plan.too_late is None and not any(one.notes for one in plan.placed)
    # Slice, rest, simmer, soak, out: 4.75 hours after rounding, then nine days.
    assert task(plan, "cure").before == 9 * 24 * 60 + task(plan, "out").before


def test_what_has_no_time_is_told_so_and_left_room() -> None:
    plan = planned(HAM.format(keeps=7).replace(", 6 hours", ""), EVE)
    assert task(plan, "smoke").task.lasts.said == "unknown"
    assert task(plan, "smoke").takes == 8


def test_a_hold_is_not_how_long_it_smokes() -> None:
    plan = planned(HAM.format(keeps=7).replace("inside, 6 hours", "inside, and keep it there for thirty minutes"), EVE)
    assert task(plan, "smoke").task.lasts.said == "unknown"


def test_keeping_is_no_longer_than_the_limit() -> None:
    assert planned(HAM.format(keeps=21), EVE).work.keeps_days == 7
    assert planned(HAM.format(keeps=3), EVE).work.keeps_days == 3


# -- what must hold of every plan


@st.composite
def pages(draw: st.DrawFn) -> str:
    low = draw(st.integers(1, 21))
    high = low + draw(st.integers(0, 6))
    days = f"{low} days" if high == low else f"{low} to {high} days"
    if draw(st.booleans()):
        return corned(days, draw(st.sampled_from(["daily", "every other day", "on days 3 and 5"]))).replace("Soak 2 hours", f"Soak {draw(st.integers(1, 24))} hours").replace("Simmer 3 hours", f"Simmer {draw(st.integers(1, 8))} hours")
    return HAM.format(keeps=draw(st.integers(1, 9))).replace("4 days", days).replace("6 hours", f"{draw(st.integers(1, 14))} hours")


SERVINGS = st.datetimes(datetime(2024, 1, 1), datetime(2030, 12, 31)).map(lambda when: when.replace(second=0, microsecond=0))
CLOSED = st.sets(st.sampled_from(WEEKDAYS), max_size=4).map(lambda days: tuple(sorted(days)))


def check(plan: Schedule) -> None:
    clock = plan.clock
    chain = [one for one in plan.placed if one.task.kind != "thaw"]
    for before, after in pairwise(plan.placed):
        assert before.before >= after.before
    for one, following in pairwise(chain):
        ends = clock.before(one.end)
        assert ends >= following.before, f"{one.task.kind} runs into {following.task.kind}"
        # It stands no longer than it may, but for what rounding to quarters leaves over.
        assert ends - following.before <= one.task.after * 60 + 15
    for one in plan.placed:
        lasts = one.task.lasts
        assert lasts.low - 0.01 <= one.takes <= lasts.most + 0.26 or plan.short
        assert one.takes >= lasts.low - 0.01
        if clock.bound and one.task.kind != "wrap" and clock.is_closed(one.start):
            assert any("closed day, and this cannot be moved" in note for note in one.notes)
    assert clock.before(plan.placed[-1].end) >= 0
    kept_within(plan)


def kept_within(plan: Schedule) -> None:
    """What is cooked ahead is served within its days, the day of cooking counted as the first."""
    if plan.work.keeps_days is None or not plan.clock.bound:
        return
    hot = [one for one in plan.placed if one.task.kind in ("smoke", "cook")]
    if hot and plan.of("cool") is not None and task(plan, "cool").waits:
        assert (plan.clock.serve.date() - hot[-1].end.date()).days < plan.work.keeps_days


@given(pages(), SERVINGS, CLOSED, st.sampled_from([None, "Europe/Berlin", "America/New_York", "Australia/Lord_Howe"]))
def test_ordered_apart_long_enough_and_off_closed_days(page: str, serve: datetime, closed: tuple[str, ...], zone: str | None) -> None:
    try:
        plan = planned(page, serve, closed, zone)
    except ValueError as problem:
        assert "leave out" in str(problem)
        return
    check(plan)


@given(pages(), SERVINGS, st.integers(-400, 400))
def test_another_day_moves_everything_by_as_much(page: str, serve: datetime, days: int) -> None:
    here, there = planned(page, serve), planned(page, serve + timedelta(days=days), today=date(2000, 1, 1))
    assert [(one.task.kind, one.start + timedelta(days=days)) for one in here.placed] == [(one.task.kind, one.start) for one in there.placed]


@given(pages(), SERVINGS, CLOSED)
def test_closed_days_never_shorten_a_cure_under_its_least(page: str, serve: datetime, closed: tuple[str, ...]) -> None:
    cure = task(planned(page, serve, closed), "cure")
    assert cure.end - cure.start >= timedelta(hours=cure.task.lasts.low)


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
@pytest.mark.parametrize("closed", [(), ("Mon",), ("Sun", "Mon")])
def test_every_recipe_of_the_corpus(path: Path, closed: tuple[str, ...]) -> None:
    for recipe in read_page(Page(path.read_text("utf-8"), path.name), House()):
        for way in recipe.ways or (recipe,):
            plan = schedule(way, Sums(way, House()), Clock(served(EVE, "Europe/Berlin"), closed), TODAY)
            if plan is None:  # a note among the recipes
                assert not way.ingredients or "hard-writing" in str(path)
                continue
            check(plan)
            assert all(_stands_on_it(one, way) for one in plan.placed)


def _stands_on_it(one: Placed, recipe: Recipe) -> bool:
    """The words of a task are the page's, and on the lines it names."""
    return all(" ".join(words.split()) in " ".join(recipe.page.text.split()) for words in [one.task.words[:20]]) and all(recipe.first_line <= line <= recipe.last_line for line in one.task.lines)
