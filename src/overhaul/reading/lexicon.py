"""The words: what names mean and what verbs do. Names live in names.tsv, verbs in actions.tsv."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, lru_cache
from importlib.resources import files
from typing import NamedTuple

_LONGEST = 6
_KEEP_S = frozenset(["molasses", "swiss", "brussels", "hummus", "couscous", "citrus", "bass", "gas", "grass", "less", "us", "ps", "p.s.", "lees", "sal", "this"])
_VES = {"leaves": "leaf", "halves": "half", "loaves": "loaf", "calves": "calf", "knives": "knife", "lvs": "leaf"}


class Name(NamedTuple):
    """A known name: its role, its row of facts/measures.tsv or facts/cuts.tsv, and which words it took."""

    role: str
    kind: str | None
    noun: str
    start: int
    end: int


@lru_cache(maxsize=8192)
def singular(word: str) -> str:
    """``word`` as one of it: berries, berry. Words that only look like more than one stay."""
    if word in _VES:
        return _VES[word]
    if len(word) < 4 or word in _KEEP_S or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "oes", "sses")):
        return word[:-2]
    return word[:-1]


_DIGIT = re.compile(r"\d")
_NUMBERED = re.compile(r"(?:\b(?:no|nr|number)\b\.?\s*|#\s+)(\d)")
_SPELLED = re.compile(r"(?:\b(?:no\.|number)\s+|(?<=\bcure ))(one|two)\b")  # cure two, number two cure
_FIGURES = {"one": "#1", "two": "#2"}
_WORDS = re.compile(r"#\d+|p\.\s?s\.|[^\W_]+(?:'[a-z]+)?")


@lru_cache(maxsize=8192)
def plain_words(text: str) -> tuple[str, ...]:
    """The words of a name, lower case, each as one of it; ``no. 1`` and ``number 1`` become ``#1``."""
    text = text.lower().replace("\u00ad", "")
    if _DIGIT.search(text):
        text = _NUMBERED.sub(r"#\1", text)
    if " two" in text or " one" in text:
        text = _SPELLED.sub(lambda found: _FIGURES[found[1]], text)
    return tuple([singular(word) for word in _WORDS.findall(text)])


@cache
def _names() -> dict[tuple[str, ...], tuple[str, str | None]]:
    table: dict[tuple[str, ...], tuple[str, str | None]] = {}
    for line in files("overhaul.reading").joinpath("names.tsv").read_text("utf-8").splitlines()[1:]:
        role, kind, name = line.split("\t")
        table.setdefault(plain_words(name), (role, kind or None))
    return table


@cache
def every_name() -> tuple[tuple[str, str], ...]:
    """Every known name as it is written, with its role, in the order of names.tsv."""
    rows = (line.split("\t") for line in files("overhaul.reading").joinpath("names.tsv").read_text("utf-8").splitlines()[1:])
    found: dict[str, str] = {}
    for role, _, name in rows:
        found.setdefault(name, role)
    return tuple(found.items())


_Table = dict[tuple[str, ...], tuple[str, str | None]]
_house: ContextVar[tuple[_Table, _Table] | None] = ContextVar("names of the house, and all names with them", default=None)
_ROLES = frozenset(["salt", "cure1", "cure2", "nitrite", "nitrate", "ready-mix", "sugar"])


@contextmanager
def house_names(names: Mapping[str, str]) -> Iterator[None]:
    """While it lasts this kitchen's names for things (each a role or a known name) go before all others."""
    if not names:
        yield
        return
    own: _Table = {}
    for name, meaning in names.items():
        found = known(plain_words(meaning))
        if meaning in _ROLES:
            own[plain_words(name)] = (meaning, None)
        elif found is not None:
            own[plain_words(name)] = (found.role, found.kind)
    token = _house.set((own, {**_names(), **own}))
    try:
        yield
    finally:
        _house.reset(token)


def _table() -> _Table:
    house = _house.get()
    return house[1] if house is not None else _names()


def known(words: Sequence[str]) -> Name | None:
    """The longest known name in ``words`` (as plain_words gives them); of equal ones the last, which is the noun.

    A name right after "of" loses to one before it ("bunch of thyme" has no rival, "peel of lemon" is one name).
    """
    return _known(tuple(words)) if _house.get() is None and len(words) <= _SHORT else _longest_of(words, _table())


_SHORT = 12  # words; what is longer is no name and hardly met again


@lru_cache(maxsize=8192)
def _known(words: tuple[str, ...]) -> Name | None:
    return _longest_of(words, _names())


def _longest_of(words: Sequence[str], names: _Table) -> Name | None:
    best: Name | None = None
    count = len(words)
    for start in range(count):
        for length in range(min(_LONGEST, count - start), 0, -1):
            found = names.get(tuple(words[start : start + length]))
            if found is not None:
                if best is None or length >= best.end - best.start:
                    best = Name(found[0], found[1], " ".join(words[start : start + length]), start, start + length)
                break
    if best is not None and best.end < len(words) and words[best.end] in _NUMBERS and best.role in _NUMBERED_ROLES:
        number = words[best.end]  # "nitrite salt #1": it says which it is, whatever it is called
        return Name(f"cure{number[1]}", f"cure_no{number[1]}", f"{best.noun} {number}", best.start, best.end + 1)
    return best


_NUMBERS, _NUMBERED_ROLES = ("#1", "#2"), ("cure1", "cure2", "ready-mix")
_NO_OTHER = frozenset(["not", "no", "never", "nor"])


def number_aside(aside: str) -> str | None:
    """``(no. 2)``: the one number of a curing salt that the rest of its line tells, ``1`` or ``2``; None for none, several, or "not #2"."""
    words = plain_words(aside) if "1" in aside or "2" in aside or "two" in aside or "one" in aside else ()
    told = {word for word in words if word in _NUMBERS}
    return told.pop()[1] if len(told) == 1 and _NO_OTHER.isdisjoint(words) else None


def known_at(words: Sequence[str], start: int) -> Name | None:
    """The longest known name that begins at ``start``."""
    names = _table()
    for length in range(min(_LONGEST, len(words) - start), 0, -1):
        found = names.get(tuple(words[start : start + length]))
        if found is not None:
            return Name(found[0], found[1], " ".join(words[start : start + length]), start, start + length)
    return None


_SAID_ASIDE = frozenset(["#1", "#2", "tinted", "tcm", "nitrite", "nitrate"])
_CURE_KINDS = frozenset(["cure1", "cure2", "#1", "#2", "tinted", "tcm", "1", "2", "nitrite", "nitrate"])


def names_its_kind(name: str, aside: str = "") -> bool:
    """Whether a curing salt's name says which one it is: a number, "tinted cure", or what it holds.

    ``aside`` : the rest of its line, where "tinted" says it too and a bare figure says nothing.
    """
    return not _CURE_KINDS.isdisjoint(plain_words(name)) or not _SAID_ASIDE.isdisjoint(plain_words(aside))


_TWO_MEANINGS = {"ps": "“PS”: pickling spice, or pink salt (curing salt)?", "p s": "“P.S.”: pickling spice, or pink salt (curing salt)?"}


def two_meanings(name: str) -> str | None:
    """The question a name puts that means one thing in one kitchen and another in the next, or None."""
    house = _house.get()
    return None if house is not None and plain_words(name) in house[0] else _TWO_MEANINGS.get(name)


class Action(NamedTuple):
    """What a verb does. ``phase`` is a phase of the work, or heat, mix, spice, cold, in, rub: settled by the place in the method."""

    phase: str
    verb: str


@cache
def actions() -> dict[str, Action]:
    """Every form of every verb."""
    table: dict[str, Action] = {}
    for line in files("overhaul.reading").joinpath("actions.tsv").read_text("utf-8").splitlines()[1:]:
        phase, verb, forms = line.split("\t")
        for form in forms.split():
            table[form] = Action(phase, verb)
    return table


_LETTERS = re.compile(r"[^\W\d_]+")
_FEWEST = 3  # different small words of another language, that are no name of a dish


@cache
def _small_words() -> dict[str, frozenset[str]]:
    """By language, English first."""
    rows = (line.split("\t") for line in files("overhaul.reading").joinpath("languages.tsv").read_text("utf-8").splitlines()[1:])
    return {language: frozenset(words.split()) for language, words in rows}


def words_of(text: str) -> Iterator[re.Match[str]]:
    """The words of ``text``, letters alone."""
    return _LETTERS.finditer(text)


def other_language(low: str) -> tuple[str, tuple[str, ...]] | None:
    """The language that a text in lower case is written in, and the words that tell so; None for English and for what tells nothing."""
    said = _LETTERS.findall(low)
    distinct, small = set(said), _small_words()
    others = [language for language, words in small.items() if language != "English" and len(words & distinct) >= _FEWEST]
    if not others:
        return None
    told = {language: [word for word in said if word in small[language]] for language in (*others, "English")}
    language = max(others, key=lambda one: len(told[one]))
    return (language, tuple(dict.fromkeys(told[language]))) if len(told[language]) > 2 * len(told["English"]) else None
