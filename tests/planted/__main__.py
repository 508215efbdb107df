"""``python -m tests.planted [KIND …]``: the table, then every one that was missed or brought something extra."""

import sys

from tests.planted.kinds import KINDS
from tests.planted.planting import results, table

wanted = [kind for kind in KINDS if not sys.argv[1:] or any(word in kind.name for word in sys.argv[1:])]
found = list(results(*wanted))
print(table(found))
for one in found:
    if not one.caught:
        print(f"missed: {one.kind.name} on {one.page}: {one.planted.wording!r}" + (f"; {', '.join(one.misplaced)}" if one.misplaced else ""))
    if one.extra:
        print(f"extra: {one.kind.name} on {one.page}: {one.planted.wording!r}: {', '.join(one.extra)}")
