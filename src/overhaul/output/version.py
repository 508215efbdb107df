"""Which version of a page a sheet or a report was made from."""

from __future__ import annotations

import hashlib
import re

from overhaul.text import Page

_OWN = re.compile(r"\b(?:version|rev(?:ision|ised)?\.?|v)\s?\d[\w.-]*", re.I)


def version(page: Page) -> str:
    """What the page says of itself, where it does, and eight characters that change with any word of it: ``version 3 · 1f0c9a2e``."""
    own = _OWN.search(page.text)
    mark = hashlib.sha256(page.text.encode("utf-8", "replace")).hexdigest()[:8]
    return f"{own[0]} · {mark}" if own is not None else mark
