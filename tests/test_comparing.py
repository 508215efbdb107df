from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result
from hypothesis import given, settings
from hypothesis import strategies as st

from overhaul.comparing import Compared, Line, StepTold, alike, compare, side
from overhaul.comparing import _aligned as aligned
from overhaul.house import House
from overhaul.output import compare_page
from overhaul.pipeline import read
from overhaul.span import Span, exactly
from overhaul.sums.work import Sums
from tests.conftest import CORPUS, recipe_of

Run = Callable[..., Result]
FLAT = """Corned flat

{meat} lb brisket flat, 1 3/4 in thick
{water} gal water
{salt} g kosher salt
{sugar} cups sugar
{cure} g cure no. 1
{leaves} bay leaves

Dissolve all in the water, chill to 38 F.
Brine the flat {days} days at 38 F, turning daily. Rinse. Soak {soak} hours in the fridge. Simmer 3 hours to 200 F inside.
Cool from 135 to 70 F in 2 hours and to 41 F in 4 more. Keeps 4 days.
"""
GIVEN: dict[str, float] = {"meat": 9, "water": 1, "salt": 340, "sugar": 1, "cure": 20, "leaves": 4, "days": 9, "soak": 2}


def page(**changed: float) -> str:
    return FLAT.format(**{key: f"{value:g}" for key, value in {**GIVEN, **changed}.items()})


def of(left: str, right: str) -> Compared:
    recipes = [recipe_of(text) for text in (left, right)]
    first, second = (side(recipe, Sums(recipe, House()), f"{name}.txt") for recipe, name in zip(recipes, "ab", strict=True))
    return compare(first, second)


def line(compared: Compared, name: str) -> Line:
    return next(one for one in compared.lines if one.name == name)


def names(compared: Compared, group: str) -> list[str]:
    return [one.name for one in compared.differences if one.group == group]


def test_a_recipe_differs_from_itself_in_nothing() -> None:
    compared = of(page(), page())
    assert compared.differences == []
    assert compared.batch == "Both are for 4,082 g of meat."
    assert compare_page.differs(compared) == "nothing"


def test_a_doubled_batch_is_no_difference() -> None:
    """Its pieces as thick as before. Only amounts change; the words of the steps are the same."""
    compared = of(page(), page(meat=18, water=2, salt=680, sugar=2, cure=40, leaves=8))
    assert compared.differences == []
    assert compared.batch == "B is for 2 times the meat of A: 4,082 g / 8,165 g."
    assert of(page(meat=18, water=2, salt=680, sugar=2, cure=40, leaves=8), page()).batch == "A is for 2 times the meat of B: 8,165 g / 4,082 g."


@settings(max_examples=25)
@given(st.sampled_from([0.5, 1.5, 2, 3, 5, 10]))
def test_no_batch_is_a_difference(times: float) -> None:
    amounts = {key: GIVEN[key] * times for key in ("meat", "water", "salt", "sugar", "cure", "leaves")}
    assert of(page(), page(**amounts)).differences == []


def test_all_doubled_but_the_cure_is_one() -> None:
    compared = of(page(), page(meat=18, water=2, salt=680, sugar=2, leaves=8))
    assert names(compared, "amounts") == ["cure no. 1"]
    assert names(compared, "times and temperatures") == names(compared, "steps") == []
    assert {"nitrite equilibrium", "nitrite pick up"} <= set(names(compared, "sums"))
    assert not line(compared, "kosher salt").differs


def test_cure_days_and_soak_come_first_in_few_words() -> None:
    compared = of(page(), page(cure=28, days=5, soak=6))
    assert compare_page.differs(compared) == "cure no. 1: 20 g / 28 g; days in the cure: 9 / 5; soak: 2 hours / 6 hours; 2 steps"
    found = line(compared, "cure no. 1")
    # 20 g and 28 g in a gallon of cold water, 3,785.4 ml at about 0.999 g
    assert found.left is not None and found.left.endswith("g per kg of water (20 grams)")
    assert float(found.left.split()[0]) == pytest.approx(20 / 3.782, rel=0.005)


def test_the_same_weight_from_a_spoon_is_told_by_its_words() -> None:
    compared = of(page().replace("340 g kosher", "12 oz kosher"), page())
    assert line(compared, "kosher salt").differs is False  # 340.2 g
    compared = of(page().replace("20 g cure", "4 tsp cure"), page(cure=22.7))
    assert line(compared, "cure no. 1").differs and line(compared, "cure no. 1").short == ("4 teaspoons", "22.7 grams")


def test_one_curing_salt_for_another_is_a_difference_though_it_weighs_the_same() -> None:
    compared = of(page(), page().replace("cure no. 1", "cure no. 2"))
    assert line(compared, "cure no. 1 / cure no. 2").differs


def test_one_name_for_another_is_none() -> None:
    compared = of(page(), page().replace("brisket flat,", "beef brisket flat,").replace("kosher salt", "kosher  Salt"))
    assert names(compared, "amounts") == []


def test_another_meat_is() -> None:
    compared = of(page(), page().replace("brisket flat,", "pork loin,"))
    assert line(compared, "brisket flat / pork loin").differs


def test_what_only_one_has() -> None:
    compared = of(page(), page().replace("4 bay leaves\n", "4 bay leaves\n2 tbsp juniper\n").replace(" Rinse.", ""))
    assert (line(compared, "juniper").left, line(compared, "juniper").short) == (None, ("none", "2 tablespoons"))
    assert (line(compared, "rinsed").left, line(compared, "rinsed").right) == ("yes", None)
    assert [(one.left, one.right) for one in compared.differences if one.group == "steps"] == [("Rinse.", None)]


def test_a_sum_that_only_one_has_tells_why() -> None:
    compared = of(page(), page().replace("Brine the flat 9 days", "Brine the flat"))
    found = line(compared, "nitrite middle")
    assert found.differs and found.right == "not worked: the page does not say how long it cures"


def test_a_week_is_seven_days() -> None:
    assert line(of(page(days=7), page().replace("9 days", "1 week")), "days in the cure").differs is False


def test_steps_are_aligned_by_their_words_and_kept_in_order() -> None:
    left = [StepTold(1, "make-brine", "Boil the water."), StepTold(2, "cure", "Brine it 7 days."), StepTold(3, "rinse", "Rinse.")]
    right = [StepTold(1, "trim", "Trim off all fat and silver skin."), StepTold(2, "make-brine", "Boil the water."), StepTold(3, "cure", "Brine it 5 days in the cooler."), StepTold(4, "rinse", "Rinse.")]
    assert [(mine.line if mine else None, other.line if other else None) for mine, other in aligned(left, right)] == [(None, 1), (1, 2), (2, 3), (3, 4)]


WORDS = st.lists(st.sampled_from(["Boil the water.", "Rinse.", "Soak it.", "Brine it 7 days.", "Smoke at 225 F.", "Cool."]), max_size=7)


@given(WORDS, WORDS)
def test_every_step_stands_once_and_in_its_order(mine: list[str], others: list[str]) -> None:
    left, right = ([StepTold(number, "other", text) for number, text in enumerate(texts)] for texts in (mine, others))
    found = aligned(left, right)
    assert [one for one, _ in found if one is not None] == left
    assert [one for _, one in found if one is not None] == right
    if mine == others:
        assert all(one == other for one, other in found)


@pytest.mark.parametrize(("one", "other", "unit", "same"), [(100, 101.9, "ppm", True), (100, 103, "ppm", False), (0, 0, "", True), (38, 38.4, "degF", True), (38, 39, "degF", False)])
def test_alike(one: float, other: float, unit: str, same: bool) -> None:
    assert alike(exactly(one), exactly(other), unit) is same


def test_spans_are_alike_at_both_ends() -> None:
    assert not alike(Span(90, 100, 110), Span(50, 100, 150))


@pytest.mark.parametrize("path", sorted(path for path in CORPUS.glob("*.txt")), ids=lambda path: path.stem)
def test_every_page_of_the_corpus_is_the_same_as_itself(path: Path) -> None:
    for recipe in read(path.read_bytes(), path.name, House()).recipes:
        own = side(recipe, Sums(recipe, House()), path.name)
        assert compare(own, own).differences == []


# The command.


@pytest.fixture
def two(tmp_path: Path) -> tuple[Path, Path]:
    (tmp_path / "a.txt").write_text(page())
    (tmp_path / "b.txt").write_text(page(cure=28, days=5))
    return tmp_path / "a.txt", tmp_path / "b.txt"


def test_in_words_what_differs_comes_first(overhaul: Run, two: tuple[Path, Path]) -> None:
    done = overhaul("compare", *two)
    assert done.exit_code == 0
    lines = done.stdout.splitlines()
    assert lines[:6] == [f"A  Corned flat ({two[0]})", f"B  Corned flat ({two[1]})", "", "Both are for 4,082 g of meat.", "", "They differ in: cure no. 1: 20 g / 28 g; days in the cure: 9 / 5; 1 step."]
    heads = [one for one in lines if one.endswith("that differ") or one.startswith("The same")]
    assert heads == ["Amounts that differ", "Times and temperatures that differ", "Sums that differ", "Steps that differ", "The same in both"]
    assert lines[-2].startswith("Decision support only.")


def test_as_json(overhaul: Run, two: tuple[Path, Path]) -> None:
    tree = json.loads(overhaul("compare", *two, "--as", "json").stdout)
    assert (tree["format"], [one["title"] for one in tree["recipes"]]) == ("overhaul-comparison/1", ["Corned flat", "Corned flat"])
    assert {"group": "times and temperatures", "name": "days in the cure", "a": "9 days", "b": "5 days"} in tree["differ"]
    assert "soak" in [one["name"] for one in tree["same"]]


def test_as_html_it_is_whole_and_inert(overhaul: Run, tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text(page().replace("Corned flat", "<script>x</script>"))
    (tmp_path / "b.txt").write_text(page(cure=28).replace("Rinse.", "Rinse <img src=x onerror=y>."))
    assert overhaul("compare", tmp_path / "a.txt", tmp_path / "b.txt", "--as", "html", "--out", tmp_path / "c.html").exit_code == 0
    text = (tmp_path / "c.html").read_text()
    assert "<script" not in text and "<img" not in text and "&lt;script&gt;x&lt;/script&gt;" in text
    assert "script-src" not in text and "default-src 'none'" in text


def test_a_recipe_of_several_by_its_number_or_its_best_match(overhaul: Run, tmp_path: Path, two: tuple[Path, Path]) -> None:
    bacon = CORPUS.joinpath("bacon-with-the-wrong-cure.txt").read_text()
    (tmp_path / "two.txt").write_text(f"{bacon}\n---\n\n{page()}")
    assert overhaul("compare", f"{tmp_path / 'two.txt'}#1", two[0]).stdout.startswith("A  BACON - DRY RUB (")
    assert overhaul("compare", f"{tmp_path / 'two.txt'}#2", two[0]).stdout.startswith("A  Corned flat (")
    assert overhaul("compare", tmp_path / "two.txt", two[0]).stdout.startswith("A  Corned flat (")
    assert overhaul("compare", two[1], tmp_path / "two.txt").stdout.splitlines()[1].startswith("B  Corned flat (")


@pytest.mark.parametrize(("number", "said"), [("3", "there is no recipe 3 in it; there is 1"), ("0", "there is no recipe 0 in it; there is 1")])
def test_a_number_that_is_not_there(overhaul: Run, two: tuple[Path, Path], number: str, said: str) -> None:
    done = overhaul("compare", f"{two[0]}#{number}", two[1])
    assert (done.exit_code, done.stderr) == (2, f"overhaul: {two[0]}: {said}\n")


def test_a_missing_file_is_told(overhaul: Run, two: tuple[Path, Path], tmp_path: Path) -> None:
    done = overhaul("compare", two[0], tmp_path / "none.txt")
    assert (done.exit_code, done.stderr) == (2, f"overhaul: {tmp_path / 'none.txt'}: there is no such file\n")


def test_a_recipe_file_is_compared_with_its_page(overhaul: Run, two: tuple[Path, Path], tmp_path: Path) -> None:
    assert overhaul("convert", two[0], "--out", tmp_path / "a.yaml").exit_code == 0
    assert "They differ in nothing that is compared." in overhaul("compare", two[0], tmp_path / "a.yaml").stdout
