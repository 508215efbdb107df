"""What a binder's index has of one recipe: what it can be found by, what stands in it, where it sends the cook.

Plain data of a few bytes, kept with each audit, so that references between files can be followed without reading any page again.
"""

from __future__ import annotations

from msgspec import Struct

from overhaul.text import Place

# The rules that ask for something absent which may stand on another page, and the word that ``Listed.has`` has for it.
ASKED_ELSEWHERE = {
    "water-not-stated": "water",
    "no-curing-salt": "curing salt",
    "cure-time-not-stated": "days",
    "cure-temperature-not-stated": "cold",
    "nothing-holds-it-under": "weight",
    "no-rinse-or-soak": "rinse",
    "smoked-wet": "dry",
    "smoke-temperature-missing": "smoke",
    "final-temperature-missing": "end",
    "rest-missing": "rest",
    "cool-down-not-written": "cooling",
}


class Pointer(Struct, frozen=True, array_like=True):
    """One place that sends the cook to another page, card or recipe.

    ``number`` of a page, or of a ``card``; ``step`` the last step that is meant there; ``words`` those around it, in small letters,
    among which the other recipe's name may be. ``bare`` : a name alone, which counts only where a recipe of the binder is called so.
    """

    place: Place
    line: int
    words: str
    number: int | None = None
    card: bool = False
    step: int | None = None
    bare: bool = False


class Number(Struct, frozen=True, array_like=True):
    """A page or card number that a recipe bears; ``titled`` : in its title, else on a line of its own."""

    number: int
    card: bool
    titled: bool


class Listed(Struct, frozen=True, array_like=True):
    """One recipe. ``has`` : what stands in it, and in which numbered step (0: before the first, or none is numbered)."""

    name: str
    numbers: tuple[Number, ...] = ()
    last_step: int = 0  # the highest number of a step; 0 where they have none
    has: dict[str, int] = {}
    pointers: tuple[Pointer, ...] = ()
