"""What a cook may say, and what is refused with which words."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.batch import Asked, Piece, asked_for
from overhaul.house import House
from overhaul.span import exactly

POUND = 453.59237


@pytest.mark.parametrize(
    ("text", "name", "pieces", "pounds", "mm"),
    [
        ("2 flats, 9.4 lb", "flat", 2, 9.4, None),
        ("2 flats, 9.4 lb, 2.5 inch", "flat", 2, 9.4, 63.5),
        ("1 point, 6 lb, 4 in", "point", 1, 6, 101.6),
        ("9 lb 6 oz flat", "flat", None, 9.375, None),
        ("2 x 5 lb flats", "flat", 2, 10, None),
        ("2 flats @ 4.7 lb", "flat", 2, 9.4, None),
        ('2 flats of 4 lb each, 2 1/2" thick', "flat", 2, 8, 63.5),
        ("9.4 lb, 2 in thick", None, None, 9.4, 50.8),
        ("3 pieces, 12 lb", None, 3, 12, None),
        ("14# packer", "packer", None, 14, None),
        ("2 flats", "flat", 2, None, None),
    ],
)
def test_meat_in_hand(text: str, name: str | None, pieces: int | None, pounds: float | None, mm: float | None) -> None:
    (piece,) = asked_for(meats=(text,)).meats
    assert (piece.words, piece.name, piece.pieces) == (text, name, pieces)
    assert piece.gram == (pytest.approx(pounds * POUND) if pounds is not None else None)
    assert piece.thickness == (exactly(mm) if mm is not None else None)


@pytest.mark.parametrize(("text", "litres"), [("18 litre", 18), ("18 l", 18), ("5 gallon", 18.92705892), ("Blue Bucket", 22)])
def test_tub(text: str, litres: float) -> None:
    assert asked_for(tub=text, house=House(tubs={"blue bucket": exactly(22)})).tub == pytest.approx(litres)


def test_an_imperial_gallon_of_an_imperial_house() -> None:
    assert asked_for(tub="5 gallon", house=House(gallon="imperial")).tub == pytest.approx(5 * 4.54609)


@pytest.mark.parametrize(("text", "factor"), [("2", 2), ("1 1/2", 1.5), ("½", 0.5), ("2x", 2), ("x 3", 3), ("150 %", 1.5), ("two", 2), ("0.25", 0.25)])
def test_times(text: str, factor: float) -> None:
    assert asked_for(times=text).times == factor
    assert asked_for(spices=text).spices == factor


@pytest.mark.parametrize(("text", "count", "gram"), [("60 at 5 oz", 60, 141.747615625), ("60 portions of 150 g", 60, 150), ("60 @ 5 oz", 60, 141.747615625), ("60 servings, 5 oz each", 60, 141.747615625), ("60", 60, None)])
def test_portions(text: str, count: int, gram: float | None) -> None:
    portions = asked_for(portions=text).portions
    assert portions is not None
    assert (portions.count, portions.gram) == (count, pytest.approx(gram) if gram is not None else None)


def test_the_curing_salt_in_hand_is_told_as_on_a_label() -> None:
    assert asked_for(cure="0.6 % nitrite").cure == {"nitrite": 0.6}


BAD: list[tuple[dict[str, Any], str]] = [
    ({"meats": ("",)}, "--meat “” cannot be read; say “2 flats, 9.4 lb” or “1 point, 6 lb, 4 inch”"),
    ({"meats": ("9 lb salt",)}, "--meat “9 lb salt”: “salt” is no meat that is known here; say the cut, or the weight alone"),
    ({"meats": ("bananas",)}, "--meat “bananas” has neither a weight nor a number of pieces"),
    ({"meats": ("-3 lb",)}, "--meat “-3 lb” is less than nothing"),
    ({"meats": ("0 lb",)}, "--meat “0 lb” is out of all bounds; it must be more than 0 and at most 20,000,000"),
    ({"meats": ("4 to 5 lb flat",)}, "--meat “4 to 5 lb flat”: one figure is wanted, not a range"),
    ({"meats": ("2.5 flats, 9 lb",)}, "--meat “2.5 flats, 9 lb”: pieces of meat are whole"),
    ({"meats": ("1 gal",)}, "--meat “1 gal”: meat is weighed; gallons cannot be read here"),
    ({"meats": ("9 lb, 2 in, 3 in",)}, "--meat “9 lb, 2 in, 3 in”: one thickness is wanted, through the thickest part"),
    ({"meats": ("9 lb flat, 900 in",)}, "--meat “9 lb flat, 900 in” is out of all bounds; it must be more than 0 and at most 500"),
    ({"meats": ("x" * 301,)}, "--meat: longer than 300 characters"),
    ({"tub": "bucket"}, "--tub “bucket” cannot be read; say “18 litre” or “5 gallon”"),
    ({"tub": "9 lb"}, "--tub “9 lb” cannot be read; say “18 litre” or “5 gallon”"),
    ({"tub": "0 l"}, "--tub “0 l” is out of all bounds; it must be more than 0 and at most 20,000"),
    ({"times": "0"}, "--times “0” is out of all bounds; it must be more than 0.001 and at most 1,000"),
    ({"times": "-1"}, "--times “-1” is less than nothing"),
    ({"times": "nan"}, "--times “nan” cannot be read; say “2”, “1 1/2” or “0.5”"),
    ({"times": "2 lb"}, "--times “2 lb” cannot be read; say “2”, “1 1/2” or “0.5”"),
    ({"portions": "5 oz"}, "--portions “5 oz” cannot be read; say “60 at 5 oz” or “60 portions of 150 g”"),
    ({"portions": "2 1/2 at 5 oz"}, "--portions “2 1/2 at 5 oz”: portions are whole"),
    ({"cure": "strong"}, "“strong” cannot be read; say what the label says, as “6.25 % nitrite” or “6.25 % nitrite, 4 % nitrate”"),
    ({"times": "2", "tub": "18 l"}, "--tub and --times together say two sizes; say one of them (--meat with --tub is this meat in this tub)"),
]


@pytest.mark.parametrize(("options", "reason"), BAD, ids=lambda value: str(value)[:40])
def test_what_is_refused(options: dict[str, Any], reason: str) -> None:
    with pytest.raises(ValueError) as refused:
        asked_for(**options)
    assert str(refused.value) == reason


@given(st.text(max_size=60), st.sampled_from(["meats", "tub", "times", "portions", "cure", "spices"]))
def test_whatever_is_said_is_read_or_refused_in_words(text: str, option: str) -> None:
    said: dict[str, Any] = {option: (text,) if option == "meats" else text}
    try:
        asked = asked_for(**said)
    except ValueError as refused:
        assert text in str(refused) or "longer" in str(refused)
        return
    assert isinstance(asked, Asked)
    assert all(isinstance(piece, Piece) and (piece.gram is None or 0 < piece.gram < 3e7) for piece in asked.meats)
    assert asked.times is None or 0.001 < asked.times <= 1000
