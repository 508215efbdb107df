"""A recipe file read back: its fields count, its text is history.

The page kept in ``lines`` is read as any page. Where a field says another thing than that reading, somebody edited it: its words
are put on the page where the old ones stood and the page is read again, so that all that hangs on them follows. What words cannot
carry is then laid over the reading. Fields nobody touched, and keys that are absent, follow the page; a key that is null says that
there is none. Grams and sums are always worked anew.
"""

from __future__ import annotations

import itertools
import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from overhaul.house import House
from overhaul.output.tree import recipe_tree
from overhaul.reading import lexicon, units
from overhaul.recipe import read_page, weighing
from overhaul.recipe.model import CURING_SALTS, Amount, Edited, Ingredient, Process, Recipe, Section, Step, Yield
from overhaul.recipe_file import fields, schema
from overhaul.recipe_file.page import Change, Changed, page_of, without
from overhaul.recipe_file.words import amount_words, ingredient_words, said
from overhaul.text import Excerpt, Page, Place
from overhaul.yaml_text import BadYaml, Node

Data = dict[str, Any]
_WORKED = frozenset(["line", "end_line", "mass", "sums", "lines", "unread", "references", "source", "format", "batch"])
_ITEM = ("name", "role", "count", "amount", "each", "per", "also", "instead", "columns", "was", "strength", "state", "optional", "in_method", "doubt")
_STEP = ("phase", "then", "actions", "times", "temperatures", "lengths", "uses", "amounts")
_UNSAID = frozenset(["state", "optional", "in_method", "doubt", "actions", "then"])  # a hand on these changes no sum and is not asked about
_NO_WORDS = Place(0, 0)
_LINE_END = re.compile(r"\r\n|[\r\n]")


class Back(Struct, frozen=True):
    """One document of a file: its node, the recipe it is, and which of its parts stands where in it."""

    node: Node
    recipe: Recipe
    items: tuple[tuple[Node, Ingredient], ...]
    steps: tuple[tuple[Node, Step], ...]
    worked: frozenset[str]  # keys of its process that nobody edited
    page: Page  # of the whole file, the words of edited fields in place of the old ones
    line_of: tuple[int, ...]  # the line of the file's own ``lines`` that each line of the recipe's page was


class _Pair(Struct):
    """An entry of the file beside what the page gives for it."""

    node: Node
    told: Data
    use: Any = None  # what its list is for; of a step None
    start: int = -1  # where its words stand on the page that is read next
    base: Any = None
    tree: Data = {}
    hand: set[str] = set()


def read_back(documents: Sequence[Node], name: str, house: House) -> list[Back]:
    """The recipes of ``documents``. Raises BadYaml for what cannot stand."""
    for document in documents:
        schema.check(document)
    with lexicon.house_names(house.names):
        return _Reader(documents, page_of(documents, name), house).back()


def bare(value: Any) -> Any:
    """``value`` without what is empty and without what is always worked anew."""
    if isinstance(value, dict):
        return {key: inner for key, raw in value.items() if key not in _WORKED and raw not in (None, [], {}) and (inner := bare(raw)) is not None}
    return [bare(inner) for inner in value] if isinstance(value, list) else value


def spot(node: Node, key: str | None = None) -> tuple[int, int]:
    """Where ``key`` of ``node`` stands in the file: its value if that is one scalar or in braces, else the key."""
    inner = node.at(key) if key is not None else None
    if inner is None:
        first = next(iter(node.keys.values()), None)
        return first if first is not None else (node.start, node.start)
    block = isinstance(inner.value, (dict, list)) and not (isinstance(inner.value, dict) and inner.keys and next(iter(inner.keys.values()))[0] == inner.start + 1)
    return node.keys[key] if key is not None and (block or inner.start == inner.end) else (inner.start, inner.end)


class _Reader:
    """The way from the page of the file to its recipes."""

    def __init__(self, documents: Sequence[Node], page: Page, house: House) -> None:
        self.documents, self.page, self.house = documents, page, house
        self.plain = [document.plain() for document in documents]
        self.items = [[_Pair(node, node.plain(), _use(section)) for section in _nodes(document, "sections") for node in _nodes(section, "ingredients")] for document in documents]
        self.steps = [[_Pair(node, node.plain()) for node in _nodes(document, "steps")] for document in documents]
        self.edited: list[list[Edited]] = [[] for _ in documents]
        self.hand: list[set[str]] = [set() for _ in documents]

    def back(self) -> list[Back]:
        recipes, trees = self._read(self.page)
        same = [bare(tree) == bare(told) for tree, told in zip(trees, self.plain, strict=True)]
        first = second = Changed(self.page, [])
        for at, recipe in enumerate(recipes):
            self._align(at, recipe, trees[at])
        if not all(same):
            first = Changed(self.page, [change for at, recipe in enumerate(recipes) if not same[at] for change in self._texts(at, recipe)])
            recipes, trees = self._again(recipes, trees, first, self.page)
            for at, recipe in enumerate(recipes):
                if not same[at]:
                    self._compare(at, recipe, trees[at])
            second = Changed(first.page, [change for at, recipe in enumerate(recipes) if not same[at] for change in self._fields(at, recipe, trees[at])])
            recipes, trees = self._again(recipes, trees, second, first.page)
        lines = tuple(self.page.line_at(first.back(second.back(line.place.start))) for line in second.page.lines)
        return [self._made(at, recipe, trees[at], second.page, lines, same[at]) for at, recipe in enumerate(recipes)]

    def _read(self, page: Page) -> tuple[list[Recipe], list[Data]]:
        """One recipe a document: of the whole page, or of each document's own lines where the page splits otherwise."""
        recipes = read_page(page, self.house)
        if len(recipes) != len(self.documents):
            recipes = [found for document in self.documents for found in read_page(self._alone(page, document), self.house)[:1]]
        if len(recipes) != len(self.documents):
            raise BadYaml(self.documents[0].line, "a recipe without a line of words: nothing to read")
        return recipes, [recipe_tree(recipe, {}) for recipe in recipes]

    def _alone(self, page: Page, document: Node) -> Page:
        """The page with every other line blank, so that places stay."""
        if len(self.documents) == 1:
            return page
        own = {one.value["line"].value for one in _nodes(document, "lines")} or {1}
        return Excerpt(page, range(max(1, min(own)), min(max(own), len(page.lines)) + 1))

    def _again(self, recipes: list[Recipe], trees: list[Data], changed: Changed, before: Page) -> tuple[list[Recipe], list[Data]]:
        if changed.page is before:
            return recipes, trees
        recipes, trees = self._read(changed.page)
        for at, recipe in enumerate(recipes):
            for pairs, listed, told in ((self.items[at], recipe.ingredients, _listed(trees[at])), (self.steps[at], recipe.steps, trees[at].get("steps", []))):
                found: list[Any] = list(listed)
                free: dict[int, list[int]] = {}  # by line
                for index, one in enumerate(found):
                    free.setdefault(changed.page.line_at(one.place.start), []).append(index)
                for pair in pairs:
                    if pair.start < 0:
                        continue
                    want = changed.forward(pair.start) if pair.base is not None else changed.forward(pair.start) - len(_own_words(pair.told))
                    near = free.get(changed.page.line_at(want), [])
                    best = min(near, key=lambda index: abs(found[index].place.start - want), default=None)
                    if best is not None:
                        near.remove(best)
                    pair.base, pair.tree = (found[best], told[best]) if best is not None else (None, {})
                    pair.start = pair.base.place.start if pair.base is not None else -1
        return recipes, trees

    def _align(self, at: int, recipe: Recipe, tree: Data) -> None:
        for pairs, found, told in ((self.items[at], recipe.ingredients, _listed(tree)), (self.steps[at], recipe.steps, tree.get("steps", []))):
            free = set(range(len(found)))
            for of_page, of_file in ((_all_of, _all_told), (_text_of, _text_told), (_line_of, _line_told)):
                like: dict[Any, list[int]] = {}
                for index in sorted(free, reverse=True):
                    like.setdefault(of_page(found[index]), []).append(index)
                for pair in pairs:
                    if pair.base is None and (alike := like.get(of_file(pair.told))):
                        index = alike.pop()
                        free.remove(index)
                        pair.base, pair.tree, pair.start = found[index], told[index], found[index].place.start

    def _texts(self, at: int, recipe: Recipe) -> Iterator[Change]:
        """The words somebody edited in ``text``, on the page."""
        for pair in (*self.items[at], *self.steps[at]):
            new = pair.told.get("text")
            if pair.base is not None and new and new != pair.base.text and not getattr(pair.base, "in_method", False):
                yield Change(pair.base.place.start, pair.base.place.end, _flat(new))
        for told, note in zip(self.plain[at].get("notes") or (), recipe.notes, strict=False):
            if told["text"] != note.text:
                yield Change(note.place.start, note.place.end, _flat(told["text"]))

    def _compare(self, at: int, recipe: Recipe, tree: Data) -> None:
        """What is another thing in the file than in its text."""
        for pairs, keys in ((self.items[at], _ITEM), (self.steps[at], _STEP)):
            for pair in pairs:
                pair.hand = {key for key in keys if key in pair.told and bare(pair.told.get(key)) != bare(pair.tree.get(key)) and not (_nothing(pair.told.get(key)) and _nothing(pair.tree.get(key)))}
                name = pair.told.get("name") or ("step" if keys is _STEP else "ingredient")
                if pair.base is None:
                    self._ask(at, spot(pair.node), "an entry of its own", f"“{_own_words(pair.told)}”", None)
                    continue
                for key in keys:
                    if key in pair.hand - _UNSAID:
                        self._ask(at, _first_edited(pair, key), f"the {key.replace('_', ' ')} of the {name}", said(bare(pair.told.get(key))), said(bare(pair.tree.get(key))))
        for found, key in self._struck(at, recipe):
            self._ask(at, spot(self.documents[at], key), "an entry of its own", "nothing", f"“{_flat(found.text)}”")
        told, read = self.plain[at].get("process") or {}, tree.get("process", {})
        node = self.documents[at].at("process") or self.documents[at]
        self.hand[at] = {key for key in schema.schema()["$defs"]["process"]["properties"] if key in told and bare(told[key]) != bare(read.get(key)) and not (_nothing(told[key]) and _nothing(read.get(key)))}  # a mention is no more than its line
        for key in sorted(self.hand[at]):
            self._ask(at, spot(node, key), f"the {key.replace('_', ' ')}", _done_or(told.get(key)), _done_or(read.get(key)))
        for key in ("title", "product", "yield"):
            own = self.plain[at].get(key)
            if key in self.plain[at] and bare(own) != bare(tree.get(key)) and not (key == "title" and not own):
                self._ask(at, spot(self.documents[at], key), f"the {key}", said(bare(own)), said(bare(tree.get(key))))

    def _ask(self, at: int, place: tuple[int, int], what: str, field: str, text: str | None) -> None:
        """Its place is that in the file; ``_made`` puts it behind the end of the page."""
        self.edited[at].append(Edited(Place(*place), what, field, text if text is not None else "nothing"))

    def _fields(self, at: int, recipe: Recipe, tree: Data) -> Iterator[Change]:
        """The words of edited fields where the old words stood; new entries as lines, struck ones gone."""
        for pair in self.items[at]:
            if pair.base is not None:
                yield from _item_words(pair)
        for pair in self.steps[at]:
            if pair.base is not None:
                yield from _step_words(pair)
        yield from self._fact_words(at, recipe)
        own = self.plain[at]
        if own.get("title") and own["title"] != recipe.title and recipe.title_place.start < recipe.title_place.end:
            yield Change(recipe.title_place.start, recipe.title_place.end, _flat(own["title"]))
        for found, _ in self._struck(at, recipe):
            yield without(recipe.page, found.place)
        for pairs in (self.items[at], self.steps[at]):
            last: Any = None
            for pair in pairs:
                if pair.base is not None:
                    last = pair.base
                elif last is not None and not pair.told.get("in_method") and _own_words(pair.told):
                    end = recipe.page.lines[recipe.page.line_at(max(last.place.start, last.place.end - 1)) - 1].place.end
                    pair.start = end
                    yield Change(end, end, "\n" + _own_words(pair.told))

    def _struck(self, at: int, recipe: Recipe) -> Iterator[tuple[Any, str]]:
        """What the page has and the file no longer, with the key of the list that it was in."""
        stays = sorted(pair.base.place for pair in (*self.items[at], *self.steps[at]) if pair.base is not None)
        ends = list(itertools.accumulate((place.end for place in stays), max))
        for key, listed in (("sections", recipe.ingredients), ("steps", recipe.steps)):
            for found in listed if key in self.plain[at] else ():
                before = bisect_right(stays, found.place.start, key=lambda place: place.start)
                if not before or ends[before - 1] <= found.place.start:  # not within a line or sentence that stays
                    yield found, key

    def _fact_words(self, at: int, recipe: Recipe) -> Iterator[Change]:
        told = self.plain[at].get("process") or {}
        figures = {measured.amount.place: measured.amount for step in recipe.steps for measured in (*step.times, *step.temperatures)}
        for key in sorted(self.hand[at]):
            fact = getattr(recipe.process, key, None)
            amount = figures.get(getattr(fact, "place", _NO_WORDS))
            if fact is not None and amount is not None and isinstance(told[key], dict) and "low" in told[key] and _alike(amount, fact, told[key]["unit"]):
                yield Change(fact.place.start, fact.place.end, amount_words(told[key]))

    def _made(self, at: int, recipe: Recipe, tree: Data, page: Page, lines: tuple[int, ...], same: bool) -> Back:
        """The recipe with all laid over it that its page cannot say."""
        behind = len(recipe.page.text) + 1
        process = tree.get("process", {})
        if not same:
            recipe = self._laid_over(at, recipe, tree, behind)
            edited = tuple(replace(one, place=Place(one.place.start + behind, one.place.end + behind)) for one in self.edited[at])
            recipe = replace(recipe, edited=edited, ways=tuple(replace(way, edited=edited) for way in recipe.ways))
        items = tuple((pair.node, pair.base) for pair in self.items[at] if pair.base is not None)
        steps = tuple((pair.node, pair.base) for pair in self.steps[at] if pair.base is not None)
        return Back(self.documents[at], recipe, items, steps, frozenset(key for key in (*process, *(self.plain[at].get("process") or {})) if key not in self.hand[at]), page, lines)

    def _laid_over(self, at: int, recipe: Recipe, tree: Data, behind: int) -> Recipe:
        told = self.plain[at]
        new: dict[int, Ingredient | Step] = {}
        for pair in (*self.items[at], *self.steps[at]):
            keys = {key for key in pair.hand if bare(pair.told.get(key)) != bare(pair.tree.get(key))} if pair.base is not None else set()
            if pair.base is not None and not keys:
                continue
            place = pair.base.place if pair.base is not None else _behind(spot(pair.node), behind)
            if pair.use is not None:
                new[id(pair)] = fields.ingredient(pair.told, pair.base, keys, place, pair.use, self.house)
            else:
                new[id(pair)] = fields.step(pair.told, pair.base, keys, place)
        swapped = {pair.base.place: new[id(pair)] for pair in (*self.items[at], *self.steps[at]) if id(pair) in new and pair.base is not None}
        added = [new[id(pair)] for pair in (*self.items[at], *self.steps[at]) if pair.base is None]
        kept = {pair.base.place for pair in (*self.items[at], *self.steps[at]) if pair.base is not None}
        kept |= {item.place for item in recipe.ingredients if "sections" not in told} | {step.place for step in recipe.steps if "steps" not in told}
        for pair in (*self.items[at], *self.steps[at]):
            pair.base = new.get(id(pair), pair.base)
        node = self.documents[at]
        whole = self._over(recipe, told.get("process") or {}, self.hand[at], node.at("process") or node, swapped, added, kept, behind)
        ways = []
        for index, way in enumerate(recipe.ways):
            branch = node.at("branches", index)
            own = (branch.plain().get("process") or {}) if branch is not None else {}
            read = tree["branches"][index].get("process", {})
            hand = {key for key in own if bare(own[key]) != bare(read.get(key))}
            product = told["product"] if "product" in told and told["product"] != tree.get("product") else way.product
            ways.append(self._over(replace(way, product=product), own, hand, (branch.at("process") if branch is not None else None) or node, swapped, added, kept, behind))
        process = ways[0].process if ways else whole.process
        names = _nodes(node, "branches")
        branches = tuple(replace(one, process=way.process, name=names[index].value["name"].value if index < len(names) else one.name) for index, (one, way) in enumerate(zip(recipe.branches, ways, strict=True)))
        title = told.get("title") or recipe.title
        return replace(
            whole, process=process, ways=tuple(ways), branches=branches, title=title, product=told.get("product", recipe.product),
            yields=_yields(told, recipe, behind),
        )  # fmt: skip

    def _over(self, recipe: Recipe, told: Data, hand: set[str], node: Node, swapped: dict[Place, Any], added: list[Any], kept: set[Place], behind: int) -> Recipe:
        """``recipe`` with edited ingredients, steps and facts in place of those of its page."""
        sections = [replace(section, ingredients=tuple(swapped.get(item.place, item) for item in section.ingredients if item.place in kept)) for section in recipe.sections]
        fresh = tuple(one for one in added if isinstance(one, Ingredient))
        if fresh:
            sections = [*sections[:-1], replace(sections[-1], ingredients=(*sections[-1].ingredients, *fresh))] if sections else [Section(None, 1, recipe.title_place, fresh, "cure")]
        steps = (*(swapped.get(step.place, step) for step in recipe.steps if step.place in kept), *(one for one in added if isinstance(one, Step)))
        process = fields.process(told, recipe.process, hand, lambda key: _behind(spot(node, key), behind)) if hand else recipe.process
        process = _weighed(process, sections)
        sections = weighing.rates(recipe.page, sections, process, self.house)
        cured = recipe.cured or any(item.role in CURING_SALTS for section in sections for item in section.ingredients)
        return replace(recipe, sections=tuple(sections), steps=steps, process=process, cured=cured)


def _weighed(process: Process, sections: list[Section]) -> Process:
    """The meat as heavy as its line says now."""
    weights = {item.line: item for section in sections for item in section.ingredients if item.role == "meat" and item.mass is not None}
    lines = [meat.line for meat in process.meats]

    def anew(meat: Any) -> Any:
        item = weights.get(meat.line)
        return replace(meat, mass=item.mass, mass_stated=item.weighed) if item is not None and lines.count(meat.line) == 1 and item.weighed and meat.mass_stated else meat

    return replace(process, meat=anew(process.meat) if process.meat is not None else None, meats=tuple(anew(meat) for meat in process.meats))


def _yields(told: Data, recipe: Recipe, behind: int) -> Yield | None:
    own = told.get("yield")
    if not own or not all(own.get(key) is not None for key in ("low", "high", "unit")):
        return recipe.yields if "yield" not in told else None
    old = recipe.yields or Yield(own.get("text") or "", fields.exact(own["low"]), fields.exact(own["high"]), own["unit"], own.get("line") or 1, Place(behind, behind))
    return replace(old, text=own.get("text") or old.text, low=fields.exact(own["low"]), high=fields.exact(own["high"]), unit=own["unit"])


def _item_words(pair: _Pair) -> Iterator[Change]:
    base: Ingredient = pair.base
    for key, old in (("amount", base.amount), ("count", base.count)):
        if key in pair.hand and pair.told.get(key) and old is not None:
            yield Change(old.place.start, old.place.end, amount_words(pair.told[key]))
    if "also" in pair.hand and len(pair.told.get("also") or ()) == len(base.also):
        for told, also in zip(pair.told.get("also") or (), base.also, strict=True):
            if bare(told) != {"low": float(also.low), "high": float(also.high), "unit": also.unit}:
                yield Change(also.place.start, also.place.end, amount_words(told))
    if "name" in pair.hand and pair.told.get("name") and base.name_place.start < base.name_place.end:
        yield Change(base.name_place.start, base.name_place.end, _flat(pair.told["name"]))


def _step_words(pair: _Pair) -> Iterator[Change]:
    for key in ("times", "temperatures", "lengths"):
        told, read, old = pair.told.get(key) or [], pair.tree.get(key) or [], getattr(pair.base, key)
        if key in pair.hand and len(told) == len(old):
            for new, was, measured in zip(told, read, old, strict=True):
                if bare(new) != bare(was):
                    yield Change(measured.amount.place.start, measured.amount.place.end, amount_words(new))


def _done_or(value: Any) -> str:
    """A mention is no more than its line; all else in words."""
    return "that it is done" if bare(value) == {} and value else said(bare(value))


def _alike(amount: Amount, fact: Any, unit: str) -> bool:
    """Whether ``amount`` on the page is the whole of what ``fact`` says, whose unit is ``unit``."""
    if units.dimension(amount.unit) == "temperature":
        return amount.unit in ("degF", "degC") and (fact.low, fact.high) == (units.fahrenheit(amount.low, amount.unit), units.fahrenheit(amount.high, amount.unit))
    if units.dimension(amount.unit) != "time" or units.dimension(unit) != "time":
        return False
    own = "day" if not hasattr(fact, "unit") else fact.unit
    ends = ((amount.low, fact.low), (amount.high, fact.high))
    return all(units.hours(end, amount.unit) == units.hours(fields.exact(said), own) for end, said in ends)


def _first_edited(pair: _Pair, key: str) -> tuple[int, int]:
    """The place of ``key``: in a list as long as before, that of the first entry that is another."""
    told, read = pair.told.get(key), pair.tree.get(key)
    if isinstance(told, list) and isinstance(read, list) and len(told) == len(read):
        one = next((pair.node.at(key, index) for index, (new, old) in enumerate(zip(told, read, strict=True)) if bare(new) != bare(old)), None)
        if one is not None:
            return one.start, one.end
    return spot(pair.node, key)


def _own_words(told: Data) -> str:
    return _flat(told.get("text") or (ingredient_words(told) if "actions" not in told and "phase" not in told else " ".join(told.get("actions") or ())))


def _flat(text: str) -> str:
    return _LINE_END.sub(" ", text)


def _behind(place: tuple[int, int], behind: int) -> Place:
    return Place(place[0] + behind, place[1] + behind)


def _nothing(value: Any) -> bool:
    return value is None or value is False or value in ([], {})


def _nodes(node: Node, key: str) -> list[Node]:
    inner = node.at(key)
    return inner.value if inner is not None and isinstance(inner.value, list) else []


def _listed(tree: Data) -> list[Data]:
    return [item for section in tree.get("sections", ()) for item in section["ingredients"]]


def _all_of(one: Any) -> Any:
    return one.line, one.text, getattr(one, "name", None)


def _all_told(told: Data) -> Any:
    return told.get("line"), told.get("text"), told.get("name")


def _text_of(one: Any) -> Any:
    return one.text


def _text_told(told: Data) -> Any:
    """The entry's words: its text, or what stands for it on a page made of fields."""
    return told.get("text") or _own_words(told)


def _line_of(one: Any) -> Any:
    return one.line


def _line_told(told: Data) -> Any:
    return told.get("line")


def _use(section: Node) -> Any:
    use = section.at("use")
    return use.value if use is not None and use.value is not None else "cure"
