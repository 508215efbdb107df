"""Results of earlier audits, kept in the user's cache folder; a run that finds one there reads the page no further.

One SQLite file: a key, which is a hash of everything that a result depends on, and the result as bytes. It may be read and
written by several runs at once, and be thrown away at any time. Nothing in it is trusted: a result comes with its own hash,
and whatever is wrong with the file costs one line on standard error and no result.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
import sys
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from urllib.parse import quote

import msgspec

from overhaul import __version__, entry_points
from overhaul.house import House

FOLDER = "OVERHAUL_CACHE"  # the environment's word on where the cache stands
_FILE = "results.sqlite"
_OURS = 0x4F564852  # PRAGMA application_id
_FORM = 1  # PRAGMA user_version: of the table below
_TABLE = "CREATE TABLE results (number INTEGER PRIMARY KEY AUTOINCREMENT, key BLOB NOT NULL UNIQUE, value BLOB NOT NULL)"
_DIGEST = 16
MOST_BYTES = 256_000_000  # of all results together; then the oldest go
_LARGEST = 4_000_000  # one result; a page of some megabytes of findings
_AT_ONCE = 400  # keys asked for in one statement
PATIENCE = 5.0  # seconds to wait for another run that is writing
# What a page's text or reading passes through beside our own code.
_PACKAGES = ("lark", "lark_cython", "pint", "msgspec", "ruamel.yaml", "charset_normalizer", "lxml", "openpyxl", "pypdf", "docx", "rapidfuzz")
_NOT_READING = frozenset(["cli.py", "templates", "sheets", "__pycache__"])  # of our own files, those no result depends on


def folder() -> Path:
    """Where the cache stands: the folder that ``OVERHAUL_CACHE`` names, else the system's place for it."""
    if named := os.environ.get(FOLDER):
        return Path(named)
    from platformdirs import user_cache_path

    return user_cache_path("overhaul", appauthor=False)


@cache
def program() -> bytes:
    """A hash of this program: its version and every file of its own that a result depends on. A working copy is another with each edit."""
    found = hashlib.blake2b(__version__.encode(), digest_size=32)
    grammar = find_spec("overhaul.grammar")
    folders = [str(Path(__file__).parent), *((grammar.submodule_search_locations or []) if grammar is not None else [])]
    for place in folders:
        for name, path in sorted(_files(place)):
            found.update(f"\0{name}\0".encode())
            found.update(Path(path).read_bytes())
    return found.digest()


@cache
def fingerprint() -> bytes:
    """A hash of all that makes results but the page and the house: this program, its Python, the packages it reads with and the plug-ins."""
    told = f"{sys.implementation.name} {sys.version_info[:2]}"
    parts = (told, *(f"{package} {_installed(package)}" for package in _PACKAGES), *entry_points.installed())
    return hashlib.blake2b("\0".join(parts).encode("utf-8", "replace"), key=program(), digest_size=32).digest()


def _files(place: str, above: str = "") -> Iterable[tuple[str, str]]:
    with os.scandir(place) as entries:
        for entry in entries:
            if entry.name in _NOT_READING or entry.name.startswith("."):
                continue
            if entry.is_dir():
                yield from _files(entry.path, f"{above}{entry.name}/")
            else:
                yield above + entry.name, entry.path


def _installed(package: str) -> str:
    """When and how large the package's first file was written: another version of it is another file. It is not imported for this."""
    try:
        spec = find_spec(package)
    except ModuleNotFoundError:
        return "none"
    if spec is None or spec.origin is None:
        return "none"
    told = os.stat(spec.origin)
    return f"{spec.origin} {told.st_size} {told.st_mtime_ns}"


def key(data: bytes, name: str, house: House) -> bytes:
    """The key of the result for these bytes, called so, in this house under its law. Of the name only its last part counts."""
    found = hashlib.blake2b(fingerprint(), digest_size=32)
    for part in (os.fsencode(name.rsplit("/", 1)[-1]), msgspec.msgpack.encode(house)):
        found.update(len(part).to_bytes(8, "big"))
        found.update(part)
    found.update(data)
    return found.digest()


class Results:
    """The results kept in ``place``. No connection outlives a call, so that processes may be split off between them.

    ``say`` : told, in one line, what is wrong with the cache; it is then begun anew, or done without. Nothing raises.
    """

    def __init__(self, place: Path, say: Callable[[str], None], patience: float = PATIENCE) -> None:
        self._path = place / _FILE
        self._say = say
        self._patience = patience
        self._reads = self._writes = True
        self._told: set[str] = set()

    @staticmethod
    def key(data: bytes, name: str, house: House) -> bytes:
        return key(data, name, house)

    @property
    def empty(self) -> bool:
        """Whether nothing was ever kept there."""
        return not self._path.exists()

    def get(self, keys: Sequence[bytes]) -> dict[bytes, bytes]:
        """Those of ``keys`` that are there, with their results."""
        found: dict[bytes, bytes] = {}
        for start in range(0, len(keys), _AT_ONCE):
            some = keys[start : start + _AT_ONCE]
            if self._reads:
                found.update(self._done(lambda some=some: self._get(some)) or {})  # type: ignore[misc]
        return found

    def put(self, results: Sequence[tuple[bytes, bytes]]) -> None:
        """Keep these."""
        kept = [(key, _sealed(key, value)) for key, value in results if len(value) <= _LARGEST]
        if self._writes and kept:
            self._done(lambda: self._put(kept))

    def _get(self, keys: Sequence[bytes]) -> dict[bytes, bytes]:
        if self.empty:
            return {}
        with closing(self._open(write=False)) as database:
            rows = database.execute(f"SELECT key, value FROM results WHERE key IN ({','.join('?' * len(keys))})", keys).fetchall()
        found = {key: value for key, sealed in rows if (value := _opened(key, sealed)) is not None}
        if len(found) < len(rows):
            self._tell("results in it were damaged, and are worked anew")
        return found

    def _put(self, kept: list[tuple[bytes, bytes]]) -> None:
        with closing(self._open(write=True)) as database:
            database.execute("BEGIN IMMEDIATE")
            database.executemany("INSERT OR REPLACE INTO results (key, value) VALUES (?, ?)", kept)
            self._trim(database)
            database.execute("COMMIT")

    @staticmethod
    def _trim(database: sqlite3.Connection) -> None:
        """The oldest go until the rest is within bounds; the room they leave is used again."""
        (page_size,) = database.execute("PRAGMA page_size").fetchone()
        while True:
            (pages,), (free,) = database.execute("PRAGMA page_count").fetchone(), database.execute("PRAGMA freelist_count").fetchone()
            if (pages - free) * page_size <= MOST_BYTES:
                return
            (count,) = database.execute("SELECT count(*) FROM results").fetchone()
            if not count:
                return
            database.execute("DELETE FROM results WHERE number IN (SELECT number FROM results ORDER BY number LIMIT ?)", (max(1, count // 8),))

    def _open(self, *, write: bool) -> sqlite3.Connection:
        if write:
            self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        # A file that may not be written is opened for reading by SQLite itself.
        database = sqlite3.connect(f"file:{quote(str(self._path))}?mode={'rwc' if write else 'rw'}", uri=True, timeout=self._patience, isolation_level=None)
        try:
            if self._made(database):
                return database
            if not write:
                raise _Empty
            os.chmod(self._path, 0o600)  # it holds the words of recipes
            database.execute("BEGIN IMMEDIATE")
            if not self._made(database):  # nobody else has, meanwhile
                database.execute(_TABLE)
                database.execute(f"PRAGMA application_id = {_OURS}")
                database.execute(f"PRAGMA user_version = {_FORM}")
            database.execute("COMMIT")
            return database
        except BaseException:
            database.close()
            raise

    @staticmethod
    def _made(database: sqlite3.Connection) -> bool:
        """Whether our table stands in it; False for an empty file. Raises sqlite3.DatabaseError for a file that is another's."""
        (owner,), (form,) = database.execute("PRAGMA application_id").fetchone(), database.execute("PRAGMA user_version").fetchone()
        if (owner, form) == (_OURS, _FORM):
            return True
        if database.execute("SELECT count(*) FROM sqlite_master").fetchone() == (0,) and (owner, form) == (0, 0):
            return False
        raise _NotOurs("it has another form")

    def _done(self, work: Callable[[], dict[bytes, bytes] | None]) -> dict[bytes, bytes] | None:
        """``work``; a damaged file is begun anew, anything else that is wrong ends the reading or the writing for this run."""
        for begun_anew in (False, True):
            try:
                return work()
            except _Empty:
                return None
            except sqlite3.Error as problem:
                if not _damaged(problem):
                    self._without(problem)
                    return None
                if begun_anew or not self._begin_anew(problem):
                    self._reads = self._writes = False
                    return None
            except OSError as problem:
                self._writes = False
                self._tell(f"nothing can be kept in it ({problem.strerror or problem})")
                return None
        return None

    def _begin_anew(self, problem: sqlite3.Error) -> bool:
        self._tell(f"it was damaged ({problem}) and is begun anew")
        try:
            for end in ("", "-journal", "-wal", "-shm"):
                Path(f"{self._path}{end}").unlink(missing_ok=True)
        except OSError as other:
            self._tell(f"it is damaged and cannot be removed ({other.strerror or other})")
            return False
        return True

    def _without(self, problem: sqlite3.Error) -> None:
        self._writes = False
        if _code(problem) == sqlite3.SQLITE_BUSY:
            self._reads = False
            self._tell(f"another run holds it for over {self._patience:g} s; it is not used in this run")
        else:
            self._tell(f"nothing can be kept in it ({problem})")

    def _tell(self, what: str) -> None:
        if what not in self._told:
            self._told.add(what)
            self._say(f"the cache {self._path}: {what}")


class _Empty(Exception):
    """A file without a table: nothing was ever kept in it."""


class _NotOurs(sqlite3.DatabaseError):
    """A file that is SQLite's and not ours, or of another form."""


def _damaged(problem: sqlite3.Error) -> bool:
    if isinstance(problem, _NotOurs):
        return True
    # SQLITE_ERROR is a table that is not there, or has other columns.
    return _code(problem) in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR)


def _code(problem: sqlite3.Error) -> int:
    """SQLite's own number for it, without the part that tells the kind of kind."""
    return int(getattr(problem, "sqlite_errorcode", 0)) & 0xFF


def _hash(key: bytes, value: bytes) -> bytes:
    return hashlib.blake2b(value, key=key, digest_size=_DIGEST).digest()


def _sealed(key: bytes, value: bytes) -> bytes:
    return _hash(key, value) + value


def _opened(key: bytes, sealed: object) -> bytes | None:
    """The result, or None where it is not what was put there."""
    if not isinstance(sealed, bytes) or not isinstance(key, bytes):
        return None
    value = sealed[_DIGEST:]
    return value if _hash(key, value) == sealed[:_DIGEST] else None
