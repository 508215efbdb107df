"""The report of a binder, looked at in a real browser and letter by letter."""

from __future__ import annotations

import hashlib
import re
from base64 import b64encode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from html import unescape
from itertools import pairwise
from pathlib import Path
from typing import Any

import lxml.html
import pytest
from click.testing import Result
from playwright.sync_api import expect

from overhaul import binder, pipeline, showing
from overhaul.house import House
from overhaul.output import report
from overhaul.output.clean import clean
from tests.browsing import DESK, PHONE, TABLET, look
from tests.conftest import CORPUS
from tests.made_binder import pages, write

Run = Callable[..., Result]
DAY = date(2026, 12, 24)

HOSTILE = (
    "<script>window.acted = 1</script> Corned <b onclick=alert(1)>flat</b>\n\n"
    "2 flats, 9 lb in all, 1 3/4 in thick\n1 gal water <img src=x onerror=\"window.acted=2\">\n12 oz salt </li></ol><svg onload=window.acted=3>\n"
    "1 oz cure no. 1 [click](javascript:window.acted=4) <a href='javascript:window.acted=5'>here</a>\n"
    f"2 tbsp {'x' * 300}\n1 tsp \u202etlas kosher\u202c and \u05de\u05dc\u05d7 3 \u0645\u0644\u062d\n1 tsp sage \x1b[31m {{{{ 7 * 7 }}}} {{% raw %}} &lt;script&gt;\n"
    + "".join(f"{number} g spice number {number} of the ledger\n" for number in range(1, 301))
    + "\nBrine the flats 3 days in the garage at 60 F </style><style>body{display:none}</style>.\nSimmer 3 hours. <!-- \n"
)


def made(*paths: Path, house: House | None = None) -> str:
    """The report of ``paths``, as the command makes it."""
    houses = house or House()
    audited = showing.every((binder.audit_file((path, houses)), houses) for path in binder.gather(paths).files)
    return "".join(report.render(audited, DAY))


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The report of the corpus."""
    file = tmp_path_factory.mktemp("report") / "report.html"
    file.write_text(made(CORPUS), "utf-8")
    return file


@pytest.fixture
def hostile(tmp_path: Path) -> Path:
    page = tmp_path / "page.txt"
    page.write_text(HOSTILE, "utf-8")
    file = tmp_path / "report.html"
    file.write_text(made(page), "utf-8")
    return file


def laid_out(file: Path) -> Path:
    """A copy in which nothing waits to be scrolled to, or folded away: all of it has its width. One that spells the rule wrong fails."""
    text = file.read_text("utf-8")
    assert "content-visibility: auto" in text
    copy = file.with_name("laid-out.html")
    copy.write_text(text.replace("content-visibility: auto", "content-visibility: visible").replace("<details", "<details open"), "utf-8")
    return copy


@contextmanager
def opened(browser: Any, file: Path, **context: Any) -> Iterator[Any]:
    """A tab with ``file``, under the page's own rules."""
    made_context = browser.new_context(viewport={"width": 1280, "height": 900}, **context)
    try:
        tab = made_context.new_page()
        tab.goto(file.resolve().as_uri())
        yield tab
    finally:
        made_context.close()


def tree(text: str) -> Any:
    return lxml.html.document_fromstring(text)


# In the browser.


@pytest.mark.parametrize(
    ("size", "more"),
    [(PHONE, {}), (TABLET, {"axe": False}), (DESK, {"axe": False}), (DESK, {"dark": True}), (DESK, {"printed": True, "axe": False})],
    ids=["phone", "tablet", "desk", "dark", "printed"],
)
def test_the_report_of_the_corpus_in_the_browser(browser: Any, whole: Path, size: tuple[int, int], more: dict[str, Any]) -> None:
    seen = look(browser, laid_out(whole), size, **more)
    assert (seen.complaints, seen.asked, seen.wider, seen.barriers) == ([], [], [], [])


def test_the_grade_filter_by_click_and_by_key(browser: Any, whole: Path) -> None:
    with opened(browser, whole) as tab:
        every = tab.locator(".binder > li").count()
        tab.locator("label", has_text="Hazards").click()
        left = tab.locator(".binder > li:visible")
        assert 0 < left.count() < every
        assert all("hazard" in words for words in left.locator(".counts").all_inner_texts())
        assert tab.locator("article:visible").count() == left.count()
        assert tab.inner_text("#shown") == f"{left.count()} of {every} recipes shown"
        tab.keyboard.press("ArrowRight")
        assert tab.evaluate("document.querySelector('input[name=grade]:checked').value") == "fault"
        assert all("fault" in words for words in tab.locator(".binder > li:visible .counts").all_inner_texts())
        tab.locator("label", has_text="All").click()
        assert (tab.locator("article:visible").count(), tab.inner_text("#shown")) == (every, "")


def test_a_link_to_a_recipe_that_is_filtered_out_shows_it(browser: Any, whole: Path) -> None:
    with opened(browser, whole) as tab:
        key = tab.locator(".binder > li").last.get_attribute("data-to")
        tab.locator("label", has_text="Hazards").click()
        assert not tab.locator(f"#{key}").is_visible()
        tab.evaluate("key => { location.hash = key }", key)
        expect(tab.locator(f"#{key}")).to_be_visible()
        assert tab.locator("article:visible").count() == tab.locator("article").count()


def test_the_search_looks_into_the_recipes(browser: Any, whole: Path) -> None:
    with opened(browser, whole) as tab:
        tab.get_by_label("Find").press_sequentially("GALVANIZED porch")
        expect(tab.locator("#shown")).to_have_text(re.compile("^1 of "))
        assert tab.locator(".binder > li:visible a").first.inner_text() == "Corned venison, camp way"
        tab.get_by_label("Find").fill("no such words anywhere")
        expect(tab.locator("#shown")).to_have_text(re.compile("^0 of "))
        tab.keyboard.press("Enter")
        assert tab.url == whole.resolve().as_uri()


def test_the_keyboard_goes_from_the_skip_link_to_a_recipe(browser: Any, whole: Path) -> None:
    with opened(browser, whole) as tab:
        tab.keyboard.press("Tab")
        assert tab.evaluate("document.activeElement.className") == "skip"
        tab.keyboard.press("Enter")
        assert tab.evaluate("document.activeElement.id") == "list"
        tab.locator(".binder > li a").first.focus()
        tab.keyboard.press("Enter")
        key = tab.locator(".binder > li").first.get_attribute("data-to")
        assert tab.url.endswith(f"#{key}")
        assert tab.locator(f"#{key}").bounding_box()["y"] < 900


def test_without_a_script_everything_is_there_and_the_controls_are_not(browser: Any, whole: Path) -> None:
    with opened(browser, whole, java_script_enabled=False) as tab:
        assert tab.locator(".find:visible").count() == 0
        assert tab.locator("article").count() == tab.locator(".binder > li:visible").count() > 30
        assert "Without a script" in tab.inner_text("noscript >> nth=0")
        tab.locator("summary").first.click()
        assert tab.locator("details[open]").count() == 1


def test_a_hostile_recipe_is_inert_and_whole(browser: Any, hostile: Path) -> None:
    for size in (PHONE, DESK):
        seen = look(browser, laid_out(hostile), size, axe=False)
        assert (seen.complaints, seen.asked, seen.wider) == ([], [], [])
    with opened(browser, hostile) as tab:
        assert tab.evaluate("window.acted") is None
        shown = tab.locator(".w").all_text_contents()
        assert [line for line in HOSTILE.splitlines() if line.strip() and clean(line) not in shown] == []
        assert tab.locator("script").count() == 1
        assert tab.locator("img, iframe, object, [onclick], [onload], [onerror]").count() == 0
        assert tab.evaluate("[...document.querySelectorAll('a')].every(a => a.getAttribute('href').startsWith('#'))")
        assert tab.evaluate("getComputedStyle(document.body).display") == "block"
        tab.locator("summary").first.click()
        tab.get_by_label("Find").fill("<img src=x onerror=window.acted=6>")
        expect(tab.locator("#shown")).to_have_text("0 of 1 recipes shown")
        assert tab.evaluate("window.acted") is None


def test_the_page_forbids_all_but_its_own_script(browser: Any, whole: Path) -> None:
    text = whole.read_text("utf-8")
    script = re.search(r"<script>(.*?)</script>", text, re.S)
    assert script is not None
    digest = b64encode(hashlib.sha256(script[1].encode()).digest()).decode()
    assert f"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'" in unescape(text)
    with opened(browser, whole) as tab:
        tab.evaluate("() => { const s = document.createElement('script'); s.textContent = 'window.acted = 1'; document.body.append(s); }")
        assert tab.evaluate("window.acted") is None


def test_every_fold_is_open_on_paper(browser: Any, whole: Path) -> None:
    with opened(browser, whole) as tab:
        dd = tab.locator("details.worked dd").first
        assert not dd.is_visible()
        tab.emulate_media(media="print")
        assert dd.is_visible()


# What stands on it.


def test_headings_go_down_by_one_and_ids_are_their_own(whole: Path) -> None:
    page = tree(whole.read_text("utf-8"))
    levels = [int(heading.tag[1]) for heading in page.iter("h1", "h2", "h3", "h4")]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    ids = page.xpath("//@id")
    assert len(ids) == len(set(ids))
    assert {link[1:] for link in page.xpath("//a/@href")} <= set(ids)


def test_the_first_line_tells_what_a_house_sheet_would_settle(whole: Path) -> None:
    page = tree(whole.read_text("utf-8"))
    assert re.fullmatch(r"\d+ answers in a house sheet settle \d+ queries in \d+ recipes: .*\.", page.xpath("//header/p[@class='asked']")[0].text_content())


def test_worst_first_then_by_title(tmp_path: Path) -> None:
    meat, way = "4 lb brisket flat, 1 1/2 in thick\n1 gal water\n12 oz salt\n", "Brine 10 days at 38 F, turning daily, weighed down. Rinse. Soak 1 hour in the fridge. Simmer 3 hours to 200 F. Cool from 135 to 70 F in 2 hours and to 41 F in 4 more. Keeps 4 days at 38 F.\n"
    (tmp_path / "a.txt").write_text(f"Zulu plain\n\n{meat}18 g cure no. 1\n\n{way}")
    (tmp_path / "b.txt").write_text(f"Mike hazard\n\n{meat}4 lb cure no. 1\n\n{way}")
    (tmp_path / "c.txt").write_text(f"alpha plain\n\n{meat}18 g cure no. 1\n\n{way}")
    (tmp_path / "d.txt").write_text(f"Kilo fault\n\n{meat}18 g cure no. 1\n\n{way.replace('4 days', '30 days')}")
    page = tree(made(tmp_path))
    assert page.xpath("//ol[@class='binder']/li/a/text()") == ["Mike hazard", "Kilo fault", "alpha plain", "Zulu plain"] == page.xpath("//article//h3/text()")
    assert [" ".join(line.text_content().split()) for line in page.xpath("//ol[@class='binder']/li/span[@class='counts']")] == ["▲ 1 certain hazard ◆ 1 fault", "◆ 1 fault", "○ nothing found", "○ nothing found"]


def test_every_line_of_the_corpus_stands_there_with_its_number(whole: Path) -> None:
    page = tree(whole.read_text("utf-8"))
    shown: dict[str, set[tuple[str, str]]] = {}
    for article in page.iter("article"):
        file = article.xpath("./header/p[@class='what']/text()")[0].split(" · ")[0]
        shown.setdefault(file, set()).update((one.get("value"), one.xpath("./div[@class='w']")[0].text_content()) for one in article.xpath(".//ol[@class='lines']/li"))
    for file in binder.gather([CORPUS]).files:
        audited = binder.audit_file((file, House()))
        assert audited.page is not None
        wanted = {(str(line.number), clean(audited.page.words(line.place))) for line in audited.page.lines if audited.page.words(line.place).strip()}
        assert wanted - shown[str(file)] == set(), file


def test_every_finding_stands_on_its_line_with_its_words_marked(whole: Path) -> None:
    page = tree(whole.read_text("utf-8"))
    for file in binder.gather([CORPUS]).files:
        audited = binder.audit_file((file, House()))
        assert audited.page is not None
        rows = [row for article in page.iter("article") if article.xpath("./header/p[@class='what']/text()")[0].startswith(f"{file} ·") for row in article.xpath(".//ol[@class='lines']/li")]
        for finding in audited.findings:
            line = str(audited.page.line_at(finding.place.start))
            row = next(row for row in rows if row.get("value") == line)
            message = next(one for one in row.xpath(".//div[contains(@class,'one ')]") if clean(finding.message) in [p.text_content() for p in one.iter("p")])
            number = message.xpath("./p[@class='g']/b")[0].text_content().partition(".")[0]
            place = row.xpath(f".//*[contains(concat(' ',@data-n,' '),' {number} ')]")
            assert len(place) == 1
            assert place[0].get("class") == f"gap {finding.grade.value}" if finding.absent else place[0].tag == "mark"
            if finding.sum is not None:
                assert f"Sum: {clean(finding.sum)}" in message.text_content()


def test_signed_findings_are_shown_as_signed_and_a_certain_hazard_stays_counted(tmp_path: Path) -> None:
    text = "Flat\n\n4 lb brisket flat, 1 1/2 in thick\n1 gal water\n12 oz salt\n18 g cure no. 1\n\nBrine 10 days at 38 F, turning daily, weighed down. Rinse. Soak 1 hour in the fridge. Simmer 3 hours to 200 F. Cool from 135 to 70 F in 2 hours and to 41 F in 4 more. Keeps 3 weeks at 38 F.\n\nSigned off: keeps-too-long on \"3 weeks\", M.K., 2026-11-02: sold within the week\n"
    (tmp_path / "signed.txt").write_text(text)
    page = tree(made(tmp_path))
    assert page.xpath("//ol[@class='binder']/li/span[@class='counts']")[0].text_content().split() == ["✓", "1", "signed", "off"]
    assert page.xpath("//p[@class='sign']")[0].text_content() == "Signed off by M.K., 2026-11-02: sold within the week."
    assert "is-signed" in page.xpath("//div[starts-with(@class,'one fault')]")[0].get("class")


def test_unreadable_files_are_listed_with_the_reason(tmp_path: Path) -> None:
    (tmp_path / "scan.txt").write_bytes(b"\x00\x01\x02\xff" * 300)
    (tmp_path / "sound.txt").write_text("Brine\n\n1 lb salt\n1 gal water\n")
    page = tree(made(tmp_path))
    (line,) = page.xpath("//ul[@class='unread']/li")
    assert line.text_content() == f"{tmp_path / 'scan.txt'}: a binary file, not text"
    assert "1 not read" in page.xpath("//header")[0].text_content()


def test_a_recipe_file_and_its_page_show_the_same_reading(tmp_path: Path, overhaul: Run) -> None:
    source = CORPUS / "bacon-with-the-wrong-cure.txt"
    assert overhaul("convert", source, "--out", tmp_path / "bacon.yaml").exit_code == 0
    file = tmp_path / "bacon.yaml"
    text = file.read_text()
    page, of_page = tree(made(file)), tree(made(source))
    numbers = {row.get("value"): row for row in page.xpath("//ol[@class='lines']/li")}
    assert [number for number, line in enumerate(text.splitlines(), 1) if str(number) not in numbers and line.strip()] == []
    first, second = (sorted(p.text_content() for p in one.xpath("//div[starts-with(@class,'one ')]/p[2]")) for one in (page, of_page))
    assert len(first) == 3 and first == second
    reading = [line for said in page.xpath("//div[@class='u']") for line in said.text_content().splitlines()]
    assert "cure #2 [cure2]; 1 ounce; = 28.3 g" in reading
    assert [one.text_content() for one in page.xpath("//details[@class='more']/summary")] != []


def test_a_paged_document_tells_the_page(tmp_path: Path) -> None:
    reportlab = pytest.importorskip("reportlab.pdfgen.canvas")
    drawing = reportlab.Canvas(str(tmp_path / "two.pdf"))
    for number, line in enumerate(("Bacon, dry rub", "10 lb pork belly, skinless", "4 oz kosher salt")):
        drawing.drawString(72, 750 - 16 * number, line)
    drawing.showPage()
    for number, line in enumerate(("1 oz cure #2", "Rub it all on. Cooler at 38 F, 11 days, flip daily.", "Smoke at 200 F until 150 F inside.")):
        drawing.drawString(72, 750 - 16 * number, line)
    drawing.save()
    page = tree(made(tmp_path))
    assert "nitrate-in-bacon, page 2" in [one.text_content() for one in page.xpath("//span[@class='rule']")]


def test_several_recipes_of_one_file_are_several_lines_each_with_its_own_findings(tmp_path: Path) -> None:
    one = CORPUS.joinpath("bacon-with-the-wrong-cure.txt").read_text()
    (tmp_path / "two.txt").write_text(f"{one}\n---\n\nCorned beef\n\n6 lb brisket flat, 1 3/4 in thick\n1 gal water\n10 oz salt\n18 g cure #1 (6.25 %)\n\n1. Dissolve in the water. Chill to 38 F.\n2. Put the beef in under a plate. Refrigerate 10 days at 38 F, turning daily.\n3. Rinse and simmer 3 hours.\n")
    page = tree(made(tmp_path))
    assert len(page.xpath("//ol[@class='binder']/li")) == 2
    first, second = page.iter("article")
    assert first.xpath(".//span[@class='rule']/text()") == ["curing-salt-over-limit", "nitrate-in-bacon", "keeps-too-long"]
    assert "nitrate-in-bacon" not in second.text_content()
    assert set(first.xpath(".//li/@value")) & set(second.xpath(".//li/@value")) == set()


def test_twins_are_listed_and_shown_side_by_side(tmp_path: Path) -> None:
    one = CORPUS.joinpath("salt-beef-metric.txt").read_text()
    (tmp_path / "a.txt").write_text(one)
    (tmp_path / "b.txt").write_text(one.replace("14 g", "28 g"))
    page = tree(made(tmp_path))
    (pair,) = page.xpath("//details[@class='pair']")
    assert " ".join(pair.xpath("./summary")[0].text_content().split()).endswith("these two look like one recipe, and differ in: cure no. 1: 14 g / 28 g.")
    assert [cell.text_content() for cell in pair.xpath(".//tbody/tr")[0]] == ["cure no. 1", "7 g per kg of water (14 grams)", "14 g per kg of water (28 grams)"]
    assert len(page.xpath("//ol[@class='binder']//a[@href='#twins']")) == 2


def test_a_recipe_takes_little_room() -> None:
    """30 MB for 1,000 recipes: 30 kB each, of pages that fill a screen."""
    text = made(CORPUS)
    count = len(tree(text).xpath("//article"))
    assert len(text.encode()) / count < 30_000


def test_the_command_writes_the_page_to_a_file_and_to_a_pipe(tmp_path: Path, overhaul: Run) -> None:
    write(tmp_path / "binder", 3)
    done = overhaul("audit", tmp_path / "binder", "--as", "html", "--stop-at", "never")
    assert done.exit_code == 0 and done.output.startswith("<!doctype html>") and done.output.rstrip().endswith("</html>")
    assert overhaul("audit", tmp_path / "binder", "--as", "html", "--stop-at", "never", "--out", tmp_path / "out.html", "--workers", "2").exit_code == 0
    assert (tmp_path / "out.html").read_text("utf-8") == done.output
    assert overhaul("audit", tmp_path / "binder", "--as", "html").exit_code == overhaul("audit", tmp_path / "binder").exit_code


def test_handoff_is_not_told_as_a_page(tmp_path: Path, overhaul: Run) -> None:
    write(tmp_path / "binder", 1)
    done = overhaul("audit", tmp_path / "binder", "--as", "html", "--handoff")
    assert (done.exit_code, done.stderr) == (2, "overhaul: --handoff is told in words or as json\n")


def test_the_made_binder_is_the_same_every_time_and_no_two_pages_are() -> None:
    made_pages = pages(120)
    assert made_pages == pages(120)
    assert len({name for name, _ in made_pages}) == 120


def test_a_file_that_cannot_be_shown_is_told_and_the_rest_goes_on(tmp_path: Path, overhaul: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path / "binder", 2)
    entry = report.entry

    def fail(file: str, *rest: Any) -> report.Entry:
        if "00000" in file:
            raise KeyError("gone")
        return entry(file, *rest)

    monkeypatch.setattr(report, "entry", fail)
    done = overhaul("audit", tmp_path / "binder", "--as", "html", "--stop-at", "never", "--workers", "1")
    first = next((tmp_path / "binder").glob("00000*"))
    assert (done.exit_code, done.stderr) == (2, f"overhaul: {first}: the program failed at the stage “recipe file” (KeyError: 'gone'); please report it\n")
    page = tree(done.stdout)
    assert (len(page.xpath("//article")), len(page.xpath("//ul[@class='unread']/li"))) == (1, 1)


def _ends(given: tuple[pipeline.Audited, House | None]) -> pipeline.Audited:
    import os

    if given[0].file.endswith("1.txt"):
        os._exit(1)
    return given[0]


def test_a_worker_that_is_ended_leaves_no_file_without_a_word(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(showing, "_one", _ends)
    given = [(pipeline.Audited(f"{number}.txt"), House()) for number in range(40)]
    shown = list(showing.every(given, 2))
    assert [one.file for one in shown] == [one.file for one, _ in given]
    assert shown[1].unreadable == shown[39].unreadable == showing.ENDED
