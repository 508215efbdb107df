"""A step that the page sends its reader to and does not have."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.text import Place

_CITE = Cite("common-practice", "a page that is whole")


def check(case: Case) -> Iterator[Finding]:
    start, text = case.recipe.own_words
    if "step" not in text:
        return
    numbers = [int(found[1]) for found in phrases.NUMBERED_STEP.finditer(case.recipe.page.plain[start : start + len(text)])]
    if not numbers:
        return
    for sent in phrases.SENT_TO_STEP.finditer(text):
        if int(sent[1]) <= max(numbers) or phrases.SENT_ELSEWHERE.search(judging.sentence_before(text, sent.start())) or phrases.SENT_ELSEWHERE.match(text, sent.end()):
            continue
        yield Finding(
            RULE.name, Grade.QUERY, False, Place(start + sent.start(), start + sent.end()),
            f"This sends the reader to step {sent[1]}, and the last one on the page is {max(numbers)}. Is a step missing, or is another meant?",
            remedy=Remedy("Write the step it means, or the lost one."), sources=(_CITE,),
        )  # fmt: skip


RULE = Rule(
    name="step-that-is-not-there",
    family="page",
    check=check,
    reports="A reference to a numbered step beyond the last.",
    why="The step that is missing may be the one that cools it.",
    silent="Steps that are there; other recipes and other pages.",
    sources=(_CITE,),
    sound=changed(CORNED, ("9. Keeps", "9. Cooled as in step 8, it keeps")),
    faulty=changed(CORNED, ("9. Keeps", "9. Cooled as in step 12, it keeps")),
    expect=("20:17-24", "This sends the reader to step 12, and the last one on the page is 9. Is a step missing, or is another meant?"),
)
