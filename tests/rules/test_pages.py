"""Every rule file is registered, has its grounds, and both its texts run with the exact place and words."""

from __future__ import annotations

from pathlib import Path

import pytest
from ruamel.yaml import YAML

import overhaul.rules
from overhaul import facts
from overhaul.findings import Grade
from overhaul.house import House
from overhaul.recipe.model import Recipe
from overhaul.rules import FAMILIES, Case, across, all_rules, run
from overhaul.rules.rule import Rule
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.conftest import CORPUS, findings_of, recipe_of, where

RULES = all_rules()
NAMES = [rule.name for rule in RULES]
HELPERS = ("judging", "dosing")  # what several rules of a family share; no rule of its own


def test_every_rule_file_is_registered() -> None:
    folder = Path(overhaul.rules.__file__).parent
    files = [path for family in FAMILIES for path in sorted((folder / family).glob("*.py")) if path.stem not in ("__init__", *HELPERS)]
    assert sorted(path.stem.replace("_", "-") for path in files) == sorted(NAMES)
    assert {path.name for path in folder.iterdir() if path.is_dir() and path.name != "__pycache__"} == {*FAMILIES, across.FAMILY}  # its own tests are in across/
    for rule in RULES:
        assert (folder / rule.family / f"{rule.name.replace('-', '_')}.py").exists()
    assert len(NAMES) == len(set(NAMES))


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_the_grounds_are_whole(rule: Rule) -> None:
    assert rule.family in FAMILIES
    assert rule.reports.endswith(".")
    assert rule.why.endswith(".")
    assert rule.silent.endswith(".")
    assert rule.sources
    for cite in rule.sources:
        facts.source(cite.key)
    assert not any(letter.isdigit() for letter in rule.name)


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_the_sound_text_is_sound(rule: Rule) -> None:
    """Not only this rule is silent: no rule has anything to say."""
    assert [(finding.rule, finding.message) for finding in findings_of(rule.sound)] == []


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_the_faulty_text_is_found_at_its_place_in_these_words(rule: Rule) -> None:
    found = [(where(finding, Page(rule.faulty)), finding.message) for finding in findings_of(rule.faulty) if finding.rule == rule.name]
    assert found == [rule.expect]


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_every_finding_has_its_sources_and_no_avoided_words(rule: Rule) -> None:
    for finding in findings_of(rule.faulty):
        assert finding.sources, finding.rule
        for cite in finding.sources:
            facts.source(cite.key)
        for word in (" safe ", "safely", "unsafe", "marinate"):
            assert word not in f" {finding.message.lower()} "
        assert not (finding.grade is Grade.QUERY and finding.certain)


@pytest.mark.parametrize("rule", RULES, ids=NAMES)
def test_remedies_that_are_edits_settle_the_finding(rule: Rule) -> None:
    """With the edit made, the finding is gone, and no hazard or fault is new."""
    page = Page(rule.faulty)
    before = findings_of(rule.faulty)
    for finding in before:
        if finding.rule != rule.name or finding.remedy is None or not finding.remedy.edits:
            continue
        text = page.text
        for edit in sorted(finding.remedy.edits, key=lambda edit: -edit.place.start):
            text = text[: edit.place.start] + edit.new + text[edit.place.end :]
        after = findings_of(text)
        assert rule.name not in [one.rule for one in after], text
        assert {one.rule for one in after if one.grade is not Grade.QUERY} <= {one.rule for one in before}


def test_every_rule_speaks_somewhere_in_the_corpus() -> None:
    """A rule without a case of the binder is a rule nobody tried; these few have only their own page."""
    yaml = YAML(typ="safe")
    spoken = {finding["rule"] for path in CORPUS.rglob("*.expect.yaml") for finding in yaml.load(path)["findings"]}
    only_pages = {"page-and-data-differ", "field-and-text-differ", "sign-off-stale"}
    assert set(NAMES) - spoken <= only_pages


def test_a_rule_that_fails_becomes_a_finding_naming_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(case: Case) -> list[object]:
        raise RuntimeError("on purpose")

    broken = Rule("broken-rule", "page", fails, "r.", "w.", "s.", (), "", "", ("", ""))  # type: ignore[arg-type]
    monkeypatch.setattr(overhaul.rules, "all_rules", lambda: (broken,))
    recipe: Recipe = recipe_of("Brine\n\n1 lb salt\n")
    (finding,) = run(Case(recipe, Sums(recipe, House()), House()))
    assert (finding.rule, finding.grade) == ("broken-rule", Grade.QUERY)
    assert finding.message == "This rule failed on this page (RuntimeError: on purpose); look at the page yourself, and please report it."
    with pytest.raises(RuntimeError):
        run(Case(recipe, Sums(recipe, House()), House()), strict=True)
