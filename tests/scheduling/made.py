"""Pages of the tests of scheduling, and a schedule of one."""

from __future__ import annotations

from datetime import date, datetime

from overhaul.house import House
from overhaul.scheduling.clock import Clock, served
from overhaul.scheduling.placing import Placed, Schedule, schedule
from overhaul.sums.work import Sums
from tests.conftest import recipe_of

CORNED = """Corned flats

1 brisket flat, 6 lb, 1 1/2 in. thick
6 lb cold water
8 oz kosher salt
16 g cure #1 (6.25% nitrite)

Stir salt and cure into the cold water, chill to 38 F.
Flat in under a plate. Walk-in at 38 F, {days}, turning {often}.
Rinse. Soak 2 hours in the walk-in. Simmer 3 hours, to 195 F inside. Rest 20 minutes, slice.
Left over: 135 to 70 F in 2 hours, 41 F in 4 more. Keeps 4 days at 38 F.
"""
HAM = """Boneless ham, pumped

1 boneless ham, 10 lb
1 quart water
5 oz pickling salt
26 g cure #1 (6.25% nitrite)

Stir it into the cold water, chill to 38 F. Pump 10 % of green weight.
Into a bag, air pressed out. Walk-in at 38 F, 4 days, turn it daily.
Rinse, soak 2 hours in the walk-in, dry on a rack overnight in the walk-in.
Smoke at 225 F to 160 F inside, 6 hours. Rest 20 minutes.
Cool 135 to 70 F in 2 hours, 41 F in 4 more. Good {keeps} days at 38 F.
"""
TODAY = date(2020, 1, 1)


def corned(days: str = "9 days", often: str = "every other day") -> str:
    return CORNED.format(days=days, often=often)


def planned(text: str, serve: datetime | None = None, closed: tuple[str, ...] = (), zone: str | None = None, today: date = TODAY) -> Schedule:
    """The schedule of ``text``; without ``serve`` one that no day binds."""
    recipe = recipe_of(text)
    clock = Clock(served(serve, zone), closed) if serve is not None else Clock(datetime(2001, 1, 1, 12), (), False)
    found = schedule(recipe, Sums(recipe, House()), clock, today)
    assert found is not None
    return found


def starts(plan: Schedule) -> list[str]:
    """``cure Mon 14 Dec 20:45``, in order of time."""
    return [f"{one.task.kind} {one.start:%a %d %b %H:%M}" for one in plan.placed]


def task(plan: Schedule, kind: str) -> Placed:
    found = plan.of(kind)
    assert found is not None, kind
    return found
