"""The hook for commits, installed from a tag by pre-commit itself; and the example for continuous integration, its commands run."""

from __future__ import annotations

import importlib.util
import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from overhaul import documents
from tests.conftest import CORPUS, ROOT
from tests.copying import clean_copy

(HOOK,) = YAML(typ="safe").load(ROOT / ".pre-commit-hooks.yaml")
EXAMPLE = Path(__file__).parent / "ci_example.yaml"
FAULTY, SOUND = CORPUS / "bacon-with-the-wrong-cure.txt", "Brine\n\n1 lb salt\n1 gal water\n"
NO_INDEX = ("No matching distribution", "Could not find a version", "Failed to establish a new connection")


def git(folder: Path, *words: str) -> None:
    who = ["-c", "user.name=A Cook", "-c", "user.email=cook@kitchen.invalid", "-c", "init.defaultBranch=main", "-c", "commit.gpgsign=false"]
    subprocess.run(["git", *who, *words], cwd=folder, check=True, capture_output=True, env=_clean())


def _clean() -> dict[str, str]:
    """Without what a git hook, or this test run, would leave behind in it."""
    return {name: value for name, value in os.environ.items() if not name.startswith("GIT_") and name != "PYTHONPATH"}


@pytest.fixture(scope="module")
def kitchen(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A repository of recipes that names a tag of this work tree in its configuration."""
    if importlib.util.find_spec("pre_commit") is None or shutil.which("git") is None:
        pytest.skip("pre-commit or git is not here")
    folder = tmp_path_factory.mktemp("hook")
    copy = clean_copy(folder / "overhaul")
    for repository in (copy, folder / "kitchen"):
        repository.mkdir(exist_ok=True)
        git(repository, "init", "-q")
    git(copy, "add", "-A")
    git(copy, "commit", "-q", "-m", "as it stands")
    git(copy, "tag", "v0.1.0-try")
    (folder / "kitchen" / ".pre-commit-config.yaml").write_text(f"repos:\n  - repo: {copy}\n    rev: v0.1.0-try\n    hooks:\n      - id: overhaul\n")
    return folder / "kitchen"


def hook(kitchen: Path) -> subprocess.CompletedProcess[str]:
    git(kitchen, "add", "-A")
    done = subprocess.run(
        [sys.executable, "-m", "pre_commit", "run", "--all-files", "--verbose", "--color", "never"], cwd=kitchen, capture_output=True, text=True, check=False,
        env={**_clean(), "PRE_COMMIT_HOME": str(kitchen.parent / "home")},
    )  # fmt: skip
    if done.returncode == 3 and any(words in done.stdout + done.stderr for words in NO_INDEX):
        pytest.skip("pip reaches no index to install the hook from")
    return done


def test_the_hook_of_a_tag_stops_a_commit_with_a_hazard_and_lets_a_sound_one_through(kitchen: Path) -> None:
    (kitchen / "README.md").write_text("# Ours\n\n1 lb cure #1\n")
    (kitchen / "house.yaml").write_text("kitchen: ours\n")
    (kitchen / "brine.txt").write_text(SOUND)
    done = hook(kitchen)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "overhaul audit" in done.stdout
    assert "  1 recipe read" in done.stdout  # the one page, not the two others
    shutil.copy(FAULTY, kitchen / "bacon.txt")
    done = hook(kitchen)
    assert done.returncode == 1, done.stdout + done.stderr
    assert "bacon.txt:6:1: certain hazard: curing-salt-over-limit" in done.stdout
    assert "- exit code: 1" in done.stdout


def test_the_hook_is_given_what_a_folder_would_be_audited_for() -> None:
    wanted, passed = re.compile(HOOK["files"]), re.compile(HOOK["exclude"])

    def given(name: str) -> bool:
        return wanted.search(name) is not None and passed.search(name) is None

    assert all(given(f"pages/a{suffix}") for suffix in documents.SUFFIXES)
    assert given("Corned flat.txt")
    for name in ("README.md", "pages/readme.txt", ".hidden.txt", "a.expect.txt", "house.yaml", "setup.py", "notes.txt.bak", "scan.png"):
        assert not given(name), name


def test_every_command_of_the_example_runs_and_writes_what_is_uploaded(tmp_path: Path) -> None:
    """All but the first, which installs from the kitchen's own place."""
    example: Any = YAML(typ="safe").load(EXAMPLE)
    steps = example["jobs"]["audit"]["steps"]
    install, *commands = [step["run"] for step in steps if "run" in step]
    assert install == 'python -m pip install "overhaul @ $OVERHAUL"'
    (upload,) = [step["with"] for step in steps if "sarif_file" in step.get("with", {})]
    shutil.copytree(CORPUS, tmp_path / "recipes")
    for command in commands:
        program, *words = shlex.split(command)
        assert program == "overhaul"
        done = subprocess.run([sys.executable, "-m", "overhaul", *words], cwd=tmp_path, capture_output=True, text=True, check=False)
        assert (done.returncode, done.stderr) == (1, "")  # there are hazards in the corpus
    report = json.loads((tmp_path / upload["sarif_file"]).read_text("utf-8"))
    assert report["version"] == "2.1.0"
    places = [one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for one in report["runs"][0]["results"]]
    assert places
    assert all(place.startswith("recipes/") for place in places)


def test_the_example_is_shown_as_it_is_tested() -> None:
    """Wherever a document shows it, it shows this one."""
    first = EXAMPLE.read_text("utf-8").splitlines()[0]
    for document in (ROOT / "README.md", ROOT / "DEVELOPERS.md"):
        text = document.read_text("utf-8")
        assert first not in text or EXAMPLE.read_text("utf-8") in text, document.name
