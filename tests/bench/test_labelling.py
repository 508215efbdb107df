"""Dates on labels: the day of making is the first, and the calendar is somebody else's library."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from dateutil.relativedelta import relativedelta
from dateutil.rrule import DAILY, rrule
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from overhaul.bench import labelling
from overhaul.house import House
from overhaul.recipe.model import Fact
from overhaul.rules.rule import Case
from overhaul.sums.work import Sums
from overhaul.text import Place
from tests.conftest import recipe_of
from tests.output.sheets.made import SMALL

NOWHERE = Place(0, 0)


def case_of(text: str, house: House | None = None) -> Case:
    house = house or House()
    recipe = recipe_of(text, house)
    return Case(recipe, Sums(recipe, house), house)


@pytest.mark.parametrize(
    ("made", "days", "last"),
    [
        (date(2026, 10, 15), 7, date(2026, 10, 21)),  # the case that food codes are taught by
        (date(2026, 12, 24), 1, date(2026, 12, 24)),
        (date(2026, 4, 28), 4, date(2026, 5, 1)),  # a month of 30 days
        (date(2026, 1, 31), 7, date(2026, 2, 6)),
        (date(2026, 2, 26), 4, date(2026, 3, 1)),
        (date(2028, 2, 26), 4, date(2028, 2, 29)),  # a leap day
        (date(2028, 2, 29), 2, date(2028, 3, 1)),
        (date(2100, 2, 26), 4, date(2100, 3, 1)),  # no leap year
        (date(2026, 12, 28), 7, date(2027, 1, 3)),  # the end of a year
        (date(2026, 3, 28), 3, date(2026, 3, 30)),  # clocks go forward in between
        (date(2026, 10, 24), 3, date(2026, 10, 26)),  # and back
        (date(9999, 12, 31), 2, None),
    ],
)
def test_the_last_day(made: date, days: int, last: date | None) -> None:
    assert labelling.last_day(made, days) == last


def test_food_keeps_at_least_its_own_day() -> None:
    with pytest.raises(ValueError, match="at least the day it is made"):
        labelling.last_day(date(2026, 1, 1), 0)


@given(st.dates(min_value=date(1900, 1, 1), max_value=date(2200, 1, 1)), st.integers(1, 400))
def test_the_last_day_is_the_last_of_so_many_days(made: date, days: int) -> None:
    counted = list(rrule(DAILY, count=days, dtstart=datetime.combine(made, datetime.min.time())))
    assert labelling.last_day(made, days) == counted[-1].date()
    assert len(counted) == days


@given(st.dates(min_value=date(1900, 1, 1), max_value=date(2200, 1, 1)), st.integers(1, 60), st.integers(0, 30))
def test_out_is_so_many_days_after_in(put_in: date, low: int, more: int) -> None:
    assert labelling.out_of_cure(put_in, Fact(low, low + more, "day", 1, NOWHERE)) == (put_in + relativedelta(days=low), put_in + relativedelta(days=low + more))
    assert labelling.turning_days(put_in, (1, low)) == (put_in, put_in + relativedelta(days=low - 1))


@pytest.mark.parametrize(
    ("stay", "out"),
    [
        (Fact(1, 1, "week", 1, NOWHERE), (date(2026, 3, 1), date(2026, 3, 1))),
        (Fact(12, 12, "hour", 1, NOWHERE), None),
        (Fact(36, 36, "hour", 1, NOWHERE), None),  # an hour is wanted, not only a day
        (Fact(0.5, 1, "day", 1, NOWHERE), None),
        (Fact(1e9, 1e9, "day", 1, NOWHERE), None),
    ],
)
def test_out_of_a_stay_that_is_not_told_in_days(stay: Fact, out: tuple[date, date] | None) -> None:
    assert labelling.out_of_cure(date(2026, 2, 22), stay) == out


@pytest.mark.parametrize(
    ("keeps", "sold", "days", "said", "most"),
    [
        ("Keeps 4 days at 4 °C.", None, 4, 4, 7),
        ("Keeps 3 to 5 days at 4 °C.", None, 3, 3, 7),  # a range by its shorter end
        ("Keeps 3 weeks at 4 °C.", None, 7, 21, 7),
        ("Keeps 3 weeks at 4 °C.", True, 7, 21, 7),
        ("Keeps 6 days at 4 °C.", False, 4, 6, 4),
        ("Eat it that day.", None, None, None, 7),
        ("Keeps 2 months in the freezer.", None, None, 60, 7),
    ],
)
def test_days_by_the_page_and_no_more_than_the_limit(keeps: str, sold: bool | None, days: int | None, said: int | None, most: int) -> None:
    kept = labelling.keeping(case_of(SMALL.replace("Keeps 4 days at 4 °C.", keeps), House(sold=sold)))
    assert (kept.days, kept.said, kept.most) == (days, said, most)
    assert kept.cut == (days is not None and said is not None and days < said)


def test_raw_meat_without_a_cure_has_no_limit_of_cured_meat() -> None:
    turkey = "Turkey\n\n1 turkey, 12 lb\n2 gal cold water\n1 lb salt\n\nChill the brine to 38 F. Turkey in, 16 hours in the cooler at 38 F.\n"
    assert (labelling.keeping(case_of(turkey)).raw, labelling.keeping(case_of(turkey)).most) == (True, None)
    corned = SMALL.replace("Simmer 3 hours, to 92 °C inside. Rest 15 minutes.\nCool 57 to 21 °C in 2 hours, to 5 °C in 4 more. ", "")
    assert (labelling.keeping(case_of(corned)).raw, labelling.keeping(case_of(corned)).most) == (True, 7)
    assert not labelling.keeping(case_of("Brine\n\n1 lb salt\n1 gal water\n")).raw


def test_cooked_meat_said_to_keep_on_the_shelf_has_the_days_of_the_limit() -> None:
    assert labelling.keeping(case_of(SMALL.replace("Keeps 4 days at 4 °C.", "Keeps 3 months on the shelf."))).days in (7, None)


def test_what_is_warmer_than_the_limit_is_kept_at_the_limit() -> None:
    assert labelling.keeping(case_of(SMALL)).degf == pytest.approx(39.2)
    assert labelling.keeping(case_of(SMALL.replace("at 4 °C.", "at 10 °C."))).degf == 41
    assert labelling.keeping(case_of(SMALL.replace("at 4 °C.", "at 2 to 4 °C."))).degf == pytest.approx(39.2)


@pytest.mark.parametrize(("text", "raw"), [(SMALL, False), (SMALL.replace("Simmer 3 hours, to 92 °C inside. Rest 15 minutes.", "It is raw: fry it before eating."), True)])
def test_raw_is_told(text: str, raw: bool) -> None:
    assert labelling.keeping(case_of(text)).raw == raw


def test_dried_is_not_judged() -> None:
    case = case_of(SMALL)
    dried = replace(case, recipe=replace(case.recipe, product="dried"))
    assert (labelling.keeping(dried).dried, labelling.keeping(dried).most) == (True, None)


# Allergens.


def allergens(*lines: str, method: str = "Simmer 3 hours.") -> labelling.Allergens:
    return labelling.allergens_of(recipe_of("Corned flat\n\n2 kg brisket flat\n" + "".join(f"{line}\n" for line in lines) + f"\n{method}\n"))


def test_allergens_by_name_in_the_order_of_the_table() -> None:
    found = allergens("2 tbsp mustard seed", "2 tbsp soy sauce", "1 bottle stout")
    assert found.contains == (
        labelling.Brought("cereals with gluten", ("soy sauce", "stout")), labelling.Brought("soy", ("soy sauce",)), labelling.Brought("mustard", ("mustard seed",)),
    )  # fmt: skip
    assert found.check == ("soy sauce", "stout")


@pytest.mark.parametrize("name", ["Worcestershire sauce", "mustard", "mustard powder", "beef stock", "pastrami rub", "red wine vinegar", "liquid smoke", "ketchup", "zorble"])
def test_its_own_label_tells(name: str) -> None:
    assert allergens(f"2 tbsp {name}").check == (name.lower(),)


@pytest.mark.parametrize("name", ["mustard seed", "black pepper", "salt", "brown sugar", "water", "garlic", "bay leaf", "cure no. 1"])
def test_a_plain_thing_has_nothing_to_check(name: str) -> None:
    assert allergens(f"2 tbsp {name}").check == ()


def test_what_else_stands_for_it_counts_too() -> None:
    assert allergens("4 cups stout or 4 cups cider").contains[0].allergen == "cereals with gluten"


def test_what_only_the_method_names() -> None:
    found = allergens("30 g salt", method="Brush it with mustard. Roll it up, fish out the bay, and simmer 3 hours.")
    assert found.named == (labelling.Brought("mustard", ("line 6",)),)
    assert found.contains == ()


def test_what_the_page_says_itself() -> None:
    found = allergens("30 g salt", method="Simmer 3 hours.\n**Allergens:** mustard, celery")
    assert (found.stated, found.line) == ("Allergens:** mustard, celery", 7)


def test_how_often_it_is_turned() -> None:
    for words, told in (("Turn it every other day.", "every other day"), ("Turn it daily.", "daily"), ("Turn it twice a day, morning and night.", "twice a day"), ("Turn it.", None)):
        recipe = recipe_of(SMALL.replace("Turn it on day 3 and day 6.", words))
        assert labelling.how_often(recipe) == told
    assert labelling.how_often(recipe_of(SMALL.replace(" Turn it on day 3 and day 6.", ""))) is None
