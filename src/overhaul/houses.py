"""Which house sheet a recipe stands under, and reading it."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from overhaul import binder
from overhaul.house import House, Law


class CannotDo(Exception):
    """Something that cannot be done: with which ``file``, why (``reason``), and on which ``line`` (from 1) where there is one.

    As text it is ``file:line: reason``, or ``file: reason``.
    """

    def __init__(self, file: str, reason: str, line: int | None = None) -> None:
        super().__init__(f"{file}:{line}: {reason}" if line is not None else f"{file}: {reason}")
        self.file = file
        self.reason = reason
        self.line = line

    def __reduce__(self) -> tuple[type[CannotDo], tuple[str, str, int | None]]:
        return type(self), (self.file, self.reason, self.line)


def house_of(sheet: Path | None, law: Law | None = None) -> House:
    """The house of ``sheet``, or one without a sheet; ``law`` goes before the sheet's own. Raises CannotDo for a sheet that cannot stand."""
    house = _read(sheet) if sheet is not None else House()
    return replace(house, law=law) if law is not None else house


def _read(sheet: Path) -> House:
    from overhaul.house_sheet import BadSheet, read_sheet

    try:
        return read_sheet(binder.bytes_of(sheet).decode("utf-8-sig"))
    except BadSheet as problem:
        raise CannotDo(str(sheet), problem.problem, problem.line) from None
    except UnicodeDecodeError:
        raise CannotDo(str(sheet), "a house sheet must be UTF-8 text") from None
    except (OSError, ValueError) as problem:
        raise CannotDo(str(sheet), binder.why(problem)) from None
