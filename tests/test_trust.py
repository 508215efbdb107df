"""What is given to the program cannot act: nothing is run, fetched, followed out of the folder, written over, or sent to the terminal raw."""

from __future__ import annotations

import ast
import json
import os
import re
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from overhaul import documents
from overhaul.house import House
from overhaul.output import convert
from overhaul.sums.work import Sums
from tests.conftest import CORPUS, ROOT, recipe_of
from tests.documents import test_whole
from tests.fuzz.readers import READERS, found_before

Run = Callable[..., Result]

RUNS = frozenset(["eval", "exec", "compile", "__import__"])
UNSAFE = frozenset(["pickle", "cPickle", "marshal", "shelve", "dill", "cloudpickle", "yaml", "subprocess", "urllib.request", "http", "requests", "httpx", "ftplib", "smtplib", "xmlrpc"])
SOURCES = sorted((ROOT / "src").rglob("*.py")) + sorted((ROOT / "grammar").rglob("*.py"))


def _unsafe(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name) and node.func.id in RUNS:
                yield f"{node.lineno}: {node.func.id}"
            if isinstance(node.func, ast.Attribute) and node.func.attr in ("system", "popen", "load_all_unsafe", "unsafe_load"):
                yield f"{node.lineno}: {node.func.attr}"
            for word in node.keywords:
                if word.arg == "typ" and not (isinstance(word.value, ast.Constant) and word.value.value in ("rt", "safe", ["rt"], ["safe"])):
                    yield f"{node.lineno}: a YAML reader of the type {ast.unparse(word.value)}"
                if word.arg == "shell":
                    yield f"{node.lineno}: shell"
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else [node.module or ""] if isinstance(node, ast.ImportFrom) and not node.level else []
        yield from (f"{node.lineno}: import of {name}" for name in names if {name, name.partition(".")[0]} & UNSAFE)  # type: ignore[attr-defined]


def test_the_source_runs_nothing_that_it_reads() -> None:
    assert len(SOURCES) > 100
    assert [f"{path.relative_to(ROOT)}:{found}" for path in SOURCES for found in _unsafe(ast.parse(path.read_text("utf-8")))] == []


@pytest.mark.parametrize("line", ["eval('1')", "import pickle", "from yaml import load", "import urllib.request", "YAML(typ='unsafe')", "YAML(typ=kind)", "os.system('ls')", "run('ls', shell=True)"])
def test_the_walk_sees_what_it_looks_for(line: str) -> None:
    assert len(list(_unsafe(ast.parse(line)))) == 1


@pytest.mark.parametrize("name", READERS)
def test_what_the_fuzzing_begins_with_is_no_finding(name: str) -> None:
    run, pages = READERS[name]
    for page in [*pages, *found_before(name)]:
        for data in (page, page[: len(page) // 2], page[::-1]):
            run(data)


@pytest.mark.parametrize("name", READERS)
def test_what_fuzzing_has_found_is_kept_and_small(name: str) -> None:
    found = found_before(name)
    assert found
    assert sum(map(len, found)) < 40_000


class Forbidden(BaseException):
    """Past every handler of our own."""


@pytest.fixture
def no_sockets(monkeypatch: pytest.MonkeyPatch) -> None:
    """A socket made or a name looked up ends the test."""

    def forbidden(*_: object, **__: object) -> Any:
        raise Forbidden("a socket")

    class NoSocket(socket.socket):
        __init__ = forbidden

    monkeypatch.setattr(socket, "socket", NoSocket)
    for name in ("create_connection", "create_server", "getaddrinfo", "gethostbyname", "socketpair"):
        monkeypatch.setattr(socket, name, forbidden)


def test_the_fixture_forbids(no_sockets: None) -> None:
    with pytest.raises(Forbidden):
        socket.socket()
    with pytest.raises(Forbidden):
        socket.create_connection(("127.0.0.1", 9))


# Every command but the cluster, in each of its forms; {page} is a recipe, {folder} one of several kinds of document, {data} a recipe file.
COMMANDS: list[str] = [
    *(f"audit {{folder}} --workers 1 --as {form}" for form in ("plain", "json", "sarif")),
    "audit {page} --workers 1 --handoff", "audit {page} --workers 1 --handoff --as json", "audit {page} --no-cache", "audit {data} --no-cache",
    "audit {page} --workers 1 --out-house {new}/h.yaml", "audit {page} --workers 1 --remedied {new}/r.txt",
    "read {page}", "sums {page}", "sums {page} --as json", "sums {page} --for 150ppm",
    *(f"convert {{page}} --to {form}" for form in ("yaml", "json", "jsonld", "text", "markdown")), "convert --schema", "convert {data}", "convert {data} --to json",
    *(f"sheet {{page}} --kind {kind}" for kind in ("prep", "card", "labels", "formula")), "sheet {page} --serve 2026-12-24T18:00 --as ics",
    "compare {page} {data}", "batch {page} --times 2", "batch {data} --times 2 --as yaml", "audit {folder} --workers 2 --no-cache --as html",
    "grounds", "grounds --as markdown", "grounds brine-weak",
]  # fmt: skip


def _recipe_file(text: str) -> str:
    recipe = recipe_of(text)
    return convert.render([(recipe, Sums(recipe, House()))], "yaml", text.encode())


@pytest.fixture
def kitchen(tmp_path: Path) -> dict[str, str]:
    """A page, a recipe file, a folder with a document of every kind, and a folder to write to."""
    folder = tmp_path / "binder"
    folder.mkdir()
    made = {"a.txt": test_whole.plain, "b.docx": test_whole.word, "c.pdf": test_whole.pdf, "d.html": test_whole.web, "e.xlsx": test_whole.workbook, "f.csv": test_whole.table, "g.rtf": test_whole.rich}
    for name, make in made.items():
        (folder / name).write_bytes(make())
    page = tmp_path / "page.txt"
    page.write_bytes((CORPUS / "belly-in-a-bag.md").read_bytes())
    data = tmp_path / "data.yaml"
    data.write_text(_recipe_file("Belly\n\n5 kg pork belly\n12 g curing salt #1\n\n1. Cure 7 days at 3 C.\n"), "utf-8")
    (tmp_path / "new").mkdir()
    return {"page": str(page), "data": str(data), "folder": str(folder), "new": str(tmp_path / "new")}


def _args(command: str, kitchen: dict[str, str]) -> list[str]:
    return [word.format(**kitchen) for word in command.split()]


@pytest.mark.parametrize("command", COMMANDS)
def test_no_command_makes_a_socket(overhaul: Run, kitchen: dict[str, str], no_sockets: None, command: str) -> None:
    done = overhaul(*_args(command, kitchen))
    assert done.exit_code in (0, 1), done.output
    assert done.stdout


@pytest.mark.parametrize("command", COMMANDS)
def test_nothing_is_written_but_where_it_is_named(overhaul: Run, kitchen: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)

    def files() -> dict[str, bytes]:
        return {str(path): path.read_bytes() for path in tmp_path.rglob("*") if path.is_file() and not path.is_relative_to(kitchen["new"])}

    before = files()
    overhaul(*_args(command, kitchen))
    assert files() == before
    assert len(os.listdir(kitchen["new"])) == ("{new}" in command)


# What no terminal and no reader may be given raw: escapes and controls, turns of direction, half characters.
RAW = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
EVIL = "\x1b]0;owned\x9b2J\u202e\u2066\u200f\u061c"


def _evil_page() -> str:
    return (
        f"Belly\x07{EVIL}\n\n5 kg pork{EVIL} belly\n12 g{EVIL} curing salt #1\n100 g salt{EVIL}\n2 gal water\n1 cup{EVIL} oddity{EVIL}\n\n"
        f"1. Mix the brine{EVIL} and chill it.\n2. Cure{EVIL} 7 days at 45 F{EVIL}.\n3. Smoke at 225 F to 150 F{EVIL}.\n4. Chill.\n{EVIL}\nKeeps{EVIL} 3 weeks.\n"
    )


@pytest.mark.parametrize("command", [one for one in COMMANDS if "{page}" in one or "{data}" in one])
def test_escapes_and_turns_of_direction_reach_no_output(overhaul: Run, kitchen: dict[str, str], command: str) -> None:
    Path(kitchen["page"]).write_text(_evil_page(), "utf-8")
    Path(kitchen["data"]).write_text(_recipe_file(_evil_page()).replace("\\u202e", "\u202e") + "# \u2066 a remark\n", "utf-8")
    done = overhaul(*_args(command, kitchen))
    assert done.exit_code in (0, 1), done.output
    assert done.stdout
    shown = done.stdout.replace("\r\n", "\n") if command.endswith("ics") else done.stdout
    assert RAW.findall(shown + done.stderr) == []
    for written in Path(kitchen["new"]).iterdir():
        if written.name == "h.yaml":  # made from the page; a remedied copy is the cook's own page, and kept as it is
            assert RAW.findall(written.read_text("utf-8")) == []


NAMES = [b"new\nline.txt", b"esc\x1b[2J\x07.txt", b"bytes\xff\xfe.txt", "turned\u202etxt.exe.txt".encode(), b"-dash.txt", b"--out", b" .txt", b"\xc2\x9b2J.txt", b"%s{0}<b>&amp;.txt", b"cr\r.txt"]


@pytest.mark.parametrize("form", ["plain", "json", "sarif"])
@pytest.mark.parametrize("data", [(CORPUS / "belly-in-a-bag.md").read_bytes(), b"\0\0\0"], ids=["page", "binary"])
def test_odd_file_names_are_told_and_act_on_nothing(tmp_path: Path, form: str, data: bytes) -> None:
    folder = os.fsencode(tmp_path / "odd")
    os.mkdir(folder)
    for name in NAMES:
        with open(os.path.join(folder, name), "wb") as file:
            file.write(data)
    (tmp_path / "odd" / "gone\x1b[2J.txt").symlink_to("nowhere")
    done = subprocess.run([sys.executable, "-m", "overhaul", "audit", "--workers", "1", "--as", form, b"--", folder], capture_output=True, check=False, cwd=tmp_path)
    assert done.returncode == 2, done.stderr
    said = done.stdout.decode("utf-8") + done.stderr.decode("utf-8")
    assert RAW.findall(said) == []
    assert "failed" not in said
    assert sum(b"there is no such file" in line for line in done.stderr.splitlines()) == 1
    if form != "plain":
        json.loads(done.stdout)
    # “--out” has no suffix, and is no page in a folder.
    if form == "json":
        assert len(json.loads(done.stdout)["files"]) == len(NAMES) - 1
    assert sorted(os.listdir(folder)) == sorted([*NAMES, b"gone\x1b[2J.txt"])
    assert os.listdir(os.fsencode(tmp_path)) == [b"odd"]


@pytest.mark.parametrize("name", [name for name in NAMES if not name.startswith(b"-")])
@pytest.mark.parametrize("command", ["read", "sums", "convert", "sheet"])
def test_one_file_of_an_odd_name(tmp_path: Path, command: str, name: bytes) -> None:
    path = os.path.join(os.fsencode(tmp_path), name)
    for data, status in (((CORPUS / "belly-in-a-bag.md").read_bytes(), 0), (b"\0\0\0", 2)):
        with open(path, "wb") as file:
            file.write(data)
        done = subprocess.run([sys.executable, "-m", "overhaul", command, path], capture_output=True, check=False, cwd=tmp_path)
        assert done.returncode == status, done.stderr
        assert RAW.findall((done.stdout + done.stderr).decode("utf-8")) == []
        assert len(done.stderr.splitlines()) == status // 2


def test_a_folder_of_very_many_files_and_odd_things(overhaul: Run, tmp_path: Path) -> None:
    for number in range(20_000):
        (tmp_path / f"{number:05}.jpg").touch()
    page = (CORPUS / "belly-in-a-bag.md").read_bytes()
    (tmp_path / "belly.txt").write_bytes(page)
    deep = tmp_path
    for _ in range(200):
        deep /= "d"
        deep.mkdir()
    (deep / "deep.txt").write_bytes(page)
    (tmp_path / "loop").symlink_to(tmp_path)
    (tmp_path / "out").symlink_to(CORPUS)
    (tmp_path / "a.txt").symlink_to("b.txt")
    (tmp_path / "b.txt").symlink_to("a.txt")
    (tmp_path / "null.txt").symlink_to("/dev/null")
    (tmp_path / "zero.txt").symlink_to("/dev/zero")
    os.mkfifo(tmp_path / "pipe.txt")
    done = overhaul("audit", "--workers", "1", "--as", "json", tmp_path)
    assert [Path(one["file"]).name for one in json.loads(done.stdout)["files"]] == ["belly.txt", "deep.txt"]
    told = sorted(line.removeprefix(f"overhaul: {tmp_path}/") for line in done.stderr.splitlines())
    device = "a pipe or a device, not a file; to read from a pipe, give - and send the text to standard input"
    assert [line for line in told if "link" not in line] == [f"{name}: {device}" for name in ("null.txt", "pipe.txt", "zero.txt")]
    assert [line.partition(":")[0] for line in told if "link" in line] == ["a.txt", "b.txt"]


@pytest.mark.parametrize("command", ["read", "sums", "convert", "sheet", "audit"])
@pytest.mark.parametrize("file", ["/dev/zero", "/dev/null", "loop.txt"])
def test_devices_and_loops_are_refused(overhaul: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str, file: str) -> None:
    monkeypatch.chdir(tmp_path)
    Path("loop.txt").symlink_to("loop.txt")
    done = overhaul(command, file)
    assert done.exit_code == 2
    assert "failed" not in done.output
    assert done.stderr.startswith(f"overhaul: {file}: ")


def test_a_house_sheet_that_is_no_file_is_refused(overhaul: Run, kitchen: dict[str, str]) -> None:
    done = overhaul("audit", kitchen["page"], "--house", "/dev/zero")
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith("overhaul: /dev/zero: a pipe or a device")


def test_out_to_a_device_leaves_the_device(overhaul: Run, kitchen: dict[str, str]) -> None:
    assert overhaul("convert", kitchen["page"], "--out", "/dev/null").exit_code == 0
    assert not Path("/dev/null").is_file()
    done = overhaul("convert", kitchen["page"], "--out", "/dev/full")
    assert done.exit_code == 2
    assert done.stderr.startswith("overhaul: /dev/full: not written: ")


def test_out_through_links(overhaul: Run, kitchen: dict[str, str], tmp_path: Path) -> None:
    gone, loop = tmp_path / "gone.yaml", tmp_path / "loop.yaml"
    gone.symlink_to(tmp_path / "made.yaml")
    loop.symlink_to(loop)
    assert overhaul("convert", kitchen["page"], "--out", gone).exit_code == 0
    assert gone.is_symlink()
    assert (tmp_path / "made.yaml").read_text("utf-8").startswith("format: overhaul/1\n")
    done = overhaul("convert", kitchen["page"], "--out", loop)
    assert done.exit_code == 2
    assert done.stderr.startswith(f"overhaul: {loop}: not written: ")
    assert loop.is_symlink()


def test_a_page_too_long_is_refused_before_it_is_held(overhaul: Run, tmp_path: Path) -> None:
    path = tmp_path / "huge.txt"
    with path.open("wb") as file:
        file.truncate(50 * documents.MOST_BYTES)  # a hole: takes no room on the disk
    done = overhaul("read", path)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == f"overhaul: {path}: longer than {documents.MOST_BYTES:,} bytes; a recipe of that length is not read\n"
