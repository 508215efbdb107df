"""The brine is still warm when the meat goes in."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.reading import units
from overhaul.recipe.model import Recipe
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    if process.cure is None or (process.cure.method == "dry" and process.brine_temperature is None):
        return
    cold = facts.fact("brine_into_meat_max_f")
    certain = facts.fact("brine_certainly_warm_f")
    stated = process.brine_temperature
    if stated is not None:
        if stated.high <= cold.value + 1:
            return
        if stated.low > cold.value + 1 or stated.low == stated.high:
            yield Finding(
                RULE.name, Grade.HAZARD, stated.low > certain.value, stated.place,
                f"The brine is {words.degrees(stated.low, stated.high)} when the meat goes in; it should be {words.degrees(cold.value)} or colder first.",
                remedy=Remedy("Chill the brine below 40 °F (4 °C), read it with a thermometer, then put the meat in."), sources=(cold.cite, certain.cite),
            )  # fmt: skip
        return
    if process.brine_heated is None:
        return
    worked = case.sums.get("brine_temperature")
    chilled = _chilled(recipe)
    if worked is not None:
        ice = next((item for item in recipe.of_role("ice") if item.amount is not None), None)
        warmest = (cold.value - 32) * 5 / 9
        if ice is None or ice.amount is None or worked.value.likely <= warmest + 0.5 or chilled:
            return
        straight = process.cure_cold is not None or process.cure_temperature is not None
        mild = straight and worked.value.high <= units.celsius(certain.value)
        yield Finding(
            RULE.name, Grade.FAULT if mild else Grade.HAZARD, False, ice.amount.place,
            f"Hot brine and this ice come to {words.figure(worked.value, 'degC')}; meat should not go in above {words.degrees(cold.value)}, and no chilling is written before it does.",
            sum=worked.worked(), remedy=_chill(recipe), sources=(cold.cite, *worked.sources),
        )  # fmt: skip
        return
    if process.brine_cooled is not None:
        return
    line = words.first_line_of(recipe, "cure", "pump")
    if line is None:
        return
    yield words.missing(
        recipe, RULE.name, line, f"The brine is heated (line {process.brine_heated.line}) and nothing cools it before the meat goes in; it should be {words.degrees(cold.value)} or colder first.",
        "Chill the brine below 40 °F (4 °C), read it with a thermometer, then put the meat in.", None, Grade.HAZARD, False, (cold.cite,),
    )  # fmt: skip


def _chilled(recipe: Recipe) -> bool:
    """A chilling step besides the ice itself, before the meat goes in."""
    for step in recipe.steps:
        if step.phase in ("cure", "pump"):
            break
        if step.phase == "cool-brine" and ("refrigerate" in step.actions or "cool" in step.actions or any(word in step.text.lower() for word in ("fridge", "refrigerator", "walk-in", "cooler", "reach-in", "cold room", "next day"))):
            return True
    text = recipe.page.plain.lower()
    return any(words_ in text for words_ in ("chill the brine", "brine is cold", "cold brine", "cool completely", "completely cool", "thoroughly chilled", "chilled brine"))


def _chill(recipe: Recipe) -> Remedy:
    line = words.last_line_of(recipe, "make-brine", "cool-brine")
    text = "Chill the brine to 38 °F (3 °C) before the meat goes in; more or colder ice also does it."
    if line is None:
        return Remedy(text)
    return Remedy(text, (Edit(recipe.page.end_of(line), "\nChill the brine to 38 F before the meat goes in."),))


RULE = Rule(
    name="brine-warm",
    family="cold_and_time",
    check=check,
    reports="Meat that goes into a brine still warm.",
    why="Warm brine holds the meat for hours at the heat that germs like best, before the salt has gone anywhere.",
    silent="Brine made cold; a stated 40 °F or less; a chilling step before the meat goes in; ice that brings it down far enough.",
    sources=(Cite("nchfp", "6.1.3"), Cite("food-code-2022", "3-501.14(B)")),
    sum="(hot liquid × its heat − ice × (333 kJ/kg to melt + warming)) ÷ the whole",
    sound=PASTRAMI,
    faulty=changed(PASTRAMI, ("Chill until it is below 38 F, then stir in the cure #1.", "Stir in the cure #1."), ("3 lb ice\n", ""), ("add the rest of the water and the ice", "add the rest of the water")),
    expect=("11:57-57", "The brine is heated (line 9) and nothing cools it before the meat goes in; it should be 40 °F (4 °C) or colder first."),
)
