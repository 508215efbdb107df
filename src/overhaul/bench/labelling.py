"""What a label says: dates with the day of making counted as the first, how it is kept, and what people may be allergic to."""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import cache
from importlib.resources import files
from math import floor

from msgspec import Struct

from overhaul import facts
from overhaul.bench.control_points import source_of
from overhaul.reading import allergens, lexicon
from overhaul.recipe.model import CURING_SALTS, Fact, Ingredient, Recipe
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case

_STATED = re.compile(r"\ballerg(?:en|ens|ies|y)\b|\bcontains?:")
# Words of the method that are more often something else there than a thing to eat.
_OTHERWISE = frozenset(["roll", "bun", "egg", "cream", "fish", "port", "bread", "ale", "rye"])


def last_day(made: date, days: int) -> date | None:
    """The last of ``days`` days of which ``made`` is the first; None past the calendar's end. Raises ValueError for less than one day."""
    if days < 1:
        raise ValueError("food keeps at least the day it is made")
    return _later(made, days - 1)


def out_of_cure(put_in: date, stay: Fact) -> tuple[date, date] | None:
    """The first and the last day it comes out, whole days after it went in; None for a stay told in hours, or past the calendar's end."""
    low, high = judging.days(stay)
    if stay.unit in ("minute", "hour") or low < 1:
        return None
    first, last = _later(put_in, floor(low)), _later(put_in, floor(high))
    return (first, last) if first is not None and last is not None else None


def turning_days(put_in: date, days: tuple[int, ...]) -> tuple[date, ...]:
    """The days on which it is turned; day 1 is the day it goes in."""
    return tuple(day for each in days if (day := _later(put_in, each - 1)) is not None)


def _later(day: date, days: int) -> date | None:
    try:
        return day + timedelta(days=days)
    except OverflowError:
        return None


class Keeping(Struct, frozen=True):
    """How long, by the page, and no longer than the limit that it stands under."""

    days: int | None  # of the label; None where the page does not say
    said: int | None  # by the page
    line: int | None
    most: int | None  # by the limit; None where none is known here
    source: str | None
    raw: bool  # to be cooked before it is eaten
    frozen: bool
    dried: bool
    degf: float  # keep at this or colder

    @property
    def cut(self) -> bool:
        """Whether the label says less than the page."""
        return self.days is not None and self.said is not None and self.days < self.said


def keeping(case: Case) -> Keeping:
    """A range of days is labelled by its shorter end. Limits are those of the rule keeps-too-long."""
    kept = case.process.storage
    raw, dried = judging.fried_before_eating(case) or _never_heated(case), _dried(case)
    limit = None if dried else _limit(case, raw)
    frozen = kept is not None and kept.kept == "frozen"
    said = max(1, floor(kept.low)) if kept is not None else None
    most = int(limit.value) if limit is not None else None
    days = None if said is None or frozen else said if most is None else min(said, most)
    coldest = facts.fact("cure_max_f").value
    told = kept.temperature.high if kept is not None and kept.temperature is not None and not frozen else coldest
    return Keeping(days, said, kept.line if kept is not None else None, most, source_of(limit) if limit is not None else None, raw, frozen, dried, min(told, coldest))


def _dried(case: Case) -> bool:
    """Dried, or a ham of the long dry cure, which hangs in the shed."""
    cure = case.process.cure
    return judging.dried_on_purpose(case) or (case.recipe.product == "ham" and cure is not None and cure.method == "dry" and case.process.cook is None and case.process.final_temperature is None)


def _never_heated(case: Case) -> bool:
    process = case.process
    return process.meat is not None and process.cook is None and process.smoke is None and process.final_temperature is None and case.recipe.product not in ("gravlax", "dried", "jerky") and not case.recipe.bought_done


def _limit(case: Case, raw: bool) -> facts.Fact | None:
    sold = case.house.sold if case.house.sold is not None else case.recipe.sold
    if judging.is_fish(case) and not sold:
        return None
    if raw:  # the chart speaks of cured raw meat; of raw meat without a cure it allows less, by the kind
        return facts.fact("keep_raw_bacon_d") if case.recipe.of_role(*CURING_SALTS) and not judging.is_poultry(case) else None
    return facts.fact("keep_home_d" if sold is False else "keep_sold_d")


class Brought(Struct, frozen=True):
    """One allergen and the ingredients that bring it, by their names."""

    allergen: str
    by: tuple[str, ...]


class Allergens(Struct, frozen=True):
    """By the words of the page: what it holds, what only its own label tells, what the method names besides, and what the page says itself."""

    contains: tuple[Brought, ...]
    check: tuple[str, ...]
    named: tuple[Brought, ...]  # by a step, without an ingredient of its own
    stated: str | None
    line: int | None


def allergens_of(recipe: Recipe) -> Allergens:
    """Words tell what is usually in a thing; only labels tell what is not."""
    found: dict[str, list[str]] = {}
    check: list[str] = []
    for item in recipe.ingredients:
        names = (item.name, *(one.name for one in item.instead))
        for name in names:
            for allergen in allergens.allergens(name):
                found.setdefault(allergen, []).append(name)
            if _label_tells(item, name):
                check.append(name)
    stated, line = _stated(recipe)
    contains = tuple(Brought(allergen, tuple(dict.fromkeys(found[allergen]))) for allergen in allergens.names() if allergen in found)
    return Allergens(contains, tuple(dict.fromkeys(check)), _named(recipe, frozenset(found)), stated, line)


def _named(recipe: Recipe, found: frozenset[str]) -> tuple[Brought, ...]:
    """Allergens that only the method names."""
    seen: dict[str, list[str]] = {}
    for step in recipe.steps:
        words = [word for word in lexicon.plain_words(step.text) if word not in _OTHERWISE]
        for allergen in allergens.allergens(" ".join(words)):
            if allergen not in found:
                seen.setdefault(allergen, []).append(f"line {step.line}")
    return tuple(Brought(allergen, tuple(dict.fromkeys(lines))) for allergen, lines in seen.items())


def _stated(recipe: Recipe) -> tuple[str | None, int | None]:
    start, text = recipe.own_words
    found = _STATED.search(text)
    if found is None:
        return None, None
    line = recipe.page.line_at(start + found.start())
    return recipe.page.line(line).strip(" |\t*_#-"), line


@cache
def _labelled() -> frozenset[tuple[str, ...]]:
    lines = files("overhaul.bench").joinpath("labelled.tsv").read_text("utf-8").splitlines()[1:]
    return frozenset(lexicon.plain_words(line) for line in lines)


def _label_tells(item: Ingredient, name: str) -> bool:
    """A thing that is bought made up, or that nobody here knows."""
    if item.role in ("meat", "water", "ice", "salt", "nitrite", "nitrate"):
        return False
    words = tuple(word for word in lexicon.plain_words(name) if not word.startswith("#"))
    # What a name ends in is what the thing is: mustard seed is a seed, a soy sauce is a sauce.
    ends = {words[start:] for start in range(max(0, len(words) - 3), len(words))}
    return bool(ends & _labelled()) or (item.role == "other" and bool(words) and lexicon.known(words) is None)


_HOW_OFTEN = re.compile(r"\b(?:every|each|once|twice|daily|a\.?m\.?(?:/| and )p\.?m\.?|(?:two|three|\d) times|\d+x)\b[^.;,()]{0,40}", re.I)


def how_often(recipe: Recipe) -> str | None:
    """How often it is turned, in the page's own words (``every other day``); None where it is not turned or no word tells."""
    turning = recipe.process.turning
    if turning is None:
        return None
    end = next((step.place.end for step in recipe.steps if step.place.start <= turning.place.start < step.place.end), turning.place.end)
    found = _HOW_OFTEN.search(recipe.page.plain, turning.place.start, end)
    return " ".join(found[0].split()) if found is not None else None
