"""A package that is called like a function: ``overhaul.sums`` holds the modules of the sums, and ``overhaul.sums(page)`` works them.

Whenever a module below it is imported, Python binds the package itself to its name in ``overhaul``; a function of that name would be
gone then.
"""

from __future__ import annotations

from importlib import import_module
from types import ModuleType
from typing import Any


class Called(ModuleType):
    """The module's class: a call goes to the function of the same name in ``overhaul.library``."""

    @property
    def __wrapped__(self) -> Any:  # so that ``help`` and ``inspect.signature`` show the function's own
        return getattr(import_module("overhaul.library"), self.__name__.rpartition(".")[2])

    def __call__(self, *given: Any, **named: Any) -> Any:
        return self.__wrapped__(*given, **named)
