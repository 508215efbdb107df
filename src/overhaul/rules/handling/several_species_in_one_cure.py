"""Meat of two animals in one brine."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.meats import species_of
from overhaul.recipe.model import CURING_SALTS, Ingredient
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_CITE = Cite("common-practice")


def check(case: Case) -> Iterator[Finding]:
    process = case.process
    if process.cure is None or process.cure.method not in ("immersion", "pumped-immersion") or case.recipe.product in ("ground", "dried"):
        return
    for section in case.recipe.sections:
        if not any(item.role in ("salt", *CURING_SALTS) and item.use == "cure" for item in section.ingredients):
            continue
        first: tuple[Ingredient, str] | None = None
        for item in section.ingredients:
            species = species_of(item.name) if item.role == "meat" and item.use == "cure" and item.amount is not None else None
            if species is None:
                continue
            if first is None:
                first = item, species
            elif species != first[1]:
                yield Finding(
                    RULE.name, Grade.QUERY, False, item.name_place,
                    f"“{first[0].name}” (line {first[0].line}) and “{item.name}” lie in one brine: what one animal brings, the other takes up, and each has days and an end point of its own ({judging.named(_CITE)}). Is each in a tub of its own?",
                    remedy=Remedy("One animal to a tub; poultry and fish never with others. Write a card for each."), sources=(_CITE,),
                )  # fmt: skip
                return


RULE = Rule(
    name="several-species-in-one-cure",
    family="handling",
    check=check,
    reports="Meat of two animals in one brine.",
    why="Brine carries germs and allergens from piece to piece, and the days of a brisket ruin a breast.",
    silent="Cuts of one animal; sausage; rubs and bags; meat whose animal is not named; pages that give each its own list.",
    sources=(_CITE,),
    sound=CORNED,
    faulty=changed(CORNED, ("2 brisket flats, 9 lb in all, trimmed of fat, 1 3/4 inches thick\n", "1 brisket flat, 5 lb, trimmed of fat, 1 3/4 inches thick\n1 pork loin, 4 lb, 1 3/4 inches thick\n")),
    expect=("6:3-12", "“brisket flat” (line 5) and “pork loin” lie in one brine: what one animal brings, the other takes up, and each has days and an end point of its own (common practice, no source). Is each in a tub of its own?"),
)
