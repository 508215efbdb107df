"""Whole pages: sections, what stands only in the method, and nothing lost."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from overhaul.house import House
from overhaul.output.tree import recipe_tree
from overhaul.reading.tree import Chain, Measure, parse
from overhaul.recipe import read_page
from overhaul.recipe.model import Recipe
from overhaul.text import Page
from tests.conftest import CORPUS, findings_of, recipe_of
from tests.reading.test_tree import SOUP

PAGES = sorted(path for path in CORPUS.rglob("*") if path.suffix in (".txt", ".md") and path.name != "README.md")


def test_sections_keep_their_order_and_use() -> None:
    text = "Two ways\n\nPICKLING SPICE\n2 T coriander seed\n\nBRINE\n1 gal water\n8 oz salt\n\nPOT\n2 gal fresh water\n1 onion\n\nMETHOD\nStir the salt into the water.\n"
    assert [(section.name, section.use, [item.name for item in section.ingredients]) for section in recipe_of(text).sections if section.ingredients] == [
        ("PICKLING SPICE", "blend", ["coriander seed"]),
        ("BRINE", "cure", ["water", "salt"]),
        ("POT", "cook", ["fresh water", "onion"]),
    ]


def test_pot_water_is_no_brine() -> None:
    text = "Beef\n\nBrine:\n1 gal water\n8 oz salt\n\nPot:\n2 gal fresh water\n\nPut the meat in.\n"
    assert [item.line for item in recipe_of(text).of_role("water")] == [4]


def test_prose_alone_is_a_recipe() -> None:
    text = "Trout from the smoke\n\nFive pounds of trout fillets are wanted. Stir twelve\nounces of sea salt and five ounces of brown sugar into three quarts of cold water, and\nchill the brine to 38 F. Lay the fish in it and refrigerate ten hours.\n"
    assert [(item.line, item.name, item.role, item.in_method) for item in recipe_of(text).ingredients] == [
        (3, "trout fillet", "meat", True),
        (3, "sea salt", "salt", True),
        (4, "brown sugar", "sugar", True),
        (4, "cold water", "water", True),
    ]


def test_an_amount_told_again_in_the_method_is_not_a_second_one() -> None:
    text = "Brine\n\n1 gal water\n8 oz salt\n\nBring 1 quart of the water to a boil with the 8 oz salt.\n"
    recipe = recipe_of(text)
    assert [item.role for item in recipe.ingredients] == ["water", "salt"]
    assert [(taken.name, str(taken.amount.low) if taken.amount else None) for taken in recipe.steps[0].uses] == [("water", "1"), ("salt", "8")]


@pytest.mark.parametrize(
    ("title", "product"),
    [("Corned beef", "corned beef"), ("Pastrami, in a hurry", "pastrami"), ("Maple loin bacon", "loin"), ("Belly bacon", "bacon"), ("Small ham", "ham"), ("Beef tongue", "tongue"), ("Turkey for Sunday", "poultry"), ("Salmon", "fish"), ("Smoked links", "ground"), ("Venison jerky", "jerky"), ("Gravlax", "gravlax"), ("Bresaola", "dried"), ("Spring salad", None)],
)
def test_the_product_follows_from_the_title(title: str, product: str | None) -> None:
    assert recipe_of(f"{title}\n\n2 cups water\n1 oz salt\n\nMix.\n").product == product


def test_a_page_that_means_to_be_uncured_says_so() -> None:
    assert recipe_of("Turkey\n\nNo curing salt in this one, on purpose.\n\n1 gal water\n8 oz salt\n").uncured_on_purpose
    assert not recipe_of("Beef\n\n1 gal water\n8 oz salt\n20 g cure #1\n").uncured_on_purpose


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_every_character_of_every_line_is_kept(path: object) -> None:
    text = (CORPUS / str(path)).read_text("utf-8")
    page = Page(text)
    for recipe in read_page(page, House()):
        assert [line.text for line in recipe.lines] == [page.words(line.place) for line in page.lines]


def figures(tree: object) -> set[float]:
    if isinstance(tree, dict):
        return set().union(*(figures(value) for value in tree.values()), set())
    if isinstance(tree, list):
        return set().union(*(figures(value) for value in tree), set())
    if isinstance(tree, str):
        return {float(number) for number in re.findall(r"\d*\.\d+|\d+", tree)}
    return {round(float(tree), 6)} if isinstance(tree, int | float) and not isinstance(tree, bool) else set()


def words(tree: object) -> str:
    """All text of ``tree`` but the lines as written."""
    if isinstance(tree, dict):
        return "\n".join(words(value) for key, value in tree.items() if key != "text")
    if isinstance(tree, list):
        return "\n".join(words(value) for value in tree)
    return tree if isinstance(tree, str) else ""


def lost(recipe: Recipe) -> list[str]:
    """Figures of ingredient lines and steps that are neither in the recipe nor listed as unread."""
    tree = recipe_tree(recipe, {})
    del tree["lines"]
    kept, told = figures(tree), words(tree)
    missing = []
    for line in recipe.lines:
        if line.kind not in ("ingredient", "step"):
            continue
        for item in parse(re.sub(r"^\s*\d+[.)](?=\s)", "", line.text)):  # a step's number is no figure
            if isinstance(item, Chain):
                missing += [line.text[part.start : part.end] for part in item.parts if isinstance(part, Measure) and not part.article and not {round(float(part.low), 6), round(float(part.high), 6)} & kept and not figures(line.text[part.start : part.end]) <= kept and line.text[part.start : part.end] not in told]
    return missing


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_no_figure_of_the_corpus_is_lost(path: object) -> None:
    for recipe in read_page(Page((CORPUS / str(path)).read_text("utf-8")), House()):
        assert lost(recipe) == []


@settings(max_examples=150)
@given(st.one_of(st.text(max_size=400), st.lists(SOUP, max_size=12).map("\n".join)))
def test_no_text_raises_and_every_line_is_kept(text: str) -> None:
    page = Page(text)
    for recipe in read_page(page, House()):
        assert [line.text for line in recipe.lines] == [page.words(line.place) for line in page.lines]
        for item in recipe.ingredients:
            assert 0 <= item.place.start <= item.place.end <= len(text)
            assert item.place.start <= item.name_place.start
        for step in recipe.steps:
            assert step.line <= step.end_line
        assert lost(recipe) == []


@pytest.mark.parametrize("heading", ["Variations", "VARIATIONS:", "Substitutions", "## Variation", "Nutrition per serving"])
def test_what_stands_aside_is_never_added_up(heading: str) -> None:
    recipe = recipe_of(f"Corned beef\n\n6 lb brisket\n1 gal water\n10 oz salt\n\nPut the beef in, 7 days in the fridge.\n\n{heading}\n- Use 2 oz saltpetre and 20 oz salt.\n- For a quicker beef brine 2 days only.\n- salt 20 oz\n")
    assert [item.name for item in recipe.ingredients] == ["brisket", "water", "salt"]
    assert recipe.process.cure_time is not None
    assert recipe.process.cure_time.low == 7
    assert [note.line for note in recipe.notes] == [10, 11, 12]


def test_where_the_page_sends_its_reader_is_kept() -> None:
    recipe = recipe_of("Pastrami   p. 8\n\n6 lb brisket\n1 recipe pickling spice (see p. 41)\n\nSame as c.b. thru step 4 (p. 7). Rub with the mix from card 12.\n")
    assert [(one.line, one.text, one.to, one.page, one.step) for one in recipe.references] == [
        (4, "p. 41", None, 41, None),
        (6, "Same as c.b. thru step 4 (p. 7)", "c.b", 7, 4),
        (6, "card 12", None, 12, None),
    ]


def test_a_rate_heads_a_line_of_the_list() -> None:
    recipe = recipe_of("buckboard bacon\n\npork butt 7 lb deboned, split so its abt 2.5\" thick\nper kg of meat: 25g salt, 12g brown sugar, 2.5g cure #1\nbag it, fridge 38f for 14 days\n")
    assert [(item.name, str(item.amount.low) if item.amount else None, item.per is not None and item.per.unit, round(item.mass.likely, 1) if item.mass else None) for item in recipe.ingredients] == [
        ("pork butt", "7", False, 3175.1),
        ("salt", "25", "kilogram", 79.4),
        ("brown sugar", "12", "kilogram", 38.1),
        ("cure #1", "5/2", "kilogram", 7.9),
    ]


def test_prose_begins_with_the_meat_it_is_for() -> None:
    recipe = recipe_of("To corn beef\n\nFor every hundredweight of beef take seven pounds of salt and three ounces of saltpetre. Boil these in four gallons of water.\n")
    assert [(item.name, item.role, str(item.amount.low) if item.amount else None, item.amount.unit if item.amount else None) for item in recipe.ingredients] == [
        ("beef", "meat", "1", "hundredweight"),
        ("salt", "salt", "7", "pound"),
        ("saltpetre", "nitrate", "3", "ounce"),
        ("water", "water", "4", "gallon"),
    ]


def test_a_heading_gives_its_columns_their_units_across_tabs() -> None:
    recipe = recipe_of("Salt beef\n\nIngredient\tg\t%\nBeef brisket\t2500\t100\nSalt\t150\t6\nCuring salt no. 1 (6.25 % nitrite)\t8\t0.32\n\nMethod: Dissolve the salt. Chill it.\nBrine 7 days at 2-4 C, turn daily.\n")
    assert [(item.name, str(item.amount.low) if item.amount else None, item.amount.unit if item.amount else None, [str(other.low) for other in item.also]) for item in recipe.ingredients] == [
        ("beef brisket", "2500", "gram", ["100"]),
        ("salt", "150", "gram", ["6"]),
        ("curing salt no. 1", "8", "gram", ["8/25"]),
    ]
    assert [line.kind for line in recipe.lines[-2:]] == ["step", "step"]


def test_the_strength_off_the_label_may_stand_in_a_note() -> None:
    recipe = recipe_of("Beef\n\n5 lb brisket\n1 gal water\n10 oz salt\n2 tsp pink curing salt #1 (see Note 1)\n\nPut the beef in, 7 days in the fridge.\n\nNotes\n1. Pink curing salt is 6.25% sodium nitrite. It is NOT Himalayan pink salt.\n")
    (cure,) = recipe.of_role("cure1")
    assert cure.strength is not None
    assert cure.strength.nitrite is not None
    assert cure.strength.nitrite.likely == 6.25


@pytest.mark.parametrize("text", ["4 tsp cure 1", "18 g cure 2", "4 tsp cure no. 1", "cure 1 18 g"])
def test_the_number_of_a_cure_needs_no_mark(text: str) -> None:
    (item,) = recipe_of(f"Beef\n\n5 lb brisket\n10 oz salt\n{text}\n").of_role("cure1", "cure2")
    assert item.name in ("cure #1", "cure #2", "cure no. 1")


@pytest.mark.parametrize("text", ["cure 2 days", "Cure 1 week", "cure 2 oz"])
def test_a_time_or_a_weight_behind_cure_is_no_number_of_it(text: str) -> None:
    assert not any(item.name in ("cure #1", "cure #2") for item in recipe_of(f"Beef\n\n5 lb brisket\n10 oz salt\n{text}\n").ingredients)


def test_pieces_and_columns_stand_on_one_row() -> None:
    recipe = recipe_of("Duck ham\n\nIngredient\tg\t%\nDuck breast (magret), 2 pcs\t800\t100\nSalt\t24\t3,0\nSugar\t3\t0,4\n")
    duck = recipe.ingredients[0]
    assert duck.count is not None
    assert duck.amount is not None
    assert (str(duck.count.low), str(duck.amount.low), duck.amount.unit) == ("2", "800", "gram")


def grams(text: str) -> dict[str, int | None]:
    return {item.name: round(item.mass.likely) if item.mass is not None else None for item in recipe_of(text).ingredients}


def test_a_rate_a_gallon_in_prose_counts_for_all_the_water() -> None:
    found = grams("To corn a piece of beef\n\nTake a fair piece of the brisket, of ten pounds weight. To each gallon of water put a pound and a half of salt and half an ounce of saltpetre. Boil these, and set the pickle by until stone cold. Two gallons will cover a piece of this size. Pour it over the beef and let it lie three weeks.\n")
    assert found["brisket"] == 4536
    assert found["water"] == 7564
    assert found["salt"] == pytest.approx(1360, rel=0.01)
    assert found["saltpetre"] == pytest.approx(28.3, abs=1)


def test_two_salts_of_one_sentence_are_two() -> None:
    found = grams("A ham\n\nFor a ham of sixteen pounds pound together two pounds of bay salt, one pound of common salt and six ounces of saltpetre. Rub it in well.\n")
    assert found == {"ham": 7257, "bay salt": 907, "common salt": 454, "saltpetre": 170}


@pytest.mark.parametrize("told", ["Rub a fat goose, ten pounds drawn, with two ounces of salt.", "Rub a goose of ten pounds with two ounces of salt."])
def test_the_weight_may_stand_behind_the_meat(told: str) -> None:
    assert grams(f"A goose\n\n{told} Hang it a week.\n")["goose"] == 4536


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("4 0z salt", ("salt", "4", "ounce")),
        ("7 1bs. salt", ("salt", "7", "pound")),
        ("l/2 oz cracked pepper", ("cracked pepper", "1/2", "ounce")),
        ("O.4 oz cure #1", ("cure #1", "2/5", "ounce")),
        ("l5 lbs. ham", ("ham", "15", "pound")),
        ("1 doz cloves", ("clove", "12", "each")),
        ("2 dozen eggs", ("egg", "24", "each")),
        ("ONE HUNDRED FORTY FIVE pounds beef", ("beef", "145", "pound")),
        ("Curing salt, 6 1/4 per cent ........ 1 oz.", ("curing salt", "1", "ounce")),
    ],
)
def test_damaged_and_spelled_amounts(line: str, wanted: tuple[str, str, str]) -> None:
    (item,) = [one for one in recipe_of(f"Card\n\n5 qts water\n{line}\n").ingredients if one.line == 4]
    assert item.amount is not None
    assert (item.name, str(item.amount.low), item.amount.unit) == wanted


def test_what_was_written_before_stands_in_brackets() -> None:
    (item,) = recipe_of("Tongues\n\n6 tongues\n1 lb 14 oz salt            (was 2 1/2 lb - too sharp. O.K.)\n").of_role("salt")
    assert item.amount is not None
    assert (str(item.amount.low), [str(old.low) for old in item.was]) == ("15/8", ["5/2"])


def test_a_row_over_the_columns_is_no_ingredient() -> None:
    recipe = recipe_of("Smoked sausage\n\nIngredient             | 25 lb. batch | 50 lb. batch\nPork trimmings         | 25 lb.       | 50 lb.\nSalt                   | 8 oz.        | 1 lb.\n")
    assert [(item.name, [str(column.factor) for column in item.columns]) for item in recipe.ingredients] == [("pork trimming", ["1", "2"]), ("salt", ["1", "2"])]


@pytest.mark.parametrize("heading", ["Pickle to pump", "Pastrami rub", "Cover brine for the tub", "Dry cure to rub on"])
def test_a_list_is_headed_by_what_it_is_for(heading: str) -> None:
    recipe = recipe_of(f"Ham\n\n1 fresh ham, 12 lb\n\n{heading}\n2 lb salt\n4 oz cure no. 1\n\nCure it 20 days in the fridge.\n")
    assert [section.name for section in recipe.sections] == [None, heading]


def test_a_verb_refused_later_in_its_sentence_still_leads_it() -> None:
    recipe = recipe_of("Ham\n\n1 fresh ham, 12 lb\n2 lb salt\n4 oz cure no. 1\n\nCure it 20 days in the fridge. Smoke at 120 F for 4 hours without smoke, then at 170 F until 152 F inside.\n")
    last = recipe.steps[-1]
    assert last.phase == "smoke"
    assert [(float(one.amount.low), one.of) for one in last.temperatures] == [(120, "smoker"), (170, "smoker"), (152, "meat")]


def test_the_rest_of_the_water_as_so_much_ice_is_no_more_water() -> None:
    recipe = recipe_of("Brine\n\n4 lb brisket\n1 1/2 gal water\n300 g salt\n\nBoil 3 qt of the water with the salt. Add the rest as 3 qt ice. Brine 5 days at 38 F.\n")
    grams = {item.role: item.mass.likely for item in recipe.ingredients if item.mass is not None and item.role in ("water", "ice")}
    assert grams["water"] == pytest.approx(grams["ice"])
    assert grams["water"] + grams["ice"] == pytest.approx(1.5 * 3.785411784 * 1000 * 0.999, rel=0.01)


LETTER = """\
Pastrami (email)

> From: Sam
> Subject: pastrami for 40
>
> Hi, here's how we do it for the shop.
> 4 navels (abt 5 lb each). Brine = 2 gallons water, 2 cups kosher, 1 cup sugar, 5 Tbsp cure #1.
> Heat a quart of it to dissolve, rest cold, cool it all before the meat goes in.
> 5 days in the reach in, flip them every day.
> Soak overnight in clean water, cold.
> pepper/coriander 2:1, heavy.
> smoker at 275 till 165 then wrap & go to 200ish, 7 hrs total.
"""


def test_a_letter_pasted_below_a_title() -> None:
    recipe = recipe_of(LETTER)
    assert recipe.title == "Pastrami (email)"
    assert [(item.name, item.role) for item in recipe.ingredients] == [("navel", "meat"), ("water", "water"), ("kosher", "salt"), ("sugar", "sugar"), ("cure #1", "cure1")]
    assert [step.phase for step in recipe.steps] == ["cool-brine", "cure", "soak", "other", "smoke"]
    assert recipe.process.cure is not None
    assert recipe.process.cure.method == "immersion"


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("4 navels (5 lb each). Brine: 2 gallons water, 1 lb salt", ["navel", "water", "salt"]),
        ("4 navels (5 lb each). 2 gallons water, 1 lb salt", ["navel", "water", "salt"]),
        ("2 lb. 4 oz. kosher salt", ["kosher salt"]),
        ("1 brisket, about 12 lb. 3 in. thick", ["brisket"]),
    ],
)
def test_a_full_stop_ends_an_ingredient_where_it_ends_no_abbreviation(line: str, names: list[str]) -> None:
    assert [item.name for item in recipe_of(f"Pastrami\n\n{line}\n").ingredients] == names


def test_a_name_in_brackets_and_its_weight_is_an_ingredient_and_no_order() -> None:
    recipe = recipe_of("Corned beef\n\nflat, 14 lb\nwater 6 qt\nsalt kosher 17 oz\ncure (pink) 2.7 oz\n\nboil 3 qt w/ salt. kill heat, dump in ice\nbeef in, plate on top, walk in 8 days, turn every 2\n")
    assert [(item.name, item.role) for item in recipe.ingredients if item.line < 7] == [("flat", "meat"), ("water", "water"), ("salt kosher", "salt"), ("cure", "cure1")]
    assert recipe.process.cure_time is not None
    assert recipe.process.cure_cold is not None
    assert (recipe.process.cure_time.low, recipe.process.cure_cold.words) == (8, "walk in")
    rubbed = recipe_of("Pastrami\n\n5 lb navel\n\nRub the salt on, 2 lb\n")
    assert [item.name for item in rubbed.ingredients if not item.in_method] == ["navel"]


def test_a_set_in_line_with_a_weight_of_its_own_is_an_ingredient_of_its_own() -> None:
    recipe = recipe_of("Belly\n\nPer 1000 g trimmed belly (skin off)\n salt ........ 22 g\n sugar 12 g\n    and some pepper\n")
    assert [(item.line, item.name) for item in recipe.ingredients] == [(3, "belly"), (4, "salt"), (5, "sugar")]


def test_a_line_that_begins_with_an_order_is_a_step_of_its_own() -> None:
    recipe = recipe_of("Belly\n\n1000 g belly\n22 g salt\n2.5 g cure #1\n\nRub in all over. Bag flat.\nFridge 36-38F, 7 d for 1 1/2 in, flip daily\nRinse quick, pat, rack o/n\n")
    assert [(step.line, step.end_line, step.phase) for step in recipe.steps][2:] == [(8, 8, "cure"), (9, 9, "rinse")]
    assert recipe.process.cure_time is not None
    assert (recipe.process.cure_time.low, recipe.process.cure_temperature and recipe.process.cure_temperature.low) == (7, 36)
    wrapped = recipe_of("Belly\n\n1000 g belly\n22 g salt\n\nPut it with all of the salt into the bag and\nTurn it each day for one week in the fridge.\n")
    assert [(step.line, step.end_line) for step in wrapped.steps] == [(6, 7)]


def test_percent_of_meat_and_water_together() -> None:
    recipe = recipe_of("Loin\n\nPork loin 8 lb\nwet cure, equilibrium:\nmeat + water = 100 %\nwater 50% of meat\nsalt 2 %\ncure #1 0.25 %\n\nBag or tub, 10 days at 38. Turn on day 3, 6.\nSmoke 225 F to 145 F internal.\n")
    assert [(item.name, round(item.mass.likely, 1) if item.mass is not None else None) for item in recipe.ingredients] == [("pork loin", 3628.7), ("water", 1814.4), ("salt", 108.9), ("cure #1", 13.6)]
    assert [note.text for note in recipe.notes] == ["meat + water = 100 %"]
    process = recipe.process
    assert process.cure_time is not None
    assert process.cure_temperature is not None
    assert (process.cure_time.low, process.cure_time.unit, process.cure_temperature.low) == (10, "day", 38)


def test_what_is_ground_and_stuffed_is_ground_meat() -> None:
    for title in ("House sticks", "Beef sticks"):
        assert recipe_of(f"{title}\n\n17 lb beef trim\n7 oz salt\n1 oz cure #1\n\nGrind 3/16. Mix 3 min. Stuff 19mm collagen.\n").product == "ground"
    assert recipe_of("Ham\n\n17 lb leg\n7 oz salt\n\nGrind the pepper. Cure 9 days.\n").product == "ham"


def test_a_letter_is_called_by_its_subject() -> None:
    recipe = recipe_of("From: Ines\nTo: kitchen\nSubject: Re: brisket\n\nFor the pickle take 3 gallons of water and 3 lb of salt.\n")
    assert (recipe.title, recipe.page.words(recipe.title_place)) == ("brisket", "brisket")


def test_the_names_of_columns_are_no_title() -> None:
    recipe = recipe_of("item\tqty\tunit\tnote\nbrisket flat\t5.2\tkg\t\nsalt\t400\tg\tfine\n")
    assert recipe.title == "page"
    assert [item.name for item in recipe.ingredients] == ["brisket flat", "salt"]


def test_a_list_between_colons() -> None:
    recipe = recipe_of("Duck pastrami\n\n10 magrets @ 380 g\nBrine: 4 L H2O : 280 g salt : 140 g sugar : 24 g pink #1 : aromatics\n")
    assert [(item.role, round(item.mass.likely) if item.mass is not None and item.role != "water" else None) for item in recipe.ingredients] == [("meat", 3800), ("water", None), ("salt", 280), ("sugar", 140), ("cure1", 24), ("other", None)]


def test_a_pressed_ham_takes_all_that_is_mixed_in() -> None:
    recipe = recipe_of("Lunch ham, pressed\n\npork leg, 2 cm cubes 5 kg\nice water 750 g\nsalt 85 g (nitrite salt 0.5 %)\n\nTumble or mix 20 min till sticky, keep < 8 °C.\nFridge overnight. Stuff in ham press.\nWater bath 78 °C to 68 °C core.\n")
    assert recipe.product == "ground"
    assert recipe.process.cure is not None
    assert recipe.process.cure.method == "dry"


def test_vinegar_by_the_quart_is_a_bath() -> None:
    pickle = "Pickled pork\n\n2 lb pork butt, 2-inch cubes\n{}\n1/4 c salt\n1 tsp cure no 1\n\nBoil the vinegar, cool completely. Add the cure and pork. Refrigerate 3 days.\n"
    method = {amount: recipe_of(pickle.format(f"{amount} distilled vinegar")).process.cure for amount in ("1 qt", "2 T")}
    assert [cure and cure.method for cure in method.values()] == ["immersion", "dry"]
    assert "water-not-stated" not in [finding.rule for finding in findings_of(pickle.format("1 qt distilled vinegar"))]


def test_a_share_of_meat_and_water_is_no_strength() -> None:
    recipe = recipe_of("Flat\n\n1.8 kg flat, 5 cm\nbrine: 2 kg water, 130 g salt, 9.5 g #1 (0.25 % of meat+water)\n5 days at 2 °C, bagged with the brine\n")
    (cure,) = recipe.of_role("cure1")
    assert cure.strength is None
    assert recipe.process.weighed_down is not None
    (labelled,) = recipe_of("Flat\n\n2 kg flat\n9.5 g curing salt (0.5 % of it nitrite)\n").of_role("cure1")
    assert labelled.strength is not None


def test_a_list_between_strokes_with_amounts_first() -> None:
    recipe = recipe_of("Beef bacon\n\nFor each kg of meat:\n25 g salt / 15 g sugar / 2.5 g cure #1 / 5 g pepper\n\nPiece: 3.4 kg plate, boneless, 5 cm\nRub it all on, bag, 4 C for 10 days turning daily.\n")
    assert [(item.role, round(item.mass.likely, 1) if item.mass is not None else None) for item in recipe.ingredients] == [("salt", 85), ("sugar", 51), ("cure1", 8.5), ("spice", 17), ("meat", 3400)]
    assert recipe.process.cure_temperature is not None
    assert round(recipe.process.cure_temperature.low, 1) == 39.2
    (one,) = recipe_of("Rub\n\n2 oz salt / 5 lb meat\n").of_role("salt", use=None)
    assert one.per is not None


def test_a_line_of_figures_without_a_verb_below_a_list() -> None:
    recipe = recipe_of("Hocks\n20 lb hocks\n2.5 gal water\n2.5 lb salt\n4 oz cure1\n8 days, 36F, keep under\nSoak 1 hr, hang o/n\nSmoke 3 hr @140, then 200 till 165\nKeep froz 6 mo / frig 2 wk\n")
    process = recipe.process
    assert process.cure_time is not None
    assert process.cure_temperature is not None
    assert process.storage is not None
    assert (process.cure_time.low, process.cure_temperature.low, process.storage.low, process.storage.kept) == (8, 36, 14, "cold")
    bagged = recipe_of("Jowl bacon\njowls 2, skin on, 5 lb total\nsalt 2.75% = 62 g\ncure1 .25% = 5.7 g\nvac 7d\nsmoke 180 -> 150IT\n")
    assert [item.role for item in bagged.ingredients] == ["meat", "salt", "cure1"]
    assert bagged.process.cure_time is not None
    assert bagged.process.smoke_temperature is not None
    assert bagged.process.final_temperature is not None
    assert (bagged.process.cure_time.low, bagged.process.smoke_temperature.low, bagged.process.final_temperature.low) == (7, 180, 150)


def test_a_title_is_told_without_saying_that_it_is_one() -> None:
    recipe = recipe_of("RECIPE: Smoked pork loin\n\nPork loin 8.5 lb\nWater 1 gal\nSalt 12 oz\nCure #1 1.9 oz\n\n1. Mix brine, 38F or lower.\n2. Pump loins to 110% of green weight.\n3. Hold in remaining brine 36-48 hrs, 38F.\n")
    assert (recipe.title, recipe.page.words(recipe.title_place)) == ("Smoked pork loin", "Smoked pork loin")
    assert recipe.process.cure is not None
    assert recipe.process.cure.method == "pumped-immersion"


def test_a_marinade_of_vinegar_is_no_weak_brine() -> None:
    page = "Round\n\nTop round 6 lb\n{}, 1 qt water\n2 T salt\n\nBoil the marinade, cool. Meat in for 4 days, fridge, turn daily.\n"
    assert ["brine-weak" in [finding.rule for finding in findings_of(page.format(first))] for first in ("1 qt red wine vinegar", "1 qt stock")] == [False, True]


def test_a_rate_in_brackets_heads_a_list() -> None:
    recipe = recipe_of("Texas pastrami\n\n1 x 14# packer\nBrine (per gal): 1 c kosher (135 g), 1/2 c sugar, 0.9 oz cure1, spice\nneed 3 gal\nchill < 38\n5 d flat, 7 d point\n")
    assert [(item.role, item.per and item.per.unit) for item in recipe.ingredients if item.line == 4 and item.amount is not None] == [("salt", "gallon"), ("sugar", "gallon"), ("cure1", "gallon")]
