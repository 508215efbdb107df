"""Readings in one short line each, for tables of tests."""

from __future__ import annotations

from overhaul.recipe.model import Amount, Ingredient, Measured, Recipe
from tests.conftest import recipe_of


def amount(told: Amount | None) -> str:
    """``1 1/2-2 cup``; parts of a sum in brackets."""
    if told is None:
        return "-"
    value = f"{told.low}" if told.low == told.high else f"{told.low}-{told.high}"
    parts = f" ({' + '.join(amount(part) for part in told.parts)})" if told.parts else ""
    return f"{f'{told.vague} ' if told.vague else ''}{value} {told.unit}{parts}"


def ingredient(item: Ingredient) -> str:
    """``role name: amount``, then what else the line says, each behind a bar."""
    said = [f"{item.role} {item.name}: {amount(item.amount)}"]
    if item.count is not None:
        said.append(f"{amount(item.count)} {'each' if item.each else 'in all' if item.each is False else 'each or in all'}")
    if item.per is not None:
        rate = f"{item.per.amount} {item.per.unit} " if item.per.unit is not None else ""
        said.append(f"per {rate}of {item.per.of}")
    said += [f"also {amount(other)}" for other in item.also]
    said += [f"or {other.role} {other.name} {amount(other.amount)}" for other in item.instead]
    if item.columns:
        said.append("columns " + ", ".join(f"{column.factor}× {amount(column.amount)}" for column in item.columns))
    said += [f"was {amount(other)}" for other in item.was]
    if item.strength is not None:
        said.append(f"strength {item.strength.nitrite.likely if item.strength.nitrite else 0:g}/{item.strength.nitrate.likely if item.strength.nitrate else 0:g}")
    if item.state is not None:
        said.append(f"“{item.state}”")
    if item.optional:
        said.append("optional")
    if item.use != "cure":
        said.append(f"for the {item.use}")
    if item.doubt is not None:
        said.append(f"doubt {item.doubt}")
    return " | ".join(said)


def lines(text: str, heading: str = "Ingredients") -> list[str]:
    """The ingredients of ``text`` under a heading."""
    return [ingredient(item) for item in recipe_of(f"Card\n\n{heading}\n{text}\n").ingredients]


def measured(told: tuple[Measured, ...]) -> str:
    return ", ".join(amount(one.amount) + (f" {one.of}" if one.of else "") for one in told)


def steps(recipe: Recipe, after: int = 0) -> list[str]:
    """Each step as ``phase: actions | times | temperatures | lengths | takes``, empty parts left out."""
    made = []
    for step in recipe.steps[after:]:
        parts = [", ".join(step.actions), measured(step.times), measured(step.temperatures), measured(step.lengths), ", ".join(f"{amount(use.amount)} {use.name}" for use in step.uses)]
        made.append(" | ".join([step.phase, *(part for part in parts if part)]))
    return made


def facts(recipe: Recipe, but: Recipe | None = None) -> dict[str, str]:
    """The process facts that ``recipe`` has and ``but`` has not, each in a few words."""
    said: dict[str, str] = {}
    for name in recipe.process.__struct_fields__:
        value = getattr(recipe.process, name)
        if value in (None, ()) or name in ("meat", "meats") or (but is not None and value == getattr(but.process, name)):
            continue
        if name == "cure":
            said[name] = value.method
        elif name == "cooling":
            said[name] = ", ".join(f"{leg.start:g} to {leg.end:g} in {leg.low:g}-{leg.high:g}" for leg in value)
        elif name == "cure_rate":
            said[name] = f"{value.low:g}-{value.high:g} {value.unit} per {value.per:g} {value.per_unit}, {value.more:g} more"
        elif name == "turning_days":
            said[name] = ", ".join(map(str, value))
        elif name == "storage":
            said[name] = f"{value.low:g}-{value.high:g} day {value.kept}"
        elif hasattr(value, "words"):
            said[name] = f"“{value.words}”"
        elif hasattr(value, "low"):
            said[name] = f"{value.low:g}-{value.high:g} {value.unit}"
        else:
            said[name] = str(value)
    return said
