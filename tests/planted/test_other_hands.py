"""Pages in hands that the table has not: a list along one line, days of the week before the work, and raw links fried at the end."""

from __future__ import annotations

import pytest

from overhaul.rules.texts import changed
from tests.rules.cases import said

ALONG = """\
# Salt brisket for the sandwich counter

Brisket flat, lean, 2.8 kg, 38 mm thick.
Cold water 2.8 kg, fine salt 230 g, sugar 80 g, cure no. 1 (6.25 % nitrite) 15 g.

Dissolve the salt, the sugar and the cure no. 1 in the cold water. Cool the brine to 3 °C before the meat goes in.

Lay the brisket in a food-grade box, pour the brine on, and set a plate on top to keep it under. Keep it in the fridge at 3 °C for 11 days. Turn it over every other day.

Rinse it. Soak it for 2 hours in fresh cold water in the fridge.

Simmer in fresh water for 3 hours, until it is 92 °C inside.

Rest it 20 minutes before slicing.

Cool what is left from 57 to 21 °C within 2 hours, and to 5 °C within 4 more.

It keeps 4 days in the fridge at 4 °C.
"""

DAYS = """\
PASTRAMI - the Thursday one (Saltbox)

in the tub
  1 flat, 6 lb, all lean, 1 1/2" thick
  6 lb water, cold
  8 1/2 oz pickling salt
  3 oz brown sugar
  14 g cure #1 (6.25 %)
  1 T garlic powder

THURS  water, salt, sugar, cure, garlic: stir cold till clear. Down to 37 F in the reach-in before anything goes in.
       Flat in. Weight it with a lid full of water so it is all under. Reach-in, 37 F, 10 days, flipped daily.
SUN    Rinse, then soak 4 hrs in cold water in the reach-in. Rack, reach-in, overnight, nothing over it.
MON    Pepper and coriander all over. Smoke at 240 F to 165 F inside.
       Wrap, steam 2 hours until 203 F inside. Rest 40 min, then slice.
       The rest of it: 135 to 70 F in 2 hrs, 41 F in 4 more. Keeps 4 days at 38 F.
"""

LINKS = """\
Breakfast coarse links, to be fried    5 lb

4 lb pork shoulder
1 lb back fat
40 g salt
6 g black pepper
4 g sage
1/2 cup ice water

Grind through the 6 mm plate with everything cold. Mix until sticky.
Stuff, link, and keep on a tray in the fridge at 38 F.
Fry until 160 F inside.
Eat at once. Raw links keep 2 days at 38 F, or freeze them.
"""


DUCK = """\
DUCK PASTRAMI   (for the spring board)

6 moulard breasts, skin on, scored, abt 14 oz ea.

BRINE - 3 qt water
  1 1/4 c light flake kosher... weigh it! = 165 g
  2 Tbl brown sug
  2 1/4 tsp pink cure (the 6.25 one)
  handful juniper, 3 bay, orange peel

Bring a qt of the water up w/ salt, sugar, spice. Kill it. Other 2 qts go in as ice. Cure in last, when you can hold yr finger in it & it's COLD (under 40).
Breasts in, plate on top. 36 hrs in the reach-in, shuffle them once.
Rinse, dry on racks overnight in the reach-in, no cover.
Rub: 3 T black pepper / 3 T coriander, cracked.
Smoke skin up, cherry, 225, to 150 in the thick end - bout 2 hrs. Rest 15.
Chill: 2 hrs to 70, 4 more to 41, LOG. Slice cold & thin. Vac'd it's good 7 days @ 38, made-on date on the bag.
"""

HAM = """\
Easter ham, wet, bone out

Pork leg, boned & rolled        11 lb (5 kg)
For the tub:
  water, cold                   5 L
  salt                          400 g
  light brown sugar             200 g
  nitrite salt no. 1            2 oz
  cloves, 10; allspice, 1 Tbsp

1) dissolve, chill overnight. must read 38 or less before the pork goes near it
2) Pump 10% w/ the same brine, stitch every inch, then under in the tub w/ a lid & a gallon jug on top.
3) 7 days, walk-in (36-38). Turn day 3.
4) soak 3 hr in walk-in, change water once. Net it. Hang to dry 6 hrs walk-in.
5) Smoker 180 till 145 inside, hold there 4 min (abt 7 hr). Rest 30 min.
6) Cool to 70 by 2 hrs, 41 by 6 total.
Holds 1 wk cold sliced. Feeds 20.
"""

TONGUES = """\
## Pickled veal tongues, the lunch counter way

Two tongues, 1.3 kg together. Scrub them well.

Make up 2.5 litres of brine: 2.4 l water, 190 g sea salt, 60 g honey, 13 grams of curing salt (0.6% nitrite), a head of garlic, thyme.
Boil everything except the curing salt, cool it right down in the fridge, whisk the curing salt in.
Prick the tongues with a skewer and drown them in it. Saucer on top. A week in the fridge at 3 degrees, turned every second day.
Rinse, cover with fresh water, and simmer them 2½ hours till the skin slips. Peel while hot. Eat warm with mustard or let them go cold in the pot on the stove and slice for sandwiches. Four days in the fridge.
"""


LAMB = """\
LAMB HAM — house cure, dry, for the Sunday carvery

leg of lamb, boned, butterflied to an even 50 mm ...... 3.2 kg
Per kilo of meat:
   25 g sea salt
   10 g demerara
   2.5 g no 1 cure
   3 g juniper, cracked

Weigh it, rub it, every last crumb into the bag with the leg. Seal, air out.
Fridge drawer, 2-4 C, eight days, over every morning.
Rinse under the tap, dry. Leave bare on a rack in the fridge two nights.
Hot smoke 110 C over beech till 63 in the middle. Half an hour's rest.
Blast chill to 21 inside 2 hr then 5 inside another 4, write both down. Wrapped: five days.
"""


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (DUCK, [("final-temperature-low", "hazard", "15:32-35"), ("too-little-salt-as-eaten", "query", "6:3-10")]), (HAM, [("curing-salt-over-limit", "fault", "8:33-37")]),
        (TONGUES, [("cool-down-not-written", "query", "8:210-210"), ("cooled-at-room-temperature", "hazard", "8:128-159"), ("curing-salt-too-little", "fault", "5:71-79")]),
    ],
    ids=["duck", "ham", "tongues"],
)  # fmt: skip
def test_all_that_is_said_of_a_page(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(text) == wanted


@pytest.mark.parametrize("text", [ALONG, DAYS, LINKS, LAMB], ids=["along", "days", "links", "lamb"])
def test_nothing_is_said_of_a_sound_page(text: str) -> None:
    assert said(text) == []


@pytest.mark.parametrize(
    ("text", "edit", "wanted"),
    [
        (ALONG, ("nitrite) 15 g", "nitrite) 150 g"), [("curing-salt-over-limit", "hazard", "4:77-83"), ("too-salty-as-eaten", "fault", "4:30-35")]),
        (ALONG, ("nitrite) 15 g", "nitrite) 3 T"), [("curing-salt-over-limit", "hazard", "4:77-81")]),
        (ALONG, ("salt 230 g", "salt 23 g"), [("brine-weak", "certain fault", "4:30-34")]),
        (ALONG, ("11 days", "1 day"), [("cure-time-short", "certain fault", "8:132-137"), ("too-little-salt-as-eaten", "query", "4:30-35")]),
        (ALONG, ("food-grade box", "zinc pail"), [("vessel-not-for-brine", "fault", "8:22-26")]),
        (DAYS, ("Reach-in, 37 F", "On the dresser"), [("cured-too-warm", "certain hazard", "12:72-86")]),
        (LAMB, ("2.5 g no 1", "25 g no 1"), [("curing-salt-over-limit", "certain hazard", "7:4-8")]),
        (LAMB, ("2-4 C", "12-14 C"), [("cured-too-warm", "certain hazard", "11:16-23")]),
        (LINKS, ("160 F", "barely 135 F"), [("final-temperature-low", "hazard", "12:18-23")]),
        (LINKS, ("160 F", "60 °C"), [("final-temperature-low", "hazard", "12:11-16")]),
    ],
)
def test_the_fault_is_found_in_its_place(text: str, edit: tuple[str, str], wanted: list[tuple[str, str, str]]) -> None:
    assert said(changed(text, edit)) == wanted
