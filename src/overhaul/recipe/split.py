"""A page cut into its recipes, and a recipe into the ways it can be finished.

A cut is made only where both sides can stand as recipes: a component (rub, spice, sauce) with a heading of its own is no recipe.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from overhaul.reading import lexicon
from overhaul.reading.lines import Block
from overhaul.reading.patterns import Pattern
from overhaul.reading.tree import Chain
from overhaul.recipe import TooMuch
from overhaul.recipe.model import CURING_SALTS, Product
from overhaul.recipe.products import product_of
from overhaul.text import Excerpt, Page, bare

_COMPONENT = Pattern(
    r"\b(?:brine|pickle|rub|spices?|spice mix|blend|crust|glaze|sauce|mop|spritz|pot|meat|serve|serving|finish|method|directions?|instructions?|steps|ingredients?|notes?|equipment|procedure|storage|holding|service|day|cook|smoke|cure|to \w+|for \w+)\b", re.I
)
_PART_OF = Pattern(r"\b(?:brine|pickle|rub|spices?|crust|glaze|cure|pot|meat|finish|method|directions?|instructions?|steps|ingredients?|notes?|equipment|procedure|storage|service|to \w+|for \w+)\b", re.I)
_FOR = Pattern(r"(?:for|to) ", re.I)
_NUMBERED_RECIPE = Pattern(r"\s*(?:#+\s*)?(?:recipe|card)\s*(?:no\.?\s*)?#?\d+\b", re.I)
_VERSION = Pattern(r"\b(?:(?:wet|dry|immersion|pumped|injected|brined|box)(?:[- ](?:cure[sd]?|brine[sd]?|salted|rub(?:bed)?))?\s*(?:version|way|method|cure)?|(?:version|method|option|way)\s*(?:\d|[ab]\b|one|two|i{1,2}\b))\s*:?$", re.I)
_WAY = Pattern(r"\b(?:way|version|option)\b", re.I)
_MARKS_LABEL, _LABEL_LONG = re.compile(r":|\s[–—-]\s"), 60  # characters, in which a label ends
_LABEL = Pattern(r"\s*(?:\d+[.)]\s*)?(?:for (?:the )?|to (?:make|finish as) )?([A-Za-z ]{4,24}?)\s*(?::|\s[–—-]\s)", re.I)
_TOGETHER = Pattern(r"\b(?:both|either|each of them|all of (?:it|them)|all the (?:meat|beef))\b", re.I)
_TAIL = frozenset(["cool", "store", "slice", "rest"])
_STRUCK_ASIDE = Pattern(r"[-=_*~#. ]{3,}$")


# Lines that are read again for another recipe or way; a long recipe in five ways has a few hundred.
MOST_AGAIN = 10_000


class Part(Struct, frozen=True):
    """The blocks of one recipe. ``own`` leaves out what it takes over from another ("same as the corned beef through step 4")."""

    blocks: list[Block]
    own: list[Block]
    version: str | None = None


class Way(Struct, frozen=True):
    """One way to finish a recipe: its name, and which blocks are its own."""

    name: str
    own: frozenset[int]


class _Holds(Struct):
    """What a run of blocks has."""

    measured: int = 0
    meat: bool = False
    salt: bool = False
    water_or_cure: bool = False
    steps: int = 0
    told: int = 0  # steps, before the list too

    @property
    def recipe(self) -> bool:
        """Whether it could stand alone: something to do, and a meat, or salt with what makes it a cure."""
        return self.steps > 0 and self.measured > 1 and (self.meat or (self.salt and self.water_or_cure))


    def then(self, other: _Holds) -> _Holds:
        """What both hold, ``other`` standing behind."""
        return _Holds(
            self.measured + other.measured, self.meat or other.meat, self.salt or other.salt, self.water_or_cure or other.water_or_cure,
            self.steps + (other.told if self.measured else other.steps), self.told + other.told,
        )  # fmt: skip


def _holds(page: Page, blocks: list[Block]) -> _Holds:
    found = _Holds()
    for block in blocks:
        found.told += block.kind == "step"
        found.steps += block.kind == "step" and found.measured > 0  # a story before the list is no method
        if block.kind != "ingredient":
            continue
        amount = any(isinstance(item, Chain) for item in block.items or ())
        found.measured += amount
        name = lexicon.known(lexicon.plain_words(page.words(block.place)))
        if name is None:
            continue
        found.meat = found.meat or (name.role == "meat" and amount)
        found.salt = found.salt or name.role == "salt"
        found.water_or_cure = found.water_or_cure or name.role in ("water", "ice", *CURING_SALTS)
    return found


def recipes(page: Page, found: list[Block]) -> list[Part]:
    """Each recipe of the page, in order; one where nothing says that there are several."""
    versions = _versions(page, found)
    if versions:
        return versions
    torn = "\f" in page.text
    starts = [
        index for index in range(1, len(found))
        if (kind := found[index].kind) != "blank" and (kind == "heading" or found[index - 1].kind == "blank" or torn) and _begins(page, found, index)
    ]  # fmt: skip
    if not starts:
        return [Part(found, found)]
    cuts = [0]
    before = _holds(page, found[: starts[0]])  # since the last cut
    for start, end in zip(starts, [*starts[1:], len(found)], strict=True):
        holds = _holds(page, found[start:end])
        marked = _marked(page, found, start) and holds.measured > 1 and holds.steps and before.measured > 1 and before.steps
        if marked or (holds.recipe and before.recipe):
            cuts.append(start)
            before = holds
        else:
            before = before.then(holds)
    parts = [_titled(found[start:end]) for start, end in zip(cuts, [*cuts[1:], len(found)], strict=True)]
    titles = [_called(page, part) for part in parts]
    made = []
    room = len(found) + MOST_AGAIN
    for part in parts:
        made.append(_taken_over(page, part, parts, titles))
        room -= len(made[-1].blocks)
        if room < 0:
            raise TooMuch(f"more than {MOST_AGAIN:,} lines that its recipes take over from each other; no book has so many")
    return made


_SAME = Pattern(r"\b(?:same as|as for|follow|make (?:it )?(?:like|as))\s+(?:the\s+|our\s+)?([a-z][a-z .'&-]{1,40}?)(?:\s+(?:recipe|method|above|below))*\s*(?:,|\()?\s*(?:thr(?:ough|u)|to|until|till|up to|as far as)\s+(?:the end of\s+)?step\s+(\d+)")
_SAME_ALL = Pattern(r"\b(?:same as|as for|follow|make (?:it )?(?:like|as))\s+(?:the\s+|our\s+)?([a-z](?:[a-z '&-]|\.(?=[a-z]\b)){1,40}?)()(?:\s+(?:recipe|method|above|below))*\s*(?:[.;,(\n]|$)")


def _taken_over(page: Page, part: list[Block], parts: list[list[Block]], titles: list[list[str]]) -> Part:
    """What the recipe takes from another of its page: the list, and the steps up to the one it names."""
    for block in part:
        match = next((match for pattern in (_SAME, _SAME_ALL) if (match := pattern.search(page.low, block.place.start, block.place.end))), None) if block.kind in ("step", "note", "ingredient") else None
        if match is None:
            continue
        asked = re.findall(r"[a-z]+", match[1])
        source = next((other for other, called in zip(parts, titles, strict=True) if other is not part and _is_called(called, asked)), None)
        if source is None:
            continue
        steps = [other for other in source if other.kind == "step"][: int(match[2]) if match[2] else None]
        last = steps[-1].first if steps else source[-1].last
        meat = _holds(page, part).meat
        taken = [other for other in source if (other.kind == "ingredient" and not (meat and _holds(page, [other]).meat)) or (other.kind == "heading" and other.first < last) or other in steps]
        return Part([*taken, *part], part)
    return Part(part, part)


def _called(page: Page, part: list[Block]) -> list[str]:
    """The words of a recipe's title."""
    title = next((block for block in part if block.kind == "title"), None)
    return [] if title is None else re.findall(r"[a-z]+", page.low[title.place.start : title.place.end])


def _is_called(called: list[str], asked: list[str]) -> bool:
    """Whether the words ``asked`` name a recipe that is ``called`` so: all of them in its title, or its initials (c.b.)."""
    initials = all(len(word) == 1 for word in asked) and asked == [word[0] for word in called[: len(asked)]]
    return bool(asked) and (set(asked) <= set(called) or initials)


def _titled(blocks: list[Block]) -> list[Block]:
    """A recipe further down the page begins with its title, whatever the line looked like."""
    first = next((index for index, block in enumerate(blocks) if block.kind != "blank"), None)
    if first is None or blocks[first].kind == "title":
        return blocks
    return [*blocks[:first], replace(blocks[first], kind="title"), *blocks[first + 1 :]]


def _begins(page: Page, found: list[Block], index: int) -> bool:
    """Whether a recipe could begin with this block: a heading that names no component, or a short line behind a clear break."""
    block = found[index]
    if block.first != block.last:
        return False
    marked = _marked(page, found, index)
    numbered = page.low.startswith(("recipe", "card", "#"), block.place.start)
    if not (marked or numbered or block.kind == "heading" or _gap_before(page, found, index)):
        return False  # most blocks: nothing but a break or a heading begins a recipe
    text = page.plain[block.place.start : block.place.end].strip()
    words = bare(text)
    if not words or len(words) > 90:
        return False
    if _NUMBERED_RECIPE.match(text):
        return True
    if _FOR.match(words):
        return False
    if (_PART_OF if marked else _COMPONENT).search(words) and product_of(words) is None:
        return False
    if marked:
        return block.kind in ("heading", "note", "title", "ingredient") and not any(isinstance(item, Chain) for item in block.items or ())
    if block.kind == "heading":
        return (product_of(words) not in (None, "other") and not re.search(r"\b(?:rub|spices?|brine|sauce|glaze|finish|serve)\b", words, re.I)) or text.startswith("# ")
    return len(words.split()) <= 9 and product_of(words) is not None and not words.endswith((".", ",")) and not any(isinstance(item, Chain) for item in block.items or ())


def _marked(page: Page, found: list[Block], index: int) -> bool:
    """Whether the page itself cuts here: a form feed, or a heading like the one at its top."""
    start = found[index].place.start
    if "\f" in page.text[found[index - 1].place.start : start]:
        return True
    line = page.plain[page.lines[found[index].first - 1].place.start : start + 2]
    top = next((block for block in found if block.kind != "blank"), found[0])
    head = page.plain[page.lines[top.first - 1].place.start :][:2]
    return line.startswith("# ") and head == "# "


def _gap_before(page: Page, found: list[Block], index: int) -> bool:
    """Two blank lines, or a line of strokes."""
    before = found[max(0, index - 3) : index]
    if len(before) >= 2 and before[-1].kind == before[-2].kind == "blank":
        return True
    return any(block.kind == "blank" and _STRUCK_ASIDE.match(page.line(block.first).strip()) for block in before[-2:])


def _versions(page: Page, found: list[Block]) -> list[Part]:
    """``WET CURE`` and ``DRY CURE``, each with a list of its own: recipes that share what stands outside them."""
    heads = [index for index, block in enumerate(found) if block.kind == "heading"]
    segments: list[tuple[str, int, int]] = []
    for position, head in enumerate(heads):
        name = bare(page.words(found[head].place))
        if _VERSION.search(name):
            segments.append((name, head, heads[position + 1] if position + 1 < len(heads) else len(found)))
    segments = [segment for segment in segments if (holds := _holds(page, found[segment[1] : segment[2]])).salt and holds.measured > 1]
    if len(segments) < 2 or not all(_holds(page, found[start:end]).told for _, start, end in segments):
        return []
    whose = {index: first for _, first, last in segments for index in range(first, last)}
    _refuse_many(segments, len(found) - len(whose))
    made = []
    for name, start, _ in segments:
        blocks = [block for index, block in enumerate(found) if whose.get(index, start) == start]
        made.append(Part(blocks, blocks, name))
    return made


def ways(page: Page, found: list[Block]) -> list[Way]:
    """The ways that one brine is finished (``Corned beef: …``, ``Pastrami: …``), where there are two or more; else none."""
    made = _headed(page, found) or _labelled(page, found)
    if len({way.name.lower() for way in made}) < 2:
        return []
    _refuse_many(made, len(found) - sum(len(way.own) for way in made))
    return made


def _refuse_many(several: Sequence[object], shared: int) -> None:
    """Each way or version is read with all that they share: ten ways of two pages are a thousand lines."""
    if len(several) * shared > MOST_AGAIN:
        raise TooMuch(f"{len(several):,} ways to make one recipe, which have {shared:,} lines in common; of so many it is not read")


def _headed(page: Page, found: list[Block]) -> list[Way]:
    heads = [index for index, block in enumerate(found) if block.kind == "heading"]
    made: list[Way] = []
    kinds: set[Product | str] = set()
    for position, head in enumerate(heads):
        name = bare(page.words(found[head].place))
        product = product_of(name)
        if product is None and not _WAY.search(name):
            continue
        end = heads[position + 1] if position + 1 < len(heads) else len(found)
        holds = _holds(page, found[head:end])
        if not holds.told or (holds.salt and holds.water_or_cure) or holds.meat:
            continue
        made.append(Way(name, frozenset(range(head, end))))
        kinds.add(product or name.lower())
    return made if len(kinds) > 1 and _cured_before(page, found, made) else []


def _cured_before(page: Page, found: list[Block], made: list[Way]) -> bool:
    """Whether what the ways share holds the cure."""
    own = frozenset().union(*(way.own for way in made))
    shared = _holds(page, [block for index, block in enumerate(found) if index not in own])
    return shared.salt or shared.water_or_cure


def _labelled(page: Page, found: list[Block]) -> list[Way]:
    marks: list[tuple[str, Product, int]] = []
    for index, block in enumerate(found):
        if block.kind == "step" and _MARKS_LABEL.search(page.plain, block.place.start, min(block.place.end, block.place.start + _LABEL_LONG)) and (label := _LABEL.match(page.plain, block.place.start, block.place.end)):
            product = product_of(label[1])
            if product is not None and not _COMPONENT.search(label[1]):
                marks.append((label[1].strip(), product, index))
    if len({product for _, product, _ in marks}) < 2:
        return []
    own: dict[str, set[int]] = {}
    for position, (name, _, start) in enumerate(marks):
        end = marks[position + 1][2] if position + 1 < len(marks) else len(found)
        mine = own.setdefault(name, set())
        mine.add(start)
        for index in range(start + 1, end):
            block = found[index]
            if block.kind == "blank":
                continue
            if block.kind != "step" or _TOGETHER.search(page.plain, block.place.start, block.place.end) or (position + 1 == len(marks) and _common_end(page, block)):
                break
            mine.add(index)
    made = [Way(name, frozenset(indices)) for name, indices in own.items()]
    return made if _cured_before(page, found, made) else []


def _common_end(page: Page, block: Block) -> bool:
    """Behind the last way: cooling and keeping are for all of them."""
    first = next((action for word in re.findall(r"[a-z'-]+", page.low[block.place.start : block.place.end]) if (action := lexicon.actions().get(word)) is not None), None)
    return first is not None and first.phase in _TAIL


def only(page: Page, blocks: list[Block], whole: list[Block]) -> Page:
    """``page`` with every line blanked that is in ``whole`` and not in ``blocks``: places stay what they are."""
    if len(blocks) == len(whole):
        return page
    return Excerpt(page, {number for block in blocks for number in range(block.first, block.last + 1)})
