"""A number that two files of the binder bear, where a line sends to it."""

from __future__ import annotations

from collections.abc import Sequence

from overhaul.findings import Finding, Grade, Remedy
from overhaul.listing import Pointer
from overhaul.rules.across.judging import CITE, SPICE, binder_of, nothing_of_one_page, sent_to
from overhaul.rules.rule import Rule


def said(pointer: Pointer, found: Sequence[tuple[str, str]], count: int) -> Finding:
    """``found`` : file and title of the first of the ``count`` there are, two or more."""
    told = [f"{file} (“{title}”)" for file, title in found]
    more = f" and {count - len(found)} more" if count > len(found) else ""
    listed = f"{', '.join(told)}{more}" if more else f"{', '.join(told[:-1])} and {told[-1]}"
    return Finding(
        RULE.name, Grade.QUERY, False, pointer.place,
        f"Line {pointer.line} sends the cook to {sent_to(pointer)}, and {count} files bear that number: {listed}. Which is meant?",
        remedy=Remedy("Write its name beside the number, and give one of them another number or take it out of the binder."), sources=(CITE,),
    )  # fmt: skip


_LINE = "1. Stir the salt, sugar and the spice mix (see p. 41) into the cold water until clear."
_OTHER = """\
=== rub.txt ===
Coriander rub   p. 41

30 g coriander seed
30 g black peppercorns

Crush them, and mix.
"""

RULE = Rule(
    name="two-pages-of-one-number",
    family="across",
    check=nothing_of_one_page,
    reports="A page or card number that a line sends the cook to and that two files bear.",
    why="One cook takes the new page and one the old copy, and the same dish comes out two ways.",
    silent="Numbers that nothing sends to; a line that names the recipe it means; files numbered apart in folders of their own; numbers that only begin a file name.",
    sources=(CITE,),
    sound=binder_of(_LINE, SPICE),
    faulty=binder_of(_LINE, SPICE, _OTHER),
    expect=("12:48-53", "Line 12 sends the cook to page 41, and 2 files bear that number: p41.txt (“Pickling spice”) and rub.txt (“Coriander rub”). Which is meant?"),
)
