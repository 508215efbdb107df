"""Worked rows of published schedules as whole pages: which of them must be silent, and which not.

Corned beef of 3 in in 14 days at 36 to 40 °F, Farmers' Bulletin 2263; hams of 15 lb in 60 days, bellies 7 days an inch, pumped hams a day
and more, Farmers' Bulletin 2265; 41 °F, Food Code 2022, 3-501.16; nothing cures under 34 °F, Clemson Extension.
"""

from __future__ import annotations

import pytest

from tests.conftest import findings_of

SHORT, WARM, STALLS = "cure-time-short", "cured-too-warm", "cured-too-cold"
TIME_AND_COLD = (SHORT, WARM, STALLS)


def beef(inches: float, days: float, degf: float) -> str:
    return (
        f"Corned beef\n\n5 lb brisket flat, trimmed lean, {inches:g} inches thick\n1 gal cold water\n1 lb salt\n18 g cure no. 1 (6.25 % nitrite)\n\n"
        f"Stir until dissolved and chill to 36 F. Put the beef in under a plate. Refrigerate at {degf:g} F for {days:g} days, turning every 2 days.\nRinse. Simmer 3 hours to 200 F inside.\n"
    )  # fmt: skip


def ham(pounds: float, days: float, pumped: bool) -> str:
    pump = "Pump the ham with 10 % of its weight. " if pumped else ""
    return (
        f"Sweet pickled ham\n\n1 fresh ham, {pounds:g} lb\n3 gal cold water\n3 lb salt\n1 lb sugar\n90 g cure no. 1 (6.25 % nitrite)\n\n"
        f"Stir until dissolved and chill to 38 F. {pump}Put the ham in under a board. Refrigerate at 38 F for {days:g} days, overhauling on days 3, 7 and 14.\nSoak 2 hours in the refrigerator. Smoke at 225 F to 152 F inside.\n"
    )  # fmt: skip


def belly(inches: float, days: float) -> str:
    return (
        f"Bacon\n\n1 pork belly, skinless, 6 lb, {inches:g} inches thick\n68 g salt\n6 g cure no. 1 (6.25 % nitrite)\n\n"
        f"Rub the belly and bag it, air pressed out. Refrigerate at 38 F for {days:g} days, turning daily.\nRinse. Smoke at 180 F to 150 F inside.\n"
    )  # fmt: skip


@pytest.mark.printed
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (beef(3, 14, 38), []), (beef(3, 7, 38), [SHORT]), (beef(3, 2, 38), [SHORT]), (beef(3, 14, 45), [WARM]), (beef(3, 14, 33), [STALLS]),
        (ham(15, 1, True), []), (ham(15, 60, False), []), (ham(15, 20, False), [SHORT]),
        (belly(1.5, 10.5), []), (belly(1.5, 1), [SHORT]),
    ],
    ids=["3 in 14 d", "3 in 7 d", "3 in 2 d", "at 45", "at 33", "pumped", "15 lb 60 d", "15 lb 20 d", "belly 10.5 d", "belly 1 d"],
)  # fmt: skip
def test_schedules(text: str, wanted: list[str]) -> None:
    assert [one.rule for one in findings_of(text) if one.rule in TIME_AND_COLD] == wanted
