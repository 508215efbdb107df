"""A page that is not in English."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import lexicon
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED
from overhaul.text import Place

_SHOWN = 4
_READ = Cite("own-model", "a count of small words")


def check(case: Case) -> Iterator[Finding]:
    start, text = case.recipe.own_words
    found = lexicon.other_language(text)
    if found is None:
        return
    language, words = found
    at = start + next(place.start() for place in lexicon.words_of(text) if place[0] == words[0])
    shown = ", ".join(f"“{word}”" for word in words[:_SHOWN])
    yield Finding(
        RULE.name, Grade.QUERY, False, Place(at, at + len(words[0])),
        f"This page seems to be in {language} ({shown}), and only English is read. Amounts that look alike are taken; what it says to do is not judged, and silence about it means nothing. Who reads it?",
        remedy=Remedy("Write it in English, or have it judged by somebody who reads it."), sources=(_READ,),
    )  # fmt: skip


RULE = Rule(
    name="another-language",
    family="page",
    check=check,
    reports="A page whose small words are those of another language.",
    why="“Nothing found” on a page that was not understood is the worst thing to hand to staff.",
    silent="English pages, with foreign names of dishes too; lists without any sentence.",
    sources=(_READ,),
    sound=CORNED,
    faulty="Kassler\n\nSchweinekarree 3 kg\nWasser 3 L\nSalz 240 g\n\nIn die Lake legen und 5 Tage bei 4 °C lassen, dann wässern. Warm räuchern, bis der Kern 65 °C hat.\n",
    expect=("7:4-7", "This page seems to be in German (“die”, “und”, “tage”, “bei”), and only English is read. Amounts that look alike are taken; what it says to do is not judged, and silence about it means nothing. Who reads it?"),
)
