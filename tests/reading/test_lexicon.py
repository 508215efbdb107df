from __future__ import annotations

import pytest

from overhaul.reading import lexicon


@pytest.mark.parametrize(
    ("words", "role", "kind"),
    [
        ("kosher salt", "salt", "kosher_kind_unknown"),
        ("garlic salt", "spice", "pickling_spice_mixed"),
        ("pink salt", "cure1", "cure_no1"),
        ("Himalayan pink salt", "salt", "rock_salt_crushed"),
        ("cure no. 1", "cure1", "cure_no1"),
        ("Cure # 2", "cure2", "cure_no2"),
        ("saltpetre", "nitrate", "saltpetre_crystals"),
        ("sodium nitrite", "nitrite", None),
        ("brown sugar", "sugar", "sugar_brown_packed"),
        ("ice cubes", "ice", "ice_unspecified_bulk"),
        ("apple cider vinegar", "acid", "vinegar"),
        ("apple cider", "liquid", "apple_cider_sweet"),
        ("beef stock", "liquid", "water_cold"),
        ("beef brisket flat", "meat", "beef_brisket_flat"),
        ("juniper berries", "spice", "juniper_berries"),
        ("bay leaves", "spice", "bay_leaf"),
        ("fresh thyme", "aromatic", None),
        ("dried thyme", "spice", "thyme_leaves_dried"),
    ],
)
def test_names(words: str, role: str, kind: str | None) -> None:
    found = lexicon.known(lexicon.plain_words(words))
    assert found is not None
    assert (found.role, found.kind) == (role, kind)


def test_an_unknown_word_is_unknown() -> None:
    assert lexicon.known(lexicon.plain_words("flibbertigibbet")) is None


@pytest.mark.parametrize(("many", "one"), [("berries", "berry"), ("leaves", "leaf"), ("cloves", "clove"), ("radishes", "radish"), ("molasses", "molasses"), ("potatoes", "potato"), ("asparagus", "asparagus")])
def test_one_of_many(many: str, one: str) -> None:
    assert lexicon.singular(many) == one


@pytest.mark.parametrize(("name", "named"), [("cure #1", True), ("no. 1 curing salt", True), ("tinted cure mix", True), ("pink salt", False), ("cure", False), ("curing salt", False)])
def test_which_names_say_their_kind(name: str, named: bool) -> None:
    assert lexicon.names_its_kind(name) is named


@pytest.mark.parametrize(("name", "aside", "named"), [("cure", "(tinted, 6.25)", True), ("cure", "1 or 2", False), ("pink salt", "#1", True), ("cure #2", "", True), ("pink salt", "", False)])
def test_a_curing_salt_is_named_by_itself_or_by_what_stands_beside_it(name: str, aside: str, named: bool) -> None:
    assert lexicon.names_its_kind(name, aside) is named


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("in die lake legen und 5 tage bei 4 °c lassen, dann wässern", "German"),
        ("laisser le jambon dans la saumure pendant 5 jours, puis rincer", "French"),
        ("poner la carne con la salmuera en el refrigerador por 5 días, luego enjuagar", "Spanish"),
        ("lasciare la carne nella salamoia per 5 giorni con il peso, poi sciacquare", "Italian"),
        ("het vlees met een bord in de pekel laten en dan spoelen", "Dutch"),
        ("put the meat in the brine and leave it for 5 days, then rinse", None),
        ("fleur de sel, jus de veau, bouquet garni: boil all of it and chill", None),
        ("do w/ the rest, i say", None),
        ("", None),
    ],
)
def test_the_language_of_a_text(text: str, language: str | None) -> None:
    found = lexicon.other_language(text)
    assert (found[0] if found is not None else None) == language
