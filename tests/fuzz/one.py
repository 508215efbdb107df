"""One run of the fuzzer, in a process of its own, which ends at the first finding: ``python -m tests.fuzz.one READER FOLDER [OPTIONS]``."""

from __future__ import annotations

import sys

import atheris

from tests.fuzz.trees import changed


def _main() -> None:
    name = sys.argv[1]
    followed = {"pdf": ["pypdf"], "workbook": ["openpyxl"], "yaml": ["ruamel"], "sheet": ["ruamel"]}
    with atheris.instrument_imports(include=["overhaul", *followed.get(name, [])]):
        import importlib
        import pkgutil

        import overhaul.documents

        # What is imported where it is needed is imported here, or it would not be followed.
        for module in pkgutil.walk_packages(overhaul.documents.__path__, "overhaul.documents."):
            importlib.import_module(module.name)
        from tests.fuzz.readers import READERS
    run, _ = READERS[name]
    if name in ("docx", "odt", "workbook"):
        atheris.Setup([sys.argv[0], *sys.argv[2:]], run, custom_mutator=lambda data, most, seed: changed(data, most, seed, atheris.Mutate))
    else:
        atheris.Setup([sys.argv[0], *sys.argv[2:]], run)
    atheris.Fuzz()


if __name__ == "__main__":
    _main()
