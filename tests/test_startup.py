"""What a command imports is what it costs."""

from __future__ import annotations

import subprocess
import sys

import pytest


@pytest.mark.parametrize(
    ("code", "heavy"),
    [
        ("import overhaul; overhaul.Finding, dir(overhaul)", ("lark", "pint", "ruamel.yaml", "rich", "overhaul.pipeline", "overhaul.library", "importlib.metadata")),
        ("import overhaul.cli", ("lark", "pint", "ruamel.yaml", "rich", "charset_normalizer")),
        ("from overhaul.cli import main; main(['--help'], standalone_mode=False)", ("lark", "pint", "ruamel.yaml", "rich", "charset_normalizer", "overhaul.pipeline")),
        ("from overhaul.reading import lexicon, lines", ("lark", "pint")),
        ("import overhaul.facts as f; f.fact('hot_hold_min_f')", ("pint", "ruamel.yaml")),
        ("from overhaul import pipeline; from overhaul.house import House; pipeline.audit(b'Brine\\n\\n1 lb salt\\n1 gal water\\n', 'x', House())", ("pint", "ruamel.yaml", "rich", "charset_normalizer", "sqlite3", "concurrent.futures.process", "numpy")),
    ],
)
def test_heavy_packages_wait_until_they_are_needed(code: str, heavy: tuple[str, ...]) -> None:
    show = f"{code}; import sys; print([name for name in {heavy!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", show], capture_output=True, text=True, check=True)
    loaded = done.stdout.strip().splitlines()[-1]
    if "numpy" in heavy and loaded == "['numpy']":
        pytest.skip("pint imports numpy where a test needs it installed")
    assert loaded == "[]"
