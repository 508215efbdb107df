"""A binder: which files are in it, with which house sheet, and their audits in order."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from msgspec import Struct, field

from overhaul import documents, pipeline, recipe_file
from overhaul.house import House

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
    if isinstance(problem, FileNotFoundError | NotADirectoryError):
        return "there is no such file"
    if isinstance(problem, PermissionError):
        return "no permission to read it"
    if isinstance(problem, IsADirectoryError):
        return "a folder; one file is wanted here"
    said = getattr(problem, "strerror", None) or str(problem)
    return said[:1].lower() + said[1:]


def bytes_of(path: Path) -> bytes:
    """The bytes of one file, ``-`` being standard input. Raises OSError or ValueError, for ``why``; no pipe or device is waited for."""
    if path == STANDARD_INPUT:
        return sys.stdin.buffer.read(documents.MOST_BYTES + 1)
    with open(path, "rb", opener=lambda name, flags: os.open(name, flags | getattr(os, "O_NONBLOCK", 0))) as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise OSError(NO_FILE)
        # One byte more than is ever read, so that a huge file is refused without being held.
        return file.read(documents.MOST_BYTES + 1)


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


def audit_file(task: tuple[Path, House]) -> pipeline.Audited:
    """The audit of one file on disk; a function of its bytes and the house alone."""
    path, house = task
    try:
        data = bytes_of(path)
    except (OSError, ValueError) as problem:
        return pipeline.Audited(str(path), unreadable=why(problem))
    return recipe_file.audit(data, str(path), house)


def audits(tasks: list[tuple[Path, House]], workers: int) -> Iterator[pipeline.Audited]:
    """The audits of ``tasks`` in their order, over ``workers`` processes; standard input is read in this one."""
    if workers <= 1 or len(tasks) < 2 or any(path == STANDARD_INPUT for path, _ in tasks):
        yield from map(audit_file, tasks)
        return
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    done = 0
    try:
        with ProcessPoolExecutor(workers) as pool:
            for audited in pool.map(audit_file, tasks, chunksize=max(1, min(32, len(tasks) // (workers * 4)))):
                done += 1
                yield audited
    except BrokenProcessPool:
        for path, _ in tasks[done:]:
            yield pipeline.Audited(str(path), unreadable="not audited: a worker process was ended from outside; try again with --workers 1")
