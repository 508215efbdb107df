"""There and back: what must hold for every page."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from overhaul import documents, pipeline, recipe_file, yaml_text
from overhaul.house import House
from overhaul.text import Page
from tests.recipe_file.made import PAGES, again, heads, page_of, read, written

# What schema.org has no words for, or only as part of the page's text: no key of these stands in the JSON-LD.
LOST = {"role", "phase", "process", "sums", "unread", "lines", "mass", "source", "format"}


def holds(text: str) -> None:
    """Fixed point, equal findings and one tree, for one page."""
    house = House()
    page = pipeline.audit(text.encode(), "page.txt", house)
    yaml = written(text)
    lines = list(Page(text).lines)
    assert again(yaml) == yaml
    assert [read(yaml).page.line(line.number) for line in lines] == [Page(text).line(line.number) for line in lines]
    assert heads(recipe_file.audit(yaml.encode(), "page.yaml", house).findings) == heads(page.findings)
    tree = json.loads(written(text, "json"))
    assert [node.plain() for node in yaml_text.nodes(yaml)] == (tree if isinstance(tree, list) else [tree])
    assert again(written(text, "json")) == yaml
    back = written(read(yaml).page.text)
    assert _without_source(back) == _without_source(yaml)


def _without_source(yaml: str) -> list[object]:
    return [{key: value for key, value in node.plain().items() if key != "source"} for node in yaml_text.nodes(yaml)]


def keys(tree: object) -> set[str]:
    if isinstance(tree, dict):
        return set(tree).union(*(keys(inner) for inner in tree.values()))
    return set().union(*(keys(inner) for inner in tree)) if isinstance(tree, list) else set()


def jsonld_holds(text: str) -> None:
    told = written(text, "jsonld")
    assert not keys(json.loads(told)) & LOST
    page = documents.read(told.encode(), "page.jsonld")
    assert isinstance(page, Page), page.reason
    assert [page.line(line.number) for line in page.lines] == [Page(text).line(line.number) for line in Page(text).lines]


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_every_page_of_the_corpus_comes_back(path: Path) -> None:
    holds(page_of(path))
    jsonld_holds(page_of(path))


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_comments_survive_wherever_they_stand(path: Path) -> None:
    yaml = written(page_of(path))
    lines = yaml.splitlines()
    noted = "\n".join(f"{line}  # {number}" if line.rstrip()[-1:] in ("}", "]") else line for number, line in enumerate(lines)) + "\n# the end\n"
    assert again("# ours\n" + noted) == "# ours\n" + noted


AMOUNTS = st.sampled_from(["1 lb", "2 1/2 cups", "3-4 tbsp", "10 g", "1 gal", "2 lb 4 oz", "6", "½ tsp", "2 (14 oz) bottles", "5 %", "4 oz per gallon", "~~5~~ 3 t"])
NAMES = st.sampled_from(["kosher salt", "cure #1", "pork belly", "brown sugar", "water", "ice", "bay leaves", "brisket flats, 9 lb in all", "pink salt", "saltpetre", "oddments"])
STEPS = st.sampled_from(["Mix and chill to 38 F.", "Cure 7 to 10 days in the cooler, turning daily.", "Rinse, soak 2 hours.", "Smoke at 225 F until 160 F inside.", "Rest 30 min. Slice.", "Keeps a week.", "Bring half the water to a boil with 1 cup of the salt.", "See p. 41."])
HOSTILE = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00\r\n"), max_size=30) | st.sampled_from(["<script>alert(1)</script>", "</script><!--", "\u202eabc\u202c", "\x07\x1b[31m", "w" * 3000, "- # : {", "'\"", "&amp; &frac12;", "{{7*7}}", "---", "...", "*a &b !c", "\u2028\x85", "\t\ttabs", "**bold**"])


@st.composite
def pages(draw: st.DrawFn) -> str:
    listed = draw(st.lists(st.tuples(AMOUNTS, NAMES), min_size=1, max_size=6))
    lines = [draw(st.sampled_from(["Bacon", "CORNED BEEF", "Ham, the old way"])), "", *(f"{amount} {name}" for amount, name in listed), "", *draw(st.lists(STEPS, max_size=5))]
    for odd in draw(st.lists(HOSTILE, max_size=2)):
        lines.insert(draw(st.integers(1, len(lines))), odd)
    return "".join(f"{line}\n" for line in lines)


@settings(max_examples=60)
@given(pages())
def test_any_page_comes_back(text: str) -> None:
    holds(text)


@settings(max_examples=40)
@given(pages())
def test_any_page_comes_back_from_json_ld(text: str) -> None:
    jsonld_holds(text)


def test_two_recipes_are_two_documents_and_come_back_as_one_page() -> None:
    text = "Wet brine bacon\n\nIngredients\n5 lb pork belly\n1 gal water\n8 oz salt\n18 g cure #1\n\nMethod\nStir, chill to 38 F. Cure 10 days in the cooler.\n\n\n\nCorned beef\n\nIngredients\n4 lb brisket\n1 gal water\n9 oz salt\n\nMethod\nCure 7 days in the cooler.\nSimmer 3 hours.\n"
    assert len(read(written(text)).backs) == 2
    holds(text)
    jsonld_holds(text)
