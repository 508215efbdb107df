from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from overhaul.documents import rtf
from overhaul.documents.lines import MOST_CHARACTERS
from overhaul.documents.outcome import Text, Unreadable
from overhaul.house import House
from overhaul.pipeline import audit_text
from overhaul.text import Page
from tests.documents.corned import CORNED_BEEF

CUT = Unreadable("a Rich Text document that is cut off before its end; open it where it was made and save it again")

HEAD = rb"""{\rtf1\ansi\ansicpg1252\deff0\uc1
{\fonttbl{\f0\fswiss\fcharset0 Plainface;}{\f1\froman\fcharset2 Signs;}{\f2\fcharset204 East;}{\f3\fcharset128 Far;}}
{\colortbl;\red0\green0\blue0;}{\stylesheet{\s0 Normal;}{\s1 heading 1;}}
{\*\listtable{\list{\listlevel\levelnfc0{\leveltext\'02\'00.;}{\levelnumbers\'01;}}}}{\info{\title Old brine}{\author Mara Oak}}
{\*\generator Some Writer;}{\header\pard Kitchen two\par}{\footer\pard page 1\par}
"""


def page(inner: bytes) -> bytes:
    return HEAD + inner + b"}"


def text(data: bytes) -> str:
    found = rtf.read(data)
    assert isinstance(found, Text), found
    return found.text


CORNED = page(
    rb"""\pard\plain\outlinelevel0 Corned brisket, Thursday\par
\pard\plain Enough for 12 portions.\par
\pard\plain\s1\outlinelevel0{\b Brine}\par
{\trowd\cellx2000\cellx4000\cellx6000\pard\intbl\cell One flat\cell Two flats\cell\row}
\trowd\cellx2000\cellx4000\cellx6000\pard\intbl Water\cell 1 gal\cell 2 gal\cell\row
\pard\intbl Kosher salt\cell 10 oz\cell 1 lb 4 oz\cell\row
\pard\intbl Pink salt no. 1\cell{\strike 6} 4 tsp\cell 8 tsp\cell\row
\pard\plain\outlinelevel1 Spice\par
\pard{\pntext\f1\'b7\tab}{\*\pn\pnlvlblt\pnf1{\pntxtb\'b7}}2 tbsp mustard seed\par
{\pntext\f1\'b7\tab}6 bay leaves\par
\pard\plain\outlinelevel1 Method\par
\pard\plain\ls1{\listtext\pard\plain 1.\tab}Bring the brine to a boil, then cool it to 38 \'b0F.\par
{\listtext\pard\plain 2.\tab}Lay in the brisket, 5 lb, and cure 7 days at 36 to 38 \'b0F{\*\atnid MO}{\*\atnauthor Mara Oak}\chatn{\*\annotation{\*\atnref 1}{\*\atndate 123}\pard\plain{\chatn}Thick end needs\par two days more}, turning it daily.\par
{\listtext\pard\plain 3.\tab}Rinse, cover with fresh water and simmer 3 hours until 195 \'b0F inside."""
)

PLAINER = CORNED_BEEF.replace("Brown sugar\t5 oz\t10 oz\n", "")


def test_a_whole_recipe_is_read_in_order() -> None:
    assert rtf.read(CORNED) == Text(PLAINER)


def test_what_is_read_can_be_audited() -> None:
    audited = audit_text(Page(text(CORNED), "x.rtf"), House())
    assert audited.unreadable is None
    assert audited.titles == ("Corned brisket, Thursday",)


@pytest.mark.parametrize(
    ("inner", "words"),
    [
        (rb"Salt {\strike 5}{\striked1  lb }3 lb", "Salt ~~5 lb~~ 3 lb\n"),
        (rb"\strike 5 lb\strike0  4 lb\strike  x\plain  y", "~~5 lb~~ 4 lb ~~x~~ y\n"),
        (rb"2{\deleted 0}{\revised 5} lb{\v  gone}", "~~20~~ 25 lb\n"),
        (rb"1\tab 2\line 3\~lb\_x\-y \{a\}\\\emdash\endash\lquote\rquote\ldblquote\rdblquote\bullet", "1\t2\n3\u00a0lb-xy {a}\\—–‘’“”•\n"),
        (b"38\\'b0F, \\'bd cup \\'93cold\\'94, cr\\'e8me \x96", "38°F, ½ cup “cold”, crème –\n"),
        (rb"\u189?  cup \u8211\'96 \uc2\u8217''s \uc0\u8212 x{\uc1 \u-3920 ?}C", "½  cup – ’s —x°C\n"),
        (rb"\u-10179?\u-8704? x\u-10179?", "😀 x\ufffd\n"),
        (rb"38{\f1\'b0}F \f2\'f1\'ee\'eb\'fc\f0  {\f3\'89\'96 \'83A}", "38°F соль 塩 ア\n"),
        (rb"Salt\par" + b"\n\\par\\par\\par Water\\\nBay\\\r\nEnd", "Salt\n\n\nWater\nBay\nEnd\n"),
        (rb"Salt{\pict\wmetafile8 0123456789abcdef}{\*\shppict{\pict\bin4 }}{\}} 1 lb", "Salt 1 lb\n"),
        (rb'{\field{\*\fldinst HYPERLINK "x"}{\fldrslt over there}}', "over there\n"),
        (rb"Salt{\shp{\*\shpinst\shpleft1{\sp{\sn a}{\sv 2}}{\shptxt\pard Weigh it\par Twice}}{\shprslt Weigh it}} 1 lb\par Water", "Salt 1 lb\nWeigh it\nTwice\nWater\n"),
        (rb"Pink{\super\chftn}{\footnote\pard{\super\chftn} 6.25 %} salt\par Water", "Pink salt\n(Note: 6.25 %)\nWater\n"),
        (rb"{\listtext\tab a)\tab}Salt\par{\listtext 1.2.\tab}Sugar\par{\listtext o\tab}Bay\par{\listtext\tab}x", "a) Salt\n2. Sugar\n- Bay\nx\n"),
        (rb"{\*\unknown salt}Bay{\*\bkmkstart b}", "Bay\n"),
        (rb"Bay \'zz\u\foo-3 x\'", "Bay 'zzx'\n"),
    ],
)
def test_words_of_a_paragraph(inner: bytes, words: str) -> None:
    assert text(page(rb"\pard " + inner)) == words


@pytest.mark.parametrize(
    ("head", "words"),
    [
        (rb"{\rtf1\mac cr\'8fme 38\'a1}", "crème 38°\n"),
        (rb"{\rtf1\ansi\ansicpg1250 \'b3}", "ł\n"),
        (rb"{\rtf1\pc \'f8C}", "°C\n"),
        (rb"{\rtf1\ansi\ansicpg65001 \'c2\'b0C}", "°C\n"),
        (rb"{\rtf1\ansi\ansicpg99999 \'b0C}", "°C\n"),
        (rb"{\rtf1\ansi\ansicpg0 \'b0C\ansicpg}after", "°C\n"),
    ],
)
def test_the_set_of_the_page_is_kept(head: bytes, words: str) -> None:
    assert text(head) == words


def test_merged_empty_and_nested_cells() -> None:
    data = page(
        rb"""\trowd\clmgf\cellx1\clmrg\cellx2\cellx3\pard\intbl Batches\cell\cell Who\cell\row
\trowd\clvmgf\cellx1\cellx2\cellx3\pard\intbl Salt\par kosher\line coarse\cell\cell 2 lb\cell\row
\trowd\clvmrg\cellx1\cellx2\cellx3\pard\intbl\cell 1 lb\cell\cell\row
\pard\intbl Spice\cell\pard\intbl\itap2 bay\nestcell 4\nestcell{\*\nesttableprops\trowd\cellx1\cellx2\nestrow}{\nonesttables\par}\pard\intbl\itap1 whole\cell\row
\pard\intbl Left\cell open\par
\pard Boil"""
    )
    assert text(data) == "Batches\t\tWho\nSalt kosher coarse\t\t2 lb\n\t1 lb\nSpice\tbay 4 whole\nLeft\topen\nBoil\n"


def test_a_page_laid_out_by_a_table_is_read_by_lines() -> None:
    data = page(rb"\pard\intbl 1 lb salt\par 8 oz sugar\par 1 gal water\par 4 bay leaves\cell {\listtext 1.\tab}Boil and cool.\par{\listtext 2.\tab}Cure 7 days.\cell\row")
    assert text(data) == "1 lb salt\n8 oz sugar\n1 gal water\n4 bay leaves\n\n1. Boil and cool.\n2. Cure 7 days.\n"


def test_pages_begin_where_the_writer_says() -> None:
    assert rtf.read(page(rb"\pard\pagebb Brine\par\pard 1 lb salt\par\page\par Method\page Boil\par\pard\pagebb Serve")) == Text("Brine\n1 lb salt\nMethod\nBoil\nServe\n", (1, 3, 4, 5))


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "not a Rich Text document: it does not begin as one"),
        (b"1 lb salt\n", "not a Rich Text document: it does not begin as one"),
        (b"PK\x03\x04", "not a Rich Text document: it does not begin as one"),
        (rb"{\rtf1}", "a Rich Text document with nothing in it"),
        (page(b""), "a Rich Text document with nothing in it"),
        (page(rb"{\pict 00ff}"), "a Rich Text document with pictures and no text; type the page out"),
        (page(b"salt " * (MOST_CHARACTERS // 5 + 1)), "a Rich Text document with more than 4,000,000 characters of text; a recipe of that length is not read"),
        (page((b"salt " * 100 + b"\\par ") * (MOST_CHARACTERS // 500)), "a Rich Text document with more than 4,000,000 characters of text; a recipe of that length is not read"),
        (page(rb"\par " * 1_000_001), "a Rich Text document with more than 1,000,000 orders in it; a recipe of that size is not read"),
        (page(b"{" * 2000 + b"salt" + b"}" * 2000), "a Rich Text document with groups nested more than 1,000 deep; it is not read"),
        (page(rb"\intbl\itap51 x\nestcell"), "a Rich Text document with tables nested more than 50 deep; it is not read"),
        (page(rb"{\footnote x" * 60 + b"}" * 60), "a Rich Text document with notes or boxes nested more than 50 deep; it is not read"),
    ],
)
def test_what_is_not_read_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert rtf.read(data) == Unreadable(reason)


def test_a_cut_page_is_not_read_as_half_a_recipe() -> None:
    for end in itertools.chain(range(6, len(CORNED), 7), (len(CORNED) - 1,)):
        assert rtf.read(CORNED[:end]) == CUT
        assert isinstance(rtf.read(CORNED[:end] + b"\xff\x00\\" + CORNED[end + 3 :]), Text | Unreadable)


@pytest.mark.parametrize("piece", [rb"\cell ", rb"{\footnote x}", rb"{\*\atnid x}", rb"\strike x\strike0 y", rb"\row ", rb"\par ", rb"\page ", rb"{\shptxt x}", rb"{\listtext 1 1}", rb"\'89", rb"\itap3\nestcell ", b"{}"])
def test_a_million_of_one_piece_come_to_an_end(piece: bytes) -> None:
    assert isinstance(rtf.read(page(rb"\pard\intbl " + piece * (1_000_000 // len(piece)))), Text | Unreadable)


@given(st.binary(max_size=400))
def test_no_bytes_raise(data: bytes) -> None:
    assert isinstance(rtf.read(b"{\\rtf1 " + data), Text | Unreadable)


WORDS = st.sampled_from([b"{", b"}", b"{\\*", *(b"\\" + word.encode() + b" " for word in "cell row nestcell nestrow intbl itap2 par pard strike plain u65 u-10179 uc3 bin2 footnote annotation shptxt listtext page f3 fonttbl pict v deleted revised pagebb ansicpg932 sect".split()), b"\\'8f", b"salt", b"\\", b"\n"])


@settings(max_examples=300)
@given(st.lists(WORDS, max_size=40))
def test_no_document_raises(words: list[bytes]) -> None:
    found = rtf.read(b"{\\rtf1 " + b"".join(words) + b"}" * sum(1 for word in words if word.startswith(b"{")) + b"}")
    assert isinstance(found, Text) or "damaged" not in found.reason
