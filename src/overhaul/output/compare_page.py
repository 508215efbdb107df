"""Two recipes side by side: in words, as data, and as a page."""

from __future__ import annotations

from datetime import date
from typing import Any

from msgspec import Struct

from overhaul import __version__
from overhaul.comparing import Compared, Group, Line
from overhaul.output import paper
from overhaul.output.clean import as_json, clean, wrapped
from overhaul.output.plain import CAUTION
from overhaul.output.tree import number
from overhaul.span import Span

FORMAT = "overhaul-comparison/1"
_GROUPS: tuple[Group, ...] = ("amounts", "times and temperatures", "sums", "steps")
_NAMED_AT_MOST = 5
_NONE = "—"
_SIDE_BY_SIDE = 80  # columns
# What makes two recipes two, first.
_FIRST = ("cure", "days in the cure", "soak", "salt", "pumped in", "water", "ice", "sugar")


class Cell(Struct, frozen=True):
    """Words, and whether the other side has them too."""

    text: str
    same: bool


class Pair(Struct, frozen=True):
    name: str
    left: tuple[Cell, ...]
    right: tuple[Cell, ...]


class Shown(Struct, frozen=True):
    """A comparison as a template has it: by group what differs, then what is the same."""

    left: str
    right: str
    left_file: str
    right_file: str
    batch: str | None
    told: str
    differences: tuple[tuple[str, tuple[Pair, ...]], ...]
    same: tuple[tuple[str, tuple[Pair, ...]], ...]
    same_count: int


def differs(compared: Compared) -> str:
    """``cure: 5.6 g / 28 g; days in the cure: 7 / 5; 3 more``: the first of what differs; sums follow from it and are not named."""
    named = [one for one in compared.differences if one.group in ("amounts", "times and temperatures")]
    named.sort(key=_first)
    steps = sum(one.group == "steps" for one in compared.differences)
    told = [f"{one.name}: {one.short[0]} / {one.short[1]}" for one in named[:_NAMED_AT_MOST]]
    if len(named) > _NAMED_AT_MOST:
        told.append(f"{len(named) - _NAMED_AT_MOST} more")
    if steps:
        told.append(f"{steps} {'step' if steps == 1 else 'steps'}")
    sums = [one for one in compared.differences if one.group == "sums"]
    if not told and sums:
        told = [f"{one.name}: {one.short[0]} / {one.short[1]}" for one in sums[:_NAMED_AT_MOST]]
    return "; ".join(told) or "nothing"


def _first(one: Line) -> int:
    return next((index for index, what in enumerate(_FIRST) if what in (one.role, one.name)), len(_FIRST))


def shown(compared: Compared) -> Shown:
    """For ``compared.html.j2``."""
    return Shown(
        compared.left.title, compared.right.title, compared.left.file, compared.right.file, compared.batch, differs(compared),
        _grouped(compared.differences, words=True), _grouped(compared.same, words=False), len(compared.same),
    )  # fmt: skip


def _grouped(lines: list[Line], *, words: bool) -> tuple[tuple[str, tuple[Pair, ...]], ...]:
    found = []
    for group in _GROUPS:
        own = sorted((one for one in lines if one.group == group), key=_first)
        if own:
            found.append((group, tuple(Pair(one.name, *(_cells(one) if words else _whole(one))) for one in own)))
    return tuple(found)


def _whole(one: Line) -> tuple[tuple[Cell, ...], tuple[Cell, ...]]:
    return (Cell(one.left or _NONE, True),), (Cell(one.right or _NONE, True),)


def _cells(one: Line) -> tuple[tuple[Cell, ...], tuple[Cell, ...]]:
    """The words of both; of a step that both have, those that only one has apart."""
    if one.group != "steps" or one.left is None or one.right is None:
        return _whole(one)
    from rapidfuzz.distance import Levenshtein

    left, right = one.left.split(), one.right.split()
    mine, other = [], []
    for step in Levenshtein.opcodes([word.casefold() for word in left], [word.casefold() for word in right]):
        same = step.tag == "equal"
        if step.src_end > step.src_start:
            mine.append(Cell(" ".join(left[step.src_start : step.src_end]), same))
        if step.dest_end > step.dest_start:
            other.append(Cell(" ".join(right[step.dest_start : step.dest_end]), same))
    return tuple(mine), tuple(other)


def render(compared: Compared, width: int = 100) -> str:
    """In words: what differs first, what is the same afterwards."""
    left, right = compared.left, compared.right
    lines = [f"A  {clean(left.title)} ({clean(left.file)})", f"B  {clean(right.title)} ({clean(right.file)})", ""]
    if compared.batch is not None:
        lines += [wrapped(compared.batch, width), ""]
    lines.append(wrapped(f"They differ in: {clean(differs(compared))}." if compared.differences else "They differ in nothing that is compared.", width))
    lines.append("")
    for group in _GROUPS:
        own = sorted((one for one in compared.differences if one.group == group), key=_first)
        if own:
            lines += [f"{group[0].upper()}{group[1:]} that differ", *(row for one in own for row in _row(one, width)), ""]
    if compared.same:
        lines.append("The same in both")
        for group in _GROUPS:
            own = [one for one in compared.same if one.group == group]
            if own and group == "steps":
                lines.append(wrapped(f"{len(own)} {'step' if len(own) == 1 else 'steps'}, word for word", width, "  "))
            elif own:
                lines += [wrapped(f"{clean(one.name)}: {clean(_once(one))}", width, "  ") for one in own]
        lines.append("")
    lines.append(wrapped(CAUTION, width))
    return "\n".join(lines) + "\n"


def _once(one: Line) -> str:
    return (one.left or "") if one.left == one.right else f"{one.left} / {one.right}"


def _row(one: Line, width: int) -> list[str]:
    name, left, right = clean(one.name), clean(one.left or _NONE), clean(one.right or _NONE)
    return [f"  {name}", wrapped(f"A: {left}", width, "      "), wrapped(f"B: {right}", width, "      ")]


def _span(value: Span | None, unit: str) -> dict[str, Any] | None:
    return None if value is None else {"low": number(value.low), "likely": number(value.likely), "high": number(value.high), "unit": unit}


def tree(compared: Compared) -> dict[str, Any]:
    """``{format, recipes: [{title, file, meat, sums}, …], batch, differ: […], same: […]}``; a line is ``{group, name, a, b}``."""
    return {
        "format": FORMAT,
        "recipes": [{"title": one.title, "file": one.file, "meat": _span(one.meat, "gram"), "sums": {each.name: _span(each.value, each.unit) for each in one.sums}} for one in (compared.left, compared.right)],
        "batch": compared.batch,
        "differ": [_line(one) for one in compared.differences],
        "same": [_line(one) for one in compared.same],
    }


def _line(one: Line) -> dict[str, Any]:
    return {"group": one.group, "name": one.name, "a": one.left, "b": one.right}


def render_json(compared: Compared) -> str:
    return as_json(tree(compared))


def render_html(compared: Compared, made_on: date) -> str:
    """One file, as the report is."""
    return paper.page("compare.html.j2", compared=shown(compared), made_on=made_on, program=f"Overhaul {__version__}")
