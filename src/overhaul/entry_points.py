"""The plug-ins that are installed, none of them loaded: entry points of the group ``overhaul.rules`` (``rules/plug_ins.py`` loads them).

Only what is installed counts, never a file in the folder that is worked in; ``OVERHAUL_PLUG_INS=off`` in the environment leaves
all of them out.
"""

from __future__ import annotations

import os
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.metadata import Distribution, EntryPoint

GROUP = "overhaul.rules"
SWITCH = "OVERHAUL_PLUG_INS"


def entries() -> list[tuple[str, EntryPoint]]:
    """The entry points of the group, each with its distribution. The folder worked in is not looked through, though ``python -m`` puts it on the path."""
    if os.environ.get(SWITCH, "").lower() in ("off", "no", "0", "false"):
        return []
    import sys
    from importlib.metadata import distributions

    here = os.path.realpath(os.getcwd())
    path = [folder for folder in sys.path if folder and os.path.realpath(folder) != here]
    found: dict[tuple[str, str], EntryPoint] = {}
    seen: set[str] = set()
    for distribution in distributions(path=path):
        told = _told(distribution)
        if not told:
            continue
        name = distribution.metadata["Name"] or "a distribution without a name"
        if name not in seen:  # the first on the path is the one that is imported
            found |= {(f"{name} {distribution.version}", entry.name): entry for entry in told}
            seen.add(name)
    return [(whose, entry) for (whose, _), entry in sorted(found.items(), key=lambda one: one[0])]


def _told(distribution: Distribution) -> list[EntryPoint]:
    text = distribution.read_text("entry_points.txt")
    return list(distribution.entry_points.select(group=GROUP)) if text and GROUP in text else []


def installed() -> tuple[str, ...]:
    """What plug-ins there are, for the key of a cache: each with its version, and when each file of its package was written. None is loaded."""
    return tuple(f"{distribution} {entry.name} {entry.value} {_written(entry.module)}" for distribution, entry in entries())


def _written(module: str) -> list[tuple[str, int, int]]:
    """The files beside or below the module's package, with their sizes and times: a rule that is being worked on is another rule."""
    try:
        spec = find_spec(module.partition(".")[0])
    except (ImportError, ValueError):
        return []
    if spec is None or spec.origin is None:
        return []
    origin = Path(spec.origin)
    files = sorted(origin.parent.rglob("*.py")) if spec.submodule_search_locations else [origin]
    return [(str(file), told.st_size, told.st_mtime_ns) for file in files if (told := file.stat())]
