from __future__ import annotations

import json
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace
from ruamel.yaml import YAML

from overhaul.house import House
from overhaul.output import convert
from overhaul.output.tree import number, recipe_tree
from overhaul.recipe.model import Process
from overhaul.sums.work import Sums
from tests.conftest import CORPUS, recipe_of
from tests.output.made import RECIPE, STRENGTH, TEXT

DAY: dict[str, Any] = {"low": 7, "high": 10, "unit": "day"}
CUP = {"low": 3, "high": 3, "unit": "cup"}
WHOLE = {
    "format": "overhaul/1",
    "title": "Corned flat",
    "product": "corned beef",
    "source": {"file": "corned.txt", "sha256": sha256(TEXT.encode()).hexdigest()},
    "yield": {"text": "about 20 portions", "low": 20, "high": 20, "unit": "portion", "line": 2},
    "sections": [
        {
            "name": "Brine",
            "line": 3,
            "use": "cure",
            "ingredients": [
                {
                    "line": 4,
                    "text": "3 cups salt",
                    "name": "salt",
                    "role": "salt",
                    "amount": CUP,
                    "also": [{"low": 12.5, "high": 12.5, "unit": "ounce"}],
                    "instead": [{"name": "kosher salt", "role": "salt", "amount": {"low": 4, "high": 4, "unit": "cup"}}],
                    "columns": [{"factor": 1, "amount": CUP}, {"factor": 2, "amount": {"low": 6, "high": 6, "unit": "cup"}}],
                    "was": [{"low": 5, "high": 5, "unit": "cup"}],
                    "state": "fine",
                    "optional": True,
                    "doubt": "3 or 8?",
                    "mass": {"low": 800, "likely": 876.5, "high": 900, "unit": "gram"},
                },
                {
                    "line": 5,
                    "text": "2 (14 oz) bottles stout",
                    "name": "stout",
                    "role": "liquid",
                    "count": {"low": 2, "high": 2, "unit": "bottle"},
                    "amount": {"low": 14, "high": 14, "unit": "ounce"},
                    "each": True,
                    "per": {"amount": 1, "unit": "gallon", "of": "water"},
                },
            ],
        }
    ],
    "steps": [
        {
            "line": 6,
            "end_line": 6,
            "text": "Cure 7 to 10 days at 38 F, weighed down.",
            "phase": "cure",
            "actions": ["cure"],
            "times": [DAY],
            "temperatures": [{"low": 38, "high": 38, "unit": "degF", "of": "fridge"}],
            "uses": [{"name": "brine"}],
        }
    ],
    "process": {
        "meat": {
            "line": 1,
            "name": "flat",
            "species": "beef",
            "cut": "beef_brisket_flat",
            "pieces": {"low": 2, "high": 2},
            "mass": {"low": 4000, "likely": 4000, "high": 4000, "unit": "gram", "stated": True},
            "thickness": {"low": 40, "likely": 50.8, "high": 60, "unit": "millimetre", "stated": False},
        },
        "cure": {"method": "immersion", "balance": "gradient", "line": 6},
        "cure_time": {**DAY, "line": 6},
        "brine_temperature": {"low": 38, "high": 38, "unit": "degF", "line": 6, "stated": False},
        "weighed_down": {"line": 6},
        "final_temperature": {"low": 203, "high": 203, "unit": "degF", "line": 7, "dwell": {"low": 30, "high": 30, "unit": "minute", "line": 7}},
        "cooling": [{"from": 135, "to": 70, "unit": "degF", "low": 2, "high": 2, "time_unit": "hour", "line": 7}],
        "storage": {"low": 4, "high": 4, "unit": "day", "line": 7, "temperature": {"low": 38, "high": 40, "unit": "degF", "line": 7}, "kept": "cold"},
    },
    "branches": [{"name": "Pot", "steps": [7], "process": {"cure": {"method": "immersion", "balance": None, "line": 6}}, "sums": {}}],
    "notes": [{"line": 7, "text": "Then cook"}],
    "lines": [{"line": line, "kind": kind, "text": text} for line, (kind, text) in enumerate(zip(("title", "note", "heading", "ingredient", "ingredient", "step", "step"), TEXT.splitlines(), strict=True), 1)],
    "unread": [{"line": 7, "column": 21, "text": "4"}],
    "sums": {
        "brine_strength": {
            "low": 4,
            "likely": 5,
            "high": 6.25,
            "unit": "percent",
            "formula": "salt ÷ all the brine",
            "inputs": [
                {"name": "salt", "low": 800, "likely": 876.5, "high": 900, "unit": "gram", "line": 4, "stated": True},
                {"name": "water", "low": 4000, "likely": 4000, "high": 4000, "unit": "gram", "stated": False, "source": "assumed"},
            ],
            "assumed": ["ice melts whole"],
            "sources": ["inspectors-handbook"],
        }
    },
}


def test_the_whole_shape_in_its_order() -> None:
    tree = recipe_tree(RECIPE, {"brine_strength": STRENGTH})
    assert json.dumps(tree, indent=1) == json.dumps(WHOLE, indent=1)


def test_branches_carry_their_own_sums() -> None:
    (branch,) = recipe_tree(RECIPE, {}, branch_sums=[{"brine_strength": STRENGTH}])["branches"]
    assert branch["sums"]["brine_strength"]["likely"] == 5


def test_what_the_recipe_does_not_say_is_left_out() -> None:
    bare = replace(RECIPE, product=None, yields=None, sections=(), steps=(), process=Process(), branches=(), notes=(), unread=())
    assert list(recipe_tree(bare, {})) == ["format", "title", "source", "lines"]


@pytest.mark.parametrize(("value", "shown"), [(Fraction(3), 3), (Fraction(1, 4), 0.25), (Fraction(1, 3), 0.333333333), (2.0, 2), (1e-7, 1e-7), (0.1 + 0.2, 0.3)])
def test_numbers_are_as_a_page_would_print_them(value: Fraction | float, shown: float) -> None:
    assert number(value) == shown
    assert isinstance(number(value), type(shown))


PAGES = sorted(path for path in CORPUS.rglob("*") if path.suffix in {".txt", ".md"} and path.name != "README.md")


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_yaml_and_json_are_the_same_tree_and_keep_every_word(path: Path) -> None:
    raw = path.read_bytes()
    recipe = recipe_of(raw.decode("utf-8"))
    recipes = [(recipe, Sums(recipe, House()))]
    tree = json.loads(convert.render(recipes, "json", raw))
    assert YAML(typ="safe", pure=True).load(convert.render(recipes, "yaml", raw)) == tree
    assert tree["source"]["sha256"] == sha256(raw).hexdigest()
    assert [line["text"] for line in tree["lines"]] == [recipe.page.line(line.number) for line in recipe.page.lines]


def test_several_recipes_are_a_stream_in_yaml_and_a_list_in_json() -> None:
    recipes = [(RECIPE, Sums(RECIPE, House())), (replace(RECIPE, title="Another"), Sums(RECIPE, House()))]
    assert [tree["title"] for tree in json.loads(convert.render(recipes, "json", b""))] == ["Corned flat", "Another"]
    assert [tree["title"] for tree in YAML(typ="safe", pure=True).load_all(convert.render(recipes, "yaml", b""))] == ["Corned flat", "Another"]
