from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.bench.weights import Called, by_section, called_for, shown
from overhaul.house import House
from overhaul.sums.work import Sums
from tests.conftest import recipe_of
from tests.output.sheets.made import SMALL


def rows(text: str, house: House | None = None) -> tuple[Called, ...]:
    house = house or House()
    recipe = recipe_of(text, house)
    return called_for(recipe, Sums(recipe, house))


@pytest.mark.parametrize(
    ("gram", "step", "said"),
    [(16, 0.1, "16.0 g"), (5.76, 0.1, "5.8 g"), (1134.2, 1, "1,134 g"), (183, 5, "185 g"), (12.345, 0.01, "12.35 g"), (0.04, 0.1, "0.04 g"), (0, 1, "0 g"), (0.4, 1, "0.4 g"), (2.5, 0.5, "2.5 g")],
)
def test_what_a_scale_shows(gram: float, step: float, said: str) -> None:
    assert shown(gram, step) == said


@given(st.floats(0.05, 1e6), st.sampled_from([0.01, 0.1, 0.5, 1, 5, 10]))
def test_a_scale_is_never_off_by_more_than_half_its_step(gram: float, step: float) -> None:
    said = float(shown(gram, step).removesuffix(" g").replace(",", ""))
    if gram >= step / 2:
        assert abs(said - gram) <= step / 2 * (1 + 1e-6)
    else:
        assert said == pytest.approx(gram, rel=0.1)


@pytest.mark.parametrize(
    ("line", "grams", "spread", "written", "counted"),
    [
        ("180 g salt", "180 g", None, "180 g", False),
        ("12 to 14 oz salt", None, "340 to 397 g (likely 369)", "12 to 14 oz", False),
        ("1 cup salt", None, "125 to 310 g (likely 265)", "1 cup", False),
        ("2 kg water\nsalt to taste", None, None, "salt to taste", False),
        ("6 bay leaves", None, "0.6 to 2.4 g (likely 1.2)", "6", True),
        ("2 (14 oz) bottles stout", "794 g", None, "2 × 14 oz", False),
        ("1/2 oz salt", "14 g", None, "1/2 oz", False),
        ("4 sprigs thyme", None, None, "4 sprigs", True),
        ("2 gal water\n2 gal ice by weight, that is as heavy as the water", None, "about 7,564 g", "2 gal", False),  # exact, and nobody weighed it
    ],
)
def test_one_line(line: str, grams: str | None, spread: str | None, written: str, counted: bool) -> None:
    row = rows(f"Corned flat\n\n2 kg brisket flat\n{line}\n\nCure it 9 days at 3 °C.\n")[-1]
    assert (row.grams, row.spread, row.written, row.counted) == (grams, spread, written, counted)


def test_pieces_and_their_weight() -> None:
    assert rows("Duck\n\n12 duck breasts (about 10 oz each)\n\nCure it 9 days at 3 °C.\n")[0].written == "12 × about 10 oz"
    assert rows("Tongue\n\n2 beef tongues, 7 lb 8 oz together\n\nCure it 9 days at 3 °C.\n")[0].written == "7 lb 8 oz"


@pytest.mark.parametrize(
    ("name", "house", "strength", "stated"),
    [
        ("cure no. 1 (6.25 % nitrite)", House(), "6.25 % nitrite", True),
        ("cure no. 1", House(), "5.88 to 6.25 % (likely 6.25) nitrite", False),
        ("cure no. 1", House(strengths={"cure1": {"nitrite": 5.88}}), "5.88 % nitrite", True),
        ("cure no. 2", House(), "5.67 to 6.25 % (likely 6.25) nitrite, 1 to 4 % (likely 4) nitrate", False),
        ("saltpetre", House(), "100 % nitrate", True),
    ],
)
def test_strength_and_whether_it_is_stated(name: str, house: House, strength: str, stated: bool) -> None:
    row = rows(f"Corned flat\n\n2 kg brisket flat\n12 g {name}\n\nCure it 9 days at 3 °C.\n", house)[1]
    assert (row.cure, row.strength, row.stated) == (True, strength, stated)


@pytest.mark.computed
def test_percent_of_green_weight() -> None:
    """By hand: 180 of 2,000 is 9 percent; 5.4 and 9.6 of 2,000 are 0.27 and 0.48."""
    percents = [row.percent for row in rows(SMALL)]
    assert [round(one.low, 3) for one in percents if one is not None] == [100, 100, 9, 0.6, 0.27, 1.55, 0.015]
    assert [round(one.high, 3) for one in percents if one is not None] == [100, 100, 9, 0.6, 0.48, 1.86, 0.06]


def test_lists_stay_apart_and_in_order() -> None:
    found = list(by_section(rows("Pastrami\n\nMeat:\n2 kg brisket flat\n\nBrine:\n2 kg water\n180 g salt\n\nRub:\n20 g pepper\n\nCure it 9 days at 3 °C.\n")))
    assert [(name, [row.name for row in own]) for name, own in found] == [("Meat", ["brisket flat"]), ("Brine", ["water", "salt"]), ("Rub", ["pepper"])]
    assert list(by_section(())) == []
