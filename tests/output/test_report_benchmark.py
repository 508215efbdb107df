"""How long the report of a large binder takes, printed and not asserted: ``pytest -s tests/output/test_report_benchmark.py --benchmark-only``.

Aims: 1,000 recipes in 60 s on two cores and 30 MB, open and filtered within 2 s. RECIPES=20000 for another size.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path
from time import perf_counter
from typing import Any

import pytest

from overhaul.twins import Likeness, _boxes, twins
from tests.made_binder import write

_TIMED = """what => new Promise(done => {
  const start = performance.now(), words = document.getElementById('words');
  if (what === 'search') { words.value = 'cellar'; words.form.requestSubmit(); } else document.querySelector('input[value=hazard]').click();
  requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - start)));
})"""
COUNT = int(os.environ.get("RECIPES", "1000"))


@pytest.fixture(autouse=True)
def only_when_asked(request: pytest.FixtureRequest) -> None:
    if not request.config.getoption("benchmark_only", default=False):
        pytest.skip("benchmarks run with --benchmark-only")


def test_a_large_binder(benchmark: Any, browser: Any, tmp_path: Path) -> None:
    write(tmp_path / "binder", COUNT)
    out = tmp_path / "report.html"
    command = [sys.executable, "-m", "overhaul", "audit", str(tmp_path / "binder"), "--as", "html", "--out", str(out), "--stop-at", "never", "--workers", "2"]
    benchmark.pedantic(lambda: subprocess.run(command, check=True), rounds=1)
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    tab = browser.new_page()
    start = perf_counter()
    tab.goto(out.as_uri())
    opened = perf_counter() - start
    # Clicked in the page: a browser driver takes longer to find the button than the page to answer it.
    filtered, searched = (tab.evaluate(_TIMED, what) / 1000 for what in ("filter", "search"))
    tab.close()
    print(f"\n{COUNT:,} recipes: {out.stat().st_size / 1e6:.1f} MB, {peak:.0f} MB of memory at most; opened in {opened:.2f} s, filtered in {filtered:.2f} s, searched in {searched:.2f} s")


def test_twins_of_20_000(benchmark: Any) -> None:
    """Recipes of twenty words out of a thousand, one in ten a copy."""
    import random

    chance = random.Random(1)
    words = [f"w{number}" for number in range(1000)]
    made: list[Likeness] = []
    for number in range(20_000):
        if made and number % 10 == 0:
            made.append(chance.choice(made))
            continue
        own = [*sorted(chance.sample(words, 20)), "salt", "water", "sugar", "cure"]
        text = " ".join(chance.sample(own * 3, 60))
        made.append(Likeness(own[0], " ".join(own), text, _boxes({*own, *text.split()}), None, None))
    found = benchmark.pedantic(lambda: twins(made), rounds=1)
    print(f"\n{len(found):,} twins")
