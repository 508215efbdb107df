"""What a rule is: its grounds, its two texts and its check, in one file of its own.

A rule compares and words; sums live in ``sums/``, numbers of the trade in ``facts/``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec import Struct, field

from overhaul.findings import Cite, Finding
from overhaul.house import House
from overhaul.recipe.model import Process, Recipe
from overhaul.sums.work import Sums


class Case(Struct, frozen=True):
    """All that a rule may look at: one recipe, its sums and the house it is cooked in."""

    recipe: Recipe
    sums: Sums
    house: House
    said: dict[Callable[[Case], Iterator[Finding]], tuple[Finding, ...]] = field(default_factory=dict)  # by check: what ``found_by`` found

    @property
    def process(self) -> Process:
        return self.recipe.process

    def found_by(self, check: Callable[[Case], Iterator[Finding]]) -> tuple[Finding, ...]:
        """What this check of a rule finds, found once: some rules are silent where another speaks."""
        found = self.said.get(check)
        if found is None:
            found = self.said[check] = tuple(check(self))
        return found


class Rule(Struct, frozen=True):
    """One rule. ``name`` is plain words joined by hyphens that say what is wrong.

    ``sound`` is a whole recipe on which the rule is silent, ``faulty`` one on which it speaks; ``expect`` is
    where, as ``line:column-end_column``, and the message it gives there, word for word. Both run as tests.
    """

    name: str
    family: str
    check: Callable[[Case], Iterator[Finding]]
    reports: str  # what is reported
    why: str  # why it matters, in a cook's words
    silent: str  # when the rule stays silent
    sources: tuple[Cite, ...]
    sound: str
    faulty: str
    expect: tuple[str, str]
    sum: str | None = None  # the sum it rests on, as a formula in words
