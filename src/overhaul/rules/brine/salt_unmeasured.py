"""Salt that is not measured at all."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    egg = phrases.FLOATS_AN_EGG.search(recipe.page.low, recipe.page.begin) if "egg" in recipe.page.told else None
    if egg is not None:
        place, fact = Place(egg.start(), egg.end()), facts.fact("egg_float_percent")
        yield Finding(
            RULE.name, Grade.QUERY, False, place, f"“{recipe.page.words(place)}” is a strength, not an amount of salt, and a wide one: {fact.low:g} to {fact.high:g} % by the age of the egg, likely about {fact.value:g} %.",
            remedy=Remedy("Weigh salt and water instead."), sources=(fact.cite,),
        )  # fmt: skip
        return
    for item in recipe.of_role("salt"):
        if item.amount is not None and item.amount.unit == "handful":
            found = f"{words.amount_words(recipe, item.amount)} of salt may be {words.figure(item.mass, 'gram')}" if item.mass is not None else "a handful is no measure"
            level = case.sums.get("salt_equilibrium")
            worked = f", {words.figure(level.value, 'percent')} of the meat" if level is not None else ""
            yield Finding(
                RULE.name, Grade.QUERY, False, item.amount.place, f"{found}{worked}: nobody can make that twice.", sum=level.worked() if level is not None else None,
                remedy=Remedy("Weigh what your hand takes once, and write the grams."), sources=(Cite("own-model", "volume of a hand"),),
            )  # fmt: skip
        elif item.amount is None and item.mass is None and not item.optional and (recipe.of_role(*CURING_SALTS) or recipe.cured):
            yield Finding(
                RULE.name, Grade.QUERY, False, item.name_place, f"“{case.recipe.page.words(item.name_place)}”: how much? Without a weight neither the strength of the cure nor the taste can be worked.",
                remedy=Remedy("Weigh it, and write the grams."), sources=(Cite("common-practice"),),
            )  # fmt: skip


RULE = Rule(
    name="salt-unmeasured",
    family="brine",
    check=check,
    reports="Salt by the handful, to float an egg, or with no amount at all.",
    why="Old pages leave the salt to the hand that wrote them. The next hand is another size.",
    silent="Salt with a weight or a measure; uncured cooking.",
    sources=(Cite("fb-1438"),),
    sound=CORNED,
    faulty=changed(CORNED, ("10 oz kosher", "3 handfuls kosher")),
    expect=("7:1-11", "3 handfuls of salt may be 47.5 to 387 g (likely 173), 0.69 to 4.11 % (likely 1.99) of the meat: nobody can make that twice."),
)
