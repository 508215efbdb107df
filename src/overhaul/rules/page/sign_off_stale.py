"""A sign-off for words that no longer stand on the page."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import signing
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED

_FORM = Cite("own-model", "the form of a sign-off")


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    first, last = recipe.page.lines[recipe.first_line - 1].place.start, recipe.page.lines[recipe.last_line - 1].place.end
    for sign in signing.sign_offs(recipe.page)[0]:
        if first <= sign.place.start <= last and not signing.stands(recipe.page, sign):
            yield Finding(
                RULE.name, Grade.QUERY, False, sign.place,
                f"{sign.signed.by} signed off “{sign.rule}” for “{sign.words}” on {sign.signed.date}, and those words no longer stand on the page. Does it still hold?",
                remedy=Remedy("Sign it again for the words as they are now, or take the line out."), sources=(_FORM,),
            )  # fmt: skip


RULE = Rule(
    name="sign-off-stale",
    family="page",
    check=check,
    reports="A sign-off whose words have changed since.",
    why="It was signed for another figure.",
    silent="Words that still stand on the page, whatever their case and spacing.",
    sources=(_FORM,),
    sound=CORNED + '\nSigned off: rest-missing on "rest 20 MINUTES", KM, 2026-03-02: rested in the warmer.\n',
    faulty=CORNED + '\nSigned off: rest-missing on "Rest 10 minutes", KM, 2026-03-02: rested in the warmer.\n',
    expect=("22:1-85", "KM signed off “rest-missing” for “rest 10 minutes” on 2026-03-02, and those words no longer stand on the page. Does it still hold?"),
)
