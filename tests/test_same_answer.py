"""The same answer whatever the seed of hashes, the locale, the time zone, the line ends and the Python."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import CORPUS, ROOT

ARGS = ("-m", "overhaul", "audit", "--as", "json", "--no-cache", "--workers", "1", "--stop-at", "never", ".")
LOCALES = ("C", "tr_TR.UTF-8", "de_DE.UTF-8")


def _audit(folder: Path = CORPUS, python: str = sys.executable, **changed: str) -> bytes:
    done = subprocess.run([python, *ARGS], capture_output=True, check=False, cwd=folder, env={**os.environ, **changed})
    assert (done.returncode, done.stderr) == (0, b""), done.stderr.decode("utf-8", "replace")
    return done.stdout


@pytest.fixture(scope="module")
def usual() -> bytes:
    found = _audit()
    assert len(json.loads(found)["files"]) >= 40
    return found


@pytest.mark.parametrize("seed", ["0", "1", "4294967295"])
def test_any_seed_of_hashes(usual: bytes, seed: str) -> None:
    assert _audit(PYTHONHASHSEED=seed) == usual


@pytest.mark.parametrize("zone", ["UTC", "Pacific/Kiritimati", "America/St_Johns"])
def test_any_time_zone(usual: bytes, zone: str) -> None:
    assert _audit(TZ=zone) == usual


@pytest.mark.parametrize("name", LOCALES)
def test_any_locale(usual: bytes, tmp_path: Path, name: str) -> None:
    if name != "C" and shutil.which("localedef") and subprocess.run(["localedef", "-i", name.partition(".")[0], "-f", "UTF-8", tmp_path / name], capture_output=True, check=False).returncode == 0:
        assert _audit(LOCPATH=str(tmp_path), LC_ALL=name, LANG=name) == usual
        return
    known = subprocess.run(["locale", "-a"], capture_output=True, text=True, check=False).stdout.split() if shutil.which("locale") else []
    if name.lower().replace("-", "") not in [one.lower().replace("-", "") for one in known]:
        pytest.skip(f"the locale {name} is not installed here")
    assert _audit(LC_ALL=name, LANG=name) == usual


def test_the_plainest_locale_without_utf_8(usual: bytes) -> None:
    assert _audit(LC_ALL="C", LANG="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0") == usual


def _without_places(told: Any) -> Any:
    """Places counted in characters or bytes move with the line ends, and the text of an edit has them; lines and columns stay."""
    if isinstance(told, dict):
        return {key: _without_places(inner) for key, inner in told.items() if key not in ("start", "end", "offset", "length")}
    if isinstance(told, str):
        return told.replace("\r\n", "\n").replace("\r", "\n")
    return [_without_places(inner) for inner in told] if isinstance(told, list) else told


@pytest.mark.parametrize("ends", [b"\r\n", b"\r"], ids=["Windows", "the old Macintosh"])
def test_any_line_ends(usual: bytes, tmp_path: Path, ends: bytes) -> None:
    shutil.copytree(CORPUS, tmp_path, dirs_exist_ok=True)
    pages = [path for path in tmp_path.rglob("*") if path.suffix in (".txt", ".md")]
    for path in pages:
        path.write_bytes(path.read_bytes().replace(b"\r\n", b"\n").replace(b"\n", ends))
    assert len(pages) >= 40
    changed, told = json.loads(_audit(tmp_path)), json.loads(usual)
    for one, other in zip(changed["files"], told["files"], strict=True):
        assert _without_places(one) == _without_places(other)


def _pythons() -> Iterator[str]:
    """Those named in OVERHAUL_PYTHONS, else those on the path."""
    named = os.environ.get("OVERHAUL_PYTHONS")
    yield from named.split(os.pathsep) if named else [f"python3.{minor}" for minor in (11, 12, 13)]


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program as a wheel lays it out, which any Python can import."""
    place = tmp_path_factory.mktemp("whole")
    aside = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "src" / "overhaul", place / "overhaul", ignore=aside)
    shutil.copytree(ROOT / "grammar", place / "overhaul" / "grammar", ignore=aside, dirs_exist_ok=True)
    return place


@pytest.mark.parametrize("python", list(_pythons()))
def test_any_python(usual: bytes, whole: Path, python: str) -> None:
    path = shutil.which(python)
    if path is None:
        pytest.skip(f"{python} is not here")
    bare = {key: value for key, value in os.environ.items() if key not in ("PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV")}
    tried = subprocess.run([path, "-c", "import click, lark, msgspec, pint, ruamel.yaml, lxml, docx, pypdf, openpyxl, jinja2, rapidfuzz, sys; print(sys.version_info >= (3, 11))"], capture_output=True, text=True, check=False, env=bare)
    if tried.stdout != "True\n":
        pytest.skip(f"{python} does not start, is too old, or lacks the packages")
    assert _audit(python=path, PYTHONPATH=str(whole)) == usual
