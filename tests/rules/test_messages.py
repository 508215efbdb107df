"""Every message of every rule in one list, for proof-reading: ``MESSAGES=1 pytest tests/rules/test_messages.py``."""

from __future__ import annotations

import os
import re

import pytest

from overhaul.findings import Finding, Grade
from overhaul.rules import all_rules
from overhaul.rules.rule import Rule
from tests.conftest import findings_of

RULES = all_rules()
# Nothing of the program's own making belongs in a message.
_CODE = re.compile(r"\b(?:None|True|False|nan|inf|[a-z]+_[a-z]+|[A-Z]{2}\d{2}|Traceback)\b|\{|\}|  ")


def said(rule: Rule) -> list[Finding]:
    return [one for one in findings_of(rule.faulty) if one.rule == rule.name]


def test_the_catalogue_is_printed_in_full(capsys: pytest.CaptureFixture[str]) -> None:
    for rule in RULES:
        for one in said(rule):
            print(f"{rule.name}\n  {one.message}")
            print(f"  → {one.remedy.text}" if one.remedy is not None else "  → (no remedy)")
    shown = capsys.readouterr().out
    assert [rule.name for rule in RULES if f"{rule.name}\n" not in shown] == []
    assert "(no remedy)" not in shown
    with capsys.disabled():
        if os.environ.get("MESSAGES"):
            print(shown)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_message_is_whole_sentences_in_a_cooks_words(rule: Rule) -> None:
    for one in said(rule):
        assert one.message[0].isupper() or one.message[0] in "“0123456789"
        assert one.message[-1] in ".?"
        assert _CODE.search(one.message) is None, _CODE.search(one.message)
        assert one.remedy is not None
        assert one.remedy.text[0].isupper()
        assert one.remedy.text[-1] in ".:" or one.remedy.text.endswith("reason")
        assert one.sources


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_query_says_what_one_answer_settles_and_the_rest_say_their_limit(rule: Rule) -> None:
    for one in said(rule):
        if one.grade is Grade.QUERY:
            assert "?" in one.message or one.remedy is not None
        elif one.certain and one.grade is Grade.HAZARD:
            assert re.search(r"\blimit\b|\blaw\b|\bleast\b|\bno more\b", one.message), one.message
