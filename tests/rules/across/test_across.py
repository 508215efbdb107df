"""The rules of references between files: grounds that are whole, and both texts of each, laid out as a binder."""

from __future__ import annotations

from pathlib import Path

import pytest

import overhaul.rules.across
from overhaul import facts
from overhaul.findings import Grade
from overhaul.rules import all_rules, every_rule
from overhaul.rules.across import FAMILY, RULES
from overhaul.rules.rule import Rule
from tests.conftest import findings_of, where
from tests.test_cross_references import Shelf, shelf, texts_of

NAMES = [rule.name for rule in RULES]


def test_every_rule_file_is_registered() -> None:
    files = sorted(path.stem.replace("_", "-") for path in Path(overhaul.rules.across.__file__).parent.glob("*.py") if path.stem not in ("__init__", "judging"))
    assert files == sorted(NAMES)
    assert set(NAMES) <= {rule.name for rule in every_rule()}
    assert not set(NAMES) & {rule.name for rule in all_rules()}


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_the_grounds_are_whole(rule: Rule) -> None:
    assert rule.family == FAMILY
    assert all(text.endswith(".") for text in (rule.reports, rule.why, rule.silent))
    assert rule.sources
    for cite in rule.sources:
        facts.source(cite.key)


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_the_sound_binder_is_sound(rule: Rule) -> None:
    assert [finding.rule for one in shelf(**texts_of(rule.sound)).files for finding in one.findings] == []


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_the_faulty_binder_is_found_at_its_place_in_these_words(rule: Rule) -> None:
    made: Shelf = shelf(**texts_of(rule.faulty))
    first, *rest = made.files
    (finding,) = first.findings
    assert first.page is not None
    assert (finding.rule, where(finding, first.page), finding.message) == (rule.name, *rule.expect)
    assert (finding.grade, finding.certain, finding.sources) == (Grade.QUERY, False, rule.sources)
    assert [one.findings for one in rest] == [()] * len(rest)


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_of_one_page_nothing_is_said(rule: Rule) -> None:
    """Neither by the rule itself nor of the first page of its binder."""
    page = next(iter(texts_of(rule.faulty).values()))
    assert findings_of(page) == []
    assert [one.findings for one in shelf(page=page).files] == [()]
