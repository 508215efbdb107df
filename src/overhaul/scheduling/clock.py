"""The kitchen's time: so many minutes before the serving, as its clock on the wall shows them.

With a zone a change of the clocks is counted: 24 hours are 24 hours. Without one the clock is taken to run on.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct

from overhaul import facts

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
QUARTER = 15  # minutes: work starts on a quarter of an hour


class NoSuchTime(ValueError):
    """A zone that is not known, or a time of day that the clocks leave out."""


def zone(name: str) -> ZoneInfo:
    """The zone of this name (``Europe/Berlin``). Raises NoSuchTime."""
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        raise NoSuchTime(f"no time zone is called “{name}”; they are named like Europe/Berlin") from None


def served(when: datetime, zone_name: str | None) -> datetime:
    """``when`` on the clock of the kitchen. Of a time that comes twice, as the clocks go back, the first is meant.

    Raises NoSuchTime where the clocks leave that time out.
    """
    if zone_name is None or when.tzinfo is not None:
        return when
    local = when.replace(tzinfo=zone(zone_name))
    if local.astimezone(UTC).astimezone(local.tzinfo).replace(tzinfo=None) != when:
        raise NoSuchTime(f"the clocks of {zone_name} leave out {when:%H:%M} on {when:%Y-%m-%d}")
    return local


class Clock(Struct, frozen=True):
    """``serve`` : the kitchen's time, with its zone or without. ``bound`` is False where days and hours do not matter."""

    serve: datetime
    closed: tuple[str, ...] = ()
    bound: bool = True

    def at(self, minutes: int) -> datetime:
        """So many minutes before the serving (after it, where they are below nothing)."""
        if self.serve.tzinfo is None:
            return self.serve - timedelta(minutes=minutes)
        return (self.serve.astimezone(UTC) - timedelta(minutes=minutes)).astimezone(self.serve.tzinfo)

    def before(self, when: datetime) -> int:
        """How many minutes before the serving ``when`` is."""
        return round((self.serve - when.astimezone(UTC) if self.serve.tzinfo is not None else self.serve - when).total_seconds() / 60)

    def quarter(self, minutes: int) -> int:
        """The last quarter of an hour that is at least so many minutes before the serving."""
        past = (self.serve.minute - minutes) % QUARTER
        return minutes + past

    def is_closed(self, when: date) -> bool:
        return self.bound and WEEKDAYS[when.weekday()] in self.closed

    def at_night(self, when: datetime) -> bool:
        """Whether hands-on work would start outside the day that is taken for a kitchen's."""
        if not self.bound:
            return False
        hour = when.hour + when.minute / 60
        return not facts.table("prep")["day.start"].value <= hour <= facts.table("prep")["day.end"].value


_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_name(when: date) -> str:
    """``Thu 24 Dec``, whatever the locale."""
    return f"{WEEKDAYS[when.weekday()]} {when.day} {_MONTHS[when.month - 1]}"
