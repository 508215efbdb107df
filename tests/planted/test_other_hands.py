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


THURSDAY = """\
Pastrami, Thursday line (makes 2 hotel pans)

BRISKET: 2 navel ends, 5 kg all up, 6 cm at the thick end
PICKLE
water 4 kg / 8.8 lb
coarse salt 360 g / 12.7 oz
demerara 150 g / 5.3 oz
no.1 cure (6.25%) 25 g
bay, mustard seed, chilli - a palmful

- Warm 1 kg of the water with the salt, demerara and spices till it clears; top up with the other 3 kg iced water; fridge till 3 °C. Cure in now, whisk.
- Navels into the 15 L tub, pickle over, a drop lid and a 2 kg weight. Walk-in at 2-3 °C. 14 days; flip & swap top to bottom Mon, Wed, Fri.
- Out, rinse, 3 h soak in the walk-in, one change of water. Rack, fan on, walk-in, overnight.
- Crust: equal parts cracked pepper & coriander, press on.
- Smoke oak 110 °C to 71 °C inside, ~6 h. Into a covered pan, steam 95 °C inside, about 3 h.
- Rest 45 min. Serve hot off the block at 60 °C+, or chill: blast 57→21 in 90 min, →3 in 3 h. Label day 1 = today, 7 days at 3 °C.
"""


TROUT = """\
hot smoked trout

Ingredients:
* 8 rainbow trout fillets (about 2 lb total)
* 1 quart cold water (2 lb 1 oz)
* 1/2 cup (5 oz) pickling salt
* 1/4 cup brown sugar

Directions:
* Mix salt + sugar into water till gone. Keep it under 38 F.
* Fillets in skin up, saucer on top. Fridge 90 minutes (38 F).
* Quick rinse, pat, then lay on oiled racks in the fridge 3 hrs till sticky.
* Smoker @ 140 for one hour, then up to 200 until fish hits 150 and stays there half an hour.
* Cool down on racks in fridge. Eat within 5 days, kept at 38 F or under.
"""


TABLE = """\
## Canadian bacon — dry bag

| | |
|---|---|
| Pork loin, trimmed | 2000 g |
| Salt | 44 g (2.2 %) |
| Sugar | 20 g (1 %) |
| Cure #1 (6.25 % nitrite) | 5 g (0.25 %) |

1. Loin is 75 mm through. Rub everything on, bag, suck the air out.
2. Fridge drawer 36-38°F, 16 days. Turn daily.
3. Rinse, pat dry, back in the fridge bare overnight.
4. Smoke with apple at 225°F to 150°F internal; hold there 5 min.
5. Chill within 2 h to 70°F and to 41°F in 4 more. 7 days in the fridge at 38°F, or freeze.
"""


COVERS = """\
CORNED BEEF - 50 covers, Wed

14.2 lb brisket flats (3 pc) 1.75" thick, cap trimmed off
11 lb water
4 lb ice
1 lb 2 oz dense kosher
9 oz white sugar
38 g #1
pickling spice 1.5 oz, garlic pwd 0.5 oz

1) sim 3 lb of the water w/ spice, salt, sugar 10 min. kill heat, rest of water + ice in, stir til ice is gone. temp it: must read 38 or below. #1 in last.
2) meat + brine in the 22 qt tub, rack on top w/ a #10 can so nothing floats. date it IN/OUT.
3) w/i @ 37, 9 days. flip & stir d3, d6.
4) rinse, 2 hr soak in w/i.
5) fresh water, bare sim 3.5 hr, 200 IT fork tender.
6) rest 20. slice x-grain. hold 145.
7) left: 135>70 in 2h, >41 in 4h, log it. 4 days.
"""


HAUNCH = """\
VENISON HAM  (dry, off the bone)

1 haunch, bone out, tied, 6 lb 4 oz, 4 in across
per lb: 12 g sea salt, 5 g br sugar, 1.1 g pink #1
+ 1 T juniper, 1 t mace, rosemary

Weigh haunch first. mix, rub half, into bag, fridge. rest of cure on day 4.
Keep at 36-38. Flip every morning. 24 days.
Rinse, soak 4 hr cold in fridge. hang in fridge 2 nights till tacky.
apple smoke 200F till 150F in the middle, hold it there 4 min.
Let it sit half an hour. Shave it thin.
chill whole what's left: to 70F inside 2 hr, 41F inside 6. 7 days at 38F.
"""


CHORIZO = """\
Chorizo for grilling (fresh, cured)

7 lb pork butt 3 lb back fat
3 oz salt
1 oz cure
2 oz smoked paprika, 1 oz garlic, 8 oz ice water

grind cold, mix till sticky, stuff. hang in the walk in overnight
grill to order, 160.
Keep raw 3 days in the low boy
"""


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (HAUNCH, [("cooling-slow", "query", "12:57-58")]),
        (CHORIZO, [("curing-salt-kind-not-named", "query", "5:6-10"), ("curing-salt-over-limit", "certain hazard", "5:1-5")]),
        (DUCK, [("final-temperature-low", "hazard", "15:32-35"), ("too-little-salt-as-eaten", "query", "6:3-10")]), (HAM, [("curing-salt-over-limit", "fault", "8:33-37")]),
        (TONGUES, [("cool-down-not-written", "query", "8:210-210"), ("cooled-at-room-temperature", "hazard", "8:128-159"), ("curing-salt-too-little", "fault", "5:71-79")]),
    ],
    ids=["haunch", "chorizo", "duck", "ham", "tongues"],
)  # fmt: skip
def test_all_that_is_said_of_a_page(text: str, wanted: list[tuple[str, str, str]]) -> None:
    assert said(text) == wanted


@pytest.mark.parametrize("text", [ALONG, DAYS, LINKS, LAMB, THURSDAY, TROUT, TABLE, COVERS], ids=["along", "days", "links", "lamb", "thursday", "trout", "table", "covers"])
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
        (COVERS, ("38 or below", "58 or below"), [("brine-warm", "hazard", "5:1-5")]),
        (TROUT, ("up to 200 until", "up to 130 until"), [("target-above-air", "certain fault", "13:61-64")]),
        (TABLE, ("5 g (0.25 %)", "50 g (2.5 %)"), [("curing-salt-over-limit", "certain hazard", "8:30-34"), ("too-salty-as-eaten", "certain fault", "6:10-14")]),
        (LINKS, ("160 F", "barely 135 F"), [("final-temperature-low", "hazard", "12:18-23")]),
        (LINKS, ("160 F", "60 °C"), [("final-temperature-low", "hazard", "12:11-16")]),
    ],
)
def test_the_fault_is_found_in_its_place(text: str, edit: tuple[str, str], wanted: list[tuple[str, str, str]]) -> None:
    assert said(changed(text, edit)) == wanted
