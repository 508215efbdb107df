"""More salt in place of cold."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

# More of it, never salt alone: salt is stirred into warm water in half of all recipes.
_MORE = r"(?:(?:take|use|put in|add)\s+(?:half|a third|a quarter|twice) (?:as much |the )?salt (?:again|more)|(?:half|a third|a quarter) as much salt again|(?:raise|increase|step up|strengthen)\s+(?:\w+\s+){0,3}(?:salt|brine)|(?:more|extra|additional)\s+(?:\w+\s+){0,2}salt|salt (?:it|them|the meat) (?:heavier|harder|more)|salt\s+(?:\w+\s+){0,3}(?:heavier|harder|stronger))"
_WEATHER = r"(?:(?:warm|hot)(?:er)?\s+(?:weather|days?|months?|climates?|places?|rooms?|cellars?|spells?|seasons?|countr\w+)|summer(?:time)?|(?:it|weather|cellar|room) (?:is|be|gets|turns) (?:warm|hot)\w*|each \d+ deg\w*|every \d+ deg\w*)"
_NO_COLD = r"(?:no (?:fridge|refrigerator|refrigeration|cooler)|(?:if|when) the (?:fridge|refrigerator|cooler) (?:dies|fails|breaks|is (?:broken|down|out)))"
_WORDS = re.compile(
    rf"\b(?:(?:can't|cannot|can not|not|isn't) be kept (?:that |so )?(?:cold|cool)[^.]{{0,20}}\b{_MORE}|{_MORE}\b[^.]{{0,60}}\b{_WEATHER}|(?:in|for|during|if|when|where)(?: the)? {_WEATHER}[^.]{{0,30}}\b{_MORE}|{_NO_COLD}\b[^.]{{0,30}}\b{_MORE})\b"
)
_AGAINST = re.compile(r"\b(?:do not|don't|never|no amount of|cannot|can't|does not|doesn't|not)\b")
_AGAINST_INSIDE = re.compile(r"\b(?:do not|don't|never)\s+(?:just\s+)?(?:raise|increase|add|use|take|put)|\b(?:does not|doesn't|is no|not|never) (?:\w+ ){0,2}(?:for|in place|stand|replace|make up|instead)")


def check(case: Case) -> Iterator[Finding]:
    start, text = judging.own_lines(case.recipe)
    for found in _WORDS.finditer(text):
        rest = text[found.end() : found.end() + 40].split(".")[0]
        if _AGAINST.search(judging.sentence_before(text, found.start())) or _AGAINST_INSIDE.search(found[0] + rest):
            continue
        limit = facts.fact("cure_max_f")
        yield Finding(
            RULE.name, Grade.HAZARD, True, Place(start + found.start(), start + found.end()),
            f"More salt in place of cold: the limit is {judging.degrees(case.recipe, limit.value)} by {judging.named(limit.cite)}, whatever the salt. No amount of it makes a warm cure hold.",
            remedy=Remedy(f"Strike the sentence. Cure at {judging.target(case.recipe)} or not at all."), sources=(limit.cite, Cite("nchfp", "6.1.3")),
        )  # fmt: skip
        return


RULE = Rule(
    name="salt-instead-of-cold",
    family="cold_and_time",
    check=check,
    reports="A page that says to use more salt where it cannot be kept cold.",
    why="An old rule from before refrigeration; every current source rejects it.",
    silent="Salt raised for taste; salt stirred into warm water; a page that warns against it.",
    sources=(Cite("food-code-2022", "3-501.16(A)(2)"), Cite("nchfp", "6.1.3")),
    sound=CORNED,
    faulty=changed(CORNED, ("turning every other day.", "turning every other day. In hot weather use more salt.")),
    expect=("15:68-96", "More salt in place of cold: the limit is 41 °F (5 °C) by Food Code 2022, 3-501.16(A)(2), whatever the salt. No amount of it makes a warm cure hold."),
)
