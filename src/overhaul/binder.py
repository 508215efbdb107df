"""A binder: which files are in it, with which house sheet, and their audits in order."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path

from overhaul import documents, pipeline
from overhaul.house import House

HOUSE_SHEET = "house.yaml"


@dataclass(slots=True)
class Binder:
    """The files to audit, in order; what was passed over; what could not be done at all."""

    files: list[Path] = field(default_factory=list)
    skipped: int = 0
    problems: list[str] = field(default_factory=list)


def gather(paths: Iterable[Path]) -> Binder:
    """The files of ``paths``; folders give every file below them that a reader exists for, sorted."""
    binder = Binder()
    for path in paths:
        if str(path) == "-":
            binder.files.append(path)
        elif path.is_dir():
            _folder(path, binder)
        elif not path.exists():
            binder.problems.append(f"{path}: there is no such file")
        elif not path.is_file():
            binder.problems.append(f"{path}: not a file that can be read (a pipe or a device)")
        else:
            binder.files.append(path)
    return binder


def _folder(folder: Path, binder: Binder) -> None:
    def refused(problem: OSError) -> None:
        binder.problems.append(f"{problem.filename}: {problem.strerror}")

    found: list[Path] = []
    for here, folders, names in os.walk(folder, onerror=refused, followlinks=False):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            path = Path(here) / name
            if name.startswith(".") or name.lower().startswith("readme") or name == HOUSE_SHEET or ".expect." in name or not documents.readable(name) or not stat.S_ISREG(path.lstat().st_mode):
                binder.skipped += 1
            else:
                found.append(path)
    binder.files += sorted(found)


def house_sheet_for(path: Path) -> Path | None:
    """The house sheet that stands in the folder of ``path`` or above it, or None."""
    folder = Path.cwd() if str(path) == "-" else path.resolve().parent
    for above in (folder, *folder.parents):
        sheet = above / HOUSE_SHEET
        if sheet.is_file():
            return sheet
    return None


def audit_file(task: tuple[str, str, House]) -> pipeline.Audited:
    """The audit of one file on disk; a function of its bytes and the house alone."""
    path, name, house = task
    try:
        data = Path(path).read_bytes()
    except OSError as problem:
        return pipeline.Audited(name, unreadable=problem.strerror or str(problem))
    return audit_bytes(data, name, house)


def audit_bytes(data: bytes, name: str, house: House) -> pipeline.Audited:
    """The audit of ``data``. A failure of ours ends as this file's reason; the rest of the binder goes on."""
    try:
        return pipeline.audit(data, name, house)
    except Exception as problem:
        return pipeline.Audited(name, unreadable=f"the program failed on this page ({type(problem).__name__}: {problem}); please report it")


def audits(tasks: list[tuple[str, str, House]], workers: int) -> Iterator[pipeline.Audited]:
    """The audits of ``tasks`` in their order, over ``workers`` processes."""
    if workers <= 1 or len(tasks) < 2:
        yield from map(audit_file, tasks)
        return
    with ProcessPoolExecutor(workers) as pool:
        yield from pool.map(_light, tasks, chunksize=max(1, min(32, len(tasks) // (workers * 4))))


def _light(task: tuple[str, str, House]) -> pipeline.Audited:
    """What a worker sends back: page and findings, without the recipes' weight."""
    audited = audit_file(task)
    return replace(audited, recipes=tuple(replace(recipe, steps=(), lines=(), sections=()) for recipe in audited.recipes))
