"""Several recipes on one page, versions, and ways to finish."""

from __future__ import annotations

import pytest

from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.recipe import read_page
from overhaul.recipe.model import Recipe
from overhaul.text import Page

BEEF = "6 lb brisket flat, 1 3/4 in thick\n1 gal water\n10 oz salt\n18 g cure #1 (6.25 %)\n"
BEEF_STEPS = "1. Dissolve in the water. Chill to 38 F.\n2. Put the beef in under a plate. Refrigerate 10 days at 38 F, turning daily.\n3. Rinse and simmer 3 hours to 195 F.\n"
BELLY = "5 lb belly\n2 oz salt\n1 oz sugar\n5.6 g cure #1\n"
BELLY_STEPS = "Rub. Bag. 7 days in the fridge. Rinse, dry overnight. Smoke at 200 to 150 F inside.\n"


def recipes(text: str) -> list[Recipe]:
    return read_page(Page(text), House())


def names(recipe: Recipe) -> list[str]:
    return [item.name for item in recipe.ingredients]


@pytest.mark.parametrize(
    ("between", "first", "second"),
    [
        ("\n\n", "CORNED BEEF\n\n", "BACON\n\n"),
        ("\n---\n\n", "Corned beef\n\n", "Bacon for breakfast\n\n"),
        ("\n\n\n", "Corned beef\n\n", "Bacon for breakfast\n\n"),
        ("\n\f", "Corned beef\n\n", "Saltbox special\n\n"),
        ("\n", "# Corned beef\n\n", "# Bacon\n\n"),
        ("\n\n", "Recipe 12: corned beef\n\n", "Recipe 13: bacon\n\n"),
    ],
)
def test_two_recipes_of_one_page(between: str, first: str, second: str) -> None:
    page = f"{first}{BEEF}\n{BEEF_STEPS}{between}{second}{BELLY}\n{BELLY_STEPS}"
    beef, belly = recipes(page)
    assert names(beef) == ["brisket flat", "water", "salt", "cure #1"]
    assert names(belly) == ["belly", "salt", "sugar", "cure #1"]
    assert beef.title == first.strip().lstrip("# ")
    assert belly.title == second.strip().lstrip("# ")
    assert (beef.index, belly.index) == (0, 1)
    assert beef.last_line + 1 == belly.first_line
    assert [line.text for one in (beef, belly) for line in one.lines] == [Page(page).line(number) for number in range(1, len(Page(page).lines) + 1)]
    assert belly.process.cure_time is not None
    assert belly.process.cure_time.line == page[: page.index("7 days")].count("\n") + 1


def test_findings_name_the_recipe_and_its_own_lines() -> None:
    page = f"CORNED BEEF\n\n{BEEF}\n{BEEF_STEPS}\n\nBACON\n\n{BELLY.replace('5.6 g', '56 g')}\n{BELLY_STEPS}"
    found = [finding for finding in audit_text(Page(page, "two.txt"), House()).findings if finding.rule == "curing-salt-over-limit"]
    assert [(finding.recipe, finding.place.start) for finding in found] == [((1, "BACON"), page.index("56 g"))]


@pytest.mark.parametrize(
    "part",
    ["PASTRAMI RUB\n1/4 c pepper\n2 tbsp coriander\nGrind coarse.\n\n", "\nPastrami rub\n1/4 c pepper\n2 tbsp coriander\nGrind coarse.\n\n\n", "MUSTARD SAUCE\n1 cup mustard\n2 tbsp honey\nStir.\n\n", "---\nFOR THE POT\n1 onion\n2 carrots\nPeel them.\n\n", "For the beef:\n2 brisket flats, 9 lb in all\n1 onion\nTrim them.\n\n"],
)
def test_a_component_is_no_recipe(part: str) -> None:
    (one,) = recipes(f"Pastrami\n\nBrine\n{BEEF}\n{part}METHOD\n{BEEF_STEPS}")
    assert one.title == "Pastrami"
    assert len(one.sections) > 1


def test_a_wet_and_a_dry_version_are_never_added_up() -> None:
    page = "Brisket two ways\n\n5 lb brisket, 1 1/2 in thick\n\nWET CURE\n1 gal water\n12 oz salt\n24 g cure #1\nDissolve, chill to 38 F, put the brisket in, refrigerate 7 days at 38 F.\n\nDRY CURE\n56 g salt\n5.6 g cure #1\nRub it on, bag it, refrigerate 10 days at 38 F.\n\nTO COOK\nRinse, simmer 3 hours to 195 F.\n"
    wet, dry = recipes(page)
    assert (wet.title, dry.title) == ("Brisket two ways: wet cure", "Brisket two ways: dry cure")
    assert names(wet) == ["brisket", "water", "salt", "cure #1"]
    assert names(dry) == ["brisket", "salt", "cure #1"]
    for one, days in ((wet, 7), (dry, 10)):
        assert one.process.cure_time is not None
        assert one.process.cure_time.low == days
        assert one.process.final_temperature is not None


def test_one_recipe_takes_over_the_steps_of_another() -> None:
    page = f"CORNED BEEF\n\n{BEEF}\n{BEEF_STEPS}\n\nPASTRAMI\n\n5 lb brisket\n1/4 cup pepper\n1/4 cup coriander\n\n1. Same as c.b. through step 2 (p. 7).\n2. Rinse, rub and smoke at 225 F to 165 F. Steam to 203 F.\n"
    _, pastrami = recipes(page)
    assert names(pastrami) == ["water", "salt", "cure #1", "brisket", "pepper", "coriander"]
    assert [step.phase for step in pastrami.steps] == ["make-brine", "cool-brine", "cure", "cure", "other", "rinse", "cook"]
    assert pastrami.process.meat is not None
    assert pastrami.process.meat.mass is not None
    assert round(pastrami.process.meat.mass.likely) == 2268
    assert pastrami.process.cure_time is not None
    assert pastrami.process.cure_time.low == 10


SHARED = f"One brine, two beefs\n\nBRINE\n{BEEF}\nDissolve, chill to 38 F. Put the flats in under a plate, 10 days at 38 F, turning daily.\n\n"


@pytest.mark.parametrize(
    "ways",
    [
        "CORNED BEEF\nRinse and simmer one in fresh water 3 hours to 195 F.\n\nPASTRAMI\n1/4 c black pepper\nSoak the other 4 hours in the fridge. Smoke at 225 F to 165 F.\n\nSERVICE\nRest 20 minutes.\n",
        "METHOD\nCorned beef: rinse one flat and simmer it 3 hours to 195 F.\nPastrami: soak the other 4 hours in the fridge.\nSmoke at 225 F to 165 F.\nRest both 20 minutes.\n",
        "METHOD\nFor the corned beef: rinse one flat and simmer it 3 hours to 195 F.\nFor pastrami: soak the other 4 hours in the fridge. Smoke at 225 F to 165 F.\nRest both 20 minutes.\n",
    ],
)
def test_one_brine_finished_two_ways(ways: str) -> None:
    (one,) = recipes(SHARED + ways)
    corned, pastrami = one.branches
    assert [branch.name.lower() for branch in one.branches] == ["corned beef", "pastrami"]
    assert corned.process.smoke is None
    assert corned.process.soak is None
    assert pastrami.process.cook is None
    assert [(branch.process.final_temperature or pytest.fail("no end")).low for branch in one.branches] == [195, 165]
    assert all(branch.process.rest is not None and branch.process.cure_time is not None for branch in one.branches)
    assert one.process == corned.process
    assert [way.product for way in one.ways] == ["corned beef", "pastrami"]


def test_what_is_said_of_one_way_names_it() -> None:
    text = SHARED + "CORNED BEEF\nRinse and simmer one 3 hours to 195 F.\n\nPASTRAMI\n1/4 c black pepper\nSoak the other 4 hours in the fridge. Smoke at 225 F to 140 F inside. Slice and serve.\n"
    found = audit_text(Page(text), House()).findings
    low = [finding for finding in found if finding.rule == "final-temperature-low"]
    assert [finding.message.partition(":")[0] for finding in low] == ["PASTRAMI"]
    assert len({(finding.rule, finding.place, finding.message) for finding in found}) == len(found)


def test_a_list_told_again_for_another_batch_is_a_column() -> None:
    (one,) = recipes("Corned beef\n\nPer batch (25 lb):\n25 lb brisket\n3 gal water\n3 lb salt\n4 oz cure #1\n\nFor 100 lb:\n100 lb brisket\n12 gal water\n12 lb salt\n15 oz cure #1\n\nDissolve, chill to 38 F. Put the beef in, 10 days at 38 F.\n")
    assert names(one) == ["brisket", "water", "salt", "cure #1"]
    assert [[str(column.factor) for column in item.columns] for item in one.ingredients] == [["1", "4"], ["1", "4"], ["1", "4"], ["1", "15/4"]]
    assert one.unread == ()


@pytest.mark.parametrize(
    "page",
    [
        "Corned beef\n\n- 1 to\n- 2 cups salt\n- 2-\n- 3 lb brisket\n- 1 gal water\n\nSteps\n- Brine in the fridge 7 to\n- 10 days\n",
        "> Subject: c.b.\n>\n> Corned beef\n>\n>> 1 to 2 cups salt\n> > 2-\n> > 3 lb brisket\n> 1 gal water\n>\n> Brine in the fridge 7 to\n> 10 days\n",
    ],
)
def test_a_range_over_two_lines_bullets_or_quotations(page: str) -> None:
    (one,) = recipes(page)
    assert one.title == "Corned beef"
    assert [(item.name, int(item.amount.low), int(item.amount.high)) for item in one.ingredients if item.amount] == [("salt", 1, 2), ("brisket", 2, 3), ("water", 1, 1)]
    assert one.process.cure_time is not None
    assert (one.process.cure_time.low, one.process.cure_time.high) == (7, 10)
    assert one.unread == ()


def test_a_story_before_the_list_is_no_recipe_of_its_own() -> None:
    (one,) = recipes(f"Pastrami, the long way\n\nI first ate it on a rainy Tuesday and have chased it since.\n\nFor the brine:\n1 gal water\n10 oz salt\n18 g cure #1\n\nFor the beef:\nOne 5- to 6-pound brisket flat\n1 onion\n\nInstructions\n{BEEF_STEPS}")
    assert names(one) == ["water", "salt", "cure #1", "brisket flat", "onion"]


def test_so_many_ways_of_one_brine_are_refused() -> None:
    """Each is read with all that they share: in thousands they would be read for hours."""
    ways = "To finish as pastrami:\nSmoke at 225 F for 3 hours.\n\nTo finish as corned beef:\nSimmer 3 hours.\n\n" * 150
    shared = "1 tsp salt\n" * 20
    few, many = (audit_text(Page(f"Beef\n\n1 kg beef\n50 g salt\n1 l water\n{lines}\nCure 7 days.\n\n{ways}", "beef.txt"), House()) for lines in (shared, shared * 3))
    assert few.unreadable is None
    assert many.unreadable == "300 ways to make one recipe, which have 68 lines in common; of so many it is not read"


def test_a_book_that_takes_one_recipe_over_again_and_again_is_refused() -> None:
    first = f"# Corned beef\n\n{BEEF}" + "1 tsp pepper\n" * 60 + f"\n{BEEF_STEPS}\n"
    others = "# Pastrami\n\n2 kg beef\n50 g salt\n\nSame as corned beef through step 2.\nSmoke at 225 F for 3 hours.\n\n"
    assert audit_text(Page(first + others * 20, "book.txt"), House()).unreadable is None
    found = audit_text(Page(first + others * 400, "book.txt"), House())
    assert found.unreadable == "more than 10,000 lines that its recipes take over from each other; no book has so many"
