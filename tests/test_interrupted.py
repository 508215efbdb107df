"""Runs that are stopped halfway: by Ctrl-C, by the end of a worker, by kill -9. ``python -m tests.test_interrupted`` does it ten times and prints what it saw."""

from __future__ import annotations

import contextlib
import os
import random
import re
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from contextlib import closing
from pathlib import Path

import pytest

from overhaul.cache import FOLDER
from tests.many import write

COUNT = 150


def _command(folder: Path, *more: str | Path) -> list[str]:
    return [sys.executable, "-m", "overhaul", "audit", str(folder), "--as", "json", "--stop-at", "never", "--workers", "2", *map(str, more)]


def _hears() -> None:
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _start(folder: Path, place: Path, *more: str | Path) -> subprocess.Popen[bytes]:
    # What a shell starts in the background is born deaf to Ctrl-C, and so would be what the tests start there.
    return subprocess.Popen(_command(folder, *more), stdout=subprocess.PIPE, stderr=subprocess.PIPE, env={**os.environ, FOLDER: str(place)}, start_new_session=True, preexec_fn=_hears)  # noqa: PLW1509 - no threads here


def _processes(group: int) -> list[int]:
    """Those of this process group that still run."""
    found = []
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            state, _, of = (entry / "stat").read_text().rpartition(")")[2].split()[:3]
        except OSError:
            continue
        if int(of) == group and state != "Z":
            found.append(int(entry.name))
    return found


def _with_workers(run: subprocess.Popen[bytes]) -> None:
    """Returns when the run has split off its workers; they have work then."""
    end = time.monotonic() + 60
    while len(_processes(run.pid)) < 3 and run.poll() is None and time.monotonic() < end:
        time.sleep(0.01)
    assert len(_processes(run.pid)) >= 3, run.poll()


def _gone(group: int) -> bool:
    end = time.monotonic() + 30
    while (left := _processes(group)) and time.monotonic() < end:
        time.sleep(0.02)
    return not left


def _sound(place: Path) -> int:
    """How many results a cache holds that SQLite finds sound."""
    if not (place / "results.sqlite").exists():
        return 0
    with closing(sqlite3.connect(place / "results.sqlite")) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        return int(database.execute("SELECT count(*) FROM results").fetchone()[0]) if database.execute("SELECT count(*) FROM sqlite_master WHERE name = 'results'").fetchone()[0] else 0


@pytest.fixture(scope="module")
def binder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("binder")
    write(folder, COUNT)
    return folder


@pytest.fixture(scope="module")
def whole(binder: Path) -> bytes:
    return subprocess.run(_command(binder, "--no-cache"), capture_output=True, check=True).stdout


needs_proc = pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="there is no /proc to see processes in")


@needs_proc
def test_ctrl_c_ends_quietly_with_130_and_leaves_nothing_behind(binder: Path, whole: bytes, tmp_path: Path) -> None:
    out = tmp_path / "report.json"
    out.write_text("what was there")
    run = _start(binder, tmp_path / "cache", "--out", out)
    _with_workers(run)
    os.killpg(run.pid, signal.SIGINT)  # as a terminal does: to the workers too
    told, problems = run.communicate(timeout=60)
    assert (run.returncode, told, problems) == (130, b"", b"")
    assert _gone(run.pid)
    assert out.read_text() == "what was there"
    assert sorted(path.name for path in tmp_path.iterdir()) in (["cache", "report.json"], ["report.json"])
    again = _start(binder, tmp_path / "cache")
    assert again.communicate(timeout=120) == (whole, b"")


def test_on_a_terminal_long_work_shows_how_many_pages_and_how_long_still(binder: Path, whole: bytes, tmp_path: Path) -> None:
    pty = pytest.importorskip("pty")
    ours, theirs = pty.openpty()
    env = {**os.environ, FOLDER: str(tmp_path / "cache"), "TERM": "xterm", "COLUMNS": "100"}
    with subprocess.Popen(_command(binder), stdout=subprocess.PIPE, stderr=theirs, env=env) as run:
        os.close(theirs)
        told, _ = run.communicate(timeout=120)
    shown = b""
    with contextlib.suppress(OSError):  # the terminal is gone when the run is
        while more := os.read(ours, 65536):
            shown += more
    os.close(ours)
    assert told == whole
    counts = {int(found[1]) for found in re.finditer(rb"(\d+)/150", shown)}
    assert len(counts) > 2
    assert re.search(rb"pages, left \S*\d:\d\d", re.sub(rb"\x1b\[[\d;]*m", b"", shown))
    assert shown.rfind(b"\x1b[?25h") > shown.rfind(b"\x1b[?25l")  # the cursor is given back


@needs_proc
def test_a_run_that_is_ended_ends_its_workers(binder: Path, tmp_path: Path) -> None:
    run = _start(binder, tmp_path / "cache")
    _with_workers(run)
    run.terminate()
    run.communicate(timeout=60)
    assert _gone(run.pid)


@needs_proc
def test_a_worker_that_is_killed_is_told_for_each_of_its_files_and_the_next_run_is_right(binder: Path, whole: bytes, tmp_path: Path) -> None:
    run = _start(binder, tmp_path / "cache")
    _with_workers(run)
    for worker in _processes(run.pid):
        if worker != run.pid:
            os.kill(worker, signal.SIGKILL)
            break
    told, problems = run.communicate(timeout=120)
    assert run.returncode == 2
    assert told.count(b"not audited: a worker process was ended from outside") == len(problems.splitlines()) > 0
    assert b"Traceback" not in problems
    assert _start(binder, tmp_path / "cache").communicate(timeout=120) == (whole, b"")


def killed(folder: Path, place: Path, whole: bytes, wait: float) -> tuple[int, bool]:
    """Kills a run after ``wait`` seconds; how many results it had kept, and whether the next run says what is right."""
    run = _start(folder, place)
    time.sleep(wait)
    run.kill()
    run.communicate()
    assert _gone(run.pid)
    found = _sound(place)
    return found, _start(folder, place).communicate(timeout=300) == (whole, b"") and _sound(place) > 0


@needs_proc
@pytest.mark.parametrize("wait", [0.3, 1.1, 1.6])
def test_a_run_that_is_killed_leaves_the_cache_sound(binder: Path, whole: bytes, tmp_path: Path, wait: float) -> None:
    _, right = killed(binder, tmp_path / "cache", whole, wait)
    assert right


def _rounds(count: int, pages: int) -> None:
    chance = random.Random()
    with tempfile.TemporaryDirectory() as top:
        folder = Path(top) / "binder"
        write(folder, pages)
        began = time.monotonic()
        whole = subprocess.run(_command(folder, "--no-cache"), capture_output=True, check=True).stdout
        length = time.monotonic() - began
        for number in range(count):
            wait = chance.uniform(0.1, length)
            found, right = killed(folder, Path(top) / f"cache{number}", whole, wait)
            print(f"killed after {wait:.2f} of {length:.2f} s: {found} of {pages} results kept and sound; next run {'right' if right else 'WRONG'}", flush=True)


if __name__ == "__main__":
    _rounds(int(sys.argv[1]) if len(sys.argv) > 1 else 10, int(sys.argv[2]) if len(sys.argv) > 2 else 600)
