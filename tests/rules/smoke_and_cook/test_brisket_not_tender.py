"""Brisket that is done and not tender: where it speaks, and what keeps it silent."""

from __future__ import annotations

import pytest

from overhaul.rules.rule import Rule
from overhaul.rules.smoke_and_cook import brisket_not_tender
from overhaul.rules.texts import changed
from tests.rules.cases import said

RULE: Rule = brisket_not_tender.RULE


@pytest.mark.parametrize(
    ("old", "new", "speaks"),
    [
        ("until 165 F inside", "until 170 F inside", True), ("until 165 F inside", "until 190 F inside", False), ("until 165 F inside", "until 165 F inside, then wrap it and go on until tender", False),
        ("until 165 F inside", "for 9 hours until 165 F inside", True), ("until 165 F inside.", "until 165 F inside. Hold at 150 F for 10 hours.", False),
        ("before slicing", "before slicing it paper-thin", False), ("brisket flat, 7 lb", "eye of round, 7 lb", False), ("until 165 F inside.", "until 165 F inside. Braise it an hour.", False),
    ],
)  # fmt: skip
def test_where_it_speaks(old: str, new: str, speaks: bool) -> None:
    assert (RULE.name in [one[0] for one in said(changed(RULE.faulty, (old, new)))]) is speaks
