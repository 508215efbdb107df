"""From the rinse into the smoke, wet."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.reading import phrases
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import BACON, changed

_CITE = Cite("common-practice", "a dry skin before smoke")


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    wet = process.rinse or process.soak_mention
    if process.smoke is None or wet is None or process.dry is not None or recipe.product == "ground":
        return
    first = next((number for number, step in enumerate(recipe.steps) if step.place.start <= wet.place.start < step.place.end), None)
    smoked = next((number for number, step in enumerate(recipe.steps) if step.does("smoke")), None)
    if first is None or smoked is None or smoked < first:
        return
    between = recipe.steps[first : smoked + 1]
    if any(step.does("season", "equalize", "cook", "store") or phrases.DRIED_OFF.search(phrases.STRUCK.sub("", step.text)) for step in between):
        return  # a crust of spice takes the smoke as a dry skin does
    line = max((step.end_line for step in between if step.does("rinse", "soak")), default=wet.line)
    yield words.missing(
        recipe, RULE.name, line, f"Rinsed and smoked, with nothing that dries it between: on a wet skin smoke turns to streaks and soot ({judging.named(_CITE)}). Is the drying left out?",
        "Dry it uncovered on a rack in the cold, overnight, until the skin is tacky.", "Pat dry, then dry on a rack in the refrigerator overnight, uncovered.", sources=(_CITE,),
    )  # fmt: skip


RULE = Rule(
    name="smoked-wet",
    family="rinse_soak_dry",
    check=check,
    reports="Meat or fish that goes from the rinse or the soak into the smoke, with no drying.",
    why="A dry, tacky skin takes smoke evenly; a wet one runs.",
    silent="Any drying, patting, hanging, airing or night on a rack; a rub or a crust of spice put on first; sausage.",
    sources=(_CITE,),
    sound=BACON,
    faulty=changed(BACON, ("3. Rinse and pat dry. Dry on a rack in the refrigerator overnight.", "3. Rinse well.")),
    expect=("10:15-15", "Rinsed and smoked, with nothing that dries it between: on a wet skin smoke turns to streaks and soot (common practice, no source). Is the drying left out?"),
)
