"""The tasks of a prep sheet as a calendar: RFC 5545, one event a task."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, time, timedelta

from icalendar import Alarm, Calendar, Event

from overhaul import facts
from overhaul.output.clean import clean
from overhaul.output.plain import CAUTION
from overhaul.output.sheets import Asked, CannotMake, head
from overhaul.output.sheets.prep import audited
from overhaul.output.sheets.prep_rows import Row, Sheet, cleaned, sheet
from overhaul.recipe.model import Recipe
from overhaul.sums.work import Sums

_QUARTER = timedelta(minutes=15)


def render(recipes: Sequence[tuple[Recipe, Sums]], asked: Asked) -> str:
    """Every task of every recipe, and of every way it is finished. Raises CannotMake without a serving."""
    if asked.kind != "prep":
        raise CannotMake("only the prep sheet goes into a calendar")
    if asked.serve is None:
        raise CannotMake("a calendar needs --serve, the day and time of the serving")
    calendar = Calendar()
    calendar.add("prodid", "-//Overhaul//Prep sheet//EN")
    calendar.add("version", "2.0")
    for recipe, sums in recipes:
        # The version is that of the whole page: a way's own page has the lines of the other ways left blank.
        version = head(recipe, sums, asked).version
        for number, way in enumerate(recipe.ways or (recipe,)):
            title = f"{recipe.title}: {recipe.branches[number].name}" if recipe.ways else recipe.title
            note = f"One of {len(recipe.ways)} ways this recipe is finished. What all of them share is done once, at the earliest time." if recipe.ways else ""
            for event in _events(way, Sums(way, sums.house), asked, (title, note), f"{version}/{recipe.index}/{number}"):
                calendar.add_component(event)
    calendar.add_missing_timezones()
    return str(calendar.to_ical(), "utf-8")


def _events(recipe: Recipe, sums: Sums, asked: Asked, told: tuple[str, str], version: str) -> Iterator[Event]:
    """``told`` : the title, and what every event is to say besides."""
    title, note = told
    found = sheet(recipe, sums, asked)
    hazards, _ = audited(recipe, sums)
    warning = f"The audit of this recipe found {len(hazards)} hazard{'' if len(hazards) == 1 else 's'}; do not work from it before {'it is' if len(hazards) == 1 else 'they are'} put right: {'; '.join(f'{rule}, line {line}' for rule, line in hazards)}" if hazards else ""
    seen: dict[str, int] = {}
    of = f"{version}/{asked.serve:%Y-%m-%d}" if asked.serve is not None else version  # the same recipe next week is other work
    for row in found.rows:
        count = seen[row.key] = seen.get(row.key, 0) + 1
        if row.start is not None:
            yield _event(title, asked, row, row.start, row.end, f"{of}/{row.key}/{count}", (warning, found.late or "", note))
        for tick in row.ticks:
            start = _day_start(found, tick.on)
            yield _event(title, asked, row, start, None, f"{of}/turn/{tick.words.rsplit('(', 1)[-1]}", (warning, tick.note or "", note))


def _day_start(found: Sheet, on: object) -> datetime:
    """Turning has no time of day on the page: the first hour of the working day."""
    assert found.plan is not None
    hour = int(facts.table("prep")["day.start"].value) + 2
    return datetime.combine(on, time(hour), found.plan.clock.serve.tzinfo)  # type: ignore[arg-type]


def _event(title: str, asked: Asked, row: Row, start: datetime, end: datetime | None, key: str, first: tuple[str, ...]) -> Event:
    event = Event()
    event.add("uid", f"{hashlib.sha256(key.encode('utf-8', 'replace')).hexdigest()[:32]}@overhaul")
    event.add("dtstamp", datetime.combine(asked.made_on, time(), UTC))
    event.add("dtstart", start)
    event.add("dtend", max(end, start + _QUARTER) if end is not None else start + _QUARTER)
    event.add("summary", f"{row.title}: {clean(title)}")
    weigh = "; ".join(f"{one.name} {one.grams}" for one in row.weigh)
    lines = (*first, row.lasts, row.words, f"Weigh: {weigh}" if weigh else "", f"Tool: {row.tool}" if row.tool else "", *(f"Limit: {limit.words}{f' ({limit.source})' if limit.source is not None else ''}" for limit in row.limits), *row.notes, CAUTION)
    event.add("description", cleaned(lines))
    if row.key == "cool":
        for hours, name in ((facts.fact("cooling.stage1_h").value, "70 °F"), (facts.fact("cooling.total_h").value, "41 °F")):
            event.add_component(_alarm(hours, f"{name} inside by now: {clean(title)}"))
    return event


def _alarm(hours: float, words: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", words)
    alarm.add("trigger", timedelta(hours=hours))
    return alarm
