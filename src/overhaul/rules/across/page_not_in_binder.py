"""A page or card that a recipe sends to and the binder does not hold."""

from __future__ import annotations

from overhaul.findings import Finding, Grade, Remedy
from overhaul.listing import Pointer
from overhaul.rules.across.judging import CITE, SPICE, binder_of, nothing_of_one_page, sent_to
from overhaul.rules.rule import Rule


def said(pointer: Pointer, recipes: int, unread: int, instead: str | None) -> Finding:
    """``recipes`` were audited, ``unread`` files could not be read; ``instead`` : a recipe that is called as this line says, and where it is."""
    wanted = sent_to(pointer)
    missing = f"no {wanted}" if pointer.number is not None else "no recipe of that name"
    beside = f" ({unread} {'file' if unread == 1 else 'files'} could not be read)" if unread else ""
    question = f"{instead[:1].upper()}{instead[1:]}. Is that the one?" if instead is not None else "Is it missing from the binder, or is another meant?"
    return Finding(
        RULE.name, Grade.QUERY, False, pointer.place,
        f"Line {pointer.line} sends the cook to {wanted}; there is {missing} among the {recipes} recipes audited{beside}. {question}",
        remedy=Remedy("Put the lost one back, write its number at its top, or write here the one that is meant."), sources=(CITE,),
    )  # fmt: skip


_LINE = "1. Stir the salt, sugar and the pickling spice (see p. {}) into the cold water until clear."

RULE = Rule(
    name="page-not-in-binder",
    family="across",
    check=nothing_of_one_page,
    reports="A page, a card or a recipe that a line sends the cook to and that is not among the files audited.",
    why="Half of a recipe is on the other card, and whoever has this one alone makes up the rest.",
    silent="One file by itself, for it tells nothing of the rest; pages of other books; a name without a number; a page found by its name that bears no number.",
    sources=(CITE,),
    sound=binder_of(_LINE.format(41), SPICE),
    faulty=binder_of(_LINE.format(14), SPICE),
    expect=("12:53-58", "Line 12 sends the cook to page 14; there is no page 14 among the 2 recipes audited. “Pickling spice” is page 41 (p41.txt). Is that the one?"),
)
