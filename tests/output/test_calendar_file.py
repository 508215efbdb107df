"""The calendar of a prep sheet, read back and held to RFC 5545."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar, Component

from overhaul.house import House
from overhaul.output import sheets
from overhaul.recipe import read_page
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.conftest import CORPUS
from tests.scheduling.made import HAM, corned
from tests.test_cli import Run

EVE, TODAY = datetime(2026, 12, 24, 11), date(2026, 11, 25)


def text_of(page: str, **changes: Any) -> str:
    house = House()
    asked = sheets.Asked(**{"kind": "prep", "made_on": TODAY, "serve": EVE, **changes})
    return sheets.calendar([(recipe, Sums(recipe, house)) for recipe in read_page(Page(page, "page.txt"), house)], asked)


def events(text: str) -> list[Component]:
    return list(Calendar.from_ical(text).walk("VEVENT"))


def check(text: str) -> None:
    """What the standard asks of the lines and of every event."""
    data = text.encode("utf-8")
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"") and b"\r" not in data.replace(b"\r\n", b"")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    calendar = Calendar.from_ical(text)
    assert calendar["VERSION"] == "2.0" and calendar["PRODID"]
    found = events(text)
    assert len({str(event["UID"]) for event in found}) == len(found)
    for event in found:
        assert {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"} <= set(event)
        assert event.decoded("DTSTAMP").tzinfo is not None
        assert event.decoded("DTSTART") < event.decoded("DTEND")
        assert "Decision support only." in str(event["DESCRIPTION"])


def test_one_event_a_task_and_a_turn() -> None:
    text = text_of(corned())
    check(text)
    assert [f"{event.decoded('DTSTART'):%d %H:%M} {event['SUMMARY']}" for event in events(text)] == [
        "14 16:15 Make the brine: Corned flats",
        "14 16:45 Cool the brine: Corned flats",
        "14 20:45 Into the brine: Corned flats",
        "16 08:00 Overhaul: look over, turn: Corned flats",
        "18 08:00 Overhaul: look over, turn: Corned flats",
        "20 08:00 Overhaul: look over, turn: Corned flats",
        "22 08:00 Overhaul: look over, turn: Corned flats",
        "23 20:45 Out of the brine, rinse: Corned flats",
        "23 21:00 Soak: Corned flats",
        "24 07:00 Simmer: Corned flats",
        "24 10:00 Rest: Corned flats",
        "24 10:30 Slice: Corned flats",
        "24 11:00 Serve: Corned flats",
    ]


def test_without_a_zone_times_float() -> None:
    assert all(event.decoded("DTSTART").tzinfo is None for event in events(text_of(corned())))
    assert "VTIMEZONE" not in text_of(corned())


def test_with_a_zone_it_is_written_and_the_clocks_change_is_in_it() -> None:
    text = text_of(corned(), serve=datetime(2027, 3, 28, 18), zone="Europe/Berlin")
    check(text)
    assert "BEGIN:VTIMEZONE" in text
    found = {str(event["SUMMARY"]).split(":")[0]: event.decoded("DTSTART") for event in events(text)}
    assert found["Serve"].astimezone(UTC) == datetime(2027, 3, 28, 16, tzinfo=UTC)  # summer time by then
    # Nine days of 24 hours, over the night that has 23.
    assert found["Out of the brine, rinse"].astimezone(UTC) - found["Into the brine"].astimezone(UTC) >= timedelta(days=9)
    assert found["Into the brine"].utcoffset() == timedelta(hours=1)


def test_cooling_rings_at_its_limits() -> None:
    (cool,) = [event for event in events(text_of(HAM.format(keeps=7))) if str(event["SUMMARY"]).startswith("Cool down")]
    assert [alarm.decoded("TRIGGER") for alarm in cool.walk("VALARM")] == [timedelta(hours=2), timedelta(hours=6)]


def test_uids_are_of_the_recipe_the_serving_day_and_the_task() -> None:
    def uids(text: str) -> list[str]:
        return [str(event["UID"]) for event in events(text)]

    assert uids(text_of(corned())) == uids(text_of(corned(), serve=EVE + timedelta(hours=2)))  # two hours later: the same events, moved
    assert set(uids(text_of(corned()))).isdisjoint(uids(text_of(corned(), serve=EVE + timedelta(days=7))))
    assert set(uids(text_of(corned()))).isdisjoint(uids(text_of(corned().replace("8 oz", "9 oz"))))


def test_hazards_and_lateness_are_in_every_event() -> None:
    for event in events(text_of(corned().replace("16 g cure", "16 oz cure"), made_on=date(2026, 12, 20))):
        assert str(event["DESCRIPTION"]).startswith("The audit of this recipe found 1 hazard; do not work from it before it is put right: curing-salt-over-limit, line 6")


def test_both_ways_of_a_recipe() -> None:
    text = text_of((CORPUS / "two-beefs-one-bucket.txt").read_text("utf-8"))
    check(text)
    titles = {str(event["SUMMARY"]).rsplit(": ", 1)[-1] for event in events(text)}
    assert titles == {"Corned beef", "Pastrami"}


@pytest.mark.parametrize("path", sorted(one for one in CORPUS.rglob("*") if one.suffix in (".txt", ".md") and one.name != "README.md"), ids=lambda path: path.stem)
def test_every_recipe_of_the_corpus(path: Path) -> None:
    check(text_of(path.read_text("utf-8"), closed=("Mon",), zone="America/New_York"))


@settings(max_examples=60)
@given(st.text(st.characters(codec="utf-8"), max_size=60))
def test_a_hostile_title_adds_no_line(title: str) -> None:
    text = text_of(corned().replace("Corned flats", f"Flats {title}\\;,:\"", 1))
    check(text)


@pytest.mark.parametrize("title", ["Flats\\nBEGIN:VALARM", "Flats;X=1:END:VCALENDAR", "Flats \x0bEND:VEVENT", "Flats \u2028ATTACH:https://example.org/"])
def test_a_title_is_never_a_property(title: str) -> None:
    text = text_of(corned().replace("Corned flats", title, 1))
    check(text)
    assert not [event for event in events(text) if "ATTACH" in event or event.walk("VALARM")]
    assert text.count("\r\nEND:VCALENDAR\r\n") == 1


@pytest.mark.parametrize(
    ("args", "said"),
    [
        ((), "{page}: a calendar needs --serve, the day and time of the serving"),
        (("--kind", "card", "--serve", "2026-12-24T11:00"), "--serve, --closed, --zone and --as ics are for --kind prep; this is --kind card"),
    ],
)
def test_what_has_no_calendar(overhaul: Run, tmp_path: Path, args: tuple[str, ...], said: str) -> None:
    page = tmp_path / "corned.txt"
    page.write_text(corned(), "utf-8")
    done: Result = overhaul("sheet", page, "--as", "ics", *args)
    assert (done.exit_code, done.stdout, done.stderr) == (2, "", f"overhaul: {said.format(page=page)}\n")


def test_the_command_writes_the_bytes_of_the_standard(overhaul: Run, tmp_path: Path) -> None:
    page, out = tmp_path / "corned.txt", tmp_path / "prep.ics"
    page.write_text(corned(), "utf-8")
    done: Result = overhaul("sheet", page, "--as", "ics", "--serve", "2099-12-24T11:00", "--out", out)
    assert done.exit_code == 0
    check(out.read_bytes().decode("utf-8"))
