"""Audits over a real cluster of two workers, started here; without the extra these tests are skipped."""

from __future__ import annotations

import socket
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from overhaul import binder, cache, cluster
from tests.many import write

Run = Callable[..., Result]


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    distributed = pytest.importorskip("distributed", reason="the extra is not installed: pip install 'overhaul[cluster]'")
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, host="127.0.0.1") as found:
        yield found.scheduler_address


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write(tmp_path / "binder", 40)
    (tmp_path / "binder" / "bad.txt").write_bytes(b"\0")
    return tmp_path / "binder"


def test_a_cluster_says_what_one_process_says(overhaul: Run, address: str, folder: Path) -> None:
    for form in ("json", "plain"):
        alone = overhaul("audit", folder, "--as", form, "--no-cache", "--workers", "1")
        over = overhaul("audit", folder, "--as", form, "--no-cache", "--cluster", address)
        assert (over.exit_code, over.output) == (alone.exit_code, alone.output)


class _Passes(Executor):
    """Another executor, and what it was given."""

    def __init__(self, other: Executor) -> None:
        self._other = other
        self.given: list[Any] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.given.append(args[0])
        return self._other.submit(fn, *args, **kwargs)


def test_the_work_is_done_over_there(address: str, folder: Path) -> None:
    from overhaul.house import House

    tasks = [(path, House()) for path in binder.gather([folder]).files]
    with cluster.executor(address) as executor:
        passed = _Passes(executor)
        found = list(binder.audits(tasks, executor=passed))
    assert len(found) == 41
    assert sum(map(len, passed.given)) == 41


def test_the_cache_serves_a_cluster_too(overhaul: Run, address: str, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(cache.FOLDER, str(tmp_path / "cache"))
    first = overhaul("audit", folder, "--as", "json", "--cluster", address)
    assert overhaul("audit", folder, "--as", "json").output == first.output
    assert (tmp_path / "cache" / "results.sqlite").exists()


def test_a_worker_with_another_version_is_refused(overhaul: Run, address: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster, "_program", lambda: b"another")
    done = overhaul("audit", folder, "--cluster", address)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert done.stderr.startswith(f"overhaul: --cluster {address}: tcp://127.0.0.1:")
    assert done.stderr.endswith(" runs another version of this program (2 of 2 workers do)\n")


@pytest.mark.parametrize("wrong", ["", "host", "tcp://host", "tcp://host:0", "tcp://host:99999", "http://host:8786", "tcp://ho st:1", "file:///etc/passwd:1", "inproc://x:1"])
def test_an_address_that_is_none(overhaul: Run, folder: Path, wrong: str) -> None:
    done = overhaul("audit", folder, "--cluster", wrong)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == f"overhaul: --cluster {wrong}: not an address; a scheduler's is like tcp://10.0.0.5:8786\n"


def test_without_the_extra_it_says_what_to_install(overhaul: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    done = overhaul("audit", folder, "--cluster", "tcp://127.0.0.1:8786")
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == "overhaul: --cluster tcp://127.0.0.1:8786: the extra is not installed: pip install 'overhaul[cluster]'\n"


def test_where_nothing_answers(overhaul: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed", reason="the extra is not installed")
    monkeypatch.setattr(cluster, "_PATIENCE", 0.5)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        at = f"tcp://127.0.0.1:{free.getsockname()[1]}"
        done = overhaul("audit", folder, "--cluster", at)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.splitlines()[-1].startswith(f"overhaul: --cluster {at}: nothing that is a scheduler answers there (")
