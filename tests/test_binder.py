from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from overhaul import binder, pipeline
from overhaul.binder import NO_FILE, audits, gather, house_sheet_for, why
from overhaul.house import House

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
    (audited,) = audits([(folder / "a.txt", House())], 1)
    assert audited.unreadable == "no permission to read it"


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
    (audited,) = audits([(tmp_path / "pipe.txt", House())], 1)
    assert audited.unreadable == NO_FILE[0].lower() + NO_FILE[1:]


def test_the_house_sheet_is_the_nearest_above(fill: Callable[..., Path], monkeypatch: pytest.MonkeyPatch) -> None:
    folder = fill("house.yaml", "deep/a.txt", "other/house.yaml", "other/b.txt")
    assert house_sheet_for(folder / "deep" / "a.txt") == folder / "house.yaml"
    assert house_sheet_for(folder / "other" / "b.txt") == folder / "other" / "house.yaml"
    monkeypatch.chdir(folder / "deep")
    assert house_sheet_for(Path("-")) == folder / "house.yaml"


def test_workers_keep_the_order_and_say_the_same(fill: Callable[..., Path]) -> None:
    folder = fill(*(f"{number}.txt" for number in range(7)))
    (folder / "3.txt").write_bytes(b"\0")
    tasks = [(path, House()) for path in gather([folder]).files]
    alone, several = (list(audits(tasks, workers)) for workers in (1, 3))
    assert [(one.file, one.title, one.findings, one.unreadable) for one in alone] == [(one.file, one.title, one.findings, one.unreadable) for one in several]
    assert [one.unreadable for one in several].count("a binary file, not text") == 1


def _ends(*_: object) -> pipeline.Audited:
    os._exit(9)


def test_a_worker_that_is_ended_leaves_no_file_without_a_word(fill: Callable[..., Path], monkeypatch: pytest.MonkeyPatch) -> None:
    folder = fill("a.txt", "b.txt")
    monkeypatch.setattr(binder, "audit_file", _ends)
    found = list(audits([(path, House()) for path in gather([folder]).files], 2))
    assert [one.file for one in found] == [str(folder / "a.txt"), str(folder / "b.txt")]
    assert all(one.unreadable == "not audited: a worker process was ended from outside; try again with --workers 1" for one in found)
