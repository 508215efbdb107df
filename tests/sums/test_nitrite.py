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
