"""What the rules of references share: how a place of the binder is told, and their texts."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding
from overhaul.listing import Pointer
from overhaul.rules.rule import Case
from overhaul.rules.texts import CORNED, changed

CITE = Cite("common-practice", "a binder that is whole")
LINE = "1. Stir the salt, sugar and spice into the cold water until clear."
SPICE = """\
=== p41.txt ===
Pickling spice

20 g mustard seed
15 g coriander seed
10 g black peppercorns

1. Toast the seeds in a dry pan.
2. Crush them, and mix.
"""


def nothing_of_one_page(case: Case) -> Iterator[Finding]:
    """The check of every rule here: one page tells nothing of the rest of its binder."""
    return iter(())


def sent_to(pointer: Pointer) -> str:
    """``page 41``, ``card 12``; of a name, the name."""
    return f"{'card' if pointer.card else 'page'} {pointer.number}" if pointer.number is not None else f"“{pointer.words}”"


def binder_of(line: str, *others: str) -> str:
    """A text of several files: a sound page with ``line`` for its first step, and the others."""
    return "".join(("=== corned.txt ===\n", changed(CORNED, (LINE, line)), *others))
