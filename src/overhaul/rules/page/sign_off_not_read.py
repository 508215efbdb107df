"""A sign-off that cannot be read, or is for no rule there is."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from overhaul import signing
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED
from overhaul.text import Place

_FORM = Cite("own-model", "the form of a sign-off")


def check(case: Case) -> Iterator[Finding]:
    recipe = case.recipe
    signs, unread = signing.sign_offs(recipe.page)
    first, last = recipe.page.lines[recipe.first_line - 1].place.start, recipe.page.lines[recipe.last_line - 1].place.end
    for one in unread:
        if first <= one.place.start <= last:
            yield _finding(one.place, f"This line would be a sign-off and cannot be read as one: {one.why}. It covers nothing.", f"Write it as: {signing.FORM}")
    if not signs:
        return
    from overhaul.rules import every_rule

    names = [rule.name for rule in every_rule()]
    for sign in signs:
        if sign.rule not in names and first <= sign.place.start <= last:
            near = get_close_matches(sign.rule, names, 1)
            hint = f" Is “{near[0]}” meant?" if near else ""
            yield _finding(sign.place, f"No rule is called “{sign.rule}”, so this sign-off covers nothing.{hint}", "Take the name of the rule from the report; `overhaul grounds` lists them.")


def _finding(place: Place, message: str, text: str) -> Finding:
    return Finding(RULE.name, Grade.QUERY, False, place, message, remedy=Remedy(text), sources=(_FORM,))


RULE = Rule(
    name="sign-off-not-read",
    family="page",
    check=check,
    reports="A line that begins like a sign-off and is not one, or names a rule that does not exist.",
    why="Whoever signed believes that it is settled. A slip in the name or the date, and it is not.",
    silent="Sign-offs in their form, for a rule there is.",
    sources=(_FORM,),
    sound=CORNED + '\nSigned off: rest-missing on "Rest 20 minutes", KM, 2026-03-02: rested in the warmer.\n',
    faulty=CORNED + "\nSigned off: brine is fine, KM\n",
    expect=("22:1-30", 'This line would be a sign-off and cannot be read as one: it must read: Signed off: RULE on "WORDS", INITIALS, YYYY-MM-DD: reason. It covers nothing.'),
)
