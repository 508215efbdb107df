from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from overhaul.text import Excerpt, Page, Place


@given(st.text())
def test_plain_text_is_as_long_as_the_original(text: str) -> None:
    assert len(Page(text).plain) == len(text)


@given(st.text(alphabet=st.sampled_from(list("ab\r\n½ \t\u00a0"))))
def test_lines_and_their_ends_rebuild_the_text(text: str) -> None:
    page = Page(text)
    rebuilt = ""
    for line, following in zip(page.lines, [*page.lines[1:], None], strict=True):
        end = following.place.start if following is not None else len(text)
        rebuilt += text[line.place.start : end]
    assert rebuilt == text
    assert [line.number for line in page.lines] == list(range(1, len(page.lines) + 1))


@given(st.text(alphabet=st.sampled_from(list("ab\r\nx"))), st.data())
def test_a_position_finds_its_offset_again(text: str, data: st.DataObject) -> None:
    page = Page(text)
    offset = data.draw(st.integers(0, len(text)))
    line, column = page.position(offset)
    place = page.lines[line - 1].place
    assert place.start + column - 1 == min(offset, place.end)


@pytest.mark.parametrize(
    ("text", "offset", "position"),
    [
        ("one\r\ntwo", 5, (2, 1)),
        ("one\rtwo", 4, (2, 1)),
        ("one\ntwo\n", 8, (2, 4)),
        ("½ lb\u00a0salt", 5, (1, 6)),
        ("", 0, (1, 1)),
    ],
)
def test_positions_count_code_points_from_one(text: str, offset: int, position: tuple[int, int]) -> None:
    assert Page(text).position(offset) == position


def test_odd_characters_are_read_plain() -> None:
    assert Page("1\u2044\uff12\u00a0cup \u201csalt\u201d 200\u00baF").plain == '1/2 cup "salt" 200°F'


def test_a_place_must_run_forwards() -> None:
    with pytest.raises(ValueError, match="not a place"):
        Place(4, 2)


def test_the_end_of_a_line_is_an_empty_place() -> None:
    page = Page("salt\nwater")
    assert page.position(page.end_of(1).start) == (1, 5)
    with pytest.raises(IndexError):
        page.line(0)


def test_lines_of_a_paged_document_know_their_page() -> None:
    page = Page("a\nb\nc\nd\n", "x.pdf", (1, 3))
    assert [page.page_at(line) for line in (1, 2, 3, 4)] == [1, 1, 2, 2]
    assert Page("a\n").page_at(1) is None


def test_every_kind_of_line_end_is_one_to_who_looks_for_it() -> None:
    page = Page("one\r\ntwo\rthree\n")
    assert page.plain == "one \ntwo\nthree\n"
    assert [page.line(number) for number in (1, 2, 3)] == ["one", "two", "three"]


@given(st.text(alphabet=st.sampled_from(list("a \r\n"))))
def test_a_position_is_within_its_line(text: str) -> None:
    page = Page(text)
    for offset in range(len(text) + 2):
        number, column = page.position(offset)
        place = page.lines[number - 1].place
        assert place.start <= offset
        assert column == min(offset, place.end) - place.start + 1
    assert page.position(len(text))[0] == len(page.lines)


@example("\r\r\r\r_", {1, 3, 5})
@given(st.text(alphabet=st.sampled_from(list("aÉ\r\n½ \t~_"))), st.sets(st.integers(1, 12), min_size=1))
def test_an_excerpt_has_its_lines_where_the_page_has_them_and_nothing_else(text: str, numbers: set[int]) -> None:
    page = Page(text)
    numbers = {number for number in numbers if number <= len(page.lines)} or {1}
    excerpt = Excerpt(page, numbers)
    for line in page.lines:
        if line.number in numbers:
            assert [each[line.place.start : line.place.end] for each in (excerpt.text, excerpt.plain, excerpt.low)] == [each[line.place.start : line.place.end] for each in (page.text, page.plain, page.low)]
        else:
            assert not excerpt.text[line.place.start : line.place.end].strip()
    again = Page(excerpt.text)
    assert [again.line(number) for number in sorted(numbers) if number <= len(again.lines)] == [page.line(number) for number in sorted(numbers) if number <= len(again.lines)]
    assert {line.number for line in excerpt.told_lines} == numbers
    assert excerpt.begin == page.lines[min(numbers) - 1].place.start


def test_an_excerpt_lets_go_of_its_texts_when_others_are_asked() -> None:
    page = Page("one\ntwo\nthree\n")
    excerpts = [Excerpt(page, [number]) for number in (1, 2, 3)]
    assert [excerpt.text for excerpt in excerpts] == ["one\n", "   \ntwo\n", "      \n\nthree\n"]
    assert ["text" in excerpt.__dict__ for excerpt in excerpts] == [False, True, True]
    assert excerpts[0].text == "one\n"
