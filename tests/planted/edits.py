"""Textual edits of a page: an amount put in another's place, a sentence taken out in four ways, a line added."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from overhaul.recipe.model import Ingredient, Recipe, Step
from overhaul.text import Place


@dataclass(frozen=True)
class Planted:
    """A page with one fault in it, the line where it should be found, and how the fault was worded."""

    text: str
    line: int
    wording: str


def swapped(recipe: Recipe, place: Place, new: str, wording: str | None = None) -> Planted:
    """``new`` in place of what stands at ``place``; to be found on that line."""
    text = recipe.page.text
    return Planted(text[: place.start] + new + text[place.end :], recipe.page.line_at(place.start), wording or new)


def without(recipe: Recipe, steps: list[Step], idle: str = "Carry on as usual.") -> Iterator[Planted]:
    """The sentences of ``steps`` taken out: deleted, crossed out, replaced by something idle, or by nothing but a mark."""
    text = recipe.page.text
    line = recipe.page.line_at(steps[0].place.start)
    for wording, new in (("deleted", ""), ("crossed out", None), ("idle", idle), ("another idle", "As we always do.")):
        changed = text
        for step in sorted(steps, key=lambda one: -one.place.start):
            old = changed[step.place.start : step.place.end]
            changed = changed[: step.place.start] + (f"~~{old}~~" if new is None else new) + changed[step.place.end :]
        yield Planted(changed, line, wording)


def words_out(recipe: Recipe, place: Place) -> Iterator[Planted]:
    """A few words taken out of their sentence: deleted, crossed out, left blank to fill in, questioned."""
    text = recipe.page.text
    old = text[place.start : place.end]
    for wording, new in (("deleted", ""), ("crossed out", f"~~{old}~~"), ("blank", "____"), ("questioned", "(?)")):
        yield Planted(text[: place.start] + new + text[place.end :], recipe.page.line_at(place.start), wording)


def added(recipe: Recipe, step: Step, sentence: str) -> Planted:
    """``sentence`` behind ``step``."""
    end, text = step.place.end, recipe.page.text
    if text[end : end + 1] in ".!":
        end += 1
    return Planted(f"{text[:end]} {sentence}{text[end:]}", step.end_line, sentence)


def one(recipe: Recipe, *roles: str) -> Ingredient | None:
    """The only ingredient of these roles with a plain amount, in the cure; None where there are several or none."""
    found = [item for item in recipe.ingredients if item.role in roles and item.use == "cure" and item.amount is not None]
    return found[0] if len(found) == 1 and not (found[0].per or found[0].columns or found[0].also or found[0].in_method) else None


def last_step(recipe: Recipe, *phases: str) -> Step | None:
    found = [step for step in recipe.steps if step.does(*phases)]
    return found[-1] if found else None
