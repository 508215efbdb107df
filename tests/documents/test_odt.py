from __future__ import annotations

import io
import itertools
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from overhaul.documents import odt
from overhaul.documents.lines import MOST_CHARACTERS
from overhaul.documents.outcome import Text, Unreadable
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.text import Page
from tests.documents.corned import CORNED_BEEF

DAMAGED = "an OpenDocument text that is damaged ("
PARTS = {"office": "office", "style": "style", "text": "text", "table": "table", "fo": "xsl-fo-compatible", "draw": "drawing", "meta": "meta"}
NAMES = " ".join(f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{part}:1.0"' for short, part in PARTS.items()) + ' xmlns:dc="http://purl.org/dc/elements/1.1/"'

# As a word processor keeps them: what a hand changed in the content, the named ones beside it.
AUTOMATIC = """\
<style:style style:name="T1" style:family="text"><style:text-properties style:text-line-through-style="solid"/></style:style>
<style:style style:name="T2" style:family="text" style:parent-style-name="Out"/>
<style:style style:name="T3" style:family="text"><style:text-properties style:text-line-through-style="none"/></style:style>
<style:style style:name="T4" style:family="text"><style:text-properties text:display="none"/></style:style>
<style:style style:name="P1" style:family="paragraph" style:parent-style-name="Title"/>
<style:style style:name="P2" style:family="paragraph"><style:paragraph-properties fo:break-before="page"/></style:style>
<style:style style:name="P3" style:family="paragraph" style:parent-style-name="P2"><style:text-properties style:text-line-through-style="solid"/></style:style>
<style:style style:name="P4" style:family="paragraph" style:list-style-name="L2"/>
<style:style style:name="P5" style:family="paragraph"><style:text-properties style:text-line-through-style="solid"/></style:style>
<style:style style:name="P6" style:family="paragraph" style:master-page-name="Second"/>
<style:style style:name="P7" style:family="paragraph"><style:paragraph-properties fo:break-after="page"/></style:style>
<text:list-style style:name="L1"><text:list-level-style-number text:level="1" style:num-format="1"/><text:list-level-style-number text:level="2" style:num-format="a"/><text:list-level-style-bullet text:level="3"/></text:list-style>
<text:list-style style:name="L2"><text:list-level-style-bullet text:level="1"/></text:list-style>
<text:list-style style:name="L3"><text:list-level-style-number text:level="1" style:num-format="1" text:start-value="4"/></text:list-style>
<text:list-style style:name="L4"><text:list-level-style-number text:level="1" style:num-format=""/></text:list-style>
"""
NAMED = """\
<style:style style:name="Out" style:family="text" style:parent-style-name="Outer"/>
<style:style style:name="Outer" style:family="text" style:parent-style-name="Out"><style:text-properties style:text-line-through-style="solid"/></style:style>
<style:style style:name="Title" style:family="paragraph"/>
"""


def odt_of(*xml: str, kind: str = "text", others: dict[str, bytes] | None = None) -> bytes:
    stream = io.BytesIO()
    content = f"<office:document-content {NAMES}><office:automatic-styles>{AUTOMATIC}</office:automatic-styles><office:body><office:{kind}>{''.join(xml)}</office:{kind}></office:body></office:document-content>"
    styles = f"<office:document-styles {NAMES}><office:styles>{NAMED}</office:styles></office:document-styles>"
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in ({"mimetype": b"application/vnd.oasis.opendocument.text", "content.xml": content.encode(), "styles.xml": styles.encode()} | (others or {})).items():
            archive.writestr(name, part)
    return stream.getvalue()


def p(inner: str, style: str = "") -> str:
    return f'<text:p text:style-name="{style}">{inner}</text:p>'


def h(words: str) -> str:
    return f'<text:h text:outline-level="1">{words}</text:h>'


def ul(style: str, *items: str, attributes: str = "") -> str:
    return f'<text:list text:style-name="{style}" {attributes}>{"".join(f"<text:list-item>{item}</text:list-item>" for item in items)}</text:list>'


def tr(*cells: str) -> str:
    return f"<table:table-row>{''.join(cell if cell.startswith('<table') else f'<table:table-cell>{p(cell)}</table:table-cell>' for cell in cells)}</table:table-row>"


def span(style: str, inner: str) -> str:
    return f'<text:span text:style-name="{style}">{inner}</text:span>'


def note(words: str, initials: str) -> str:
    return f"<office:annotation><dc:creator>Mara Oak</dc:creator><dc:date>2024-05-01</dc:date><meta:creator-initials>{initials}</meta:creator-initials>{p(words)}</office:annotation>"


def text(data: bytes) -> str:
    found = odt.read(data)
    assert isinstance(found, Text), found
    return found.text


def corned_beef() -> bytes:
    return odt_of(
        "<text:tracked-changes><text:changed-region><text:deletion>" + p("9 lb salt") + "</text:deletion></text:changed-region></text:tracked-changes>",
        p("Corned brisket, Thursday", "P1"),
        p("Enough for 12 portions."),
        h("Brine"),
        "<table:table><table:table-column/><table:table-header-rows>",
        tr("", "One flat", "Two flats"),
        "</table:table-header-rows>",
        tr("Water", "1 gal", "2 gal"),
        tr("Kosher salt", "10 oz", "1 lb 4 oz"),
        tr("Brown sugar", "5 oz", "10 oz"),
        tr("Pink salt no. 1", span("T1", "6") + " 4 tsp", "8 tsp"),
        "</table:table>",
        h("Spice"),
        ul("L2", p("2 tbsp mustard seed"), p("6 bay leaves")),
        h("Method"),
        ul("L1", p("Bring the brine to a boil, then cool it to 38 °F."), p("Lay in the brisket, 5 lb, and cure 7 days at 36 to 38 °F, " + note("Thick end needs two days more", "MO") + "turning it daily."), p("Rinse, cover with fresh water and simmer 3 hours until 195 °F inside.")),
    )


def test_a_whole_recipe_is_read_in_order() -> None:
    assert odt.read(corned_beef()) == Text(CORNED_BEEF)


def test_what_is_read_can_be_audited() -> None:
    audited = audit_text(Page(text(corned_beef()), "x.odt"), House())
    assert audited.unreadable is None
    assert audited.titles == ("Corned brisket, Thursday",)


@pytest.mark.parametrize(
    ("xml", "words"),
    [
        (p("Salt " + span("T1", "5") + span("T2", " lb ") + "3 lb"), "Salt ~~5 lb~~ 3 lb\n"),
        (p("Salt 5 " + span("T3", "lb"), "P5"), "~~Salt 5~~ lb\n"),
        (p("5 lb" + span("T4", " gone")), "5 lb\n"),
        (p(span("T1", "2 " + span("T3", "3")) + " oz"), "~~2~~ 3 oz\n"),
        (p("\n  Salt\n   <text:s text:c='3'/>1<text:s/>lb<text:tab/>x<text:line-break/>and bay  "), "Salt    1 lb\tx\nand bay\n"),
        (p("<text:a>see <text:bookmark/></text:a>over<text:ruby><text:ruby-base>A</text:ruby-base><text:ruby-text>B</text:ruby-text></text:ruby>"), "see overA\n"),
        (p("Salt<draw:frame><draw:text-box>" + p("Weigh it") + "</draw:text-box></draw:frame> 1 lb"), "Salt 1 lb\nWeigh it\n"),
        ("<draw:frame><draw:text-box>" + p("At the side") + "</draw:text-box></draw:frame>" + p("Salt"), "At the side\nSalt\n"),
        (p("Pink<text:note><text:note-citation>1</text:note-citation><text:note-body>" + p("6.25 %") + "</text:note-body></text:note> salt") + p("Water"), "Pink salt\n(Note: 6.25 %)\nWater\n"),
        (p("Pink" + note("", "MO") + note("too much?", "")), "Pink\n(Note: too much?)\n"),
        ("<text:table-of-content><text:index-body>" + p("Brine 2") + "</text:index-body></text:table-of-content><text:section>" + p("Brine") + "</text:section>", "Brine\n"),
        (p("One") + p("") + p("") + p("") + p("Two"), "One\n\n\nTwo\n"),
    ],
)
def test_words_of_a_paragraph(xml: str, words: str) -> None:
    assert text(odt_of(xml)) == words


@pytest.mark.parametrize(
    ("xml", "words"),
    [
        (ul("L1", p("Boil") + ul("", p("salt"), p("sugar") + ul("", p("brown"))), p("Cool") + p("overnight"), p("Cure") + ul("", p("cold"))), "1. Boil\na) salt\nb) sugar\n- brown\n2. Cool\novernight\n3. Cure\na) cold\n"),
        (ul("L1", p("Boil")) + p("Wait") + ul("L1", p("Cool"), attributes='text:continue-numbering="true"') + ul("L1", p("Anew")), "1. Boil\nWait\n2. Cool\n1. Anew\n"),
        (ul("L1", p("Boil"), attributes='xml:id="a"') + ul("L2", p("bay")) + ul("L1", p("Cool"), attributes='text:continue-list="a"'), "1. Boil\n- bay\n2. Cool\n"),
        (ul("L3", p("Boil"), p("Cool")), "4. Boil\n5. Cool\n"),
        ('<text:list text:style-name="L1"><text:list-header><text:p>For the pot</text:p></text:list-header><text:list-item text:start-value="7"><text:p>Boil</text:p></text:list-item></text:list>', "For the pot\n7. Boil\n"),
        ("<text:list><text:list-item>" + p("bay", "P4") + "</text:list-item></text:list>" + ul("L4", p("plain")), "- bay\nplain\n"),
        (ul("L1", h("Brine"), p("Boil")), "Brine\n2. Boil\n"),
    ],
)
def test_lists_are_counted(xml: str, words: str) -> None:
    assert text(odt_of(xml)) == words


def test_merged_repeated_and_empty_cells_keep_the_columns_in_place() -> None:
    covered, empty = "<table:covered-table-cell/>", "<table:table-cell/>"
    data = odt_of(
        "<table:table>",
        tr("Brine", "<table:table-cell table:number-columns-spanned='2'>" + p("Batches") + "</table:table-cell>", covered, "Who"),
        tr("<table:table-cell>" + p("Salt") + p("kosher") + "</table:table-cell>", "<table:table-cell table:number-columns-repeated='2'/>", "2 lb", "<table:table-cell table:number-columns-repeated='1000000'/>"),
        tr(covered, "<table:table-cell table:number-columns-repeated='2'>" + p("1 lb") + "</table:table-cell>"),
        "<table:table-row-group>" + tr(empty, empty) + "</table:table-row-group></table:table>",
        p("Boil"),
    )
    assert text(data) == "Brine\tBatches\t\tWho\nSalt kosher\t\t\t2 lb\n\t1 lb\t1 lb\n\nBoil\n"


def test_a_page_laid_out_by_a_table_is_read_by_lines() -> None:
    left = "<table:table-cell>" + "".join(map(p, ["1 lb salt", "8 oz sugar", "1 gal water", "4 bay leaves"])) + "</table:table-cell>"
    right = "<table:table-cell>" + ul("L1", p("Boil and cool."), p("Cure 7 days.")) + "</table:table-cell>"
    assert text(odt_of("<table:table>" + tr(left, right) + "</table:table>")) == "1 lb salt\n8 oz sugar\n1 gal water\n4 bay leaves\n\n1. Boil and cool.\n2. Cure 7 days.\n"


def test_pages_begin_at_breaks_soft_or_meant() -> None:
    data = odt_of(p("Brine", "P6"), p("1 lb <text:soft-page-break/>salt"), p("1 gal water"), "<text:soft-page-break/>", p(""), p("Method", "P2"), p("Boil", "P7"), p("Serve", "P6"), "<table:table>" + tr("a") + "<text:soft-page-break/>" + tr("b") + "</table:table>")
    assert odt.read(data) == Text("Brine\n1 lb\nsalt\n1 gal water\n\nMethod\nBoil\nServe\na\nb\n", (1, 3, 6, 6, 8, 8, 10))


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (odt_of(p("")), "an OpenDocument text with nothing in it"),
        (odt_of(p("<draw:frame><draw:image/></draw:frame>")), "an OpenDocument text with pictures and no text; type the page out"),
        (odt_of(kind="spreadsheet"), "an OpenDocument file that is no text; save the page as an OpenDocument text (.odt)"),
        (odt_of(p("x"), others={"META-INF/manifest.xml": b"<manifest><encryption-data/></manifest>"}), "an OpenDocument text locked with a password; save it without one"),
        (odt_of(p("x"), others={"meta.xml": b'<!DOCTYPE x [<!ENTITY a "b">]><x>&a;</x>'}), "an OpenDocument text that declares entities, which no recipe needs; it is not read"),
        (odt_of(p("x"), others={"meta.xml": bytes(60_000_001)}), "an OpenDocument text that unpacks to more than 60 megabytes; a recipe of that size is not read"),
        (odt_of(p("salt " * (MOST_CHARACTERS // 5 + 1))), "an OpenDocument text with more than 4,000,000 characters of text; a recipe of that length is not read"),
        (odt_of("<table:table>", tr("<table:table-cell table:number-columns-repeated='50'>" + p("salt" * 30_000) + "</table:table-cell>"), "</table:table>"), "an OpenDocument text with more than 4,000,000 characters of text; a recipe of that length is not read"),
        (odt_of("<text:p/>" * 1_000_001), "an OpenDocument text with more than 1,000,000 tags in it; a recipe of that size is not read"),
        (odt_of("<text:list><text:list-item>" * 52 + p("salt") + "</text:list-item></text:list>" * 52), "an OpenDocument text with tables, lists or boxes nested more than 50 deep; it is not read"),
        (odt_of("<table:table><table:table-row><table:table-cell>" * 52 + p("salt") + "</table:table-cell></table:table-row></table:table>" * 52), "an OpenDocument text with tables, lists or boxes nested more than 50 deep; it is not read"),
    ],
    ids=["empty", "pictures", "sheet", "locked", "entities", "bomb", "long", "repeated", "crowded", "deep lists", "deep tables"],
)
def test_what_is_not_read_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert odt.read(data) == Unreadable(reason)


def test_entities_hidden_in_another_encoding_are_refused() -> None:
    content = f'<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]><office:document-content {NAMES}><office:body><office:text><text:p>1 lb &a; salt</text:p></office:text></office:body></office:document-content>'
    assert odt.read(odt_of(others={"content.xml": content.encode("utf-16")})) == Unreadable("an OpenDocument text that declares entities, which no recipe needs; it is not read")


def test_a_password_flag_is_seen() -> None:
    data = bytearray(corned_beef())
    data[data.rindex(b"PK\x01\x02") + 8] |= 1
    assert odt.read(bytes(data)) == Unreadable("an OpenDocument text locked with a password; save it without one")


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"1 lb salt\n", odt_of(others={"content.xml": b"<office"}), odt_of(others={"content.xml": b""}), odt_of(p("x" + "<text:span>" * 300 + "</text:span>" * 300))])
def test_what_is_damaged_is_said(data: bytes) -> None:
    found = odt.read(data)
    assert isinstance(found, Unreadable) and found.reason.startswith(DAMAGED)


def test_an_archive_of_something_else_is_said() -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        archive.writestr("a.txt", "1 lb salt")
    assert odt.read(stream.getvalue()) == Unreadable("not an OpenDocument text: there is no content in it; open it where it was made and save it again")


def test_no_cut_and_no_change_of_bytes_raises() -> None:
    whole = corned_beef()
    for end in itertools.chain(range(0, len(whole), 97), (len(whole) - 1,)):
        found = odt.read(whole[:end])
        assert isinstance(found, Unreadable) and found.reason.startswith(DAMAGED)
        assert isinstance(odt.read(whole[:end] + b"\xff\x00\x9b" + whole[end + 3 :]), Text | Unreadable)


@given(st.binary(max_size=400), st.sampled_from([b"PK\x03\x04", b""]))
def test_no_bytes_raise(data: bytes, magic: bytes) -> None:
    assert isinstance(odt.read(magic + data), Text | Unreadable)


ELEMENTS = st.sampled_from("text:p text:h text:list text:list-item text:list-header text:span table:table table:table-row table:table-cell draw:frame office:annotation text:note text:note-body text:s text:section".split())


@settings(max_examples=60)
@given(st.recursive(st.sampled_from(["salt", " ", "<!-- x -->", "<text:tab/>", "<text:soft-page-break/>"]), lambda inner: st.builds(lambda name, parts: f"<{name}>{''.join(parts)}</{name}>", ELEMENTS, st.lists(inner, max_size=4)), max_leaves=20))
def test_no_document_raises(xml: str) -> None:
    found = odt.read(odt_of(xml))
    assert isinstance(found, Text) or not found.reason.startswith(DAMAGED)
