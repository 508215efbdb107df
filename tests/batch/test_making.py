"""A batch by hand: what is weighed, what stays, days, tubs, portions, another curing salt, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from overhaul import facts
from overhaul.batch import Batch, NotMade, asked_for, make
from overhaul.batch.sizing import yield_of
from overhaul.house import House
from overhaul.recipe.model import Recipe
from overhaul.span import exactly
from overhaul.sums.work import Sums
from tests.batch.made import BRINE, after, line, made, why
from tests.conftest import recipe_of

POUND = 453.59237


def test_the_recipe_by_weight_as_it_is() -> None:
    found = made()
    assert [(one.line, one.weigh) for one in found.lines] == [
        (3, "2 pieces, 4,536 g in all"), (4, "7,564 g"), (5, "555 g"), (6, "217 g"), (7, "42 g"), (8, "14 g"), (9, "4, some 1 g"), (10, "by eye"), (11, "as written"),
    ]  # fmt: skip
    assert line(found, "kosher salt").spread is not None
    assert line(found, "cure #1").spread is None
    assert found.recipe.page.text.splitlines()[2:11] == [
        "2 brisket flats, 4536 g in all, 2 in. thick", "7564 g water", "555 g kosher salt", "217 g brown sugar, packed", "42 g cure #1 (6.25% nitrite)",
        "14 g pickling spice", "4 bay leaves", "a handful of thyme", "black pepper to taste",
    ]  # fmt: skip


def test_twice_the_recipe() -> None:
    found = made(times="2")
    assert [line(found, name).gram for name in ("brisket flat", "water", "kosher salt", "cure #1")] == [9072, 15128, 1110, 84]
    assert line(found, "bay leaf").weigh == "8, some 2 g"
    assert line(found, "brisket flat").weigh == "4 pieces, 9,072 g in all"
    assert after(found, "brine_strength") == pytest.approx(after(made(), "brine_strength"), abs=0.01)
    assert after(found, "nitrite_equilibrium") == pytest.approx(after(made(), "nitrite_equilibrium"), abs=0.5)
    assert found.recipe.process.cure_time is not None
    assert found.recipe.process.cure_time.span == exactly(8)
    assert found.recipe.yields is not None
    assert found.recipe.yields.low == 44


def test_for_the_meat_in_hand_the_water_goes_with_the_meat() -> None:
    found = made(meats=("3 flats, 15 lb",))
    assert found.factor == pytest.approx(1.5)
    assert line(found, "cure #1").gram == 63.0
    assert line(found, "water").gram == 11346
    assert found.recipe.process.meat is not None
    assert found.recipe.process.meat.pieces == (3, 3)
    assert found.days is not None
    assert found.days.told == ("8 days, for 50.8 mm (2 in) thick: they go by the thickness, and no other was said",)


def test_days_follow_the_thickness_and_never_the_factor() -> None:
    thicker = made(meats=("2 flats, 10 lb, 3 inch",))
    assert thicker.days is not None
    assert thicker.days.change is not None
    low, high = thicker.days.change
    days = Sums(thicker.recipe, House()).need("days_to_middle").value
    assert low - 1 < days.likely <= low
    assert high - 1 < days.high <= high
    assert f"Walk-in 38 F, {low} to {high} days, turning" in thicker.recipe.page.text
    assert "2 brisket flats, 4536 g in all, 76.2 mm thick" in thicker.recipe.page.text
    assert thicker.recipe.process.meat is not None
    assert thicker.recipe.process.meat.thickness == exactly(76.2)
    four = made(meats=("8 flats, 40 lb, 3 inch",))
    assert four.days is not None
    assert four.days.change == thicker.days.change


def test_a_piece_as_thick_as_the_recipe_keeps_its_days() -> None:
    found = made(meats=("4 flats, 20 lb, 2 in",))
    assert found.days is not None
    assert found.days.change is None


def test_several_pieces_each_of_its_own_thickness() -> None:
    found = made(meats=("2 flats, 9.4 lb, 2.5 inch", "1 point, 6 lb, 4 in"))
    assert found.recipe.page.text.splitlines()[2:4] == ["1 point, 2722 g in all, 101.6 mm thick", "2 flats, 4264 g in all, 63.5 mm thick"]
    assert [(one.name, one.gram) for one in found.lines if one.role == "meat"] == [("point", 2722), ("flat", 4264)]
    assert found.meat_gram == 6986
    assert found.days is not None
    assert [told.split(":")[0] for told in found.days.told[1:3]] == ["flat of 63.5 mm (2.5 in)", "point of 102 mm (4 in)"]
    assert Sums(found.recipe, House()).need("meat_mass").value.likely == pytest.approx(6986)


def test_the_tub_is_filled_and_not_over_its_rim() -> None:
    found = made(tub="18 litre")
    room = Sums(found.recipe, House()).need("vessel_volume").value.likely
    assert room == pytest.approx(18 * 0.9, abs=0.02)
    assert after(found, "nitrite_equilibrium") == pytest.approx(after(made(), "nitrite_equilibrium"), abs=0.7)


def test_this_meat_in_this_tub_keeps_the_strength_and_the_nitrite_as_one_system() -> None:
    found = made(meats=("2 flats, 9 lb",), tub="20 litre")
    assert Sums(found.recipe, House()).need("vessel_volume").value.likely == pytest.approx(18, abs=0.02)
    before = made()
    assert after(found, "brine_strength") == pytest.approx(after(before, "brine_strength"), abs=0.01)
    assert after(found, "nitrite_equilibrium") == pytest.approx(after(before, "nitrite_equilibrium"), abs=0.5)
    assert found.brine > found.factor


def test_portions_say_what_to_buy_in_whole_pieces() -> None:
    found = made(portions="60 at 5 oz")
    # By hand: 60 × 5 oz ÷ 0.65 = 13,085 g; pieces of 2,268 g: 6 of them.
    assert line(found, "brisket flat").weigh == "6 pieces, 13,608 g in all"
    assert found.notes[0] == "60 portions of 142 g are 8,505 g to serve; at 65 % of green weight (60 to 70) that is 13,084 g green (12,150 to 14,175)"
    assert found.notes[1] == "buy 6 pieces of 2,268 g, as heavy as the recipe’s: 13,608 g; at the lowest yield it takes 7"
    assert made(portions="44").factor == 2


def test_spices_by_a_factor_of_their_own() -> None:
    found = made(times="2", spices="1.5")
    assert line(found, "bay leaf").weigh.startswith("6, ")
    assert line(found, "pickling spice").exact == pytest.approx((line(made(), "pickling spice").exact or 0) * 1.5)
    assert line(found, "cure #1").gram == 84


def test_the_curing_salt_in_hand() -> None:
    found = made(cure="3 % nitrite")
    # By hand: 42 g × 6.25 ÷ 3 = 87.5 g; it brings 87.5 × 0.97 − 42 × 0.9375 = 45.5 g more salt.
    other = next(one for one in found.lines if one.line == 7)
    assert (other.name, other.gram) == ("curing salt (3 % nitrite)", 87.5)
    assert line(found, "kosher salt").gram == 510
    assert "87.5 g curing salt (3 % nitrite)" in found.recipe.page.text
    before = made()
    for name, near in (("nitrite_equilibrium", 0.2), ("brine_strength", 0.01)):
        assert after(found, name) == pytest.approx(after(before, name), abs=near)


@pytest.mark.parametrize(
    ("cure", "text", "reason"),
    [
        ("0.1 % nitrite", BRINE, "--cure: 2,625 g of it would bring 2,583 g more salt than the recipe’s curing salt, and the recipe has 555 g to take it off"),
        ("6.25 % nitrite", BRINE.replace("42 g cure #1 (6.25% nitrite)\n", ""), "--cure: no curing salt in the recipe to put another in place of"),
        ("6.25 % nitrite", BRINE.replace("42 g cure #1 (6.25% nitrite)", "20 g saltpetre"), "--cure: line 7 (“20 g saltpetre”) holds no nitrite, so that nothing says how much there is to be; `overhaul sums --cure` works a dose"),
        ("4 % nitrate", BRINE, "--cure: the curing salt in hand holds no nitrite"),
    ],
)
def test_a_curing_salt_that_cannot_stand_in(cure: str, text: str, reason: str) -> None:
    assert why(text, cure=cure) == reason


def test_the_column_that_is_nearest_is_scaled_from() -> None:
    text = "Corned\n\n                 1x      2x\nBrisket flat     5 lb    10 lb\nWater            5 lb    10 lb\nKosher salt      6 oz    11 oz\nCure #1 (6.25%)  10 g    20 g\n\nWalk-in 38 F, 8 days, plate on top.\n"
    twice = made(text, times="2")
    assert line(twice, "kosher salt").gram == 312  # 11 oz, not twice 6
    assert made(text, times="1.1").lines[2].gram == 187
    assert twice.notes == ("worked from the column of 2 times, which is nearest; times the recipe are times its first column",)
    assert not any(item.columns for item in twice.recipe.ingredients)
    assert made(text, times="4").size == "4 times the recipe"
    assert made(text, times="4").factor == pytest.approx(4)


def test_a_recipe_in_shares_of_the_meat_needs_no_weight_of_its_own() -> None:
    text = "Bacon\n\nPork belly, skin off\nSalt 2.5 % of meat\nCure #1 (6.25%) 0.25% of meat\n\nRub, bag, fridge 38 F, 10 days.\n"
    found = made(text, meats=("1 belly, 4 kg, 1 1/2 in",))
    assert [(one.name, one.gram) for one in found.lines] == [("belly", 4000), ("salt", 100), ("cure #1", 10.0)]
    assert after(found, "nitrite_direct") == pytest.approx(156.25)
    assert why(text, times="2") == "the recipe does not say how much meat, and its amounts are shares of it; say --meat with what is in hand"


def test_a_rate_over_a_list_is_weighed_out() -> None:
    found = made("Dry cure\n\nPer kilo of meat:\n25 g salt\n2.5 g cure #1\n\nPork belly 3 kg\n\nCure 7 days at 38 F in a bag.\n", meats=("6 kg",))
    assert [(one.name, one.gram) for one in found.lines] == [("salt", 150), ("cure #1", 15.0), ("pork belly", 6000)]
    assert [item.mass for item in found.recipe.ingredients] == [exactly(150), exactly(15), exactly(6000)]


def test_small_things_go_on_the_small_scale_and_too_small_ones_are_told() -> None:
    found = made("Rub\n\n1 kg pork loin\n20 g salt\n4.44 g pepper\n0.55 g cure #1\n\nCure 7 days at 38 F in a bag.\n", house=House(scale={"cure": 0.1, "other": 1}))
    assert line(found, "pepper").weigh == "4.4 g"
    assert line(found, "pepper").notes == ("on the small scale",)
    assert line(found, "cure #1").weigh == "0.55 g"
    assert line(found, "cure #1").notes == ("a scale that shows 0.1 g may be out by a tenth and more here: make a larger mix and weigh of that, or use a finer scale",)
    coarse = made("Rub\n\n1 kg pork loin\n23 g salt\n2.5 g cure #1\n\nCure 7 days at 38 F in a bag.\n", house=House(scale={"cure": 0.1, "other": 5}))
    assert line(coarse, "salt").weigh == "23 g"  # less than ten steps of the other scale


def test_what_is_not_scaled_is_said_line_by_line() -> None:
    told = [(one.line, one.words, one.why) for one in made(times="2").not_scaled]
    assert told == [
        (10, "a handful of thyme", "a handful is no measure: by eye, for 2 times as much"),
        (11, "black pepper to taste", "no amount is written: to taste, or as it comes"),
        (13, "38 F", "heat does not grow with the batch"),
        (14, "3 hours, 200 F", "times and heats go by the piece, not by the weight"),
        (14, "20 minutes", "times go by the thickness and the place they end at, not by the weight"),
    ]


def test_amounts_in_brackets_and_in_the_method_go_along() -> None:
    text = "Corned\n\n5 lb brisket flat\n1 gal water\n1 1/2 c (12 oz) kosher salt\n24 g cure #1\n\nStir the 12 oz of salt into the water. 38 F, 8 days, plate on top.\n"
    page = made(text, times="2").recipe.page.text
    assert "\n680 g kosher salt\n" in page
    assert "Stir the 680 g of salt" in page
    assert "12 oz" not in page


def test_findings_are_told_as_new_or_known() -> None:
    found = made(times="2")
    known = {one.finding.rule for one in made().findings}
    assert {one.finding.rule for one in found.findings if one.known} <= known
    assert found.settled > 0  # the cups of an unknown salt are a weight now


def test_the_recipes_tub_that_is_too_small_is_told() -> None:
    text = BRINE.replace("plate on top", "plate on top, in a 15 litre tub")
    assert made(text).notes == ()
    assert made(text, times="2").notes[0].startswith("the recipe’s tub of 15 litres is too small for 24.")


@pytest.mark.parametrize(
    ("text", "asked", "reason"),
    [
        ("Just words\n\nLook after it.\n", {"times": "2"}, "the recipe has no amounts to scale"),
        ("Dry\n\n2 brisket flats\n1 c salt\n2 t cure #1\n\nRub, 8 days at 38 F.\n", {"times": "2"}, "line 3 (“2 brisket flats”) does not say how much meat and the water is not stated either: nothing tells what its amounts are for. Write the weight of the meat that it is for"),
        ("Wet\n\n2 brisket flats\n1 gal water\n1 c salt\n2 t cure #1\n\n8 days at 38 F.\n", {"meats": ("9 lb",)}, "line 3 (“2 brisket flats”) does not say how much meat, so that nothing tells what its amounts are for. Line 4 (“1 gal water”) is for some weight of meat, and nothing tells which. Write that weight on the page, or say --times"),
        (BRINE.replace("42 g cure #1 (6.25% nitrite)", "cure #1 - 24"), {"times": "2"}, "line 7: nothing tells the grams of the curing salt in “cure #1 - 24”. Write its weight, and make the batch again"),
        (BRINE, {"meats": ("30 lb",), "tub": "10 litre"}, "13,608 g of meat is 12.9 litres and leaves no room for brine in 10 litres, of which 10 % stays empty"),
        ("Rub\n\n3 kg pork belly\n75 g salt\n\nBag it, 7 days at 38 F.\n", {"tub": "10 litre"}, "the meat does not lie in a brine; a tub tells nothing about a dry or pumped cure"),
        (BRINE.replace(" Serves 22.", ""), {"portions": "40"}, "the recipe does not say how many portions it makes; say how large they are: “60 at 5 oz”"),
    ],
)
def test_what_is_missing_is_told(text: str, asked: dict[str, Any], reason: str) -> None:
    assert why(text, **asked) == reason


def test_by_the_piece_where_nothing_is_weighed() -> None:
    found = made("Wet\n\n2 brisket flats\n1 gal water\n1 c kosher salt\n10 g cure #1\n\n8 days at 38 F.\n", meats=("4 flats",))
    assert found.factor == 2
    assert line(found, "cure #1").gram == 20.0
    assert found.meat_gram is None


def test_several_meats_in_proportion_and_by_name() -> None:
    text = "Sausage\n\n8 kg pork shoulder\n2 kg beef chuck\n180 g salt\n24 g cure #1\n\nGrind, mix, stuff. Smoke at 78 C to 69 C inside.\n"
    assert [one.gram for one in made(text, meats=("15 kg",)).lines] == [12000, 3000, 270, 36.0]
    assert Sums(made(text, meats=("15 kg",)).recipe, House()).need("nitrite_direct").value.likely == pytest.approx(150)  # of all the meat
    assert [one.gram for one in made(text, meats=("4 kg pork shoulder",)).lines] == [4000, 1000, 90, 12.0]
    assert "“brisket” is not one of them" in why(text, meats=("4 kg brisket",))


# Practitioners' notes: restaurants quote 47 to 53 % of raw packer weight (46 to 53 elsewhere); trimmed flats lose 30 to 40 %.
# Bovine muscles: cooking loss 38.9 to 40.1 % (table 2 of the study that the notes cite).
@pytest.mark.printed
@pytest.mark.parametrize(("cut", "low", "high"), [("beef_brisket_whole_packer", 0.46, 0.53), ("beef_brisket_flat", 1 - 0.40, 1 - 0.30), ("beef", 1 - 0.401, 0.66)])
def test_yields_that_were_published(cut: str, low: float, high: float) -> None:
    row = facts.table("yields")[cut]
    assert row.low == pytest.approx(low)
    assert row.high == pytest.approx(high)
    assert row.status != "memory"


def test_every_yield_is_a_share_with_its_span() -> None:
    for name, row in facts.table("yields").items():
        assert 0 < row.low < row.value < row.high < 1, name
        assert row.unit == "share", name


@pytest.mark.parametrize(("meat", "name"), [("9 lb brisket flat", "beef_brisket_flat"), ("14 lb whole packer brisket", "beef_brisket_whole_packer"), ("10 lb pork belly", "pork_belly_whole"), ("3 lb salmon fillet", "fish"), ("1 whole turkey, 14 lb", "turkey_whole")])
def test_the_yield_is_that_of_the_cut(meat: str, name: str) -> None:
    found = yield_of(recipe_of(f"Dish\n\n{meat}\n1 gal water\n1 lb salt\n"))
    assert found is not None
    assert found.name == name


def test_a_batch_of_nothing_never_raises() -> None:
    for text in ("x\n", "1 lb salt\n", "Corned\n\n0 lb beef\n1 gal water\n1 lb salt\n", "Corned\n\n-3 lb beef brisket\n1 gal water\n1 lb salt\n"):
        recipe: Recipe = recipe_of(text)
        for asked in (asked_for(times="2"), asked_for(meats=("9 lb",)), asked_for(tub="18 l"), asked_for(portions="60 at 5 oz"), asked_for(cure="1 % nitrite")):
            assert isinstance(make(recipe, House(), asked), Batch | NotMade)


def test_half_of_the_water_as_ice_and_a_rate_of_it_are_weighed_out() -> None:
    text = "Turkey breasts\n\n4 turkey breasts boneless, 3 lb ea\n2 gal water, half as ice\n1/2 c table salt per quart of water\n2 tsp cure #1\n\nDissolve the salt in 1 gal boiling water, pour over the ice. Under 40 F put in breasts, 24 hours in the walk-in.\n"
    found = made(text, tub="5 gallon")
    page = found.recipe.page.text.splitlines()
    assert page[2].startswith("6 turkey breasts boneless, ")
    assert page[2].endswith(" g in all")
    water, ice = line(found, "water").gram, line(found, "ice").gram
    assert page[3] == f"{water:g} g water; {ice:g} g ice"
    assert page[7].startswith(f"Dissolve the salt in {water:g} g boiling water, pour over the ice.")
    assert [item.mass for item in found.recipe.of_role("water", "ice")] == [exactly(water or 0), exactly(ice or 0)]


def test_an_own_tub_takes_the_place_of_the_recipes() -> None:
    found = made(BRINE.replace("plate on top", "plate on top, in a 30 litre tub"), tub="18 litre")
    assert "in a 18 litre tub" in found.recipe.page.text
    assert not any("too small" in note for note in found.notes)
