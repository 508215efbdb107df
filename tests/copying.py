"""A copy of the project as git knows it, as it stands in the work tree: no build left over from another day helps or harms."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def clean_copy(folder: Path) -> Path:
    """The files of the project copied to ``folder``; the test is skipped outside a git checkout."""
    if shutil.which("git") is None:
        pytest.skip("no git here")
    listed = subprocess.run(["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], cwd=ROOT, capture_output=True, check=False)
    if listed.returncode:
        pytest.skip(f"not a git checkout: {listed.stderr.decode().strip()}")
    for name in listed.stdout.decode().split("\0"):
        if name and (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, folder / name)
    return folder
