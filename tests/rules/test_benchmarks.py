"""What the rules add to an audit, reported and not asserted: ``pytest tests/rules/test_benchmarks.py --benchmark-only``. A normal run skips it."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from overhaul.house import House
from overhaul.pipeline import audit
from overhaul.sums.of_salt import _left
from tests.conftest import CORPUS

pytest.importorskip("pytest_benchmark")


def test_rules_over_reading(benchmark: Any, request: pytest.FixtureRequest, capsys: pytest.CaptureFixture[str]) -> None:
    """Aim: at most 0.25, one process, every page of the corpus, each read and judged in the same run."""
    if not request.config.getoption("benchmark_only", default=False):
        pytest.skip("benchmarks run with --benchmark-only")
    pages = [(path.name, path.read_bytes()) for path in sorted(CORPUS.glob("*.txt"))]
    spent: Counter[str] = Counter()

    def all_pages() -> None:
        _left.cache_clear()
        for name, data in pages:
            spent.update(audit(data, name, House()).seconds)

    benchmark.pedantic(all_pages, rounds=10, warmup_rounds=1)
    with capsys.disabled():
        print(f"\nrules / (document + recipe): {spent['rules'] / (spent['document'] + spent['recipe']):.3f} on {len(pages)} pages")
