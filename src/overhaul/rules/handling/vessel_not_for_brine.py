"""A vessel that salt and acid take metal out of."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_CITE = Cite("common-practice", "food plastic, stainless, glass or stoneware")


def check(case: Case) -> Iterator[Finding]:
    recipe, material = case.recipe, case.process.tub_material
    if case.process.cure is None or material is None or not phrases.REACTIVE_METAL.search(material):
        return
    start, text = recipe.own_words
    at = text.find(material)
    place = Place(start + max(at, 0), start + max(at, 0) + (len(material) if at >= 0 else 0))
    yield Finding(
        RULE.name, Grade.FAULT, False, place,
        f"The vessel is “{material}”: brine takes the metal up, which spoils the taste and the colour, and zinc can make ill ({judging.named(_CITE)}).",
        remedy=Remedy("Use food plastic, stainless steel, glass or stoneware."), sources=(_CITE,),
    )  # fmt: skip


RULE = Rule(
    name="vessel-not-for-brine",
    family="handling",
    check=check,
    reports="A brine or cure in galvanised, aluminium, copper or iron ware.",
    why="Salt and acid eat it, and it goes into the meat.",
    silent="Plastic, stainless, glass, stoneware and wood; no vessel named.",
    sources=(_CITE,),
    sound=CORNED,
    faulty=changed(CORNED, ("6 gallon food plastic tub", "6 gallon galvanized tub")),
    expect=("14:32-42", "The vessel is “galvanized”: brine takes the metal up, which spoils the taste and the colour, and zinc can make ill (common practice, no source)."),
)
