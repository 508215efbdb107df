"""A brine kept for the next batch, or boiled up and used again."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_NEXT = r"(?:(?:the |a |your )?(?:next|another|second|following|new|later|more)\s*(?:one|batch\w*|lot|piece\w*|time|brisket\w*|beef|meat|ham\w*|use|round)?|again|twice)"
_WORDS = re.compile(
    rf"\b(?:(?:save|keep)\s+(?:the |this |that |your )?(?:brine|pickle)\b(?:\s+(?:for|and|to)\b[^.]{{0,24}}?\b{_NEXT}\b)|save\s+(?:the |this |that |your )?(?:brine|pickle)\b"
    rf"|(?:re-?use[sd]?|use)\s+(?:the |this |that |your )?(?:same |old )?(?:brine|pickle)\b(?:[^.]{{0,20}}?\b{_NEXT}\b)?"
    rf"|(?:brine|pickle)\b[^.]{{0,30}}\b(?:re-?used|used (?:again|twice|a second time|for {_NEXT})|use (?:it )?again|kept for {_NEXT}|good for {_NEXT}|serves? again|do(?:es)? for {_NEXT}|will do {_NEXT})\b"
    rf"|(?:brine|pickle)\b[^.]{{0,40}}\b(?:boil(?:ed)?|scald(?:ed)?) (?:it )?(?:up )?(?:for|again)\b[^.]{{0,40}}\b(?:{_NEXT}|use it (?:over|again))\b|(?:brine|pickle)\b[^.]{{0,40}}\b(?:use(?:d)? (?:it )?over\b|(?:left )?(?:over )?from (?:the )?last (?:month|time|year|week|batch|lot|season)\w*)"
    rf"|(?:skim and boil again|(?:brine|pickle) (?:should )?mould\w*[^.]{{0,30}}again))"
)
_PLAIN_USE = re.compile(r"^use\s+(?:the |this |that |your )?(?:brine|pickle)$")  # "use the brine cold" uses it once
_SAME_BATCH = re.compile(r"\b(?:put|lay|pack|pour|goes|go)\b[^.]*\bback\b|\brepack|\breturn")
_AGAINST = re.compile(r"\b(?:do not|don't|never|not|cannot|can't|no)\b|\bdiscard\b|\bthrow\b")


def check(case: Case) -> Iterator[Finding]:
    start, text = judging.own_lines(case.recipe)
    for found in _WORDS.finditer(text):
        if _PLAIN_USE.match(found[0]) or _AGAINST.search(judging.sentence_before(text, found.start())[-40:]) or _AGAINST.search(found[0]):
            continue
        if _SAME_BATCH.search(text[found.start() :].split(".")[0]):
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
    reports="A brine that is saved for another batch, or boiled and used again when it moulds.",
    why="Its strength is unknown and its germs are not.",
    silent="The same batch put back into its own brine after overhauling; a page that says to throw it out.",
    sources=(Cite("fb-2265", "ropy brine"),),
    sound=CORNED,
    faulty=changed(CORNED, ("5. Rinse well.", "5. Save the brine for the next one. Rinse well.")),
    expect=("16:4-35", "A brine used again has lost salt and nitrite to the meat, nobody knows how much, and carries what the first batch left; a mouldy or ropy one is spoiled and goes out (Farmers' Bulletin 2265)."),
)
