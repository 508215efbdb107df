"""The second small pass over a binder: where each page sends its reader, followed to the other files.

It reads what each audit keeps for an index (``listing.py``) and no page. What it has to say depends on the files and their names
alone, so that it is the same whoever made the audits, and it is laid over the findings when they are looked at (``kept.Besides``).
A number counts nearest first: in the folder of the page that names it, then anywhere; in a title or a file name that says “page”
or “card”, then on a line of its own, then as a number that a file name begins with.
"""

from __future__ import annotations

import os.path
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from msgspec import Struct
from msgspec.structs import replace

from overhaul.findings import Finding
from overhaul.kept import Besides, Kept
from overhaul.listing import ASKED_ELSEWHERE, Listed, Pointer

_FILE_NUMBER = re.compile(r"(?:^|[^a-z])(?:p|pg|page|(card))[ ._#-]*(\d{1,4})(?!\d)")
_FILE_BEGINS = re.compile(r"(\d{1,4})(?=$|[ ._-]+(?!\d))")  # not a date
_TOKEN = re.compile(r"[a-z]+|\d+")
_OWN_NUMBER = re.compile(r"\b(?:p\.|pg\.?|page|card)\s*(?:no\.?\s*|#\s*)?\d{1,4}\b")
_INITIALS = re.compile(r"(?:[a-z]\.? ?){2,4}")
_NOISE = frozenset("a an the our my house this that of for from in with as recipe recipes batch batches basic no number nr see use make made same thru through step steps one page card".split())
_VOWELS = re.compile(r"(?<!^)[aeiouy]+")
_DOUBLED = re.compile(r"(.)\1+")
_MOST_TOKENS = 6  # of a name
_TITLED, _ALONE, _BEGINS = range(3)  # how a number is borne, best first
_NAMED = 3  # files of one number, in a message
_ALIKE = 64  # recipes of one name: so many more are told apart by it no longer
_COMMON = 1_000  # recipes that share every word of a name: it is no name, and nothing is said to be missing

Spot = tuple[int, int]  # a file, and a recipe of it
Key = tuple[str, ...]


def followed(every: Sequence[Kept]) -> list[Kept]:
    """``every`` audit of a binder, in order, each with what the others have to say of it. One file by itself is as it was."""
    heads = [one.head() for one in every]
    if sum(head.read for head in heads) < 2 or not any(listed.pointers for head in heads for listed in head.listed):
        return list(every)
    binder = _Binder([one.file for one in every], [head.titles for head in heads], [head.listed for head in heads], sum(not head.read for head in heads))
    made: list[Kept] = []
    for number, (one, head) in enumerate(zip(every, heads, strict=True)):
        besides = _besides(binder, number, head.sheets)
        made.append(replace(one, besides=besides) if besides is not None else one)
    return made


class _Found(Struct, frozen=True):
    """Where a pointer leads: the recipes there, all of one file; or ``rivals``, the first few of ``count`` files that answer alike."""

    spots: tuple[Spot, ...] = ()
    rivals: tuple[Spot, ...] = ()
    count: int = 0
    instead: Spot | None = None  # it is not there, and this one is called so
    missing: bool = False


_NOTHING = _Found()


class _Borne(Struct, frozen=True):
    """The recipes that bear a number, as nearly and as well as any."""

    spots: tuple[Spot, ...] = ()
    of: frozenset[Spot] = frozenset()
    found: _Found = _NOTHING  # of a line that does not name the recipe it means


class _Binder:
    """The index: recipes by the numbers they bear and by their names. Built in one walk, asked in time that does not grow with it."""

    def __init__(self, files: list[str], titles: list[tuple[str, ...]], listed: list[tuple[Listed, ...]], unread: int) -> None:
        self.files, self.titles, self.listed, self.unread = files, titles, listed, unread
        self.recipes = sum(map(len, listed))
        self._folders = [os.path.dirname(file) for file in files]
        self._numbers: dict[tuple[bool, int], list[tuple[int, Spot]]] = defaultdict(list)
        self._names: dict[Key, list[Spot]] = defaultdict(list)
        self._sounds: dict[Key, list[Spot]] = defaultdict(list)
        self._initials: dict[str, list[Spot]] = defaultdict(list)
        self._words: dict[str, list[Spot]] = defaultdict(list)
        self._held: dict[Key, bool] = {}
        self._best: dict[tuple[bool, int, str], _Borne] = {}
        for file, recipes in enumerate(listed):
            self._add(file, recipes)

    def _add(self, file: int, recipes: tuple[Listed, ...]) -> None:
        spots = [(file, index) for index in range(len(recipes))]
        for card, number, how in _of_file_name(self.files[file]):
            self._numbers[card, number] += [(how, spot) for spot in spots]
        for spot, recipe in zip(spots, recipes, strict=True):
            for borne in recipe.numbers:
                # A number on a line of its own among several recipes may stand above or below the one that it is of.
                self._numbers[borne.card, borne.number] += [(_TITLED, spot)] if borne.titled else [(_ALONE, one) for one in spots]
            name = _tokens(_OWN_NUMBER.sub(" ", recipe.name.lower()))
            if not name:
                continue
            self._names[tuple(sorted(name))].append(spot)
            sounds = [_sound(word) for word in name]
            self._sounds[tuple(sorted(sounds))].append(spot)
            self._initials["".join(word[0] for word in name if word.isalpha())].append(spot)
            for sound in dict.fromkeys(sounds):
                self._words[sound].append(spot)

    def recipe(self, spot: Spot) -> Listed:
        return self.listed[spot[0]][spot[1]]

    def find(self, pointer: Pointer, here: Spot, sheets: int) -> _Found:
        """Where ``pointer``, on the page at ``here`` of a document of so many sheets, leads."""
        named = self._named(pointer, here)
        if pointer.number is None:
            spots = self._nearest([(0, spot) for spot in named], here[0])
            if spots:
                return _Found(spots) if len({file for file, _ in spots}) == 1 else _NOTHING
            return _Found(missing=not pointer.bare and not self._any_like(pointer.words))
        best = self._bearing(pointer.card, pointer.number, here[0])
        if not best.spots:
            return self._without_number(pointer, here, sheets, named)
        own = tuple((here[0], index) for index in range(len(self.listed[here[0]])) if (here[0], index) in best.of)
        if own:
            return _Found(tuple(spot for spot in own if spot != here))
        meant = tuple(spot for spot in named if spot in best.of)
        return _one_or_rivals(meant) if meant else best.found

    def _bearing(self, card: bool, number: int, file: int) -> _Borne:
        key = (card, number, self._folders[file])
        if key not in self._best:
            borne = self._numbers.get((card, number), [])
            spots = self._nearest(borne, file)
            of = frozenset(spots)
            found = _one_or_rivals(spots)
            weak = all(how == _BEGINS for how, spot in borne if spot in of)  # a file name may begin with any number
            self._best[key] = _Borne(spots, of, _NOTHING if found.rivals and weak else found)
        return self._best[key]

    def _without_number(self, pointer: Pointer, here: Spot, sheets: int, named: list[Spot]) -> _Found:
        """No page bears the number: it may be a sheet of this very document, of the other kind, or be known by its name alone."""
        if (not pointer.card and pointer.number is not None and pointer.number <= sheets) or (not pointer.card, pointer.number) in self._numbers:
            return _NOTHING
        spots = self._nearest([(0, spot) for spot in named], here[0])
        if spots and not any(self._bears(spot, pointer.card) for spot in spots):
            return _Found(spots) if len({file for file, _ in spots}) == 1 else _NOTHING
        return _Found(missing=True, instead=spots[0] if spots and len({file for file, _ in spots}) == 1 else None)

    def _nearest(self, found: Iterable[tuple[int, Spot]], file: int) -> tuple[Spot, ...]:
        """Those of the same folder, else all; of these those that bear it best."""
        every = list(found)
        near = [one for one in every if self._folders[one[1][0]] == self._folders[file]] or every
        best = min((how for how, _ in near), default=0)
        return tuple(dict.fromkeys(spot for how, spot in near if how == best))

    def _bears(self, spot: Spot, card: bool) -> bool:
        return any(borne.card == card and borne.titled for borne in self.recipe(spot).numbers) or any(kind == card and how == _TITLED for kind, _, how in _of_file_name(self.files[spot[0]]))

    def where(self, spot: Spot, card: bool) -> str:
        """``“Pickling spice” is page 41 (p41.txt)``."""
        recipe = self.recipe(spot)
        numbers = [borne.number for borne in recipe.numbers if borne.card == card] or [number for kind, number, how in _of_file_name(self.files[spot[0]]) if kind == card and how == _TITLED]
        bears = f"is {'card' if card else 'page'} {numbers[0]} ({self.files[spot[0]]})" if numbers else f"is in {self.files[spot[0]]}"
        return f"“{recipe.name}” {bears}"

    def _named(self, pointer: Pointer, here: Spot) -> list[Spot]:
        """The recipes with a name among the words of ``pointer``, the longest such name, without the one that points."""
        words = _tokens(_OWN_NUMBER.sub(" ", pointer.words))[: 4 * _MOST_TOKENS]
        if pointer.number is None and words and words[0].isdigit():
            words = words[1:]
        for keys, of in ((self._names, None), (self._sounds, _sound)):
            said = words if of is None else [of(word) for word in words]
            for length in range(min(_MOST_TOKENS, len(said)), 0, -1):
                # A name alone begins the words; the name beside a number may stand anywhere among them.
                for start in range(1 if pointer.number is None else len(said) - length + 1):
                    if said[start].isdigit() and length > 1:
                        continue  # so many of it, and no part of its name
                    every = keys.get(tuple(sorted(said[start : start + length])), [])
                    if len(every) > _ALIKE:
                        return []
                    spots = [spot for spot in every if spot != here]
                    if spots and not (length == 1 and of is not None):
                        return spots
        if pointer.number is None and (short := _INITIALS.match(pointer.words)) is not None:
            every = self._initials.get("".join(filter(str.isalpha, short[0])), [])
            return [spot for spot in every if spot != here] if len(every) <= _ALIKE else []
        return []

    def _any_like(self, words: str) -> bool:
        """Whether any recipe has all of these words, or spellings near them, in its name; also where nothing is left to tell it by."""
        sounds = tuple(dict.fromkeys(_sound(word) for word in _tokens(words) if word.isalpha() and len(word) > 1))
        if sounds not in self._held:
            rarest = min((self._words.get(sound, []) for sound in sounds), key=len, default=None)
            self._held[sounds] = rarest is None or len(rarest) >= _COMMON or any(set(sounds) <= set(map(_sound, _tokens(self.recipe(spot).name))) for spot in rarest)
        return self._held[sounds]


def _one_or_rivals(spots: tuple[Spot, ...]) -> _Found:
    """What ``spots``, in the order of their files, are to a line that may mean any of them."""
    first: dict[int, Spot] = {}
    for spot in spots:
        first.setdefault(spot[0], spot)
    return _Found(spots) if len(first) == 1 else _Found(rivals=tuple(islice(first.values(), _NAMED)), count=len(first))


def _tokens(text: str) -> list[str]:
    """The words of a name that tell it from others, each in the singular."""
    return [word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word.lstrip("0") or "0" for word in _TOKEN.findall(text.lower()) if word not in _NOISE]


def _sound(word: str) -> str:
    """A word without what is misspelt most: its vowels and its doubled letters. “Pastrammi” is “pastrami”."""
    return word if word.isdigit() else _DOUBLED.sub(r"\1", _VOWELS.sub("", word.replace("ck", "k")))


def _of_file_name(file: str) -> Iterator[tuple[bool, int, int]]:
    """The numbers in a file's name: of a card or a page, which, and how it is borne."""
    stem = os.path.splitext(os.path.basename(file))[0].lower()
    found = _FILE_NUMBER.search(stem)
    if found is not None:
        yield found[1] is not None, int(found[2]), _TITLED
    elif (begins := _FILE_BEGINS.match(stem)) is not None:
        yield False, int(begins[1]), _BEGINS
        yield True, int(begins[1]), _BEGINS


def _besides(binder: _Binder, file: int, sheets: int) -> Besides | None:
    findings: list[Finding] = []
    words: dict[tuple[int, str], str] = {}
    recipes = binder.listed[file]
    for index, recipe in enumerate(recipes):
        told: set[tuple[bool, int | None, int | None, str | None]] = set()
        for pointer in recipe.pointers:
            found = binder.find(pointer, (file, index), sheets)
            head = (pointer.card, pointer.number, pointer.step, pointer.words if pointer.number is None else None)
            if head not in told:
                told.add(head)
                findings += _said(binder, pointer, found, (file, index), several=len(recipes) > 1)
            for rule, said in _may_be_there(binder, pointer, found, recipe):
                words.setdefault((index, rule), said)
    return Besides(tuple(findings), words) if findings or words else None


def _said(binder: _Binder, pointer: Pointer, found: _Found, here: Spot, *, several: bool) -> Iterator[Finding]:
    last = max((binder.recipe(spot).last_step for spot in found.spots), default=0)
    beyond = pointer.step is not None and 0 < last < pointer.step
    if not (found.missing or found.rivals or beyond):
        return
    from overhaul.rules.across import page_not_in_binder, step_not_on_that_page, two_pages_of_one_number

    if found.missing:
        finding = page_not_in_binder.said(pointer, binder.recipes, binder.unread, binder.where(found.instead, pointer.card) if found.instead is not None else None)
    elif found.rivals:
        finding = two_pages_of_one_number.said(pointer, [(binder.files[spot[0]], binder.recipe(spot).name) for spot in found.rivals], found.count)
    else:
        finding = step_not_on_that_page.said(pointer, pointer.step or 0, last, _there(binder, pointer, found))
    yield finding.of_recipe(here[1], binder.titles[here[0]][here[1]]) if several else finding


def _there(binder: _Binder, pointer: Pointer, found: _Found) -> str:
    """``page 7 (brines/p07.txt)``, ``“Corned beef” (corned.txt)``."""
    spot = found.spots[0]
    named = f"{'card' if pointer.card else 'page'} {pointer.number}" if pointer.number is not None else f"“{binder.recipe(spot).name}”"
    return f"{named} ({binder.files[spot[0]]})"


def _may_be_there(binder: _Binder, pointer: Pointer, found: _Found, recipe: Listed) -> Iterator[tuple[str, str]]:
    """The rules whose question the other page may answer, and the words that say so; of one that is followed to a step, up to there."""
    for rule, what in ASKED_ELSEWHERE.items():
        if what in recipe.has:
            continue
        where = [spot for spot in found.spots if what in (has := binder.recipe(spot).has) and (pointer.step is None or has[what] <= pointer.step)]
        if where:
            yield rule, f"It may be on {_there(binder, pointer, found)}, where line {pointer.line} sends the cook."
