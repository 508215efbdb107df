"""Documents that are zip archives, opened only as far as they are honest about their size."""

from __future__ import annotations

import io
import re
import zipfile
import zlib

from overhaul.documents.outcome import Unreadable

# A long recipe book with pictures unpacks to a few megabytes.
MOST_UNPACKED = 60_000_000
MOST_PARTS = 5_000
# An entity that is declared in the file can multiply without end, or name a file of this machine.
_DECLARES = re.compile(rb"<!(?:DOCTYPE|ENTITY)", re.IGNORECASE)


_OLD_OFFICE = b"\xd0\xcf\x11\xe0"


def old_office(data: bytes, kind: str, older: str) -> Unreadable | None:
    """Why a file of before the zip archives, or a locked one (it is wrapped in the same way), is not read; ``older`` names the former."""
    if not data.startswith(_OLD_OFFICE):
        return None
    if "EncryptedPackage".encode("utf-16-le") in data:
        return Unreadable(f"{kind} locked with a password; save it without one")
    return Unreadable(older)


def unpacked(data: bytes, kind: str) -> dict[str, bytes] | Unreadable:
    """Every XML part of the archive by its name, each checked; ``kind`` is what the file calls itself ("a Word document").

    What is refused: no archive, an encrypted one, one that unpacks to more than it says or than anyone needs, XML that declares entities.
    """
    try:
        archive = zipfile.ZipFile(io.BytesIO(data))
        parts = archive.infolist()
        if any(part.flag_bits & 1 for part in parts):
            return Unreadable(f"{kind} locked with a password; save it without one")
        if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
            return Unreadable(f"{kind} that unpacks to more than {MOST_UNPACKED // 1_000_000} megabytes; a recipe of that size is not read")
        found: dict[str, bytes] = {}
        left = MOST_UNPACKED
        for part in parts:
            if not part.filename.lower().endswith((".xml", ".rels")):
                continue
            with archive.open(part) as stream:
                content = stream.read(left + 1)
            left -= len(content)
            if left < 0:
                return Unreadable(f"{kind} that unpacks to more than it says; it is not read")
            if _DECLARES.search(content.replace(b"\0", b"") if b"\0" in content[:4] else content):  # as UTF-16 too
                return Unreadable(f"{kind} that declares entities, which no recipe needs; it is not read")
            found[part.filename] = content
        return found
    except (zipfile.BadZipFile, NotImplementedError, EOFError, OSError, ValueError, RuntimeError, KeyError, zlib.error) as problem:
        return Unreadable(f"{kind} that is damaged ({problem}); open it where it was made and save it again")
