"""The reading of each line beside the line: how a cook comes to trust the rest."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.output.clean import clean, wrapped
from overhaul.output.tree import number
from overhaul.reading import units
from overhaul.recipe.model import Amount, Ingredient, Measured, Per, ReadLine, Recipe, Step
from overhaul.recipe.unused import unused
from overhaul.sums.worked import figure
from overhaul.text import Place

_SMALL = 0.1  # what is less keeps all its figures


def _amount(amount: Amount) -> str:
    low, high = (number(round(float(value), 3) if value >= _SMALL else value) for value in (amount.low, amount.high))
    value = f"{low}" if low == high else f"{low} to {high}"
    return f"{value} {units.in_words(amount.unit, several=amount.high > 1)}".rstrip()


def _measured(measured: Measured) -> str:
    return _amount(measured.amount) + (f" ({measured.of})" if measured.of else "")


def ingredient_words(item: Ingredient) -> str:
    """One ingredient as it was read."""
    said = [f"{item.name or '?'} [{item.role}]"]
    if item.count is not None and item.amount is not None:
        said.append(f"{_amount(item.count)} of {_amount(item.amount)} each" if item.each else f"{_amount(item.count)}, {_amount(item.amount)} in all")
    elif (alone := item.count or item.amount) is not None:
        said.append(_amount(alone))
    if item.per is not None and (rate := _per(item.per)):
        said[-1] += f" {rate}" if len(said) > 1 else f", {rate}"
    if item.also:
        said.append("told again as " + ", ".join(_amount(amount) for amount in item.also))
    if item.instead:
        said.append("or " + ", ".join(f"{_amount(other.amount) if other.amount else ''} {other.name}".strip() for other in item.instead))
    if item.columns:
        said.append("columns " + ", ".join(_amount(column.amount) for column in item.columns))
    if item.was:
        said.append("crossed out " + ", ".join(_amount(amount) for amount in item.was))
    if item.mass is not None:
        said.append(f"= {figure(item.mass, 'gram')}")
    if item.use != "cure":
        said.append(f"for the {item.use}, no part of the cure")
    if doubt := item.doubt or (item.amount.doubt if item.amount is not None else None):
        said.append(f"doubtful: {doubt}")
    return "; ".join(said)


def _per(per: Per) -> str:
    said = ["per"] if per.amount is not None or per.unit else []
    if per.amount is not None and per.amount != 1:
        said.append(str(number(per.amount)))
    if per.unit:
        said.append(units.in_words(per.unit, several=per.amount is not None and per.amount > 1))
    if per.of:
        said.append(f"of {per.of}" if said else f"of the {per.of}")
    return " ".join(said)


def step_words(step: Step) -> str:
    """One step as it was read."""
    said: list[str] = [", ".join((step.phase, *step.then))]
    for label, values in (("", step.times), ("", step.temperatures), ("", step.lengths), ("also ", step.amounts)):
        if values:
            said.append(label + ", ".join(_measured(value) for value in values))
    if step.uses:
        said.append("takes " + ", ".join(f"{_amount(taken.amount) + ' ' if taken.amount else ''}{taken.name}" for taken in step.uses))
    amounts = [*(one.amount for one in (*step.times, *step.temperatures, *step.lengths, *step.amounts)), *(taken.amount for taken in step.uses)]
    said += [f"doubtful: {amount.doubt}" for amount in amounts if amount is not None and amount.doubt]
    return "; ".join(said)


# Under this two columns leave too little for either, and the reading stands under the line.
_SIDE_BY_SIDE = 80
_LEFT_SHARE = 0.4
_GREY, _PLAIN = "\x1b[2m", "\x1b[22m"


def render(recipes: list[Recipe], width: int = 100, colour: bool = False) -> str:
    """Every line, and beside it (on a narrow terminal under it) what was understood of it, and which words were not used."""
    lines: list[str] = []
    for recipe in recipes:
        if lines:
            lines.append("")
        lines += [f"{clean(recipe.title)} — read as {recipe.product or 'a product it cannot name'}", ""]
        for read, said, left in readings(recipe):
            if read.kind == "blank" and not said:
                lines.append("")
                continue
            reading = [clean(one) for one in said]
            start = recipe.page.lines[read.line - 1].place.start
            grey = [(place.start - start, place.end - start) for place in left] if colour else []
            lines += _side_by_side(read.line, clean(read.text), reading, grey, width) if width >= _SIDE_BY_SIDE else _stacked(read.line, clean(read.text), reading, grey, width)
        for branch in recipe.branches:
            lines += ["", wrapped(f"One way to finish it: {clean(branch.name)}, line{'s' if len(branch.lines) > 1 else ''} {_ranges(branch.lines)}.", width)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def readings(recipe: Recipe) -> Iterator[tuple[ReadLine, list[str], list[Place]]]:
    """Each line with what was understood of it, the words of the page as they are, and where the words stand that were not used."""
    said, ignored = _said(recipe), unused(recipe)
    for read in recipe.lines:
        reading = list(said.get(read.line, [] if read.kind in ("step", "ingredient", "blank") else [read.kind]))
        left = ignored.get(read.line, [])
        if left:
            reading.append("not used: " + ", ".join(dict.fromkeys(recipe.page.words(place) for place in left)))
        yield read, reading, left


def _said(recipe: Recipe) -> dict[int, list[str]]:
    by_line: dict[int, list[str]] = {}
    for item in recipe.ingredients:
        by_line.setdefault(item.line, []).append(ingredient_words(item))
    for step in recipe.steps:
        by_line.setdefault(step.line, []).append(step_words(step))
    for unread in recipe.unread:
        line, column = recipe.page.position(unread.place.start)
        by_line.setdefault(line, []).append(f"not understood: {unread.text} (column {column})")
    return by_line


def _ranges(lines: tuple[int, ...]) -> str:
    """``12 to 14, 17``"""
    runs: list[list[int]] = []
    for line in lines:
        if runs and line == runs[-1][-1] + 1:
            runs[-1].append(line)
        else:
            runs.append([line])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)


def _folded(text: str, width: int) -> list[tuple[int, str]]:
    """``text`` in rows of at most ``width``, cut at blanks where there are any, each with the place where it begins."""
    rows: list[tuple[int, str]] = []
    start = 0
    while len(text) - start > width:
        blank = text.rfind(" ", start + 1, start + width + 1)
        end = blank if blank > start else start + width
        rows.append((start, text[start:end]))
        start = end + (text[end : end + 1] == " ")
    return [*rows, (start, text[start:])]


def _greyed(text: str, start: int, grey: list[tuple[int, int]]) -> str:
    """``text``, which begins at ``start`` of its line, with the stretches of ``grey`` set back."""
    made, at = "", 0
    for first, last in grey:
        begin, end = max(first - start, at), min(last - start, len(text))
        if begin < end:
            made += f"{text[at:begin]}{_GREY}{text[begin:end]}{_PLAIN}"
            at = end
    return made + text[at:]


def _side_by_side(number: int, text: str, reading: list[str], grey: list[tuple[int, int]], width: int) -> list[str]:
    left = int((width - 8) * _LEFT_SHARE)
    rows = _folded(text, left)
    beside = [row for one in reading for row in wrapped(one, width - left - 8, "").split("\n")]
    lines = []
    for index in range(max(len(rows), len(beside))):
        start, words = rows[index] if index < len(rows) else (0, "")
        said = beside[index] if index < len(beside) else ""
        lines.append(f"{number if index == 0 else '':>4} {_greyed(words, start, grey)}{' ' * (left - len(words))} │ {said}")
    return lines


def _stacked(number: int, text: str, reading: list[str], grey: list[tuple[int, int]], width: int) -> list[str]:
    rows = _folded(text, max(width - 5, 20))
    lines = [f"{number if index == 0 else '':>4} {_greyed(words, start, grey)}" for index, (start, words) in enumerate(rows)]
    return lines + [wrapped(one, width, "       > ") for one in reading]
