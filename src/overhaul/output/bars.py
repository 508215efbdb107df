"""A span as one line of text: low to high as a thick stretch, the likely value marked in it, the limit across.

    0 ├──────────────▓▓▓▓█▓▓▓─────────────────|──────┤ 240 ppm
"""

from __future__ import annotations

from math import floor, isfinite, log10

from overhaul.span import Span
from overhaul.sums.worked import UNIT_SIGNS, Sum, round_

_DRAWN, _PLAIN = tuple("├─▓█┤"), tuple("[-=#]")  # left end, nothing, stretch, likely, right end
_LIMIT = "|"
_ROUND = (1, 1.2, 1.5, 2, 2.4, 3, 4, 5, 6, 8, 10)
_FEWEST = 3  # cells in which a stretch on both sides of a limit can be drawn
_READABLE = 8  # cells below which the ends are left without figures


def bar(found: Sum | Span, limit: float | None, width: int, *, unit: str = "", upto: float = 0.0, ascii: bool = False) -> str:
    """``found`` drawn in ``width`` columns, never more, with ``limit`` (in the same unit) as ``|``.

    The scale goes from nothing to a round figure above everything, further down where something is below nothing. The limit has a cell of
    its own: what is drawn behind it is over it, however little. ``unit`` : of a span, as ``figure`` takes it; a sum has its own. ``upto`` : what the
    scale must reach, so that several bars have the same. ``ascii`` : no other characters. Too narrow for figures at the ends, it has none; narrower than five columns, it is empty.
    """
    span, unit = (found.value, found.unit) if isinstance(found, Sum) else (found, unit)
    limit = limit if limit is not None and isfinite(limit) else None
    shown = (span.low, span.high, upto) if limit is None else (span.low, span.high, upto, limit)
    bottom = -round_above(-min(shown)) if min(shown) < 0 else 0.0
    top = round_above(max(shown)) if max(shown) > 0 or bottom == 0 else 0.0
    left, nothing, stretch, likely, right = _PLAIN if ascii else _DRAWN
    before, after = f"{round_(bottom)} {left}", f"{right} {round_(top)} {_sign(unit, ascii)}".rstrip()
    if width - len(before) - len(after) < _READABLE:
        before, after = left, right
    count = width - len(before) - len(after)
    if count < _FEWEST:
        return ""

    cells = [nothing] * count
    line, (first, middle, last) = _placed(span, limit, bottom, top, count)
    cells[first : last + 1] = stretch * (last + 1 - first)
    cells[middle] = likely
    if line is not None:
        cells[line] = _LIMIT
    return f"{before}{''.join(cells)}{after}"


def _placed(span: Span, limit: float | None, bottom: float, top: float, count: int) -> tuple[int | None, list[int]]:
    """The cell of the limit, and those of low, likely and high: none of them in the limit's, each on its own side of it."""

    def cell(value: float) -> int:
        # By halves, so that no difference is beyond the largest float.
        return min(count - 1, max(0, int((value / 2 - bottom / 2) / (top / 2 - bottom / 2) * count)))

    three = (span.low, span.likely, span.high)
    if limit is None:
        return None, [cell(value) for value in three]
    line = min(max(cell(limit), int(span.low <= limit)), count - 1 - int(span.high > limit))
    return line, [min(cell(value), line - 1) if value <= limit else max(cell(value), line + 1) for value in three]


def round_above(value: float) -> float:
    """A round figure a little above ``value``; 1 for nothing."""
    if value < 1e-300:
        return 1.0
    wanted = max(value, min(value * 1.05, 1e308))
    size = 10.0 ** floor(log10(wanted))
    return next((step * size for step in _ROUND if wanted <= step * size < float("inf")), wanted)


def _sign(unit: str, ascii: bool) -> str:
    sign = UNIT_SIGNS.get(unit, unit)
    return sign.replace("×", "x").encode("ascii", "ignore").decode().strip() if ascii else sign
