from __future__ import annotations

import io
import itertools
import zipfile
from typing import Any

import pytest
from docx import Document
from docx.enum.section import WD_SECTION
from docx.enum.text import WD_BREAK
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls
from hypothesis import given, settings
from hypothesis import strategies as st

from overhaul.documents import word
from overhaul.documents.lines import MOST_CHARACTERS
from overhaul.documents.outcome import Text, Unreadable
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.text import Page
from tests.documents.corned import CORNED_BEEF

DAMAGED = "a Word document that is damaged ("


def saved(document: Any) -> bytes:
    stream = io.BytesIO()
    document.save(stream)
    return stream.getvalue()


def body(*xml: str) -> bytes:
    """A document of these blocks, ``w:`` standing for Word's names."""
    document = Document()
    last = document.element.body[-1]
    names = nsdecls("w", "a", "r", "wp") + ' xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" xmlns:v="urn:schemas-microsoft-com:vml" xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math"'
    for each in parse_xml(f"<w:body {names}>{''.join(xml)}</w:body>"):
        last.addprevious(each)
    return saved(document)


def p(inner: str, properties: str = "") -> str:
    return f"<w:p><w:pPr>{properties}</w:pPr>{inner}</w:p>"


def r(words: str, properties: str = "") -> str:
    return f'<w:r><w:rPr>{properties}</w:rPr><w:t xml:space="preserve">{words}</w:t></w:r>'


def tr(*cells: str, properties: str = "") -> str:
    return f"<w:tr>{properties}{''.join(cells)}</w:tr>"


def tc(words: str, properties: str = "") -> str:
    return f"<w:tc><w:tcPr>{properties}</w:tcPr>{''.join(p(r(line)) for line in words.split('/'))}</w:tc>"


def tbl(*rows: str) -> str:
    return f"<w:tbl><w:tblPr/><w:tblGrid/>{''.join(rows)}</w:tbl>"


def text(data: bytes) -> str:
    found = word.read(data)
    assert isinstance(found, Text), found
    return found.text


def repacked(data: bytes, change: dict[str, bytes | None], add: dict[str, bytes] | None = None) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = change.get(name, old.read(name))
            if content is not None:
                new.writestr(name, content)
        for name, content in (add or {}).items():
            new.writestr(name, content)
    return stream.getvalue()


def corned_beef() -> bytes:
    document = Document()
    document.sections[0].header.paragraphs[0].text = "Kitchen two, page 1"
    document.add_heading("Corned brisket, Thursday", 0)
    document.add_paragraph("Enough for 12 portions.")
    document.add_heading("Brine", 1)
    table = document.add_table(5, 3)
    for line, words in zip(table.rows, ["|One flat|Two flats", "Water|1 gal|2 gal", "Kosher salt|10 oz|1 lb 4 oz", "Brown sugar|5 oz|10 oz", "Pink salt no. 1||8 tsp"], strict=True):
        for cell, entry in zip(line.cells, words.split("|"), strict=True):
            cell.text = entry
    amount = table.cell(4, 1).paragraphs[0]
    amount.add_run("6").font.strike = True
    amount.add_run(" 4 tsp")
    document.add_heading("Spice", 1)
    document.add_paragraph("2 tbsp mustard seed", style="List Bullet")
    document.add_paragraph("6 bay leaves", style="List Bullet")
    document.add_heading("Method", 1)
    document.add_paragraph("Bring the brine to a boil, then cool it to 38 °F.", style="List Number")
    second = document.add_paragraph("Lay in the brisket, 5 lb, and cure 7 days at 36 to 38 °F, turning it daily.", style="List Number")
    document.add_comment(second.runs, "Thick end needs\ntwo days more", author="Mara Oak", initials="MO")
    document.add_paragraph("Rinse, cover with fresh water and simmer 3 hours until 195 °F inside.", style="List Number")
    return saved(document)


def test_a_whole_recipe_is_read_in_order() -> None:
    assert word.read(corned_beef()) == Text(CORNED_BEEF)


def test_what_is_read_can_be_audited() -> None:
    audited = audit_text(Page(text(corned_beef()), "x.docx"), House())
    assert audited.unreadable is None
    assert audited.titles == ("Corned brisket, Thursday",)


@pytest.mark.parametrize(
    ("xml", "words"),
    [
        (r("Salt ") + r("5", "<w:strike/>") + r(" lb ", "<w:dstrike/>") + r("3 lb"), "Salt ~~5 lb~~ 3 lb\n"),
        (r("5 lb", '<w:strike w:val="0"/>') + r(" gone", "<w:vanish/>"), "5 lb\n"),
        ("<w:del>" + "<w:r><w:delText>5</w:delText></w:r></w:del><w:ins>" + r("3") + "</w:ins>" + r(" tsp"), "~~5~~3 tsp\n"),
        (r("2") + "<w:del><w:r><w:delText>0</w:delText></w:r></w:del><w:ins>" + r("5") + "</w:ins>" + r(" lb"), "~~20~~ 25 lb\n"),
        (r("~3 lb", "<w:strike/>") + "<w:r><w:tab/></w:r>" + r("2 lb"), "~~≈3 lb~~\t2 lb\n"),
        (r("Cool") + '<w:r><w:br/><w:t>then</w:t><w:tab/><w:t>cure</w:t><w:cr/><w:t>on</w:t></w:r>', "Cool\nthen\tcure\non\n"),
        (r("1", '<w:vertAlign w:val="superscript"/>') + r("/") + r("2", '<w:vertAlign w:val="subscript"/>') + r(" cup"), "1/2 cup\n"),
        ('<w:r><w:t>38</w:t><w:sym w:font="Symbol" w:char="F0B0"/><w:t>F</w:t></w:r><w:r><w:sym w:font="Wingdings" w:char="F0FC"/></w:r>', "38°F✓\n"),
        ("<m:oMath><m:f><m:num><m:r><m:t>1</m:t></m:r></m:num><m:den><m:r><m:t>4</m:t></m:r></m:den></m:f></m:oMath>" + r(" cup"), "1/4 cup\n"),
        ('<w:hyperlink w:anchor="x">' + r("see ") + "</w:hyperlink><w:sdt><w:sdtPr/><w:sdtContent>" + r("over") + "</w:sdtContent></w:sdt><w:r><w:instrText>PAGE</w:instrText></w:r>", "see over\n"),
        (r("Salt") + "<w:r><mc:AlternateContent><mc:Choice Requires='wps'><w:drawing><w:txbxContent>" + p(r("Weigh it")) + "</w:txbxContent></w:drawing></mc:Choice><mc:Fallback><w:pict><v:textbox><w:txbxContent>" + p(r("Weigh it")) + "</w:txbxContent></v:textbox></w:pict></mc:Fallback></mc:AlternateContent></w:r>" + r(" 1 lb"), "Salt 1 lb\nWeigh it\n"),
    ],
)
def test_runs_of_a_paragraph(xml: str, words: str) -> None:
    assert text(body(p(xml))) == words


def test_strikes_come_from_styles_too() -> None:
    document = Document()
    old = document.styles.add_style("Old amount", 2)
    old.font.strike = True
    document.styles.add_style("Older amount", 2).base_style = old
    line = document.add_paragraph("Salt ")
    line.add_run("5 oz", style="Older amount")
    line.add_run(" 4 oz")
    assert text(saved(document)) == "Salt ~~5 oz~~ 4 oz\n"


def test_styles_based_on_each_other_end() -> None:
    document = Document()
    first, second = document.styles.add_style("First", 1), document.styles.add_style("Second", 1)
    first.base_style, second.base_style = second, first
    document.add_paragraph("1 lb salt", style="First")
    assert text(saved(document)) == "1 lb salt\n"


def test_lists_are_counted_by_level_and_begin_again() -> None:
    document = Document()
    numbering: Any = document.part.numbering_part.element
    levels = "".join(f'<w:lvl w:ilvl="{level}"><w:start w:val="1"/><w:numFmt w:val="{kind}"/></w:lvl>' for level, kind in enumerate(["decimal", "lowerLetter", "bullet", "none"]))
    numbering.insert(0, parse_xml(f'<w:abstractNum {nsdecls("w")} w:abstractNumId="90">{levels}</w:abstractNum>'))
    numbering.append(parse_xml(f'<w:num {nsdecls("w")} w:numId="90"><w:abstractNumId w:val="90"/></w:num>'))
    numbering.append(parse_xml(f'<w:num {nsdecls("w")} w:numId="91"><w:abstractNumId w:val="90"/><w:lvlOverride w:ilvl="0"><w:startOverride w:val="5"/></w:lvlOverride></w:num>'))
    for use, level, words in [(90, 0, "Boil"), (90, 1, "salt"), (90, 1, "sugar"), (90, 2, "brown"), (90, 3, "or white"), (90, 0, "Cool"), (90, 1, "ice"), (91, 0, "Cure"), (91, 0, "Rinse"), (0, 0, "Serve"), (999, 0, "Eat")]:
        line: Any = document.add_paragraph(words)
        line._p.get_or_add_pPr().append(parse_xml(f'<w:numPr {nsdecls("w")}><w:ilvl w:val="{level}"/><w:numId w:val="{use}"/></w:numPr>'))
    assert text(saved(document)) == "1. Boil\na) salt\nb) sugar\n- brown\nor white\n2. Cool\na) ice\n5. Cure\n6. Rinse\nServe\nEat\n"


def test_merged_and_empty_cells_keep_the_columns_in_place() -> None:
    data = body(
        tbl(
            tr(tc("Brine"), tc("Batches", '<w:gridSpan w:val="2"/>'), tc("Who")),
            tr(tc("Salt/kosher", '<w:vMerge w:val="restart"/>'), tc(""), tc("2 lb"), tc("")),
            tr(tc("hidden", "<w:vMerge/>"), tc("1 lb"), tc(""), tc("JR")),
            tr(tc("Sugar"), tc("5 oz"), properties='<w:trPr><w:gridBefore w:val="1"/></w:trPr>'),
            tr(tc("Cloves"), tc("6"), properties="<w:trPr><w:del/></w:trPr>"),
            tr(tc(""), tc("")),
        ),
        p(r("Boil")),
    )
    assert text(data) == "Brine\tBatches\t\tWho\nSalt kosher\t\t2 lb\n\t1 lb\t\tJR\n\tSugar\t5 oz\n~~Cloves~~\t~~6~~\n\nBoil\n"


def test_a_page_laid_out_by_a_table_is_read_by_lines() -> None:
    parallel = tbl(tr(tc("Salt/Sugar/Water/Bay"), tc("1 lb/8 oz/1 gal/4")))
    columns = tbl(tr(tc("1 lb salt/8 oz sugar/1 gal water/4 bay leaves"), tc("Boil and cool./Cure 7 days.")))
    assert text(body(parallel)) == "Salt\t1 lb\nSugar\t8 oz\nWater\t1 gal\nBay\t4\n"
    assert text(body(columns)) == "1 lb salt\n8 oz sugar\n1 gal water\n4 bay leaves\n\nBoil and cool.\nCure 7 days.\n"


def test_pages_begin_where_the_writer_says() -> None:
    document = Document()
    document.add_paragraph("Brine").paragraph_format.page_break_before = True
    document.add_paragraph("1 lb salt")
    document.add_paragraph().add_run().add_break(WD_BREAK.PAGE)
    document.add_paragraph("")
    line = document.add_paragraph("Method")
    line.add_run().add_break(WD_BREAK.PAGE)
    line.add_run("Boil it.")
    document.add_paragraph("Serve").paragraph_format.page_break_before = True
    assert word.read(saved(document)) == Text("Brine\n1 lb salt\n\nMethod\nBoil it.\nServe\n", (1, 4, 5, 6))


def test_a_section_may_begin_a_page() -> None:
    document = Document()
    document.add_paragraph("Brine")
    document.add_section(WD_SECTION.CONTINUOUS)
    document.add_paragraph("1 lb salt")
    document.add_section(WD_SECTION.NEW_PAGE)
    document.add_paragraph("Method")
    assert word.read(saved(document)) == Text("Brine\n\n1 lb salt\n\nMethod\n", (1, 5))


def test_footnotes_are_notes() -> None:
    data = body(p(r("Pink salt 4 tsp") + '<w:r><w:footnoteReference w:id="2"/></w:r>'), p(r("Water")))
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        relations = archive.read("word/_rels/document.xml.rels").replace(b"</Relationships>", b'<Relationship Id="rF" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/footnotes" Target="footnotes.xml"/></Relationships>')
    notes = f'<w:footnotes {nsdecls("w")}><w:footnote w:id="2">{p(r("6.25 % of it nitrite"))}</w:footnote></w:footnotes>'.encode()
    assert text(repacked(data, {"word/_rels/document.xml.rels": relations}, {"word/footnotes.xml": notes})) == "Pink salt 4 tsp\n(Note: 6.25 % of it nitrite)\nWater\n"


def test_files_of_other_writers_are_read() -> None:
    data = body(p(r("1 lb salt")))
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        dangling = archive.read("word/_rels/document.xml.rels").replace(b"</Relationships>", b'<Relationship Id="rN" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/image" Target="../NULL"/></Relationships>')
        template = archive.read("[Content_Types].xml").replace(b"wordprocessingml.document.main", b"wordprocessingml.template.main")
        strict = {name: archive.read(name).replace(b"http://schemas.openxmlformats.org/officeDocument/2006/", b"http://purl.oclc.org/ooxml/officeDocument/").replace(b"http://schemas.openxmlformats.org/wordprocessingml/2006/", b"http://purl.oclc.org/ooxml/wordprocessingml/") for name in archive.namelist()}
    assert b"purl" in strict["word/document.xml"]
    for change in ({"word/_rels/document.xml.rels": dangling}, {"[Content_Types].xml": template}, dict(strict), {"word/styles.xml": None, "word/numbering.xml": None}):
        assert text(repacked(data, {**change})) == "1 lb salt\n"


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (saved(Document()), "a Word document with nothing in it"),
        (body(p("<w:r><w:drawing><a:blip/></w:drawing></w:r>")), "a Word document with pictures and no text; type the page out"),
        (b"\xd0\xcf\x11\xe0" + bytes(600) + "WordDocument".encode("utf-16-le"), "an old Word document (.doc) or a locked one; open it in a word processor and save it as .docx without a password"),
        (b"\xd0\xcf\x11\xe0" + bytes(600) + "EncryptedPackage".encode("utf-16-le"), "a Word document locked with a password; save it without one"),
        (repacked(corned_beef(), {}, {"word/more.xml": b'<!DOCTYPE x [<!ENTITY a "b">]><x>&a;</x>'}), "a Word document that declares entities, which no recipe needs; it is not read"),
        (repacked(corned_beef(), {}, {"word/more.xml": bytes(60_000_001)}), "a Word document that unpacks to more than 60 megabytes; a recipe of that size is not read"),
        (body(p(r("salt " * (MOST_CHARACTERS // 5 + 1)))), "a Word document with more than 4,000,000 characters of text; a recipe of that length is not read"),
        (repacked(corned_beef(), {}, {"word/more.xml": b"<w:p/>" * 1_000_000}), "a Word document with more than 1,000,000 tags in it; a recipe of that size is not read"),
        (body("<w:tbl><w:tr><w:tc>" * 52 + p(r("salt")) + "</w:tc></w:tr></w:tbl>" * 52), "a Word document with tables or boxes nested more than 50 deep; it is not read"),
    ],
    ids=["empty", "pictures", "old", "locked", "entities", "bomb", "long", "crowded", "deep"],
)
def test_what_is_not_read_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert word.read(data) == Unreadable(reason)


def test_a_password_flag_is_seen() -> None:
    data = bytearray(corned_beef())
    data[data.rindex(b"PK\x01\x02") + 8] |= 1
    assert word.read(bytes(data)) == Unreadable("a Word document locked with a password; save it without one")


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"1 lb salt\n", repacked(corned_beef(), {"word/document.xml": None}), repacked(corned_beef(), {"word/document.xml": b"<w:document"}), repacked(corned_beef(), {"[Content_Types].xml": None})])
def test_what_is_damaged_is_said(data: bytes) -> None:
    found = word.read(data)
    assert isinstance(found, Unreadable) and found.reason.startswith(DAMAGED)


def test_no_cut_and_no_change_of_bytes_raises() -> None:
    whole = corned_beef()
    for end in itertools.chain(range(0, len(whole), 211), (len(whole) - 1,)):
        found = word.read(whole[:end])
        assert isinstance(found, Unreadable) and found.reason.startswith(DAMAGED)
        assert isinstance(word.read(whole[:end] + b"\xff\x00\x9b" + whole[end + 3 :]), Text | Unreadable)


@given(st.binary(max_size=400), st.sampled_from([b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b""]))
def test_no_bytes_raise(data: bytes, magic: bytes) -> None:
    assert isinstance(word.read(magic + data), Text | Unreadable)


PIECES = st.sampled_from(["<w:p>", "</w:p>", "<w:r>", "</w:r>", "<w:tbl>", "</w:tbl>", "<w:tr>", "</w:tr>", "<w:tc>", "</w:tc>", '<w:t a="">salt</w:t>', '<w:br w:type="page"/>', "<w:tab/>", "<w:del>", "</w:del>", '<w:pPr><w:numPr><w:numId w:val="1"/></w:numPr></w:pPr>', "<w:rPr><w:strike/></w:rPr>", "<!-- x -->", "<?x y?>"])
WHOLE = corned_beef()


@settings(max_examples=40)
@given(st.lists(PIECES, max_size=30))
def test_no_document_raises(pieces: list[str]) -> None:
    content = f"<w:document {nsdecls('w')}><w:body>{''.join(pieces)}</w:body></w:document>".encode()
    assert isinstance(word.read(repacked(WHOLE, {"word/document.xml": content})), Text | Unreadable)


def test_steps_without_a_stop_stay_apart() -> None:
    steps = ["Dissolve the salt and the sugar in warm water", "Lay the brisket in and weight it down with a plate", "or a clean stone that covers all of it", "Cure it 7 days", "Rinse it"]
    assert text(body(*(p(r(step)) for step in steps))) == "\n".join([steps[0], "", *steps[1:3], "", *steps[3:], ""])
