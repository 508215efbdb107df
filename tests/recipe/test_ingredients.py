"""Ingredient lines: each form with its exact reading."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.house import House
from overhaul.recipe import read_page
from overhaul.recipe.model import Amount, Ingredient
from overhaul.text import Page
from tests.conftest import recipe_of


def line(text: str) -> list[Ingredient]:
    return list(recipe_of(f"Card\n\nIngredients\n{text}\n").ingredients)


def said(amount: Amount | None) -> str | None:
    if amount is None:
        return None
    value = f"{amount.low}" if amount.low == amount.high else f"{amount.low}-{amount.high}"
    return f"{value} {amount.unit}"


@pytest.mark.parametrize(
    ("text", "name", "role", "amount"),
    [
        ("3 cups kosher salt, plus more for the rub", "kosher salt", "salt", "3 cup"),
        ("2 lb 4 oz ice", "ice", "ice", "9/4 pound"),
        ("20 cloves garlic", "garlic", "aromatic", "20 clove"),
        ("4 garlic cloves, crushed", "garlic", "aromatic", "4 clove"),
        ("6 bay leaves", "bay leaf", "spice", "6 each"),
        ("salt – 350g", "salt", "salt", "350 gram"),
        ("bay leaves, 6", "bay leaf", "spice", "6 each"),
        ("ice 5#", "ice", "ice", "5 pound"),
        ("1 gal H2O, cold", "h2o", "water", "1 gallon"),
        ("Salt 2½%", "salt", "salt", "5/2 percent"),
        ("Pink salt .25%", "pink salt", "cure1", "1/4 percent"),
        ("5 tsp. pink salt (NOT the Himalayan!!)", "pink salt", "cure1", "5 teaspoon"),
        ("2 T. cure", "cure", "cure1", "2 tablespoon"),
        ("1 scant Tbl TCM", "tcm", "cure1", "1 tablespoon"),
        ("½ oz. saltpeter", "saltpeter", "nitrate", "1/2 ounce"),
        ("brn sugar 1 C pkd", "brn sugar", "sugar", "1 cup"),
        ("vinegar 1 pt (opt.)", "vinegar", "acid", "1 pint"),
        ("10# navel, skin off, squared", "navel", "meat", "10 pound"),
        ("1 whole packer 14-16#, trim to ¼\" cap", "packer", "meat", "14-16 pound"),
        ("2 pounds of brisket", "brisket", "meat", "2 pound"),
        ("a pinch of mace", "mace", "spice", "1 pinch"),
        ("juice of 1 lemon", "lemon juice", "acid", "1 each"),
        ("nitrite salt 28 g (6%)", "nitrite salt", "ready-mix", "28 gram"),
        ("For every hundred pounds of beef, take:", "beef", "meat", "100 pound"),
        ("3 or 4 ounces soda", "soda", "other", "3-4 ounce"),
        ("1 peck and 1½ gallons fine salt", "fine salt", "salt", None),
        ("water to cover", "water", "water", None),
        ("pepper to taste", "pepper", "spice", None),
    ],
)  # fmt: skip
def test_one_line_one_ingredient(text: str, name: str, role: str, amount: str | None) -> None:
    (item,) = line(text)
    assert (item.name, item.role) == (name, role)
    if "peck" in text:
        assert item.amount is not None
        assert [said(part) for part in item.amount.parts] == ["1 peck", "3/2 gallon"]
    else:
        assert said(item.amount) == amount


@pytest.mark.parametrize(
    ("text", "count", "amount", "each"),
    [
        ("2 (14 oz) bottles stout", "2 bottle", "14 ounce", True),
        ("2 brisket flats, 9.4 lb in all", "2 piece", "47/5 pound", False),
        ("2 beef tongues, 3 lb each", "2 piece", "3 pound", True),
        ("12 duck breasts (about 10 oz each)", "12 piece", "10 ounce", True),
        ("2 200 g breasts", "2 piece", "200 gram", True),
        ("Eye rd 3 @ 5-6 lb", "3 piece", "5-6 pound", True),
        ("1 turkey breast, skin on, 6 1/2 lb", "1 piece", "13/2 pound", False),
    ],
)
def test_counts_with_sizes(text: str, count: str, amount: str, each: bool) -> None:
    (item,) = line(text)
    assert (said(item.count), said(item.amount), item.each) == (count, amount, each)


def test_the_mass_of_pieces_is_for_all_of_them() -> None:
    (each,) = line("2 beef tongues, 3 lb each")
    (both,) = line("2 brisket flats, 9.4 lb in all")
    assert each.mass is not None
    assert both.mass is not None
    assert each.mass.likely == pytest.approx(6 * 453.59237)
    assert both.mass.likely == pytest.approx(9.4 * 453.59237)


@pytest.mark.parametrize(
    ("text", "per"),
    [
        ("4 oz cure per gallon", (1, "gallon", None)),
        ("Cure #1 – 1 oz per 25# (MEAT wt.)", (25, "pound", "meat")),
        ("cure #1: 1 tsp to each 5# of meat+water", (5, "pound", "meat + water")),
        ("cure #1, 2.5 g per kg", (1, "kilogram", None)),
    ],
)
def test_rates(text: str, per: tuple[int, str, str | None]) -> None:
    (item,) = line(text)
    assert item.per is not None
    assert [item.per.amount, item.per.unit, item.per.of] == list(per)


def test_a_percentage_of_the_meat_becomes_grams() -> None:
    page = recipe_of("Loin\n\n2 kg pork loin\nsalt, 2.5 % of meat\n\nRub it on and refrigerate 10 days.\n")
    salt = next(item for item in page.ingredients if item.role == "salt")
    assert salt.per is not None
    assert salt.per.of == "meat"
    assert salt.mass is not None
    assert salt.mass.likely == pytest.approx(50)


@pytest.mark.parametrize(
    ("text", "amount", "also"),
    [
        ("1 1/2 c (12 oz) salt", "3/2 cup", ["12 ounce"]),
        ("6 lb 4 oz cold water (3 quarts)", "25/4 pound", ["3 quart"]),
        ("42g / 8 tsp pink", "42 gram", ["8 teaspoon"]),
        ("3/4 c. pickling spice = the other 12 T", "3/4 cup", ["12 tablespoon"]),
    ],
)
def test_the_same_amount_told_again(text: str, amount: str, also: list[str]) -> None:
    (item,) = line(text)
    assert said(item.amount) == amount
    assert [said(other) for other in item.also] == also


def test_a_weight_beats_the_spoon_on_its_line() -> None:
    (item,) = line("1 1/2 c (12 oz) salt")
    assert item.mass is not None
    assert item.weighed
    assert item.mass.exact
    assert item.mass.likely == pytest.approx(340.19, abs=0.01)


def test_another_way_is_never_added_up() -> None:
    (item,) = line("4 c kosher or 2 c table salt")
    assert said(item.amount) == "4 cup"
    assert [(other.name, other.role, said(other.amount)) for other in item.instead] == [("table salt", "salt", "2 cup")]


@pytest.mark.parametrize("text", ["~~5~~ 3 t cure #1  JR", "[5] 3 t cure #1"])
def test_what_is_crossed_out_is_history(text: str) -> None:
    (item,) = line(text)
    assert said(item.amount) == "3 teaspoon"
    assert [said(amount) for amount in item.was] == ["5 teaspoon"]


@pytest.mark.parametrize("text", ["kosher salt   6 oz   12 oz   24 oz", "kosher salt ........ 6 oz ...... 12 oz ...... 24 oz", "kosher salt | 6 oz | 12 oz | 24 oz", "kosher salt\t6 oz\t12 oz\t24 oz"])
def test_columns(text: str) -> None:
    (item,) = line(text)
    assert said(item.amount) == "6 ounce"
    assert [(column.factor, said(column.amount)) for column in item.columns] == [(1, "6 ounce"), (2, "12 ounce"), (4, "24 ounce")]  # type: ignore[comparison-overlap]


def test_one_amount_of_several() -> None:
    assert [(item.name, said(item.amount)) for item in line("1 T ea: coriander, mustard seed, allspice")] == [("coriander", "1 tablespoon"), ("mustard seed", "1 tablespoon"), ("allspice", "1 tablespoon")]


def test_several_on_one_line() -> None:
    assert [(item.name, said(item.amount)) for item in line("½ t clove, ½ t mace, 1 pinch chili flakes")] == [("clove", "1/2 teaspoon"), ("mace", "1/2 teaspoon"), ("chili flake", "1 pinch")]


@pytest.mark.parametrize(
    ("text", "nitrite", "nitrate"),
    [
        ("23 g cure #1 (6.25% nitrite)", 6.25, None),
        ("18 g no. 1 curing salt, the 6.25 % nitrite kind", 6.25, None),
        ("ready-mix cure (half nitrite, half nitrate, 0.5% each) - 2 Tbs.", 0.5, 0.5),
        ("26 g cure #1 (6.25%)", 6.25, None),
    ],
)
def test_strengths(text: str, nitrite: float, nitrate: float | None) -> None:
    (item,) = line(text)
    assert item.strength is not None
    assert item.strength.nitrite is not None
    assert item.strength.nitrite.likely == nitrite
    assert (item.strength.nitrate.likely if item.strength.nitrate is not None else None) == nitrate


def test_places_point_at_the_number_and_at_the_name() -> None:
    page = recipe_of("Card\n\nIngredients\n  2 ½ lb. kosher salt\n")
    (item,) = page.ingredients
    assert item.amount is not None
    assert page.page.words(item.amount.place) == "2 ½ lb."
    assert page.page.words(item.name_place) == "kosher salt"
    assert item.line == 4


@given(st.integers(1, 400), st.sampled_from(["g", "oz", "lb", "kg", "cups", "tsp"]), st.sampled_from(["kosher salt", "white sugar", "cure #1", "black peppercorns", "water"]))
def test_any_amount_of_any_name_is_read(number: int, unit: str, name: str) -> None:
    (item,) = line(f"{number} {unit} {name}")
    assert item.amount is not None
    assert item.amount.low == Fraction(number)
    assert item.mass is not None
    assert item.mass.low <= item.mass.likely <= item.mass.high


@pytest.mark.parametrize("text", ["cure #1  3 oz", "Cure #1 3 oz", "Cure #1, 3 oz", "cure no. 1: 3 oz"])
def test_a_list_line_that_begins_with_cure_names_the_salt(text: str) -> None:
    (item,) = recipe_of(f"Beef\n\n2 lb beef\n{text}\nsalt 1 lb\n").of_role("cure1")
    assert said(item.amount) == "3 ounce"


def test_a_list_along_one_line() -> None:
    items = line("belly 5 lb, skin off / salt 55 g / br sugar 30 g / cure #1 (6.25%) 5.5 g / pepper 10 g")
    assert [(item.role, said(item.amount)) for item in items] == [("meat", "5 pound"), ("salt", "55 gram"), ("sugar", "30 gram"), ("cure1", "11/2 gram"), ("spice", "10 gram")]


def test_a_share_beside_the_weight_is_no_amount() -> None:
    recipe = recipe_of("# Beef\n\n| what | % of meat | this time |\n|---|---|---|\n| brisket flat | 100 | 3000 g |\n| fine sea salt | 2.25 | 67.5 g |\n| cure no. 1 | 0.25 | 7.5 g |\n")
    assert [(item.role, said(item.amount), [said(amount) for amount in item.also]) for item in recipe.ingredients] == [
        ("meat", "3000 gram", ["100 percent"]),
        ("salt", "135/2 gram", ["9/4 percent"]),
        ("cure1", "15/2 gram", ["1/4 percent"]),
    ]


@pytest.mark.parametrize("text", ["cure #1, 6.25 % nitrite – 11.2 g", "Cure #1 (6.25% nitrite)    11.2 g    22.4 g    44.8 g"])
def test_a_strength_is_no_amount(text: str) -> None:
    (item,) = line(text)
    assert said(item.amount) == "56/5 gram"
    assert item.strength is not None
    assert item.strength.nitrite is not None
    assert item.strength.nitrite.likely == 6.25


def test_a_strength_told_in_prose() -> None:
    (item,) = recipe_of("Beef\n\nStir half a pound of salt and twelve grams of cure number 1, the one with 6.25 % nitrite, into two quarts of cold water. Put five pounds of brisket in and keep it in the refrigerator nine days.\n").of_role("cure1")
    assert item.strength is not None
    assert item.strength.nitrite is not None
    assert item.strength.nitrite.likely == 6.25


@pytest.mark.parametrize("words", ["NO cure in this one, on purpose", "No curing salt in this one.", "without pink salt"])
def test_what_is_left_out_is_no_ingredient(words: str) -> None:
    assert recipe_of(f"Chicken\n\n2 gal cold water\n14 oz kosher salt\n{words}\n\nStir salt into the water.\n").of_role("cure1", "ready-mix", "nitrite") == ()


def test_a_table_with_grams_and_percent_in_either_order() -> None:
    rows = {"| what | grams | % |": "| turkey breast | 2000 | |\n| water | 1500 | |\n| salt | 70 | 2 |\n", "| what | % | g |": "| turkey breast | | 2000 |\n| water | | 1500 |\n| salt | 2 | 70 |\n"}
    for head, body in rows.items():
        recipe = recipe_of(f"# Turkey\n\n{head}\n|---|---|---|\n{body}\n1. Submerge in the fridge 5 days.\n")
        assert [(item.name, item.mass and item.mass.likely) for item in recipe.ingredients] == [("turkey breast", 2000), ("water", 1500), ("salt", 70)]
        assert [(amount.low, amount.unit) for amount in recipe.ingredients[2].also] == [(Fraction(2), "percent")]
        assert recipe.unread == ()


def roles(text: str, **names: str) -> list[tuple[str, str, bool]]:
    recipe = read_page(Page(text), House(names=names))[0]
    return [(item.name, item.role, item.in_method) for item in recipe.ingredients]


@pytest.mark.parametrize("listed", ["1 cup Himalayan pink salt", "1 cup pink salt (Himalayan)", "1 cup pink salt, Himalayan, coarse"])
def test_the_list_settles_what_the_pink_salt_of_the_method_is(listed: str) -> None:
    found = roles(f"Chicken\n\n1 chicken, 3 lb\n1 gal water\n{listed}\n\nDissolve 1 cup of the pink salt in the water. Chill. Put the chicken in, overnight in the fridge.\n")
    assert [role for _, role, _ in found] == ["meat", "water", "salt"]


def test_a_name_in_the_house_sheet_wins() -> None:
    page = "Beef\n\n5 lb brisket\n1 gal water\n1 lb salt\n2 oz old faithful\n4 T P.S.\n\nStir 10 g of old faithful into the water.\n"
    assert roles(page)[3:] == [("old faithful", "other", False), ("p s", "spice", False)]
    assert roles(page, **{"old faithful": "cure1", "ps": "cure #2"})[3:] == [("old faithful", "cure1", False), ("p s", "spice", False)]
    assert roles("Beef\n\nStir 40 g of old faithful into 1 gal water.\n", **{"old faithful": "cure1"})[0] == ("old faithful", "cure1", True)


def test_the_house_settles_a_name_of_two_meanings() -> None:
    page = "Beef\n\n5 lb brisket\n4 T PS\n1 lb salt\n"
    doubts = [[item.doubt for item in read_page(Page(page), House(names=names))[0].ingredients if item.doubt] for names in ({}, {"ps": "pickling spice"}, {"ps": "cure1"})]
    assert doubts == [["“PS”: pickling spice, or pink salt (curing salt)?"], [], []]
    assert roles(page, ps="cure1")[1] == ("ps", "cure1", False)


@pytest.mark.parametrize("told", ["5 qt water, 2 qt of it as ice", "5 qt water (2 qt of it as ice)", "5 qt water, 2 of them as ice", "5 qt water, 2 as ice", "5 qt water, 40% of it as ice"])
def test_ice_out_of_the_water_is_not_counted_twice(told: str) -> None:
    recipe = recipe_of(f"Beef\n\n5 lb beef flat\n{told}\n10 oz salt\n\nFlat in the brine, walk-in, 5 days.\n")
    assert recipe.unread == ()
    (water,), (ice,) = recipe.of_role("water"), recipe.of_role("ice")
    assert water.mass is not None
    assert ice.mass is not None
    assert ice.mass.likely == pytest.approx(2 * 946.35, rel=0.01)
    assert water.mass.likely == pytest.approx(3 * 946.35, rel=0.01)


def test_a_belly_is_no_adverb() -> None:
    (belly, *_) = recipe_of("Bacon\n\nBelly 11 lbs, skin on\n2 cups salt\n2 tbsp cure #1\n\nRub it in. 7 days in the fridge.\n").ingredients
    assert (belly.name, belly.role, belly.line) == ("belly", "meat", 3)
    assert belly.amount == Amount(Fraction(11), Fraction(11), "pound", belly.amount.place if belly.amount else belly.place)


@pytest.mark.parametrize(("cell", "grams"), [("2 ea. (3.5 lb)", 3175), ("2 ea. (7 lb in all)", 3175)])
def test_a_cell_with_a_count_and_a_weight(cell: str, grams: float) -> None:
    recipe = recipe_of(f"Card\n\n| | single | double |\n|:--|--:|--:|\n| turkey breast, boneless | {cell} | 4 ea. |\n| water | 1 gal | 2 gal |\n| kosher salt | 8 oz | 1 lb |\n\n1. Turkey in, walk-in, 48 h.\n")
    breast = recipe.ingredients[0]
    assert breast.mass is not None
    assert breast.mass.likely == pytest.approx(grams, rel=0.001)
    assert [column.amount.low for column in breast.columns] == [2, 4]
    assert recipe.unread == ()


@pytest.mark.parametrize("told", ["loin 2 x 3.2 kg", "pork loin 2 × 3.2 kg", "loin 2 @ 3.2 kg"])
def test_so_many_of_so_much_behind_the_name(told: str) -> None:
    loin = recipe_of(f"Loin\n{told}\n1 gal water\n10 oz salt\n").ingredients[0]
    assert loin.mass is not None
    assert loin.mass.likely == pytest.approx(6400)
    assert loin.columns == ()


def test_percent_of_the_brine_is_of_the_finished_brine() -> None:
    """8 % of the brine with 3,000 g of water and 60 g of sugar: 8 ÷ 92 × 3,060 g. Of the water it is 8 % of that."""
    def salt(line: str) -> float:
        recipe = recipe_of(f"Brine\n\n2 kg brisket flat\n3000 g water\n{line}\n60 g sugar\n\nDissolve. Brine the flat 7 days at 3 °C.\n")
        return next(item.mass.likely for item in recipe.ingredients if item.role == "salt" and item.mass is not None)

    assert salt("salt, 8 % of the brine") == pytest.approx(8 / 92 * 3060)
    assert salt("salt, 8 % of the water") == pytest.approx(240)


def test_an_amount_told_again_behind_a_stroke_stands_where_it_is() -> None:
    recipe = recipe_of("Bacon\n\n5 lb pork belly\n150 g/5 oz salt\n")
    (salt,) = recipe.of_role("salt")
    assert [recipe.page.words(amount.place) for amount in salt.also] == ["5 oz"]
