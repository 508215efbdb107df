"""A binder: which files are in it, with which house sheet, and their audits in order."""

from __future__ import annotations

import os
import stat
import sys
from collections import deque
from collections.abc import Generator, Iterable, Iterator, Sequence
from contextlib import suppress
from itertools import chain, repeat
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING

from msgspec import Struct, field

from overhaul import documents, kept, pipeline, recipe_file
from overhaul.house import House
from overhaul.kept import Kept

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future

    from overhaul.cache import Results

HOUSE_SHEET = "house.yaml"
STANDARD_INPUT = Path("-")


class Binder(Struct):
    """The files to audit, in order; how many were passed over; what could not be done at all."""

    files: list[Path] = field(default_factory=list)
    skipped: int = 0
    problems: list[str] = field(default_factory=list)


def gather(paths: Iterable[Path]) -> Binder:
    """The files of ``paths``, each once; folders give every file below them that a reader exists for, sorted."""
    binder = Binder()
    for path in paths:
        if path == STANDARD_INPUT:
            binder.files.append(path)
            continue
        try:
            mode = path.stat().st_mode
        except (OSError, ValueError) as problem:
            binder.problems.append(f"{path}: {why(problem)}")
            continue
        if stat.S_ISDIR(mode):
            _folder(path, binder)
        elif stat.S_ISREG(mode):
            binder.files.append(path)
        else:
            binder.problems.append(f"{path}: {NO_FILE}")
    binder.files = list(dict.fromkeys(binder.files))
    return binder


NO_FILE = "a pipe or a device, not a file; to read from a pipe, give - and send the text to standard input"


def why(problem: OSError | ValueError) -> str:
    """Why a file cannot be had, in plain words."""
    if isinstance(problem, (FileNotFoundError, NotADirectoryError)):
        return "there is no such file"
    if isinstance(problem, PermissionError):
        return "no permission to read it"
    if isinstance(problem, IsADirectoryError):
        return "a folder; one file is wanted here"
    said = getattr(problem, "strerror", None) or str(problem)
    return said[:1].lower() + said[1:]


_PART = 1_000_000  # bytes


def bytes_of(path: Path) -> bytes:
    """The bytes of one file, ``-`` being standard input. Raises OSError or ValueError, for ``why``; no pipe or device is waited for."""
    if path == STANDARD_INPUT:
        return sys.stdin.buffer.read(documents.MOST_BYTES + 1)
    opened = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        told = os.fstat(opened)
        if stat.S_ISDIR(told.st_mode):
            raise IsADirectoryError
        if not stat.S_ISREG(told.st_mode):
            raise OSError(NO_FILE)
        # One byte more than is ever read, so that a huge file is refused without being held; and no more room than there are bytes.
        room = documents.MOST_BYTES + 1
        data = os.read(opened, min(told.st_size + 1, room))
        while len(data) != told.st_size and len(data) < room and (more := os.read(opened, min(room - len(data), _PART))):
            data += more  # it grew meanwhile, or the system gives it in parts
        return data
    finally:
        os.close(opened)


def _folder(folder: Path, binder: Binder) -> None:
    def refused(problem: OSError) -> None:
        binder.problems.append(f"{problem.filename}: {why(problem)}")

    found: list[Path] = []
    for here, folders, names in os.walk(folder, onerror=refused, followlinks=False):
        # A folder that is a link is not walked into: it may lead back up, and its files are audited where they are.
        passed = [name for name in folders if name.startswith(".") or os.path.islink(os.path.join(here, name))]
        folders[:] = [name for name in folders if name not in passed]
        binder.skipped += len(passed)
        for name in names:
            path = Path(here) / name
            if not _wanted(path):
                binder.skipped += 1
                continue
            try:
                regular = stat.S_ISREG(path.stat().st_mode)
            except OSError as problem:
                binder.problems.append(f"{path}: {why(problem)}")
                continue
            if regular:
                found.append(path)
            else:
                binder.problems.append(f"{path}: {NO_FILE}")
    binder.files += sorted(found)


def _wanted(path: Path) -> bool:
    """Whether a file below a folder is a recipe, by its name; of a .yaml or .json, whether it says so."""
    name = path.name
    if name.startswith(".") or name.lower().startswith("readme") or name == HOUSE_SHEET or ".expect." in name:
        return False
    return documents.readable(name) or (documents.data_file(name) and _says_recipe_file(path))


def _says_recipe_file(path: Path) -> bool:
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return False
        with open(path, "rb") as file:
            return documents.says_recipe_file(file.read(8000))
    except OSError:
        return True  # so that the audit tells what is wrong with it


def house_sheet_for(path: Path) -> Path | None:
    """The house sheet that stands in the folder of ``path`` or above it, or None."""
    try:
        folder = Path.cwd() if path == STANDARD_INPUT else path.resolve().parent
    except (OSError, RuntimeError):  # a link that leads to itself: the reading says so
        return None
    return next((sheet for above in (folder, *folder.parents) if os.path.isfile(sheet := above / HOUSE_SHEET)), None)


Task = tuple[Path, House]


def audit_file(task: Task) -> pipeline.Audited:
    """The audit of one file on disk; a function of its bytes and the house alone."""
    path, house = task
    try:
        data = bytes_of(path)
    except (OSError, ValueError) as problem:
        return pipeline.Audited(str(path), unreadable=why(problem))
    return recipe_file.audit(data, str(path), house)


def cores() -> int:
    """How many processes this machine runs at once for us."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def audits(tasks: Sequence[Task], workers: int = 1, cache: Results | None = None, executor: Executor | None = None) -> Generator[Kept]:
    """The audits of ``tasks`` in their order, whoever makes them: those that ``cache`` has are taken from it, and the rest
    go through ``executor``, else over as many as ``workers`` processes where there is work for so many.

    What is read is bytes, hashed and audited as the same bytes: a file that changes meanwhile is the one or the other.
    """
    found = _known(tasks, cache)
    missing = [number for number, one in enumerate(found) if one is None]
    made = _made([tasks[number] for number in missing], workers, cache, executor)
    for one in found:
        yield next(made) if one is None else one


def _known(tasks: Sequence[Task], cache: Results | None) -> list[Kept | None]:
    """What the cache has. Standard input is read once, when it is audited."""
    found: list[Kept | None] = [None] * len(tasks)
    if cache is None or cache.empty:
        return found
    for start in range(0, len(tasks), _AT_ONCE):
        keys: dict[int, bytes] = {}
        for number in range(start, min(start + _AT_ONCE, len(tasks))):
            path, house = tasks[number]
            if path != STANDARD_INPUT:
                with suppress(OSError, ValueError):  # told when it is to be audited
                    keys[number] = cache.key(bytes_of(path), str(path), house)
        held = cache.get(list(dict.fromkeys(keys.values())))
        for number, key in keys.items():
            if key in held:
                found[number] = Kept(str(tasks[number][0]), held[key])
    return found


_AT_ONCE = 400
_ALONE = 24  # files, for which starting another process takes longer than it saves
_MOST_IN_ONE = 16  # files that one call of a worker gets
_BYTES_IN_ONE = 100_000
_AHEAD = 4  # calls for each worker that are begun before the first is looked at

Given = tuple[bytes, str, House]  # what an audit is a function of: the bytes, the name and the house with its law


class _Bundle(Struct):
    """Files that go to a worker together; ``done`` : those that need no audit, being no files that can be read."""

    given: list[Given] = field(default_factory=list)
    done: dict[int, Kept] = field(default_factory=dict)
    names: list[str] = field(default_factory=list)
    keys: list[bytes | None] = field(default_factory=list)


def audit_all(given: Sequence[Given]) -> list[Kept]:
    """What a worker does: a pure function, and small to send either way."""
    return [kept.keep(audited) for audited in recipe_file.audit_each(given)]


def _bundles(tasks: Sequence[Task], cache: Results | None, most: int) -> Iterator[_Bundle]:
    bundle, size = _Bundle(), 0
    for path, house in tasks:
        name = str(path)
        try:
            data = bytes_of(path)
        except (OSError, ValueError) as problem:
            bundle.done[len(bundle.names)] = Kept(name, whole=pipeline.Audited(name, unreadable=why(problem)))
            bundle.keys.append(None)
        else:
            bundle.given.append((data, name, house))
            bundle.keys.append(cache.key(data, name, house) if cache is not None else None)
            size += len(data)
        bundle.names.append(name)
        if len(bundle.names) >= most or size >= _BYTES_IN_ONE:
            yield bundle
            bundle, size = _Bundle(), 0
    if bundle.names:
        yield bundle


def _made(tasks: Sequence[Task], workers: int, cache: Results | None, executor: Executor | None) -> Iterator[Kept]:
    """The audits that are made now; each is put into the cache."""
    if not tasks:
        return
    workers = min(workers, max(1, len(tasks) // _ALONE))
    keeping = _Keeping(cache)
    try:
        if executor is not None:
            yield from _through(executor, _bundles(tasks, cache, _MOST_IN_ONE), workers=_ON_A_CLUSTER, keeping=keeping)
        elif workers == 1:
            for bundle in _bundles(tasks, cache, _MOST_IN_ONE):
                yield from keeping.kept(bundle, audit_all(bundle.given))
        else:
            # The first is audited here: what is built for it (grammar, words, rules) is then there in every process split off.
            for bundle in _bundles(tasks[:1], cache, 1):
                yield from keeping.kept(bundle, audit_all(bundle.given))
            from overhaul import processes

            with processes.pool(workers) as pool:
                yield from _through(pool, _bundles(tasks[1:], cache, max(1, min(_MOST_IN_ONE, len(tasks) // (workers * _AHEAD)))), workers=workers, keeping=keeping)
    finally:
        keeping.flush()


_ON_A_CLUSTER = 16  # a guess at its size: bundles are small, and its scheduler holds what waits


def _through(executor: Executor, bundles: Iterator[_Bundle], *, workers: int, keeping: _Keeping) -> Iterator[Kept]:
    """Bundles through any executor, in order, a few ahead: neither the files nor the results wait in memory."""
    from concurrent.futures import BrokenExecutor

    waiting: deque[tuple[_Bundle, Future[list[Kept]] | None]] = deque()
    broken = False
    for bundle in chain(bundles, repeat(None)):
        if bundle is not None:
            try:
                waiting.append((bundle, None if broken else executor.submit(audit_all, bundle.given)))
            except BrokenExecutor:
                broken = True
                waiting.append((bundle, None))
            if len(waiting) < workers * _AHEAD:
                continue
        elif not waiting:
            return
        first, future = waiting.popleft()
        try:
            made = future.result() if future is not None else _lost(first, ENDED)
        except BrokenExecutor:
            broken = True
            made = _lost(first, ENDED)
        except Exception as problem:  # of a cluster that lost it, of a machine without memory
            made = _lost(first, f"not audited: the worker failed ({type(problem).__name__}: {problem}); try again with --workers 1")
        yield from keeping.kept(first, made)


ENDED = "not audited: a worker process was ended from outside; try again with --workers 1"


def _lost(bundle: _Bundle, why: str) -> list[Kept]:
    return [Kept(name, whole=pipeline.Audited(name, unreadable=why)) for _, name, _ in bundle.given]


class _Keeping:
    """Puts results into the cache, some hundred at a time or once a second."""

    def __init__(self, cache: Results | None) -> None:
        self._cache = cache
        self._new: list[tuple[bytes, bytes]] = []
        self._last = monotonic()

    def kept(self, bundle: _Bundle, made: list[Kept]) -> Iterator[Kept]:
        """All of the bundle, in order."""
        fresh = iter(made)
        for number, key in enumerate(bundle.keys):
            one = bundle.done.get(number) or next(fresh)
            if key is not None and one.data is not None:
                self._new.append((key, one.data))
            yield one
        if len(self._new) >= _AT_ONCE or (self._new and monotonic() - self._last > 1):
            self.flush()

    def flush(self) -> None:
        if self._cache is not None and self._new:
            self._cache.put(self._new)
        self._new, self._last = [], monotonic()
