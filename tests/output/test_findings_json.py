from __future__ import annotations

import json
from typing import Any

from overhaul.output import findings_json
from overhaul.text import Page
from tests.output.made import FAULT, HAZARD, PAGE, QUERY, UNREADABLE, audited

BARE: dict[str, Any] = {"absent": False, "sum": None, "remedy": None, "sources": [], "signed_off": None}
WHOLE = {
    "format": "overhaul-findings/1",
    "files": [
        {
            "file": "corned.txt",
            "title": "Corned flat",
            "findings": [
                {
                    **BARE,
                    "rule": "curing-salt-over-limit",
                    "grade": "hazard",
                    "certain": True,
                    "line": 4,
                    "column": 1,
                    "end_line": 4,
                    "end_column": 7,
                    "message": "Far over.",
                    "sum": "3 ÷ 1 = 3",
                    "remedy": {"text": "Weigh 2.", "edits": [{"line": 4, "column": 1, "end_line": 4, "end_column": 7, "new": "2 ounces"}]},
                    "sources": [{"key": "cfr-424-21", "where": "(c)"}],
                    "signed_off": {"by": "jb", "date": "2026-11-02", "reason": "made it for years", "stale": False},
                    "recipe": {"index": 1, "title": "Corned flat"},
                },
                {
                    **BARE,
                    "rule": "cure-time-short",
                    "grade": "fault",
                    "certain": False,
                    "line": 6,
                    "column": 6,
                    "end_line": 6,
                    "end_column": 18,
                    "message": "Too few days.",
                    "signed_off": {"by": "jb", "date": "2026-11-02", "reason": "thin", "stale": True},
                },
                {**BARE, "rule": "rest-missing", "grade": "query", "certain": False, "line": 7, "column": 23, "end_line": 7, "end_column": 23, "absent": True, "message": "No rest is written."},
            ],
            "unreadable": None,
        },
        {"file": "scan.txt", "title": None, "findings": [], "unreadable": "a binary file, not text"},
    ],
}


def test_the_whole_shape() -> None:
    assert json.loads(findings_json.render([audited(HAZARD.of_recipe(1, "Corned flat"), FAULT, QUERY), UNREADABLE])) == WHOLE


def test_a_finding_in_a_paged_document_names_the_page() -> None:
    page = Page(PAGE.text, "corned.pdf", (1, 4))
    (tree, _) = (findings_json.finding_tree(finding, page) for finding in (HAZARD, FAULT))
    assert (tree["line"], tree["page"]) == (4, 2)
    assert "page" not in findings_json.finding_tree(HAZARD, PAGE)
