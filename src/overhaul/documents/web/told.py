"""Recipes as a web page tells them to machines: JSON-LD and microdata of schema.org/Recipe, and the classes of h-recipe."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Callable, Iterator
from typing import Any, Protocol

from msgspec import Struct

from overhaul.documents.lines import DEEPEST
from overhaul.documents.web.differing import same
from overhaul.documents.web.markup import CONTROL, Events, Open, events_of
from overhaul.documents.web.seen import Line, Seen


class Page(Protocol):
    """What is needed of the page."""

    events: Events

    def part(self, at: int) -> list[Line]:
        """The lines of the element that opens at ``at``."""


class Recipe(Struct):
    """A recipe as a page tells it. ``steps`` : words, and whether they are a heading."""

    name: str
    yields: list[str]
    times: list[tuple[str, str]]
    ingredients: list[str]
    steps: list[tuple[str, bool]]

    @property
    def whole(self) -> bool:
        return bool(self.ingredients and self.steps)


_Cut = Callable[[str], list[str]]
_ISO = re.compile(r"P(?:([\d.,]+)Y)?(?:([\d.,]+)M)?(?:([\d.,]+)W)?(?:([\d.,]+)D)?(?:T(?:([\d.,]+)H)?(?:([\d.,]+)M)?(?:([\d.,]+)S)?)?", re.IGNORECASE)
_PERIODS = ("year", "month", "week", "day", "hour", "minute", "second")
_TIMES = (("Prep time", "prepTime"), ("Cook time", "cookTime"), ("Total time", "totalTime"))
_RECIPE_TYPE = re.compile(r"(?:^|[/:#])recipe/?$", re.IGNORECASE)


def _period(text: str) -> str:
    """``PT1H30M`` in words; what is no such time stays as it is, nothing for a time of zero."""
    found = _ISO.fullmatch(text.strip()[:60])
    if found is None or not any(found.groups()):
        return "" if found is not None else text
    told = []
    for written, period in zip(found.groups(), _PERIODS, strict=True):
        figure = re.sub(r"(\.\d*?)0+$", r"\1", (written or "0").replace(",", ".")).removesuffix(".")
        figure = re.sub(r"^0+(?=\d)", "", figure)
        if figure.strip("0."):
            told.append(f"{figure} {period}{'' if figure == '1' else 's'}")
    return " ".join(told)


def _values(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _types(node: dict[str, Any]) -> list[str]:
    return [each for each in _values(node.get("@type")) if isinstance(each, str)]


class _Told:
    """Builds recipes from nodes of schema.org's words; ``cut`` makes lines of one string, ``names`` are nodes by their @id."""

    def __init__(self, cut: _Cut, names: dict[str, dict[str, Any]]) -> None:
        self._cut, self._names = cut, names

    def recipe(self, node: dict[str, Any]) -> Recipe:
        steps: list[tuple[str, bool]] = []
        for value in _values(node.get("recipeInstructions", node.get("instructions"))):
            self._steps(value, steps, 0)
        times = [(label, _period(" ".join(self._lines(node.get(key))))) for label, key in _TIMES]
        yields = [line for value in _values(node.get("recipeYield", node.get("yield"))) for line in self._lines(value)]
        yields = list(dict.fromkeys(yields))
        ingredients, older = (_values(node.get(key)) for key in ("recipeIngredient", "ingredients"))
        ingredients += [] if older == ingredients else older
        return Recipe(
            " ".join(self._lines(node.get("name") or node.get("headline"))),
            [each for each in yields if not any(each in other for other in yields if other != each)],  # 8, 8 servings
            [(label, time) for label, time in times if time],
            [line for value in ingredients for line in self._lines(value)],
            steps,
        )

    def _lines(self, value: Any, deep: int = 0) -> list[str]:
        """The lines of a value that should be words but may be a figure, an amount with its unit or a list."""
        if isinstance(value, bool) or value is None or deep > DEEPEST:
            return []
        if isinstance(value, str):
            return self._cut(value)
        if isinstance(value, (int, float)):
            return [f"{value:g}" if abs(value) < 1e6 else str(value)]
        if isinstance(value, list):
            return [line for each in value for line in self._lines(each, deep + 1)]
        node = self._node(value)
        if "text" in node:
            return self._lines(node["text"], deep + 1)
        amount = node.get("amount", node.get("requiredQuantity", node.get("value")))
        parts = [amount, node.get("unitText") if not isinstance(amount, dict) else None, node.get("name")]
        told = " ".join(line for part in parts for line in self._lines(part, deep + 1))
        return [told] if told else []

    def _node(self, node: dict[str, Any]) -> dict[str, Any]:
        """The node, or the one told elsewhere that it only points to."""
        name = node.get("@id")
        return self._names.get(name, node) if isinstance(name, str) and len(node) <= 2 else node

    def _steps(self, value: Any, steps: list[tuple[str, bool]], deep: int) -> None:
        if deep > DEEPEST or len(steps) > 10_000:
            return
        if isinstance(value, list):
            for each in value:
                self._steps(each, steps, deep + 1)
        elif isinstance(value, dict):
            node = self._node(value)
            inner = node.get("itemListElement", node.get("steps", node.get("item")))
            name = self._lines(node.get("name"))
            if inner is not None:
                if name:
                    steps.append((name[0].rstrip(" :"), True))
                self._steps(inner, steps, deep + 1)
                return
            text = self._lines(node.get("text", node.get("description")))
            if name and text and not same(text[0]).startswith(same(name[0]).rstrip(".… ")) and not re.fullmatch(r"step \d+", name[0], re.IGNORECASE):
                text[0] = f"{name[0]}{'' if name[0][-1] in '.:!?' else ':'} {text[0]}"
            steps += [(line, False) for line in text or name]
        else:
            steps += [(line.rstrip(" :"), True) if line.endswith(":") and len(line.split()) <= 9 else (line, False) for line in self._lines(value)]


_CUTS = re.compile(r"<(?:p|br|li|div|tr|h\d)\b", re.IGNORECASE)


def _cut_plain(text: str) -> list[str]:
    return [line for each in text.splitlines() if (line := " ".join(each.split()))]


def _cut_markup(text: str) -> list[str]:
    """The lines of a string of a script, which may hold tags and entities, even entities of entities."""
    for _ in range(2):
        text = html.unescape(text) if "&" in text and "<" not in text else text
    if re.search(r"<[a-zA-Z/!]", text):
        if not _CUTS.search(text):
            text = "".join(part if part[:1] == "<" else part.replace("\n", "<br>") for part in re.split(r"(<[^<>]*>)", text))
        events = events_of(text)
        return [line.plain for line in Seen(events, frozenset()).lines(0, len(events))]
    return _cut_plain(CONTROL.sub("", text))


def _scripts(events: Events) -> Iterator[Any]:
    """What each JSON-LD script of the page holds."""
    for at, event in enumerate(events):
        if isinstance(event, Open) and event.tag == "script" and event.get("type").lower().split(";")[0].strip() == "application/ld+json":
            text = "".join(each for each in events[at + 1 : event.end] if isinstance(each, str))
            for sign in ("//", "<!--", "<![CDATA["):
                text = text.strip().removeprefix(sign)
            for sign in ("]]>", "-->", "//", ";"):
                text = text.strip().removesuffix(sign)
            for each in (text, re.sub(r",(?=\s*[}\]])", "", text)):
                try:
                    yield json.loads(each, strict=False)
                    break
                except (ValueError, RecursionError):
                    continue


def from_scripts(page: Page) -> list[Recipe]:
    found: list[dict[str, Any]] = []
    names: dict[str, dict[str, Any]] = {}
    for script in _scripts(page.events):
        waiting = [script]
        while waiting:
            node = waiting.pop()
            if isinstance(node, list):
                waiting += reversed(node)
            elif isinstance(node, dict):
                if isinstance(node.get("@id"), str) and len(node) > 2:
                    names.setdefault(node["@id"], node)
                if any(map(_RECIPE_TYPE.search, _types(node))):
                    found.append(node)
                waiting += [value for value in reversed(node.values()) if isinstance(value, (dict, list))]
    told = _Told(_cut_markup, names)
    return [told.recipe(node) for node in found]


class _Marked(Struct):
    """An item of microdata while it is open."""

    node: dict[str, Any]
    end: int


def from_items(page: Page) -> list[Recipe]:
    """Recipes of microdata: ``itemscope``, ``itemtype``, ``itemprop``."""
    found: list[dict[str, Any]] = []
    items: list[_Marked] = []
    for at, event in enumerate(page.events):
        while items and at >= items[-1].end:
            items.pop()
        if not isinstance(event, Open) or not event.attributes:
            continue
        scope = "itemscope" in event.attributes
        names = event.get("itemprop").split() if items and len(items) <= DEEPEST else []
        value: Any = {"@type": event.get("itemtype").split()} if scope else None
        if names and value is None:
            value = event.attributes.get("content") if event.tag == "meta" else event.attributes.get("datetime") or event.attributes.get("content")
            value = "\n".join(line.plain for line in page.part(at)) if value is None else value
        for name in names:
            items[-1].node.setdefault(name, []).append(value)
        if scope:
            if not items and any(map(_RECIPE_TYPE.search, value["@type"])):
                found.append(value)
            if items or any(map(_RECIPE_TYPE.search, value["@type"])):
                items.append(_Marked(value, event.end))
    told = _Told(_cut_plain, {})
    return [told.recipe(node) for node in found]


_CLASSES = {
    "p-name": "name", "fn": "name", "p-ingredient": "recipeIngredient", "ingredient": "recipeIngredient", "e-instructions": "recipeInstructions",
    "instructions": "recipeInstructions", "p-yield": "recipeYield", "yield": "recipeYield", "dt-duration": "totalTime", "duration": "totalTime",
}  # fmt: skip


def from_classes(page: Page) -> list[Recipe]:
    """Recipes of the classes of h-recipe, and of hrecipe before it."""
    found: list[dict[str, Any]] = []
    end = inside = 0
    for at, event in enumerate(page.events):
        if not isinstance(event, Open) or not event.attributes:
            continue
        classes = event.get("class").split()
        if at >= end and ("h-recipe" in classes or "hrecipe" in classes):
            found.append({})
            end = event.end
        elif at < end and at >= inside:
            for name in classes:
                if name in _CLASSES and not (name in ("p-name", "fn") and "name" in found[-1]):
                    value = (event.get("datetime") or event.get("title")) if _CLASSES[name] == "totalTime" else ""
                    found[-1].setdefault(_CLASSES[name], []).append(value or "\n".join(line.plain for line in page.part(at)))
                    inside = event.end
    told = _Told(_cut_plain, {})
    return [told.recipe(node) for node in found]
