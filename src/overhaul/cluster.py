"""A Dask cluster as an executor. The only importer of distributed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from typing import Any

from overhaul import __version__, cache

_ADDRESS = re.compile(r"(?:(?:tcp|tls|ws|wss|ucx)://)?(?:\[[0-9a-fA-F:.]+\]|[\w.-]+):(?P<port>\d{1,5})")
_PATIENCE = 5  # seconds for the scheduler to answer


class NoCluster(Exception):
    """Why the cluster cannot be used, in plain words."""


@contextmanager
def executor(address: str) -> Iterator[Executor]:
    """What audits run through on the cluster whose scheduler is at ``address``. Raises NoCluster."""
    told = _ADDRESS.fullmatch(address)
    if told is None or not 0 < int(told["port"]) < 65_536:
        raise NoCluster("not an address; a scheduler's is like tcp://10.0.0.5:8786")
    try:
        import distributed
    except ImportError:
        raise NoCluster("the extra is not installed: pip install 'overhaul[cluster]'") from None
    dask: Any = distributed  # it tells its types in part only
    try:
        client = dask.Client(address, timeout=_PATIENCE, set_as_default=False)
    except (OSError, ValueError, ImportError) as problem:
        raise NoCluster(f"nothing that is a scheduler answers there ({type(problem).__name__}: {problem})") from None
    try:
        _check_workers(client)
        found: Executor = client.get_executor(pure=False)
        yield found
    finally:
        client.close()


def _program() -> bytes:
    return cache.program()


def _check_workers(client: Any) -> None:
    """Every worker must run this very program, or the answer would depend on who gives it."""
    try:
        found: dict[str, bytes] = client.run(cache.program)
    except Exception as problem:
        raise NoCluster(f"its workers cannot run this program ({type(problem).__name__}: {problem}); install overhaul {__version__} on each") from None
    if not found:
        raise NoCluster("it has no workers")
    own = _program()
    others = sorted(worker for worker, program in found.items() if program != own)
    if others:
        raise NoCluster(f"{others[0]} runs another version of this program ({len(others)} of {len(found)} workers do)")
