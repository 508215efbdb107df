from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files
from math import ceil

import pytest

from overhaul import facts
from overhaul.sums import lethality
from tests.sums.appendix_a import CHICKEN, MEAT, TURKEY

# FSIS Cooking Guideline (Revised Appendix A), December 2021, Tables 2 to 4.
CASES = [
    ("meat", 140, 720, True), ("meat", 140, 719, False), ("meat", 145, 240, True), ("meat", 145, 180, False), ("meat", 157, 13, False), ("meat", 158, 0, True), ("meat", 129, 36_000, False),
    ("meat", 140.6, 720, True), ("chicken", 157, 34, True), ("turkey", 157, 34, False), ("turkey", 157, 50.4, True), ("chicken", 150, 252, True), ("chicken", 162, 0, False), ("chicken", 163, 0, True),
    ("turkey", 164, 0, False),
]  # fmt: skip


@pytest.mark.printed
@pytest.mark.parametrize(("table", "degf", "seconds", "passes"), CASES)
def test_the_tables(table: str, degf: float, seconds: float, passes: bool) -> None:
    assert lethality.passes(table, degf, seconds) is passes


def test_every_row_of_every_table_once() -> None:
    for name, row in facts.table("dwell").items():
        table, degf = name.removeprefix("dwell_").split(".")
        assert lethality.wanted_seconds(table, float(degf)) == row.value
        assert lethality.passes(table, float(degf), row.value)


# FSIS Appendix A (2021), Table 2, 6.5 log: the Celsius it prints beside its Fahrenheit, with the seconds of that row.
PRINTED_CELSIUS = [(54.4, 6720), (56.1, 3360), (57.2, 2160), (61.1, 480), (62.2, 300), (63.3, 169), (64.4, 107), (66.1, 54), (67.2, 34), (68.3, 22), (69.4, 14)]


@pytest.mark.printed
@pytest.mark.parametrize(("celsius", "seconds"), PRINTED_CELSIUS)
def test_a_printed_celsius_is_its_own_row(celsius: float, seconds: float) -> None:
    assert lethality.wanted_seconds("meat", celsius * 9 / 5 + 32) == seconds


def test_below_the_first_row_no_time_is_enough() -> None:
    assert lethality.wanted_seconds("meat", 129.9) is None
    assert lethality.hold_ratio("meat", 120, 1e6) is None


def test_a_ratio_of_one_is_just_enough() -> None:
    assert lethality.hold_ratio("meat", 145, 240) == 1.0
    assert lethality.hold_ratio("meat", 160, 10) is None


@pytest.mark.printed
@pytest.mark.parametrize(("degf", "celsius", "seconds"), MEAT)
def test_every_row_for_meat(degf: float, celsius: float, seconds: float) -> None:
    assert lethality.wanted_seconds("meat", degf) == seconds
    assert lethality.wanted_seconds("meat", degf + 0.4) == seconds
    # 137 and 139 °F are printed beside 58.4 and 59.5 °C, which is 0.01 to 0.1 °F more.
    assert lethality.wanted_seconds("meat", celsius * 9 / 5 + 32) == seconds


POULTRY = [("chicken", degf, seconds) for degf, seconds in CHICKEN] + [("turkey", degf, seconds) for degf, seconds in TURKEY]


@pytest.mark.printed
@pytest.mark.parametrize(("species", "degf", "seconds"), POULTRY)
def test_every_row_and_column_for_poultry(species: str, degf: float, seconds: tuple[float, ...]) -> None:
    assert len(seconds) == 12
    for percent, wanted in enumerate(seconds, 1):
        assert lethality.wanted_seconds(species, degf, percent) == wanted
        assert lethality.wanted_seconds(species, degf + 0.4, percent - 0.5) == wanted
        assert lethality.passes(species, degf, wanted, percent)
        assert not wanted or not lethality.passes(species, degf, wanted - 0.05, percent)
    assert lethality.wanted_seconds(species, degf) == lethality.wanted_seconds(species, degf, 40) == seconds[-1]


def test_the_two_tables_of_facts_agree_where_both_have_a_row() -> None:
    for species in ("chicken", "turkey"):
        twelve = {degf: seconds[-1] for degf, seconds in facts.dwell_by_fat(species).items()}
        assert twelve == lethality._rows(species)
        assert lethality.wanted_seconds(species, 135.9, 1) is None
        assert lethality.wanted_seconds(species, 200, 12) == 0


# Fat unknown is the 12 percent column; no fat at all the first; a fat between two columns the higher.
@pytest.mark.printed
@pytest.mark.parametrize(("fat", "seconds"), [(None, 252), (0, 162), (1, 162), (4.2, 168), (7, 180), (7.01, 186), (12, 252), (30, 252)])
def test_the_column_at_or_above_the_fat(fat: float | None, seconds: float) -> None:
    assert lethality.wanted_seconds("chicken", 150, fat) == seconds


@pytest.mark.printed
def test_another_bird_wants_the_longer_of_the_two() -> None:
    """Chicken's is the longer below 142 °F at 12 percent fat, turkey's above."""
    assert lethality.wanted_seconds("poultry", 136) == 4884
    assert lethality.wanted_seconds("poultry", 141) == 1722
    assert lethality.wanted_seconds("poultry", 142) == 1422
    assert lethality.wanted_seconds("poultry", 163) == 14.4
    assert lethality.wanted_seconds("poultry", 135) is None
    assert lethality.hold_ratio("poultry", 150, 294) == 1.0


def test_fat_is_nothing_to_meat() -> None:
    assert lethality.wanted_seconds("meat", 145, 3) == 240
    for fat in (-1, 101, float("nan")):
        with pytest.raises(ValueError, match="fat must lie"):
            lethality.wanted_seconds("chicken", 150, fat)
    with pytest.raises(ValueError, match="out of all bounds"):
        lethality.wanted_seconds("meat", float("nan"))


# 111.1 min at 130 °F, ten times less every 10.01 °F, rounded up to whole minutes to 145 and to whole seconds above, gives all 28 rows of Table 2.
@pytest.mark.computed
@pytest.mark.parametrize("degf", [row[0] for row in MEAT[:28]])
def test_a_straight_line_gives_the_meat_table(degf: float) -> None:
    minutes = 111.1 * 10 ** (-(degf - 130) / 10.01)
    assert lethality.wanted_seconds("meat", degf) == (60 * ceil(minutes) if degf <= 145 else ceil(60 * minutes))


# Food Code 3-401.11(B), whole roasts, and (A)(2), injected or ground, as read in a state rule that adopts them.
ROAST = [
    (130, 6720), (131, 5340), (133, 3360), (135, 2160), (136, 1680), (138, 1080), (140, 720), (142, 480), (144, 300), (145, 240), (147, 134), (149, 85),
    (151, 54), (153, 34), (155, 22), (157, 14), (158, 0),
]  # fmt: skip


@pytest.mark.printed
@pytest.mark.parametrize(("table", "degf", "seconds"), [("roast", *row) for row in ROAST] + [("injected", *row) for row in ((145, 180), (150, 60), (155, 17), (158, 0))])
def test_the_food_codes_charts(table: str, degf: float, seconds: float) -> None:
    assert lethality.wanted_seconds(table, degf) == seconds


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        (lambda text: text.replace("fat12", "fat13"), "t.tsv:1: the header must be"),
        (lambda text: text.replace("\t3870", ""), "t.tsv:2: 15 cells, 16 wanted"),
        (lambda text: text.replace("3870", "-1"), "t.tsv:2: not a row of seconds"),
        (lambda text: text.replace("chicken.136", "chicken"), "t.tsv:2: not a row of seconds"),
        (lambda text: text.replace("seen", "sure"), "t.tsv:2: no source 'fsis-appendix-a-2021' or no status 'sure'"),
        (lambda text: text.replace("chicken.137", "chicken.136"), "t.tsv:3: dwell_chicken.136 stands twice"),
    ],
)
def test_a_row_by_fat_that_cannot_stand_is_refused(change: Callable[[str], str], problem: str) -> None:
    text = files(facts).joinpath("dwell_by_fat.tsv").read_text("utf-8")
    with pytest.raises(ValueError) as caught:
        facts.read_dwell_by_fat(change(text), "t.tsv", facts.sources())
    assert str(caught.value).startswith(problem)
