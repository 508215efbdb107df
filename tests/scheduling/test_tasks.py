"""What there is to do, read from pages as cooks write them."""

from __future__ import annotations

import pytest

from overhaul.house import House
from overhaul.scheduling.lasting import in_words
from overhaul.scheduling.tasks import Task, Work, work
from overhaul.sums.work import Sums
from tests.conftest import recipe_of
from tests.scheduling.made import HAM, corned


def of(text: str, house: House | None = None) -> Work:
    recipe = recipe_of(text, house)
    return work(recipe, Sums(recipe, house or House()))


def kinds(text: str) -> list[str]:
    return [task.kind for task in of(text).main]


def one(text: str, kind: str) -> Task:
    return next(task for task in of(text).main if task.kind == kind)


def test_from_brine_to_plate() -> None:
    found = of(corned())
    assert [task.kind for task in found.main] == ["brine", "chill", "cure", "out", "soak", "cook", "rest", "slice"]
    assert [task.kind for task in found.after] == ["cool-left", "keep"]
    assert (found.thaw, found.unplaced, found.keeps_days) == (None, (), None)
    assert one(corned(), "cook").words == "Simmer 3 hours, to 195 F inside."
    assert one(corned(), "cook").lines == (10,)


def test_pumped_smoked_and_cooled_ahead() -> None:
    found = of(HAM.format(keeps=7))
    assert [task.kind for task in found.main] == ["brine", "chill", "pump", "cure", "out", "soak", "dry", "smoke", "rest", "cool"]
    assert found.keeps_days == 7 and not found.after


TWO_DAYS = """Pastrami in two days

1 packer brisket, 13 lb, frozen
2 gal water
2 gal ice
1 1/2 lb kosher salt
5 oz cure #1 (6.25% nitrite)
RUB
1/2 c cracked pepper

Slack out the brisket in the walk-in, 3 days.
Boil 1 gal of the water with the salt. Add the rest of the water and the ice. When it is under 40 F whisk in the cure.
Inject 10%. Submerge, weight it down, walk-in 38F for 10-12 days. Overhaul it every third day.
Rinse, soak overnight in the walk-in. Dry on a rack in the walk-in overnight. Rub it.
Smoke at 235F over oak for 8 to 10 hrs until it is 165F.
Chill overnight: 135 to 70F in 2 hrs, 41F in 4 more.
Next day steam 3 hrs until it is 203F. Rest 30 min. Slice and serve hot. Hold at 140F or above.
Keeps 5 days.
"""


def test_smoked_one_day_steamed_the_next() -> None:
    found = of(TWO_DAYS)
    assert [task.kind for task in found.main] == ["brine", "chill", "pump", "cure", "out", "soak", "dry", "rub-mix", "season", "smoke", "cool", "cook", "rest", "slice"]
    assert [task.kind for task in found.after] == ["hold"]
    assert found.thaw is not None and found.thaw.lasts.words == "3 days"
    assert [task.lasts.words for task in found.main[4:7]] == ["15 min assumed", "8 to 12 hours", "8 to 12 hours"]


def test_a_thaw_too_short_for_its_weight_is_told() -> None:
    found = of(TWO_DAYS.replace("3 days.", "1 day."))
    assert found.thaw is not None
    # 13 lb at 4 to 5 lb a day.
    assert found.thaw.notes == ("by its weight it wants longer in the cold: 63 to 78 hours assumed, 4 to 5 lb a day, by one piece of 13.0 lb",)


def test_what_is_salted_before_the_fire_lies_in_nothing() -> None:
    text = "Roast chicken\n\n1 chicken, 4 lb\n2 oz salt\n\nSalt it all over and leave it uncovered in the fridge overnight.\nRoast at 425F 1 hr 10 min to 165F in the thigh. Rest 15 minutes. Carve.\n"
    assert kinds(text) == ["season", "stand", "cook", "rest", "slice"]
    assert one(text, "cook").lasts.words == "1 h 10 min"


def test_smoke_wrap_and_on() -> None:
    text = "Ribs\n\n2 racks pork ribs, 6 lb\n2 T salt\n\nSeason the ribs with the rub, leave in the walk-in 4 hours.\nSmoke at 250F for 3 hours. Wrap in foil, 2 hours more. Unwrap, 1 hour more until tender, 200F.\nRest 10 min, cut between the bones.\n"
    assert [(task.kind, task.lasts.words) for task in of(text).main] == [
        ("season", "15 min assumed"), ("stand", "4 hours"), ("smoke", "3 hours"), ("wrap", "2 hours"), ("cook", "1 hour"), ("rest", "10 min"), ("slice", "20 min assumed"),
    ]  # fmt: skip


def test_days_of_evening_out_are_not_days_of_cure() -> None:
    text = "Bacon\n\n10 lb pork belly, 2 in thick\n4 oz salt\n11 g cure #1 (6.25% nitrite)\n\nRub all of it on, into a tub, walk-in at 38F, 7 days per inch.\nRinse. Let it equalize in the walk-in 2 days.\nCold smoke at 80F for 6 hours. Chill overnight. Slice. Keeps 7 days in the fridge. Cook before eating.\n"
    found = of(text)
    assert [(task.kind, task.lasts.words) for task in found.main if task.kind in ("cure", "equalize", "fry")] == [("cure", "14 days"), ("equalize", "2 days"), ("fry", "15 min assumed")]


def test_days_that_the_page_does_not_say_are_worked_from_the_thickness_and_marked() -> None:
    lasts = one(corned().replace("Walk-in at 38 F, 9 days, turning", "Walk-in at 38 F, turning"), "cure").lasts
    assert lasts.said == "assumed" and lasts.words.startswith("days not on the page: ") and lasts.words.endswith("worked from how thick it is (typical and most)")
    assert 1 <= lasts.low / 24 < lasts.high / 24 <= 21


def test_a_plain_brine_without_a_time_is_left_room_not_days() -> None:
    lasts = one("Chicken\n\n1 chicken, 4 lb\n1 gal water\n8 oz salt\n\nStir the salt into the water, chill to 38 F. Chicken into the brine, in the walk-in.\nRoast at 375 F 1 hour to 165 F. Carve.\n", "cure").lasts
    assert (lasts.said, lasts.words) == ("unknown", "time not on the page: the plan leaves 12 hours")


@pytest.mark.parametrize(
    ("made", "hours"),
    [
        ("Stir salt and cure into the cold water, chill to 38 F.", 4),  # the limit for what is made of tap water
        ("Boil the water with the salt. Take it off the heat, stir in the cure. Chill overnight to 38 F.", 12),
    ],
)
def test_how_long_a_brine_cools(made: str, hours: float) -> None:
    assert one(corned().replace("Stir salt and cure into the cold water, chill to 38 F.", made), "chill").lasts.high == hours


def test_a_boiled_brine_over_ice() -> None:
    text = corned().replace("6 lb cold water", "3 lb water\n3 lb ice").replace("Stir salt and cure into the cold water, chill to 38 F.", "Boil the water with the salt. Pour it over the ice, stir in the cure when it is 38 F.")
    assert one(text, "chill").lasts.high == 1


@pytest.mark.parametrize(
    ("end", "ahead"),
    [
        ("Cool 135 to 70 F in 2 hours, 41 F in 4 more. Keeps 4 days at 38 F.", True),
        ("Left over: 135 to 70 F in 2 hours, 41 F in 4 more. Keeps 4 days at 38 F.", False),
        ("Cool what is left 135 to 70 F in 2 hours, 41 F in 4 more. Keeps 4 days at 38 F.", False),
        ("Serve hot on rye. Cool 135 to 70 F in 2 hours, 41 F in 4 more. Keeps 4 days at 38 F.", False),
        ("Leftovers: cool 135 to 70 F in 2 hours, 41 F in 4 more. Cooled so, it keeps 4 days.", False),
    ],
)
def test_cooled_ahead_or_what_is_left(end: str, ahead: bool) -> None:
    text = corned().replace("Left over: 135 to 70 F in 2 hours, 41 F in 4 more. Keeps 4 days at 38 F.", end)
    assert ("cool" in kinds(text)) == ahead
    assert any(task.kind == "cool-left" for task in of(text).after) != ahead


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("Smoke at 130 F for 1 hour, then at 150 F for 2 hours, to 160 F inside.", "3 hours"),
        ("Smoke at 225 F for 6 hours, to 160 F inside, spritzing every 30 minutes.", "6 hours"),
        ("Smoke at 225 F to 160 F inside, and hold it there 20 minutes.", "time not on the page: the plan leaves 8 hours"),
        ("Smoke at 225 F, 45 minutes per pound, to 160 F inside.", "time not on the page: the plan leaves 8 hours"),
        ("Smoke at 190 F overnight, then at 250 F until 160 F inside.", "8 to 12 hours on the page, and no time for the next heat: the plan leaves 4 hours more"),
        ("Smoke at 225 F until 195 F inside.", "time not on the page: the plan leaves 12 hours"),
    ],
)
def test_how_long_it_smokes(step: str, words: str) -> None:
    assert one(HAM.format(keeps=7).replace("Smoke at 225 F to 160 F inside, 6 hours.", step), "smoke").lasts.words == words


@pytest.mark.parametrize(
    ("sold", "page", "days"),
    [(True, 7, 7), (True, 9, 7), (False, 7, 4), (None, 7, 7), (False, 3, 3)],  # Food Code 2022, 3-501.17(A); cold storage chart: cooked corned beef 3 to 4 days
)
def test_how_long_it_keeps(sold: bool | None, page: int, days: int) -> None:
    assert of(HAM.format(keeps=page), House(sold=sold)).keeps_days == days


def test_ground_meat_is_mixed_and_hung_not_cured() -> None:
    text = "Sausage\n\n10 kg ground pork\n180 g salt\n24 g cure #1 (6.25% nitrite)\n\nMix it cold, stuff, hang overnight in the walk-in at 38 F.\nSmoke at 170 F for 3 hours until 160 F inside. Shower cold: 135 to 70 F in 1 hour, to 41 F in 3 more. Keeps 7 days at 38 F.\n"
    assert kinds(text) == ["grind", "hang", "smoke", "cool"]


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (1 / 3, None, "20 min"), (1, None, "1 hour"), (7 / 6, None, "1 h 10 min"), (2.5, 3, "2½ to 3 hours"), (36, None, "36 hours"), (48, None, "2 days"),
        (192, 240, "8 to 10 days"), (294, None, "12 days 6 hours"), (0.25, 0.5, "15 to 30 min"), (8, 12, "8 to 12 hours"), (1.999, None, "2 hours"),
    ],
)  # fmt: skip
def test_hours_in_words(low: float, high: float | None, words: str) -> None:
    assert in_words(low, high) == words
