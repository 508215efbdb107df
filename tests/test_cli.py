from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result
from ruamel.yaml import YAML

from overhaul import cli, documents
from overhaul.findings import Finding, Grade, SignOff
from overhaul.text import Place

Run = Callable[..., Result]
FAULTY = "Corned flat\n\n4 lb brisket flat\n1 gal water\n1 lb salt\n2 lb cure #1\n\nCure 3 days in the garage at 60 F.\n"
SOUND = "Brine\n\n1 lb salt\n1 gal water\n"


@pytest.fixture
def page(tmp_path: Path) -> Path:
    path = tmp_path / "flat.txt"
    path.write_text(FAULTY)
    return path


# What each exit status means: nothing, something, could not be done.


def test_findings_at_or_above_the_grade_are_status_1(overhaul: Run, page: Path) -> None:
    assert overhaul("audit", page).exit_code == 1
    assert overhaul("audit", page, "--stop-at", "never").exit_code == 0


@pytest.mark.parametrize(("grade", "statuses"), [(Grade.HAZARD, (1, 1, 1, 0)), (Grade.FAULT, (0, 1, 1, 0)), (Grade.QUERY, (0, 0, 1, 0))])
def test_stop_at(grade: Grade, statuses: tuple[int, ...]) -> None:
    from tests.output.made import audited

    finding = Finding("brine-weak", grade, False, Place(0, 1), "x")
    assert tuple(cli._status([audited(finding)], False, stop_at) for stop_at in cli.GRADES) == statuses


@pytest.mark.parametrize(("certain", "stale", "status"), [(True, False, 1), (False, False, 0), (False, True, 1)])
def test_a_sign_off_settles_all_but_a_certain_hazard(certain: bool, stale: bool, status: int) -> None:
    from tests.output.made import audited

    finding = Finding("brine-warm", Grade.HAZARD, certain, Place(0, 1), "x", signed_off=SignOff("jb", "2026-11-02", "so", stale))
    assert cli._status([audited(finding)], False, "hazard") == status


def test_what_could_not_be_done_beats_findings(overhaul: Run, page: Path, tmp_path: Path) -> None:
    done = overhaul("audit", page, tmp_path / "missing.txt")
    assert done.exit_code == 2
    assert done.stderr == f"overhaul: {tmp_path}/missing.txt: there is no such file\n"
    assert f"{page}:6:1: certain hazard: curing-salt-over-limit" in done.stdout


BAD: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "an empty page: nothing to read"),
    "blank": (b"\n \r\n\t", "an empty page: nothing to read"),
    "binary": (b"\x89PNG\r\n\x1a\n\0\0", "a binary file, not text"),
    "half of UTF-16": (b"\xff\xfea", "begins as UTF-16-LE but stops being it at byte 3"),
    "too long": (b"1 lb salt\n" * (documents.MOST_BYTES // 10 + 1), "longer than 20,000,000 bytes; a recipe of that length is not read"),
    "a line of 2 MB": (b"1 lb salt and " * 150_000, "line 1 is 2,100,000 characters long; a line of more than 200,000 is not read"),
    "a recipe file": (b"format: overhaul/1\ntitle: !!python/object:os.system x\n", "line 2: the tag “python/object:os.system” is not read here"),
}


@pytest.mark.parametrize("command", ["audit", "read", "sums", "convert"])
@pytest.mark.parametrize(("data", "reason"), BAD.values(), ids=BAD)
def test_bad_input_is_a_message_with_the_file_and_status_2(overhaul: Run, tmp_path: Path, command: str, data: bytes, reason: str) -> None:
    path = tmp_path / "bad.txt"
    path.write_bytes(data)
    done = overhaul(command, path)
    assert done.exit_code == 2
    if command == "audit":
        assert f"\n  {path}: not read: {reason}\n" in done.stdout
    else:
        assert (done.stdout, done.stderr) == ("", f"overhaul: {path}: {reason}\n")


@pytest.mark.parametrize("command", ["read", "sums", "convert"])
def test_one_file_is_wanted(overhaul: Run, tmp_path: Path, command: str) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path, said in ((tmp_path, "a folder; one file is wanted here"), (tmp_path / "no.txt", "there is no such file"), (tmp_path / "pipe", "a pipe or a device, not a file")):
        done = overhaul(command, path)
        assert done.exit_code == 2
        assert done.stderr.startswith(f"overhaul: {path}: {said}")
        assert done.stdout == ""


STRANGE: dict[str, bytes] = {
    "invalid UTF-8": b"Brine\n\n1 lb salt \xff\xfe\n1 gal water \xc3(\n",
    "controls": b"Brine\n\n1 lb \x1b]0;x\x07salt\n1 gal \x1b[2J water\n",
    "YAML": b"---\n- !!python/object/apply:os.system [ls]\n- &a [*a]\n",
    "numbers": b"Brine\n\n" + b"9" * 400 + b" lb salt\n1e999 gal water\n0/0 cup sugar\n",
    "a long line": b"1 lb salt and " * 400,
}


@pytest.mark.parametrize("data", STRANGE.values(), ids=STRANGE)
@pytest.mark.parametrize("command", [("audit",), ("audit", "--as", "json"), ("audit", "--as", "sarif"), ("read",), ("sums",), ("convert",), ("convert", "--to", "json")], ids=" ".join)
def test_strange_input_is_read_without_a_failure(overhaul: Run, tmp_path: Path, command: tuple[str, ...], data: bytes) -> None:
    path = tmp_path / "strange.txt"
    path.write_bytes(data)
    done = overhaul(*command, path)
    assert done.exit_code in (0, 1)
    assert "failed" not in done.output
    assert not set("\x1b\x07\x9b") & set(done.output)


def test_a_failure_of_ours_is_one_line_and_status_2(overhaul: Run, page: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from overhaul.output import sums_page

    def fail(*_: object, **__: object) -> str:
        raise KeyError("gone")

    monkeypatch.setattr(sums_page, "render", fail)
    done = overhaul("sums", page)
    assert (done.exit_code, done.stdout, done.stderr) == (2, "", "overhaul: the program failed (KeyError: 'gone'); please report it\n")


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("audit", "x.txt", "--questions"), "No such option"),
        (("audit", "x.txt", "--as", "yaml"), "'yaml' is not one of 'plain', 'json', 'sarif', 'html'"),
        (("convert", "x.txt", "--to", "html"), "'html' is not one of 'yaml', 'json', 'jsonld', 'text', 'markdown'"),
        (("convert",), "overhaul: a file to convert is wanted, or --schema\n"),
        (("audit", "x.txt", "--workers", "0"), "0 is not in the range x>=1"),
        (("audit", "x.txt", "--law", "moon"), "'moon' is not one of 'us', 'eu', 'uk', 'ca', 'au-nz'"),
        (("grounds", "no-such-rule"), "no rule is called “no-such-rule”"),
    ],
)
def test_what_is_not_built_is_refused_not_ignored(overhaul: Run, args: tuple[str, ...], said: str) -> None:
    done = overhaul(*args)
    assert done.exit_code == 2
    assert said in done.stderr


# The house sheet.


def test_the_house_sheet_beside_the_recipe_is_used(overhaul: Run, tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text("salt: {table: {gram_per_cup: 250}}\n")
    path = tmp_path / "a.txt"
    path.write_text("Brine\n\n2 cups table salt\n1 gal water\n")
    assert json.loads(overhaul("sums", path, "--as", "json").stdout)["sums"]["salt_mass"]["likely"] == 500
    other = tmp_path / "other.yaml"
    other.write_text("\ufeffsalt: {table: {gram_per_cup: 300}}\n")
    assert json.loads(overhaul("sums", path, "--as", "json", "--house", other).stdout)["sums"]["salt_mass"]["likely"] == 600


def test_a_bad_house_sheet_stops_only_the_files_beneath_it(overhaul: Run, tmp_path: Path) -> None:
    for folder in ("good", "bad"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "a.txt").write_text(SOUND)
    (tmp_path / "bad" / "house.yaml").write_text("law: us\ncoler: 3\n")
    done = overhaul("audit", tmp_path, "--as", "json")
    assert done.exit_code == 2
    bad, good = json.loads(done.stdout)["files"]
    assert bad["unreadable"].startswith(f"its house sheet cannot stand: {tmp_path}/bad/house.yaml:2: unknown key “coler”")
    assert good["unreadable"] is None


@pytest.mark.parametrize(("data", "said"), [(None, ": there is no such file"), (b"law: moon\n", ":1: law: one of us, eu"), (b"\xff\xfe\xff", ": a house sheet must be UTF-8 text")])
def test_a_house_sheet_that_was_named_must_stand(overhaul: Run, page: Path, tmp_path: Path, data: bytes | None, said: str) -> None:
    sheet = tmp_path / "mine.yaml"
    if data is not None:
        sheet.write_bytes(data)
    for command in ("audit", "sums"):
        done = overhaul(command, page, "--house", sheet)
        assert (done.exit_code, done.stdout) == (2, "")
        assert done.stderr.startswith(f"overhaul: {sheet}{said}")


# Standard input, standard output, files.


def test_standard_input(overhaul: Run, page: Path) -> None:
    done = overhaul("audit", "-", input=FAULTY.encode())
    assert done.exit_code == 1
    assert "\n-:6:1: certain hazard: curing-salt-over-limit\n" in done.stdout
    both = json.loads(overhaul("audit", page, "-", "--as", "json", "--workers", "2", input=FAULTY.encode()).stdout)
    first, second = both["files"]
    assert (first["file"], second["file"]) == (str(page), "-")
    assert first["findings"] == second["findings"]


def test_out_is_the_whole_report_and_leaves_nothing_beside(overhaul: Run, page: Path, tmp_path: Path) -> None:
    out = tmp_path / "report.json"
    out.write_text("old")
    done = overhaul("audit", page, "--as", "json", "--out", out)
    assert (done.exit_code, done.stdout) == (1, "")
    assert json.loads(out.read_text("utf-8"))["files"][0]["title"] == "Corned flat"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["flat.txt", "report.json"]


def test_out_that_cannot_be_written_leaves_nothing_behind(overhaul: Run, page: Path, tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    for out in (tmp_path / "none" / "x.json", page / "x.json", tmp_path / "folder", Path("/")):
        done = overhaul("convert", page, "--out", out)
        assert (done.exit_code, done.stdout) == (2, "")
        assert done.stderr.startswith(f"overhaul: {out}: not written: ")
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["flat.txt", "folder"]


def test_out_keeps_a_link_and_a_pipe_what_they_are(overhaul: Run, page: Path, tmp_path: Path) -> None:
    (tmp_path / "real.yaml").write_text("old")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "real.yaml")
    assert overhaul("convert", page, "--out", tmp_path / "link.yaml").exit_code == 0
    assert (tmp_path / "link.yaml").is_symlink()
    assert (tmp_path / "real.yaml").read_text("utf-8").startswith("format: overhaul/1\n")
    os.mkfifo(tmp_path / "pipe")
    with subprocess.Popen(["cat", tmp_path / "pipe"], stdout=subprocess.PIPE) as reader:
        assert overhaul("convert", page, "--out", tmp_path / "pipe").exit_code == 0
        assert reader.communicate()[0].startswith(b"format: overhaul/1\n")
    assert (tmp_path / "pipe").is_fifo()


def test_convert_gives_the_same_tree_both_ways(overhaul: Run, page: Path) -> None:
    tree = json.loads(overhaul("convert", page, "--to", "json").stdout)
    assert YAML(typ="safe", pure=True).load(overhaul("convert", page).stdout) == tree
    assert tree["source"]["file"] == str(page)


def test_reports_are_the_same_however_many_workers(overhaul: Run, tmp_path: Path) -> None:
    for number in range(6):
        (tmp_path / f"{number}.txt").write_text(FAULTY if number % 2 else SOUND)
    for form in ("plain", "json", "sarif", "html"):
        assert overhaul("audit", tmp_path, "--as", form).stdout == overhaul("audit", tmp_path, "--as", form, "--workers", "3", "--no-cache").stdout


def test_grounds_lists_the_rules_and_gives_one(overhaul: Run) -> None:
    assert "  brine-weak\n" in overhaul("grounds").stdout
    assert overhaul("grounds", "brine-weak").stdout.startswith("brine-weak\n\nReports\n")


def test_a_pipe_has_no_colour_no_progress_and_is_utf_8(page: Path) -> None:
    done = subprocess.run([sys.executable, "-m", "overhaul", "audit", page], capture_output=True, env={**os.environ, "LC_ALL": "C", "PYTHONIOENCODING": "ascii"}, check=False)
    assert (done.returncode, done.stderr) == (1, b"")
    assert b"\x1b" not in done.stdout
    assert "°F" in done.stdout.decode("utf-8")


@pytest.mark.parametrize(("settings", "coloured"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)])
def test_colour_only_where_a_terminal_wants_it(page: Path, settings: dict[str, str], coloured: bool) -> None:
    import pty

    master, slave = pty.openpty()
    env = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "TERM")} | {"TERM": "xterm", "COLUMNS": "60"} | settings
    with subprocess.Popen([sys.executable, "-m", "overhaul", "audit", page], stdout=slave, stdin=subprocess.DEVNULL, env=env) as process:
        os.close(slave)
        shown = b""
        while True:
            try:
                piece = os.read(master, 65536)
            except OSError:
                break
            if not piece:
                break
            shown += piece
        assert process.wait() == 1
    os.close(master)
    assert (b"\x1b[" in shown) == coloured
    lines = shown.decode("utf-8").replace("\x1b", "").splitlines()
    assert all(len(line) <= 60 for line in lines if line.startswith("    "))
