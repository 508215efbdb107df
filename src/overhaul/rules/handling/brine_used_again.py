"""A brine kept for the next batch, or boiled up and used again."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place


def check(case: Case) -> Iterator[Finding]:
    start, text = case.recipe.own_words
    for found in judging.said_in(text, phrases.BRINE_AGAIN, phrases.BRINE_KEPT_GOING):
        if phrases.BRINE_USED_ONCE.match(found[0]) or phrases.DISCARDED.search(judging.sentence_before(text, found.start())[-40:]) or phrases.DISCARDED.search(found[0]):
            continue
        if phrases.SAME_BATCH.search(text[found.start() :].split(".")[0]):
            continue  # set aside while the meat is turned
        cite = Cite("fb-2265", "ropy brine")
        yield Finding(
            RULE.name, Grade.FAULT, False, Place(start + found.start(), start + found.end()),
            f"A brine used again has lost salt and nitrite to the meat, nobody knows how much, and carries what the first batch left; a mouldy or ropy one is spoiled and goes out ({judging.named(cite)}).",
            remedy=Remedy("Throw the brine out after one batch, scald the tub, and make a new one."), sources=(cite,),
        )  # fmt: skip
        return


RULE = Rule(
    name="brine-used-again",
    family="handling",
    check=check,
    reports="A brine that is saved for another batch, topped up for it, or boiled and used again when it moulds.",
    why="Its strength is unknown and its germs are not.",
    silent="The same batch put back into its own brine after overhauling; a page that says to throw it out.",
    sources=(Cite("fb-2265", "ropy brine"),),
    sound=CORNED,
    faulty=changed(CORNED, ("5. Rinse well.", "5. Save the brine for the next one. Rinse well.")),
    expect=("16:4-35", "A brine used again has lost salt and nitrite to the meat, nobody knows how much, and carries what the first batch left; a mouldy or ropy one is spoiled and goes out (Farmers' Bulletin 2265)."),
)
