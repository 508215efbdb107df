from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

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
            return x["value"] * x["ratio"]
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
        case "pff":
            return x["protein_percent"] / (100 - x["fat_percent"]) * 100
    raise AssertionError(formula)


@pytest.mark.printed
@pytest.mark.parametrize(("name", "formula", "inputs", "printed", "value"), EXAMPLES, ids=[example[0] for example in EXAMPLES])
def test_worked_examples(name: str, formula: str, inputs: dict[str, float], printed: float | None, value: float) -> None:
    assert worked(formula, inputs) == pytest.approx(value, rel=2e-3), name


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
