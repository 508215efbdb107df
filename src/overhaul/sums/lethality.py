"""Whether an end point and its dwell reach the published tables."""

from __future__ import annotations

from functools import cache

from overhaul import facts


def wanted_seconds(table: str, degf: float) -> float | None:
    """Seconds that ``table`` (meat, chicken, turkey, roast, injected) wants at ``degf`` inside; None below its first row.

    Between rows the lower row counts, a temperature printed in Celsius being its own row; above the last, nothing more is wanted. Source: fsis-appendix-a-2021,
    food-code-2022.
    """
    rows = _rows(table)
    reached = [row for row in rows if row <= degf + facts.fact("dwell_rounding_f").value]
    return rows[max(reached)] if reached else None


@cache
def _rows(table: str) -> dict[float, float]:
    """Seconds by degF."""
    return {float(name.rsplit(".", 1)[1]): fact.value for name, fact in facts.table("dwell").items() if name.startswith(f"dwell_{table}.")}


def passes(table: str, degf: float, seconds: float) -> bool:
    """Whether ``seconds`` at ``degf`` satisfy ``table``."""
    wanted = wanted_seconds(table, degf)
    return wanted is not None and seconds >= wanted


def hold_ratio(table: str, degf: float, seconds: float) -> float | None:
    """Stated hold over wanted hold; 1 and more is within, None where the table gives no credit or wants none."""
    wanted = wanted_seconds(table, degf)
    return None if not wanted else seconds / wanted
