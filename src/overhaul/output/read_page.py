"""The reading of each line beside the line: how a cook comes to trust the rest."""

from __future__ import annotations

from overhaul.output.clean import clean, wrapped
from overhaul.output.tree import number
from overhaul.recipe.model import Amount, Ingredient, Measured, Recipe, Step
from overhaul.sums.work import figure


def _amount(amount: Amount) -> str:
    unit = amount.unit.replace("_", " ")
    value = f"{number(amount.low)}" if amount.low == amount.high else f"{number(amount.low)} to {number(amount.high)}"
    return value if unit == "each" else f"{value} {unit}"


def _measured(measured: Measured) -> str:
    return _amount(measured.amount) + (f" ({measured.of})" if measured.of else "")


def _ingredient(item: Ingredient) -> str:
    said = [f"{item.name or '?'} [{item.role}]"]
    if item.count is not None:
        said.append(f"{_amount(item.count)}" + (" of" if item.each else ", in all"))
    if item.amount is not None:
        said.append(_amount(item.amount))
    if item.per is not None:
        said.append("per " + " ".join(str(part) for part in (number(item.per.amount) if item.per.amount is not None else "", item.per.unit or "", f"of {item.per.of}" if item.per.of else "") if part != ""))
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


def _step(step: Step) -> str:
    said: list[str] = [step.phase]
    for label, values in (("", step.times), ("", step.temperatures), ("", step.lengths), ("also ", step.amounts)):
        if values:
            said.append(label + ", ".join(_measured(value) for value in values))
    if step.uses:
        said.append("takes " + ", ".join(f"{_amount(taken.amount) + ' ' if taken.amount else ''}{taken.name}" for taken in step.uses))
    return "; ".join(said)


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
            lines.append(f"{read.line:4} {clean(read.text)}")
            for said in by_line.get(read.line, [read.kind if read.kind != "step" else ""]):
                if said:
                    lines.append(wrapped(clean(said), width, "       > "))
    return "\n".join(lines) + "\n"
