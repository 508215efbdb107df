from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.output.bars import bar
from overhaul.span import Span, exactly
from overhaul.sums.worked import Sum

PPM = Sum("nitrite_pick_up", Span(90, 130, 170), "ppm", "by hand", ())


@pytest.mark.parametrize(
    ("found", "limit", "width", "line"),
    [
        (PPM, 200, 60, "0 ├──────────────────▓▓▓▓▓▓▓▓█▓▓▓▓▓▓▓▓─────|───────┤ 240 ppm"),
        (PPM, 200, 34, "0 ├────────▓▓▓█▓▓▓▓──|───┤ 240 ppm"),
        (PPM, 120, 40, "0 ├────────────▓▓▓▓|▓█▓▓▓▓▓────┤ 200 ppm"),
        (PPM, None, 40, "0 ├────────────▓▓▓▓▓▓█▓▓▓▓▓────┤ 200 ppm"),
        (PPM, float("inf"), 40, "0 ├────────────▓▓▓▓▓▓█▓▓▓▓▓────┤ 200 ppm"),
        (PPM, 200, 20, "0 ├───▓█▓|─┤ 240 ppm"),
        (PPM, 200, 19, "├──────▓▓▓█▓▓▓─|──┤"),  # too narrow for figures
        (PPM, 200, 5, "├─█|┤"),
        (PPM, 200, 4, ""),
        (exactly(0), None, 20, "0 ├█─────────────┤ 1"),
        (exactly(0), 0, 20, "0 ├█|────────────┤ 1"),
        (Span(-3, -2, 4), 3.5, 30, "-4 ├──▓▓▓█▓▓▓▓▓▓▓▓▓▓▓▓▓|▓──┤ 5"),
        (Span(-5, -3, -2), None, 30, "-6 ├───▓▓▓▓▓▓▓▓█▓▓▓▓───────┤ 0"),
        (Span(900, 1500, 2400), 1e6, 40, "0 ├█────────────────────|────┤ 1,200,000"),
    ],
)
def test_lines(found: Sum | Span, limit: float | None, width: int, line: str) -> None:
    assert bar(found, limit, width) == line


# A sum just within its limit must not look like one just over it, whatever the width.
@pytest.mark.parametrize(
    ("value", "line"),
    [(199.99, "0 ├────────────────█|───┤ 240"), (200, "0 ├────────────────█|───┤ 240"), (200.01, "0 ├─────────────────|█──┤ 240")],
)
def test_a_hair_over_the_limit_stands_behind_it(value: float, line: str) -> None:
    assert bar(exactly(value), 200, 29) == line


@pytest.mark.parametrize(
    ("found", "limit", "unit", "line"),
    [
        (PPM, 200, "", "0 [---------====#====--|---] 240 ppm"), (Span(1, 2, 3), 4, "degC", "0 [-----======#=====-----|-----] 5 C"),
        (Span(1, 2, 3), 4, "ratio", "0 [-----======#=====-----|-----] 5 x"),
    ],
)  # fmt: skip
def test_plain_characters(found: Sum | Span, limit: float, unit: str, line: str) -> None:
    assert bar(found, limit, 36, unit=unit, ascii=True) == line
    assert line.isascii()


def test_a_span_takes_its_unit_from_the_caller_and_a_sum_has_its_own() -> None:
    assert bar(Span(1, 2, 3), None, 40, unit="degC").endswith("┤ 4 °C")
    assert bar(Span(1, 2, 3), None, 40, unit="day").endswith("┤ 4 days")
    assert bar(PPM, None, 40, unit="day").endswith("ppm")


FINITE = st.floats(allow_nan=False, allow_infinity=False)
SPANS = st.lists(FINITE | st.floats(0, 500), min_size=3, max_size=3).map(lambda three: Span(*sorted(three)))


@given(SPANS, FINITE | st.none(), st.integers(0, 120), st.sampled_from(["ppm", "ratio", "degree", "", "m2/s"]), st.booleans())
def test_never_wider_than_told_and_marks_in_order(span: Span, limit: float | None, width: int, unit: str, plain: bool) -> None:
    line = bar(span, limit, width, unit=unit, ascii=plain)
    assert len(line) in (0, width)
    assert bool(line) == (width >= 5)
    assert not plain or line.isascii()
    if not line:
        return
    likely, stretch, ends = ("#", "=", "[]") if plain else ("█", "▓", "├┤")
    cells = line[line.index(ends[0]) + 1 : line.rindex(ends[1])]
    assert cells.count(likely) == 1
    thick = [place for place, mark in enumerate(cells) if mark in (likely, stretch)]
    if limit is None:
        assert "|" not in cells
        assert thick == list(range(thick[0], thick[-1] + 1))
        return
    assert cells.count("|") == 1
    line_at = cells.index("|")
    assert (cells.index(likely) > line_at) == (span.likely > limit)
    assert (thick[-1] > line_at) == (span.high > limit)
    assert (thick[0] > line_at) == (span.low > limit)


@given(st.floats(0, 1000), st.floats(0, 1000), st.floats(0, 1000), st.integers(40, 120))
def test_a_longer_way_is_never_drawn_shorter(one: float, other: float, most: float, width: int) -> None:
    low, middle, high = sorted((one, other, most))
    first, second = (bar(Span(low, value, high), None, width).index("█") for value in (low, middle))
    assert first <= second
