"""The sums of whole pages, by the conventions that everybody works by."""

from __future__ import annotations

import random

import pytest

from overhaul.house import House
from overhaul.sums.work import NAMES, Sum, Sums
from tests.conftest import recipe_of

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
    assert (days.low, days.likely, days.high) == (pytest.approx(1.0, abs=0.02), pytest.approx(3.7, abs=0.02), pytest.approx(8.6, abs=0.05))
    assert worked(FLATS, "salt_equilibrium").value.likely == pytest.approx(3.2, abs=0.01)
    assert worked(FLATS, "salt_after_cure").value.likely == pytest.approx(2.9, abs=0.03)


@pytest.mark.computed
def test_the_reference_slab() -> None:
    """Independent finite volumes: level 242.6 ppm; after 7 days 117 / 157 / 209 ppm mean, 24 / 86 / 181 in the middle; days 1.28 / 4.41 / 9.91."""
    days = worked(SLAB, "days_to_middle").value
    assert (days.low, days.likely, days.high) == (pytest.approx(1.28, rel=0.02), pytest.approx(4.41, rel=0.02), pytest.approx(9.91, rel=0.02))
    estimate = worked(SLAB, "nitrite_estimate").value
    assert (estimate.low, estimate.likely, estimate.high) == (pytest.approx(117, rel=0.01), pytest.approx(157, rel=0.01), pytest.approx(209, rel=0.01))
    middle = worked(SLAB, "nitrite_middle").value
    assert (middle.low, middle.likely, middle.high) == (pytest.approx(24, rel=0.03), pytest.approx(86, rel=0.02), pytest.approx(181, rel=0.02))


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
        "nitrite ÷ (green meat + pickle) × 1,000,000: cure no. 1 18 g, nitrite in it 6.25 %, brisket flat 3,742 g, pickle 3,207 g; = 162 ppm"
    )


def test_which_input_makes_it_wide() -> None:
    text = FLATS.replace("8 1/2 oz fine sea salt", "1 cup kosher salt")
    widest = Sums(recipe_of(text), House()).widest("brine_strength")
    assert widest is not None
    assert widest.name == "kosher salt"
