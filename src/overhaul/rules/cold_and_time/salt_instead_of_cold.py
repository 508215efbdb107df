"""More salt in place of cold."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_WORDS = re.compile(
    r"(?:can't|cannot|can not|not|isn't) be kept (?:that |so )?cold[^.]{0,20}(?:raise|more|increase|add)[^.]{0,20}salt|(?:raise|increase|add|use)[^.]{0,14}salt[^.]{0,60}(?:warm\w*|hot weather|summer|each \d+ deg\w*|every \d+ deg\w*)|in (?:hot|warm) weather[^.]{0,30}more salt",
    re.I,
)


def check(case: Case) -> Iterator[Finding]:
    text = case.recipe.page.plain.replace("\n", " ").replace("\r", " ")
    found = _WORDS.search(text)
    if found is None:
        return
    limit = facts.fact("cure_max_f")
    yield Finding(
        RULE.name, Grade.HAZARD, True, Place(found.start(), found.end()),
        f"Salt does not stand in for cold: no amount in a brine makes a cure at a warm temperature hold. The limit is {words.degrees(limit.value)}, whatever the salt.",
        remedy=Remedy("Strike the sentence. Cure at 36 to 40 °F (2 to 4 °C) or not at all."), sources=(limit.cite, Cite("nchfp", "6.1.3")),
    )  # fmt: skip


RULE = Rule(
    name="salt-instead-of-cold",
    family="cold_and_time",
    check=check,
    reports="A page that says to use more salt where it cannot be kept cold.",
    why="An old rule from before refrigeration; every current source rejects it.",
    silent="Salt raised for taste.",
    sources=(Cite("nchfp", "6.1.3"),),
    sound=CORNED,
    faulty=changed(CORNED, ("turning every other day.", "turning every other day. In hot weather use more salt.")),
    expect=("15:68-96", "Salt does not stand in for cold: no amount in a brine makes a cure at a warm temperature hold. The limit is 41 °F (5 °C), whatever the salt."),
)
