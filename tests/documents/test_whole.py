"""One recipe in every form a binder takes, through the whole audit: the same findings wherever it stands."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable

import pytest

from overhaul import pipeline
from overhaul.findings import Finding
from overhaul.house import House
from overhaul.text import Page

TITLE = "Corned flat of the Saltbox"
LIST = ["6 lb brisket flat, 1 3/4 in thick, trimmed of fat", "1 gal water", "10 oz salt", "3 oz cure #1 (6.25 %)"]
STEPS = [
    "Dissolve the salt and the cure in the water. Chill to 38 F.",
    "Put the beef in under a plate. Refrigerate 10 days at 38 F, turning every other day.",
    "Rinse. Simmer 3 hours to 195 F inside.",
    "Rest 20 minutes. Cool on the counter overnight. Keeps 4 days at 38 F.",
]
TEXT = f"{TITLE}\n\nIngredients\n" + "\n".join(LIST) + "\n\nMethod\n" + "\n".join(f"{number}. {step}" for number, step in enumerate(STEPS, 1)) + "\n"


def plain() -> bytes:
    return TEXT.encode()


def word() -> bytes:
    from docx import Document

    document = Document()
    document.add_heading(TITLE, 0)
    document.add_heading("Ingredients", 1)
    for line in LIST:
        document.add_paragraph(line, style="List Bullet")
    document.add_heading("Method", 1)
    for step in STEPS:
        document.add_paragraph(step, style="List Number")
    packed = io.BytesIO()
    document.save(packed)
    return packed.getvalue()


def pdf() -> bytes:
    from reportlab.lib.styles import getSampleStyleSheet
    from reportlab.platypus import PageBreak, Paragraph, SimpleDocTemplate

    styles = getSampleStyleSheet()
    packed = io.BytesIO()
    story = [Paragraph(TITLE, styles["Title"]), Paragraph("Ingredients", styles["Heading2"]), *(Paragraph(line, styles["Normal"]) for line in LIST)]
    story += [PageBreak(), Paragraph("Method", styles["Heading2"]), *(Paragraph(f"{number}. {step}", styles["Normal"]) for number, step in enumerate(STEPS, 1))]
    SimpleDocTemplate(packed).build(story)
    return packed.getvalue()


def web() -> bytes:
    recipe = {"@context": "https://schema.org", "@type": "Recipe", "name": TITLE, "recipeIngredient": LIST, "recipeInstructions": [{"@type": "HowToStep", "text": step} for step in STEPS]}
    shown = "".join(f"<li>{line}</li>" for line in LIST)
    return f'<!DOCTYPE html><html><head><title>Saltbox</title><script type="application/ld+json">{json.dumps(recipe)}</script></head><body><h1>{TITLE}</h1><p>A long story first, with 3 cups of rain.</p><ul>{shown}</ul></body></html>'.encode()


def seen() -> bytes:
    return f"<html><body><nav>Home</nav><article><h1>{TITLE}</h1><h2>Ingredients</h2><ul>{''.join(f'<li>{line}</li>' for line in LIST)}</ul><h2>Method</h2><ol>{''.join(f'<li>{step}</li>' for step in STEPS)}</ol></article></body></html>".encode()


ROWS = [[TITLE], [], ["Ingredients"], *([line] for line in LIST), [], ["Method"], *([f"{number}. {step}"] for number, step in enumerate(STEPS, 1))]


def workbook() -> bytes:
    from openpyxl import Workbook

    book = Workbook()
    for cells in ROWS:
        book.active.append(cells)
    packed = io.BytesIO()
    book.save(packed)
    return packed.getvalue()


def table() -> bytes:
    out = io.StringIO()
    csv.writer(out).writerows(ROWS)
    return out.getvalue().encode()


def rich() -> bytes:
    return ("{\\rtf1\\ansi\\ansicpg1252 " + "\\par\n".join(TEXT.splitlines()) + "\\par}").encode()


FORMS: dict[str, Callable[[], bytes]] = {"c.txt": plain, "c.docx": word, "c.pdf": pdf, "c.html": web, "c.htm": seen, "c.xlsx": workbook, "c.csv": table, "c.rtf": rich}


def told(finding: Finding, page: Page) -> tuple[str, str, bool, str, str]:
    return finding.rule, finding.grade.value, finding.certain, page.words(finding.place), finding.message


WANTED = [
    ("curing-salt-over-limit", "hazard", False, "3 oz"),
    ("cooled-at-room-temperature", "hazard", False, "on the counter"),
]


@pytest.mark.parametrize("name", FORMS)
def test_the_same_recipe_gives_the_same_findings_in_every_form(name: str) -> None:
    audited = pipeline.audit(FORMS[name](), name, House())
    assert audited.unreadable is None
    assert audited.page is not None
    assert audited.title == TITLE
    found = [told(finding, audited.page) for finding in audited.findings]
    base = pipeline.audit(plain(), "c.txt", House())
    assert base.page is not None
    assert found == [told(finding, base.page) for finding in base.findings]
    assert [one[:4] for one in found if one[1] == "hazard"] == WANTED


def test_a_finding_in_a_pdf_says_its_page() -> None:
    audited = pipeline.audit(pdf(), "c.pdf", House())
    assert audited.page is not None
    assert [(finding.rule, audited.page.page_at(audited.page.line_at(finding.place.start))) for finding in audited.findings if finding.grade.value == "hazard"] == [("curing-salt-over-limit", 1), ("cooled-at-room-temperature", 2)]


def test_batch_columns_of_a_workbook_are_columns() -> None:
    from openpyxl import Workbook

    book = Workbook()
    for cells in (["Corned flat"], ["", "1x", "2x"], ["Brisket flat", "6 lb", "12 lb"], ["Water", "1 gal", "2 gal"], ["Salt", "10 oz", "20 oz"], ["Cure #1", "18 g", "35 g"]):
        book.active.append(cells)
    packed = io.BytesIO()
    book.save(packed)
    (recipe,) = pipeline.read(packed.getvalue(), "c.xlsx", House()).recipes
    assert [(item.name, [str(column.amount.low) for column in item.columns]) for item in recipe.ingredients] == [("brisket flat", ["6", "12"]), ("water", ["1", "2"]), ("salt", ["10", "20"]), ("cure #1", ["18", "35"])]


@pytest.mark.parametrize("name", [name for name in FORMS if name not in ("c.txt", "c.csv", "c.html", "c.htm")])
def test_half_a_file_is_answered_and_the_binder_goes_on(name: str) -> None:
    data = FORMS[name]()
    for cut in (0, 1, len(data) // 3, len(data) // 2, len(data) - 5):
        audited = pipeline.audit(data[:cut], name, House())
        assert audited.unreadable is None or "the program failed" not in audited.unreadable
    assert pipeline.audit(data[: len(data) // 2], name, House()).unreadable is not None
