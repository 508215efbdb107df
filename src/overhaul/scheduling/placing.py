"""Tasks put into the days before a serving.

From the serving backwards every task may start at any time that its length, and the wait allowed between it and the next, leave open.
Of all those ways the one is taken that starts no work on a closed day, then none at night, then everything as late as may be.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from overhaul.recipe.model import Recipe
from overhaul.scheduling.clock import Clock, day_name
from overhaul.scheduling.lasting import in_words
from overhaul.scheduling.tasks import Task, Work, work
from overhaul.scheduling.turning import Turning, turning
from overhaul.sums.work import Sums

_CLOSED, _NIGHT = 1e9, 1e4  # what a start on a closed day, and one at night, weigh against an hour of waiting
_WAIT, _SHORTER, _LONGER = 1.0, 0.5, 3.0  # an hour of waiting; an hour less than the long end; an hour of cure more than the page's
_CHOICES = 72  # most lengths, and most waits, that are tried for one task
_HOUR = 60
_SEARCHED = 120  # days that are tried for the next serving


class Placed(Struct, frozen=True):
    """A task with its time. ``waits`` are the hours it then stands; ``takes`` the hours that are planned for it."""

    task: Task
    start: datetime
    end: datetime
    before: int  # minutes before the serving
    takes: float
    waits: float = 0
    notes: tuple[str, ...] = ()
    earliest_out: datetime | None = None  # of a cure
    latest_in: datetime | None = None


class TooLate(Struct, frozen=True):
    """It had to be started on ``latest``; ``next_serve`` is the first serving after it that can be met, if one was found."""

    latest: datetime
    next_serve: datetime | None


class Schedule(Struct, frozen=True):
    """All tasks by time; ``after`` have none."""

    clock: Clock
    placed: tuple[Placed, ...]
    turning: Turning | None
    after: tuple[Task, ...]
    work: Work
    short: bool = False  # the short end of what the page gives is planned for, for want of time
    too_late: TooLate | None = None
    notes: tuple[str, ...] = ()

    @property
    def first(self) -> Placed:
        return self.placed[0]

    def of(self, kind: str) -> Placed | None:
        return next((one for one in self.placed if one.task.kind == kind), None)


def schedule(recipe: Recipe, sums: Sums, clock: Clock, today: date) -> Schedule | None:
    """The tasks of ``recipe`` before the serving of ``clock``; None where there is nothing to do.

    Where the long ends of what the page gives would have begun before ``today``, the short ends are tried.
    """
    found = work(recipe, sums)
    if not found.main and found.thaw is None:
        return None
    planned, short = _placed(found, clock, False), False
    late: TooLate | None = None
    if clock.bound and planned[0].start.date() < today:
        hurried = _placed(found, clock, True)
        planned, short = (hurried, True) if hurried[0].start > planned[0].start else (planned, False)
        if planned[0].start.date() < today:
            late = TooLate(planned[0].start, _next_serving(found, clock, today))
    if clock.bound and clock.closed:
        planned = _moves(planned, _placed(found, replace(clock, closed=()), short), clock)
    planned = [replace(one, notes=(*one.task.notes, *one.notes)) for one in planned]
    cure = next((one for one in planned if one.task.kind == "cure"), None)
    turned = turning(recipe, cure.start.date(), cure.end.date(), clock) if cure is not None and clock.bound else None
    return Schedule(clock, tuple(planned), turned, found.after, found, short, late, tuple(_notes(clock)))


def _notes(clock: Clock) -> Iterator[str]:
    if clock.bound and clock.is_closed(clock.serve):
        yield f"The serving itself falls on {day_name(clock.serve)}, a closed day."


def _next_serving(found: Work, clock: Clock, today: date) -> datetime | None:
    """The first later day, at the same time of day, for which all can still be started tomorrow or after; not on a closed day."""
    fallback: datetime | None = None
    gap = max(1, (today - _placed(found, clock, True)[0].start.date()).days)
    for days in range(gap, gap + _SEARCHED):
        serve = clock.serve + timedelta(days=days)
        if serve.date() <= today or clock.is_closed(serve):
            continue
        plan = _placed(found, replace(clock, serve=serve), True)
        if plan[0].start.date() <= today:
            continue
        if not any(clock.is_closed(one.start) for one in plan if one.task.kind != "wrap"):
            return serve
        fallback = fallback or serve
        if (serve - fallback).days > 14:
            return fallback
    return fallback


def _placed(found: Work, clock: Clock, short: bool) -> list[Placed]:
    """Every task with its time, by time."""
    main = _back(found.main, 0, clock, short)
    if found.thaw is not None:
        at = main[found.meat_in].before if found.meat_in < len(main) else 0
        main = [*_back((found.thaw,), at, clock, short), *main]
    order = sorted(range(len(main)), key=lambda index: (-main[index].before, index))
    return [main[index] for index in order]


class _Step(Struct, frozen=True):
    """The best way from one start on: what it costs, how long the task takes and then waits, minutes, and where the next begins."""

    cost: float
    takes: int
    waits: int
    following: int


def _back(tasks: tuple[Task, ...], end: int, clock: Clock, short: bool) -> list[Placed]:
    """``tasks`` one after the other, the last ready ``end`` minutes before the serving."""
    ways: list[dict[int, _Step]] = []
    following: dict[int, float] = {end: 0.0}
    for task in reversed(tasks):
        here: dict[int, _Step] = {}
        lengths = list(_lengths(task, short))
        waits = list(_steps(0, round(task.after * _HOUR))) if clock.bound else [0]
        for next_start, so_far in following.items():
            for wait in waits:
                for length, price in lengths:
                    start = clock.quarter(next_start + wait + length)
                    cost = so_far + wait / _HOUR * _WAIT + price
                    known = here.get(start)
                    if known is None or cost < known.cost:
                        here[start] = _Step(cost, length, wait, next_start)
        if task.lasts.most or task.kind != "wrap":
            here = {start: replace(step, cost=step.cost + _trouble(task, start, step, clock)) for start, step in here.items()}
        ways.append(here)
        following = {start: step.cost for start, step in here.items()}
    ways.reverse()
    return list(_read_off(tasks, ways, clock))


def _trouble(task: Task, start: int, step: _Step, clock: Clock) -> float:
    """Of a start; and of a cool-down that ends at night, for somebody has to take its temperature then."""
    begins = clock.at(start)
    late = task.kind == "cool" and clock.at_night(clock.at(start - step.takes))
    return _CLOSED * clock.is_closed(begins) + _NIGHT * clock.at_night(begins) + _NIGHT / 4 * late


def _read_off(tasks: tuple[Task, ...], ways: list[dict[int, _Step]], clock: Clock) -> Iterator[Placed]:
    if not ways:
        return
    start = min(ways[0], key=lambda minutes: (ways[0][minutes].cost, minutes))
    for task, here in zip(tasks, ways, strict=True):
        step = here[start]
        # What rounding to the quarter leaves over belongs to a cure, which may be longer, and is spare after everything else.
        ends = step.following + step.waits if task.kind == "cure" else start - step.takes
        yield _one(task, start, ends, step, clock)
        start = step.following


def _one(task: Task, start: int, ends: int, step: _Step, clock: Clock) -> Placed:
    begins, over = clock.at(start), clock.at(ends)
    notes: list[str] = []
    if task.kind != "wrap" and clock.is_closed(begins):
        notes.append(f"{day_name(begins)} is a closed day, and this cannot be moved off it: {_why(task)}")
    elif task.kind != "wrap" and clock.at_night(begins):
        notes.append(f"starts at night, {_why(task)}")
    takes = (start - ends) / _HOUR
    placed = Placed(task, begins, over, start, takes, step.waits / _HOUR, tuple(notes))
    if task.kind != "cure":
        return placed
    return replace(placed, earliest_out=clock.at(start - ceil(task.lasts.low * _HOUR)), latest_in=clock.at(ends + ceil(task.lasts.low * _HOUR)))


def _why(task: Task) -> str:
    if task.kind in ("cure", "pump"):
        return f"the page gives {in_words(task.lasts.low, task.lasts.high)}, and what follows may wait no longer" if task.kind == "cure" else "the cure begins with it"
    return "nothing may stand that long between it and what follows" if task.after else "what follows comes straight after it"


def _lengths(task: Task, short: bool) -> Iterator[tuple[int, float]]:
    """Minutes that the task may take, with the price of each: the long end is wanted, or the short one where time is short."""
    low, high, most = (ceil(value * _HOUR - 1e-6) for value in (task.lasts.low, task.lasts.high, task.lasts.most))
    if not _goes_on_alone(task):
        yield (low if short else high), 0.0
        return
    wanted = low if short else high
    for length in {*_steps(low, high), wanted, *_steps(high, most)}:
        hours = (length - wanted) / _HOUR
        yield length, hours * (_LONGER if task.kind == "cure" else _WAIT) if hours > 0 else -hours * _SHORTER


def _goes_on_alone(task: Task) -> bool:
    """Whether its length is free within what the page gives: it needs nobody there."""
    return task.kind in ("thaw", "cure", "soak", "equalize", "dry", "hang", "stand")


def _steps(low: int, high: int) -> Iterator[int]:
    """From low to high by the hour, or by more hours where that would be too many."""
    size = max(1, ceil((high - low) / _HOUR / _CHOICES)) * _HOUR
    yield from range(low, high, size)
    yield high


def _moves(planned: list[Placed], free: list[Placed], clock: Clock) -> list[Placed]:
    """Where a task would have stood on a closed day, its row says that it was moved."""
    would = {id(one.task): one.start for one in free}
    found = []
    for one in planned:
        then = would.get(id(one.task))
        if then is not None and clock.is_closed(then) and not clock.is_closed(one.start):
            found.append(replace(one, notes=(*one.notes, f"moved from {day_name(then)}, a closed day")))
        else:
            found.append(one)
    return found
