"""Whole recipes of a made-up kitchen for the rules' pages: one sound text each way, faulted by one edit."""

from __future__ import annotations

CORNED = """\
Corned brisket, the house way

Makes 24 plates

2 brisket flats, 9 lb in all, trimmed of fat, 1 3/4 inches thick
1 gallon cold water, weighed: 8 lb 5 oz
10 oz kosher salt
5 oz brown sugar
20 g cure #1 (6.25 % nitrite)
2 tbsp pickling spice

1. Stir the salt, sugar and spice into the cold water until clear.
2. Chill the brine to 38 F. Stir in the cure #1.
3. Put the flats in a 6 gallon food plastic tub, pour the brine over, and weigh them down with a plate.
4. Refrigerate at 36 to 40 F for 12 days, turning every other day.
5. Rinse well. Soak 2 hours in cold water in the refrigerator.
6. Simmer in fresh water 3 1/2 hours, until 195 F inside.
7. Rest 20 minutes. Slice across the grain.
8. Cool what is left from 135 to 70 F in 2 hours, and to 41 F in 4 hours more.
9. Keeps 4 days at 40 F or colder.
"""

PASTRAMI = """\
Pastrami of the house

1 brisket flat, 7 lb, 1 1/2 in. thick, no fat cap
5 lb cold water
3 lb ice
9 oz pickling salt
3 oz sugar
15 g cure #1 (6.25% nitrite)

1. Bring 1 quart of the water to a boil with the salt and sugar. Take off the heat, add the rest of the water and the ice.
2. Chill until it is below 38 F, then stir in the cure #1.
3. Submerge the flat, weigh it down with a plate, cover.
4. Refrigerate at 38 F, 10 days, turning daily.
5. Rinse, then soak 4 hours in the refrigerator.
6. Dry on a rack, uncovered, overnight in the refrigerator.
7. Smoke at 250 F until 165 F inside.
8. Steam, covered, 2 hours, to 203 F inside.
9. Rest 30 minutes before slicing. Hold at 140 F.
10. Cool from 135 to 70 F in 2 hours, to 41 F in 4 more.
11. Keeps 4 days at 38 F.
"""

BACON = """\
Dry-cured bacon

Skinless pork belly, 5 lb, 1 1/2 in thick
55 g kosher salt
25 g brown sugar
5.5 g cure #1 (6.25 % nitrite)

1. Mix the cure and rub it all over the belly. Put it in a zip bag with the air pressed out.
2. Refrigerate at 38 F for 11 days, turning daily.
3. Rinse and pat dry. Dry on a rack in the refrigerator overnight.
4. Smoke at 180 F until 150 F inside, and hold there 5 minutes.
5. Rest 10 minutes. Cool from 135 to 70 F in 2 hours, to 41 F in 4 more.
6. Keeps 7 days at 38 F. Fry before eating.
"""

TURKEY = """\
Roast turkey breast in white brine

1 bone-in turkey breast, 6 lb
1 gallon cold water
8 oz fine sea salt
3 oz sugar

1. Stir salt and sugar into the cold water until clear. Chill the brine to 38 F.
2. Put the breast in, hold it under with a plate, and refrigerate at 38 F for 14 hours.
3. Dry it, roast at 325 F until 165 F inside.
4. Rest 20 minutes and serve.
"""


def changed(text: str, *edits: tuple[str, str]) -> str:
    """``text`` with each of ``edits`` made once. Raises ValueError when the words to change are not there."""
    for old, new in edits:
        if text.count(old) < 1:
            raise ValueError(f"not in the text: {old!r}")
        text = text.replace(old, new, 1)
    return text
