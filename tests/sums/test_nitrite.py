from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.reading import units
from overhaul.sums import brine, nitrite, salting
from tests.sums.worked_examples import EXAMPLES

WEIGHT = st.floats(0.1, 1e5)


def worked(formula: str, x: dict[str, float]) -> float:
    """Each example's formula, through our own functions."""
    match formula:
        case "direct_ppm":
            return nitrite.direct(x["agent"], x["green"])
        case "mix_ppm":
            return nitrite.direct(x["mix"] * x["agent_fraction"], x["green"])
        case "pump_ppm":
            return nitrite.pumped(x["agent"], x["pump_fraction"], x["pickle"])
        case "pump_mix_ppm":
            return nitrite.pumped(x["mix"] * x["agent_fraction"], x["pump_fraction"], x["pickle"])
        case "equilibrium_ppm":
            return nitrite.equilibrium(x["agent"], x["green"], x["pickle"])
        case "equilibrium_mix_ppm":
            return nitrite.equilibrium(x["mix"] * x["agent_fraction"], x["green"], x["pickle"])
        case "dry_mix_ppm":
            return nitrite.dry_mix(x["agent"], x["applied_fraction"], x["mix"])
        case "solve_mix":
            return nitrite.agent_for_direct(x["ppm"], x["green"]) / x["agent_fraction"]
        case "solve_agent_pump":
            return nitrite.agent_for_pump(x["ppm"], x["pump_fraction"], x["pickle"])
        case "solve_agent_equilibrium":
            return nitrite.agent_for_equilibrium(x["ppm"], x["green"], x["pickle"])
        case "solve_green_equilibrium":
            return nitrite.green_for_equilibrium(x["agent"], x["ppm"], x["pickle"])
        case "convert":
            if x["ratio"] == 28.3495:
                return x["value"] * float(units.factor("ounce"))
            ((given, wanted),) = (pair for pair, factor in nitrite.FACTORS.items() if abs(factor / x["ratio"] - 1) < 1e-5)
            return nitrite.converted(x["value"], given, wanted)
        case "skin_on_limit":
            return nitrite.skin_on(x["limit"], x["skin_fraction"])
        case "blend_fraction":
            return brine.strength(x["agent"], x["diluent"])
        case "percent_gain":
            return nitrite.percent_gain(x["before"], x["after"])
        case "brine_salt_percent":
            return brine.strength(x["salt"], x["pickle"] - x["salt"])
        case "equilibrium_salt_percent":
            return brine.strength(x["salt"], x["green"] + x["pickle"] - x["salt"])
        case "pumped_salt_percent_of_green":
            return nitrite.pumped(x["salt"], x["pump_fraction"], x["pickle"]) / 10_000
        case "water_phase_salt":
            return salting.water_phase(x["salt_percent"], x["moisture_percent"])
    raise AssertionError(formula)


# Protein-fat-free is not a sum of ours.
OURS = [example for example in EXAMPLES if example[1] != "pff"]


@pytest.mark.computed
@pytest.mark.parametrize(("name", "formula", "inputs", "printed", "value"), OURS, ids=[example[0] for example in OURS])
def test_worked_examples_against_an_independent_reckoning(name: str, formula: str, inputs: dict[str, float], printed: float | None, value: float) -> None:
    assert worked(formula, inputs) == pytest.approx(value, rel=2e-3), name


PRINTED = [(name, formula, inputs, printed) for name, formula, inputs, printed, _ in OURS if printed is not None and not name.startswith("bad")]


@pytest.mark.printed
@pytest.mark.parametrize(("name", "formula", "inputs", "printed"), PRINTED, ids=[example[0] for example in PRINTED])
def test_worked_examples_as_printed(name: str, formula: str, inputs: dict[str, float], printed: float) -> None:
    """Within one of the last figure that the source prints (some cut, some round), or 1.1 percent (0.19 oz stands for 120 ppm)."""
    last = 10.0 ** -len(f"{printed:g}".partition(".")[2])
    assert worked(formula, inputs) == pytest.approx(printed, abs=last, rel=0.011), name


# Figures that their sources print wrongly: ours must be the right one, and not the printed one.
MISPRINTS = [(name, formula, inputs, printed) for name, formula, inputs, printed, value in OURS if printed is not None and name.startswith("bad") and abs(value / printed - 1) > 0.003]


@pytest.mark.printed
@pytest.mark.parametrize(("name", "formula", "inputs", "printed"), MISPRINTS, ids=[example[0] for example in MISPRINTS])
def test_a_misprint_is_not_repeated(name: str, formula: str, inputs: dict[str, float], printed: float) -> None:
    assert worked(formula, inputs) != pytest.approx(printed, rel=0.003), name


@pytest.mark.computed
def test_three_ways_of_one_brine() -> None:
    """3.8 kg water, 328 g salt, 150 g sugar, 1.875 g nitrite, 2.3 kg meat: 438.1 ppm in the brine, 43.8 by a tenth picked up, 285.0 as one system."""
    pickle = 3800 + 328 + 150 + 1.875
    assert nitrite.direct(1.875, pickle) == pytest.approx(438.1, rel=5e-3)
    assert nitrite.pumped(1.875, 0.10, pickle) == pytest.approx(43.8, rel=5e-3)
    assert nitrite.equilibrium(1.875, 2300, pickle) == pytest.approx(285.0, rel=5e-3)


@pytest.mark.computed
def test_a_tenth_pumped_of_a_brine_of_1500_ppm() -> None:
    assert nitrite.pumped(1.5, 0.10, 1000) == pytest.approx(150.0)
    assert salting.percent_pumped(10, 20) == pytest.approx(1.8182, abs=1e-4)


@pytest.mark.parametrize(("given", "wanted", "factor"), [("NaNO2", "KNO2", 85.1030 / 68.9945), ("NO2", "NaNO2", 68.9945 / 46.0047), ("KNO3", "NaNO3", 84.9935 / 101.1020), ("NaNO3", "NO3", 62.0037 / 84.9935)])
def test_factors_are_molar(given: str, wanted: str, factor: float) -> None:
    """Molar masses: IUPAC atomic weights."""
    assert nitrite.converted(1.0, given, wanted) == pytest.approx(factor, rel=1e-4)


@given(WEIGHT, WEIGHT, WEIGHT, st.floats(0.5, 20))
def test_scaling_the_batch_changes_nothing(agent: float, green: float, pickle: float, times: float) -> None:
    assert nitrite.equilibrium(agent * times, green * times, pickle * times) == pytest.approx(nitrite.equilibrium(agent, green, pickle))


@given(WEIGHT, WEIGHT, WEIGHT)
def test_more_meat_less_ppm(agent: float, green: float, pickle: float) -> None:
    assert nitrite.equilibrium(agent, green * 1.5, pickle) < nitrite.equilibrium(agent, green, pickle)
    assert nitrite.equilibrium(agent * 1.5, green, pickle) > nitrite.equilibrium(agent, green, pickle)


@given(st.floats(1, 500), WEIGHT, WEIGHT)
def test_solved_backwards_and_worked_forwards(ppm: float, green: float, pickle: float) -> None:
    agent = nitrite.agent_for_equilibrium(ppm, green, pickle)
    assert nitrite.equilibrium(agent, green, pickle) == pytest.approx(ppm)


@pytest.mark.parametrize(("call", "message"), [(lambda: nitrite.direct(1, 0), "no meat"), (lambda: nitrite.pumped(1, 0.1, 0), "no pickle"), (lambda: nitrite.agent_for_pump(150, 0, 100), "no pump"), (lambda: nitrite.percent_gain(0, 1), "no weight before")])
def test_nothing_to_divide_by_is_refused(call: object, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()  # type: ignore[operator]


# Factors to four figures, by molar masses 68.9945 NaNO2, 85.1030 KNO2, 84.9935 NaNO3, 101.1020 KNO3, 46.0047 NO2, 62.0037 NO3.
@pytest.mark.computed
@pytest.mark.parametrize(
    ("given", "wanted", "factor"),
    [
        ("NaNO2", "KNO2", 1.2335), ("KNO2", "NaNO2", 0.8107), ("NaNO2", "NO2", 0.6668), ("NO2", "NaNO2", 1.4997),
        ("KNO3", "NaNO3", 0.8407), ("NaNO3", "KNO3", 1.1895), ("NaNO3", "NO3", 0.7295), ("NO3", "NaNO3", 1.3708),
    ],
)  # fmt: skip
def test_factors_of_the_note(given: str, wanted: str, factor: float) -> None:
    assert nitrite.converted(1.0, given, wanted) == pytest.approx(factor, abs=5e-5)


# The two that go through a third: KNO2 to the ion 0.5406, KNO3 to the ion 0.6133.
@pytest.mark.computed
def test_factors_by_way_of_another() -> None:
    assert nitrite.converted(nitrite.converted(1.0, "KNO2", "NaNO2"), "NaNO2", "NO2") == pytest.approx(0.5406, abs=5e-5)
    assert nitrite.converted(nitrite.converted(1.0, "KNO3", "NaNO3"), "NaNO3", "NO3") == pytest.approx(0.6133, abs=5e-5)


# One teaspoon of cure no. 1 in 5 lb of meat: measuring spoons of 4.2, 5.67 and 7.5 g, cutlery of 2.5, 5.6 and 9.5 g.
@pytest.mark.computed
@pytest.mark.parametrize(("gram", "ppm"), [(4.2, 116), (5.67, 156), (7.5, 207), (2.5, 69), (5.6, 154), (9.5, 262)])
def test_a_spoon_of_cure_in_five_pounds(gram: float, ppm: float) -> None:
    assert nitrite.direct(gram * 0.0625, 2268) == pytest.approx(ppm, abs=0.6)


# Rules of thumb as the note checks them: 1 lb treats 480 lb; 3 and 4 oz and 4.2 oz a gallon at a tenth; a tablespoon (12.6 to 22.5 g) a gallon at a
# tenth and level with as much meat; half an ounce of a 0.5/0.5 blend a pound.
@pytest.mark.computed
def test_rules_of_thumb() -> None:
    assert nitrite.direct(0.0625, 480) == pytest.approx(130, abs=0.5)
    assert nitrite.pumped(3 * 0.0625, 0.1, 8.5 * 16) == pytest.approx(138, abs=1)
    assert nitrite.pumped(4 * 0.0625, 0.1, 8.33 * 16) == pytest.approx(188, abs=1)
    assert nitrite.pumped(4.2 * 0.0625, 0.1, 8.33 * 16) == pytest.approx(197, abs=0.5)
    for gram, tenth, level in ((12.6, 21, 104), (22.5, 37, 185)):
        assert nitrite.pumped(gram * 0.0625, 0.1, 3785) == pytest.approx(tenth, abs=0.6)
        assert nitrite.equilibrium(gram * 0.0625, 3785, 3785) == pytest.approx(level, abs=1)
    assert nitrite.direct(0.5 * 0.005, 16) == pytest.approx(156, abs=0.5)
    assert nitrite.converted(nitrite.direct(20 * 0.006, 1000), "NaNO2", "NO2") == pytest.approx(80, abs=0.05)
    assert nitrite.direct(13.3 * 0.009, 1000) == pytest.approx(120, abs=0.5)


# Household trial: 5 L of brine with 113 g of 6.25 percent cure a US gallon on 1 kg of meat: about 180 ppm by a tenth picked up, about 1,500 as one system.
@pytest.mark.computed
def test_a_copious_brine_by_both_methods() -> None:
    agent = 113 * 0.0625 * 5 / 3.785
    assert nitrite.pumped(agent, 0.1, 5149) == pytest.approx(180, rel=0.02)
    assert nitrite.equilibrium(agent, 1000, 5149) == pytest.approx(1500, rel=0.02)


# Shared out over water (0.72 of lean meat, 0.85 to 0.92 of the pickle): 8 to 12 percent under the sum by weights at equal weights, 15 to 22 when pickle dominates.
@pytest.mark.computed
@pytest.mark.parametrize(("green", "pickle", "least", "most"), [(1000, 1000, 8, 12), (1000, 1e6, 15, 22)])
def test_the_ceiling_by_water_is_lower(green: float, pickle: float, least: float, most: float) -> None:
    below = [
        100 * (1 - salting.ppm_of_green(salting.per_water_at_rest(1, water * pickle, 0.72 * green), 0.72) / nitrite.equilibrium(1, green, pickle)) for water in (0.85, 0.92)
    ]
    assert below == pytest.approx([least, most], abs=0.7)
