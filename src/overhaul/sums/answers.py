"""The sums turned round for one recipe: what to weigh out for a wanted figure, and the sums worked forward again from what a scale shows.

What is wanted may be asked for; without being asked, a recipe gets the curing salt for the usual dose and for the limit, the least meat for
its brine, the days for its thickness, the ice for a cold brine, and the brine for its tub.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec import Struct

from overhaul.findings import Cite
from overhaul.recipe.model import Recipe
from overhaul.span import Span
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, Pencil, Sum


class Wanted(Struct, frozen=True):
    """What a cook asks for: ppm of nitrite, percent of salt in the meat, percent of the brine, °C of it, percent of each agent in the curing salt in hand."""

    nitrite: float | None = None
    salt: float | None = None
    brine: float | None = None
    celsius: float | None = None
    cure: dict[str, float] | None = None


class Bound(Struct, frozen=True):
    """The ingoing limit of nitrite, ppm, and how it is told."""

    ppm: float
    told: str
    cite: Cite


class Weighed(Struct, frozen=True):
    """One thing to weigh (or to count, in days), and what the page has of it."""

    name: str
    value: float
    unit: str = "gram"
    line: int | None = None
    now: Span | None = None


class Answer(Struct, frozen=True):
    """What to weigh for what was asked, with the pencil line, and the sums worked again from it."""

    name: str
    asked: str
    weigh: tuple[Weighed, ...]
    pencil: Pencil
    result: tuple[float, str]  # what the pencil line comes to, before rounding, and its unit
    again: tuple[Sum, ...] = ()
    assumed: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = ()


class NoAnswer(Struct, frozen=True):
    """Why something that was asked for cannot be told."""

    name: str
    asked: str
    why: str


def answers(sums: Sums, wanted: Wanted, bound: Bound | None) -> Iterator[Answer | NoAnswer]:
    """All that can be told; ``NoAnswer`` only for what was asked for."""
    from overhaul.sums import answers_brine, answers_cure

    ways: list[tuple[bool, str, str, Callable[[], Iterator[Answer]]]] = [
        (wanted.nitrite is not None, "nitrite", "curing salt", lambda: answers_cure.doses(sums, wanted, bound)),
        (wanted.cure is not None, "other_cure", "another curing salt", lambda: answers_cure.exchanged(sums, wanted, bound)),
        (False, "least_meat", "the least meat", lambda: answers_cure.least_meat(sums, bound)),
        (wanted.salt is not None, "salt", "salt in the meat", lambda: answers_brine.salt(sums, wanted)),
        (wanted.brine is not None, "brine", "strength of the brine", lambda: answers_brine.strength(sums, wanted)),
        (wanted.celsius is not None, "ice", "a cold brine", lambda: answers_brine.ice(sums, wanted)),
        (False, "cover", "water to cover", lambda: answers_brine.cover(sums)),
        (False, "tub", "the tub", lambda: answers_brine.tub(sums)),
        (False, "days", "days", lambda: answers_cure.days(sums)),
    ]
    for asked, name, words, way in ways:
        try:
            yield from way()
        except (CannotTell, ValueError, OverflowError, ZeroDivisionError) as reason:
            if asked:
                why = str(reason) if isinstance(reason, (CannotTell, ValueError)) else "the amounts do not make sense"
                yield NoAnswer(name, words, why)


def again(sums: Sums, recipe: Recipe, *names: str) -> tuple[Sum, ...]:
    """Those of the sums that can be worked for the changed ``recipe``, in the same house."""
    anew = Sums(recipe, sums.house)
    return tuple(found for name in names if (found := anew.get(name)) is not None)
