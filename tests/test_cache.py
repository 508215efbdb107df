"""The cache of results: what a key depends on, and that nothing that is wrong with the file does more than cost a line."""

from __future__ import annotations

import os
import resource
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import Result
from hypothesis import given
from hypothesis import strategies as st

from overhaul import binder, cache, kept, pipeline
from overhaul.cache import Results, key
from overhaul.findings import Finding, Grade
from overhaul.house import House
from overhaul.text import Page, Place
from tests.many import page, write

Run = Callable[..., Result]
HOUSE = House()
ONE, TWO = b"1" * 32, b"2" * 32


@pytest.fixture
def said() -> list[str]:
    return []


@pytest.fixture
def results(tmp_path: Path, said: list[str]) -> Results:
    return Results(tmp_path / "cache", said.append, patience=0.1)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "cache" / "results.sqlite"


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(cache.FOLDER, str(tmp_path / "own cache"))
    return tmp_path / "own cache"


# What a result depends on.


def test_a_key_is_of_the_bytes_the_name_the_house_and_the_law() -> None:
    base = key(b"x", "a.txt", HOUSE)
    assert base == key(b"x", "somewhere/else/a.txt", House())
    others = [key(b"y", "a.txt", HOUSE), key(b"x", "b.txt", HOUSE), key(b"x", "a.md", HOUSE), key(b"x", "a.txt", House(law="eu")), key(b"x", "a.txt", House(sold=True)), key(b"xa", ".txt", HOUSE)]
    assert len({base, *others}) == 7


def test_a_name_that_is_no_text_has_a_key() -> None:
    assert key(b"x", os.fsdecode(b"\xff.txt"), HOUSE) != key(b"x", os.fsdecode(b"\xfe.txt"), HOUSE)


@pytest.mark.parametrize("which", ["rules/brine/brine_weak.py", "facts/limits.tsv", "facts/sources.toml", "reading/names.tsv", "pipeline.py"])
def test_an_edit_of_the_program_or_its_facts_is_another_program(which: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    files = dict(cache._files(str(Path(cache.__file__).parent)))
    assert which in files
    edited = tmp_path / "edited"
    edited.write_bytes(Path(files[which]).read_bytes() + b"\n")
    before = cache.program.__wrapped__()
    monkeypatch.setattr(cache, "_files", lambda place: {**files, which: str(edited)}.items())
    assert cache.program.__wrapped__() != before
    monkeypatch.setattr(cache, "_files", lambda place: files.items())
    assert len(before) == 32


def test_the_grammar_belongs_to_the_program(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[str] = []
    own = cache._files

    def noted(place: str, above: str = "") -> list[tuple[str, str]]:
        found = list(own(place, above))
        seen.extend(name for name, _ in found)
        return found

    monkeypatch.setattr(cache, "_files", noted)
    cache.program.__wrapped__()
    assert {"line.lark", "number.lark", "unit.lark"} <= set(seen)


def test_another_version_of_a_package_is_another_program(monkeypatch: pytest.MonkeyPatch) -> None:
    before = cache.fingerprint.__wrapped__()
    monkeypatch.setattr(cache, "_installed", lambda package: "1" if package == "pypdf" else "2")
    assert cache.fingerprint.__wrapped__() != before


# Audits as bytes.

_TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)
_PLACE = st.tuples(st.integers(0, 99), st.integers(0, 99)).map(lambda both: Place(min(both), max(both)))


@given(st.builds(Finding, _TEXT, st.just(Grade.FAULT), st.booleans(), _PLACE, _TEXT, st.booleans(), st.none() | _TEXT), _TEXT, st.lists(_TEXT, max_size=3))
def test_an_audit_comes_back_from_its_bytes(finding: Finding, text: str, titles: list[str]) -> None:
    audited = pipeline.Audited("a.txt", Page(text, "a.txt", (1, 3)), titles=tuple(titles), findings=(finding,))
    back = kept.unpacked(kept.packed(audited) or b"", "b.txt")
    assert back.page is not None
    assert (back.file, back.page.name, back.page.text, back.page.pages) == ("b.txt", "b.txt", text, (1, 3))
    assert (back.titles, back.findings, back.unreadable) == (tuple(titles), (finding,), None)


def test_every_part_of_an_audit_that_a_report_reads_is_in_its_bytes() -> None:
    """What is shown of it is made after the audits, for one report, and is never kept."""
    assert set(pipeline.Audited.__struct_fields__) == {"file", "page", "titles", "listed", "findings", "unreadable"} | {"recipes", "seconds", "shown"}


def test_a_real_audit_with_remedies_and_sources_comes_back() -> None:
    audited = pipeline.audit(page(3).encode(), "a.txt", HOUSE)
    assert any(one.remedy is not None and one.remedy.edits for one in audited.findings)
    assert kept.unpacked(kept.packed(audited) or b"", "a.txt").findings == audited.findings


def test_what_an_index_has_of_it_is_read_without_its_page(monkeypatch: pytest.MonkeyPatch) -> None:
    audited = pipeline.audit(b"Corned beef   p. 7\n\n2 oz cure #1\n\n1. Stir in the spice (see p. 41).\n", "a.txt", HOUSE)
    one = kept.keep(audited)
    assert one.audited().listed == audited.listed
    monkeypatch.setattr("zlib.decompressobj", _never)
    assert one.head() == kept.Head(("Corned beef",), audited.listed, 0, True)
    assert [(pointer.number, pointer.line) for pointer in one.head().listed[0].pointers] == [(41, 5)]


@given(st.binary(max_size=60))
def test_bytes_that_are_no_audit_are_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match=r"."):
        kept.unpacked(data, "a.txt")


def test_half_a_character_is_held_as_it_is() -> None:
    audited = pipeline.Audited("\udcff.txt", unreadable="no \udcff")
    assert kept.packed(audited) is None
    assert kept.keep(audited).audited() is audited


# The file.


def test_what_is_put_there_is_got_again(results: Results, said: list[str], file: Path) -> None:
    assert (results.get([ONE]), results.empty) == ({}, True)
    results.put([(ONE, b"one"), (TWO, b"")])
    assert results.get([ONE, b"3" * 32, TWO]) == {ONE: b"one", TWO: b""}
    results.put([(ONE, b"other")])
    assert results.get([ONE]) == {ONE: b"other"}
    assert said == []
    assert (stat.S_IMODE(file.stat().st_mode), stat.S_IMODE(file.parent.stat().st_mode)) == (0o600, 0o700)


def test_more_keys_than_one_statement_takes(results: Results) -> None:
    many = [(number.to_bytes(32, "big"), b"%d" % number) for number in range(2_500)]
    results.put(many)
    assert results.get([one for one, _ in many]) == dict(many)


def test_the_oldest_go_when_it_is_full(results: Results, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "MOST_BYTES", 200_000)
    every = [(number.to_bytes(32, "big"), os.urandom(2_000)) for number in range(400)]
    for start in range(0, 400, 20):
        results.put(every[start : start + 20])
    left = results.get([one for one, _ in every])
    assert list(left) == [one for one, _ in every[-len(left) :]]
    assert 40 < len(left) < 110
    assert file.stat().st_size < 300_000


def test_one_result_that_is_too_large_is_not_kept(results: Results, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "_LARGEST", 10)
    results.put([(ONE, b"x" * 11), (TWO, b"x" * 10)])
    assert results.get([ONE, TWO]) == {TWO: b"x" * 10}


def _rubbish(file: Path) -> None:
    file.write_bytes(b"no database at all " * 400)


def _middle(file: Path) -> None:
    data = bytearray(file.read_bytes())
    data[4096:] = os.urandom(len(data) - 4096)
    file.write_bytes(data)


def _cut(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:6000])


def _other_table(file: Path) -> None:
    with closing(sqlite3.connect(file)) as database:
        database.execute("DROP TABLE results")


def _other_form(file: Path) -> None:
    with closing(sqlite3.connect(file)) as database:
        database.execute("PRAGMA user_version = 99")


@pytest.mark.parametrize("damage", [_rubbish, _middle, _cut, _other_table, _other_form])
def test_a_damaged_file_is_begun_anew_with_one_line(damage: Callable[[Path], None], results: Results, said: list[str], file: Path) -> None:
    results.put([(number.to_bytes(32, "big"), os.urandom(900)) for number in range(40)])
    damage(file)
    assert results.get([ONE]) == {}
    results.put([(ONE, b"one")])
    assert results.get([ONE]) == {ONE: b"one"}
    assert len(said) == 1
    assert said[0].startswith(f"the cache {file}: it was damaged (")
    assert said[0].endswith(") and is begun anew")


def test_a_result_that_is_not_what_was_put_there_is_none(results: Results, said: list[str], file: Path) -> None:
    results.put([(ONE, b"one"), (TWO, b"two")])
    with closing(sqlite3.connect(file)) as database:
        database.execute("UPDATE results SET value = (SELECT value FROM results WHERE key = ?) WHERE key = ?", (TWO, ONE))
        database.commit()
    assert results.get([ONE, TWO]) == {TWO: b"two"}
    assert said == [f"the cache {file}: results in it were damaged, and are worked anew"]


def test_a_file_that_another_run_holds_is_done_without(results: Results, said: list[str], file: Path) -> None:
    results.put([(ONE, b"one")])
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        assert results.get([ONE]) == {}
        results.put([(TWO, b"two")])
    assert said == [f"the cache {file}: another run holds it for over 0.1 s; it is not used in this run"]


def test_a_place_where_no_folder_can_be(tmp_path: Path, said: list[str]) -> None:
    (tmp_path / "taken").write_text("a file")
    results = Results(tmp_path / "taken" / "cache", said.append)
    assert results.get([ONE]) == {}
    results.put([(ONE, b"one")])
    results.put([(TWO, b"two")])
    assert said == [f"the cache {tmp_path}/taken/cache/results.sqlite: nothing can be kept in it (Not a directory)"]


def _run(folder: Path, place: Path, first: Callable[[], None] | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "overhaul", "audit", str(folder), "--as", "json", "--stop-at", "never"], capture_output=True, text=True, check=False, env={**os.environ, cache.FOLDER: str(place)}, preexec_fn=first)


def test_a_full_disk_costs_one_line(tmp_path: Path) -> None:
    write(tmp_path / "binder", 60)

    def small() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

    done = _run(tmp_path / "binder", tmp_path / "cache", small)
    assert done.returncode == 0
    assert len(done.stderr.splitlines()) == 1, done.stderr
    assert done.stderr.startswith(f"overhaul: the cache {tmp_path}/cache/results.sqlite: nothing can be kept in it (")
    assert done.stdout == _run(tmp_path / "binder", tmp_path / "other").stdout


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_cache_that_may_only_be_read_is_read(results: Results, said: list[str], file: Path) -> None:
    results.put([(ONE, b"one")])
    file.chmod(0o400)
    file.parent.chmod(0o500)
    try:
        assert results.get([ONE]) == {ONE: b"one"}
        results.put([(TWO, b"two")])
        results.put([(TWO, b"two")])
        assert results.get([ONE]) == {ONE: b"one"}
        assert len(said) == 1
        assert "nothing can be kept in it" in said[0]
    finally:
        file.parent.chmod(0o700)


@pytest.fixture
def read_only(results: Results, file: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Every connection may only read: what a mount that may only be read comes to, for root too."""
    results.put([(ONE, b"one")])
    connect = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda name, **more: connect(f"{name.partition('?')[0]}?mode=ro", **more))
    yield


@pytest.mark.usefixtures("read_only")
def test_where_sqlite_may_only_read_results_are_still_taken(results: Results, said: list[str]) -> None:
    assert results.get([ONE]) == {ONE: b"one"}
    results.put([(TWO, b"two")])
    assert results.get([ONE]) == {ONE: b"one"}
    assert said == [f"the cache {results._path}: nothing can be kept in it (attempt to write a readonly database)"]


def test_two_runs_at_once_share_it(tmp_path: Path) -> None:
    write(tmp_path / "binder", 60)
    command = [sys.executable, "-m", "overhaul", "audit", str(tmp_path / "binder"), "--as", "json", "--stop-at", "never"]
    env = {**os.environ, cache.FOLDER: str(tmp_path / "cache")}
    runs = [subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=env) for _ in range(3)]
    told = [run.communicate() for run in runs]
    assert {run.returncode for run in runs} == {0}
    assert {err for _, err in told} == {b""}
    assert len({out for out, _ in told}) == 1
    with closing(sqlite3.connect(tmp_path / "cache" / "results.sqlite")) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert database.execute("SELECT count(*) FROM results").fetchone() == (60,)


# Through the command line.


def _never(*_: object) -> None:
    raise AssertionError("it was audited again")


def test_a_second_run_audits_nothing_and_says_the_same(overhaul: Run, place: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path / "binder", 5)
    forms = [("--as", "json"), ("--as", "sarif"), ("--as", "plain")]
    anew = [overhaul("audit", tmp_path / "binder", *form, "--no-cache").output for form in forms]
    assert not place.exists()
    overhaul("audit", tmp_path / "binder")
    monkeypatch.setattr(binder, "audit_all", _never)
    assert [overhaul("audit", tmp_path / "binder", *form).output for form in forms] == anew


def test_what_changed_is_audited_anew(overhaul: Run, place: Path, tmp_path: Path) -> None:
    write(tmp_path / "binder", 2)
    overhaul("audit", tmp_path / "binder")
    for name, text in (("000001.txt", page(7)), ("house.yaml", "law: eu\n"), ("house.yaml", "law: eu\nsold: true\n")):
        (tmp_path / "binder" / name).write_text(text)
        assert overhaul("audit", tmp_path / "binder", "--as", "json").output == overhaul("audit", tmp_path / "binder", "--as", "json", "--no-cache").output
    assert overhaul("audit", tmp_path / "binder", "--law", "uk", "--as", "json").output == overhaul("audit", tmp_path / "binder", "--law", "uk", "--as", "json", "--no-cache").output
    assert place.exists()


def test_what_cannot_be_read_is_kept_too_and_said_again(overhaul: Run, place: Path, tmp_path: Path) -> None:
    (tmp_path / "bad.txt").write_bytes(b"\0")
    first, second = (overhaul("audit", tmp_path / "bad.txt") for _ in range(2))
    assert (first.exit_code, first.output) == (second.exit_code, second.output) == (2, first.output)
    assert "a binary file, not text" in first.output


def test_a_run_that_finds_all_its_results_imports_no_reader_and_no_rule(place: Path, tmp_path: Path) -> None:
    write(tmp_path / "binder", 3)
    code = f"import sys; from overhaul.cli import main; main(['audit', {str(tmp_path / 'binder')!r}, '--as', 'json', '--stop-at', 'never'], standalone_mode=False)"
    show = "; print([name for name in ('lark', 'pint', 'ruamel.yaml', 'rich', 'concurrent.futures.process', 'overhaul.recipe.build', 'overhaul.reading.lines', 'overhaul.rules', 'overhaul.sums.work') if name in sys.modules])"
    subprocess.run([sys.executable, "-c", code.replace("main([", "sys.exit = lambda *_: None; main([")], capture_output=True, check=True)
    done = subprocess.run([sys.executable, "-c", f"import atexit; atexit.register(lambda: exec({('import sys' + show)!r})); {code}"], capture_output=True, text=True, check=False)
    assert done.stdout.splitlines()[-1] == "[]", done.stderr
