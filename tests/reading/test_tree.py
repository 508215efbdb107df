"""The grammar: every text parses, nothing is lost, and the islands are where they should be."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from overhaul.reading import line_parser, tree
from overhaul.reading.tree import Chain, Label, Mark, Measure, Rate, Word, parse, unit_word
from tests.conftest import CORPUS

PIECES = [
    "1", "2", "12", "½", "1/2", "1 1/2", ".5", "1,000", "a", "an", "half", "one", "and a half", "to", "or", "-", "–", "per", "/", "for each", "lb", "#", "#1", "C", "F", "°", "°C", "-5",
    "cup", "c.", "T", "t", "in", "in.", '"', "%", "(", ")", ",", ".", "&", "plus", "x", "2x", "~~5~~", "p. 4", "1.5.2024", "7:30", "4:1", "day", "hr", "salt", "water", "no. 1", "\x00",
    "\u00ad", "²", "٣", "_", "dozen", "hundred", "scant", "large", "each", "\n", "é", "per lb", "3rd", "May 3", "fl oz", "quarter cup", "'", "*", "=", "+", "until", "3/09", "ſ", "K", "İ",
]  # fmt: skip
SOUP = st.lists(st.tuples(st.sampled_from(PIECES), st.sampled_from(["", " ", "  "])), max_size=14).map(lambda parts: "".join(piece + gap for piece, gap in parts))


def rebuilt(text: str) -> str:
    """What the items cover, in order, with the blanks between them."""
    found, end = "", 0
    for item in parse(text):
        assert item.start >= end
        assert text[end : item.start].isspace() or end == item.start
        found += text[end : item.start] + text[item.start : item.end]
        end = item.end
    rest = text[end:]
    assert rest.isspace() or rest == ""
    return found + rest


@settings(max_examples=600)
@given(st.one_of(st.text(), SOUP))
def test_every_text_parses_and_is_rebuilt(text: str) -> None:
    assert rebuilt(text) == text


@pytest.fixture(scope="module")
def plain_parser() -> Any:
    """The parser as it is where lark's compiled one is not to be had."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(line_parser, "_faster", dict)
        return tree._parser.__wrapped__()


@settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.one_of(st.text(), SOUP))
def test_the_plain_parser_gives_the_same_items(plain_parser: Any, text: str) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tree, "_parser", lambda: plain_parser)
        plain = parse(text)
    assert plain == parse(text)


@pytest.mark.parametrize("path", sorted(CORPUS.rglob("*.txt")), ids=lambda path: path.name)
def test_every_line_of_the_corpus_is_rebuilt(path: object) -> None:
    for line in (CORPUS / str(path)).read_text("utf-8").splitlines():
        assert rebuilt(line) == line


@given(SOUP)
def test_the_offset_moves_every_place_alike(text: str) -> None:
    for plain, moved in zip(parse(text), parse(text, 100), strict=True):
        assert (moved.start, moved.end) == (plain.start + 100, plain.end + 100)


def test_a_line_twice_as_long_gives_twice_the_items() -> None:
    line = "2 cups salt, 3 lb 4 oz ice and a pinch of mace. "
    assert len(parse(line * 40)) == 40 * len(parse(line))


def show(text: str) -> list[str]:
    """Items in short: words as they are, measures as ``low-high unit``."""
    said = []
    for item in parse(text):
        if isinstance(item, Chain):
            for part in item.parts:
                if isinstance(part, Rate):
                    said.append(f"/{part.amount or ''}{part.unit}")
                else:
                    value = f"{part.low}" if part.low == part.high else f"{part.low}-{part.high}"
                    said.append(f"{part.link}[{value} {part.unit or ''}]".replace(" ]", "]"))
        elif isinstance(item, Label):
            said.append(f"<{item.form}>")
        else:
            said.append(item.text)
    return said


@pytest.mark.parametrize(
    ("text", "items"),
    [
        ("2 1/2 cups water", ["[5/2 cup]", "water"]),
        ("2-3 lb", ["[2-3 pound]"]),
        ("7 to 10 days", ["[7-10 day]"]),
        ("twelve or fourteen pounds", ["[12-14 pound]"]),
        ("2 lb 4 oz ice", ["[2 pound]", "[4 ounce]", "ice"]),
        ("¾ c + 2 T coarse salt", ["[3/4 cup]", "+[2 tablespoon]", "coarse", "salt"]),
        ("1 oz per 25# meat", ["[1 ounce]", "/25pound", "meat"]),
        ("10g/kg", ["[10 gram]", "/kilogram"]),
        ("4 oz. for each gallon", ["[4 ounce]", "/gallon"]),
        ("2 (14 oz) bottles", ["[2]", "(", "[14 ounce]", ")", "bottles"]),
        ("3 @ 5-6 lb", ["[3]", "@[5-6 pound]"]),
        ("2 200 g breasts", ["[2]", "[200 gram]", "breasts"]),
        ("-18 °C", ["[-18 degC]"]),
        ("36°-38°F", ["[36 degree]", "-[38 degF]"]),
        ("180-200*F", ["[180-200 degF]"]),
        ("38 deg. brine", ["[38 degree]", "brine"]),
        ("1 T salt, 1 t pepper", ["[1 tablespoon]", "salt", ",", "[1 teaspoon]", "pepper"]),
        ("1 C sugar at 80 C", ["[1 cup]", "sugar", "at", "[80 degC]"]),
        ("cure #1, 14#", ["cure", "<numbered>", ",", "[14 pound]"]),
        ("no. 1 cure", ["<numbered>", "cure"]),
        ("see p. 41", ["see", "<page>"]),
        ("made 1.5.2026 and 3rd", ["made", "<date>", "and", "<ordinal>"]),
        ("at 7:30", ["at", "<clock>"]),
        ("4:1:1 fish", ["<ratio>", "fish"]),
        ("70/30 pork", ["<ratio>", "pork"]),
        ("E250 0.5 g", ["E250", "[1/2 gram]"]),
        ("H2O 1 gal", ["H2O", "[1 gallon]"]),
        ("~~5~~ 3 tsp", ["<struck>", "[3 teaspoon]"]),
        ("12-quart pot", ["[12 quart]", "pot"]),
        ("a cup of it", ["[1 cup]", "of", "it"]),
        ("a plate on top", ["a", "plate", "on", "top"]),
        ("an inch and a half", ["[3/2 inch]"]),
        ('1 5/8" thick', ["[13/8 inch]", "thick"]),
        ("put 4 in the pot", ["put", "[4]", "in", "the", "pot"]),
        ("scant 1 c, 2 heaping tsp", ["scant", "[1 cup]", ",[2 teaspoon]"]),
        ("36 hours.", ["[36 hour]", "."]),
        ("2 oz. salt", ["[2 ounce]", "salt"]),
        ("vitamin l and h 2 h", ["vitamin", "l", "and", "h", "[2 hour]"]),
        ("mix 1 % or % more", ["mix", "[1 percent]", "or", "%", "more"]),
        ("1,5 kg of 1,000 g", ["[3/2 kilogram]", "of", "[1000 gram]"]),
    ],
)  # fmt: skip
def test_what_is_an_island(text: str, items: list[str]) -> None:
    assert show(text) == items


def test_a_number_knows_its_own_end() -> None:
    (chain,) = parse("22 litres")
    assert isinstance(chain, Chain)
    measure = chain.first
    assert isinstance(measure, Measure)
    assert (measure.start, measure.number_end, measure.end) == (0, 2, 9)


def test_words_and_marks_keep_their_spelling() -> None:
    assert parse("Sel\u00adrose!") == [Word(0, 0, 8, "Sel\u00adrose", "selrose"), Mark(0, 8, 9, "!")]
    assert [item.depth for item in parse("salt (fine [or coarse]) ]")] == [0, 0, 1, 1, 2, 2, 1, 0, 0]  # type: ignore[union-attr]


@pytest.mark.parametrize(("word", "unit"), [("bottles", "bottle"), ("lb", "pound"), ("salt", None), ("T", "tablespoon"), ("", None)])
def test_a_word_that_is_a_unit(word: str, unit: str | None) -> None:
    assert unit_word(word) == unit
