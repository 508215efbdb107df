"""Every kind of fault is caught where it stands, with nothing said besides; what is not yet is listed, and comes off the list when it is."""

from __future__ import annotations

import pytest

from tests.planted.kinds import KINDS, Kind
from tests.planted.pages import sound_pages, unsound
from tests.planted.planting import results

# Not caught yet: kind, page, wording, with the reason beside it. Empty now.
MISSED: set[tuple[str, str, str]] = set()
# Said besides, and should not be: kind and page, with the rules.
EXTRA: dict[tuple[str, str], set[str]] = {}


def test_nothing_is_said_of_a_sound_page() -> None:
    assert unsound() == {}
    assert len(sound_pages()) >= 20


def test_there_are_kinds_and_wordings_enough() -> None:
    assert len(KINDS) >= 60
    assert len({kind.name for kind in KINDS}) == len(KINDS)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name.replace(" ", "-"))
def test_planted(kind: Kind) -> None:
    found = list(results(kind))
    if not found:
        pytest.fail("no page to plant it in")
    assert len({one.planted.wording for one in found}) >= 4
    missed = {(one.kind.name, one.page, one.planted.wording) for one in found if not one.caught}
    assert missed == {entry for entry in MISSED if entry[0] == kind.name}
    extra = {(one.kind.name, one.page): set(one.extra) for one in found if one.extra}
    assert extra == {key: rules for key, rules in EXTRA.items() if key[0] == kind.name}
