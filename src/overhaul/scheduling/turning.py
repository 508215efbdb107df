"""The days on which the meat is turned in its cure. Day 1 is the day it goes in."""

from __future__ import annotations

import re
from datetime import date, timedelta

from msgspec import Struct

from overhaul.recipe.model import Recipe
from overhaul.scheduling.clock import Clock, day_name

_EVERY = (
    (re.compile(r"\b(?:every|each) (?:other|second|2nd) (?:day|night|morning|evening)\b|\balternate days\b|\bevery (?:2|two) days\b", re.I), 2),
    (re.compile(r"\bevery (?:third|3rd) day\b|\bevery (?:3|three) days\b", re.I), 3),
    (re.compile(r"\bevery (?:4|four) days\b", re.I), 4),
    (re.compile(r"\bevery (?:\d+|six|eight|twelve) ?(?:hours|hrs?|h)\b", re.I), 1),
    (re.compile(r"\b(?:every|each) (?:day|night|morning|evening)\b|\bdaily\b|\b(?:once|twice) (?:a|each|per) day\b|\bover daily\b|\bam ?/ ?pm\b", re.I), 1),
    (re.compile(r"\b(?:every|each|once a) week\b|\bweekly\b", re.I), 7),
)
_TWICE = re.compile(r"\btwice (?:a|each|per) day\b|\bevery (?:12|twelve) ?(?:hours|hrs?|h)\b|\bam ?/ ?pm\b|\bmorning and (?:night|evening)\b", re.I)


class Turn(Struct, frozen=True):
    """One turning: ``day`` counted from 1, and the note where it was moved off a closed day."""

    on: date
    day: int
    note: str | None = None


class Turning(Struct, frozen=True):
    """``words`` : how often, as the page says."""

    turns: tuple[Turn, ...]
    words: str
    twice: bool = False


def turning(recipe: Recipe, into: date, out: date, clock: Clock) -> Turning | None:
    """When it is turned between ``into`` and ``out``; None where the page does not have it turned.

    One that falls on a closed day goes to the day before, or to the day after where that is the day it went in or one it is turned on anyway.
    """
    process = recipe.process
    if process.turning is None:
        return None
    text = " ".join(step.text for step in recipe.steps if step.place.start <= process.turning.place.start < step.place.end or step.phase == "overhaul")
    if process.turning_days:
        days = [into + timedelta(days=number - 1) for number in process.turning_days]
        words = f"on day {', '.join(str(number) for number in process.turning_days)}"
    else:
        found = next(((every, match[0]) for pattern, every in _EVERY if (match := pattern.search(text))), None)
        if found is None:
            return Turning((), "the page does not say how often")
        days = [into + timedelta(days=number) for number in range(found[0], (out - into).days + 1, found[0])]
        words = " ".join(found[1].lower().split())
    days = [one for one in days if into < one < out]
    turns: list[Turn] = []
    kept = {one for one in days if not clock.is_closed(one)}
    for one in days:
        if not clock.is_closed(one):
            turns.append(Turn(one, (one - into).days + 1))
            continue
        choices = [one + timedelta(days=step) for step in (-1, 1, -2, 2)]
        open_days = [other for other in choices if into < other < out and not clock.is_closed(other)]
        free = next((other for other in open_days if other not in kept), None)
        if free is None:
            if not open_days:
                turns.append(Turn(one, (one - into).days + 1, f"{day_name(one)} is closed, and so is every day near it: somebody has to come in"))
            else:
                turns.append(Turn(open_days[0], (open_days[0] - into).days + 1, f"{day_name(one)} is closed: the turn of {day_name(open_days[0])} stands for both"))
            continue
        kept.add(free)
        turns.append(Turn(free, (free - into).days + 1, f"{day_name(free)} instead of {day_name(one)}, a closed day"))
    return Turning(tuple(sorted(_once(turns), key=lambda turn: turn.on)), words, bool(_TWICE.search(text)))


def _once(turns: list[Turn]) -> list[Turn]:
    """Two that fall on one day are one, with the notes of both."""
    found: dict[date, Turn] = {}
    for turn in turns:
        other = found.get(turn.on)
        notes = [note for note in (other.note if other is not None else None, turn.note) if note]
        found[turn.on] = Turn(turn.on, turn.day, "; ".join(notes) or None)
    return list(found.values())
