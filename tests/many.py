"""A made-up binder of any size, the same every time: ``python -m tests.many FOLDER COUNT`` writes one."""

from __future__ import annotations

import random
import sys
from pathlib import Path

_MEATS = ("{n} beef flats, {kilo} kg in all, about 5 cm thick", "pork belly, {kilo} kg, 4 cm thick", "{n} duck legs", "boneless pork loin, {kilo} kg", "eye of round, {pound} lb", "{pound} lb pork shoulder, cubed", "turkey breast {pound}#")
_WATER = ("{litre} l cold water", "{quart} qt water", "{n} gal water, half of it as ice", "{litre} litres water plus {kilo} kg ice")
_SALT = ("{gram} g fine salt", "{n} cups kosher salt", "{ounce} oz pickling salt", "{n}½ c. coarse salt")
_CURE = ("{small} g cure no. 1", "{n} tsp curing salt #1", "{n} tbsp cure #1, level", "{small} g curing salt (6.25 % nitrite)")
_SPICE = ("{n} tbsp black peppercorns", "{n} bay leaves", "{n} cloves garlic, smashed", "{n} tsp mustard seed", "{gram} g brown sugar", "a handful of thyme", "{n} tsp juniper, crushed", "pinch of chilli", "{n} Tbl coriander, toasted")
_BRINE = ("Bring half the water with the salt and sugar to a simmer and stir until clear.", "Take it off the heat, add the rest of the water cold.", "Cool it below {cold} F before the meat goes in.", "Chill overnight, then stir in the cure.")
_HOLD = ("Put the meat in, weigh it down, and keep at {cold} F for {days} days, turning every other day.", "Cure {days} days in the walk-in. Overhaul on day {n}.", "Pump to 10 %, then cover with the rest for {days} days.", "Leave it in the brine for a week.")
_END = ("Rinse, then soak {n} hours in cold water.", "Dry uncovered on a rack overnight.", "Smoke at {air} F until {inside} F inside.", "Simmer {n} hours, until a fork turns.", "Rest {n}0 minutes before slicing.", "Cool from 135 to 70 F in 2 hours and to 41 F in 4 more.", "Keeps {days} days at {cold} F.", "Slice across the grain.")


def page(number: int) -> str:
    """Page ``number``: some are sound, many are not."""
    chance = random.Random(number)

    def told(line: str) -> str:
        return line.format(
            n=chance.randint(2, 6), kilo=chance.randint(10, 60) / 10, pound=chance.randint(3, 14), litre=chance.randint(2, 12), quart=chance.randint(2, 9), gram=chance.randint(8, 90) * 10,
            small=chance.randint(4, 80), ounce=chance.randint(4, 24), cold=chance.randint(34, 45), days=chance.randint(2, 16), air=chance.randint(18, 30) * 10, inside=chance.randint(140, 205),
        )  # fmt: skip

    listing = [told(chance.choice(some)) for some in (_MEATS, _WATER, _SALT, _CURE)] + [told(line) for line in chance.sample(_SPICE, 6)]
    steps = [told(line) for line in (*_BRINE[: chance.randint(2, 4)], chance.choice(_HOLD), *chance.sample(_END, 5))]
    return f"Sheet {number}\n\nIngredients\n" + "\n".join(listing) + "\n\nMethod\n" + "\n".join(f"{index}. {step}" for index, step in enumerate(steps, 1)) + "\n"


def write(folder: Path, count: int) -> None:
    """Pages 0 to ``count`` as files of ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    for number in range(count):
        (folder / f"{number:06}.txt").write_text(page(number), encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]), int(sys.argv[2]))
