"""The hand-over of each recipe: the verdict first, what is to be put right, what a new cook would ask, what the audit asks."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from overhaul.findings import Finding
from overhaul.handing_over import HandOver, Item
from overhaul.output.clean import clean, wrapped
from overhaul.output.plain import CAUTION, grade_words
from overhaul.text import Page

Given = tuple[str, Page, list[HandOver]]


def render(given: Iterable[Given], width: int = 100) -> str:
    """Each recipe of each file in turn; ``given`` are the name, the page and the recipes of each."""
    lines: list[str] = []
    for file, page, recipes in given:
        for one in recipes:
            lines += [*_recipe(file, page, one, width), ""]
    return "\n".join([*lines, wrapped(CAUTION, width)]) + "\n"


def _recipe(file: str, page: Page, one: HandOver, width: int) -> list[str]:
    lines = [f"{clean(one.title)} ({clean(file)})", wrapped(f"{one.verdict[0].upper()}{one.verdict[1:]}.", width, ""), ""]
    if one.wrong:
        lines += ["Put right first", *(_finding(page, found, width) for found in one.wrong), ""]
    lines += ["What a new cook would ask", *(_item(item, width) for item in one.items)]
    if one.asked:
        lines += ["", "Asked by the audit", *(_finding(page, found, width) for found in one.asked)]
    return lines


def _finding(page: Page, found: Finding, width: int) -> str:
    grade = f"{grade_words(found)}, " if found.grade.value != "query" else ""
    where = f"line {page.line_at(found.place.start)}" if found.place.start <= len(page.text) else "a field"
    return wrapped(f"{where}: {clean(found.message)} ({grade}{found.rule})", width, "  ")


def _item(item: Item, width: int) -> str:
    if item.question is not None:
        return wrapped(f"? {item.words}: {clean(item.question)}", width, "  ")
    if item.asked:
        return wrapped(f"? {item.words}: asked below", width, "  ")
    where = f" (line {item.line})" if item.line is not None else ""
    return wrapped(f"✓ {item.words}: {clean(item.told or '')}{where}", width, "  ")


def tree(recipes: Iterable[HandOver]) -> list[dict[str, Any]]:
    """``[{title, ready, verdict, items: [{name, told, line, question}]}]``; the findings stand beside it."""
    return [
        {
            "title": one.title, "ready": one.ready, "verdict": one.verdict,
            "items": [{"name": item.name, "told": item.told, "line": item.line, "question": item.question} for item in one.items],
        }
        for one in recipes
    ]  # fmt: skip
