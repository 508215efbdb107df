"""What to weigh out for a wanted figure: by hand, by the printed forms, and always worked forward again."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from overhaul.findings import Cite
from overhaul.house import House
from overhaul.recipe.model import Mention, Recipe
from overhaul.span import exactly
from overhaul.sums.answers import Answer, Bound, NoAnswer, Wanted, answers
from overhaul.sums.asking import asked
from overhaul.sums.work import Sums
from tests.sums.recipes import NOWHERE, POUND, fact, item, recipe

BRINE = (item("water", 4000), item("salt", 350), item("sugar", 225), item("cure1", 42, nitrite=6.25))
LIMIT = Bound(200, "200 ppm for whole muscle in brine", Cite("cfr-424-21"))


def told(made: Recipe, wanted: Wanted | None = None, bound: Bound | None = LIMIT, house: House | None = None) -> dict[str, list[Answer]]:
    found: dict[str, list[Answer]] = {}
    for one in answers(Sums(made, house or House()), wanted or Wanted(), bound):
        assert isinstance(one, Answer), one
        found.setdefault(one.name, []).append(one)
    return found


def why(made: Recipe, **wanted: Any) -> list[str]:
    return [one.why for one in answers(Sums(made, House()), Wanted(**wanted), LIMIT) if isinstance(one, NoAnswer)]


def again(answer: Answer, name: str) -> float:
    return next(one.value.likely for one in answer.again if one.name == name)


def weights(answer: Answer) -> list[tuple[str, float]]:
    return [(one.name, one.value) for one in answer.weigh]


# 5 lb in 4,000 g water, 350 g salt, 225 g sugar and 42 g cure are 381 ppm as one system (common worked figure of the trade's sums).
@pytest.mark.computed
def test_the_usual_dose_and_the_limit_for_a_brine() -> None:
    usual, most = told(recipe(*BRINE, meat=5 * POUND))["nitrite"]
    # By hand: 156.25 × (2,268 + 4,575) ÷ (62,500 − 156.25) = 17.15; 200 × 6,843 ÷ 62,300 = 21.97.
    assert usual.result[0] == pytest.approx(17.15, abs=0.005)
    assert weights(usual) == [("cure1", 17.2)]
    assert again(usual, "nitrite_equilibrium") == pytest.approx(156.7, abs=0.1)
    assert most.result[0] == pytest.approx(21.97, abs=0.005)
    assert weights(most) == [("cure1", 21.9)]  # never rounded up over the limit
    assert again(most, "nitrite_equilibrium") < 200


# Four ounces of 6.25 percent to 100 lb, 156 ppm: the printed everyday dose.
@pytest.mark.printed
def test_the_usual_dose_for_a_rub_is_a_quarter_percent() -> None:
    made = recipe(item("salt", 900), item("cure1", 300, nitrite=6.25), meat=100 * POUND, method="dry")
    usual = told(made)["nitrite"][0]
    assert usual.result[0] == pytest.approx(113.4, abs=0.05)
    assert weights(usual) == [("cure1", 113.4)]


# Handbook, pumped: 120 ppm at a fifth of green weight want 0.06 lb of pure nitrite in 100 lb of pickle.
@pytest.mark.printed
def test_a_dose_for_the_needle() -> None:
    made = recipe(item("water", 100 * POUND - 0.06 * POUND - 10 * POUND), item("salt", 10 * POUND), item("nitrite", 10), method="pumped", pump=fact(20, 20, "percent"))
    (answer,) = told(made, Wanted(nitrite=120))["nitrite"]
    assert answer.result[0] == pytest.approx(0.06 * POUND, rel=1e-4)
    assert again(answer, "nitrite_pump") == pytest.approx(120, abs=0.3)


# Handbook, meat and pickle as one: agent × 1,000,000 ÷ ppm − pickle, 1.26 g in 600 g at 700 ppm is 1,200 g.
@pytest.mark.printed
def test_the_least_meat_for_a_brine() -> None:
    made = recipe(item("water", 540), item("salt", 58.74), item("nitrite", 1.26), meat=1000)
    (answer,) = told(made, bound=Bound(700, "700", Cite("cfr-424-21")))["least_meat"]
    assert answer.result[0] == pytest.approx(1200)
    assert weights(answer) == [("meat or more", 1200)]
    assert again(answer, "nitrite_equilibrium") == pytest.approx(700)


def test_a_weak_brine_is_within_the_limit_for_any_amount_of_meat() -> None:
    made = recipe(item("water", 4000), item("salt", 300), item("cure1", 10, nitrite=6.25), meat=None)
    (answer,) = told(made)["least_meat"]
    assert answer.weigh == ()
    assert answer.assumed == ("within it for any amount of meat: the brine itself holds 145 ppm at most",)


def test_the_least_meat_needs_no_weight_on_the_page() -> None:
    (answer,) = told(recipe(*BRINE, meat=None))["least_meat"]
    # 2.625 g ÷ 200 ppm − 4,617 g
    assert answer.result[0] == pytest.approx(8508)
    assert weights(answer) == [("meat or more", 8600)]
    assert answer.weigh[0].now is None


def test_salt_in_the_meat_out_of_the_cure() -> None:
    (answer,) = told(recipe(*BRINE), Wanted(salt=2.5))["salt"]
    assert again(answer, "salt_after_cure") == pytest.approx(2.5, abs=0.005)
    # Without the days only what levels out can be told: 2.5 ÷ 97.5 ÷ 0.7 × (4,000 + 1,400) − 39.375.
    (level,) = told(recipe(*BRINE, days=None), Wanted(salt=2.5))["salt"]
    assert level.result[0] == pytest.approx(158.43, abs=0.01)
    assert again(level, "salt_equilibrium") == pytest.approx(2.5, abs=0.008)  # the scale shows 158 g


def test_salt_is_shared_out_over_the_salts_of_the_page() -> None:
    made = recipe(item("water", 4000), item("salt", 300), item("salt", 100))
    (answer,) = told(made, Wanted(brine=10))["brine"]
    # 10 ÷ 90 × 4,000 = 444
    assert weights(answer) == [("salt", 333), ("salt", 111)]
    assert again(answer, "brine_strength") == pytest.approx(10, abs=0.01)


def test_what_cannot_be_is_said_where_it_was_asked_for() -> None:
    assert why(recipe(item("water", 4000), item("salt", 10), item("cure1", 400, nitrite=6.25)), brine=5.0) == ["the curing salt brings more than is wanted"]
    assert why(recipe(item("water", 4000), item("cure1", 40, nitrite=6.25)), brine=5.0) == ["no salt on the page to weigh anew"]
    assert why(recipe(item("water", 4000), item("salt", 300)), nitrite=150.0) == ["no curing salt with nitrite on the page"]
    assert why(recipe(*BRINE, item("cure1", 5, nitrite=6.25)), nitrite=150.0) == ["several things on the page bring nitrite"]
    assert why(recipe(*BRINE), celsius=4.0) == ["the brine is not heated"]
    assert why(recipe(*BRINE, meat=None), nitrite=150.0) == ["the page does not say how much meat"]
    assert why(recipe(item("water", 4000), item("salt", 300)), cure={"nitrite": 0.6}) == ["no curing salt on the page"]
    assert list(answers(Sums(recipe(item("water", None)), House()), Wanted(), LIMIT)) == []


# By hand: 42 g of 6.25 percent hold 2.625 g nitrite and 39.375 g salt; 437.5 g of 0.6 percent hold the nitrite, and 434.875 g salt.
@pytest.mark.computed
def test_the_curing_salt_in_hand() -> None:
    made = recipe(item("water", 4000), item("salt", 500), item("cure1", 42, nitrite=6.25))
    (answer,) = told(made, Wanted(cure={"nitrite": 0.6}))["other_cure"]
    assert weights(answer) == [("curing salt of 0.6 % nitrite", 437.5), ("cure1", 0.0), ("salt", 104)]
    before = Sums(made, House())
    for name in ("nitrite_equilibrium", "brine_strength"):
        was = before.get(name)
        assert was is not None
        assert again(answer, name) == pytest.approx(was.value.likely, rel=2e-3)


def test_a_curing_salt_that_brings_more_salt_than_there_is() -> None:
    made = recipe(item("water", 4000), item("salt", 100), item("cure1", 42, nitrite=6.25))
    (answer,) = told(made, Wanted(cure={"nitrite": 0.6}))["other_cure"]
    assert answer.assumed == ("it brings 396 g salt more, and the page has less than that to take off",)


def test_saltpetre_gives_way_to_a_curing_salt_without_being_asked() -> None:
    made = recipe(item("water", 4000), item("salt", 500), item("nitrate", 20), meat=2000)
    (answer,) = told(made)["other_cure"]
    # 156.25 × (2,000 + 4,500) ÷ (62,500 − 156.25) = 16.29, which brings 15.28 g salt
    assert weights(answer) == [("curing salt of 6.25 % nitrite", 16.3), ("nitrate", 0.0), ("salt", 485)]
    assert again(answer, "nitrite_equilibrium") == pytest.approx(156.6, abs=0.5)
    lower = told(made, bound=Bound(120, "120 ppm", Cite("cfr-424-22")))["other_cure"][0]
    assert again(lower, "nitrite_equilibrium") == pytest.approx(120, abs=1)


def heated(*items: Any, ice: tuple[float, float] | None = None, **more: Any) -> Recipe:
    return recipe(*items, brine_heated=Mention(1, NOWHERE, "boil"), **more)


# Equal weights of boiling water and ice at 0 °C come to 10.2 °C (general-purpose property library, half a degree allowed).
@pytest.mark.computed
def test_ice_in_place_of_the_water() -> None:
    likely, warmest = told(heated(item("water", 4000), item("salt", 1)), Wanted(celsius=10.2))["ice"]
    assert warmest.result[0] == pytest.approx(2000, rel=0.02)
    assert likely.result[0] < warmest.result[0]
    assert sum(value for _, value in weights(warmest)) == 4000
    assert again(likely, "brine_temperature") == pytest.approx(10.2, abs=0.05)


def test_ice_keeps_the_strength_of_the_brine() -> None:
    made = heated(*BRINE)
    answer = told(made)["ice"][0]
    was = Sums(made, House()).get("brine_strength")
    assert was is not None
    assert again(answer, "brine_strength") == pytest.approx(was.value.likely, rel=1e-6)
    assert again(answer, "brine_temperature") == pytest.approx(4.44, abs=0.05)  # 40 °F


def test_the_house_sheets_ice_is_taken() -> None:
    (answer,) = told(heated(*BRINE), house=House(ice=exactly(0)))["ice"]
    assert "ice at -17.8 °C" in answer.assumed


def test_a_brine_for_the_tub() -> None:
    (answer,) = told(recipe(*BRINE, meat=4000, tub=fact(20, 20, "litre")))["tub"]
    assert again(answer, "vessel_volume") == pytest.approx(18, abs=0.02)  # a tenth left empty
    before = Sums(recipe(*BRINE, meat=4000), House())
    for name in ("brine_strength", "nitrite_equilibrium"):
        was = before.get(name)
        assert was is not None
        assert again(answer, name) == pytest.approx(was.value.likely, rel=3e-3)
    assert "tub" not in told(recipe(*BRINE, meat=40_000, tub=fact(20, 20, "litre")))


def test_whole_days_for_the_thickness() -> None:
    typical, most = told(recipe(*BRINE, mm=45))["days"]
    found = Sums(recipe(*BRINE, mm=45), House()).get("days_to_middle")
    assert found is not None
    assert 0 <= typical.weigh[0].value - found.value.likely < 1
    assert 0 <= most.weigh[0].value - found.value.high < 1
    assert again(typical, "nitrite_middle") >= 40  # what colours the middle
    assert typical.weigh[0].now == exactly(7)


@settings(max_examples=60)
@given(st.floats(500, 20_000), st.floats(20, 2000), st.floats(500, 20_000), st.floats(1, 200), st.floats(30, 600))
def test_forward_from_the_rounded_figure_is_within_half_a_step_of_what_was_asked(water: float, salt: float, meat: float, cure: float, ppm: float) -> None:
    made = recipe(item("water", water), item("salt", salt), item("cure1", cure, nitrite=6.25), meat=meat)
    for one in answers(Sums(made, House()), Wanted(nitrite=ppm), LIMIT):
        if isinstance(one, Answer) and one.name == "nitrite":
            half = 0.05 * 0.0625 / (meat + water + salt) * 1e6
            assert again(one, "nitrite_equilibrium") == pytest.approx(ppm, abs=half * 1.01)


@given(st.floats(-1e9, 1e9), st.floats(-1e9, 1e9), st.floats(0, 1e9), st.floats(0, 1e12), st.floats(0.1, 20))
def test_nonsense_gives_no_answer_and_no_crash(water: float, salt: float, meat: float, cure: float, percent: float) -> None:
    made = heated(item("water", water), item("salt", salt), item("cure1", cure, nitrite=6.25), meat=meat, tub=fact(20, 20, "litre"))
    wanted = Wanted(nitrite=150, salt=percent, brine=percent, celsius=4, cure={"nitrite": 0.6})
    for one in answers(Sums(made, House()), wanted, LIMIT):
        if isinstance(one, Answer):
            assert all(part.value >= 0 for part in one.weigh)


@pytest.mark.parametrize(
    ("targets", "cure", "wanted"),
    [
        (("150 ppm",), None, Wanted(nitrite=150)), (("150 mg/kg nitrite", "2.5 % salt"), None, Wanted(nitrite=150, salt=2.5)), (("2,5% salt",), None, Wanted(salt=2.5)),
        (("10 % brine", "41 F"), None, Wanted(brine=10, celsius=5)), (("4 °C",), None, Wanted(celsius=4)),
        ((), "0.6 % nitrite", Wanted(cure={"nitrite": 0.6})), ((), "6.25 % nitrite, 4 % nitrate", Wanted(cure={"nitrite": 6.25, "nitrate": 4})),
        ((), "0,5 % sodium nitrite and 0,5 % potassium nitrate", Wanted(cure={"nitrite": 0.5, "nitrate": 0.5})), ((), None, Wanted()),
    ],
)  # fmt: skip
def test_what_is_asked_for_in_words(targets: tuple[str, ...], cure: str | None, wanted: Wanted) -> None:
    found = asked(targets, cure)
    assert (found.nitrite, found.salt, found.brine, found.celsius, found.cure) == (wanted.nitrite, wanted.salt, wanted.brine, wanted.celsius, wanted.cure)


@pytest.mark.parametrize(
    ("targets", "cure", "message"),
    [
        (("150",), None, "“150” cannot be read; ask for “150 ppm”, “2.5 % salt”, “10 % brine” or “40 F”"),
        (("2.5 %",), None, "“2.5 %”: percent of what? say “2.5 % salt” for the meat, or “2.5 % brine”"),
        (("150 ppm salt",), None, "“150 ppm salt” cannot be read: what is “salt”?"),
        (("30 % brine",), None, "“30 % brine” is out of all bounds; it must be more than nothing and at most 26.4"),
        (("0 ppm",), None, "“0 ppm” is out of all bounds; it must be more than nothing and at most 2000"),
        (("4 C", "40 F"), None, "“40 F”: asked for twice"),
        ((), "pink", "“pink” cannot be read; say what the label says, as “6.25 % nitrite” or “6.25 % nitrite, 4 % nitrate”"),
        ((), "60 % nitrite, 60 % nitrate", "“60 % nitrite, 60 % nitrate” is more than 100 percent"),
    ],
)
def test_what_cannot_be_read_is_said(targets: tuple[str, ...], cure: str | None, message: str) -> None:
    with pytest.raises(ValueError) as problem:
        asked(targets, cure)
    assert str(problem.value) == message


def test_nothing_is_changed_in_the_recipe_itself() -> None:
    made = heated(*BRINE, tub=fact(20, 20, "litre"))
    before = replace(made)
    told(made, Wanted(nitrite=150, salt=2, celsius=4, cure={"nitrite": 0.6}))
    assert made == before


def test_water_to_cover_by_the_meat_and_the_tub() -> None:
    """0.4, 0.6, 1.2 times the meat (several kitchens, from memory), and no more than nine tenths of the tub less the meat."""
    items = (item("water", None), item("salt", 200), item("cure1", 20, nitrite=6.25))
    (answer,) = told(recipe(*items, meat=2000, tub=fact(8, 8, "litre")))["cover"]
    assert weights(answer) == [("water", 1200)]
    assert answer.assumed[0].startswith("between 800 and 2,400 g")
    assert again(answer, "brine_strength") == pytest.approx(100 * 218.75 / 1420, abs=0.01)
    # 3 litres × 0.9 − 2 kg ÷ 1.055
    (tight,) = told(recipe(*items, meat=2000, tub=fact(3, 3, "litre")))["cover"]
    assert weights(tight) == [("water", 803)]
    assert "cover" not in told(recipe(*items, meat=2000))
    assert "cover" not in told(recipe(*items, meat=2000, tub=fact(2, 2, "litre")))
