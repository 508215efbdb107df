"""Findings as SARIF 2.1.0, the OASIS standard."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import PurePath
from typing import Any
from urllib.parse import quote

from overhaul import documents
from overhaul.findings import Finding, Grade
from overhaul.output.clean import json_parts
from overhaul.output.findings_json import region
from overhaul.pipeline import Audited
from overhaul.rules import every_rule
from overhaul.text import Page, Place

LEVELS = {Grade.HAZARD: "error", Grade.FAULT: "warning", Grade.QUERY: "note"}
SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"


def _region(page: Page, place: Place) -> dict[str, int]:
    at = region(page, place)
    return {"startLine": at["line"], "startColumn": at["column"], "endLine": at["end_line"], "endColumn": at["end_column"]}


def _uri(file: str) -> str:
    """A relative path as a relative reference, an absolute one as ``file:``."""
    path = PurePath(file)
    quoted = quote(path.as_posix(), errors="surrogateescape")
    return f"file://{quoted}" if path.is_absolute() else quoted


def _result(finding: Finding, audited: Audited, page: Page, index: dict[str, int]) -> dict[str, Any]:
    text = finding.message if finding.sum is None else f"{finding.message} Sum: {finding.sum}"
    properties: dict[str, Any] = {"certain": finding.certain, "absent": finding.absent}
    if finding.recipe is not None:
        properties["recipe"] = {"index": finding.recipe[0], "title": finding.recipe[1]}
    paper = page.page_at(page.line_at(finding.place.start))
    if paper is not None:
        properties["page"] = paper
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": index[finding.rule],
        "level": LEVELS[finding.grade],
        "message": {"text": text},
        "locations": [{"physicalLocation": {"artifactLocation": {"uri": _uri(audited.file)}, "region": _region(page, finding.place)}}],
        "properties": properties,
    }
    # Lines of a Word or PDF page are those of its text: an editor that changed the file by them would spoil it.
    if finding.remedy is not None and finding.remedy.edits and not documents.converted(audited.file):
        result["fixes"] = [
            {
                "description": {"text": finding.remedy.text},
                "artifactChanges": [
                    {
                        "artifactLocation": {"uri": _uri(audited.file)},
                        "replacements": [{"deletedRegion": _region(page, edit.place), "insertedContent": {"text": edit.new}} for edit in finding.remedy.edits],
                    }
                ],
            }
        ]
    if finding.signed_off is not None and not finding.signed_off.stale:
        result["suppressions"] = [{"kind": "inSource", "justification": f"{finding.signed_off.by}, {finding.signed_off.date}: {finding.signed_off.reason}"}]
    return result


def render(files: Sequence[Audited], version: str) -> str:
    """The whole report; only rules that spoke are described."""
    return "".join(parts(files, version))


def parts(audited: Sequence[Audited], version: str) -> Iterator[str]:
    """The report of ``render``, part after part."""
    pages = {rule.name: rule for rule in every_rule()}
    names: set[str] = set()
    failed = []
    for one in audited:
        names.update(finding.rule for finding in one.findings)
        if one.unreadable is not None:
            failed.append({"level": "error", "message": {"text": one.unreadable}, "locations": [{"physicalLocation": {"artifactLocation": {"uri": _uri(one.file)}}}]})
    spoke = sorted(names)
    index = {name: number for number, name in enumerate(spoke)}
    descriptors = []
    for name in spoke:
        rule = pages.get(name)
        descriptor: dict[str, Any] = {"id": name, "name": "".join(part.title() for part in name.split("-"))}
        if rule is not None:
            descriptor |= {"shortDescription": {"text": rule.reports}, "fullDescription": {"text": rule.why}}
        descriptors.append(descriptor)
    run = {
        "tool": {"driver": {"name": "overhaul", "version": version, "rules": descriptors}},
        "columnKind": "unicodeCodePoints",
        "invocations": [
            {
                "executionSuccessful": not failed,
                "toolExecutionNotifications": failed,
            }
        ],
        "results": [],
    }
    results = (_result(finding, one, one.page, index) for one in audited if one.page is not None for finding in one.findings)
    return json_parts({"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}, results, 3)
