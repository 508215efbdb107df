"""Patterns that look for their words first find what ``re`` finds."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import overhaul
from overhaul.reading import patterns
from overhaul.reading.patterns import Pattern, words
from tests.conftest import CORPUS

SRC = Path(overhaul.__file__).parent
ALL = sorted({(one.pattern, one.flags) for path in sorted([*SRC.glob("recipe/*.py"), SRC / "reading" / "phrases.py"]) for one in vars(import_module("overhaul." + ".".join(path.relative_to(SRC).with_suffix("").parts))).values() if isinstance(one, Pattern)})
PAGES = [path.read_text("utf-8") for path in sorted(CORPUS.rglob("*")) if path.suffix in (".txt", ".md")]
SENTENCES = [sentence for page in PAGES for sentence in re.split(r"(?<=[.\n])", page)]


def asked_often(pattern: str, flags: int) -> Pattern:
    one = Pattern(pattern, flags)
    for _ in range(patterns._OFTEN + 1):
        one.search("")
    return one


def test_there_are_many_and_most_have_words() -> None:
    assert len(ALL) > 100
    assert sum(bool(words(*one)) for one in ALL) > len(ALL) * 0.6


@pytest.mark.parametrize(("pattern", "flags"), ALL, ids=[pattern[:40] for pattern, _ in ALL])
def test_ours_find_on_every_page_what_re_finds(pattern: str, flags: int) -> None:
    one, plain = asked_often(pattern, flags), re.compile(pattern, flags)
    for text in (*PAGES, *SENTENCES, *(page.lower() for page in PAGES), *(page.upper() for page in PAGES)):
        assert [found.span() for found in one.finditer(text)] == [found.span() for found in plain.finditer(text)]
        assert (one.search(text) is None) is (plain.search(text) is None)


@pytest.mark.parametrize(
    ("pattern", "flags", "wanted"),
    [
        (r"\b(?:thaw|frozen (?:hard|solid))\b", 0, (("frozen ", "thaw"),)),
        (r"\bsmok(?:e[ds]?|ing)\b", re.I, (("smok",),)),
        (r"Salt|SALT", 0, (("SALT", "Salt"),)),
        (r"Salt|SALT", re.I, (("salt",),)),
        (r"(?:the )?brine", 0, (("brine",),)),
        (r"cold(?: brine)?|cool", 0, (("cold", "cool"),)),
        (r"(?:brine|pickle){2,}\d+", 0, (("brine", "pickle"),)),
        (r"more (?:salt|brine)[^.]{0,20}(?:warm|hot) (?:weather|days)", 0, (("more ",), (" days", " weather"))),
        (r"(?:salt\d+warm|brine)", 0, (("brine", "salt"),)),  # the second has no second group
        (r"(?:salt\d+warm|brine\s+cold)", 0, (("brine", "salt"), ("cold", "warm"))),
        (r"(?:brine|pickle)*", 0, ()),
        (r"\d+ ?(?:oz|lb)", 0, ()),  # too short to rule out much
        (r"(?i:brine)", 0, ()),
        (r"(?<=the )walk-in(?! closet)", 0, (("walk-in",),)),
        (r"[Bb]rine", 0, (("rine",),)),
        (r"(salt) and \1", 0, ((" and ",), ("salt",))),
    ],
)
def test_the_words_that_a_match_must_hold(pattern: str, flags: int, wanted: tuple[tuple[str, ...], ...]) -> None:
    assert words(pattern, flags) == wanted


PIECES = st.sampled_from(["salt", "brine", "the ", "a", "(?:cold|cool)", "(?:warm)?", r"\b", r"\d", "[a-c]", ".", "x{2,3}", "(?:it|them)+", "(?=b)", "(?<!a)", "|", "(?:ab|)", "(hold)"])
TEXTS = st.text(alphabet="abcdilnorstwxeh SALT1ſK", max_size=40)


@given(st.lists(PIECES, min_size=1, max_size=7).map("".join), st.sampled_from([0, re.I]), st.lists(st.one_of(TEXTS, st.sampled_from(["salt", "brine", "cold", "the warm", "hold", "xx"])), max_size=5).map("".join), st.integers(0, 9), st.integers(0, 60))
def test_any_pattern_finds_what_re_finds(pattern: str, flags: int, text: str, start: int, end: int) -> None:
    one, plain = asked_often(pattern, flags), re.compile(pattern, flags)
    for given_text in (text, text.lower(), text.upper()):
        assert [found.span() for found in one.finditer(given_text)] == [found.span() for found in plain.finditer(given_text)]
        mine, its = one.search(given_text, start, end), plain.search(given_text, start, end)
        assert (mine and mine.span()) == (its and its.span())
        assert one.sub("-", given_text) == plain.sub("-", given_text)


@given(st.sampled_from(["salt|brine", r"salt[^.]{0,9}cold", r"\d", "(?i:salt)"]), st.lists(st.sampled_from(["salt", "brine", "cold", ".", " ", "1", "it"]), max_size=20).map("".join))
def test_the_sentences_that_may_hold_a_match_hold_all_of_them(pattern: str, text: str) -> None:
    one = asked_often(pattern, 0)
    bounds = sorted(set(one.sentences(text)))
    assert all("." not in text[start:end] and text[start - 1 : start] in ("", ".") and text[end : end + 1] in ("", ".") for start, end in bounds)
    assert [found.span() for start, end in bounds for found in one.finditer(text, start, end)] == [found.span() for found in re.finditer(pattern, text)]


def test_letters_that_are_one_with_an_s_or_a_k_are_found() -> None:
    assert asked_often("smoke", re.I).search("ſmoKe") is not None
