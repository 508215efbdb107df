"""What the rules add to an audit, reported and not asserted: ``pytest tests/rules/test_benchmarks.py --benchmark-only``. A normal run skips it."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from overhaul.house import House
from overhaul.pipeline import audit
from overhaul.reading import tree
from overhaul.sums import of_salt, penetration, piece, shapes
from tests.conftest import CORPUS

pytest.importorskip("pytest_benchmark")


def _forget() -> None:
    """What lines and baths were met before: a page is new when it is audited."""
    for module in (tree, of_salt, penetration, piece, shapes):
        for found in vars(module).values():
            if hasattr(found, "cache_clear") and found.cache_parameters()["maxsize"] is not None:
                found.cache_clear()


def test_rules_over_reading(benchmark: Any, request: pytest.FixtureRequest, capsys: pytest.CaptureFixture[str]) -> None:
    """Aim: at most 0.25, one process, every page of the corpus, each read and judged in the same run."""
    if not request.config.getoption("benchmark_only", default=False):
        pytest.skip("benchmarks run with --benchmark-only")
    pages = [(path.name, path.read_bytes()) for path in sorted(CORPUS.glob("*.txt"))]
    spent: Counter[str] = Counter()

    def all_pages() -> None:
        _forget()
        for name, data in pages:
            spent.update(audit(data, name, House()).seconds)

    benchmark.pedantic(all_pages, rounds=10, warmup_rounds=1)
    with capsys.disabled():
        print(f"\nrules / (document + recipe): {spent['rules'] / (spent['document'] + spent['recipe']):.3f} on {len(pages)} pages")


def test_a_page_twice_as_long(benchmark: Any, request: pytest.FixtureRequest, capsys: pytest.CaptureFixture[str]) -> None:
    """Aim: about 2."""
    if not request.config.getoption("benchmark_only", default=False):
        pytest.skip("benchmarks run with --benchmark-only")
    brine = b"Brine\n\n1 lb salt\n1 gal water\n"
    spent: Counter[int] = Counter()

    def both() -> None:
        for times in (800, 1600):
            spent[times] += round(1e9 * sum(audit(brine * times, "x.txt", House()).seconds.values()))

    benchmark.pedantic(both, rounds=5, warmup_rounds=1)
    with capsys.disabled():
        print(f"\ntwice the page / the page: {spent[1600] / spent[800]:.2f}")
