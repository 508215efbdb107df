"""Heat, rest, hold and keeping as sums: what a page states against what is published."""

from __future__ import annotations

import pytest

from overhaul.house import House
from overhaul.sums.work import Sums
from overhaul.sums.worked import Sum
from tests.conftest import recipe_of

HEAD = "Smoked loin\n\n2 kg pork loin, 60 mm thick\n2 kg water\n100 g salt\n8 g cure no. 1\n\nBrine the loin 7 days at 38 F. Rinse.\n"
STAGED = "Smoke at 120 F for 4 hours without smoke, then at 140 F for 6 hours, then at 170 F until 152 F inside.\n"


def sums(method: str, house: House | None = None) -> Sums:
    return Sums(recipe_of(HEAD + method), house or House())


def worked(method: str, name: str, house: House | None = None) -> Sum:
    found = sums(method, house).get(name)
    assert found is not None, sums(method, house).why_not(name)
    return found


# Ham schedule of Farmers' Bulletin 2265: 120 °F 4 hours, 140 °F 6 hours, 170 °F to 152 inside. FSIS, 2021: 50 to 130 °F within 6 hours.
@pytest.mark.printed
def test_a_staged_smoke() -> None:
    come_up = worked(STAGED, "come_up")
    assert come_up.value.likely == pytest.approx(1.5)
    assert come_up.worked() == "6 hours from 50 to 130 °F ÷ 4 hours in air of 130 °F and less = 1.5 ×"
    assert [(one.name, one.line) for one in come_up.inputs] == [("at 120 °F", 9)]
    air = worked(STAGED, "air_over_end")
    assert air.value.likely == pytest.approx(18)
    assert air.unit == "degF"
    assert [(one.name, one.value.likely) for one in air.inputs] == [("hottest air", 170), ("end point", 152)]


@pytest.mark.parametrize(
    ("method", "name", "why"),
    [
        ("Smoke at 225 F until 150 F inside.\n", "come_up", "how fast the meat warms up is not told by the air alone"),
        ("Smoke at 120 F, then at 170 F until 152 F inside.\n", "come_up", "the page does not say how long the air is at 120 °F"),
        ("Cold smoke at 80 F for 6 hours.\n", "come_up", "not cooked to a temperature"),
        ("Simmer to 195 F inside.\n", "air_over_end", "not finished in dry air"),
        ("Smoke until 150 F inside.\n", "air_over_end", "the page gives no heat of the smoker or oven"),
        ("Smoke at 225 F.\n", "air_over_end", "the page gives no temperature inside"),
        ("Smoke at 225 F until 150 F inside.\n", "rest", "no time to rest is written"),
        ("Smoke at 225 F until 140 F inside. Rest 10 minutes.\n", "rest", "a rest counts from 145 °F inside"),
        ("Smoke at 225 F until 150 F inside.\n", "hot_hold", "no heat to hold it at is written"),
        ("Smoke at 225 F until 150 F inside.\n", "reheating", "no heat to warm it up to is written"),
        ("Smoke at 225 F until 150 F inside.\n", "keeping", "the page does not say how long it keeps"),
        ("Smoke at 225 F until 150 F inside. Freeze it, keeps 2 months frozen.\n", "keeping", "not kept cold"),
    ],
)
def test_what_is_missing_is_said(method: str, name: str, why: str) -> None:
    assert sums(method).why_not(name) == why


def test_an_end_point_above_the_air_is_below_nothing() -> None:
    assert worked("Smoke at 200 F until 203 F inside.\n", "air_over_end").value.high == pytest.approx(-3)


# FSIS chart: whole cuts 145 °F and a rest of 3 minutes.
@pytest.mark.printed
def test_a_rest_of_two_minutes_is_two_thirds_of_what_is_wanted() -> None:
    assert worked("Smoke at 225 F until 145 F inside. Rest 2 minutes.\n", "rest").value.likely == pytest.approx(2 / 3)


# Food Code 2022: hot hold 135 °F, 3-501.16(A)(1); reheating 165 °F, 3-403.11(A).
@pytest.mark.printed
@pytest.mark.parametrize(
    ("method", "name", "over"),
    [
        ("Smoke at 225 F until 150 F inside. Hold at 140 F for service.\n", "hot_hold", 5), ("Smoke at 225 F until 150 F inside. Hold at 60 °C for service.\n", "hot_hold", 5),
        ("Smoke at 225 F until 150 F inside. Hold at 120 F for service.\n", "hot_hold", -15), ("Smoke at 225 F until 150 F inside. Chill. Reheat slices to 165 F.\n", "reheating", 0),
        ("Smoke at 225 F until 150 F inside. Chill. Reheat the slices to 150 F inside.\n", "reheating", -15),
    ],
)  # fmt: skip
def test_degrees_over_the_least(method: str, name: str, over: float) -> None:
    assert worked(method, name).value.likely == pytest.approx(over)


# Food Code 2022, 3-501.17(A): 7 days, the day it was made the first; federal cold storage chart: 3 to 4 days in the house.
@pytest.mark.printed
def test_keeping_days() -> None:
    method = "Smoke at 225 F until 150 F inside. Keeps 14 days in the refrigerator.\n"
    assert worked(method, "keeping").value.likely == pytest.approx(0.5)
    assert worked(method, "keeping", House(sold=False)).value.likely == pytest.approx(4 / 14)
    assert "served or sold; the page does not say" in worked(method, "keeping").assumed
    assert "served or sold; the page does not say" not in worked(method, "keeping", House(sold=True)).assumed


# FSIS Appendix B of 1999, item 3: cured meat 130 to 80 °F in 5 hours and on to 45 °F in 10 more.
@pytest.mark.printed
def test_the_slower_cooling_of_cured_meat_stands_beside() -> None:
    found = worked("Smoke at 225 F until 152 F inside. Cool from 130 to 80 F in 3 hours and to 45 F in 9 hours more.\n", "cooling")
    assert found.value.likely == pytest.approx(0.5)
    assert [one.value.likely for one in found.beside] == [pytest.approx(15 / 12)]
    fresh = Sums(recipe_of(HEAD.replace("8 g cure no. 1\n", "") + "Smoke at 225 F until 152 F inside. Cool from 135 to 70 F in 2 hours and to 41 F in 4 hours more.\n"), House()).get("cooling")
    assert fresh is not None
    assert fresh.value.likely == pytest.approx(1)
    assert fresh.beside == ()


# Food Code 2022, 3-501.14, and FSIS Appendix B of 1999, items 1 and 3, as cooling curves; hours and °F.
@pytest.mark.printed
@pytest.mark.parametrize(
    ("leg", "rest", "within"),
    [((135, 70, 1.9), (41, 4.0), True), ((135, 70, 2.2), (41, 3.7), False), ((135, 70, 1.0), (41, 5.1), False)],
)
def test_cooling_curves(leg: tuple[float, float, float], rest: tuple[float, float], within: bool) -> None:
    found = worked(f"Smoke at 225 F until 152 F inside. Cool from {leg[0]} to {leg[1]} F in {leg[2]} hours and to {rest[0]} F in {rest[1]} hours more.\n", "cooling")
    assert (found.value.low >= 1) == within


@pytest.mark.printed
def test_the_cured_curve_is_within_its_own_hours() -> None:
    found = worked("Smoke at 225 F until 152 F inside. Cool from 130 to 80 F in 4.8 hours and to 45 F in 10 hours more.\n", "cooling")
    assert found.value.high < 1
    assert found.beside[0].value.low >= 1
