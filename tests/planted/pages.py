"""Sound pages to plant in: those of the corpus and of the rules, and some of other hands."""

from __future__ import annotations

from ruamel.yaml import YAML

from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.rules import texts
from overhaul.rules.curing_salt import pumped_bacon_without_accelerator
from overhaul.rules.page import sub_recipe_short
from overhaul.text import Page
from tests.conftest import CORPUS

CARD = """CORNED TONGUE (card 8)

4 beef tongues, 12 lb in all, 3 in thick
10 lb cold water
1 lb pickling salt
6 oz sugar
26 g cure #1 (6.25% nitrite)
2 oz pickling spice

Stir salt, sugar, cure into the cold water till clear. Chill to 37 F.
Tongues into a 6 gal stainless tub, brine over, rack and weight on top. Walk-in 37 F, 17 days. Overhaul d4, d8, d12.
Rinse. Soak 2 hrs in the walk-in, fresh water.
Simmer 4 hrs to 200 F inside. Rest 20 min, peel and slice.
Cool 135 to 70 F in 2 hrs, 41 F in 4 more. Keeps 4 days at 38 F.
"""

METRIC = """Gepökelte Rinderbrust, für die Karte

2,4 kg brisket flat, trimmed lean, 45 mm thick
2400 g cold water
150 g fine sea salt
60 g sugar
12 g cure no. 1 (6.25 % nitrite)

1. Dissolve salt, sugar and cure in the cold water and cool the brine to 3 °C.
2. Lay the flat in a 10 litre food plastic box, pour the brine over and weight it with a plate. Refrigerate at 3 °C for 11 days and turn it every second day.
3. Rinse, then soak for 1 hour in cold water in the refrigerator.
4. Simmer in fresh water for 3 hours until it reads 94 °C inside.
5. Let it rest 20 minutes, slice across the grain.
6. Cool the rest from 57 to 21 °C in 2 hours and to 5 °C in another 4. Keeps 4 days at 4 °C.
"""

PROSE = """Smoked chicken for the counter

Take 6 lb of chicken legs, one gallon of cold water (8 lb 5 oz), 9 oz of table salt and 4 oz of sugar. There is no curing salt in it, on purpose.
Stir the salt and sugar into the water until it is clear, and chill it to 38 F.
Put the legs in, hold them under with a plate, and refrigerate at 38 F for 6 hours.
Rinse them and dry them on a rack in the refrigerator overnight.
Smoke at 250 F until 170 F inside. Rest them 10 minutes.
Cool from 135 to 70 F in 2 hours and to 41 F in 4 more. Keeps 4 days at 38 F.
"""

BULLETS = """# Canadian-style loin

- 1 boneless pork loin, 6 lb, 2 1/2 in thick, lean
- 4 lb cold water
- 5 oz kosher salt, weighed
- 3 oz maple sugar
- 12 g curing salt no. 1 (6.25 % nitrite)

**Cure**
- Dissolve everything in the cold water. Chill to 38 F.
- Loin into a 2 gallon zip bag with the brine, air pressed out. Refrigerate at 36 to 38 F, 12 days, turning daily.

**Smoke**
- Rinse; soak 1 hour in the fridge. Dry uncovered in the fridge overnight.
- Smoke at 225 F until 150 F inside, and hold it there 5 minutes. Rest 15 minutes.

**Keep**
- Cool 135 to 70 F in 2 hours, to 41 F in 4 more. Keeps 7 days at 38 F.
"""

BIRD = """Smoked turkey breast, cured

1 boneless turkey breast half, 3 lb, 2 in thick
3 lb cold water
2.5 oz salt
1.5 oz brown sugar
9 g cure #1 (6.25 % nitrite)

1. Stir salt, sugar and cure into the water, cold. Chill it below 38 F.
2. Breast in, a plate to hold it under, lid on. Refrigerate at 38 F for 9 days. Turn it every other day.
3. Rinse. Dry overnight on a rack in the refrigerator.
4. Smoke at 250 F until 165 F inside. Rest 20 minutes.
5. Cool from 135 to 70 F within 2 hours, and to 41 F in 4 hours more. Slice. Keeps 7 days at 38 F.
"""

NEEDLE = """Pumped loin for the slicer

1 boneless pork loin, 8 lb, 3 in thick, lean
1 lb cold water
2 oz pickling salt
1 oz sugar
12 g cure #1 (6.25 % nitrite)

1. Dissolve salt, sugar and cure in the cold water. Chill to 38 F.
2. Pump 10 %, evenly all over.
3. Into a zip bag, the air pressed out. Refrigerate at 38 F for 3 days, turning daily.
4. Rinse. Dry overnight on a rack in the refrigerator.
5. Smoke at 225 F until 155 F inside and hold there 1 minute. Rest 20 minutes.
6. Cool from 135 to 70 F in 2 hours, to 41 F in 4 more. Keeps 7 days at 38 F.
"""

OWN = {"needle": NEEDLE, "card": CARD, "metric": METRIC, "prose": PROSE, "bullets": BULLETS, "bird": BIRD}
OF_RULES = {"needled bacon": pumped_bacon_without_accelerator.RULE.sound, "own spice": sub_recipe_short.RULE.sound, "corned": texts.CORNED, "pastrami": texts.PASTRAMI, "bacon": texts.BACON, "turkey": texts.TURKEY}


def sound_pages() -> dict[str, str]:
    """Every page of which nothing is to be said, by name."""
    yaml = YAML(typ="safe")
    corpus = {}
    for expected in sorted(CORPUS.glob("*.expect.yaml")):
        if yaml.load(expected)["findings"] == []:
            (page,) = (path for path in CORPUS.glob(f"{expected.name.removesuffix('.expect.yaml')}.*") if path.suffix in (".txt", ".md"))
            corpus[page.stem] = page.read_text("utf-8")
    return {**OWN, **OF_RULES, **corpus}


def unsound() -> dict[str, list[str]]:
    """What is said of a page that should be sound; empty, or the planting tells nothing."""
    said = {name: [one.rule for one in audit_text(Page(text, name), House()).findings] for name, text in sound_pages().items()}
    return {name: rules for name, rules in said.items() if rules}
