"""What a wheel takes along: every folder of modules is listed, and every other file matches a pattern of the package that it stands in."""

from __future__ import annotations

import tomllib
from pathlib import Path

from tests.conftest import ROOT

SRC = ROOT / "src"
TOOL = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]


def test_every_folder_of_modules_is_a_package() -> None:
    found = {path.parent.relative_to(SRC).as_posix().replace("/", ".") for path in SRC.rglob("__init__.py")}
    assert found <= set(TOOL["packages"])


def test_every_other_file_goes_along() -> None:
    patterns = TOOL["package-data"]["*"]
    lost = []
    for path in SRC.rglob("*"):
        if path.is_dir() or path.suffix in (".py", ".pyc") or "egg-info" in path.as_posix():
            continue
        package = next(folder for folder in path.parents if (folder / "__init__.py").exists())
        if not any(path.match(pattern) and len(Path(pattern).parts) == len(path.relative_to(package).parts) for pattern in patterns):
            lost.append(path.relative_to(SRC).as_posix())
    assert lost == []
