"""The sums of whole pages, by the conventions that everybody works by."""

from __future__ import annotations

import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from overhaul.house import House
from overhaul.recipe.model import Cooling, Mention, Recipe, Section
from overhaul.span import exactly
from overhaul.sums.of_salt import after_soak
from overhaul.sums.of_time import middle_by
from overhaul.sums.work import NAMES, Sums
from overhaul.sums.worked import CannotTell, Sum
from tests.conftest import recipe_of
from tests.sums.recipes import NOWHERE, OUNCE, POUND, QUART_OF_WATER, fact, item, recipe

FLATS = """Two flats

2 brisket flats, 8 lb 4 oz for the pair, fat off, 1 1/2 inches thick
6 lb 4 oz cold water
8 1/2 oz fine sea salt
4 oz brown sugar
18 g cure no. 1 (6.25 % nitrite)

Stir together and chill to 38 F. Put the flats in under a plate. Refrigerate at 36 to 40 F for 9 days. Rinse. Soak 1 hour in the refrigerator.
Simmer 4 hours to 195 F inside.
"""

# Reference worked recipe for diffusion: 3.8 kg water, 0.328 kg salt, 1.875 g nitrite, 2.3 kg meat at 70 % water, 45 mm, 3 °C.
SLAB = """Check

2300 g brisket flat, trimmed lean, 45 mm thick
3800 g water
300 g salt
30 g cure #1 (6.25 % nitrite)

Chill. Put the flat in under a plate. Refrigerate at 3 °C for 7 days.
"""

LEVEL = """Loin

3 kg pork loin, 60 mm thick
1200 g water
92.4 g salt
10.5 g cure no. 1 (6.25 % nitrite)

Chill the brine. Put the loin in under a plate and refrigerate at 3 °C for 10 days.
"""


def worked(text: str, name: str, house: House | None = None) -> Sum:
    found = Sums(recipe_of(text, house), house or House()).get(name)
    assert found is not None, Sums(recipe_of(text, house), house or House()).why_not(name)
    return found


def test_a_brine_by_weight() -> None:
    """By hand: (240.97 + 16.875) g salt in 3,207.3 g; 1.125 g nitrite in 3,742.1 + 3,207.3 g."""
    assert worked(FLATS, "brine_strength").value.likely == pytest.approx(8.04, abs=0.01)
    level = worked(FLATS, "nitrite_equilibrium").value
    assert level.exact
    assert level.likely == pytest.approx(161.9, abs=0.1)
    assert worked(FLATS, "brine_mass").value.likely == pytest.approx(3207.3, abs=0.5)
    assert worked(FLATS, "salt_mass").value.likely == pytest.approx(240.97, abs=0.01)


@pytest.mark.computed
def test_days_and_salt_of_the_same_brine() -> None:
    """Independent reckoning: 3.7 days typical (1.0 to 8.6); levels out at 3.2 %; about 2.9 after 9 days."""
    days = worked(FLATS, "days_to_middle").value
    assert days.low == pytest.approx(1.0, abs=0.02)
    assert days.likely == pytest.approx(3.7, abs=0.02)
    assert days.high == pytest.approx(8.6, abs=0.05)
    assert worked(FLATS, "salt_equilibrium").value.likely == pytest.approx(3.2, abs=0.01)
    assert worked(FLATS, "salt_after_cure").value.likely == pytest.approx(2.9, abs=0.03)


@pytest.mark.computed
def test_the_reference_slab() -> None:
    """Independent finite volumes: level 242.6 ppm; after 7 days 117 / 157 / 209 ppm mean, 24 / 86 / 181 in the middle; days 1.28 / 4.41 / 9.91."""
    days = worked(SLAB, "days_to_middle").value
    assert days.low == pytest.approx(1.28, rel=0.02)
    assert days.likely == pytest.approx(4.41, rel=0.02)
    assert days.high == pytest.approx(9.91, rel=0.02)
    estimate = worked(SLAB, "nitrite_estimate").value
    assert estimate.low == pytest.approx(117, rel=0.01)
    assert estimate.likely == pytest.approx(157, rel=0.01)
    assert estimate.high == pytest.approx(209, rel=0.01)
    middle = worked(SLAB, "nitrite_middle").value
    assert middle.low == pytest.approx(24, rel=0.03)
    assert middle.likely == pytest.approx(86, rel=0.02)
    assert middle.high == pytest.approx(181, rel=0.02)


def test_salt_shares_out_over_water() -> None:
    """92.4 g salt and 10.5 g cure no. 1 in 1,200 g water with 3 kg loin (water 0.73) level out at 2.15 %."""
    assert worked(LEVEL, "salt_equilibrium").value.likely == pytest.approx(2.15, abs=0.01)


def test_a_measure_has_its_span_and_a_weight_has_none() -> None:
    spoons = FLATS.replace("18 g cure", "3 tsp cure")
    value = worked(spoons, "nitrite_equilibrium").value
    assert value.low / value.likely == pytest.approx(4.2 / 5.67, rel=0.01)
    assert value.high / value.likely == pytest.approx(7.5 / 5.67, rel=0.01)


def test_ice_counts_as_water_and_cools() -> None:
    text = "Brine\n\n1 brisket flat, 8 lb, 1 1/2 in thick\n8 lb water\n8 lb ice\n1 lb salt\n20 g cure #1\n\nBoil the water with the salt. Pour it over the ice and stir. Put the flat in and refrigerate 9 days.\n"
    assert worked(text, "ice_mass").value.likely == pytest.approx(3628.7, abs=0.1)
    found = worked(text, "brine_temperature").value
    assert found.low == pytest.approx(5.4, abs=0.6)  # ice at -18 °C
    assert found.high == pytest.approx(10.0, abs=0.6)  # ice at 0 °C


def test_a_stated_temperature_is_believed() -> None:
    found = worked(FLATS, "brine_temperature")
    assert found.value.likely == pytest.approx(3.33, abs=0.01)
    assert found.inputs[0].stated


@pytest.mark.parametrize(
    ("text", "name", "reason"),
    [
        ("Beef\n\n5 lb brisket\n10 oz salt\n\nRub it and refrigerate 5 days.\n", "brine_strength", "no brine: a dry cure"),
        ("Beef\n\nbrisket\n1 gal water\n10 oz salt\n20 g cure #1\n\nBrine the brisket in the refrigerator for 5 days.\n", "nitrite_equilibrium", "the page does not say how much meat"),
        ("Beef\n\n5 lb brisket\n1 gal water\nsalt\n20 g cure #1\n\nBrine the brisket in the refrigerator for 5 days.\n", "brine_strength", "line 5 does not say how much salt"),
        ("Beef\n\n5 lb brisket\n1 gal water\n1 lb salt\n\nBrine the brisket in the refrigerator for 5 days.\n", "nitrite_equilibrium", "no nitrite on the page"),
        ("Beef\n\n0 lb brisket\n1 gal water\n1 lb salt\n20 g cure #1\n\nBrine the brisket in the refrigerator for 5 days.\n", "meat_mass", "no meat: its weight is nothing"),
    ],
)
def test_what_is_missing_is_said(text: str, name: str, reason: str) -> None:
    sums = Sums(recipe_of(text), House())
    assert sums.get(name) is None
    assert sums.why_not(name) == reason


@pytest.mark.parametrize("amount", ["0 g", "1000000 lb", "0.0001 g", "99999999999999999999 lb", "1/0 g"])
@pytest.mark.parametrize("line", ["18 g cure no. 1 (6.25 % nitrite)", "8 1/2 oz fine sea salt", "6 lb 4 oz cold water"])
def test_absurd_amounts_give_a_sum_or_a_reason_and_never_a_crash(amount: str, line: str) -> None:
    text = FLATS.replace(line, f"{amount} {line.split(' ', 2)[2]}")
    sums = Sums(recipe_of(text), House())
    for name in NAMES:
        found = sums.get(name)
        assert found is not None or sums.why_not(name)
        if found is not None:
            assert all(abs(value) < float("inf") for value in (found.value.low, found.value.likely, found.value.high))


def test_the_span_holds_what_random_draws_inside_the_inputs_give() -> None:
    text = FLATS.replace("18 g cure", "3 tsp cure").replace("6 lb 4 oz cold water", "3 quarts cold water")
    found = worked(text, "nitrite_equilibrium")
    given = {one.name: one.value for one in found.inputs}
    draw = random.Random(3)
    for _ in range(2000):
        cure, meat = (draw.uniform(given[name].low, given[name].high) for name in ("no. 1 cure" if "no. 1 cure" in given else "cure no. 1", "brisket flat"))
        pickle = draw.uniform(given["pickle"].low, given["pickle"].high)
        assert found.value.low - 1e-9 <= cure * 0.0625 / (meat + pickle) * 1e6 <= found.value.high + 1e-9


def test_the_house_sheet_narrows() -> None:
    text = FLATS.replace("18 g cure no. 1 (6.25 % nitrite)", "18 g cure no. 1")
    assert not worked(text, "nitrite_equilibrium").value.exact
    assert worked(text, "nitrite_equilibrium", House(strengths={"cure1": {"nitrite": 6.25}})).value.exact


def test_a_sum_shows_its_work() -> None:
    assert worked(FLATS, "nitrite_equilibrium").worked() == (
        "1.12 g nitrite ÷ (3,742 g meat + 3,207 g pickle) × 1,000,000 = 162 ppm"
    )


def test_which_input_makes_it_wide() -> None:
    text = FLATS.replace("8 1/2 oz fine sea salt", "1 cup kosher salt")
    widest = Sums(recipe_of(text), House()).widest("brine_strength")
    assert widest is not None
    assert widest.name == "kosher salt"


# -- by hand, without reading


def of(made: Recipe, name: str) -> Sum:
    sums = Sums(made, House())
    found = sums.get(name)
    assert found is not None, sums.why_not(name)
    return found


def value_of(made: Recipe, name: str) -> float:
    return of(made, name).value.likely


@pytest.mark.computed
def test_eight_pounds_and_a_quarter_by_hand() -> None:
    """By hand: 1.125 g nitrite in 3,742 + 3,207 g is 162 ppm; 8.0 percent salt."""
    made = recipe(item("water", 6.25 * POUND), item("salt", 8.5 * OUNCE), item("sugar", 4 * OUNCE), item("cure1", 18, nitrite=6.25), meat=8.25 * POUND)
    assert value_of(made, "brine_strength") == pytest.approx(8.0, abs=0.05)
    assert value_of(made, "nitrite_equilibrium") == pytest.approx(162, abs=0.5)
    assert of(made, "nitrite_equilibrium").value.exact


@pytest.mark.computed
def test_seven_pounds_with_ice_by_hand() -> None:
    """By hand: 1.4375 g nitrite in 3,175 + (2,363 or so + 2,268 + 326 + 156 + 23) g is 171 to 175 ppm."""
    made = recipe(item("water", 2.5 * QUART_OF_WATER), item("ice", 5 * POUND), item("salt", 11.5 * OUNCE), item("sugar", 5.5 * OUNCE), item("cure1", 23, nitrite=6.25), meat=7 * POUND)
    assert 171 <= value_of(made, "nitrite_equilibrium") <= 175
    assert value_of(made, "ice_mass") == pytest.approx(2268, abs=0.5)
    assert value_of(made, "water_mass") == pytest.approx(2363, abs=2)  # the ice left out


def test_an_input_that_stands_twice_moves_once() -> None:
    """Spooned cure is in the nitrite and in the pickle: at its high end both are."""
    made = recipe(item("water", 500), item("salt", 50), item("cure1", (8.0, 11.0, 15.0), nitrite=6.25), meat=1000)
    found = of(made, "nitrite_equilibrium").value
    for value, cure in zip((found.low, found.likely, found.high), (8.0, 11.0, 15.0), strict=True):
        assert value == pytest.approx(cure * 0.0625 / (1000 + 550 + cure) * 1e6)
    salty = of(made, "brine_strength").value
    assert salty.high == pytest.approx(100 * (50 + 15 * 0.9375) / 565)
    two = recipe(item("water", 500), item("salt", 50), item("cure1", (8.0, 11.0, 15.0), nitrite=6.25), item("cure1", (4.0, 5.0, 6.0), nitrite=6.25), meat=1000)
    assert of(two, "nitrite_equilibrium").value.high == pytest.approx(21 * 0.0625 / 1571 * 1e6)


def test_cure_in_percent_of_a_meat_of_open_weight_is_exact() -> None:
    """0.25 percent of 6.25 percent cure is 156.25 ppm, whatever the meat weighs."""
    made = recipe(item("salt", (45.0, 50.0, 55.0), percent_of_meat=2.5), item("cure1", (4.5, 5.0, 5.5), nitrite=6.25, percent_of_meat=0.25), meat=(1800.0, 2000.0, 2200.0), method="dry")
    found = of(made, "nitrite_direct").value
    assert found.low == pytest.approx(156.25)
    assert found.high == pytest.approx(156.25)
    by_spoon = recipe(item("salt", 50), item("cure1", 5, nitrite=6.25), meat=(1800.0, 2000.0, 2200.0), method="dry")
    assert of(by_spoon, "nitrite_direct").value.high == pytest.approx(5 * 0.0625 / 1800 * 1e6)


def test_without_a_method_water_makes_a_brine_and_salt_alone_a_rub() -> None:
    wet = recipe(item("water", 2000), item("salt", 100), item("cure1", 10, nitrite=6.25), method=None)
    assert Sums(wet, House()).get("nitrite_direct") is None
    assert value_of(wet, "nitrite_equilibrium") == pytest.approx(0.625 / 4110 * 1e6)
    dry = recipe(item("salt", 50), item("cure1", 5, nitrite=6.25), method=None)
    assert Sums(dry, House()).why_not("nitrite_equilibrium") == "no brine: a dry cure"
    assert value_of(dry, "nitrite_direct") == pytest.approx(156.25)


@pytest.mark.computed
def test_pumped_salt_is_what_the_needle_carries() -> None:
    """A tenth of a 20 percent brine is 1.8182 percent of the pumped meat, and 1,500 ppm of it 150 ppm of the green."""
    made = recipe(item("water", 7760), item("salt", 1977.5), item("cure1", 24, nitrite=6.25), item("sugar", 238.5), meat=5000, method="pumped", pump=fact(10, 10, "percent"))
    assert value_of(made, "brine_strength") == pytest.approx(20.0, abs=1e-6)
    assert value_of(made, "salt_equilibrium") == pytest.approx(1.8182, abs=1e-4)
    assert value_of(made, "salt_after_cure") == pytest.approx(1.8182, abs=1e-4)
    assert value_of(made, "nitrite_pump") == pytest.approx(15.0, abs=0.01)
    unsaid = recipe(item("water", 8000), item("salt", 2000), meat=5000, method="pumped")
    assert Sums(unsaid, House()).why_not("salt_equilibrium") == "the page does not say how much is pumped in"


def test_pumped_and_covered_lies_between_pumped_and_level() -> None:
    items = (item("water", 4000), item("salt", 400), item("cure1", 30, nitrite=6.25))
    made = recipe(*items, method="pumped-immersion", pump=fact(10, 10, "percent"))
    covered, plain = value_of(made, "nitrite_estimate"), value_of(recipe(*items), "nitrite_estimate")
    assert value_of(made, "nitrite_pump") < covered
    assert plain < covered
    level = 1.875 / (4000 + 1400) * 0.7 * 1e6  # no uptake of liquid
    assert covered < level * 1.2
    assert value_of(recipe(*items, method="pumped-immersion", pump=fact(10, 10, "percent"), days=1000.0), "nitrite_estimate") == pytest.approx(1.875 / 5400 * (0.7 + 0.1 * 4000 / 4430) * 1e6, rel=0.01)
    unsaid = of(recipe(*items, method="pumped-immersion"), "nitrite_estimate")
    assert any("needle" in words for words in unsaid.assumed)


@pytest.mark.computed
@pytest.mark.parametrize(("hours", "percent"), [(2, 1.98), (3, 1.86), (4, 1.78)])
def test_the_reference_slab_as_eaten(hours: int, percent: float) -> None:
    """Independent stepping of the same cure, then simmered 2, 3, 4 hours in 5 kg: 1.98, 1.86, 1.78 percent at typical speeds."""
    simmered = SLAB.replace("for 7 days.", f"for 7 days.\nSimmer in fresh water {hours} hours, to 195 F inside.")
    assert worked(simmered, "salt_as_eaten").value.likely == pytest.approx(percent, rel=0.02)
    steamed = SLAB.replace("for 7 days.", "for 7 days.\nSteam until 195 F inside.")
    assert worked(steamed, "salt_as_eaten").value.likely == pytest.approx(2.45, rel=0.02)


def test_a_soak_only_takes_salt_away_and_a_longer_one_more() -> None:
    items = (item("water", 4000), item("salt", 400), item("cure1", 20, nitrite=6.25))
    done = fact(195, 195, "degF")
    none, short, long = (of(recipe(*items, soak=soak, final_temperature=done), "salt_as_eaten").value for soak in (None, fact(1, 1, "hour"), fact(12, 12, "hour")))
    assert long.likely < short.likely < none.likely
    ranged = of(recipe(*items, soak=fact(1, 12, "hour"), final_temperature=done), "salt_as_eaten").value
    assert ranged.low <= long.low + 1e-9
    assert ranged.high >= short.high - 1e-9


@pytest.mark.parametrize(
    ("name", "spooned", "widest"),
    [("brine_strength", "salt", "salt"), ("nitrite_equilibrium", "cure", "cure1"), ("nitrite_estimate", "none", "how fast nitrite moves in meat"), ("nitrite_pick_up", "none", "weight picked up")],
)
def test_the_widest_input_is_the_one_that_narrows_most_when_settled(name: str, spooned: str, widest: str) -> None:
    salt = (100.0, 110.0, 250.0) if spooned == "salt" else 150.0
    cure = (8.0, 11.0, 15.0) if spooned == "cure" else 11.0
    made = recipe(item("water", (1990.0, 2000.0, 2010.0)), item("salt", salt), item("cure1", cure, nitrite=6.25))
    found = Sums(made, House()).widest(name)
    assert found is not None
    assert found.name == widest
    assert Sums(recipe(item("water", 2000), item("salt", 100)), House()).widest("brine_strength") is None


@pytest.mark.computed
def test_the_share_of_the_width_that_one_input_accounts_for() -> None:
    """By hand: 100 to 250 g salt in 1,900 to 2,100 g water is 4.545 to 11.628 percent; with 110 g salt it is 4.977 to 5.473."""
    made = recipe(item("water", (1900.0, 2000.0, 2100.0)), item("salt", (100.0, 110.0, 250.0)))
    found = Sums(made, House()).widest_share("brine_strength")
    assert found is not None
    assert found[0].name == "salt"
    width, narrow = 100 * 250 / 2150 - 100 * 100 / 2200, 100 * 110 / 2010 - 100 * 110 / 2210
    assert found[1] == pytest.approx(1 - narrow / width)
    assert found[1] == pytest.approx(0.930, abs=0.001)


def test_a_sole_open_input_accounts_for_all_and_an_exact_sum_has_none() -> None:
    salty = Sums(recipe(item("water", 2000), item("salt", (100.0, 110.0, 250.0))), House())
    found = salty.widest_share("brine_strength")
    assert found is not None
    assert found[1] == pytest.approx(1)
    cured = Sums(recipe(item("water", 2000), item("salt", 100), item("cure1", 11, nitrite=6.25)), House())
    picked = cured.widest_share("nitrite_pick_up")  # a figure of facts, not of the page
    assert picked is not None
    assert picked[0].name == "weight picked up"
    assert picked[1] == pytest.approx(1)
    assert cured.widest_share("brine_strength") is None
    assert cured.widest_share("lethality") is None  # no such sum on this page


@given(*[st.floats(0, 0.4)] * 4)
@settings(max_examples=25, deadline=None)
def test_a_share_is_of_the_whole_width_and_of_the_widest_input(water: float, salt: float, cure: float, meat: float) -> None:
    def about(value: float, part: float) -> tuple[float, float, float]:
        return value * (1 - part), value, value * (1 + part)

    made = recipe(item("water", about(2000, water)), item("salt", about(120, salt)), item("cure1", about(11, cure), nitrite=6.25), meat=about(2000, meat))
    sums = Sums(made, House())
    for name, one in sums.all().items():
        found = sums.widest_share(name)
        assert sums.widest(name) == (found[0] if found is not None else None)
        if found is not None:
            assert not one.value.exact
            assert 0 < found[1] <= 1


def test_what_a_list_of_its_own_makes() -> None:
    made = recipe(item("water", 2000), item("salt", 100))
    spice = Section("Pickling spice:", 9, NOWHERE, (item("spice", (15.0, 17.0, 20.0), 10), item("spice", 20, 11), item("spice", None, 12)))
    named = replace(item("spice", 30, 8), name="pickling spice")
    main = Section(None, 1, NOWHERE, (*made.sections[0].ingredients, named))
    made = replace(made, sections=(spice, main))
    sums = Sums(made, House())
    found = sums.get("section_yield")
    assert found is not None
    assert (found.value.low, found.value.likely, found.value.high) == (35, 37, 40)
    assert found.assumed == ("spice is not counted; nothing tells its grams",)
    (only,) = sums.section_yields()
    assert only.section == "pickling spice"
    assert only.takes[0].value.likely == 30
    assert Sums(recipe(item("water", 2000)), House()).get("section_yield") is None


# FDA Food Code 2022, 3-501.14(A): 135 to 70 °F in 2 hours, and 135 to 41 °F in 6 in all.
@pytest.mark.printed
def test_a_slow_second_step_counts() -> None:
    def legs(first: float, second: float) -> tuple[Cooling, ...]:
        return Cooling(135, 70, first, first, 1, NOWHERE), Cooling(70, 41, second, second, 1, NOWHERE)

    assert value_of(recipe(cooling=legs(2, 4)), "cooling") == pytest.approx(1.0)
    assert value_of(recipe(cooling=legs(4, 1)), "cooling") == pytest.approx(0.5)
    assert value_of(recipe(cooling=legs(2, 10)), "cooling") == pytest.approx(0.5)
    assert value_of(recipe(cooling=legs(1, 4)), "cooling") == pytest.approx(1.2)


@pytest.mark.parametrize("role", ["water", "salt", "sugar", "cure1"])
def test_less_than_nothing_is_a_reason(role: str) -> None:
    items = {"water": item("water", 2000), "salt": item("salt", 100), "sugar": item("sugar", 50), "cure1": item("cure1", 10, nitrite=6.25)}
    items[role] = item(role, -5.0, nitrite=6.25 if role == "cure1" else None)  # type: ignore[arg-type]
    sums = Sums(recipe(*items.values()), House())
    for name in ("brine_strength", "nitrite_equilibrium", "brine_mass"):
        assert sums.get(name) is None
        assert "below nothing" in (sums.why_not(name) or "")


@pytest.mark.parametrize("times", [0.01, 3.0, 1000.0])
def test_the_size_of_the_batch_changes_no_strength(times: float) -> None:
    def batch(by: float) -> Recipe:
        return recipe(item("water", 3800 * by), item("salt", (250 * by, 300 * by, 400 * by)), item("cure1", 30 * by, nitrite=6.25), meat=2300 * by, soak=fact(1, 2, "hour"), final_temperature=fact(195, 195, "degF"))

    one, other = Sums(batch(1.0), House()).all(), Sums(batch(times), House()).all()
    assert list(one) == list(other)
    for name, found in one.items():
        if found.unit in ("percent", "ppm", "degree", "day"):
            assert (found.value.low, found.value.likely, found.value.high) == pytest.approx((other[name].value.low, other[name].value.likely, other[name].value.high)), name


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))
@settings(max_examples=40)
def test_spans_hold_what_any_draw_of_their_inputs_gives(a: float, b: float, c: float, d: float, e: float) -> None:
    def drawn(part: float, low: float, high: float) -> float:
        return low + part * (high - low)

    ends = {"water": (1800.0, 2200.0), "salt": (90.0, 250.0), "cure": (8.0, 15.0), "meat": (1500.0, 2600.0), "mm": (38.0, 57.0)}
    wide = recipe(
        item("water", (1800.0, 2000.0, 2200.0)), item("salt", (90.0, 150.0, 250.0)), item("cure1", (8.0, 11.0, 15.0), nitrite=6.25), meat=(1500.0, 2000.0, 2600.0), mm=(38.0, 45.0, 57.0)
    )
    water, salt, cure, meat, mm = (drawn(part, *ends[name]) for part, name in zip((a, b, c, d, e), ends, strict=True))
    one = recipe(item("water", water), item("salt", salt), item("cure1", cure, nitrite=6.25), meat=meat, mm=mm)
    for name in ("brine_strength", "brine_mass", "nitrite_equilibrium", "nitrite_pick_up", "nitrite_estimate", "nitrite_middle", "salt_equilibrium", "salt_after_cure", "vessel_volume"):
        whole, part = of(wide, name).value, of(one, name).value
        assert whole.low * (1 - 1e-9) <= part.low <= part.high <= whole.high * (1 + 1e-9), name


@pytest.mark.parametrize(
    "made",
    [
        recipe(), recipe(item("water", 0), item("salt", 0)), recipe(item("salt", 0), item("cure1", 0), method="dry"), recipe(item("water", 1000), item("salt", 100), meat=0),
        recipe(item("water", 1000), item("salt", 100), item("cure1", 10), meat=None), recipe(item("water", 1000), item("salt", 100), item("cure1", 10), mm=0.0),
        recipe(item("water", 1e300), item("salt", 1e300), item("cure1", 1e300), meat=1e300), recipe(item("water", 1e-300), item("salt", 1e-300), item("cure1", 1e-300), meat=1e-300),
        recipe(item("water", 1000), item("salt", 100), item("cure1", 10), days=0.0), recipe(item("water", 1000), item("salt", 100), item("cure1", 10), days=1e12),
        recipe(item("water", 1000), item("salt", 100), item("cure1", 10), cure_temperature=fact(-459.67, -459.67, "degF")),
        recipe(item("water", 1000), item("salt", 100), item("cure1", 10), method="pumped", pump=fact(0, 0, "percent")),
        recipe(item("water", 1000), item("salt", 100), item("cure1", 10), method="pumped-immersion", pump=fact(900, 900, "percent")),
        recipe(item("water", 1000), item("salt", 100), item("cure1", 10, nitrite=100)), recipe(item("water", 1000), item("salt", None), item("cure1", None)),
        recipe(item("water", 1000), item("salt", 100), soak=fact(1e9, 1e9, "hour"), cook=Mention(1, NOWHERE, "simmer")),
    ],
)  # fmt: skip
def test_whatever_stands_there_each_sum_is_a_finite_figure_or_a_reason(made: Recipe) -> None:
    sums = Sums(made, House())
    for name in NAMES:
        found = sums.get(name)
        if found is None:
            assert sums.why_not(name)
            continue
        assert all(abs(value) < float("inf") for value in (found.value.low, found.value.likely, found.value.high))
        assert found.worked()
        sums.widest(name)


@pytest.mark.computed
def test_days_between_needles() -> None:
    """Recomputed by an independent series for 25 mm at 3 °C: 0.58, 2.19, 5.71 days."""
    found = of(recipe(item("water", 2000), item("salt", 200), item("cure1", 10), method="pumped", pump=fact(10, 10, "percent"), mm=None), "days_to_middle")
    assert (found.value.low, found.value.likely, found.value.high) == pytest.approx((0.58, 2.19, 5.71), rel=0.02)
    assert found.assumed == ("pumped all through, a needle every 25 mm; the page does not say", "at 3 °C")


def test_pumped_and_covered_takes_the_shorter_way() -> None:
    items = (item("water", 4000), item("salt", 400), item("cure1", 30, nitrite=6.25))
    covered, needled = (of(recipe(*items, method=method, mm=120, pump=pump), "days_to_middle") for method, pump in (("pumped-immersion", fact(10, 10, "percent")), ("pumped", fact(10, 10, "percent"))))
    assert covered.value == needled.value
    assert needled.formula in [one.formula for one in covered.beside]
    thin = of(recipe(*items, method="pumped-immersion", mm=10, pump=fact(10, 10, "percent")), "days_to_middle").value
    assert thin.high < needled.value.low


@pytest.mark.computed
def test_days_without_a_weight_take_the_brine_as_endless() -> None:
    """Independent series, 45 mm at 3 °C in a bath that never weakens: 1.71, 6.76, 15.93 days for 14, 40, 50 of 150 ppm."""
    gram = 150e-6 / 0.7 * 4000 / 0.0625
    found = of(recipe(item("water", 4000), item("salt", 400), item("cure1", gram, nitrite=6.25), meat=None, mm=45), "days_to_middle")
    assert (found.value.low, found.value.likely, found.value.high) == pytest.approx((1.71, 6.76, 15.93), rel=0.02)
    assert "so little meat that the brine does not weaken; the page gives no weight" in found.assumed
    some = of(recipe(item("water", 4000), item("salt", 400), item("cure1", gram, nitrite=6.25), meat=2000, mm=45), "days_to_middle")
    assert found.value.low < some.value.low


def test_days_without_a_weight_in_a_rub_cannot_be_told() -> None:
    made = recipe(item("salt", 40), item("cure1", 5, nitrite=6.25), meat=None, method="dry")
    assert Sums(made, House()).why_not("days_to_middle") == "the page does not say how much meat"


def test_without_nitrite_the_salt_is_followed() -> None:
    """25, 50 and 80 % of level; half of it takes the days that half of the nitrite would at salt's own speed."""
    plain = of(recipe(item("water", 4000), item("salt", 400)), "days_to_middle")
    assert plain.formula.startswith("time for 25, 50, 80 % of the level of salt")
    cured = of(recipe(item("water", 4000), item("salt", 400), item("nitrate", 5)), "days_to_middle")
    assert cured.value.likely == pytest.approx(plain.value.likely, rel=0.01)
    unknown = recipe(item("water", 4000), item("salt", 400), item("cure1", None))
    assert Sums(unknown, House()).get("days_to_middle") is None


@pytest.mark.computed
def test_the_brine_alone_bounds_any_amount_of_meat() -> None:
    """By hand: 2.625 g nitrite in 4,617 g is 568.6 ppm; no meat weight is wanted for it."""
    items = (item("water", 4000), item("salt", 350), item("sugar", 225), item("cure1", 42, nitrite=6.25))
    assert value_of(recipe(*items, meat=None), "nitrite_any_meat") == pytest.approx(568.6, abs=0.1)
    for meat in (1.0, 100.0, 2000.0):
        assert value_of(recipe(*items, meat=meat), "nitrite_equilibrium") < 568.6
    rub = recipe(item("salt", 40), item("cure1", 5), method="dry")
    assert Sums(rub, House()).get("nitrite_any_meat") is None


# Molar masses of the elements (IUPAC): 84.995 of sodium nitrate to 101.103 of potassium nitrate.
@pytest.mark.printed
def test_saltpetre_counts_by_its_own_weight_and_stands_beside_as_sodium_nitrate() -> None:
    found = of(recipe(item("salt", 40), item("nitrate", 1), method="dry", meat=2000), "nitrate_direct")
    assert found.value.likely == pytest.approx(500)
    assert [one.value.likely for one in found.beside] == [pytest.approx(500 * 84.995 / 101.103, rel=1e-4)]
    mixed = of(recipe(item("salt", 40), item("cure2", 5), method="dry", meat=2000), "nitrate_direct")
    assert mixed.beside == ()


def test_the_salt_of_a_rub_is_eaten_too() -> None:
    """By hand: 26 g × 0.7 on 2 kg less 35 % is 1.4 %."""
    plain = recipe(item("water", 2000), item("salt", 100), cook=Mention(1, NOWHERE, "smoke"))
    rub = Section("Rub", 9, NOWHERE, (replace(item("salt", 26, line=9), use="rub"),), "rub")
    rubbed = replace(plain, sections=(*plain.sections, rub))
    more = [getattr(of(rubbed, "salt_as_eaten").value, end) - getattr(of(plain, "salt_as_eaten").value, end) for end in ("low", "likely", "high")]
    assert more == pytest.approx([0.8, 1.4, 2.0])
    assert ("salt", 9) in [(one.name, one.line) for one in of(rubbed, "salt_as_eaten").inputs]


# Salt brines at 60 °F, Oregon State SG 22, table 1: 26.4 degrees is 6.97 % by weight, specific gravity 1.051; freezing points of the handbook's table.
@pytest.mark.printed
def test_the_brine_in_other_words() -> None:
    made = recipe(item("water", 930), item("salt", 70), meat=1000)
    assert value_of(made, "brine_strength") == pytest.approx(7)
    assert value_of(made, "brine_of_water") == pytest.approx(100 * 70 / 930)
    assert value_of(made, "brine_density") == pytest.approx(1.051 * 0.999, abs=0.001)
    assert value_of(made, "brine_freezing") == pytest.approx(-4.38, abs=0.05)
    assert value_of(made, "brine_fullness") == pytest.approx(70 / 930 * 73.6 / 26.4)


# 24 hours in one water keep 0.715 of the salt, three times eight 0.699: computed outside this project, 4 kg water on 2.3 kg meat.
@pytest.mark.computed
def test_changes_of_water_take_a_little_more_out() -> None:
    def kept(waters: int) -> float:
        made = recipe(item("water", 3800), item("salt", 300), item("cure1", 30, nitrite=6.25), meat=2300, mm=45, soak=fact(24, 24, "hour"), soak_waters=waters)
        return next(one.value.likely for one in of(made, "salt_as_eaten").inputs if one.name == "kept")

    assert kept(1) == pytest.approx(0.715, rel=0.02)
    assert kept(3) == pytest.approx(0.699, rel=0.02)
    assert kept(3) < kept(1)


@given(st.floats(1, 14), st.sampled_from((None, 0.5, 4.0, 24.0)), st.sampled_from((None, "simmer", "smoke")))
def test_the_likely_as_eaten_by_itself_is_that_of_the_sum(days: float, soak: float | None, fire: str | None) -> None:
    more: dict[str, Any] = {} if soak is None else {"soak": fact(soak, soak, "hour")}
    if fire is not None:
        more["cook"] = Mention(1, NOWHERE, fire)
    made = recipe(item("water", (2800, 3000, 3300)), item("salt", 200), item("cure1", 15, nitrite=6.25), days=days, **more)
    alone = Sums(made, House()).likely_as_eaten()
    assert alone == pytest.approx(of(made, "salt_as_eaten").value.likely, rel=1e-9)


def test_no_likely_as_eaten_where_there_is_no_sum() -> None:
    made = recipe(item("water", None), item("salt", 200))
    assert Sums(made, House()).likely_as_eaten() is None


SOAKED = "Corned flat\n\n9 lb brisket flat, 1 3/4 in thick\n1 gal water\n340 g salt\n20 g cure no. 1\n\nBrine the flat 9 days at 38 F, turning daily. Rinse. Soak 2 hours in the fridge.\n"


def test_the_middle_at_the_stated_days_is_the_sum_of_that_name() -> None:
    sums = Sums(recipe_of(SOAKED), House())
    found = sums.get("nitrite_middle")
    assert found is not None
    assert middle_by(sums, 9) == found.value
    assert middle_by(sums, 4).likely < found.value.likely < middle_by(sums, 20).likely
    assert middle_by(sums, 0) == exactly(0)


def test_after_the_soak_of_meat_that_is_eaten_raw_is_as_eaten() -> None:
    """Without a fire the plate holds what the soak has left; with one, the soak is the same and the plate is not."""
    raw, simmered = Sums(recipe_of(SOAKED), House()), Sums(recipe_of(SOAKED.replace("fridge.", "fridge. Simmer 3 hours to 200 F inside.")), House())
    eaten = raw.get("salt_as_eaten")
    assert eaten is not None
    assert after_soak(raw).value == eaten.value == after_soak(simmered).value
    assert simmered.need("salt_as_eaten").value.likely != eaten.value.likely
    with pytest.raises(CannotTell, match="no soak"):
        after_soak(Sums(recipe_of(SOAKED.replace(" Soak 2 hours in the fridge.", "")), House()))
