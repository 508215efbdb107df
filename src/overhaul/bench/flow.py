"""The work in its order: what is done, how long, how warm, and where the page says so."""

from __future__ import annotations

from itertools import groupby

from msgspec import Struct

from overhaul.recipe.model import Measured, Recipe, Step

PHASE_WORDS = {
    "make-spice": "mix the spice or rub", "make-brine": "make the brine", "cool-brine": "chill", "trim": "trim", "thaw": "thaw", "pump": "pump", "cure": "cure", "overhaul": "turn",
    "rinse": "rinse", "soak": "soak", "equalize": "equalise", "dry": "dry", "season": "season", "smoke": "smoke", "wrap": "wrap", "cook": "cook", "rest": "rest", "cool": "cool", "slice": "slice",
    "hold": "hold hot", "store": "keep", "other": "other work",
}  # fmt: skip
_BESIDES = frozenset(["rinse", "soak", "dry", "smoke", "rest", "slice"])  # actions that are phases by themselves
_MIXED = frozenset(["rinse", "soak", "dry", "cook", "smoke", "rest", "store"])  # phases whose sentences run on


class Stage(Struct, frozen=True):
    """Steps of one kind that follow on each other."""

    number: int
    what: str  # "rinse, then soak"
    phases: tuple[str, ...]
    figures: tuple[str, ...]  # times and temperatures in the page's own words
    first: int
    last: int  # lines

    @property
    def lines(self) -> str:
        return f"line {self.first}" if self.first == self.last else f"lines {self.first} to {self.last}"


def stages(recipe: Recipe) -> tuple[Stage, ...]:
    """The steps in order, those of one kind together; what says nothing of the work and gives no figure is left to the page."""
    said = [step for step in recipe.steps if step.phase != "other" or step.times or step.temperatures]
    found = []
    for number, (_, group) in enumerate(groupby(said, key=_kind), 1):
        steps = list(group)
        phases = _kind(steps[0])
        figures = tuple(dict.fromkeys(words for step in steps for words in _figures(recipe, step)))
        found.append(Stage(number, ", then ".join(dict.fromkeys(PHASE_WORDS[phase] for phase in phases)), phases, figures, steps[0].line, max(step.end_line for step in steps)))
    return tuple(found)


def _kind(step: Step) -> tuple[str, ...]:
    """The phases of a step: turning is part of the cure that it stands in, and “rinse, soak 2 hours” is two things."""
    first = "cure" if step.phase == "overhaul" else step.phase
    besides = (action for action in step.actions if action in _BESIDES) if first in _MIXED else ()
    return tuple(dict.fromkeys((first, *besides, *step.then)))


def _figures(recipe: Recipe, step: Step) -> list[str]:
    """In the order of the page, each as written, with what it is the temperature of."""
    every = sorted((*step.times, *step.temperatures), key=lambda one: one.amount.place.start)
    return [_told(recipe, one) for one in every]


def _told(recipe: Recipe, one: Measured) -> str:
    words = " ".join(recipe.page.words(one.amount.place).split())
    of = {"meat": "inside", "fridge": "cold room", "other": None}.get(one.of or "", one.of)
    return f"{words} ({of})" if of else words
