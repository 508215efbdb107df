"""What in a name people may be allergic to: the substances that EU and US law has named on food, by the words of allergens.tsv.

Regulation (EU) 1169/2011, annex II, and 21 U.S.C. 321(qq): the list from memory. A word tells what is usually in a thing, never what is not.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from overhaul.reading import lexicon


@cache
def _words() -> dict[tuple[str, ...], str]:
    found = {}
    for line in files("overhaul.reading").joinpath("allergens.tsv").read_text("utf-8").splitlines()[1:]:
        allergen, words = line.split("\t")
        found.update({lexicon.plain_words(word): allergen for word in words.split("|")})
    return found


def names() -> tuple[str, ...]:
    """Every allergen, in the order of the table."""
    return tuple(dict.fromkeys(_words().values()))


def allergens(name: str) -> list[str]:
    """What ``name`` may bring, in the order of the table; ``mustard seed`` brings mustard."""
    words = lexicon.plain_words(name)
    runs = {words[start:end] for start in range(len(words)) for end in range(start + 1, min(start + 3, len(words)) + 1)}
    brought = {allergen for run, allergen in _words().items() if run in runs}
    return [allergen for allergen in names() if allergen in brought]
