"""The brine is still warm when the meat goes in."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.reading import phrases, units
from overhaul.recipe.method import COLD_PLACE, WARM_PLACE
from overhaul.recipe.model import Fact, Recipe, Step
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import PASTRAMI, changed
from overhaul.sums.worked import CannotTell, Sum
from overhaul.text import Place

_CHILL = ("chill", "refrigerat", "fridge", "ice", "walk-in", "cooler", "reach-in", "cold room", "next day", "cold")


def check(case: Case) -> Iterator[Finding]:
    process = case.process
    if process.cure is None or (process.cure.method == "dry" and process.brine_temperature is None):
        return
    if process.brine_temperature is not None:
        yield from _stated(case, process.brine_temperature)
        return
    if process.brine_heated is None:
        return
    room = _left_warm(case.recipe)
    worked = case.sums.get("brine_temperature")
    if room is not None:
        yield from _room(case, room)
    elif worked is not None:
        yield from _worked(case, worked)
    elif process.brine_cooled is None:
        yield from _never_cooled(case)


def _stated(case: Case, told: Fact) -> Iterator[Finding]:
    recipe = case.recipe
    cold, certain = facts.fact("brine_into_meat_max_f"), facts.fact("brine_certainly_warm_f")
    if told.high <= cold.value + facts.fact("brine_slack_f").value:
        return
    figures = any(letter.isdigit() for letter in recipe.page.words(told.place))
    yield Finding(
        RULE.name, Grade.HAZARD, told.low > certain.value, told.place,
        f"The brine is {degrees(recipe, told.low, told.high)} when the meat goes in; the limit is {degrees(recipe, cold.value)} by {named(cold.cite)}.",
        remedy=Remedy(_how(recipe), (Edit(told.place, judging.plain_degrees(recipe, judging.figure("chilled_brine_f").value)),) if figures else ()), sources=(cold.cite, certain.cite),
    )  # fmt: skip


def _worked(case: Case, worked: Sum) -> Iterator[Finding]:
    recipe = case.recipe
    cold, certain = facts.fact("brine_into_meat_max_f"), facts.fact("brine_certainly_warm_f")
    ice = next((item for item in recipe.of_role("ice") if item.amount is not None), None)
    if ice is None or ice.amount is None or worked.value.likely <= units.celsius(cold.value) + judging.figure("brine_worked_slack_k").value or _chilled(recipe):
        return
    mild = _into_the_cold(case) and worked.value.high <= units.celsius(certain.value)
    value = worked.value
    yield Finding(
        RULE.name, Grade.FAULT if mild else Grade.HAZARD, False, ice.amount.place,
        f"The hot brine and this ice come to {degrees(recipe, _fahrenheit(value.low), _fahrenheit(value.high))}, and no chilling is written before the meat goes in; the limit is {degrees(recipe, cold.value)} by {named(cold.cite)}.",
        sum=worked.worked(), remedy=_chill(recipe, _ice(case) or "Colder ice also does it."), sources=(cold.cite, *worked.sources),
    )  # fmt: skip


def _fahrenheit(degc: float) -> float:
    return units.fahrenheit(Fraction(degc), "degC")


def _room(case: Case, place: Place) -> Iterator[Finding]:
    recipe = case.recipe
    cold, warm = facts.fact("brine_into_meat_max_f"), facts.fact("brine_certainly_warm_f")
    yield Finding(
        RULE.name, Grade.FAULT if _into_the_cold(case) else Grade.HAZARD, False, place,
        f"The brine is left to cool (“{recipe.page.words(place)}”), to about {degrees(recipe, warm.value)} at best, and nothing chills it before the meat goes in; the limit is {degrees(recipe, cold.value)} by {named(cold.cite)}.",
        remedy=_chill(recipe), sources=(cold.cite, warm.cite),
    )  # fmt: skip


def _never_cooled(case: Case) -> Iterator[Finding]:
    recipe, heated = case.recipe, case.process.brine_heated
    entering = next((step for step in recipe.steps if step.does("cure", "pump")), None)
    if entering is None or heated is None or any(phrases.UNTIL_COLD.search(step.text) for step in (*_before_the_meat(recipe), entering)):
        return
    cold = facts.fact("brine_into_meat_max_f")
    place = recipe.page.end_of(entering.end_line)
    yield Finding(
        RULE.name, Grade.HAZARD, False, place,
        f"The brine is heated (line {heated.line}) and nothing cools it before the meat goes in; the limit is {degrees(recipe, cold.value)} by {named(cold.cite)}.",
        absent=True, remedy=_chill(recipe, _ice(case)), sources=(cold.cite,),
    )  # fmt: skip


def _into_the_cold(case: Case) -> bool:
    return case.process.cure_cold is not None or case.process.cure_temperature is not None


def _before_the_meat(recipe: Recipe) -> list[Step]:
    """The steps that make and cool the brine, up to the one where the meat goes in."""
    found: list[Step] = []
    for step in recipe.steps:
        if step.does("cure", "pump"):
            break
        if step.does("make-brine", "cool-brine"):
            found.append(step)
    return found


def _left_warm(recipe: Recipe) -> Place | None:
    """``to room temperature``, where nothing colder follows before the meat goes in."""
    found: Place | None = None
    for step in _before_the_meat(recipe):
        text = recipe.page.low[step.place.start : step.place.end]
        match = WARM_PLACE.search(text)
        if match is not None:
            found = Place(step.place.start + match.start(), step.place.start + match.end())
            text = text[match.end() :]
        if found is not None and any(word in text for word in _CHILL):
            found = None
    return found


def _chilled(recipe: Recipe) -> bool:
    """A chilling step besides the ice itself, before the meat goes in."""
    for step in _before_the_meat(recipe):
        if step.does("cool-brine") and ("refrigerate" in step.actions or "cool" in step.actions or "next day" in step.text.lower() or COLD_PLACE.search(step.text.lower())):
            return True
    _, text = recipe.own_words
    return any(said in text.lower() for said in ("chill the brine", "brine is cold", "cold brine", "cool completely", "completely cool", "thoroughly chilled", "chilled brine"))


def _how(recipe: Recipe) -> str:
    return f"Chill the brine to {degrees(recipe, judging.figure('chilled_brine_f').value)}, read it with a thermometer, then put the meat in."


def _ice(case: Case) -> str:
    """How much of the water as ice would do it, with the warmest ice there is; nothing where that cannot be told."""
    from overhaul.sums import answers_brine
    from overhaul.sums.answers import Wanted

    cold = units.celsius(facts.fact("brine_into_meat_max_f").value)
    try:
        *_, told = answers_brine.ice(case.sums, Wanted())
    except (CannotTell, ValueError):  # ValueError: nothing to weigh anew
        return ""
    again = next((one.value.high for one in told.again if one.name == "brine_temperature"), None)
    if again is None or again > cold + judging.figure("brine_worked_slack_k").value:
        return ""
    ice, water = (one.value for one in told.weigh)
    return f"Or put {words.gram(ice)} of its water in as ice and {words.gram(water)} as water: worked again, {degrees(case.recipe, _fahrenheit(again))} at most."


def _chill(recipe: Recipe, also: str = "") -> Remedy:
    """The line to add, after the brine is made and before the meat goes in."""
    text = f"{_how(recipe)} {also}".strip()
    made = _before_the_meat(recipe)
    if not made:
        return Remedy(text)
    line = f"Chill the brine to {judging.plain_degrees(recipe, judging.figure('chilled_brine_f').value)} before the meat goes in."
    enters = next((step.line for step in recipe.steps if step.does("cure", "pump")), None)
    last = made[-1]
    # In running prose the meat goes in on the same line: the sentence stands between the two.
    if enters is not None and enters <= last.end_line:
        return Remedy(text, (Edit(words.empty(last.place), f" {line}"),))
    return Remedy(text, (Edit(recipe.page.end_of(last.end_line), f"\n{line}"),))


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
    expect=("11:57-57", "The brine is heated (line 9) and nothing cools it before the meat goes in; the limit is 40 °F (4.4 °C) by the National Center for Home Food Preservation, 6.1.3."),
)
