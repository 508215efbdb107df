"""The pictures: well-formed, and every edge where independent arithmetic puts it."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import lxml.etree
import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.house import House
from overhaul.output import paper
from overhaul.output.pictures import LEFT, RIGHT, Days, Picture, Scale, Spans, pictures
from overhaul.pipeline import read
from overhaul.sums.work import Sums
from tests.conftest import CORPUS, recipe_of

FLAT = """Corned flat

2 flats, 9 lb in all, 1 3/4 in thick
1 gal water
{ice}1 1/2 lb salt
1 oz cure no. 1

{make}
Brine the flats in a 20 L tub 7 to 10 days at 38 F, turning daily. Rinse. Soak 2 hours in the fridge. Simmer 3 hours to 200 F inside.
Cool from 135 to 70 F in 2 hours and to 41 F in 4 more. Keeps 4 days.
"""
ICED = FLAT.format(ice="8 lb ice\n", make="Boil the water with salt and cure. Take off the heat and stir in the ice.")
PLAIN = FLAT.format(ice="", make="Dissolve all in the water, chill to 38 F.")
RUB = "Bacon, dry rub\n\n10 lb pork belly, skinless, 1 1/2 in thick\n4 oz salt\n20 g cure no. 1\n\nRub it all on. Cooler at 38 F, 11 days, flip daily. Rinse. Smoke at 200 F until 150 F inside.\n"


def drawn(text: str, name: str) -> tuple[Any, Sums]:
    recipe = recipe_of(text)
    sums = Sums(recipe, House())
    return next(one for one in pictures(recipe, sums) if one.name == name), sums


def names(text: str) -> list[str]:
    recipe = recipe_of(text)
    return [one.name for one in pictures(recipe, Sums(recipe, House()))]


def svg(picture: Picture) -> Any:
    """The drawing as XML; what is not well-formed raises."""
    return lxml.etree.fromstring(paper.page(picture.template, drawn=picture, id="x"))


def ends(drawing: Any, index: int, cls: str = "in") -> tuple[float, float]:
    bar = drawing.findall(f".//rect[@class='{cls}']")[index]
    return float(bar.get("x")), float(bar.get("x")) + float(bar.get("width"))


def stroke(drawing: Any, index: int, cls: str) -> float:
    """Where an upright line stands."""
    return float(drawing.findall(f".//path[@class='{cls}']")[index].get("d")[1:].split(" ")[0])


# By hand: the plotting width is 352 − 8 units.


@pytest.mark.computed
def test_the_nitrite_of_a_rub_stands_where_the_sum_says() -> None:
    """20 g of 5.88 to 6.25 % nitrite on 10 lb (4,535.92 g): 259 to 275.6 ppm; the limit of 200 ppm; a scale to 300."""
    picture, _ = drawn(RUB, "nitrite")
    drawing = svg(picture)
    assert [mark.text for mark in drawing.findall(".//text[@class='mark']")] == ["0", "50", "100", "150", "200", "300 ppm"]
    across = (352 - 8) / 300
    low, high = 20 * 0.0588 / 4535.92 * 1e6, 20 * 0.0625 / 4535.92 * 1e6
    start, end = ends(drawing, 0)
    assert start == pytest.approx(8 + low * across, abs=0.1)
    assert end == pytest.approx(8 + high * across, abs=0.1)
    assert stroke(drawing, 0, "likely") == pytest.approx(8 + high * across, abs=0.06)
    assert stroke(drawing, 0, "limit") == pytest.approx(8 + 200 * across, abs=0.06)
    assert ends(drawing, 0, "over") == pytest.approx((start, end), abs=0.01)  # all of it is over


@pytest.mark.computed
def test_meat_and_pickle_as_one_stands_where_the_sum_says() -> None:
    """28.35 g at 5.88 to 6.25 % in 4,082.3 g meat, a gallon of water, 680.4 g salt and itself; within 200 ppm nothing is dark beyond the line."""
    picture, sums = drawn(PLAIN, "nitrite")
    drawing = svg(picture)
    assert [row.label for row in picture.rows] == ["By pick-up", "Meat and pickle as one", "By diffusion"]
    water = sums.get("water_mass")
    assert water is not None
    system = 4082.33 + water.value.likely + 680.39 + 28.35
    likely = 28.35 * 0.0625 / system * 1e6
    top = float(picture.marks[-1].words.split()[0])
    assert stroke(drawing, 1, "likely") == pytest.approx(8 + likely / top * 344, abs=0.3)
    assert stroke(drawing, 1, "limit") == pytest.approx(8 + 200 / top * 344, abs=0.06)
    for row in picture.rows:
        assert (row.over is not None) == (row.end > (row.limit or 0) + 0.5)


@pytest.mark.computed
def test_the_brine_after_the_ice_stands_against_40_degrees() -> None:
    """A gallon boiled and 8 lb of ice are about 50 °F: the bar is all behind the line, on a scale of 20 to its next ten."""
    picture, sums = drawn(ICED, "temperature")
    drawing = svg(picture)
    found = sums.get("brine_temperature")
    assert found is not None
    top = float(picture.marks[-1].words.split()[0])
    assert picture.marks[-1].words.endswith("°F") and picture.marks[0].words == "20"
    fahrenheit = [value * 1.8 + 32 for value in (found.value.low, found.value.likely, found.value.high)]
    assert fahrenheit[2] < top <= fahrenheit[2] + 10
    at = [8 + (value - 20) / (top - 20) * 344 for value in fahrenheit]
    assert ends(drawing, 0) == pytest.approx((at[0], at[2]), abs=0.11)
    assert stroke(drawing, 0, "likely") == pytest.approx(at[1], abs=0.06)
    assert stroke(drawing, 0, "limit") == pytest.approx(8 + 20 / (top - 20) * 344, abs=0.06)
    assert picture.rows[0].over is not None and picture.rows[0].figure in picture.telling


def test_the_salt_goes_from_brine_through_soak_to_plate() -> None:
    picture, sums = drawn(PLAIN, "salt")
    assert [row.label for row in picture.rows] == ["In the brine", "In the meat, cured", "In the meat, soaked", "On the plate"]
    top = float(picture.marks[-1].words.split()[0])
    for row, name in zip(picture.rows, ("brine_strength", "salt_after_cure", None, "salt_as_eaten"), strict=True):
        if name is not None:
            found = sums.get(name)
            assert found is not None
            assert (row.start, row.likely, row.end) == pytest.approx([8 + value / top * 344 for value in (found.value.low, found.value.likely, found.value.high)], abs=0.06)
    cured, soaked = picture.rows[1], picture.rows[2]
    assert soaked.likely < cured.likely and soaked.end < cured.end
    assert picture.rows[3].usual == pytest.approx((8 + 1.7 / top * 344, 8 + 2.6 / top * 344), abs=0.06)  # facts/sums.tsv, taste.cooked


def test_without_a_soak_there_is_no_soaked_meat() -> None:
    picture, _ = drawn(PLAIN.replace("Soak 2 hours in the fridge. ", ""), "salt")
    assert [row.label for row in picture.rows] == ["In the brine", "In the meat, cured", "On the plate"]


def test_the_curve_passes_the_wanted_line_at_the_typical_days() -> None:
    """``days_to_middle`` is found by its own way (the inverse); the curve must cross 40 ppm there."""
    picture, sums = drawn(PLAIN, "days")
    places = [tuple(map(float, point.split(","))) for point in picture.likely.split()]
    assert all(first[0] < second[0] and first[1] >= second[1] for first, second in pairwise(places))
    after = next(index for index, (_, y) in enumerate(places) if y <= picture.wanted)
    (x0, y0), (x1, y1) = places[after - 1], places[after]
    crossing = x0 + (y0 - picture.wanted) / (y0 - y1) * (x1 - x0)
    assert crossing == pytest.approx(picture.needed[1], abs=1.5)
    found = sums.get("days_to_middle")
    assert found is not None
    end = float(picture.marks[-1].words.split()[0])
    across = (352 - 34) / end
    assert picture.needed == pytest.approx([min(352, 34 + days * across) for days in (found.value.low, found.value.likely, found.value.high)], abs=0.06)
    assert picture.stated == pytest.approx((34 + 7 * across, 34 + 10 * across), abs=0.06)
    assert (ends(svg(picture), 0)[0], ends(svg(picture), 0, "stated")[0]) == pytest.approx((picture.needed[0], picture.stated[0] - 1), abs=0.06)


def test_the_middle_after_the_stated_days_is_the_sum_of_that_name() -> None:
    picture, sums = drawn(PLAIN.replace("7 to 10 days", "10 days"), "days")
    found = sums.get("nitrite_middle")
    assert found is not None
    assert f"then the middle holds {found.worked().rsplit('= ', 1)[1]}." in picture.telling


def test_what_is_pumped_or_ground_has_no_way_to_the_middle() -> None:
    assert "days" in names(RUB)
    assert "days" not in names("Garlic sausage\n\n5 lb ground pork\n2 oz salt\n5.6 g cure no. 1\n\nMix. Chill overnight at 38 F. Smoke at 180 F to 152 F inside.\n")
    assert "days" not in names(CORPUS.joinpath("pumped-ham.txt").read_text())


def test_a_brine_without_ice_or_cure_has_neither_of_their_pictures() -> None:
    assert names("Turkey\n\n12 lb turkey\n2 gal water\n1 lb salt\n\nBrine it cold at 38 F for 1 day. Roast to 165 F inside.\n") == ["salt"]
    assert "temperature" not in names(PLAIN)


def everything() -> list[Picture]:
    found: list[Picture] = []
    for path in sorted(CORPUS.rglob("*")):
        if path.suffix in (".txt", ".md") and not path.name.startswith("README"):
            for recipe in read(path.read_bytes(), path.name, House()).recipes:
                found += [one for way in recipe.ways or (recipe,) for one in pictures(way, Sums(way, House()))]
    return found


def test_every_picture_of_the_corpus_is_well_formed_and_inside_its_frame_and_told_in_words() -> None:
    every = everything()
    assert {one.name for one in every} == {"nitrite", "temperature", "days", "salt"}
    for picture in every:
        drawing = svg(picture)
        assert drawing.get("role") == "img"
        assert drawing.get("aria-labelledby").split() == [drawing.find("title").get("id"), drawing.find("desc").get("id")]
        assert drawing.find("title").text == picture.title and drawing.find("desc").text == picture.telling
        wide, high = map(float, drawing.get("viewBox").split()[2:])
        for rect in drawing.iter("rect"):
            x, y, width, height = (float(rect.get(key)) for key in ("x", "y", "width", "height"))
            assert x >= 0 and y >= 0 and width >= 0 and x + width <= wide and y + height <= high
        for text in drawing.iter("text"):
            assert 0 <= float(text.get("x")) <= wide and 0 < float(text.get("y")) <= high and text.text
        if isinstance(picture, Spans):
            assert all(LEFT <= row.start <= row.likely <= row.end <= RIGHT and row.figure in picture.telling for row in picture.rows)
            assert all(row.over is None or row.limit is not None and row.over >= row.limit - 0.1 for row in picture.rows)
        if isinstance(picture, Days):
            assert all(word in picture.telling for word in picture.told)


@given(st.floats(-50, 50), st.floats(1, 1e5), st.floats(-1e6, 1e6))
def test_a_scale_never_leaves_its_drawing_and_keeps_the_order(low: float, wide: float, value: float) -> None:
    scale = Scale(low, low + wide)
    assert LEFT <= scale.at(value) <= RIGHT
    assert scale.at(value) <= scale.at(value + wide / 10)
    assert (scale.at(low), scale.at(low + wide)) == (LEFT, RIGHT)


def test_words_of_a_recipe_are_escaped_in_a_drawing() -> None:
    picture, _ = drawn(PLAIN.replace("cure no. 1", "cure no. 1 <b>&"), "nitrite")
    assert svg(picture).findall(".//b") == []
