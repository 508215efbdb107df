"""Findings as JSON, in the shape ``overhaul-findings/1``."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from overhaul.findings import Finding, placed
from overhaul.output.clean import json_parts
from overhaul.pipeline import Audited
from overhaul.text import Page, Place

FORMAT = "overhaul-findings/1"


def region(page: Page, place: Place) -> dict[str, int]:
    """Line and column of both ends, from 1, end exclusive."""
    line, column = page.position(place.start)
    end_line, end_column = page.position(place.end)
    return {"line": line, "column": column, "end_line": end_line, "end_column": end_column}


def finding_tree(finding: Finding, page: Page) -> dict[str, Any]:
    """One finding as plain data."""
    line, column, end_line, end_column = placed(finding, page)
    remedy = None
    if finding.remedy is not None:
        remedy = {"text": finding.remedy.text, "edits": [{**region(page, edit.place), "new": edit.new} for edit in finding.remedy.edits]}
    signed = None
    if finding.signed_off is not None:
        signed = {"by": finding.signed_off.by, "date": finding.signed_off.date, "reason": finding.signed_off.reason, "stale": finding.signed_off.stale}
    tree: dict[str, Any] = {
        "rule": finding.rule,
        "grade": finding.grade.value,
        "certain": finding.certain,
        "line": line,
        "column": column,
        "end_line": end_line,
        "end_column": end_column,
        "absent": finding.absent,
        "message": finding.message,
        "sum": finding.sum,
        "remedy": remedy,
        "sources": [{"key": cite.key, "where": cite.where} for cite in finding.sources],
        "signed_off": signed,
    }
    paper = page.page_at(line)
    if paper is not None:
        tree["page"] = paper
    if finding.recipe is not None:
        tree["recipe"] = {"index": finding.recipe[0], "title": finding.recipe[1]}
    return tree


def file_tree(audited: Audited) -> dict[str, Any]:
    """One file as plain data."""
    found = [finding_tree(finding, audited.page) for finding in audited.findings] if audited.page is not None else []
    return {"file": audited.file, "title": audited.title, "findings": found, "unreadable": audited.unreadable}


def render(files: Iterable[Audited], handoffs: Mapping[str, Any] | None = None) -> str:
    """The whole report; with ``handoffs``, by file, each file has its own beside its findings."""
    return "".join(parts(files, handoffs))


def parts(files: Iterable[Audited], handoffs: Mapping[str, Any] | None = None) -> Iterator[str]:
    """The report of ``render``, part after part."""
    trees = (file_tree(one) for one in files)
    if handoffs is not None:
        trees = ({**tree, "handoff": handoffs.get(tree["file"], [])} for tree in trees)
    return json_parts({"format": FORMAT, "files": []}, trees, 1)
