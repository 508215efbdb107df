"""A brine kept for the next batch, or boiled up and used again."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_WORDS = re.compile(
    r"\b(?:save|keep|reuse|re-use)\s+(?:the |this )?brine\b[^.]{0,40}|\bbrine\b[^.]{0,30}\b(?:again|next batch|reused|re-used|another batch)\b|\b(?:skim and boil again|boil (?:it|the brine) again|brine mould\w*[^.]{0,30}again)",
    re.I,
)


def check(case: Case) -> Iterator[Finding]:
    text = case.recipe.page.plain.replace("\n", " ").replace("\r", " ")
    for found in _WORDS.finditer(text):
        if re.search(r"\b(?:do not|don't|never)\b[^.]{0,12}$", text[max(0, found.start() - 16) : found.start()], re.I):
            continue
        yield Finding(
            RULE.name, Grade.FAULT, False, Place(found.start(), found.end()),
            "A brine used again: it has lost salt and nitrite to the meat, nobody knows how much, and it carries what the first batch left. A mouldy or ropy one is spoiled.",
            remedy=Remedy("Throw the brine out after one batch, scald the tub, and make a new one."), sources=(Cite("fb-2265", "ropy brine"),),
        )  # fmt: skip
        return


RULE = Rule(
    name="brine-used-again",
    family="handling",
    check=check,
    reports="A brine that is saved for another batch, or boiled and used again when it moulds.",
    why="Its strength is unknown and its germs are not.",
    silent="The same batch put back into its own brine after overhauling.",
    sources=(Cite("fb-2265", "ropy brine"),),
    sound=CORNED,
    faulty=changed(CORNED, ("5. Rinse well.", "5. Save the brine for the next one. Rinse well.")),
    expect=("16:4-35", "A brine used again: it has lost salt and nitrite to the meat, nobody knows how much, and it carries what the first batch left. A mouldy or ropy one is spoiled."),
)
