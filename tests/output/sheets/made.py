"""Pages made up for the sheets: one small and sound, one written to do harm, and how a sheet of them is made and looked at."""

from __future__ import annotations

from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any

from lxml import html
from pypdf import PdfReader
from ruamel.yaml import YAML

from overhaul.house import House
from overhaul.house_sheet import read_sheet
from overhaul.output import sheets
from overhaul.output.sheets import Asked, Kind
from overhaul.recipe import read_page
from overhaul.recipe.model import Recipe
from overhaul.sums.work import Sums
from overhaul.text import Page
from tests.browsing import PHONE, Seen, look
from tests.conftest import CORPUS

TODAY = date(2026, 12, 1)
SMALL = """\
Corned flat

2 kg brisket flat, 45 mm thick
2 kg water
180 g salt
12 g cure no. 1 (6.25 % nitrite)
1 T pickling spice
2 tbsp Worcestershire sauce
3 bay leaves

Stir all of it cold. Chill the brine to 3 °C. Flat in, a plate on it to keep it under.
Fridge at 3 °C, 9 days. Turn it on day 3 and day 6.
Rinse, soak 2 hours in the fridge. Simmer 3 hours, to 92 °C inside. Rest 15 minutes.
Cool 57 to 21 °C in 2 hours, to 5 °C in 4 more. Keeps 4 days at 4 °C.
"""
WORD = "antidisestablishmentarian" * 12
# 300 ingredients, each of a name of its own, among markup, scripts, links that act and marks that turn the writing round.
HOSTILE = "\n".join([
    "<img src=x onerror=\"window.ran=1\"> corned <b>flat</b> {{ 7*7 }} {% raw %} \u202etxt.exe", "",
    "2 kg <script>window.ran=1</script> brisket flat", "2 kg water", "180 g <svg onload=window.ran=1> salt", "14.4 g cure no. 1 (6.25 % nitrite)",
    "5 g [pepper](javascript:window.ran=1)", "5 g \"><a href=\"javascript:window.ran=1\" autofocus onfocus=window.ran=1>clove</a>", f"5 g {WORD}", "5 g \u200f\u202eallspice\u202c \u0000 &lt;i&gt;",
    *(f"{number} g spice{number:03d}" for number in range(1, 293)), "",
    "Stir it cold. <iframe src='javascript:window.ran=1'></iframe> Chill the brine to 3 °C. Flat in the brine, fridge at 3 °C, 9 days.", "Simmer 3 hours, to 92 °C inside.", "Keeps 4 days at 4 °C.", "",
])  # fmt: skip
PAGES = [path for path in sorted([*CORPUS.rglob("*.txt"), *CORPUS.rglob("*.md")]) if path.name != "README.md" and "hard-writing" not in path.parts]
HARD = sorted((CORPUS / "hard-writing").glob("*.txt"))


def of_file(path: Path) -> list[tuple[Recipe, Sums]]:
    sheet = path.parent / "house.yaml"
    house = read_sheet(sheet.read_text("utf-8")) if sheet.exists() else House()
    return [(recipe, Sums(recipe, house)) for recipe in read_page(Page(path.read_text("utf-8"), path.name), house)]


def sheet_of(text: str, kind: Kind, house: House | None = None, **asked: Any) -> str:
    house = house or House()
    return sheets.render([(recipe, Sums(recipe, house)) for recipe in read_page(Page(text, "flat.txt"), house)], Asked(kind, TODAY, **asked))


def words_of(page: str, path: str = "//main") -> list[str]:
    """The words of each element at ``path``, blanks put together."""
    return [" ".join(one.text_content().split()) for one in html.fromstring(page).xpath(path)]


def rows_of(page: str, head: str) -> list[list[str]]:
    """The rows of the table under the heading ``head``, cell by cell."""
    tables = [table for table in html.fromstring(page).xpath("//table") if " ".join(table.xpath("string(preceding::h2[1])").split()) == head]
    return [[" ".join(cell.text_content().split()) for cell in row.xpath("td|th")] for table in tables for row in table.xpath(".//tbody/tr")]


def sound(path: Path) -> bool:
    """Whether nothing is to be said of this page of the corpus."""
    expected = path.with_name(f"{path.stem}.expect.yaml")
    found: list[Any] = YAML(typ="safe").load(expected)["findings"] if expected.exists() else []
    return expected.exists() and not found


def pages_printed(browser: Any, page: str, folder: Path) -> dict[str, int]:
    """How many pages it takes on A4 and on US letter."""
    file = folder / "printed.html"
    file.write_text(page, "utf-8")
    context = browser.new_context()
    try:
        tab = context.new_page()
        tab.goto(file.resolve().as_uri())
        return {size: len(PdfReader(BytesIO(tab.pdf(format=size))).pages) for size in ("A4", "Letter")}
    finally:
        context.close()


def is_seen_well(browser: Any, page: str, folder: Path, size: tuple[int, int] = PHONE, *, printed: bool = False) -> None:
    """Nothing stands out, nothing complains, nothing is asked for; on a phone no serious barrier either, for markup has no size."""
    file = folder / "sheet.html"
    file.write_text(page, "utf-8")
    assert look(browser, file, size, printed=printed, axe=size == PHONE) == Seen([], [], [], [])


def is_inert(browser: Any, page: str, folder: Path) -> str:
    """The words of the page in a browser that is allowed to run scripts; none ran, and nothing in it acts."""
    file = folder / "hostile.html"
    file.write_text(page, "utf-8")
    context = browser.new_context(viewport={"width": 360, "height": 740}, bypass_csp=True)
    try:
        tab = context.new_page()
        asked: list[str] = []
        tab.on("request", lambda request: asked.append(request.url))
        tab.on("dialog", lambda dialog: asked.append(dialog.message))
        tab.goto(file.resolve().as_uri())
        tab.wait_for_timeout(200)
        assert tab.evaluate("window.ran") is None
        assert asked == [file.resolve().as_uri()]
        assert tab.evaluate("[...document.querySelectorAll('script, iframe, img, svg, a, object, embed, form')].map(e => e.outerHTML)") == []
        assert tab.evaluate("[...document.querySelectorAll('*')].flatMap(e => e.getAttributeNames()).filter(name => name.startsWith('on') || name === 'autofocus')") == []
        return " ".join(str(tab.evaluate("document.querySelector('main').textContent")).split())
    finally:
        context.close()
