from __future__ import annotations

import cProfile

import pytest

from overhaul import documents, pipeline, recipe, rules
from overhaul.house import House
from overhaul.text import Page
from tests.conftest import findings_of

TEXT = "Corned flat\n\n4 lb brisket flat\n1 gal water\n2 cups kosher salt\n5 tsp cure #1\n\nCure 3 days.\n"


def test_an_audit_has_the_page_the_recipe_and_its_findings_in_order() -> None:
    found = pipeline.audit(TEXT.encode(), "flat.txt", House())
    assert found.unreadable is None
    assert found.title == "Corned flat"
    assert sorted(found.findings, key=lambda finding: finding.place.start) == list(found.findings)
    assert {(one.rule, one.place) for one in found.findings} == {(one.rule, one.place) for one in findings_of(TEXT)} != set()


def test_every_stage_is_timed() -> None:
    assert list(pipeline.audit(TEXT.encode(), "flat.txt", House()).seconds) == ["document", "recipe", "rules", "index"]
    assert list(pipeline.read(TEXT.encode(), "flat.txt", House()).seconds) == ["document", "recipe"]
    assert all(seconds > 0 for seconds in pipeline.audit(TEXT.encode(), "flat.txt", House()).seconds.values())


def test_reading_alone_finds_nothing() -> None:
    found = pipeline.read(TEXT.encode(), "flat.txt", House())
    assert (found.title, found.findings) == ("Corned flat", ())


def test_text_is_audited_as_its_bytes_are() -> None:
    assert pipeline.audit_text(Page(TEXT, "flat.txt"), House()).findings == pipeline.audit(TEXT.encode(), "flat.txt", House()).findings


def test_a_byte_order_mark_moves_no_column() -> None:
    plain, marked = (pipeline.audit(data, "flat.txt", House()).findings for data in (TEXT.encode(), b"\xef\xbb\xbf" + TEXT.encode()))
    assert plain == marked


@pytest.mark.parametrize(("data", "reason"), [(b"", "an empty page: nothing to read"), (b" \n\t\n", "an empty page: nothing to read"), (b"\0\1", "a binary file, not text")])
def test_what_cannot_be_read_has_a_reason(data: bytes, reason: str) -> None:
    found = pipeline.audit(data, "x.txt", House())
    assert (found.unreadable, found.page, found.recipes, found.findings) == (reason, None, (), ())


@pytest.mark.parametrize(
    ("module", "name", "stage"),
    [(documents, "read", "document"), (recipe, "read_page", "recipe"), (rules, "run_each", "rules")],
)
def test_a_stage_that_fails_is_named_and_ends_only_this_file(monkeypatch: pytest.MonkeyPatch, module: object, name: str, stage: str) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr(module, name, fail)
    found = pipeline.audit(TEXT.encode(), "x.txt", House())
    assert found.unreadable == f"the program failed at the stage “{stage}” (ZeroDivisionError: by nothing); please report it"
    assert found.findings == ()
    assert list(found.seconds)[-1] == stage


def _work(text: str) -> int:
    """How many calls an audit of ``text`` makes: a measure of work that no busy machine changes."""
    profile = cProfile.Profile()
    profile.enable()
    pipeline.audit(text.encode(), "long.txt", House())
    profile.disable()
    return sum(entry.callcount for entry in profile.getstats())


@pytest.mark.parametrize("piece", ["1-2 ", "1/2 ", "1,", "2 (14 oz) ", "2 cups salt, ", "Cure 3 days at 38 F. ", "per lb ", "(", "7"])
def test_a_line_twice_as_long_is_twice_the_work(piece: str) -> None:
    once, twice = (_work("Corned beef\n\n" + piece * (size // len(piece)) + "\n") for size in (6_000, 12_000))
    assert twice < 2.2 * once


def test_a_page_twice_as_long_is_twice_the_work() -> None:
    page = "2 lb brisket\n3 oz salt\n\n1. Cure 3 days at 38 F.\n2. Smoke at 225 F to 190 F.\n3. Cool from 135 F to 70 F in 2 hours.\n4. Keep 7 days at 38 F.\n\n"
    _work(page * 80)  # what is worked out once, and for patterns that are often asked
    assert _work(page * 80) < 2.2 * _work(page * 40)


def test_files_audited_together_are_as_they_are_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    given = [(TEXT.encode(), "flat.txt", House()), (b"\0\1", "bad.txt", House()), (TEXT.replace("2 oz", "20 oz").encode(), "more.txt", House(law="ca")), (b"", "none.txt", House())]
    alone = [pipeline.audit(*one) for one in given]
    for together in (pipeline.audit_each(given), list(reversed(pipeline.audit_each(given[::-1])))):
        assert [(one.file, one.findings, one.listed, one.unreadable) for one in together] == [(one.file, one.findings, one.listed, one.unreadable) for one in alone]
    assert pipeline.audit_each([]) == []
    monkeypatch.setattr(rules, "run_each", lambda *_: 1 / 0)
    assert [one.unreadable and one.unreadable.split("(")[0] for one in pipeline.audit_each(given)][:2] == ["the program failed at the stage “rules” ", "a binary file, not text"]


@pytest.mark.parametrize("lines", ["2 lb beef {n}\n1 gal water\nuse the rub\n", "2 lb beef\n1 gal water\n1 cup salt\n", "1 cup salt\n1 cup salt\n1 cup salt\n"])
def test_twice_as_many_lists_are_twice_the_work(lines: str) -> None:
    once, twice = (_work("Book\n\n" + "".join(f"Part {n}:\n{lines.format(n=n)}\nMix it.\n\n" for n in range(count))) for count in (60, 120))
    assert twice < 2.6 * once
