"""README: what it shows is what the program says, and its two commands are the ones a stranger can run."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from overhaul.cli import main

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")
TOUR = re.findall(r"<!-- tour: (.*?) -->\n```text\n(.*?)\n```", README, re.DOTALL)


def test_there_is_a_tour() -> None:
    assert [words.split()[0] for words, _ in TOUR] == ["audit", "read", "sums"]


@pytest.mark.parametrize(("words", "shown"), TOUR, ids=[words.split()[0] for words, _ in TOUR])
def test_the_tour_is_what_the_program_says(words: str, shown: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """All of it, or the part from one line up to another: ``sums PAGE | FIRST LINE … LINE AFTER``."""
    monkeypatch.chdir(ROOT)
    command, _, part = words.partition(" | ")
    result = CliRunner().invoke(main, shlex.split(command), env={"COLUMNS": "100", "NO_COLOR": "1"})
    assert result.exit_code == 0
    first, _, after = part.partition(" … ")
    told = result.stdout[result.stdout.index(first) : result.stdout.index(after)] if part else result.stdout
    assert told.rstrip() == shown


def test_the_program_in_it_prints_what_is_shown(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(ROOT)
    ((program, shown),) = re.findall(r"```python\n(.*?)```\n\n```text\n(.*?)```", README, re.DOTALL)
    exec(compile(program, "README.md", "exec"), {})
    assert capsys.readouterr().out == shown


def test_the_first_two_commands_are_one_line_each() -> None:
    blocks = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    assert len(blocks) == 2
    assert all(block.count("\n") == 1 and block.startswith("python3 -m venv") for block in blocks)


def test_nothing_else_stands_at_the_top() -> None:
    known = {"README.md", "DEVELOPERS.md", "pyproject.toml", "src", "grammar", "tests", "corpus"}
    assert {path.name for path in ROOT.iterdir() if not path.name.startswith(".")} <= known | {"build", "dist"}
