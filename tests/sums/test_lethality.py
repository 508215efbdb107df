from __future__ import annotations

import pytest

from overhaul import facts
from overhaul.sums import lethality

# FSIS Cooking Guideline (Revised Appendix A), December 2021, Tables 2 to 4.
CASES = [
    ("meat", 140, 720, True), ("meat", 140, 719, False), ("meat", 145, 240, True), ("meat", 145, 180, False), ("meat", 157, 13, False), ("meat", 158, 0, True), ("meat", 129, 36_000, False),
    ("meat", 140.6, 720, True), ("chicken", 157, 34, True), ("turkey", 157, 34, False), ("turkey", 157, 50.4, True), ("chicken", 150, 252, True), ("chicken", 162, 0, False), ("chicken", 163, 0, True),
    ("turkey", 164, 0, False),
]  # fmt: skip


@pytest.mark.printed
@pytest.mark.parametrize(("table", "degf", "seconds", "passes"), CASES)
def test_the_tables(table: str, degf: float, seconds: float, passes: bool) -> None:
    assert lethality.passes(table, degf, seconds) is passes


@pytest.mark.printed
def test_every_row_of_every_table_once() -> None:
    for name, row in facts.table("dwell").items():
        table, degf = name.removeprefix("dwell_").split(".")
        assert lethality.wanted_seconds(table, float(degf)) == row.value
        assert lethality.passes(table, float(degf), row.value)


# FSIS Appendix A (2021), Table 2, 6.5 log: the Celsius it prints beside its Fahrenheit, with the seconds of that row.
PRINTED_CELSIUS = [(54.4, 6720), (56.1, 3360), (57.2, 2160), (61.1, 480), (62.2, 300), (63.3, 169), (64.4, 107), (66.1, 54), (67.2, 34), (68.3, 22), (69.4, 14)]


@pytest.mark.printed
@pytest.mark.parametrize(("celsius", "seconds"), PRINTED_CELSIUS)
def test_a_printed_celsius_is_its_own_row(celsius: float, seconds: float) -> None:
    assert lethality.wanted_seconds("meat", celsius * 9 / 5 + 32) == seconds


def test_below_the_first_row_no_time_is_enough() -> None:
    assert lethality.wanted_seconds("meat", 129.9) is None
    assert lethality.hold_ratio("meat", 120, 1e6) is None


def test_a_ratio_of_one_is_just_enough() -> None:
    assert lethality.hold_ratio("meat", 145, 240) == 1.0
    assert lethality.hold_ratio("meat", 160, 10) is None
