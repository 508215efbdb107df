from __future__ import annotations

import importlib.util
import io
import random
import zlib
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from pypdf import PdfReader, PdfWriter
from reportlab.lib.pagesizes import letter
from reportlab.lib.styles import ParagraphStyle, getSampleStyleSheet
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Frame,
    FrameBreak,
    ListFlowable,
    PageBreak,
    PageTemplate,
    Paragraph,
    SimpleDocTemplate,
    Table,
)

from overhaul.documents import pdf
from overhaul.documents.outcome import Text, Unreadable

STYLES = getSampleStyleSheet()
DAMAGED = "; open it where it was made and save it again"


def drawn(*pages: Callable[[Any], object]) -> bytes:
    """A document of pages, each drawn by a function of the canvas."""
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=letter, invariant=True)
    for page in pages:
        canvas.setFont("Helvetica", 10)
        page(canvas)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def words(*lines: str, top: int = 700) -> Callable[[Any], object]:
    def draw(canvas: Any) -> None:
        for at, line in enumerate(lines):
            canvas.drawString(72, top - 12 * at, line)

    return draw


def built(*story: Any, **more: Any) -> bytes:
    stream = io.BytesIO()
    SimpleDocTemplate(stream, pagesize=letter, invariant=True).build([Paragraph(*part) if isinstance(part, tuple) else part for part in story], **more)
    return stream.getvalue()


def title(text: str) -> tuple[str, Any]:
    return text, STYLES["Title"]


def plain(text: str) -> tuple[str, Any]:
    return text, STYLES["Normal"]


def of(data: bytes) -> str:
    found = pdf.read(data)
    assert isinstance(found, Text), found
    return found.text


TABLE = built(
    title("Corned Brisket Flats"),
    Table([["", "1x", "2x"], ["Brisket flat, trimmed", "6 lb", "12 lb"], ["Kosher salt", "8 oz", "16 oz"], ["Bay leaves", "", "8"]]),
    plain("Stir the salt into the cold water until it is clear, and chill the brine to 37 F in the walk-in before the meat goes in."),
)


def test_a_table_keeps_its_rows_and_empty_cells() -> None:
    assert of(TABLE) == (
        "Corned Brisket Flats\n\n\t1x\t2x\nBrisket flat, trimmed\t6 lb\t12 lb\nKosher salt\t8 oz\t16 oz\nBay leaves\t\t8\n\n"
        "Stir the salt into the cold water until it is clear, and chill the brine to 37 F in the walk-in before the meat\ngoes in.\n"
    )


def test_columns_are_read_one_after_the_other() -> None:
    stream = io.BytesIO()
    document = BaseDocTemplate(stream, pagesize=letter)
    document.addPageTemplates([PageTemplate("two", [Frame(72, 72, 220, 600), Frame(320, 72, 220, 600)])])
    left = [Paragraph("Corned Beef", STYLES["Heading1"]), *(Paragraph(*plain(line)) for line in ("5 lb brisket", "1 gal water", "10 oz kosher salt"))]
    right = [Paragraph("Method", STYLES["Heading2"]), *(Paragraph(*plain(line)) for line in ("1. Dissolve the salt in the water and chill the brine in the walk-in.", "2. Simmer 3 hours."))]
    document.build([*left, FrameBreak(), *right])
    assert of(stream.getvalue()) == (
        "Corned Beef\n\n5 lb brisket\n1 gal water\n10 oz kosher salt\n\nMethod\n\n1. Dissolve the salt in the water and chill the\nbrine in the walk-in.\n2. Simmer 3 hours.\n"
    )


def test_columns_drawn_line_by_line_across_are_taken_apart() -> None:
    rows = [("5 lb brisket", "1. Dissolve the salt in the water and chill"), ("1 gal water", "the brine to 38 F."), ("10 oz kosher salt", "2. Cure it 7 days."), ("4 oz sugar", "3. Simmer 3 hours.")]

    def draw(canvas: Any) -> None:
        for at, (left, right) in enumerate(rows):
            canvas.drawString(72, 700 - 14 * at, left)
            canvas.drawString(250, 700 - 14 * at, right)

    assert of(drawn(draw)) == (
        "5 lb brisket\n1 gal water\n10 oz kosher salt\n4 oz sugar\n\n1. Dissolve the salt in the water and chill\nthe brine to 38 F.\n2. Cure it 7 days.\n3. Simmer 3 hours.\n"
    )


@pytest.mark.parametrize("amounts_first", [True, False])
def test_a_column_of_amounts_drawn_by_itself_is_put_beside_its_names(amounts_first: bool) -> None:
    columns: list[tuple[int, tuple[str, ...]]] = [(72, ("8 oz", "16 g", "1½ gal")), (130, ("kosher salt", "cure #1", "water"))]
    if not amounts_first:
        columns = [(72, columns[1][1]), (200, columns[0][1])]

    def draw(canvas: Any) -> None:
        for x, texts in columns:
            for at, text in enumerate(texts):
                canvas.drawString(x, 700 - 14 * at, text)

    rows = zip(columns[0][1], columns[1][1], strict=True)
    assert of(drawn(draw)) == "".join(f"{left}\t{right}\n" for left, right in rows)


def test_cells_drawn_in_one_stretch_keep_their_gaps() -> None:
    def draw(canvas: Any) -> None:
        text = canvas.beginText(72, 700)
        text.setFont("Helvetica", 10)
        for at, cells in enumerate((("Kosher salt", "8 oz", "16 oz"), ("Water", "1 gal", "2 gal"))):
            for x, cell in zip((72, 200, 260), cells, strict=True):
                text.setTextOrigin(x, 700 - 14 * at)
                text.textOut(cell)
        canvas.drawText(text)

    assert of(drawn(draw)) == "Kosher salt\t8 oz\t16 oz\nWater\t1 gal\t2 gal\n"


def test_lists_and_cells_of_several_lines() -> None:
    long = "Kosher salt, the coarse one from the big blue box"
    listed = ListFlowable([Paragraph(*plain("5 lb brisket")), Paragraph(*plain("10 oz <b>kosher</b> salt"))], bulletType="bullet")
    assert of(built(title("Beef"), listed)) == "Beef\n\n- 5 lb brisket\n- 10 oz kosher salt\n"
    assert of(built(Table([[Paragraph(*plain(long)), "10 oz"], ["Cure #1", "2 oz"]], colWidths=[100, 60]))) == f"{long}\t10 oz\nCure #1\t2 oz\n"
    top = [("VALIGN", (0, 0), (-1, -1), "TOP")]
    assert of(built(Table([[Paragraph(*plain("Kosher salt, the coarse one")), Paragraph(*plain("10 oz"))], ["Cure #1", "2 oz"]], colWidths=[100, 60], style=top))) == "Kosher salt, the coarse one\t10 oz\nCure #1\t2 oz\n"


def test_running_words_in_narrow_columns_have_no_gaps() -> None:
    style = ParagraphStyle("even", parent=STYLES["Normal"], alignment=4)
    text = "Stir the uncomplicated refrigeration salt into the cold water until thoroughly dissolved, then extraordinarily carefully chill it."
    table = Table([[Paragraph(text, style)]], colWidths=[130])
    assert of(built(table)).split() == text.split()
    assert "\t" not in of(built(table))


def test_raised_figures_are_not_joined_to_the_figure_before() -> None:
    assert of(built(plain("Use 1<super>1</super>/<sub>2</sub> cups, H<sub>2</sub>O, 10<super>1</super> oz."))) == "Use 1 1/2 cups, H2O, 10 1 oz.\n"


def test_heads_feet_and_page_numbers_are_left_out() -> None:
    def around(canvas: Any, document: Any) -> None:
        canvas.setFont("Helvetica", 8)
        canvas.drawString(72, 770, "The kitchen binder")
        canvas.drawString(72, 760, "all cards of 2024")
        canvas.drawString(72, 30, f"card 12, page {document.page}")
        canvas.drawString(500, 20, str(document.page))

    story: list[Any] = []
    for name in ("Ham", "Beef", "Tongue"):
        story += [title(name), plain("Keep it under the brine."), PageBreak()]
    found = pdf.read(built(*story, onFirstPage=around, onLaterPages=around))
    assert found == Text("Ham\n\nKeep it under the brine.\n\nBeef\n\nKeep it under the brine.\n\nTongue\n\nKeep it under the brine.\n", (1, 5, 9))


@pytest.mark.parametrize(
    ("first", "second", "read"),
    [
        (("Beef", "Serves 8"), ("Ham", "Serves 10"), "Beef\nServes 8\n\nHam\nServes 10\n"),
        (("Beef", "160 F"), ("Ham", "145 F"), "Beef\n160 F\n\nHam\n145 F\n"),
        (("Salt the beef and", "Page 1"), ("wait.", "Page 2"), "Salt the beef and\nwait.\n"),
        (("Salt the beef.", "1/2"), ("Wait.", "2/2"), "Salt the beef.\n\nWait.\n"),
        (("Salt the beef.", "- 1 -"), ("Wait.", "- 2 -"), "Salt the beef.\n\nWait.\n"),
    ],
)
def test_only_what_counts_the_pages_is_left_out(first: tuple[str, str], second: tuple[str, str], read: str) -> None:
    def page(lines: tuple[str, str]) -> Callable[[Any], object]:
        def draw(canvas: Any) -> None:
            canvas.drawString(72, 700, lines[0])
            canvas.drawString(300, 30, lines[1])

        return draw

    assert of(drawn(page(first), page(second))).replace("\n\n", "\n") == read.replace("\n\n", "\n")


@pytest.mark.parametrize(
    ("lines", "read"),
    [
        (("Keep in the refrig-", "erator for 7 days."), "Keep in the refrigerator\nfor 7 days.\n"),
        (("Chill in the walk-", "in at 38 F."), "Chill in the walk-in\nat 38 F.\n"),
        (("A pre-salted ham. Use pre-", "salted meat."), "A pre-salted ham. Use pre-salted\nmeat.\n"),
        (("Salt: 10-", "12 oz"), "Salt: 10-\n12 oz\n"),
        (("Salt - see -", "Table"), "Salt - see -\nTable\n"),
        (("Refrig-", "erate."), "Refrigerate.\n"),
    ],
)
def test_words_broken_at_the_end_of_a_line_are_joined(lines: tuple[str, ...], read: str) -> None:
    assert of(drawn(words(*lines))) == read


def test_a_word_broken_at_the_end_of_a_page_is_joined() -> None:
    assert pdf.read(drawn(words("Keep in the refrig-"), words("erator for 7 days."))) == Text("Keep in the refrigerator\nfor 7 days.\n", (1, 2))


def test_a_page_of_a_picture_among_pages_of_text_is_told() -> None:
    picture = ImageReader(Image.new("RGB", (40, 40), "red"))
    data = drawn(words("Salt the beef."), lambda canvas: canvas.drawImage(picture, 72, 72), words("Wait."))
    assert pdf.read(data) == Text("Salt the beef.\n\n(Page 2: a picture and no text.)\n\nWait.\n", (1, 3, 5))


def test_turned_text_and_text_in_forms_is_read() -> None:
    def draw(canvas: Any) -> None:
        canvas.beginForm("brine")
        canvas.drawString(72, 700, "5 lb brisket")
        canvas.endForm()
        canvas.doForm("brine")
        canvas.rotate(90)
        canvas.drawString(100, -300, "1 lb salt")
        canvas.drawString(100, -312, "1 gal water")

    assert of(drawn(draw)) == "5 lb brisket\n\n1 lb salt\n1 gal water\n"


def locked(user: str) -> bytes:
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(drawn(words("5 lb brisket")))))
    writer.encrypt(user, "the owner's", algorithm="RC4-128")
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def test_a_password_for_changes_only_does_not_lock_the_page() -> None:
    assert of(locked("")) == "5 lb brisket\n"


@pytest.mark.skipif(importlib.util.find_spec("cryptography") is not None or importlib.util.find_spec("Crypto") is not None, reason="such files are read where these are installed")
def test_a_lock_that_is_not_opened_here_is_told() -> None:
    data = locked("").replace(b"/V 2", b"/V 4").replace(b"/R 3", b"/R 4 /CF <</StdCF <</CFM /AESV2>>>> /StmF /StdCF /StrF /StdCF")
    assert pdf.read(data) == Unreadable("a PDF locked in a way that is not opened here; save it without a password and without protection")


def content(stream: bytes, times: int = 1) -> bytes:
    """A document of one page with this content, packed ``times`` times."""
    for _ in range(times):
        stream = zlib.compress(stream, 9)
    objects = [
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Resources<</Font<</F1 5 0 R>>>>/Contents 4 0 R>>",
        b"<</Length %d/Filter[%s]>>stream\n%s\nendstream" % (len(stream), b"/FlateDecode" * times, stream),
        b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
    ]
    written, starts = b"%PDF-1.4\n", []
    for number, each in enumerate(objects, 1):
        starts.append(len(written))
        written += b"%d 0 obj\n%s\nendobj\n" % (number, each)
    table = b"".join(b"%010d 00000 n \n" % start for start in starts)
    return written + b"xref\n0 6\n0000000000 65535 f \n%strailer<</Size 6/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF" % (table, len(written))


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "not a PDF, whatever its name says"),
        (b"5 lb brisket\n", "not a PDF, whatever its name says"),
        (locked("secret"), "a PDF locked with a password; save it without one"),
        (drawn(lambda canvas: canvas.drawImage(ImageReader(Image.new("RGB", (40, 40), "red")), 72, 72)), "a PDF with pictures of pages and no text; type it out, or have it read by a text recogniser first"),
        (drawn(lambda canvas: canvas.line(1, 1, 9, 9)), "a PDF without any text; if its pages are pictures, type them out, or have them read by a text recogniser first"),
        (drawn(*[words("5 lb brisket")] * 301), "a PDF of 301 pages; more than 300 are not read"),
        (content(b" " * 200_000_000), "a PDF that unpacks to more than any recipe needs; it is not read"),
        (content(b" " * 200_000_000, 2), "a PDF that unpacks to more than any recipe needs; it is not read"),
        (content(b"BT /F1 12 Tf " + b"1 0 Td (x) Tj " * 200_000 + b"ET"), "a PDF that unpacks to more than any recipe needs; it is not read"),
        (content(b"BT /F1 12 Tf (" + b"salt " * 1_000_001 + b") Tj ET"), "a PDF with more than 4,000,000 characters of text; a recipe of that length is not read"),
        (content(b"BT /F9 12 Tf (salt beef) Tj 0 -20 Td (salt beef) Tj ET"), "a PDF that does not tell which letters its signs are; type it out, or have it read by a text recogniser first"),
        (TABLE[:700], f"a PDF that is damaged (Stream has ended unexpectedly){DAMAGED}"),
    ],
    ids=["empty", "text", "locked", "picture", "blank", "pages", "bomb", "bomb in a bomb", "orders", "letters", "no font", "cut"],
)
def test_what_cannot_be_read_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert pdf.read(data) == Unreadable(reason)


def test_reading_ends_in_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "MOST_SECONDS", -100.0)
    assert pdf.read(TABLE) == Unreadable("a PDF with so much on its pages that reading takes longer than 5 seconds, and 0.1 a page")


def test_truncated_documents_never_raise(capfd: pytest.CaptureFixture[str]) -> None:
    for length in range(0, len(TABLE), 13):
        assert isinstance(pdf.read(TABLE[:length]), Text | Unreadable)
    assert capfd.readouterr() == ("", "")


def test_damaged_documents_never_raise() -> None:
    chance = random.Random(7)
    for _ in range(300):
        data = bytearray(TABLE)
        for _ in range(chance.randint(1, 20)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        assert isinstance(pdf.read(bytes(data)), Text | Unreadable)


@given(st.binary(max_size=300))
def test_no_bytes_raise(data: bytes) -> None:
    assert isinstance(pdf.read(b"%PDF-1.7\n" + data), Unreadable)


@given(st.lists(st.sampled_from([b"BT", b"ET", b"q", b"Q", b"/F1 12 Tf", b"/F1 -3 Tf", b"1 0 Td", b"0 -14 Td", b"T*", b"(salt) Tj", b"(5 lb) '", b"[(1) -900 (2)] TJ", b"0 1 -1 0 9 9 cm", b"0 0 0 0 0 0 Tm", b"1 0 0 1 72 700 Tm", b"/X Do", b"Tm", b"Tf", b"TJ", b"("]), max_size=30).map(b"\n".join))
def test_no_content_raises(stream: bytes) -> None:
    assert isinstance(pdf.read(content(stream)), Text | Unreadable)
