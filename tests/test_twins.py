from __future__ import annotations

import random
from pathlib import Path

import pytest

from overhaul import binder, pipeline
from overhaul.house import House
from overhaul.twins import Likeness, likeness, likest, score, twins
from tests.conftest import CORPUS, recipe_of
from tests.made_binder import pages
from tests.test_comparing import page

PHOTOCOPY = page()
# Retyped: other hands, other abbreviations, one spice gone, the cure and the days changed.
RETYPED = """CORNED FLAT (copy)

9 lb brisket flat, 1 3/4 in thick
1 gallon water
12 oz kosher salt
1 cup sugar
1 oz cure no. 1
4 bay leaves

Dissolve everything in the water and chill to 38 F.
Brine the flat 5 days at 38 F, turning daily. Rinse. Soak 1 hour in the fridge. Simmer 3 hours to 200 F inside.
Cool from 135 to 70 F in 2 hours and to 41 F in 4 more. Keeps 4 days.
"""
OTHER = """Salt beef for the deli

5 lb beef round, 3 in thick
2 litres water
180 g salt
40 g brown sugar
12 g saltpetre
1 onion, 2 carrots

Make the pickle, cool it overnight. Leave the round in it three weeks in the cellar. Boil gently till tender.
"""


def of(*texts: str) -> list[tuple[int, int]]:
    return twins([likeness(recipe_of(text)) for text in texts])


def test_a_photocopy_with_another_cure_and_other_days_is_a_twin() -> None:
    assert of(PHOTOCOPY, OTHER, page(cure=28, days=5)) == [(0, 2)]


def test_a_retyped_page_is_a_twin() -> None:
    assert of(PHOTOCOPY, RETYPED) == [(0, 1)]


def test_a_doubled_page_is_a_twin() -> None:
    assert of(PHOTOCOPY, page(meat=18, water=2, salt=680, sugar=2, cure=40, leaves=8)) == [(0, 1)]


def test_a_group_is_told_from_its_first() -> None:
    assert of(PHOTOCOPY, page(cure=28), RETYPED, OTHER, page(soak=6)) == [(0, 1), (0, 2), (0, 4)]


def test_another_meat_or_another_product_is_none() -> None:
    assert of(PHOTOCOPY, PHOTOCOPY.replace("brisket flat", "pork loin")) == []
    one = likeness(recipe_of(PHOTOCOPY))
    assert score(one, Likeness(one.title, one.names, one.words, one.boxes, one.species, "pastrami")) == 0
    assert score(one, one) == pytest.approx(100)


def test_too_little_to_know_a_recipe_by() -> None:
    assert of("Brine\n\n1 lb salt\n1 gal water\n", "Brine\n\n1 lb salt\n1 gal water\n") == []


def test_no_two_pages_of_the_corpus_are_twins() -> None:
    recipes = [(path, recipe) for path in binder.gather([CORPUS]).files for recipe in pipeline.read(path.read_bytes(), path.name, House()).recipes]
    assert [(recipes[first][0].name, recipes[second][0].name) for first, second in twins([likeness(recipe) for _, recipe in recipes])] == []


def test_every_copy_of_a_made_binder_is_found() -> None:
    """Of each copied page its twin is the page itself, or one that both look like."""
    made = pages(100)
    found = twins([likeness(pipeline.read(text.encode(), name, House()).recipes[0]) for name, text in made])
    partner = {second: first for first, second in found}
    group = [partner.get(index, index) for index in range(len(made))]
    copies = [(index, int(name.split("-copy-of-")[1].split(".")[0])) for index, (name, _) in enumerate(made) if "-copy-of-" in name]
    assert len(copies) >= 5
    missed = [(index, source) for index, source in copies if group[index] != group[source] and len(likeness(recipe_of(made[index][1])).boxes)]
    assert missed == []


def test_unlike_recipes_seldom_meet() -> None:
    """What is looked at closely grows with the binder: of 400 recipes of random words, fewer than a tenth of the pairs share a box."""
    chance = random.Random(3)
    words = [f"w{number}word" for number in range(400)]
    made = []
    for number in range(400):
        own = chance.sample(words, 25)
        text = f"Title {own[0]}\n\n" + "".join(f"{chance.randrange(2, 90)} g {one}\n" for one in own) + "\nMix and chill at 38 F.\n"
        made.append(likeness(recipe_of(text)) if number < 40 else Likeness(own[0], " ".join(own), " ".join(own), likeness(recipe_of(text)).boxes, None, None))
    boxes: dict[int, int] = {}
    for one in made:
        for box in one.boxes:
            boxes[box] = boxes.get(box, 0) + 1
    meetings = sum(count * (count - 1) // 2 for count in boxes.values())
    assert meetings < 0.1 * 400 * 399 / 2


def test_the_likest_of_two_files() -> None:
    assert likest([recipe_of(OTHER), recipe_of(PHOTOCOPY)], [recipe_of(RETYPED)]) == (1, 0)
    assert likest([recipe_of(OTHER)], [recipe_of(RETYPED)]) == (0, 0)


def test_boxes_are_the_same_in_every_process(tmp_path: Path) -> None:
    import subprocess
    import sys

    (tmp_path / "a.txt").write_text(PHOTOCOPY)
    code = "import sys; from overhaul import pipeline; from overhaul.house import House; from overhaul.twins import likeness; print(likeness(pipeline.read(open(sys.argv[1],'rb').read(), 'a.txt', House()).recipes[0]).boxes)"
    said = {subprocess.run([sys.executable, "-c", code, tmp_path / "a.txt"], capture_output=True, text=True, check=True, env={**__import__("os").environ, "PYTHONHASHSEED": str(seed)}).stdout for seed in (1, 2)}
    assert len(said) == 1
