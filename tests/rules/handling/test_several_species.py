"""Two animals in one brine: where it is asked, and what keeps it silent."""

from __future__ import annotations

import pytest

from overhaul.rules.handling.several_species_in_one_cure import RULE
from overhaul.rules.texts import changed
from tests.rules.cases import said


@pytest.mark.parametrize(
    ("line", "asked"),
    [("1 pork loin, 4 lb", True), ("1 turkey breast, 4 lb", True), ("1 beef tongue, 4 lb", False), ("1 point, 4 lb", False), ("4 lb bottom round", False), ("4 lb meat", False)],
)
def test_where_it_is_asked(line: str, asked: bool) -> None:
    assert (RULE.name in [one[0] for one in said(changed(RULE.faulty, ("1 pork loin, 4 lb", line)))]) is asked
