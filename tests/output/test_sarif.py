"""SARIF 2.1.0. The rules checked here are those of the standard (OASIS, Static Analysis Results Interchange Format
2.1.0 plus Errata 01, 2023); its section stands beside each."""

from __future__ import annotations

import json
from typing import Any
from urllib.parse import urlsplit

import pytest

from overhaul.output import sarif
from overhaul.pipeline import Audited
from overhaul.text import Page
from tests.output.made import FAULT, HAZARD, PAGE, POSSIBLE, QUERY, TEXT, UNREADABLE, audited


def rendered(*files: Audited) -> dict[str, Any]:
    log: dict[str, Any] = json.loads(sarif.render(files, "9.9"))
    return log


LOG = rendered(audited(HAZARD.of_recipe(1, "Corned flat"), POSSIBLE, FAULT, QUERY), UNREADABLE)
(RUN,) = LOG["runs"]


@pytest.mark.printed
def test_the_log_has_what_the_standard_requires() -> None:
    assert LOG["version"] == "2.1.0"  # 3.13.2
    driver = RUN["tool"]["driver"]  # 3.14.6, 3.18.2
    assert driver["name"]  # 3.19.8
    assert RUN["columnKind"] == "unicodeCodePoints"  # 3.14.27
    (invocation,) = RUN["invocations"]
    assert invocation["executionSuccessful"] is False  # 3.20.14, required
    for notification in invocation["toolExecutionNotifications"]:
        assert notification["message"]["text"]  # 3.58.5, required
        assert notification["level"] == "error"


@pytest.mark.printed
def test_every_result_points_at_its_rule_and_its_region() -> None:
    rules = RUN["tool"]["driver"]["rules"]
    assert len({rule["id"] for rule in rules}) == len(rules)  # 3.19.23: unique
    for result in RUN["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]  # 3.27.5, 3.27.6
        assert result["level"] in {"none", "note", "warning", "error"}  # 3.27.10
        assert result["message"]["text"]  # 3.27.11, required
        (location,) = result["locations"]
        region = location["physicalLocation"]["region"]
        assert region["startLine"] >= 1 and region["startColumn"] >= 1  # 3.30.5, 3.30.6
        assert (region["endLine"], region["endColumn"]) >= (region["startLine"], region["startColumn"])  # 3.30.7, 3.30.8
        for fix in result.get("fixes", []):
            for change in fix["artifactChanges"]:  # 3.55.3, required, not empty
                assert change["artifactLocation"]["uri"]  # 3.56.2, required
                assert change["replacements"]  # 3.56.3, required, not empty
                assert all("deletedRegion" in replacement for replacement in change["replacements"])  # 3.57.3, required
        for suppression in result.get("suppressions", []):
            assert suppression["kind"] in {"inSource", "external"}  # 3.35.2, required


def test_grades_become_levels_and_only_fired_rules_are_described() -> None:
    assert [(result["ruleId"], result["level"], result["properties"]["certain"]) for result in RUN["results"]] == [
        ("curing-salt-over-limit", "error", True),
        ("brine-warm", "error", False),
        ("cure-time-short", "warning", False),
        ("rest-missing", "note", False),
    ]
    assert [rule["id"] for rule in RUN["tool"]["driver"]["rules"]] == ["brine-warm", "cure-time-short", "curing-salt-over-limit", "rest-missing"]


def test_a_fix_is_the_remedys_edit() -> None:
    (fix,) = RUN["results"][0]["fixes"]
    (replacement,) = fix["artifactChanges"][0]["replacements"]
    region = replacement["deletedRegion"]
    line = TEXT.splitlines()[region["startLine"] - 1]
    assert line[region["startColumn"] - 1 : region["endColumn"] - 1] == "3 cups"
    assert replacement["insertedContent"] == {"text": "2 ounces"}


def test_a_sign_off_suppresses_unless_it_is_stale() -> None:
    assert [len(result.get("suppressions", [])) for result in RUN["results"]] == [1, 0, 0, 0]


@pytest.mark.parametrize(
    ("file", "uri"),
    [("a b/c#1.txt", "a%20b/c%231.txt"), ("x:y.txt", "x%3Ay.txt"), ("/binder/½.txt", "file:///binder/%C2%BD.txt"), ("odd\udcff.txt", "odd%FF.txt")],
)
def test_file_names_become_references(file: str, uri: str) -> None:
    (result,) = rendered(audited(QUERY, file=file))["runs"][0]["results"]
    found = result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert found == uri
    assert urlsplit(found).scheme in {"", "file"}


def test_an_empty_binder_is_a_valid_log() -> None:
    (run,) = rendered()["runs"]
    assert run["results"] == []
    assert run["invocations"][0]["executionSuccessful"] is True


def test_a_converted_document_has_pages_and_no_edits() -> None:
    """Its lines are those of its text: an editor that followed them would spoil the file."""
    one = Audited("corned.docx", Page(PAGE.text, "corned.docx", (1, 4)), (), ("Corned flat",), (HAZARD,))
    (result,) = json.loads(sarif.render([one], "0"))["runs"][0]["results"]
    assert result["properties"]["page"] == 2
    assert "fixes" not in result
