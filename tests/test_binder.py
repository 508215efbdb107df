from __future__ import annotations

import io
import multiprocessing
import os
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from overhaul import binder, processes
from overhaul.binder import NO_FILE, Given, Task, audits, gather, house_sheet_for, why
from overhaul.cache import Results
from overhaul.house import House
from overhaul.kept import Kept
from tests.many import write

PAGE = "Brine\n\n1 lb salt\n1 gal water\n"


@pytest.fixture
def fill(tmp_path: Path) -> Callable[..., Path]:
    """A folder with these files in it."""

    def make(*names: str) -> Path:
        for name in names:
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(PAGE)
        return tmp_path

    return make


def test_a_folder_is_every_file_below_it_that_a_reader_exists_for(fill: Callable[..., Path]) -> None:
    folder = fill(
        "b.txt", "a.md", "deep/er/c.TEXT", "deep/d.markdown", "README.md", "deep/readme.txt", "house.yaml", "a.expect.yaml", "b.expect.txt", ".hidden.txt", ".git/x.txt", "photo.heic", "no-suffix",
    )  # fmt: skip
    found = gather([folder])
    assert [path.relative_to(folder).as_posix() for path in found.files] == ["a.md", "b.txt", "deep/d.markdown", "deep/er/c.TEXT"]
    assert (found.skipped, found.problems) == (9, [])


def test_a_file_that_is_named_is_read_whatever_it_is_called(fill: Callable[..., Path]) -> None:
    folder = fill("README.md", "no-suffix")
    assert gather([folder / "no-suffix", folder / "README.md"]).files == [folder / "no-suffix", folder / "README.md"]


def test_each_file_once(fill: Callable[..., Path]) -> None:
    folder = fill("a.txt", "b.txt")
    assert gather([folder / "b.txt", folder, Path("-"), Path("-")]).files == [folder / "b.txt", folder / "a.txt", Path("-")]


def test_what_cannot_be_had_is_said_and_the_rest_goes_on(fill: Callable[..., Path]) -> None:
    folder = fill("a.txt")
    (folder / "loop.txt").symlink_to(folder / "loop.txt")
    (folder / "gone.txt").symlink_to(folder / "nowhere")
    (folder / "up").symlink_to(folder)
    os.mkfifo(folder / "pipe.txt")
    found = gather([folder, folder / "missing.txt", folder / "a.txt" / "x.txt", folder / ("n" * 300), Path("/dev/null")])
    assert found.files == [folder / "a.txt"]
    assert found.skipped == 1
    assert sorted(found.problems) == sorted(
        [
            f"{folder}/gone.txt: there is no such file",
            f"{folder}/loop.txt: too many levels of symbolic links",
            f"{folder}/pipe.txt: {NO_FILE}",
            f"{folder}/missing.txt: there is no such file",
            f"{folder}/a.txt/x.txt: there is no such file",
            f"{folder}/{'n' * 300}: file name too long",
            f"/dev/null: {NO_FILE}",
        ]
    )


def test_a_link_to_a_file_is_that_file(fill: Callable[..., Path]) -> None:
    folder = fill("a.txt")
    (folder / "b.txt").symlink_to(folder / "a.txt")
    assert len(gather([folder]).files) == 2


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_no_permission(fill: Callable[..., Path]) -> None:
    folder = fill("a.txt", "shut/b.txt")
    (folder / "a.txt").chmod(0)
    (folder / "shut").chmod(0)
    found = gather([folder])
    assert found.problems == [f"{folder}/shut: no permission to read it"]
    (one,) = audits([(folder / "a.txt", House())])
    assert one.audited().unreadable == "no permission to read it"


@pytest.mark.parametrize(
    ("problem", "said"),
    [
        (PermissionError(13, "Permission denied"), "no permission to read it"),
        (IsADirectoryError(21, "Is a directory"), "a folder; one file is wanted here"),
        (OSError(5, "Input/output error"), "input/output error"),
        (ValueError("embedded null byte"), "embedded null byte"),
    ],
)
def test_problems_are_told_in_plain_words(problem: OSError | ValueError, said: str) -> None:
    assert why(problem) == said


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.txt")
    (found,) = audits([(tmp_path / "pipe.txt", House())])
    assert found.audited().unreadable == NO_FILE[0].lower() + NO_FILE[1:]


def test_the_house_sheet_is_the_nearest_above(fill: Callable[..., Path], monkeypatch: pytest.MonkeyPatch) -> None:
    folder = fill("house.yaml", "deep/a.txt", "other/house.yaml", "other/b.txt")
    assert house_sheet_for(folder / "deep" / "a.txt") == folder / "house.yaml"
    assert house_sheet_for(folder / "other" / "b.txt") == folder / "other" / "house.yaml"
    monkeypatch.chdir(folder / "deep")
    assert house_sheet_for(Path("-")) == folder / "house.yaml"


@pytest.fixture
def tasks(fill: Callable[..., Path]) -> list[Task]:
    """Sixty pages, enough for several processes; one cannot be read, one is no longer there, each has another title."""
    folder = fill(*(f"{number:02}.txt" for number in range(60)))
    for path in sorted(folder.glob("*.txt")):
        path.write_text(f"Brine of {path.stem}\n\n{1 + int(path.stem) % 3} lb salt\n1 gal water\n")
    (folder / "33.txt").write_bytes(b"\0")
    found = [(path, House()) for path in gather([folder]).files]
    (folder / "44.txt").unlink()
    return found


def told(found: Iterable[Kept]) -> list[object]:
    """What is said of each file, as plain data."""
    every = [one.audited() for one in found]
    assert all((one.page is None) == (one.unreadable is not None) for one in every)
    return [(one.file, one.titles, one.findings, one.unreadable, one.page.text if one.page is not None else None) for one in every]


@pytest.fixture
def alone(tasks: list[Task]) -> list[object]:
    """What one process says, each file by itself."""
    every = [binder.audit_file(task) for task in tasks]
    return [(one.file, one.titles, one.findings, one.unreadable, one.page.text if one.page is not None else None) for one in every]


@pytest.mark.parametrize("workers", [1, 2, 3])
def test_workers_keep_the_order_and_say_the_same(tasks: list[Task], alone: list[object], workers: int) -> None:
    found = told(audits(tasks, workers))
    assert found == alone
    assert [one.unreadable for one in map(binder.audit_file, tasks) if one.unreadable] == ["a binary file, not text", "there is no such file"]


class _LastFirst(Executor):
    """Does what it was given when it is asked for the result, so the last asked is done last and nothing in order."""

    def __init__(self) -> None:
        self.waiting: list[tuple[Future[Any], Callable[..., Any], tuple[Any, ...]]] = []
        self.most = 0

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        executor, future = self, Future[Any]()

        class Lazy(Future[Any]):
            def result(self, timeout: float | None = None) -> Any:
                executor.most = max(executor.most, len(executor.waiting))
                while executor.waiting:
                    one, work, given = executor.waiting.pop()
                    one.set_result(work(*given))
                return super().result(timeout)

        future = Lazy()
        self.waiting.append((future, fn, args))
        return future


def test_any_executor_will_do_whatever_order_it_works_in(tasks: list[Task], alone: list[object]) -> None:
    with ThreadPoolExecutor(3) as threads:
        assert told(audits(tasks, executor=threads)) == alone
    backwards = _LastFirst()
    assert told(audits(tasks, executor=backwards)) == alone
    assert backwards.most > 1


def test_what_an_executor_loses_is_said_of_each_file(tasks: list[Task]) -> None:
    class Loses(ThreadPoolExecutor):
        def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
            future = Future[Any]()
            future.set_exception(MemoryError("no room"))
            return future

    with Loses(1) as executor:
        reasons = {one.audited().unreadable for one in audits(tasks, executor=executor)}
    assert reasons == {"not audited: the worker failed (MemoryError: no room); try again with --workers 1", "there is no such file"}


def test_few_files_need_no_second_process(fill: Callable[..., Path], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(processes, "pool", None)  # to start one would fail
    folder = fill(*(f"{number}.txt" for number in range(9)))
    assert len(list(audits([(path, House()) for path in gather([folder]).files], 8))) == 9


def test_standard_input_is_read_once_and_beside_other_files(tasks: list[Task], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(PAGE.encode())))
    found = list(audits([*tasks, (Path("-"), House())], 2, Results(tmp_path / "cache", pytest.fail)))
    last = found[-1].audited()
    assert last.page is not None
    assert (last.file, last.page.text, [one.audited().unreadable for one in found[:3]]) == ("-", PAGE, [None] * 3)


def test_what_is_held_of_a_recipe_is_less_than_five_kilobytes(tmp_path: Path) -> None:
    write(tmp_path, 50)
    sizes = [len(one.data or b"") for one in audits([(path, House()) for path in gather([tmp_path]).files])]
    assert 0 < max(sizes) < 5_000


def _ends(given: Sequence[Given]) -> list[Kept]:
    if multiprocessing.parent_process() is not None:
        os._exit(9)
    return _AUDIT_ALL(given)


_AUDIT_ALL = binder.audit_all


@pytest.mark.skipif(multiprocessing.get_start_method() != "fork", reason="what is patched here is not patched there")
def test_a_worker_that_is_ended_leaves_no_file_without_a_word(tasks: list[Task], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(binder, "audit_all", _ends)
    found = [one.audited() for one in audits(tasks, 2)]
    assert [one.file for one in found] == [str(path) for path, _ in tasks]
    assert found[0].unreadable is None
    assert {one.unreadable for one in found[1:]} == {binder.ENDED, "there is no such file"}
