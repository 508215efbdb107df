"""The reading of each line beside the line: how a cook comes to trust the rest."""

from __future__ import annotations

from overhaul.output.clean import clean, wrapped
from overhaul.output.tree import number
from overhaul.recipe.model import Amount, Ingredient, Measured, Per, Recipe, Step
from overhaul.sums.work import figure

_SIGNS = {"degF": "°F", "degC": "°C", "percent": "%", "permille": "‰"}
_PLURALS = {"leaf": "leaves"}


def _amount(amount: Amount) -> str:
    value = f"{number(amount.low)}" if amount.low == amount.high else f"{number(amount.low)} to {number(amount.high)}"
    return f"{value} {_unit(amount.unit, amount.high > 1)}".rstrip()


def _unit(unit: str, several: bool) -> str:
    """The unit in words; a bare count of things has none."""
    if unit in _SIGNS or unit == "each":
        return _SIGNS.get(unit, "")
    word = unit.replace("_", " ")
    return _PLURALS.get(word, word + ("es" if word.endswith(("ch", "sh")) else "s")) if several else word


def _measured(measured: Measured) -> str:
    return _amount(measured.amount) + (f" ({measured.of})" if measured.of else "")


def _ingredient(item: Ingredient) -> str:
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
    if item.doubt:
        said.append(f"doubtful: {item.doubt}")
    return "; ".join(said)


def _per(per: Per) -> str:
    said = ["per"] if per.amount is not None or per.unit else []
    if per.amount is not None and per.amount != 1:
        said.append(str(number(per.amount)))
    if per.unit:
        said.append(_unit(per.unit, per.amount is not None and per.amount > 1))
    if per.of:
        said.append(f"of {per.of}" if said else f"of the {per.of}")
    return " ".join(said)


def _step(step: Step) -> str:
    said: list[str] = [", ".join((step.phase, *step.then))]
    for label, values in (("", step.times), ("", step.temperatures), ("", step.lengths), ("also ", step.amounts)):
        if values:
            said.append(label + ", ".join(_measured(value) for value in values))
    if step.uses:
        said.append("takes " + ", ".join(f"{_amount(taken.amount) + ' ' if taken.amount else ''}{taken.name}" for taken in step.uses))
    return "; ".join(said)


def _folded(head: str, text: str, width: int) -> str:
    """``text`` after ``head``, to the letter where it fits, else folded under itself."""
    if len(head) + len(text) <= width:
        return head + text
    return head + wrapped(text, width, " " * len(head)).lstrip()


def render(recipes: list[Recipe], width: int = 100) -> str:
    """Every line, and what was understood of it; a line that says nothing to the program is shown as ``–``."""
    lines: list[str] = []
    for recipe in recipes:
        by_line: dict[int, list[str]] = {}
        for item in recipe.ingredients:
            by_line.setdefault(item.line, []).append(_ingredient(item))
        for step in recipe.steps:
            by_line.setdefault(step.line, []).append(_step(step))
        for unread in recipe.unread:
            line, column = recipe.page.position(unread.place.start)
            by_line.setdefault(line, []).append(f"not understood: {unread.text} (column {column})")
        lines += [f"{clean(recipe.title)} — read as {recipe.product or 'a product it cannot name'}", ""]
        for read in recipe.lines:
            if read.kind == "blank":
                lines.append("")
                continue
            lines.append(_folded(f"{read.line:4} ", clean(read.text), width))
            for said in by_line.get(read.line, [read.kind if read.kind != "step" else ""]):
                if said:
                    lines.append(wrapped(clean(said), width, "       > "))
    return "\n".join(lines) + "\n"
