"""More salt in place of cold."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

# More of it, never salt alone: salt is stirred into warm water in half of all recipes.


def check(case: Case) -> Iterator[Finding]:
    start, text = case.recipe.own_words
    for found in judging.said_in(text, phrases.SALT_FOR_COLD):
        rest = text[found.end() : found.end() + 40].split(".")[0]
        if phrases.SPOKEN_AGAINST.search(judging.sentence_before(text, found.start())) or phrases.SALT_FOR_COLD_NOT.search(found[0] + rest):
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
