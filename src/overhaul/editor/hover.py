"""What was read under the cursor: the ingredient with its grams, the step with its figures, and the sums that rest on them."""

from __future__ import annotations

import re

from lsprotocol import types

from overhaul.editor.looking import Looked
from overhaul.editor.positions import Positions
from overhaul.editor.under import Told, Under, under
from overhaul.output import read_page
from overhaul.output.clean import clean
from overhaul.output.plain import CAUTION
from overhaul.recipe.model import Cooling, CureRate, Storage
from overhaul.span import between
from overhaul.sums.worked import Sum, figure

_MOST_SUMS = 8
# Several sentences stand on one line, and an input of a sum knows its line only: these sums are of one phase of the work.
_OF_PHASE = {
    "cooling": ("cool",), "keeping": ("store",), "rest": ("rest",), "hot_hold": ("hold",), "reheating": ("cook", "hold"),
    "lethality": ("cook", "smoke"), "air_over_end": ("cook", "smoke"), "come_up": ("cook", "smoke"),
}  # fmt: skip
_MARKS = re.compile(r"([!-/:-@\[-`{-~])")


def hover(looked: Looked, positions: Positions, offset: int, *, markdown: bool = True) -> types.Hover | None:
    """The reading and the sums at ``offset``, or None where there is nothing."""
    found = under(looked, offset)
    if found is None:
        return None
    head, lines = _reading(found)
    told = _sums(looked, found)
    kind = types.MarkupKind.Markdown if markdown else types.MarkupKind.PlainText
    return types.Hover(types.MarkupContent(kind, _shown(head, lines, told, markdown)), positions.range(found.place))


def _reading(found: Under) -> tuple[str, list[str]]:
    lines: list[str] = []
    if found.item is not None:
        head = found.item.name or found.item.role
        lines.append(read_page.ingredient_words(found.item))
    elif found.step is not None:
        head = found.step.phase.replace("-", " ")
    elif found.facts:
        head = found.facts[0][0].replace("_", " ")
    else:
        head = found.recipe.title
        lines.append(f"read as {found.recipe.product or 'a product it cannot name'}")
    if found.step is not None:
        lines.append(read_page.step_words(found.step))
    return head, [*lines, *(f"{name.replace('_', ' ')}: {_fact(told)}" for name, told in found.facts)]


def _fact(told: Told) -> str:
    if isinstance(told, Cooling):
        return f"{told.start:g} to {told.end:g} °F in {figure(between(told.low, told.high), 'hour')}"
    if isinstance(told, Storage):
        return figure(between(told.low, told.high), "day") + (f", kept {told.kept}" if told.kept else "")
    if isinstance(told, CureRate):
        return f"{figure(between(told.low, told.high), told.unit)} per {told.per:g} {told.per_unit}"
    return figure(told.span, told.unit) + ("" if told.stated else ", worked out and not stated")


def _sums(looked: Looked, found: Under) -> list[tuple[str, str, str]]:
    """The sums that rest on this line (all of them, for the head of a recipe): name, figure, pencil line."""
    whole = found.item is None and found.step is None and not found.facts
    lines = set(range(found.step.line, found.step.end_line + 1)) if found.step is not None else {told.line for _, told in found.facts}
    own = found.item.name or found.item.role if found.item is not None else None
    told = []
    for name, worked in looked.sums(found.recipe).items():
        of_item = found.item is not None and any(one.line == found.item.line and one.name == own for one in worked.inputs)
        of_phase = found.step is None or name not in _OF_PHASE or found.step.does(*_OF_PHASE[name])
        if whole or of_item or (own is None and of_phase and any(one.line in lines for one in worked.inputs)):
            told.append((name.replace("_", " "), figure(worked.value, worked.unit), "" if _as_it_stands(worked) else worked.worked()))
    return told


def _as_it_stands(worked: Sum) -> bool:
    return len(worked.inputs) == 1 and worked.inputs[0].value == worked.value


def _shown(head: str, lines: list[str], told: list[tuple[str, str, str]], markdown: bool) -> str:
    def words(text: str) -> str:
        return _MARKS.sub(r"\\\1", clean(text)) if markdown else clean(text)

    strong = "**" if markdown else ""
    parts = [f"{strong}{words(head)}{strong}", *(words(line) for line in lines)]
    rows = [f"- {strong}{words(name)}{strong}: {words(value)}" + (f"\n  {words(pencil)}" if pencil else "") for name, value, pencil in told[:_MOST_SUMS]]
    if len(told) > _MOST_SUMS:
        rows.append(f"- {len(told) - _MOST_SUMS} more: " + words(", ".join(name for name, _, _ in told[_MOST_SUMS:])))
    if rows:
        parts += ["\n".join(rows), words(CAUTION)]
    return "\n\n".join(parts)
