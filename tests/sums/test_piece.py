"""The shape that a piece is cured as, and what it comes to in a recipe."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from overhaul.house import House
from overhaul.recipe.model import Recipe
from overhaul.sums import penetration, piece, shapes
from overhaul.sums.work import Sums
from overhaul.sums.worked import Sum
from tests.sums import volumes
from tests.sums.recipes import item, recipe


def made(days: float = 7, **meat: Any) -> Recipe:
    """1,800 g water and 180 g salt around 2 kg of beef 90 mm thick (alpha 1.29), with what ``meat`` says of it."""
    found = recipe(item("water", 1800), item("salt", 180), item("cure1", 20, nitrite=6.25), mm=90, days=days)
    assert found.process.meat is not None
    return replace(found, process=replace(found.process, meat=replace(found.process.meat, **meat)))


def worked(name: str, days: float = 7, **meat: Any) -> Sum:
    found = Sums(made(days, **meat), House()).get(name)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("meat", "words"),
    [
        ({}, "both faces bare"), ({"rolled": True}, "a roll, open all round"), ({"sides": (120.0, 300.0)}, "a block, open on all sides"),
        ({"rolled": True, "skin": True}, "one face shut by skin or thick fat"), ({"sides": (120.0, 300.0), "bone": True}, "on the bone, counted from one face"),
        ({"rolled": True, "fat_cap": "thin"}, "a thin fat cap on one face"),
    ],
)  # fmt: skip
def test_the_shape_is_told(meat: dict[str, Any], words: str) -> None:
    assert words in worked("days_to_middle", **meat).assumed


@pytest.mark.computed
def test_a_roll_takes_about_six_tenths_of_the_days_of_a_slab() -> None:
    """The level here is 269 ppm, so that the shares are the same for both; 0.6 is the published rule of thumb for the same thickness."""
    slab, roll = worked("days_to_middle").value, worked("days_to_middle", rolled=True).value
    assert roll.likely / slab.likely == pytest.approx(0.65, abs=0.07)
    assert roll.high / slab.high == pytest.approx(0.63, abs=0.07)


@pytest.mark.computed
@pytest.mark.parametrize("rolled", [True, False])
def test_the_middle_after_the_days_is_that_of_finite_volumes(rolled: bool) -> None:
    """By stepping through shells or layers, at the typical speed; 20 days at 3 °C, half a thickness of 45 mm."""
    theta = 2.0e-10 * penetration.temperature_factor(3) * 20 * 86400 / 0.045**2
    alpha = 1800 / 1400
    mean, middle, _ = volumes.shells(volumes.ROLL if rolled else volumes.SLAB, theta, alpha)
    level = 1.25 / (1800 + 1400) * 0.7 * 1e6
    assert worked("nitrite_middle", days=20, rolled=rolled).value.likely == pytest.approx(middle * level, rel=0.005)
    assert worked("nitrite_estimate", days=20, rolled=rolled).value.likely == pytest.approx(mean * level, rel=0.005)


@pytest.mark.computed
def test_a_block_is_a_little_behind_the_true_one() -> None:
    """Between the slab and the stepped solution of the block in the same bath, which finite volumes are within 0.003 of."""
    block = piece.block((1.0, 1.5, 3.0))
    for theta in (0.05, 0.15, 0.4, 0.8):
        true = penetration.Slab(curve=lambda time: shapes.block_uptake((1.0, 1.5, 3.0), time))
        mean = true.into(1 + 1 / 2, 2, theta)
        assert penetration.uptake(theta, 2) <= block.uptake(theta, 2) <= mean + 3e-3
        middle = true.middle(lambda time: shapes.block_middle((1.0, 1.5, 3.0), time))
        assert penetration.middle(theta, 2) <= block.middle(theta, 2) <= middle + 3e-3
    assert block.theta_for(0.4, 2) < penetration.theta_for_middle(0.4, 2) * (1 + 1e-9)
    assert piece.block((1.0, 1.0, 1.0)).theta_for(0.4, 2) < penetration.theta_for_middle(0.4, 2) * 0.8
    assert block.middle(block.theta_for(0.4, 2), 2) == pytest.approx(0.4, abs=1e-9)


def test_a_cube_needs_fewer_days_than_a_bar_and_a_bar_than_a_slab() -> None:
    cube, bar, slab = (worked("days_to_middle", sides=sides).value.likely for sides in ((90.0, 90.0), (90.0, 400.0), ()))
    assert cube < bar < slab


def test_salt_goes_into_a_roll_faster_and_out_of_it_too() -> None:
    assert worked("salt_after_cure", rolled=True).value.likely > worked("salt_after_cure").value.likely
    soaked = replace(made(rolled=True), process=replace(made(rolled=True).process, soak=made().process.cure_time))
    flat = replace(made(), process=replace(made().process, soak=made().process.cure_time))

    def kept(one: Recipe) -> float:
        sums = Sums(one, House())
        eaten, after = sums.get("salt_as_eaten"), sums.get("salt_after_cure")
        assert eaten is not None and after is not None
        return eaten.value.likely / after.value.likely

    assert kept(soaked) < kept(flat)
