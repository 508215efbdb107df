"""The method takes more of a thing than the list has."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import lexicon, phrases
from overhaul.recipe import masses
from overhaul.recipe.model import CURING_SALTS, Amount, Ingredient, Step
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.span import added

_ROUNDING = 1.05  # a twentieth either way is rounding


def check(case: Case) -> Iterator[Finding]:
    listed = [(item, item.amount) for item in case.recipe.ingredients if not item.in_method and item.amount is not None]
    for step in case.recipe.steps:
        if step.does("soak", "rinse", "store", "slice", "cool", "hold"):
            continue
        for taken in step.uses:
            if taken.amount is None or taken.amount.unit == "each":
                continue
            mine = [(item, amount) for item, amount in listed if _same(item, taken.name)]
            if not mine or (any(item.role in ("meat", "water") for item, _ in mine) and step.does("cook", "smoke")):
                continue
            first, amount = mine[0]
            role, kind = first.role, first.kind
            in_method = masses.in_grams(taken.amount, role, kind, case.house)[0]
            known = [item.mass for item, _ in mine if item.mass is not None]
            if in_method is None or not known:
                continue
            in_list = added(known)
            whole = (role in CURING_SALTS or role == "salt") and len(mine) == 1 and not _part(case, step, taken.name, taken.amount)
            if in_method.low > in_list.high * _ROUNDING or (whole and in_method.high * _ROUNDING < in_list.low):
                yield Finding(
                    RULE.name, Grade.QUERY, False, taken.amount.place,
                    f"The method takes {words.amount_words(case.recipe, taken.amount)} of {taken.name}, the list has {words.amount_words(case.recipe, amount)} on line {first.line}: list and method differ. Which one holds?",
                    remedy=Remedy("Write one amount, in the list, by weight."), sources=(Cite("common-practice"),),
                )  # fmt: skip


def _part(case: Case, step: Step, name: str, amount: Amount) -> bool:
    """Whether the method takes only some of it here: so many grams of the salt, the first half, what is left."""
    plain = case.recipe.page.plain
    again = [taken for one in case.recipe.steps for taken in one.uses if taken.amount is not None and taken.amount.place != amount.place and taken.name == name]
    return bool(again or phrases.OF_IT.match(plain, amount.place.end) or phrases.SOME_OF_IT.search(plain, step.place.start, step.place.end))


def _same(item: Ingredient, name: str) -> bool:
    found = lexicon.known(lexicon.plain_words(name))
    mine = lexicon.known(lexicon.plain_words(item.name))
    if found is None or mine is None or found.role != mine.role:
        return False
    if found.role in (*CURING_SALTS, "salt", "water", "ice"):
        return True
    return bool(set(found.noun.split()) & set(mine.noun.split()))


RULE = Rule(
    name="list-and-method-disagree",
    family="page",
    check=check,
    reports="A method that takes more of a thing than the list has, or another amount of salt or curing salt.",
    why="Whoever weighs from the list and whoever follows the method make two different batches.",
    silent="A part of a listed amount (1 quart out of the 4); water for the pot; counts.",
    sources=(Cite("common-practice"),),
    sound=CORNED,
    faulty=changed(CORNED, ("Stir the salt, sugar", "Stir the 14 oz salt, sugar")),
    expect=("12:13-18", "The method takes 14 oz of salt, the list has 10 oz on line 7: list and method differ. Which one holds?"),
)
