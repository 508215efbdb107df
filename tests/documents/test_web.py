from __future__ import annotations

import codecs
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from overhaul.documents import web
from overhaul.documents.outcome import Text, Unreadable


def of(markup: str) -> str:
    found = web.read(markup.encode())
    assert isinstance(found, Text)
    return found.text


def script(node: Any) -> str:
    return f'<script type="application/ld+json">{node if isinstance(node, str) else json.dumps(node)}</script>'


BEEF = {
    "@type": ["Recipe", "NewsArticle"],
    "name": "Corned beef &amp; its brine",
    "recipeYield": ["8", "8 servings"],
    "prepTime": "PT30M",
    "cookTime": "PT1H30M",
    "totalTime": "P7DT2H",
    "recipeIngredient": ["5 lb beef brisket", "1&frac12; gal water", "10 oz kosher salt"],
    "recipeInstructions": [
        {
            "@type": "HowToSection",
            "name": "Brine:",
            "itemListElement": [
                {"@type": "HowToStep", "text": "Dissolve the salt.<br>Chill to 38&deg;F."},
                {"@type": "HowToStep", "name": "Submerge", "text": "Put the brisket under for 7 days."},
            ],
        },
        {"@type": "HowToSection", "name": "Cook", "itemListElement": [{"@type": "ListItem", "item": {"@type": "HowToStep", "name": "Simmer", "text": "Simmer 3 hours."}}]},
    ],
}
BEEF_TEXT = (
    "Corned beef & its brine\n\nYield: 8 servings\nPrep time: 30 minutes\nCook time: 1 hour 30 minutes\nTotal time: 7 days 2 hours\n\n"
    "Ingredients\n5 lb beef brisket\n1½ gal water\n10 oz kosher salt\n\n"
    "Method\nBrine:\n1. Dissolve the salt.\n2. Chill to 38°F.\n3. Submerge: Put the brisket under for 7 days.\nCook:\n4. Simmer 3 hours.\n"
)
SHORT = {"@type": "Recipe", "name": "Salt beef", "recipeIngredient": ["5 lb brisket", "1 lb salt"], "recipeInstructions": "Salt it.\nWait 7 days."}
SHORT_TEXT = "Salt beef\n\nIngredients\n5 lb brisket\n1 lb salt\n\nMethod\n1. Salt it.\n2. Wait 7 days.\n"


@pytest.mark.parametrize(
    "node",
    [
        BEEF,
        [BEEF],
        {"@context": "https://schema.org", "@graph": [{"@type": "WebPage", "name": "x"}, BEEF]},
        {"@type": "WebPage", "mainEntity": {"@type": "Thing", "about": [BEEF]}},
        {**BEEF, "@type": "https://schema.org/Recipe"},
        [BEEF, BEEF],
    ],
    ids=["alone", "list", "graph", "main entity", "full type", "twice"],
)
def test_a_recipe_told_to_machines_is_found_wherever_it_is(node: Any) -> None:
    assert of(f"<html><head>{script(node)}</head><body><p>Our cook was born in a small town.</p></body></html>") == BEEF_TEXT


def test_nodes_that_point_to_other_nodes_are_followed() -> None:
    nodes = [{**SHORT, "recipeInstructions": [{"@id": "#a"}, {"@id": "#b"}]}, {"@id": "#a", "@type": "HowToStep", "text": "Salt it."}, {"@id": "#b", "@type": "HowToStep", "text": "Wait 7 days."}]
    assert of(script({"@graph": nodes})) == SHORT_TEXT


@pytest.mark.parametrize(
    "text",
    [
        json.dumps(SHORT).replace("\\n", "\n"),
        json.dumps(SHORT)[:-1] + ",}",
        f"<!-- {json.dumps(SHORT)} -->",
        f"//<![CDATA[\n{json.dumps(SHORT)}\n//]]>",
        json.dumps(SHORT).replace("Salt it.\\nWait", "<p>Salt it.</p>\\n<p>Wait").replace("days.", "days.</p>"),
        json.dumps(SHORT).replace("Salt it.\\nWait", "1. Salt it.\\n2. Wait"),
    ],
    ids=["raw line feeds", "trailing comma", "in a comment", "CDATA", "paragraphs", "numbered by hand"],
)
def test_untidy_scripts_are_read(text: str) -> None:
    assert of(script(text)) == SHORT_TEXT


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, '{"@type": "Recipe"', '"Recipe"', "null", '{"@type": {"@type": "Recipe"}}'])
def test_a_broken_script_leaves_the_words_that_are_seen(text: str) -> None:
    assert of(f"{script(text)}<h1>Salt beef</h1><p>5 lb brisket</p>") == "Salt beef\n\n5 lb brisket\n"


def test_half_a_recipe_told_to_machines_leaves_the_words_that_are_seen() -> None:
    half = {key: value for key, value in SHORT.items() if key != "recipeInstructions"}
    assert of(f"{script(half)}<h1>Salt beef</h1><ul><li>5 lb brisket</ul><p>Salt it.</p>") == "Salt beef\n\n- 5 lb brisket\n\nSalt it.\n"
    assert of(f"<title>x</title>{script(half)}") == "Salt beef\n\nIngredients\n5 lb brisket\n1 lb salt\n"


def test_several_recipes_follow_each_other_two_lines_apart() -> None:
    assert of(script([SHORT, {**SHORT, "name": "Salt pork"}])) == f"{SHORT_TEXT}\n\n{SHORT_TEXT.replace('beef', 'pork', 1)}"


@pytest.mark.parametrize(
    ("told", "words"),
    [("PT1H30M", "1 hour 30 minutes"), ("PT90M", "90 minutes"), ("P7D", "7 days"), ("P1W", "1 week"), ("PT1.50H", "1.5 hours"), ("P0DT0H45M", "45 minutes"), ("PT0S", ""), ("3 hours", "3 hours"), ("P", "")],
)
def test_times_are_told_in_words(told: str, words: str) -> None:
    assert of(script({**SHORT, "totalTime": told})) == (SHORT_TEXT.replace("\n\nIn", f"\n\nTotal time: {words}\n\nIn", 1) if words else SHORT_TEXT)


def test_figures_that_are_seen_and_differ_are_kept_beside_those_told_to_machines() -> None:
    seen = (
        "<p>You will like this brisket.</p><ul><li>1 like</li><li>2 shares</li></ul>"
        "<ul><li>▢ <span class=a>5</span> <span class=b>lb</span> <span class=c>Beef  Brisket</span></li><li>1 1/2 gal water</li><li>12 oz kosher salt</li><li>1 oz cure #1</li></ul><ol><li>Simmer 4 hours.</li></ol>"
    )
    assert of(script(BEEF) + seen) == f"{BEEF_TEXT}\nThe page itself says:\n12 oz kosher salt\n1 oz cure #1\n"


@pytest.mark.parametrize(
    ("told", "seen", "differs"),
    [
        ("1½ tsp pink salt", "1 1/2 teaspoons pink salt", False),
        ("0.5 oz cure", "½ oz cure", False),
        ("1,000 g salt", "1000 g Salt", False),
        ("5 lb brisket", "5 lb / 2.3 kg brisket", False),
        ("1 tsp cure", "1 tbsp cure", True),
        ("1 oz cure", "10 oz cure", True),
        ("salt to taste", "2 oz salt", True),
    ],
)
def test_amounts_are_compared_by_what_they_say(told: str, seen: str, differs: bool) -> None:
    page = of(script({**SHORT, "recipeIngredient": [told, "5 lb beef"]}) + f"<ul><li>{seen}</li><li>5 lb beef</li></ul>")
    assert ("The page itself says:" in page) is differs


def test_microdata_is_read() -> None:
    page = (
        '<body><nav>Home</nav><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Salt beef</h1><div itemprop="author" itemscope itemtype="http://schema.org/Person">by <span itemprop="name">the cook</span></div>'
        '<meta itemprop="prepTime" content="PT20M"><time itemprop="cookTime" datetime="PT3H">three</time><span itemprop="recipeYield">8 people</span>'
        '<ul><li itemprop="recipeIngredient">5 lb  brisket<li itemprop="recipeIngredient">1<sup>1</sup>&frasl;<sub>2</sub> cups salt</ul>'
        '<div itemprop="recipeInstructions"><ol><li>Brine it.</li><li>Cook it.</li></ol></div></div>'
    )
    assert of(page) == "Salt beef\n\nYield: 8 people\nPrep time: 20 minutes\nCook time: 3 hours\n\nIngredients\n5 lb brisket\n1 1/2 cups salt\n\nMethod\n1. Brine it.\n2. Cook it.\n"


def test_sections_of_microdata_are_headings() -> None:
    step = '<li itemprop="itemListElement" itemscope itemtype="https://schema.org/HowToStep"><span itemprop="text">{}</span></li>'
    section = '<div itemprop="recipeInstructions" itemscope itemtype="https://schema.org/HowToSection"><h3 itemprop="name">{}</h3>{}</div>'
    page = f'<div itemscope itemtype="https://schema.org/Recipe"><h1 itemprop="name">Salt beef</h1><p itemprop="recipeIngredient">5 lb brisket</p>{section.format("Brine", step.format("Salt it."))}{section.format("Cook", step.format("Simmer."))}</div>'
    assert of(page) == "Salt beef\n\nIngredients\n5 lb brisket\n\nMethod\nBrine:\n1. Salt it.\nCook:\n2. Simmer.\n"


def test_classes_of_h_recipe_are_read() -> None:
    page = (
        '<article class="h-recipe"><h1 class="p-name">Salt beef</h1><p>For <span class="p-yield">8</span>, <time class="dt-duration" datetime="P7D">a week</time> by <span class="p-author h-card">the cook</span></p>'
        '<ul><li class="p-ingredient">5 lb brisket<li class="p-ingredient">1 gal water</ul><div class="e-instructions"><p>Brine.</p><p>Cook.</p></div></article>'
    )
    assert of(page) == "Salt beef\n\nYield: 8\nTotal time: 7 days\n\nIngredients\n5 lb brisket\n1 gal water\n\nMethod\n1. Brine.\n2. Cook.\n"


# ---- what is seen

PAGE = """<!DOCTYPE html><html><head><title>Our kitchen</title><style>p {color: red}</style></head><body>
<header><a href="/">Our kitchen</a></header><nav><ul><li>Hams</ul></nav>
<article><header><h1>Corned beef</h1></header><p>From the <b>line</b> cook.</p>
<h2>Ingredients</h2><ul><li>5 lb brisket</li><li><p>1½ gal
 water</p></li><li>3<del>0</del>5 g cure, <s>20</s> 25 oz salt</li></ul>
<h2>Method</h2><ol><li>Chill to 38 <sup>o</sup>F.<ul><li>no warmer</li></ul></li><li>Wait.</li></ol>
<table><tr><th></th><th>1x<th>2x</tr><tr><td rowspan="2">Salt<td>8 oz<td>16 oz</tr><tr><td>4 oz<td>8 oz</tr><tr><td colspan="2">both<td>y</table>
<p>Line one<br>line two</p><p hidden>a</p><p aria-hidden="true">b</p><p style="display: none">c</p><template>d</template>
<pre>
  salt   10 oz
 sugar    4 oz
</pre><form>Your mail</form></article><aside>Read more</aside><footer>2024</footer></body></html>"""
PAGE_TEXT = (
    "Corned beef\n\nFrom the line cook.\n\nIngredients\n- 5 lb brisket\n- 1½ gal water\n- ~~305~~ 35 g cure, ~~20~~ 25 oz salt\n\n"
    "Method\n1. Chill to 38°F.\n- no warmer\n2. Wait.\n\n\t1x\t2x\nSalt\t8 oz\t16 oz\n\t4 oz\t8 oz\nboth\t\ty\n\nLine one\nline two\n\n  salt   10 oz\n sugar    4 oz\n"
)


def test_the_words_that_are_seen_are_read_line_by_line() -> None:
    assert of(PAGE) == PAGE_TEXT


@pytest.mark.parametrize(
    ("markup", "words"),
    [
        ("1<sup>1</sup>/<sub>2</sub> cups", "1 1/2 cups"),
        ("1 <sup>1</sup>⁄<sub>2</sub> cups", "1 1/2 cups"),
        ("<sup>1</sup>/<sub>2</sub> cup", "1/2 cup"),
        ("1<sup>1</sup>/2 cups", "1 1/2 cups"),
        ("1<sup>1/2</sup> cups", "1 1/2 cups"),
        ("1<sup>1</sup><sub>2</sub> cups", "1 1/2 cups"),
        ("1&frac12; cups, 1&frasl;2 cup", "1½ cups, 1⁄2 cup"),
        ("160<sup>o</sup>F or 71<sup>0</sup> C", "160°F or 71° C"),
        ("10<sup>2</sup> oz", "10^2 oz"),
        ("salt<sup>2</sup>", "salt [2]"),
        ("NaNO<sub>2</sub> the 1<sup>st</sup>", "NaNO2 the 1st"),
        ("<span class=a>5</span><span class=b>lb</span>", "5 lb"),
        ("a&nbsp;b &lt;c&gt; &copy; &#189;", "a\xa0b <c> © ½"),
        ("<span style='text-decoration: line-through'>20 g</span> 25 g", "~~20 g~~ 25 g"),
        ("<del><p>all</p><p>gone</p></del>", "~~all~~\n\n~~gone~~"),
        ("a<!-- b -->c<script>d</script>", "ac"),
        ("<dl><dt>Serves</dt><dd>8</dd></dl>", "Serves\n8"),
        ("<ol start=3><li>c<li value=7>g<li>h</ol>", "3. c\n7. g\n8. h"),
        ("<ol><li>1. a</li></ol>", "1. a"),
        ("<table><tr><td><table><tr><td>a<td>b</table></table>", "a\tb"),
        ("<table><tr><td>a<br>b<td>c<tr><td>d<td>e</table>", "a b\tc\nd\te"),
        ("<table><tr><td><h2>Salt</h2><ul><li>a<li>b</ul><td><p>c<p>d<p>e<p>f</table>", "Salt\n- a\n- b\n\nc\nd\ne\nf"),
        ("<div>a<div>b</div>c</div>", "a\nb\nc"),
        ("<p>5 lb beef<p>1 lb salt", "5 lb beef\n\n1 lb salt"),
        ("&xx; 1 & 2 < 3", "&xx; 1 & 2 < 3"),
    ],
)
def test_small_markup(markup: str, words: str) -> None:
    assert of(f"<body>{markup}</body>") == f"{words}\n"


@pytest.mark.parametrize(
    ("markup", "words"),
    [
        ("<header>5 lb beef</header>", "5 lb beef\n"),
        ("<form><p>5 lb beef</p></form>", "5 lb beef\n"),
        ("<footer>x</footer><p>5 lb beef</p>", "5 lb beef\n"),
        ("<p>A long page of beef, salt and water</p><article>no</article>", "A long page of beef, salt and water\n\nno\n"),
        ("<div>before</div><main><p>5 lb beef, 1 lb salt</p></main><div>after</div>", "5 lb beef, 1 lb salt\n"),
        ("<article><p>Beef, salt</p></article>x<article><p>Ham, cure</p></article>", "Beef, salt\n\nHam, cure\n"),
        ("<title>Beef</title><p>5 lb beef</p>", "Beef\n\n5 lb beef\n"),
        ("<title>Ours</title><h1>Beef</h1><p>5 lb beef</p>", "Beef\n\n5 lb beef\n"),
        ("", ""),
    ],
    ids=["only a head", "all in a form", "foot", "small article", "main", "two articles", "title", "title and heading", "empty"],
)
def test_the_part_of_the_page_that_is_the_recipe_is_taken(markup: str, words: str) -> None:
    assert of(markup) == words


@pytest.mark.parametrize(
    "data",
    [
        "<p>½ lb – 38 °F</p>".encode(),
        codecs.BOM_UTF8 + "<meta charset=latin1><p>½ lb – 38 °F</p>".encode(),
        codecs.BOM_UTF16_LE + "<p>½ lb – 38 °F</p>".encode("utf-16-le"),
        codecs.BOM_UTF16_BE + "<p>½ lb – 38 °F</p>".encode("utf-16-be"),
        "<p>½ lb – 38 °F</p>".encode("cp1252"),
        "<meta charset=iso-8859-1><p>½ lb – 38 °F</p>".encode("cp1252"),
        "<meta charset=iso-8859-1><p>½ lb – 38 °F</p>".encode(),
        "<meta charset=utf-8><p>½ lb – 38 °F</p>".encode("cp1252"),
        "<meta charset=unicode_escape><p>½ lb – 38 °F</p>".encode(),
        "<?xml version='1.0' encoding='windows-1252'?><p>½ lb – 38 °F</p>".encode("cp1252"),
    ],
)
def test_encodings(data: bytes) -> None:
    assert web.read(data) == Text("½ lb – 38 °F\n")


@pytest.mark.parametrize(("name", "words"), [("windows-1251", "Соль 5 г"), ("macintosh", "Crème – 38 °F"), ("shift_jis", "塩 5 g")])
def test_a_page_in_another_alphabet_is_read_as_it_says(name: str, words: str) -> None:
    markup = f'<meta http-equiv="Content-Type" content="text/html; charset={name}"><p>{words}</p>'
    assert web.read(markup.encode(name)) == Text(f"{words}\n")


def test_nothing_is_fetched_and_no_entity_made() -> None:
    markup = '<!DOCTYPE html [<!ENTITY a "boo"><!ENTITY b SYSTEM "file:///etc/passwd">]><link rel=stylesheet href="file:///etc/passwd"><iframe src="http://127.0.0.1:9/"></iframe><p>&a;&b; 5 lb</p>'
    assert of(markup) == "]>\n\n&a;&b; 5 lb\n"  # as it is seen in a browser


DEEP = 100_000


@pytest.mark.parametrize(
    ("markup", "words"),
    [
        ("<div>" * DEEP + "<p>1 lb salt", "1 lb salt\n"),
        ("<div>" * DEEP + "<p>1 lb salt</p>" + "</div>" * DEEP + "<p>end</p>", "1 lb salt\n\nend\n"),
        ("<p " + " ".join(f"a{at}=1" for at in range(DEEP)) + ">1 lb salt", "1 lb salt\n"),
        ("<form>" * DEEP + "1 lb salt", "1 lb salt\n"),
        ("<s>" * DEEP + "1 lb salt", "~~1 lb salt~~\n"),
        ("<table><tr><td>" * 20_000 + "1 lb salt", "1 lb salt\n"),
        ("<ul><li>" * 20_000 + "1 lb salt", "- 1 lb salt\n"),
        ("<article>" * DEEP + "1 lb salt", "1 lb salt\n"),
        ("<script>" + "</" * DEEP, ""),
        ("<" * DEEP + "p>1 lb salt", None),
        ("<!--" * DEEP, ""),
        ("<p>&" + "amp;" * DEEP, None),
        ("1<sup>1" * 20_000, None),
        (script('{"@type":"Recipe","name":"x","recipeInstructions":' + "[" * 900 + "]" * 900 + "}"), None),
        ("<div itemscope itemtype=schema.org/Recipe>" + "<i itemprop=recipeIngredient>x" * 5_000, None),
    ],
)
def test_hostile_markup_never_raises(markup: str, words: str | None) -> None:
    found = web.read(markup.encode())
    assert isinstance(found, Text | Unreadable) if words is None else found == Text(words)


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"PK\x03\x04\0\0", "a binary file, not a web page"),
        (codecs.BOM_UTF16_LE + b"a", "begins as UTF-16-LE but stops being it at byte 3"),
        (b"<b>" * 200_001, "a web page with tags nested deeper than 200,000"),
        (b"<p>" * 250_001, "a web page with more than 250,000 tags; no recipe has so many"),
        (b"<p>" + b"salt " * 1_000_001, "a web page with more than 4,000,000 characters of text; a recipe of that length is not read"),
    ],
)
def test_what_is_no_page_is_answered_with_a_reason(data: bytes, reason: str) -> None:
    assert web.read(data) == Unreadable(reason)


def test_truncated_pages_never_raise() -> None:
    data = (script(BEEF) + PAGE).encode()
    for length in range(0, len(data), 41):
        assert isinstance(web.read(data[:length]), Text)


PIECES = ["<p>", "</p>", "<table>", "<tr>", "<td rowspan=3 colspan=9>", "</td>", "</table>", "<ul>", "<ol start=2>", "<li>", "</li>", "</ul>", "<s>", "</s>", "<ins>", "<sup>", "</sup>", "<sub>", "/", "1", "2 lb", " salt ", "<br>", "<pre>", "</pre>", "<h1>", "</h1>", "<article>", "</article>", "<form>", "<nav>", "<div hidden>", "</div>", "<span>", "</span>", "<main>", "<header>", '<script type="application/ld+json">', '{"@type":"Recipe","name":', "</script>", "<div itemscope itemtype=x/Recipe>", "<i itemprop=name>", "<i itemprop=recipeIngredient>", "<i itemprop=recipeInstructions>", "<b class='h-recipe p-name e-instructions'>", "\n"]  # fmt: skip


@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join))
def test_no_markup_raises(markup: str) -> None:
    assert isinstance(web.read(markup.encode()), Text)


@given(st.binary(max_size=300))
def test_no_bytes_raise(data: bytes) -> None:
    assert isinstance(web.read(b"<!DOCTYPE html><p>" + data), Text | Unreadable)


@given(st.recursive(st.none() | st.booleans() | st.floats() | st.text(max_size=5) | st.sampled_from(["Recipe", "#a"]), lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["@type", "@id", "name", "text", "recipeIngredient", "recipeInstructions", "recipeYield", "itemListElement", "value", "amount", "totalTime"]), inner, max_size=6), max_leaves=20))
def test_no_script_raises(node: Any) -> None:
    assert isinstance(web.read(script({"@type": "Recipe", "name": "x", "recipeIngredient": node, "recipeInstructions": node, "recipeYield": node, "cookTime": node}).encode()), Text)
