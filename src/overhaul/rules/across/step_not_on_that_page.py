"""A step that a line sends to on another page, beyond that page's last."""

from __future__ import annotations

from overhaul.findings import Finding, Grade, Remedy
from overhaul.listing import Pointer
from overhaul.rules.across.judging import CITE, SPICE, binder_of, nothing_of_one_page
from overhaul.rules.rule import Rule


def said(pointer: Pointer, step: int, last: int, there: str) -> Finding:
    """``there`` : where it leads, with its file; ``last`` : the highest number of a step there."""
    return Finding(
        RULE.name, Grade.QUERY, False, pointer.place,
        f"Line {pointer.line} sends the cook to step {step} of {there}, and the last step there is {last}. Is a step missing there, or is another meant?",
        remedy=Remedy("Write the step it means, or the lost one."), sources=(CITE,),
    )  # fmt: skip


_LINE = "1. Make the spice: same as the pickling spice through step {} (p. 41). Stir it with the salt and sugar into the cold water until clear."

RULE = Rule(
    name="step-not-on-that-page",
    family="across",
    check=nothing_of_one_page,
    reports="A reference to a numbered step of another page that ends before it.",
    why="Either the other page has lost a step, and it may be the one that cools it, or it was renumbered and the cook stops too early.",
    silent="Pages whose steps bear no numbers; pages that are not found, or found twice; steps of the same page, which step-that-is-not-there looks at.",
    sources=(CITE,),
    sound=binder_of(_LINE.format(2), SPICE),
    faulty=binder_of(_LINE.format(4), SPICE),
    expect=("12:63-68", "Line 12 sends the cook to step 4 of page 41 (p41.txt), and the last step there is 2. Is a step missing there, or is another meant?"),
)
