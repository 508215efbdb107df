"""Which words of a page the reading made no use of: kept as written, but nothing rests on them."""

from __future__ import annotations

import sys
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator

from overhaul.reading import lexicon
from overhaul.reading.patterns import Pattern
from overhaul.reading.tree import Word, parse
from overhaul.recipe.method import COLD_PLACE, MEAT_WORD, UNSURE_PLACE, WARM_PLACE
from overhaul.recipe.model import Amount, Ingredient, Recipe, Step
from overhaul.recipe.process import MATERIAL, TURN, VESSEL, WEIGHT
from overhaul.text import Place

# They bind the others together, and are not worth telling of.
_SMALL = frozenset(
    "a an the this that these those it its is are was were be been being and or but nor so of in on at to from by with without for as if than then when while until till til into onto over under up down out off per about each every all any some not no do don't does did has have had will would can could should must may you your i we they them he she his her their our there here just very more most much well too also again only own such".split()
)
# Words that settle what a line means beside its amounts: how full, how thick, which side bare, day or night.
_SETTLING = Pattern(
    r"\b(?:(?:as heavy as|equal weight|same weight|by weight|weigh\w*)[^,;.]{0,20}|scant|heap\w*|level|rounded|thick\w*|trim\w*(?: of)? (?:all )?fat|fat (?:off|on|cap)|no fat|skin\w*|rind\w*|bone\w*|frozen|overnight|o/n|inside|internal\w*|middle|centre|center|cold|hot|warm|ice|every other|other day|day|night|am/pm|dense|light flake|packed|pkd|crushed|flaked?|cubes?|whole|ground|coarse\w*|cracked|nitrite|nitrate|in all|for the pair|each|apiece)\b"
)
_TELLING = (_SETTLING, COLD_PLACE, WARM_PLACE, UNSURE_PLACE, VESSEL, MATERIAL, WEIGHT, TURN, MEAT_WORD)


def unused(recipe: Recipe) -> dict[int, list[Place]]:
    """By line: the words that no amount, name, verb or place of the reading took. Titles, headings and notes are kept whole."""
    page = recipe.page
    taken: dict[int, list[Place]] = defaultdict(list)  # by line
    for item in recipe.ingredients:
        for one in _of_ingredient(item):
            for number in range(page.line_at(one.start), page.line_at(one.end) + 1):
                taken[number].append(one)
    steps: dict[int, list[Step]] = defaultdict(list)
    for step in recipe.steps:
        for number in range(step.line, step.end_line + 1):
            steps[number].append(step)
    found: dict[int, list[Place]] = {}
    for line in recipe.lines:
        if line.kind not in ("ingredient", "step"):
            continue
        place = page.lines[line.line - 1].place
        here = list(taken[line.line])
        here += _of_words(page.low[place.start : place.end], place.start, _TELLING if line.kind == "step" else (_SETTLING,))
        if line.kind == "step":
            here += [one for step in steps[line.line] for one in _of_step(step)]
        words = [item for item in parse(page.plain[place.start : place.end], place.start) if isinstance(item, Word)]
        if line.kind == "step":
            here += _named(words)
        covered = _together(here)
        left = [Place(word.start, word.end) for word in words if word.low not in _SMALL and len(word.low) > 1 and not _within(word.start, covered) and not (line.kind == "step" and word.low in lexicon.actions())]
        if left:
            found[line.line] = left
    return found


def _together(places: list[Place]) -> list[Place]:
    """What ``places`` cover, in order, none of them in another."""
    found: list[Place] = []
    for place in sorted(places):
        if found and place.start <= found[-1].end:
            found[-1] = found[-1].to(place)
        else:
            found.append(place)
    return found


def _within(at: int, places: list[Place]) -> bool:
    before = bisect_right(places, Place(at, sys.maxsize)) - 1
    return before >= 0 and at < places[before].end


def _amounts(amounts: Iterator[Amount | None]) -> list[Place]:
    return [amount.place for amount in amounts if amount is not None]


def _of_ingredient(item: Ingredient) -> list[Place]:
    places = [item.name_place, *_amounts(iter((item.amount, item.count, *item.also, *item.was, *(column.amount for column in item.columns))))]
    places += [other.place for other in item.instead]
    return places + [part.place for part in (item.per, item.strength) if part is not None]


def _of_step(step: Step) -> list[Place]:
    places = _amounts(iter([*(one.amount for one in (*step.times, *step.temperatures, *step.lengths, *step.amounts)), *(use.amount for use in step.uses)]))
    return places + [use.place for use in step.uses]


def _of_words(low: str, start: int, patterns: tuple[Pattern, ...]) -> list[Place]:
    """What tells of a place, a vessel, a weight on top."""
    return [Place(start + match.start(), start + match.end()) for pattern in patterns for match in pattern.finditer(low)]


def _named(words: list[Word]) -> list[Place]:
    """Known names of the pantry, the longest at each word."""
    singulars = [lexicon.singular(word.low) for word in words]
    places = []
    for index, word in enumerate(words):
        name = lexicon.known_at(singulars, index)
        if name is not None:
            places.append(Place(word.start, words[name.end - 1].end))
    return places
