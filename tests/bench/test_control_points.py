from __future__ import annotations

import pytest

from overhaul.bench.control_points import Control, control_points
from overhaul.house import House
from overhaul.sums.work import Sums
from tests.conftest import recipe_of
from tests.output.sheets.made import PAGES, SMALL, of_file


def points(text: str, house: House | None = None) -> dict[str, Control]:
    house = house or House()
    recipe = recipe_of(text, house)
    return {point.key: point for point in control_points(recipe, Sums(recipe, house))}


TURKEY = "Turkey\n\n1 turkey, 12 lb\n2 gal cold water\n1 lb salt\n\nChill the brine to 38 F. Turkey in, under a plate, 16 hours in the cooler at 38 F.\nRoast at 325 F to 165 F inside. Rest 20 minutes.\n"


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        (SMALL, ["curing salt", "brine", "cure", "days", "end", "cool 1", "cool 2", "keep"]),
        (TURKEY, ["brine", "cure", "end", "cool 1", "cool 2", "keep"]),
        (SMALL.replace("Stir all of it cold.", "Thaw the flat in the fridge. Stir all of it cold."), ["thaw", "curing salt", "brine", "cure", "days", "end", "cool 1", "cool 2", "keep"]),
        (SMALL.replace("Simmer 3 hours, to 92 °C inside. Rest 15 minutes.\nCool 57 to 21 °C in 2 hours, to 5 °C in 4 more.", "It is raw: fry it before eating."), ["curing salt", "brine", "cure", "days", "keep"]),
        (SMALL + "Hold for service at 60 °C. Reheat slices to 74 °C.\n", ["curing salt", "brine", "cure", "days", "end", "cool 1", "cool 2", "hold", "reheat", "keep"]),
        ("Roast beef\n\n2 kg beef round\n\nRoast at 160 °C to 63 °C inside.\n", ["end", "cool 1", "cool 2", "keep"]),
        ("Brine\n\n1 lb salt\n1 gal water\n", ["brine", "cure", "keep"]),
    ],
)
def test_which_points_a_page_has(text: str, keys: list[str]) -> None:
    assert list(points(text)) == keys


@pytest.mark.parametrize(
    ("text", "key", "limit", "source"),
    [
        (SMALL, "brine", "4.4 °C (40 °F) or colder", "the National Center for Home Food Preservation, 6.1.3 (second-hand)"),
        (TURKEY, "cure", "41 °F (5 °C) or colder; aim at 36 to 40 °F (2.2 to 4.4 °C)", "Food Code 2022, 3-501.16(A)(2); Farmers' Bulletin 2265"),
        (SMALL, "end", "63 °C (145 °F) inside and 3 minutes of rest, for whole cuts", "the FSIS temperature chart"),
        (TURKEY, "end", "165 °F (74 °C) inside, for poultry", "the FSIS temperature chart"),
        (TURKEY.replace("to 165 F inside", "to 155 F inside, hold it there 5 minutes"), "end", "165 °F (74 °C) inside, for poultry; or 155 °F (68 °C) held 78 seconds", "the FSIS temperature chart; FSIS Appendix A of 2021"),
        (TURKEY, "cool 1", "from 135 °F (57 °C) to 70 °F (21 °C) within 2 hours", "Food Code 2022, 3-501.14(A)(1)"),
        (TURKEY, "cool 2", "to 41 °F (5 °C) within 6 hours in all", "Food Code 2022, 3-501.14(A)(2)"),
        (SMALL + "Hold for service at 60 °C.\n", "hold", "57 °C (135 °F) or hotter", "Food Code 2022, 3-501.16(A)(1)"),
        (SMALL + "Reheat slices to 74 °C.\n", "reheat", "74 °C (165 °F) inside, within two hours", "Food Code 2022, 3-403.11(A)"),
        (SMALL, "curing salt", "what is called for, to a tenth of a gram; at most 200 ppm for whole muscle in brine (9 CFR 424.21(c))", None),
        (SMALL.replace("12 g cure", "2 tsp cure"), "curing salt", "weighed in grams before it goes in; at most 200 ppm for whole muscle in brine (9 CFR 424.21(c))", None),
    ],
)
def test_limits_with_their_sources(text: str, key: str, limit: str, source: str | None) -> None:
    point = points(text)[key]
    assert (point.limit, point.source) == (limit, source)


def test_what_the_page_says_with_its_line() -> None:
    found = points(SMALL)
    assert {key: (point.called, point.line) for key, point in found.items()} == {
        "curing salt": ("12.0 g", 6), "brine": ("3 °C", 11), "cure": ("3 °C", 12), "days": ("9 days", 12), "end": ("92 °C", 13),
        "cool 1": ("57 °C to 21 °C: 2 hours", 14), "cool 2": ("21 °C to 5 °C: 4 more", 14), "keep": ("4 days", 14),
    }  # fmt: skip
    assert (points(SMALL.replace("Fridge at 3 °C", "Walk-in"))["cure"].called, points(SMALL.replace("Fridge at 3 °C", "Walk-in"))["cure"].line) == ("Walk-in", 12)


def test_a_stated_range_of_days_is_held_to_its_shorter_end() -> None:
    assert points(SMALL.replace("9 days", "8 to 10 days"))["days"].limit == "no less than 8 days"
    assert points(SMALL.replace(", 9 days", ""))["days"].limit == "the page gives none; write it before the meat goes in"


def test_pumped() -> None:
    ham = points(SMALL.replace("Flat in, a plate on it to keep it under.", "Pump 10 % of the green weight. Into a bag."))
    assert ham["pump"].limit == "10 % of the green weight, no more"
    assert points(SMALL.replace("Flat in, a plate on it to keep it under.", "Pump it all over. Into a bag."))["pump"].limit == "write the percent before anybody pumps"


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_every_point_says_what_to_do_and_never_that_all_is_well(path: object) -> None:
    for recipe, sums in of_file(path):  # type: ignore[arg-type]
        for point in control_points(recipe, sums):
            said = " ".join((point.what, point.danger, point.limit, point.wrong))
            assert "  " not in said
            assert " safe" not in f" {said.lower()}"
            assert point.wrong.endswith(".")
            assert point.read
