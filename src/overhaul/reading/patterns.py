"""Patterns that are asked of nearly every sentence and seldom found: compiled when first asked, and soon asked only where a match can be.

``\\b(?:thawed|frozen hard)\\b`` cannot match a text without ``thawed`` and without ``frozen hard``, and to look for those takes a tenth
of the time. What a match must hold is worked from the pattern itself, once it was asked often enough to be worth it.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from importlib import import_module
from typing import Any

_OFTEN = 60  # searches, after which the words are worked out
_FEWEST_LETTERS, _MOST_WORDS = 3, 32  # shorter words, and more of them, rule out too little
_MOST_GROUPS = 2
_LONGEST_PAGE = 20_000  # characters; one recipe of a book is asked about as a part of the whole book
_ENOUGH = 4  # letters; then fewer words are better than longer ones


class Pattern:
    """A regular expression that answers as ``re`` does."""

    __slots__ = ("_absent", "_asked", "_compiled", "_fold", "_page", "_words", "flags", "pattern")

    def __init__(self, pattern: str, flags: int = 0) -> None:
        self.pattern = pattern
        self.flags = flags
        self._compiled: re.Pattern[str] | None = None
        self._words: tuple[tuple[str, ...], ...] = ()
        self._fold = False
        self._asked = 0
        self._page = ""  # the last text that was asked about in part, and whether its words are absent from all of it
        self._absent = False

    def _made(self) -> re.Pattern[str]:
        compiled = self._compiled
        if compiled is None:
            compiled = self._compiled = re.compile(self.pattern, self.flags)
        return compiled

    def _cannot(self, text: str, start: int = 0, end: int = sys.maxsize) -> bool:
        """Whether no match can be in ``text`` from ``start`` to ``end``."""
        if self._words:
            if start or end != sys.maxsize:
                if text is not self._page and len(text) <= _LONGEST_PAGE:
                    self._page, self._absent = text, self._lacks(text)
                if self._absent and text is self._page:
                    return True
                text = text[start:end]
            return self._lacks(text)
        if self._asked >= 0:
            self._asked += 1
            if self._asked > _OFTEN:
                self._asked = -1
                self._fold = bool(self._made().flags & re.IGNORECASE)
                self._words = words(self.pattern, self.flags)
        return False

    def _lacks(self, text: str) -> bool:
        """Whether ``text`` has none of the words of one group."""
        if self._fold:
            if not text.isascii():
                return False  # some letters beyond it are one with an s or a k
            text = text.lower()
        for group in self._words:
            for word in group:  # any() takes twice as long
                if word in text:
                    break
            else:
                return True
        return False

    def may_match(self, text: str) -> bool:
        """Whether a match can be in ``text``, as far as is seen without looking for it."""
        return not self._cannot(text)

    def sentences(self, text: str) -> Iterator[tuple[int, int]]:
        """Where each sentence of ``text`` that may hold a match begins and ends, its full stop left out."""
        if self._cannot(text):
            return
        if not self._words or self._fold:
            start = 0
            for sentence in text.split("."):
                yield start, start + len(sentence)
                start += len(sentence) + 1
            return
        for word in self._words[0]:  # a sentence that has two of them is told twice
            at = text.find(word)
            while at >= 0:
                start, end = text.rfind(".", 0, at) + 1, text.find(".", at)
                end = end if end >= 0 else len(text)
                if not self._lacks(text[start:end]):
                    yield start, end
                at = text.find(word, end + 1)

    def search(self, text: str, start: int = 0, end: int = sys.maxsize) -> re.Match[str] | None:
        if self._words and not self._fold and not start and end == sys.maxsize:  # nearly always: without another call
            for group in self._words:
                for word in group:
                    if word in text:
                        break
                else:
                    return None
            return self._made().search(text)
        return None if self._cannot(text, start, end) else self._made().search(text, start, end)

    def finditer(self, text: str, start: int = 0, end: int = sys.maxsize) -> Iterator[re.Match[str]]:
        return iter(()) if self._cannot(text, start, end) else self._made().finditer(text, start, end)

    def sub(self, new: Any, text: str) -> str:
        return text if self._cannot(text) else self._made().sub(new, text)

    def match(self, text: str, start: int = 0, end: int = sys.maxsize) -> re.Match[str] | None:
        return self._made().match(text, start, end)

    def fullmatch(self, text: str) -> re.Match[str] | None:
        return self._made().fullmatch(text)


def words(pattern: str, flags: int = 0) -> tuple[tuple[str, ...], ...]:
    """Groups of words: every match of ``pattern`` holds at least one of each group, in small letters where it ignores the case. None where nothing is certain."""
    parser = import_module("re._parser")
    tree = parser.parse(pattern, flags)
    folds = bool(tree.state.flags & re.IGNORECASE)
    groups = []
    for found in _of_sequence(list(tree)):
        every = {word.lower() if folds else word for word in found}
        if len(every) <= _MOST_WORDS and min(map(len, every)) >= _FEWEST_LETTERS:
            groups.append(tuple(sorted(word for word in every if not any(other in word for other in every - {word}))))
    return tuple(dict.fromkeys(groups))


def _of_sequence(tree: list[Any]) -> list[frozenset[str]]:
    """Of what follows one upon the other, each has to be there: the best two, those of the fewest words that are long enough."""
    groups: list[frozenset[str]] = []
    run = ""
    for kind, value in tree:
        name = str(kind)
        if name == "LITERAL":
            run += chr(value)
            continue
        if name in ("AT", "ASSERT", "ASSERT_NOT"):
            continue  # of no width: what is before and behind it stands together
        inner = _of_one(name, value)
        if run:
            groups.append(max(frozenset([run]), frozenset(run + begun for begun in _begun(name, value)), key=_goodness))  # ``re`` takes out what choices begin with in common
            run = ""
            if inner and all(any(word in long for word in inner[0]) for long in groups[-1]):
                inner = inner[1:]  # no more than what was just said
        groups += inner
    if run:
        groups.append(frozenset([run]))
    return sorted(groups, key=_goodness, reverse=True)[:_MOST_GROUPS]


def _goodness(group: frozenset[str]) -> tuple[int, int, int]:
    return min(_ENOUGH, *map(len, group)), -len(group), min(map(len, group))


def _begun(name: str, value: Any) -> list[str]:
    """The letters that a choice may begin with; an empty word where nothing is certain."""
    if name == "SUBPATTERN" and not value[1] and not value[2]:
        inner = list(value[3])
        return _begun(str(inner[0][0]), inner[0][1]) if inner and str(inner[0][0]) in ("BRANCH", "SUBPATTERN") else [_letters(inner)]
    return [_letters(list(branch)) for branch in value[1]] if name == "BRANCH" else [""]


def _letters(tree: list[Any]) -> str:
    found = ""
    for kind, value in tree:
        if str(kind) != "LITERAL":
            break
        found += chr(value)
    return found


def _of_one(name: str, value: Any) -> list[frozenset[str]]:
    if name == "BRANCH":
        # Whichever is taken has all of its own groups, so that it has one of the first of each, and one of the second of each.
        return [frozenset().union(*groups) for groups in zip(*(_of_sequence(list(branch)) for branch in value[1]), strict=False)]
    if name == "SUBPATTERN":
        return _of_sequence(list(value[3])) if not value[1] and not value[2] else []  # one with flags of its own may fold
    if name in ("MAX_REPEAT", "MIN_REPEAT", "POSSESSIVE_REPEAT"):
        return _of_sequence(list(value[2])) if value[0] > 0 else []
    if name == "ATOMIC_GROUP":
        return _of_sequence(list(value))
    return []
