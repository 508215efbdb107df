"""Whether an end point and its dwell reach the published tables."""

from __future__ import annotations

from functools import cache
from math import ceil

from overhaul import facts
from overhaul.sums.finite import finite

POULTRY = ("chicken", "turkey")


def wanted_seconds(table: str, degf: float, fat: float | None = None) -> float | None:
    """Seconds that ``table`` (meat, chicken, turkey, poultry, roast, injected) wants at ``degf`` inside; None below its first row.

    ``fat`` : percent, for poultry alone: the column at or above it counts, none or more than 12 being the 12 percent column. ``poultry``
    is any other bird or a mixture: the longer of chicken and turkey. Between rows the lower row counts, a temperature printed in Celsius
    being its own row; above the last, nothing more is wanted. Raises ValueError for a temperature or a fat that is no figure.
    Source: fsis-appendix-a-2021, food-code-2022.
    """
    if table == "poultry":
        both = [wanted_seconds(species, degf, fat) for species in POULTRY]
        return None if None in both else max(seconds for seconds in both if seconds is not None)
    rows = _rows(table) if fat is None or table not in POULTRY else _rows_at(table, _column(fat))
    warm = finite(degf) + facts.fact("dwell_rounding_f").value
    reached = [row for row in rows if row <= warm]
    return rows[max(reached)] if reached else None


@cache
def _rows(table: str) -> dict[float, float]:
    """Seconds by degF."""
    return {float(name.rsplit(".", 1)[1]): fact.value for name, fact in facts.table("dwell").items() if name.startswith(f"dwell_{table}.")}


def _column(fat: float) -> int:
    """The column for ``fat`` percent, 1 to 12. Raises ValueError outside 0 to 100."""
    if not 0 <= fat <= 100:
        raise ValueError("fat must lie between 0 and 100 percent")
    return min(max(ceil(fat), 1), facts.FATS)


@cache
def _rows_at(species: str, column: int) -> dict[float, float]:
    """Seconds by degF in one column, counted from 1."""
    return {degf: seconds[column - 1] for degf, seconds in facts.dwell_by_fat(species).items()}


def passes(table: str, degf: float, seconds: float, fat: float | None = None) -> bool:
    """Whether ``seconds`` at ``degf`` satisfy ``table``; ``fat`` as in ``wanted_seconds``."""
    wanted = wanted_seconds(table, degf, fat)
    return wanted is not None and seconds >= wanted


def hold_ratio(table: str, degf: float, seconds: float, fat: float | None = None) -> float | None:
    """Stated hold over wanted hold; 1 and more is within, None where the table gives no credit or wants none."""
    wanted = wanted_seconds(table, degf, fat)
    return None if not wanted else finite(seconds / wanted)
