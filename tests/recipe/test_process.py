"""Facts of the process, from prose."""

from __future__ import annotations

import pytest

from overhaul.house import House
from overhaul.recipe.model import Fact, Meat, Process
from overhaul.sums.work import Sums
from tests.conftest import recipe_of

HEAD = """Card

1 brisket flat, 6 lb, 1 1/2 in thick
1 gal water
10 oz salt
20 g cure #1

"""


def process(method: str) -> Process:
    return recipe_of(HEAD + method).process


def fact(found: Fact | None) -> tuple[float, float, str] | None:
    return None if found is None else (round(found.low, 2), round(found.high, 2), found.unit)


CURED = "Chill the brine. Put the flat in and refrigerate 9 days.\n"


@pytest.mark.parametrize(
    ("method", "time"),
    [
        ("Put the flat in the brine and refrigerate 7 to 10 days, turning every other day.", (7, 10, "day")),
        ("Submerge the flat. Let it stand a week or ten days.", (7, 10, "day")),
        ("Submerge the flat; keep in the walk-in overnight.", (8, 12, "hour")),
        ("Brine in the walk-in for one week.", (1, 1, "week")),
        ("Cure 12 days at 36-38 F. Overhaul on day 4 and 8.", (12, 12, "day")),
        ("Put the flat in. Refrigerate for 12 hours at the least and 18 at the most.", (12, 18, "hour")),
        ("Put it all in a bag, into the fridge. Allow 1 1/2 days for every inch; 10 days is usual.", (10, 10, "day")),
        ("Put the flat in. It will be ready in a few weeks.", (2, 5, "week")),
    ],
)
def test_how_long_in_the_cure(method: str, time: tuple[float, float, str] | None) -> None:
    assert fact(process(method).cure_time) == time


@pytest.mark.parametrize(
    ("method", "degrees"),
    [
        ("Put the flat in. Refrigerate at 36 to 40 F for 9 days.", (36, 40, "degF")),
        ("Put the flat in. Cold room, 3 to 4 °C, 16 days.", (37.4, 39.2, "degF")),
        ("Put the flat in. Walk-in at 38°, 9 days.", (38, 38, "degF")),
        ("Put the flat in and leave 9 days.", None),
    ],
)
def test_how_cold(method: str, degrees: tuple[float, float, str] | None) -> None:
    assert fact(process(method).cure_temperature) == degrees


@pytest.mark.parametrize(
    ("method", "smoke", "final"),
    [
        ("Smoke at 225-250 F until 165 F inside.", (225, 250, "degF"), (165, 165, "degF")),
        ("Light smoke, pit at 180-200*F, until the IT is 152*F.", (180, 200, "degF"), (152, 152, "degF")),
        ("Smoke over plum wood, air at 105 °C, to 67 °C in the middle.", (221, 221, "degF"), (152.6, 152.6, "degF")),
        ("Smoke at 190 F overnight, then at 250 F until 165 F inside. Wrap and take it to 203 F.", (190, 250, "degF"), (203, 203, "degF")),
        ("Smkr 225-250F, pecan. Has to pass 130F before 6 hr are up. Out at 165F.", (225, 250, "degF"), (165, 165, "degF")),
        ("Smoke 225 til 165. Wrap @165, finish 203.", (225, 225, "degF"), (203, 203, "degF")),
        ("Simmer 3 hours, to 195 F inside.", None, (195, 195, "degF")),
    ],
)
def test_smoke_and_end_point(method: str, smoke: tuple[float, float, str] | None, final: tuple[float, float, str]) -> None:
    found = process(CURED + method)
    assert fact(found.smoke_temperature) == smoke
    assert fact(found.final_temperature) == final


def test_a_hold_at_the_end_point_is_its_dwell() -> None:
    found = process(CURED + "Smoke at 225 F to 150 F inside, and hold it there 5 minutes.\n").final_temperature
    assert found is not None
    assert fact(found.dwell) == (5, 5, "minute")


@pytest.mark.parametrize(
    ("method", "soak"),
    [("Rinse well, soak 2 hours.", (2, 2, "hour")), ("Soak 30 min in cold water.", (0.5, 0.5, "hour")), ("Soak overnight in the fridge.", (8, 12, "hour")), ("Rinse. No soaking.", None)],
)
def test_soak(method: str, soak: tuple[float, float, str] | None) -> None:
    assert fact(process(CURED + method).soak) == soak


def test_a_rinse_that_is_refused_is_none() -> None:
    assert process(CURED + "Do not rinse the flat: rinsing only splashes.\nSmoke at 225 F to 165 F inside.").rinse is None


@pytest.mark.parametrize(
    "method",
    [
        "Cool from 135 to 70 F in 2 hours, and to 41 F in 4 hours more.",
        "It has 2 hours to fall to 70 F, counted from 135 F, and 4 hours after that to reach 41 F.",
        "Shallow pans: 135 to 70F inside 2 hr, on to 41F inside 4 more.",
        "Cooling: under 70 F two hours after it was at 135 F, under 41 F four hours after that.",
    ],
)
def test_the_cool_down_in_four_ways_of_telling(method: str) -> None:
    legs = process(CURED + "Simmer 3 hours to 195 F inside.\n" + method).cooling
    assert [(leg.start, leg.end, leg.low) for leg in legs] == [(135, 70, 2), (70, 41, 4)]


@pytest.mark.parametrize(
    ("method", "degrees"),
    [
        ("Chill the brine to 38 F before the meat goes in. Put the flat in and refrigerate 9 days.", (38, 38, "degF")),
        ("When milk-warm, pour it over the meat. Refrigerate 9 days.", (90, 105, "degF")),
        ("Boil it and pour over the meat while hot. Refrigerate 9 days.", (140, 212, "degF")),
    ],
)
def test_the_brine_when_meat_goes_in(method: str, degrees: tuple[float, float, str]) -> None:
    assert fact(process(method).brine_temperature) == degrees


def test_keeping() -> None:
    found = process(CURED + "Simmer 3 hours to 195 F inside.\nKeeps 4 days at 38 F.\n").storage
    assert found is not None
    assert (found.low, found.high, found.kept) == (4, 4, "cold")
    assert fact(found.temperature) == (38, 38, "degF")


@pytest.mark.parametrize(
    ("method", "way"),
    [
        ("Put the flat in the brine and refrigerate 9 days.", "immersion"),
        ("Pump 10 % of green weight, then refrigerate in a bag 3 days.", "pumped"),
        ("Pump 10 % of green weight, then cover with the rest of the brine for 4 days in the refrigerator.", "pumped-immersion"),
    ],
)
def test_the_way_of_curing(method: str, way: str) -> None:
    found = process(method)
    assert found.cure is not None
    assert found.cure.method == way
    assert fact(found.pump) == ((10, 10, "percent") if "Pump" in method else None)


def test_what_handling_says() -> None:
    found = process("Put the flat in a 6 gallon stainless tub, a plate on top. Refrigerate 9 days, turning daily.")
    assert found.weighed_down is not None
    assert found.weighed_down.words == "plate"
    assert found.turning is not None
    assert found.tub is not None
    assert found.tub.low == pytest.approx(22.712, abs=0.001)
    assert found.tub_material == "stainless"


@pytest.mark.parametrize(
    ("line", "thickness", "skin", "fat"),
    [
        ("1 brisket flat, 6 lb, trimmed lean, 1 1/2 in thick", 38.1, False, "none"),
        ('1 brisket flat, 7#, 1 5/8" thick, cap shaved to 1/8"', 41.275, False, "thin"),
        ("pork belly, rind on, 5 lb, 4 cm thick", 40.0, True, None),
    ],
)
def test_the_faces_of_the_meat(line: str, thickness: float, skin: bool, fat: str | None) -> None:
    meat = recipe_of(HEAD.replace("1 brisket flat, 6 lb, 1 1/2 in thick", line) + CURED).process.meat
    assert meat is not None
    assert meat.thickness is not None
    assert meat.thickness_stated
    assert meat.thickness.likely == pytest.approx(thickness)
    assert (meat.skin, meat.fat_cap) == (skin, fat)


def cured(line: str) -> Meat | None:
    return recipe_of(HEAD.replace("1 brisket flat, 6 lb, 1 1/2 in thick", line) + CURED).process.meat


@pytest.mark.parametrize(
    ("line", "thickness", "sides"),
    [
        ("1 pork loin, 3 x 5 x 12 in, 6 lb", 76.2, (127.0, 304.8)),
        ("2 brisket flats (about 14\" x 8\" x 1 3/4\"), 9 lb in all", 44.45, (203.2, 355.6)),
        ("silverside, 30 cm x 12 cm x 9 cm, 3 kg", 90, (120, 300)),
        ("slab of belly, 10 in by 8 in by 1½ in, 4 lb", 38.1, (203.2, 254.0)),
        ("belly strip, 2 x 10 in, 3 lb", 50.8, ()),
        ("4 lb brisket flat 2 in thick", 50.8, ()),
    ],
)
def test_the_least_of_its_sizes_is_the_thickness(line: str, thickness: float, sides: tuple[float, ...]) -> None:
    meat = cured(line)
    assert meat is not None and meat.thickness is not None
    assert meat.thickness_stated
    assert meat.thickness.likely == pytest.approx(thickness)
    assert meat.sides == pytest.approx(sides)


@pytest.mark.parametrize("line", ["belly, 8 x 10 in, 3 lb", "2 x 3.2 kg pork loin", "4 x 1 lb pieces of pork loin"])
def test_a_length_and_a_width_are_no_thickness(line: str) -> None:
    meat = cured(line)
    assert meat is not None
    assert not meat.thickness_stated
    assert meat.sides == ()


@pytest.mark.parametrize(
    ("line", "rolled"),
    [
        ("1 boned brisket, rolled and tied, 5 lb", True), ("1 rolled brisket, 5 lb", True), ("5 lb brisket, tied in a roll", True),
        ("5 lb brisket flat, unrolled", False), ("5 lb brisket flat, tied", False),
    ],
)  # fmt: skip
def test_a_rolled_piece(line: str, rolled: bool) -> None:
    meat = cured(line)
    assert meat is not None
    assert meat.rolled == rolled


def test_a_thickness_that_is_not_stated_is_typical_and_marked() -> None:
    meat = recipe_of(HEAD.replace(", 1 1/2 in thick", "") + CURED).process.meat
    assert meat is not None
    assert meat.thickness is not None
    assert not meat.thickness_stated
    assert (meat.thickness.low, meat.thickness.likely, meat.thickness.high) == (25, 40, 65)


@pytest.mark.parametrize("words", ["Hot smoke at 225 F to 150 F.", "Cold smoke at 75 F for 6 hours.", "Next morning, hot smoke at 225 F to 150 F."])
def test_hot_smoke_is_smoking(words: str) -> None:
    recipe = recipe_of(f"Loin\n\n5 lb pork loin\n1 gal water\n10 oz salt\n\nLoin in the brine, walk-in at 38 F for 7 days.\nRinse it.\n{words}\n")
    assert recipe.process.smoke is not None
    assert recipe.process.smoke.line == 9


@pytest.mark.parametrize(
    ("words", "legs"),
    [
        ("After, go from 135 to 41 F in 12 hours.", [(135, 41, 12)]),
        ("Cool from 135 to 41 F in 8 hours.", [(135, 41, 8)]),
        ("Cool it from 135 to 70 F in 2 hours, to 41 F in 4 more.", [(135, 70, 2), (70, 41, 4)]),
        ("Log temp: 135->70 w/in 2 h, ->41 w/in 6 h total", [(135, 70, 2), (70, 41, 4)]),
        ("Cool 135 → 70 F within 2 hours, → 41 F within 6 hours in all.", [(135, 70, 2), (70, 41, 4)]),
        ("Cool 135 → 70 F within 2 hours, → 41 F within 6 hours.", [(135, 70, 2), (70, 41, 6)]),
    ],
)
def test_a_fall_from_hot_to_cold_is_a_cool_down(words: str, legs: list[tuple[int, int, int]]) -> None:
    recipe = recipe_of(f"Beef\n\n5 lb beef flat\n1 gal water\n10 oz salt\n\nFlat in the brine, walk-in at 38 F for 7 days.\nRinse it. Simmer it to 195 F inside.\n{words}\n")
    assert [(round(leg.start), round(leg.end), leg.high) for leg in recipe.process.cooling] == legs


def test_a_brine_told_as_below_a_figure_is_not_certainly_at_it() -> None:
    told = recipe_of("Beef\n\n5 lb beef flat\n1 gal water\n10 oz salt\n\nMake the brine and chill it below 75 F. Flat in, walk-in, 7 days.\n").process.brine_temperature
    assert told is not None
    assert (told.low, told.high) == (34, 75)


def test_steps_without_capitals_are_told_apart() -> None:
    text = "tongues\n\n2 beef tongues\n3 qt cold water\n9 oz salt\n\nstir the brine up cold & chill it to 38 F\ntongues in w/ a plate on top, icebox, till they feel firm all over. turn them every day\nrinse good, soak 2 hr in cold water in the icebox\nsimmer in fresh water 3 hr to 200 F\n"
    recipe = recipe_of(text)
    assert [(step.line, step.phase) for step in recipe.steps] == [(7, "cool-brine"), (8, "cure"), (8, "overhaul"), (9, "rinse"), (10, "cook")]
    assert recipe.process.cure_time is None
    assert recipe.process.soak is not None


def test_nothing_is_heated_means_nothing() -> None:
    recipe = recipe_of("Beef\n\n5 lb beef flat\n1 gal water\n10 oz salt\n\nStir it up cold. Nothing is heated. Flat in the brine, walk-in, 7 days.\n")
    assert recipe.process.brine_heated is None


@pytest.mark.parametrize("words", ["Meat in, weighted, in the walk-in, 5 days.", "Meat in, a stone on it, in the walk-in, 5 days.", "Meat in, a pan on top to hold it under, in the walk-in, 5 days."])
def test_what_holds_it_under(words: str) -> None:
    assert recipe_of(f"Beef\n\n5 lb beef flat\n1 gal water\n10 oz salt\n\n{words}\n").process.weighed_down is not None


def test_the_brine_is_chilled_before_the_meat_is_in() -> None:
    recipe = recipe_of("Beef\n\n5 lb beef flat\n1 gal cold water\n10 oz salt\n2 bay leaves\n\nStir the salt into the water until it is clear, add the bay. Chill the brine to 37 F in the walk-in.\nFlat in, walk-in, 9 days.\n")
    assert recipe.process.brine_temperature is not None
    assert recipe.process.brine_temperature.high == 37


@pytest.mark.parametrize(("words", "high"), [("Keep in the fridge at 3 C for 10 days.", 37.4), ("Keep in the fridge below 4 C, 10 days.", 39.2)])
def test_a_capital_c_after_at_is_degrees(words: str, high: float) -> None:
    told = recipe_of(f"Loin\n\n1.8 kg pork loin\n45 g salt\n4 g cure #1\n\nRub the salt and cure all over the loin and bag it. {words}\n").process.cure_temperature
    assert told is not None
    assert round(told.high, 1) == high


def test_cups_of_water_stay_cups() -> None:
    recipe = recipe_of("Beef\n\nAdd 10 oz salt to 8 C water. Put 5 lb beef flat in, walk-in, 5 days.\n")
    assert [(item.role, item.amount.unit) for item in recipe.of_role("water") if item.amount] == [("water", "cup")]


def test_a_steam_table_has_a_temperature_and_no_number() -> None:
    hold = recipe_of("Beef\n\n5 lb beef flat\n1 gal water\n10 oz salt\n\nFlat in the brine, walk-in, 7 days.\nRinse it. Simmer it to 195 F inside.\nTo hold: steam table 120F, 4 hrs max. Cool 135F-70F in 2 hrs, 70F-41F in 4.\n").process
    assert hold.hold is not None
    assert hold.hold.high == 120
    assert [(round(leg.start), round(leg.end), leg.high) for leg in hold.cooling] == [(135, 70, 2), (70, 41, 4)]


@pytest.mark.parametrize(
    "told",
    ["Chill fast: 2 hours to 70, then 4 more to 41.", "Cool 2 hrs to 70 F and 4 hrs more to 41 F.", "Chill in 2 hours to below 70, another 4 hours to 41."],
)
def test_a_cool_down_that_does_not_say_where_it_starts_is_counted_from_135(told: str) -> None:
    found = process(CURED + "Simmer 3 hours to 195 F inside.\n" + told)
    assert [(leg.start, leg.end, leg.low, leg.high) for leg in found.cooling] == [(135, 70, 2, 2), (70, 41, 4, 4)]


@pytest.mark.parametrize("told", ["Flip day 2, 4, 6.", "Turn on days 2 and 5.", "Overhaul days 3, 6 & 9."])
def test_days_counted_off_are_no_amounts(told: str) -> None:
    recipe = recipe_of(HEAD + CURED + told)
    assert recipe.unread == ()
    assert fact(recipe.process.cure_time) == (9, 9, "day")
    assert recipe.process.turning is not None


@pytest.mark.parametrize("told", ["Stitch-pump 10 % of green weight", "Spray-pump to 10 % over green weight", "Artery-pumped 10 %"])
def test_every_way_of_pumping_is_pumping(told: str) -> None:
    found = process(f"Chill the brine. {told}, then lay in the tub and cover with the rest. Hold under with a plate.\nCure 4 days at 38 F.")
    assert fact(found.pump) == (10, 10, "percent")
    assert found.cure is not None
    assert found.cure.method == "pumped-immersion"
    assert found.weighed_down is not None


def test_heating_with_everything_makes_a_brine_and_puts_no_meat_in() -> None:
    recipe = recipe_of(HEAD + "Heat half the water with everything until it dissolves, add the rest cold. Let it get cold in the fridge.\nPut the flat in. 10 days in the fridge.")
    assert [step.phase for step in recipe.steps] == ["make-brine", "cool-brine", "cure", "cure"]


def test_bare_figures_between_commas_and_in_brackets_are_degrees_by_the_fire() -> None:
    found = process(CURED + "Smoke over oak, 225, about 8 hrs, till 170 inside.\nSteam 2-3 hrs until a skewer goes in easy (200 or so).")
    assert fact(found.smoke_temperature) == (225, 225, "degF")
    assert fact(found.final_temperature) == (200, 200, "degF")
    staged = recipe_of(HEAD + CURED + "Smoke 160 6 h then 185 till 155 IT").steps[-1].temperatures
    assert [(int(one.amount.low), one.of) for one in staged] == [(160, "smoker"), (185, "smoker"), (155, "meat")]


def test_a_second_tub_is_no_time() -> None:
    recipe = recipe_of(HEAD + CURED + "Soak in a second tub of cold water for two hours.")
    assert [measured.amount.unit for measured in recipe.steps[-1].times] == ["hour"]


def test_a_word_and_a_colon_head_a_line_of_several() -> None:
    recipe = recipe_of(HEAD + "Rub: 1/2 c pepper, 1/3 c coriander, 2 T garlic powder\nSalt: 2 cups coarse\n\n" + CURED)
    assert [(item.name, item.use) for item in recipe.ingredients[4:]] == [("pepper", "rub"), ("coriander", "rub"), ("garlic powder", "rub"), ("salt", "cure")]


def test_the_long_stay_counts_where_a_short_one_comes_first() -> None:
    page = "Spiced round\n\n12 lb round of beef\n1 lb salt\n1 oz cure #1\n\nRub the beef with the salt and leave it two days in a cold larder. Turn it and rub it every day for a fortnight.\n"
    assert fact(recipe_of(page).process.cure_time) == (1, 1, "fortnight")


@pytest.mark.parametrize("told", ["lid w/ weight", "lid with weight", "a weight on it", "pushing out the air, zip bag", "squeeze all the air out"])
def test_what_else_holds_it_under(told: str) -> None:
    assert process(f"Flat in the brine, {told}. 9 days in the fridge.").weighed_down is not None


@pytest.mark.parametrize("told", ["Leftovers: fridge within 2 hours, eat in 3 days.", "Within two hours put what is left in the fridge; keeps 3 days.", "Shower w/ cold water 10 min."])
def test_what_counts_as_a_cool_down_told(told: str) -> None:
    assert process(CURED + "Simmer 3 hours to 195 F inside.\n" + told).cool is not None


def test_between_makes_a_range_of_two_numbers_and_nothing_else_does() -> None:
    assert fact(process("Put the flat in, in the fridge, and keep it between 36 and 38 F for 9 days.").cure_temperature) == (36, 38, "degF")
    assert next(item.name for item in recipe_of("Card\n\n2 and 3 lb briskets\n1 gal water\n10 oz salt\n").ingredients) == "brisket"


@pytest.mark.parametrize(("told", "cools"), [("From 135 to 41 F in 12 hours.", True), ("135-70 in 2 hr.", True), ("57 to 21 C inside 2 h.", True), ("Warm slices from 38 to 165 F to order.", False), ("Hold 140 to 150 F.", False)])
def test_a_fall_from_hot_to_cold_is_a_cool_down_and_a_rise_is_none(told: str, cools: bool) -> None:
    steps = recipe_of(HEAD + CURED + "Simmer 3 hours to 195 F inside.\n" + told).steps
    assert (steps[-1].phase == "cool") is cools


@pytest.mark.parametrize("told", ["Simmer with the onion and spice in fresh water until it is tender.", "Simmer with the spices, 2 to 2 1/2 hours."])
def test_a_simmer_with_the_spice_cooks_the_meat(told: str) -> None:
    recipe = recipe_of(HEAD + CURED + "Rinse.\n" + told)
    assert recipe.steps[-1].phase == "cook"
    assert recipe.process.cook is not None


def test_a_brine_told_to_be_under_a_bare_figure_and_a_walk_in_of_two_words() -> None:
    told = process("Boil 1 qt of the water. Add the rest. When it's under 40 whisk in #1.\nFlat in the brine, 9 days in the walk in, flip each morning.")
    assert fact(told.brine_temperature) == (34, 40, "degF")
    assert told.cure_cold is not None
    assert told.cure_cold.words == "walk in"


@pytest.mark.parametrize(("told", "soak"), [("Drain, fresh water soak 2 x 30 min.", (1, 1, "hour")), ("Soak 3 x 1 hr in fresh water.", (3, 3, "hour")), ("Soak 2x30 min.", (1, 1, "hour"))])
def test_so_often_so_long_is_one_time(told: str, soak: tuple[float, float, str]) -> None:
    recipe = recipe_of(HEAD + CURED + told + "\nSimmer 3 hours.")
    assert fact(recipe.process.soak) == soak
    assert recipe.unread == ()


def test_meat_that_is_pumped_and_then_held_under_lies_in_the_pickle() -> None:
    pumped = process("Pump 8%. Flat under, plate + brick, fridge 36-38.\n8 days.\nRinse.").cure
    assert pumped is not None
    assert pumped.method == "pumped-immersion"
    bagged = process("Pump 8%. Bag it, squeeze the air out, fridge 36-38.\n8 days.\nRinse.").cure
    assert bagged is not None
    assert bagged.method == "pumped"


def test_the_cure_that_goes_in_last_is_told_with_the_cold_of_the_brine() -> None:
    assert fact(process("Heat 3 qt of the water with the salt. Add the rest. Cure in last, below 40.\nFlat in the brine, 9 days in the fridge.").brine_temperature) == (34, 40, "degF")


@pytest.mark.parametrize(
    ("told", "kept"),
    [
        ("Use half of it now. Other half is for the next one.", True),
        ("Save the rest of the mix for another belly.", True),
        ("The rest keeps in a jar.", True),
        ("Rub in half now, the rest on day 3.", False),
        ("Rub in half; save the other half for day 4.", False),
    ],
)
def test_what_of_the_mix_is_kept_for_another_piece(told: str, kept: bool) -> None:
    recipe = recipe_of(f"Bacon\n\nBelly 11 lbs, skin on\n2 cups kosher salt\n2 tbsp cure #1\n\nMix the cure. {told} Rub it in. In a bag, 7 days in the fridge.\n")
    assert (recipe.process.kept_back is not None) is kept


def test_a_heat_told_with_ish() -> None:
    assert fact(process(CURED + "Smoke 200-ish till 150 internal.").smoke_temperature) == (200, 200, "degF")


@pytest.mark.parametrize(
    ("method", "days"),
    [
        ("Day 1. Drop the flat in the brine, cold room.\nDay 4. Turn it.\nDay 8. Out, rinse. Simmer 3 hours.", (7, 7, "day")),
        ("Day 1: flat in the brine, fridge.\nDay 9: rinse and dry it.", (8, 8, "day")),
        ("Flat in the brine, fridge. Rinse it on day 6, simmer 3 hours.", (5, 6, "day")),
        ("Flat in the brine, fridge. Turn it on day 4.\nRinse it, simmer 3 hours.", None),
    ],
)
def test_the_days_between_two_numbered_ones(method: str, days: tuple[float, float, str] | None) -> None:
    assert fact(process(method).cure_time) == days


def test_degrees_that_only_their_neighbours_tell() -> None:
    told = process(CURED + "smoke 120C to 68 core\nchill blast 3C in 90min")
    assert fact(told.final_temperature) == (154.4, 154.4, "degF")
    assert [measured.amount.unit for step in recipe_of(HEAD + CURED + "Smoke to 68C.\nchill blast 3C in 90min").steps[-1:] for measured in step.temperatures] == ["degC"]


@pytest.mark.parametrize("words", ["Pump to 110 % of green weight", "Pump with brine to 110%", "Pump it 10 %"])
def test_pumped_to_so_much_of_its_weight(words: str) -> None:
    assert fact(process(f"{words}. Refrigerate at 38 F for 5 days.").pump) == (10, 10, "percent")


@pytest.mark.parametrize(
    ("words", "waters"),
    [
        ("Soak 3 hours in cold water in the fridge", 1), ("Soak 3 hours in cold water, changing the water every hour", 3), ("Soak 2 hours in cold water. Change the water twice", 3),
        ("Soak overnight in cold water, change the water once", 2), ("Soak 4 hours in 3 changes of cold water", 4), ("Soak 1 hour, changing water every 20 minutes", 3),
        ("Soak 6 hours, water changed every half hour", 12), ("Soak 2 hours, change the water", 2),
    ],
)  # fmt: skip
def test_fresh_waters_of_a_soak(words: str, waters: int) -> None:
    found = process(f"Refrigerate at 38 F for 5 days. Rinse. {words}. Smoke at 225 F to 150 F inside.")
    assert found.soak is not None
    assert found.soak_waters == waters


@pytest.mark.parametrize("told", ["Into the brine, walk-in at 38 F, 7 days.", "Meat under the pickle, walk-in at 38 F, 7 days.", "Submerge in our brine, walk-in at 38 F, 7 days."])
def test_a_brine_that_is_made_on_another_page_cures(told: str) -> None:
    process = recipe_of(f"Pastrami\n\n5 lb beef navel, 2 in thick\nBrine: see p. 7\n\n1. {told}\n2. Rinse.\n3. Smoke at 225 F to 203 F inside.\n").process
    assert process.cure_time is not None
    assert process.cure_temperature is not None
    assert (process.cure_time.low, process.cure_time.unit, process.cure_temperature.low) == (7, "day", 38)
    assert process.cure is not None
    assert process.cure.method == "immersion"


def test_the_air_and_then_the_end_where_the_figures_fall() -> None:
    found = process(CURED + "Hot smoke 190 2 hrs then 225 to 160 inside.")
    assert fact(found.final_temperature) == (160, 160, "degF")
    bare = process(CURED + "Smoke oak 250 to 160, wrap.")
    assert (fact(bare.smoke_temperature), fact(bare.final_temperature)) == ((250, 250, "degF"), (160, 160, "degF"))
    lowered = process(CURED + "Smoke to 150 inside. Drop from 250 to 200, 2 hrs.")
    assert fact(lowered.final_temperature) == (150, 150, "degF")
    rising = process(CURED + "Smoke at 225 F to 155 to 160 inside.")
    assert fact(rising.final_temperature) == (155, 160, "degF")


def test_a_dry_cure_begins_with_a_rub_and_nothing_said_of_it() -> None:
    recipe = recipe_of("Smoked brisket\n\nBrisket, whole, 13-15 lb\nDRY CURE per kg of meat:\n- 28 g kosher salt\n- 2.5 g cure #1\n\nRub, bag, cooler 36F. 8 to 10 days, turn every day.\nRinse and soak in cold water 2 hr. Dry.\nSmoke 7 hr @ 215 until 165.\n")
    assert [step.phase for step in recipe.steps][:3] == ["cure", "cure", "rinse"]
    assert recipe.process.cure_time is not None
    assert (recipe.process.cure_time.low, recipe.process.cure_time.high) == (8, 10)
    mixed = recipe_of("Belly\n\n5 lb belly\n2 oz salt\n5.5 g cure #1\n\nRub together the salt and cure. Into a bag with it, 7 days in the fridge.\n")
    assert mixed.steps[0].phase != "cure"


def test_ice_in_place_of_water_is_so_much_less_water() -> None:
    recipe = recipe_of("Turkey\n\n2 turkey breasts, 5 lb each\n1.5 gal cold water\n9 oz salt\n2 qt ice in place of some of the water\n\nChill to 38 F. Turkey in, 2 days in the fridge.\n")
    (water,) = recipe.of_role("water")
    assert water.amount is not None
    assert water.mass is not None
    assert (float(water.amount.low), water.amount.unit) == (1.5, "gallon")  # as written
    assert round(water.mass.likely) == 3782  # one gallon


def test_a_dry_cure_in_a_bag_for_days() -> None:
    recipe = recipe_of("Duck ham\n\n720 g duck breast\n21.6 g salt\n1.8 g cure #2\n\n1. Vacuum bag with the cure, 7 days at 3 °C, flipping daily.\n2. Rinse, pat dry.\n3. Hang at 12 °C until 35 % weight loss, about 3-4 weeks.\n4. Slice thin.\n")
    assert [step.phase for step in recipe.steps] == ["cure", "rinse", "dry", "slice"]
    assert fact(recipe.process.cure_time) == (7, 7, "day")


def test_of_two_cool_downs_the_longer_counts_and_not_both() -> None:
    found = process(CURED + "Smoke 225 F to 150 F inside. Cool to 40 F, 90 min.\nBag. Steam 155 F 24 h. Ice bath to 70 F <2h, 41 F <6h tot.")
    assert [(round(leg.start), round(leg.end), leg.high) for leg in found.cooling] == [(135, 70, 2), (70, 41, 4)]
    one = process(CURED + "Simmer 3 hours to 195 F.\nCool to 70 F in 2 hours.\nThen to 41 F in 5 hours.")
    assert sum(leg.high for leg in one.cooling) == 7


def test_a_brine_set_to_chill_is_no_meat_in_the_cure() -> None:
    recipe = recipe_of("Corned beef\n\n4 lb brisket\n2 qt water\n1 cup kosher salt\n2 lb ice\n\nBoil the water and salt. If necessary, place the brine into the refrigerator until it reaches 45 degrees F. Place the brisket in a bag and add the brine. Refrigerate for 10 days.\n")
    assert fact(recipe.process.brine_temperature) == (45, 45, "degF")
    assert recipe.process.cure_temperature is None


def test_what_is_reheated_and_then_held_is_reheated_to_the_hotter() -> None:
    recipe = recipe_of(HEAD + CURED + "Simmer 3 hours to 195 F. Reheat to 165 F for service, hold over 140 F.\n")
    assert Sums(recipe, House()).all()["reheating"].value.likely == 0


def test_lines_that_begin_with_a_dash_and_no_blank_are_steps() -> None:
    recipe = recipe_of("Pastrami\n\n40 lb navel, 2.25 in thick\n18 kg water\n1080 g salt\n252 g cure #1\n\n-Blend cold (38F). Inject 15%. Cover w/ remaining. 4d @ 36-38F, flip d2.\n-Drain, rinse. Rub: coriander/pepper 60/40, 1.2 kg\n-Smoke 225F to 150F IT.\n")
    assert [step.phase for step in recipe.steps] == ["make-brine", "pump", "cure", "cure", "rinse", "season", "smoke"]
    assert [item.name for item in recipe.ingredients if not item.in_method] == ["navel", "water", "salt", "cure #1"]


@pytest.mark.parametrize("told", ["2 months frozen, 1 week fridge.", "Keeps 1 week in the fridge, 2 months in the freezer.", "Keeps 2 months in the freezer, 1 week in the fridge."])
def test_the_time_in_the_cold_where_the_freezer_is_told_too(told: str) -> None:
    kept = process(CURED + f"Simmer 3 hours to 195 F.\nChill, slice. {told}").storage
    assert kept is not None
    assert (kept.low, kept.high, kept.kept) == (7, 7, "cold")


def test_a_dry_cure_is_coated_on_all_sides() -> None:
    recipe = recipe_of("Bacon\n\n5 lb pork butt\n2 oz salt\n5.5 g cure #1\n\nCoat all sides, zip bags, fridge. 10 days, flip daily.\nRinse 1 min, pat dry.\nSmoke 200F to 145.\n")
    assert [step.phase for step in recipe.steps][:3] == ["cure", "cure", "rinse"]
    assert fact(recipe.process.cure_time) == (10, 10, "day")


def test_an_average_is_of_each_and_a_brine_has_a_size_of_its_own() -> None:
    recipe = recipe_of("Ham\n\n2 ea fresh ham, bone in, 18 lb avg\nBrine per 5 gal:\n  5 gal water\n  4 lb salt\n  12 oz cure (6.25 %)\n\nPump to 118% of green wt.\nCover pickle 5 days at 38.\n")
    (ham,) = recipe.of_role("meat")
    (salt,) = recipe.of_role("salt")
    assert ham.mass is not None
    assert salt.mass is not None
    assert round(ham.mass.likely) == 16329
    assert round(salt.mass.likely) == 1814
    assert recipe.process.pump is not None
    assert recipe.process.pump.low == 18


def test_meat_that_stands_in_the_fridge_until_a_day_is_in_the_cure() -> None:
    recipe = recipe_of("Bacon\n\n5 lb pork belly\n2 oz salt\n5.5 g cure #1\n\nRub it all over and put it in the fridge until day 7.\nRinse. Smoke at 200 F to 150 F inside.\n")
    assert recipe.steps[0].phase == "cure"


@pytest.mark.parametrize("end", ["80C till core 69.", "80C until internal temp of 69.", "80 C to 69 core."])
def test_the_core_as_a_bare_figure_beside_degrees_of_celsius(end: str) -> None:
    found = process(CURED + f"Smoke: 55C 1 hr no smoke, 65C smoke 3 hr, {end}")
    assert found.final_temperature is not None
    assert round(found.final_temperature.low, 1) == 156.2


@pytest.mark.parametrize("cold", ["let it get quite cold", "let it go stone cold", "leave until it has gone cold"])
def test_a_brine_that_gets_cold_is_cooled(cold: str) -> None:
    recipe = recipe_of(f"Tongue\n\nOx tongue 4 lb\n1 gallon water\n1 lb salt\n\nBoil all together, skim, {cold}. Lay the tongue in for a fortnight in the fridge.\n")
    assert recipe.process.brine_heated is not None
    assert recipe.process.brine_cooled is not None


def test_days_behind_a_dash_are_no_third_figure_of_the_range() -> None:
    found = process("Dissolve. Meat in, fridge 36-40 — 5 days per inch of thickness. Flip every day.")
    assert fact(found.cure_temperature) == (36, 40, "degF")
    assert found.cure_rate is not None
    assert (found.cure_rate.low, found.cure_rate.per, found.cure_rate.per_unit) == (5, 1, "inch")
    fallen = process(CURED + "Hot smoke 170-180 to 150 internal.")
    assert (fact(fallen.smoke_temperature), fact(fallen.final_temperature)) == ((170, 180, "degF"), (150, 150, "degF"))


@pytest.mark.parametrize("words", ["Move them around every couple of days.", "Shuffle the pieces every other day.", "Rearrange everything daily."])
def test_what_turns_it(words: str) -> None:
    assert process(f"Meat into the brine, walk-in at 38 F, 10 days. {words}").turning is not None


def test_a_pumped_belly_in_few_words() -> None:
    found = process("Stitch pump 10%, immerse in remaining cover pickle 3 days @ 36-38. Drain, comb, smokehouse 130 no smoke till dry, 150 smoke till 140 int temp, about 5 hrs.")
    assert (fact(found.cure_temperature), fact(found.smoke_temperature), fact(found.final_temperature)) == ((36, 38, "degF"), (130, 150, "degF"), (140, 140, "degF"))


def test_breast_and_thigh_have_an_end_each() -> None:
    found = process(CURED + "Rinse. Roast 325 until breast 160 and thigh 170. Rest 30 minutes.")
    assert fact(found.final_temperature) == (160, 160, "degF")


def test_days_of_evening_out_are_none_of_the_cure_where_a_rate_gives_those() -> None:
    recipe = recipe_of("Country ham\n\n1 fresh ham, bone in, skin on, 18 lb\n8 oz salt\n\nRub one third on day 1, day 3, and day 10. Hold at 36-40F, 2 days per lb.\nWash, soak overnight. Equalize 50F 20 days.\nCold smoke 2-3 days under 90.\n")
    assert fact(recipe.process.cure_time) == (36, 36, "day")


def test_pieces_told_in_a_sentence_weigh_so_much_each() -> None:
    recipe = recipe_of("Navels\n\nget 2 navels from the walk in, should be about 9 lb each, trim the loose fat\n\n  2 1/2 gal water\n  2 lb kosher\n\nNavels go under with a couple of hotel pans on top. 9 days, swap top and bottom on day 3 and 6.\n")
    meat = recipe.process.meat
    assert meat is not None
    assert meat.mass is not None
    assert (round(meat.mass.likely), meat.pieces) == (8165, (2, 2))
    assert recipe.process.weighed_down is not None
    assert recipe.process.turning is not None
    alone = recipe_of("Beef\n\nTake a brisket of 12 lb and trim it.\n\n  2 gal water\n  2 lb kosher\n").process.meat
    assert alone is not None
    assert alone.mass is not None
    assert round(alone.mass.likely) == 5443


def test_hocks_in_a_cooks_own_words() -> None:
    recipe = recipe_of("Hocks\n\nhocks, 14 lb, split\n1 1/2 gal water, 20 oz salt, 10 oz dark brown, 8 oz jaggery, 1.6 oz cure #1 - dissolve cold, walk-in until it reads 37\n\nIn they go, plate and a can of tomatoes on top. 6 days walk-in.\nHose off, hang in the cooler overnight.\nHickory at 190 until they hit 160 by the bone, 5 hours or near it.\n")
    assert [(item.role, item.amount and (float(item.amount.low), item.amount.unit)) for item in recipe.ingredients if not item.in_method] == [
        ("meat", (14, "pound")), ("water", (1.5, "gallon")), ("salt", (20, "ounce")), ("sugar", (10, "ounce")), ("other", (8, "ounce")), ("cure1", (1.6, "ounce")),
    ]  # fmt: skip
    found = recipe.process
    assert (fact(found.cure_time), fact(found.smoke_temperature), fact(found.final_temperature)) == ((6, 6, "day"), (190, 190, "degF"), (160, 160, "degF"))
    assert found.weighed_down is not None
    assert found.rinse is not None
