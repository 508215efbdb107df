"""The published description: what is written keeps to it, and what breaks it is told with its line."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import Result
from hypothesis import given
from hypothesis import strategies as st

from overhaul import recipe_file, yaml_text
from overhaul.house import House
from overhaul.recipe_file import json_text, schema
from overhaul.yaml_text import BadYaml
from tests.recipe_file.made import PAGE, PAGES, edited, page_of, refused, written

VALIDATOR = jsonschema.Draft202012Validator(schema.schema())
FILE = written(PAGE)


def test_the_description_is_json_schema_and_the_command_prints_it(overhaul: Callable[..., Result]) -> None:
    jsonschema.Draft202012Validator.check_schema(schema.schema())
    done = overhaul("convert", "--schema")
    assert done.exit_code == 0
    assert json.loads(done.stdout) == schema.schema()
    assert json.loads(done.stdout)["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_every_page_of_the_corpus_is_written_as_it_says(path: Path) -> None:
    for node in yaml_text.nodes(written(page_of(path))):
        assert [error.message for error in VALIDATOR.iter_errors(node.plain())] == []
        schema.check(node)


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 3) | st.sampled_from(["gram", "degF", "meat", "salt", "day", "x", "", 0.5]),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.sampled_from(["low", "high", "unit", "line", "text", "name", "odd"]), inner, max_size=3),
    max_leaves=6,
)


@given(st.sampled_from(sorted(schema.schema()["properties"])), VALUES)
def test_the_walker_and_a_validator_agree(key: str, value: Any) -> None:
    """All but the order of low and high, which JSON Schema has no words for."""
    tree = {"format": "overhaul/1", key: value}
    (node,) = json_text.nodes(json.dumps(tree))
    try:
        schema.check(node)
        ours = True
    except BadYaml as problem:
        ours = "in this order" in problem.problem and None  # type: ignore[assignment]
    if ours is not None:
        assert ours == VALIDATOR.is_valid(tree)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("role: cure1", "role: cure3", "line 28: role: one of meat, salt, cure1, cure2, nitrite, nitrate, ready-mix, accelerator, phosphate, sugar, water, ice, liquid, acid, spice, aromatic, fat, smoke, other, nothing expected, not “cure3”"),
        ("title: Loin in the bag", "title: [Loin]", "line 2: title: words or nothing expected, not a list"),
        ("title: Loin in the bag", "titel: Loin in the bag", "line 2: unknown key “titel” in the file; known are format, title, product, source, yield, batch, sections, steps, process, branches, references, notes, lines, unread, sums"),
        ("product: loin", "title: Loin", "line 3: the key “title” stands here twice"),
        ("{low: 3.4, high: 3.4, unit: gram}", "{low: 3.4, high: 3, unit: gram}", "line 29: amount: low, likely and high in this order, not 3.4 before 3"),
        ("{low: 3.4, high: 3.4, unit: gram}", "{low: 3.4, high: 3.4}", "line 29: amount: the key “unit” is missing"),
        ("{low: 3.4, high: 3.4, unit: gram}", "{low: lots, high: 3.4, unit: gram}", "line 29: low: a number expected, not “lots”"),
        ("{low: 3.4, high: 3.4, unit: gram}", "{low: .nan, high: 3.4, unit: gram}", "line 29: low: a number expected, not nan"),
        ("product: loin", "product: *loin", "line 3: found undefined alias 'loin'"),
        ("product: loin", "product: &loin loin", "line 3: anchors and aliases are not read here"),
        ("product: loin", "product: !!python/name:os.system loin", "line 3: the tag “python/name:os.system” is not read here"),
        ("product: loin", "product: {", "line 5: expected ',' or '}', but got ':'"),
        ("- line: 2\n  kind: blank", "- line: 1\n  kind: blank", "line 97: line: a number from 2 up expected, for the lines of the page stand in order, not 1"),
    ],
)  # fmt: skip
def test_what_breaks_it_is_told_with_its_line(old: str, new: str, said: str) -> None:
    assert refused(edited(FILE, (old, new))) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('{"format": "overhaul/1",\n "title": 5}', "line 2: title: words or nothing expected, not 5"),
        ('{"format": "overhaul/1",\n "title": "x"', "line 2: not JSON: it ends too soon"),
        ('{"format": "overhaul/1",\n "title": "x",\n "title": "y"}', "line 3: the key “title” stands here twice"),
        ('{"format": "overhaul/1",\n "lines": ' + "[" * 100_000 + "}", "line 2: nested too deep"),
        ('{"format": "overhaul/1"} x', "line 1: something stands behind the end"),
        ('{"format": "overhaul/1",\n "title": nope}', "line 2: not JSON: a value expected, not “nope}”"),
        ('{"format": "overhaul/1"}', "line 1: a recipe without a title, ingredients, steps or lines: nothing to read"),
        ("format: overhaul/1\nlines: " + "[" * 100_000, "line 1: nested too deep"),
        ("format: overhaul/1\nlines:\n- {line: 1999999, text: x}\n", "line 3: line: a number from 1 up expected, for the lines of the page stand in order, not 1,999,999"),
        ("format: overhaul/1\nlines:\n- line: 1\n  text: \"a\\nb\"\n", "line 4: text: one line of the page expected, not several"),
        ("format: overhaul/1\n" + "# x\n" * 800_000, "longer than 3,000,000 characters; a recipe file of that length is not read"),
        ("format: overhaul/1\n" + "---\nformat: overhaul/1\n" * 600, "601 recipes in one file; 1 to 500 are read"),
    ],
)  # fmt: skip
def test_hostile_files_are_answered_in_one_line(text: str, said: str) -> None:
    assert refused(text) == said


@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "replace")))
def test_no_file_is_too_broken(tail: bytes) -> None:
    audited = recipe_file.audit(b"format: overhaul/1\n" + tail, "x.yaml", House())
    assert audited.unreadable is None or "please report it" not in audited.unreadable
