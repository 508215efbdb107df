"""Imports go one way, down the list of stages; each heavy package has one importer."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import overhaul

SRC = Path(overhaul.__file__).parent
STAGES = ["called", "entry_points", "span", "text", "findings", "listing", "facts", "house", "signing", "reading", "documents", "recipe", "sums", "comparing", "twins", "rules", "handing_over", "yaml_text", "house_sheet", "pipeline", "kept", "cross_references", "remedying", "house_questions", "batch", "bench", "scheduling", "output", "recipe_file", "cache", "processes", "showing", "binder", "cluster", "houses", "library", "editor", "cli"]
ONLY = {"lark": "reading/line_parser.py", "pint": "reading/units.py", "ruamel": "yaml_text.py", "jinja2": "output/paper.py", "distributed": "cluster.py", "sqlite3": "cache.py", "pygls": "editor/server.py"}


def imports(path: Path, *, run: bool = False) -> set[str]:
    """What a module imports; with ``run`` without what it names for a type checker only."""
    found: set[str] = set()
    tree = ast.parse(path.read_text("utf-8"))
    if run:
        tree.body = [node for node in tree.body if not (isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING")]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module is not None:
            found.add(node.module)
            found.update(f"{node.module}.{alias.name}" for alias in node.names)
    return found


MODULES = sorted(path for path in SRC.rglob("*.py") if path.name not in ("__main__.py",))


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(SRC).as_posix())
def test_imports_go_down_the_list_of_stages(path: Path) -> None:
    own = path.relative_to(SRC).parts[0].removesuffix(".py")
    if own == "__init__":
        assert not {name for name in imports(path, run=True) if name.startswith("overhaul")}
        return
    for name in imports(path):
        if name.startswith("overhaul."):
            stage = name.split(".")[1]
            if stage in STAGES:
                assert STAGES.index(stage) <= STAGES.index(own), f"{own} may not import {name}"


@pytest.mark.parametrize(("package", "where"), ONLY.items())
def test_each_heavy_package_has_one_importer(package: str, where: str) -> None:
    importers = {path.relative_to(SRC).as_posix() for path in MODULES if any(name.split(".")[0] == package for name in imports(path))}
    assert importers == {where}


def test_rules_hold_no_words_to_look_for() -> None:
    """Patterns of words are ``reading/phrases.py``'s; a rule asks for them by name."""
    assert [path.name for path in (SRC / "rules").rglob("*.py") if "re.compile" in path.read_text("utf-8")] == []


def test_rules_hold_no_arithmetic_of_the_trade() -> None:
    """No rule works a sum by dividing amounts: that is what sums/ is for. Conversions of scale are words."""
    for path in (SRC / "rules").rglob("*.py"):
        assert "1_000_000" not in path.read_text("utf-8"), path
