"""How long the sums take, reported and not asserted: ``pytest tests/sums/test_benchmarks.py --benchmark-only``. A normal run skips them."""

from __future__ import annotations

from collections.abc import Callable
from math import inf
from typing import Any

import pytest

from overhaul import facts
from overhaul.house import House
from overhaul.rules import Case, run
from overhaul.span import Span, corners
from overhaul.sums import brine, chilling, lethality, nitrite, of_salt, penetration, piece, salting, shapes, solving
from overhaul.sums.answers import Wanted, answers
from overhaul.sums.work import Sums
from tests.conftest import recipe_of

pytest.importorskip("pytest_benchmark")

NITRITE, COLOUR = (1.0e-10, 2.0e-10, 4.5e-10), (14.0, 40.0, 50.0)


@pytest.fixture(autouse=True)
def only_when_asked(request: pytest.FixtureRequest) -> None:
    if not request.config.getoption("benchmark_only", default=False):
        pytest.skip("benchmarks run with --benchmark-only")


def _new_inverse() -> float:
    penetration.theta_for_middle.cache_clear()
    penetration.roots.cache_clear()
    return penetration.theta_for_middle(0.3, 2.5)


def _band() -> object:
    penetration.theta_for_middle.cache_clear()
    return penetration.days_to_middle(0.045, 150, 2.5, 3, NITRITE, COLOUR, (1.0, 0.6, 0.25))


def _soaked_and_simmered() -> float:
    slab = penetration.Slab()
    slab.into(1.4, 2.5, 0.3)
    slab.into(0.0, 3.0, 0.02)
    return slab.into(0.1, 5.0, 0.1)


def _block() -> float:
    return penetration.Slab(curve=lambda time: shapes.block_uptake([1, 2, 3], time)).into(2.0, 1.0, 0.15)


def _tables_read() -> object:
    facts.dwell_by_fat.cache_clear()
    return facts.dwell_by_fat("chicken")


SALT, REST, MEAT = Span(375, 555, 765), Span(10_000, 11_560, 15_000), Span(2000, 2300, 2600)
CALLS: dict[str, Callable[[], object]] = {
    "strength over spans": lambda: brine.strength_span(SALT, REST),
    "nitrite over spans": lambda: corners(nitrite.equilibrium, Span(1.8, 1.9, 2.0), MEAT, REST),
    "salt at rest over spans": lambda: corners(lambda gram, bath, meat: salting.percent_of_meat(salting.per_water_at_rest(gram, bath, meat), 0.7), SALT, REST, MEAT),
    "ice that all melts": lambda: chilling.mixed_temperature(4, 100, 0, 0, 3.8, -18, 4),
    "ice that stays": lambda: chilling.mixed_temperature(4, 40, 0, 0, 3.8, -18, 4),
    "uptake, series": lambda: penetration.uptake(0.2, 2.5),
    "uptake, early": lambda: penetration.uptake(0.01, 2.5),
    "uptake, endless bath": lambda: penetration.uptake(0.2, inf),
    "middle, series": lambda: penetration.middle(0.2, 2.5),
    "inverse, new": _new_inverse,
    "days, least to most": _band,
    "brine, soak, simmer": _soaked_and_simmered,
    "block in a bath that weakens": _block,
    "roll": lambda: shapes.roll_uptake(0.2),
    "hold by fat": lambda: lethality.wanted_seconds("turkey", 150.5, 7),
    "holds by fat read": _tables_read,
    "ice for a temperature": lambda: solving.ice_for_temperature(5, 4000, 100, 300, -18),
}


@pytest.mark.parametrize("name", CALLS)
def test_time(benchmark: Any, name: str) -> None:
    benchmark(CALLS[name])


PAGES = {
    "brine, soak, simmer": "Corned beef\n\n2 brisket flats, 9 lb in all, 1 3/4 in thick\n1 1/2 gal water\n1 1/2 cups kosher salt\n1 cup sugar\n5 tsp cure no. 1\n\nBoil 3 qt of the water with salt, sugar and cure. Add the rest as 3 qt ice.\nBrine the flats in a 20 L tub 10 days at 38 F, turning daily. Rinse. Soak 2 hours in the fridge. Simmer 3 hours to 200 F inside.\nCool from 135 to 70 F in 2 hours and to 41 F in 4 more. Keeps 4 days.\n",
    "a roll": "Spiced roll\n\n1 brisket, rolled and tied, 5 lb, 3 1/2 in thick\n3 qt water\n300 g salt\n30 g cure no. 1\n\nBrine it 14 days at 38 F, turning daily. Rinse. Simmer 3 hours to 200 F inside.\n",
    "a rub": "Bacon\n\n1 pork belly, 11 lb, 1 1/2 in thick\n120 g salt\n12 g cure no. 1\n\nRub and bag it. 10 days at 38 F, turning daily. Rinse. Smoke at 200 F to 150 F inside.\n",
}  # fmt: skip


def _cold() -> None:
    """Nothing kept from the last round: every recipe has an alpha and shares of its own."""
    for kept in (penetration.roots, penetration.theta_for_middle, penetration.theta_for_uptake, shapes.roll_root, piece._roll_theta, piece.block, of_salt._left):
        kept.cache_clear()


@pytest.mark.parametrize("page", PAGES)
def test_all_sums_of_a_recipe(benchmark: Any, page: str) -> None:
    """Aim: under 10 ms."""
    recipe = recipe_of(PAGES[page])
    benchmark.pedantic(lambda: Sums(recipe, House()).all(), setup=_cold, rounds=100)


@pytest.mark.parametrize("page", PAGES)
def test_the_sums_that_an_audit_asks_for(benchmark: Any, page: str) -> None:
    """Aim: under 2 ms. The rules are run once to see which they ask for."""
    recipe = recipe_of(PAGES[page])
    seen = Sums(recipe, House())
    list(run(Case(recipe, seen, House())))
    names = list(seen._done)

    def asked() -> None:
        sums = Sums(recipe, House())
        for name in names:
            sums.get(name)

    benchmark.pedantic(asked, setup=_cold, rounds=100)


@pytest.mark.parametrize("page", PAGES)
def test_what_to_weigh_out(benchmark: Any, page: str) -> None:
    recipe = recipe_of(PAGES[page])
    wanted = Wanted(nitrite=150, salt=2.2, cure={"nitrite": 0.6})
    benchmark.pedantic(lambda: list(answers(Sums(recipe, House()), wanted, None)), setup=_cold, rounds=30)
