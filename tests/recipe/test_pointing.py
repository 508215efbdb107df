"""What an index has of a recipe: where it sends the cook outside itself, and what is only like that."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.recipe.pointing import listed
from tests.conftest import recipe_of

PAGE = "Corned beef\n\n2 lb beef flat\n1 gal water\n10 oz salt\n2 oz cure #1\n\n1. Stir the brine.\n2. {}\n3. Keep it 10 days at 38 F.\n"


def sent(line: str) -> list[tuple[str | None, int | None, int | None]]:
    """Kind, number and step of each numbered reference, or of one that names a step, in ``line`` of a method."""
    pointers = listed(recipe_of(PAGE.format(line))).pointers
    return [((None if one.number is None else "card" if one.card else "page"), one.number, one.step) for one in pointers if not one.bare]


def named(line: str) -> list[str]:
    return [one.words for one in listed(recipe_of(PAGE.format(line))).pointers if one.bare]


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("Add 1 recipe Pickling Spice #3 (see p. 41).", [("page", 41, None)]),
        ("Brine: see card 12", [("card", 12, None)]),
        ("Same as c.b. thru step 4 (p. 7).", [("page", 7, 4)]),
        ("As for the ham, steps 3-5 on p. 7.", [("page", 7, 5)]),
        ("Follow step 12 of card 3.", [("card", 3, 12)]),
        ("Rub with the mix from card no. 12.", [("card", 12, None)]),
        ("See pg 41 for the rub.", [("page", 41, None)]),
        ("Slaw: see p. 30 and p. 31", [("page", 30, None), ("page", 31, None)]),
        ("Rub as on p. 41 of the binder.", [("page", 41, None)]),
        ("Same as corned beef thru step 4.", [(None, None, 4)]),
    ],
)
def test_where_it_sends_the_cook(line: str, found: list[tuple[str | None, int | None, int | None]]) -> None:
    assert sent(line) == found


@pytest.mark.parametrize(
    "line",
    [
        "See page 2 of the food code.", "Chill it as the food code, p. 41, has it.", "p. 41 of the manual", "page 2 of 3", "Page 2/3", "Written on an index card 4.", "Paid with credit card 41.", "From the big book p. 41.",
        "Adapted from an old smokehouse book, p. 112.", "Continued on page 2.", "cont. from p. 6", "Same as above.", "Same as above through step 4.", "Go through step 4 again.", "See the chef.", "Brisket from the butcher.",
        "Use the fridge.", "Use tongs and go through step 4.", "Was p. 41, moved to p. 43.", "Copy of card 12.", "Time card 12 to be stamped.", "Page 9 of Thursday's prep list.", "HACCP plan page 7.", "See p. 3 in the oven's manual.",
        "See our website, page 3.", "See ~~p. 41~~.", "Weigh on the scale of page 99999999999999999999.", "Same as corned beef thru step 99999999999999999999.",
    ],
)  # fmt: skip
def test_what_is_no_page_of_this_binder(line: str) -> None:
    assert sent(line) == []


def test_a_sign_off_quotes_and_does_not_send() -> None:
    page = PAGE.format("Rub it, see p. 41.") + '\nSigned off: page-not-in-binder on "see p. 41", AB, 2024-01-02: it hangs on the wall\n'
    assert [(one.number, one.line) for one in listed(recipe_of(page)).pointers] == [(41, 9)]


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("Make one batch of our corned beef brine.", ["corned beef brine"]),
        ("Rub as for the pastrami.", ["pastrami"]),
        ("Add 1 recipe pickling spice.", ["pickling spice"]),
        ("Use the pastrami rub recipe.", ["pastrami rub"]),
        ("Simmer until tender.", []),
    ],
)
def test_names_that_a_recipe_of_the_binder_may_have(line: str, names: list[str]) -> None:
    assert named(line) == names


def test_a_list_of_its_own_is_no_other_recipe() -> None:
    page = "Corned beef\n\nBrine:\n1 gal water\n10 oz salt\n\n2 lb beef flat\n\n1. Put the flat in our brine, 10 days.\n"
    assert [one for one in listed(recipe_of(page)).pointers if one.words == "brine"] == []


@pytest.mark.parametrize(
    ("text", "numbers", "name"),
    [
        ("Corned beef   p. 7\n\n1 lb salt\n", [(7, False, True)], "Corned beef"),
        ("Card 12: Pickling spice\n\n1 oz pepper\n", [(12, True, True)], "Card 12: Pickling spice"),
        ("PAGE 41\nCorned beef\n\n1 lb salt\n", [(41, False, True)], "Corned beef"),
        ("Corned beef\n\n1 lb salt\n\nMix it.\n\n- 41 -\npage 7\n", [(7, False, False)], "Corned beef"),
        ("Corned beef\n\n1 lb salt\n\nMix it.\n\npage 2 of 3\n", [], "Corned beef"),
        ("Corned beef, see p. 41\n\n1 lb salt\n", [], "Corned beef, see p. 41"),
        ("Corned beef   smoke bk. p. 19\n\n1 lb salt\n", [(19, False, True)], "Corned beef"),
    ],
)
def test_the_numbers_it_bears_and_the_name_it_has(text: str, numbers: list[tuple[int, bool, bool]], name: str) -> None:
    found = listed(recipe_of(text))
    assert ([(one.number, one.card, one.titled) for one in found.numbers], found.name) == (numbers, name)


def test_what_stands_in_it_and_in_which_step() -> None:
    found = listed(recipe_of(PAGE.format("Put the flat in the brine and weigh it down with a plate.")))
    assert found.last_step == 3
    assert {what: found.has[what] for what in ("water", "curing salt", "weight", "days", "cold")} == {"water": 0, "curing salt": 0, "weight": 2, "days": 3, "cold": 3}
    assert "end" not in found.has


@given(st.text(st.sampled_from("see p. 41 card #12/3 page of step thru same as our corned\n1. ()"), max_size=80))
def test_any_text_is_listed_and_every_place_is_its_line(text: str) -> None:
    recipe = recipe_of(f"Corned beef\n\n1 lb salt\n{text}")
    for one in listed(recipe).pointers:
        assert recipe.page.line_at(one.place.start) == one.line
        assert one.number is None or str(one.number) in recipe.page.words(one.place)
