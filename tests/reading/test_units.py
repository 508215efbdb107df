from __future__ import annotations

from fractions import Fraction
from importlib.metadata import version
from pathlib import Path

import pytest
from pint import UnitRegistry

from overhaul.reading import units
from overhaul.reading.line_parser import spellings

# Legal definitions: NIST SP 811 appendix B, and the UK Weights and Measures Act for the imperial ones.
EXACT = {
    "pound": "453.59237", "ounce": "28.349523125", "grain": "0.06479891", "gallon": "3.785411784", "quart": "0.946352946", "cup": "0.2365882365", "tablespoon": "0.01478676478125",
    "teaspoon": "0.00492892159375", "fluid_ounce": "0.0295735295625", "peck": "8.80976754172", "imperial_gallon": "4.54609", "inch": "25.4", "hundredweight": "45359.237", "stone": "6350.29318",
}  # fmt: skip


@pytest.mark.printed
@pytest.mark.parametrize(("unit", "value"), EXACT.items())
def test_factors_are_the_legal_ones(unit: str, value: str) -> None:
    assert units.factor(unit) == Fraction(value)


def test_every_factor_in_use_is_what_pint_says_of_its_own_units() -> None:
    theirs: UnitRegistry = UnitRegistry()  # type: ignore[type-arg]
    names = {"litre": "litre", "drachm": "apothecary_dram", "scruple": "scruple", "hundredweight": "US_hundredweight", "imperial_gallon": "imperial_gallon", "imperial_quart": "imperial_quart", "imperial_pint": "imperial_pint", "imperial_fluid_ounce": "imperial_fluid_ounce", "fluid_ounce": "fluid_ounce", "peck": "peck", "bushel": "bushel", "gill": "gill"}
    for unit in units._known():
        if unit in ("night", "month", "year"):
            continue  # a night's ten hours, a month's thirty days and a year's 365 are ours
        base = next(base for base, what in units.BASES.items() if what == units.dimension(unit))
        expected = theirs.Quantity(1, names.get(unit, unit)).to(base).magnitude
        assert float(units.factor(unit)) == pytest.approx(expected, rel=1e-9), unit


def test_the_written_factors_are_what_pint_says() -> None:
    """After an edit of units.txt: python -m overhaul.reading.units"""
    assert units._written() == units._asked()
    assert len(units._asked()) > 40


def test_they_come_from_the_pint_that_is_asked_for() -> None:
    assert version("pint").startswith(f"{units.PINT}.")


def test_factors_of_other_units_are_not_taken_and_pint_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(units, "PINT", "0.0")
    assert units._written.__wrapped__() is None
    monkeypatch.setattr(units, "_written", lambda: None)
    assert units._known.__wrapped__() == units._asked()


def test_the_factors_are_written_as_they_stand(tmp_path: Path) -> None:
    units.write_factors(tmp_path / "factors.tsv")
    assert (tmp_path / "factors.tsv").read_text("utf-8") == Path(units.__file__).with_name("factors.tsv").read_text("utf-8")


def test_every_spelling_names_a_unit_of_a_known_dimension() -> None:
    for unit in set(spellings().values()):
        assert units.dimension(unit) in ("mass", "volume", "length", "time", "thing"), unit


@pytest.mark.parametrize("text", ["pinch", "T", "C", "fl oz", "pH", "cd", "kkg", ""])
def test_raw_kitchen_text_has_no_factor(text: str) -> None:
    with pytest.raises(KeyError):
        units.factor(text)


def test_an_imperial_kitchen_has_bigger_gallons() -> None:
    assert units.factor("gallon", "imperial") / units.factor("gallon") == Fraction("4.54609") / Fraction("3.785411784")


@pytest.mark.parametrize(("value", "unit", "degf"), [(0, "degC", 32.0), (100, "degC", 212.0), (-18, "degC", -0.4), (38, "degF", 38.0)])
def test_temperatures_become_fahrenheit(value: int, unit: str, degf: float) -> None:
    assert units.fahrenheit(Fraction(value), unit) == pytest.approx(degf)
    assert units.celsius(degf) == pytest.approx((degf - 32) / 1.8)


def test_a_bare_degree_has_no_scale() -> None:
    with pytest.raises(ValueError, match="no scale"):
        units.fahrenheit(Fraction(60), "degree")
