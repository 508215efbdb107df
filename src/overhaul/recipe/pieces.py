"""One line cut into its ingredients: lists along a line, ratios, what is crossed out."""

from __future__ import annotations

import itertools
import re
from fractions import Fraction

from overhaul.reading import lexicon
from overhaul.reading.tree import parse
from overhaul.recipe.bits import AmountBit, Bit, LabelBit, MarkBit, RateBit, WordBit, bits
from overhaul.recipe.model import Amount
from overhaul.recipe.naming import STATES, Draft, left_over, named
from overhaul.text import Page, Place


def without_struck(page: Page, items: list[Bit]) -> tuple[list[Bit], list[Amount]]:
    """What was crossed out (~~5~~ 3, [5] 3) is history: apart from the rest."""
    text = page.plain[items[0].start : items[-1].end] if items else ""
    if "~~" not in text and "[" not in text:
        return items, []
    kept: list[Bit] = []
    was: list[Amount] = []
    index = 0
    while index < len(items):
        bit = items[index]
        if isinstance(bit, LabelBit) and bit.form == "struck":
            inner = bits(parse(bit.text.strip("~"), bit.start + 2))
            was += [part.amount for part in inner if isinstance(part, AmountBit)]
            index += 1
            continue
        if (
            isinstance(bit, MarkBit) and bit.text == "[" and index + 3 < len(items)
            and isinstance(items[index + 1], AmountBit) and isinstance(items[index + 2], MarkBit) and isinstance(items[index + 3], AmountBit)
        ):  # fmt: skip
            was.append(items[index + 1].amount)  # type: ignore[attr-defined]
            index += 3
            continue
        kept.append(bit)
        index += 1
    return kept, was


def each_list(page: Page, items: list[Bit], place: Place) -> list[Draft]:
    """``1 T ea: coriander, mustard seed, allspice``: the same amount of several."""
    if not isinstance(items[0], AmountBit) or len(items) < 4:
        return []
    head = items[0]
    second = items[1]
    if not (isinstance(second, WordBit) and second.low in ("ea", "each")):
        return []
    rest = items[2:]
    while rest and ((isinstance(rest[0], MarkBit) and rest[0].text in ":.-–,") or (isinstance(rest[0], WordBit) and rest[0].low in ("of", "dried", "fresh", "ground", "whole"))):
        rest = rest[1:]
    drafts = []
    for group in _enumerated(rest):
        draft = named(page, group)
        draft.amount = head.amount
        draft.state = left_over(page, group, draft.core)
        drafts.append(draft)
    return drafts


def _enumerated(items: list[Bit]) -> list[list[Bit]]:
    """``coriander, mustard seed and mace``: the words of each; none where there is only one."""
    groups: list[list[Bit]] = [[]]
    for bit in items:
        if bit.depth == 0 and ((isinstance(bit, MarkBit) and bit.text in ",;&+/") or (isinstance(bit, WordBit) and bit.low == "and")):
            groups.append([])
        else:
            groups[-1].append(bit)
    groups = [group for group in groups if any(isinstance(bit, WordBit) for bit in group)]
    return groups if len(groups) > 1 else []


def _rate_in_brackets(items: list[Bit]) -> int | None:
    """Where the rate stands in ``Brine (per gal): 1 c kosher, 1/2 c sugar``, whose closing bracket is then passed over as a mark of the head."""
    opens = next((index for index, bit in enumerate(items[:4]) if isinstance(bit, MarkBit) and bit.text == "("), None)
    if not opens or not all(isinstance(bit, WordBit) for bit in items[:opens]) or len(items) < opens + 5:
        return None
    rate, closes, colon = items[opens + 1 : opens + 4]
    return opens + 1 if isinstance(rate, RateBit) and isinstance(closes, MarkBit) and closes.text == ")" and isinstance(colon, MarkBit) and colon.text == ":" else None


def without_rate(items: list[Bit]) -> tuple[list[Bit], RateBit | None]:
    """``per kg of meat: 25 g salt, 12 g sugar``: the rate that heads the line, apart from it; None where none does."""
    if (inner := _rate_in_brackets(items)) is not None:
        items = items[inner:]
    head = items[0]
    colon = next((index for index, bit in enumerate(items[:6]) if isinstance(bit, MarkBit) and bit.text in ":="), None)
    if not isinstance(head, RateBit) or colon is None or not all(isinstance(bit, WordBit) or (isinstance(bit, MarkBit) and bit.text == ")") for bit in items[1:colon]) or not any(isinstance(bit, AmountBit) for bit in items[colon:]):
        return items, None
    return items[colon + 1 :], head


_HEADS = frozenset(["rub", "cure", "crust", "glaze", "sauce", "spice", "spice mix", "pickle"])


def without_lead(page: Page, items: list[Bit]) -> list[Bit]:
    """``Rub: 1/2 c pepper, 1/3 c coriander``, ``BRINE - 3 qt water``: what stands before the mark heads the line, and names nothing in it."""
    colon = next((index for index, bit in enumerate(items[:4]) if isinstance(bit, MarkBit) and bit.text in ":-–—"), None)
    if not colon or colon + 1 >= len(items) or not all(isinstance(bit, WordBit) for bit in items[:colon]):
        return items
    if items[colon].text != ":" and (lead := known_words(page, items[:colon])) is not None and lead.noun not in _HEADS:  # type: ignore[attr-defined]
        return items  # "Salt - 3 oz kosher"
    return items[colon + 1 :] if isinstance(items[colon + 1], AmountBit) and following_name(page, items, colon + 1) is not None else items


def simple(items: list[Bit]) -> bool:
    """An amount and nothing but words behind it, as most lines of a list are: one ingredient, whatever the forms below."""
    if not items or not isinstance(items[0], AmountBit) or items[0].dimension not in ("mass", "volume", "thing"):
        return False
    return all(isinstance(bit, WordBit) and bit.low not in _JOINING for bit in items[1:])


_JOINING = frozenset(["and", "plus", "each", "ea", "ice", "pinch", "dash", "splash", "glug", "knob", "handful"])
_BARE_UNITS = frozenset(["pinch", "dash", "splash", "glug", "knob", "handful"])


def bare_units(items: list[Bit]) -> list[Bit]:
    """``pinch chili flakes``, ``soy splash``: one of a unit that goes without its figure."""
    made: list[Bit] = []
    for index, bit in enumerate(items):
        if isinstance(bit, WordBit) and bit.low in _BARE_UNITS and len(items) > 1:
            before, after = items[index - 1] if index else None, items[index + 1] if index + 1 < len(items) else None
            begins = before is None or (isinstance(before, MarkBit) and before.text in ",;&+/(") or (isinstance(before, WordBit) and before.low in ("and", "plus"))
            if begins or after is None or (isinstance(after, MarkBit) and after.text in ",;"):
                made.append(AmountBit(bit.depth, bit.start, bit.end, Amount(Fraction(1), Fraction(1), bit.low, Place(bit.start, bit.end)), "", False, True))
                continue
        made.append(bit)
    return made


def ratio(page: Page, items: list[Bit]) -> list[Draft]:
    """``4:1:1 fish:sugar:salt`` or ``fish : sugar : salt, 4:1:1``: so many parts of each."""
    label = next((bit for bit in items if isinstance(bit, LabelBit) and bit.form == "ratio" and ":" in bit.text), None)
    if label is None:
        return []
    numbers = list(re.finditer(r"\d+(?:\.\d+)?", label.text))
    groups: list[list[Bit]] = [[]]
    for bit in items:
        if isinstance(bit, MarkBit) and bit.text in ":,/" or (isinstance(bit, WordBit) and bit.low == "to"):
            groups.append([])
        elif isinstance(bit, WordBit):
            groups[-1].append(bit)
    groups = [group for group in groups if group]
    if len(groups) != len(numbers):
        return []
    drafts = []
    for group, number in zip(groups, numbers, strict=True):
        draft = named(page, group)
        value = Fraction(number[0])
        draft.amount = Amount(value, value, "part", Place(label.start + number.start(), label.start + number.end()))
        drafts.append(draft)
    return drafts if any(draft.role != "other" for draft in drafts) else []


def equal_parts(page: Page, items: list[Bit]) -> list[Draft]:
    """``equal parts salt and sugar``: one part of each."""
    if not (len(items) > 3 and isinstance(items[0], WordBit) and items[0].low == "equal" and isinstance(items[1], WordBit) and items[1].low in ("parts", "weights", "amounts")):
        return []
    drafts = []
    for group in _enumerated([bit for bit in items[2:] if not bit.depth]):
        draft = named(page, group)
        draft.amount = Amount(Fraction(1), Fraction(1), "part", Place(items[0].start, items[1].end))
        drafts.append(draft)
    return drafts


def names_first(page: Page, items: list[Bit]) -> list[list[Bit]]:
    """``water 100 %, salt 6 %, sugar 2 %``: a list along one line in which each name stands before its amount."""
    if not isinstance(items[0], (WordBit, LabelBit)):
        return []
    parts: list[list[Bit]] = [[]]
    for bit in items:
        if bit.depth == 0 and ((isinstance(bit, MarkBit) and bit.text in ",;/+&") or (isinstance(bit, WordBit) and bit.low in ("and", "plus"))):
            parts.append([])
        else:
            parts[-1].append(bit)
    parts = [part for part in parts if part]
    if len(parts) < 2:
        return []
    nouns = []
    for part in parts:
        while part and isinstance(part[-1], MarkBit) and part[-1].text in ".":
            part.pop()
        amounts = [bit for bit in part if isinstance(bit, AmountBit) and bit.depth == 0]
        if not part or len(amounts) != 1 or part[-1] is not amounts[0] or not isinstance(part[0], (WordBit, LabelBit)) or amounts[0].hyphen:
            return []
        name = known_words(page, part)
        if name is None:
            return []
        nouns.append(name.noun)
    return parts if len(set(nouns)) == len(nouns) else []


def slashed(page: Page, items: list[Bit]) -> list[list[Bit]]:
    """``belly 5 lb / salt 55 g / pepper 10 g``, ``4 L water : 280 g salt : 140 g sugar``: a list written along one line."""
    parts: list[list[Bit]] = [[]]
    items = _no_rates(page, items)
    colons = sum(isinstance(bit, MarkBit) and bit.text == ":" and isinstance(after, AmountBit) for bit, after in itertools.pairwise(items)) > 1
    for bit in items:
        if bit.depth == 0 and isinstance(bit, MarkBit) and bit.text == (":" if colons else "/") and page.plain[bit.start - 1 : bit.start].isspace() and page.plain[bit.end : bit.end + 1].isspace():
            parts.append([])
        else:
            parts[-1].append(bit)
    while parts and not parts[-1]:
        parts.pop()
    return parts if len(parts) > 2 and all(parts) else []


def _no_rates(page: Page, items: list[Bit]) -> list[Bit]:
    """``25 g salt / 15 g sugar / 2.5 g cure``: what stands behind these strokes is no rate, being told of a name and more than once."""
    strokes = [index for index, bit in enumerate(items[:-1]) if isinstance(bit, RateBit) and bit.amount is not None and bit.depth == 0 and page.plain[bit.start] == "/" and page.plain[bit.start - 1 : bit.start + 2].split() == ["/"] and isinstance(items[index + 1], (WordBit, LabelBit))]
    if len(strokes) < _FEWEST_STROKES:
        return items
    made: list[Bit] = []
    for index, bit in enumerate(items):
        if index in strokes and isinstance(bit, RateBit) and bit.amount is not None:
            start = bit.end - len(page.plain[bit.start + 1 : bit.end].lstrip())
            made += [MarkBit(0, bit.start, bit.start + 1, "/"), AmountBit(0, start, bit.end, Amount(bit.amount, bit.amount, bit.unit, Place(start, bit.end)), "", False, False)]
        else:
            made.append(bit)
    return made


_FEWEST_STROKES = 2


def semicolons(page: Page, items: list[Bit]) -> list[list[Bit]]:
    """``cloves, 10; allspice, 1 Tbsp``: what semicolons divide, where each part has an amount and a name of its own."""
    parts: list[list[Bit]] = [[]]
    for bit in items:
        divides = bit.depth == 0 and isinstance(bit, MarkBit) and bit.text == ";"
        if divides or (bit.depth == 0 and isinstance(bit, AmountBit) and bit.link == ";"):
            parts.append([])
        if not divides:
            parts[-1].append(bit)
    whole = len(parts) > 1 and all(any(isinstance(bit, AmountBit) and bit.depth == 0 for bit in part) and _own_name(page, part) is not None for part in parts)
    return parts if whole else []


def _own_name(page: Page, items: list[Bit]) -> lexicon.Name | None:
    """The name in ``items``; ``10 cloves`` and nothing else are cloves, though a clove is a unit too."""
    if (name := known_words(page, items)) is None and len(items) == 1 and isinstance(items[0], AmountBit):
        return lexicon.known(lexicon.plain_words(items[0].unit))
    return name


def _unknown_name(items: list[Bit], index: int) -> bool:
    """Whether a measure behind a comma is followed by a word that can only be a name."""
    previous, following = items[index - 1], items[index + 1] if index + 1 < len(items) else None
    bit = items[index]
    return (
        isinstance(previous, MarkBit) and previous.text in ",;" and isinstance(bit, AmountBit) and bit.dimension in ("mass", "volume") and not bit.article
        and isinstance(following, WordBit) and len(following.low) > 2 and following.low not in STATES and following.low not in _BINDS and following.low not in ("plus", "and", "each", "total", "altogether", "apiece", "weight", "net", "when", "after", "before", "cut", "thick", "piece", "pieces", "drawn", "trimmed", "but", "then", "if", "all", "both", "combined", "divided", "enough", "see", "less", "more")
    )  # fmt: skip


_BINDS = frozenset(["or", "about", "abt", "approx", "of", "to", "per", "for", "each", "in", "at", "from", "with", "is", "was", "weighing", "into", "by", "over", "not", "than", "makes", "serves", "around", "use", "add"])


_MOST_OF_A_NAME = 60  # words and amounts; behind them no line is still at its first ingredient


# 5 qt water, 2 qt of it as ice: no more of anything
_OF_THE_WATER = re.compile(r"(?:(?:of )?(?:it|them|this|that|these|those|which|the water) (?:is |in |as |being )?|(?:as|being) )(?:crushed |cubed )?ice\b", re.I)


def another_helping(items: list[Bit]) -> bool:
    """``… plus 2 tbsp for the rub``: more of the same for something else, named by nothing but its use."""
    return len(items) > 1 and isinstance(items[0], AmountBit) and items[0].dimension in ("mass", "volume") and isinstance(items[1], WordBit) and items[1].low == "for"


def _behind_a_stop(before: list[Bit]) -> bool:
    """``4 navels (5 lb each). Brine = 2 gallons water``: a sentence of the list ends, and the next begins, under a head of its own or not."""
    at = len(before) - 1
    if at > 0 and isinstance(mark := before[at], MarkBit) and mark.text in ":=":
        at -= 1
        while at > 0 and isinstance(before[at], WordBit) and len(before) - at < _LONGEST_HEAD:
            at -= 1
    last, ended = (before[at], before[at - 1]) if at > 0 else (None, None)
    return isinstance(last, MarkBit) and last.text == "." and ((isinstance(ended, MarkBit) and ended.text == ")") or (isinstance(ended, WordBit) and len(ended.low) >= _NO_ABBREVIATION))


_LONGEST_HEAD, _NO_ABBREVIATION = 4, 4  # words with their mark; letters


def split(page: Page, items: list[Bit]) -> list[list[Bit]]:
    """A line of several ingredients (``½ t clove, ½ t mace``) cut where a new amount of a new thing begins."""
    parts: list[list[Bit]] = []
    start = 0
    for index in range(1, len(items)):
        bit = items[index]
        if not isinstance(bit, AmountBit) or bit.depth or bit.dimension not in ("mass", "volume", "thing") or bit.hyphen:
            continue
        if not any(isinstance(items[at], AmountBit) and items[at].depth == 0 for at in range(start, index)):
            continue
        if _OF_THE_WATER.match(" ".join(_word(part) for part in items[index + 1 : index + 6])):
            continue
        previous = items[index - 1]
        separated = (isinstance(previous, MarkBit) and previous.text in ",;&+/") or (isinstance(previous, WordBit) and previous.low in ("and", "plus")) or bit.link in (",", ";", "&", "+", "/", "and", "plus")
        separated = separated or _behind_a_stop(items[max(0, index - _LONGEST_HEAD - 2) : index])
        told = isinstance(previous, WordBit) and bit.dimension in ("mass", "volume") and not bit.article and previous.low not in _BINDS  # one pound salt half pound sugar
        if not separated and not told and not (bit.unit == "part" and (previous.low in ("to", "part", "with") if isinstance(previous, WordBit) else isinstance(previous, MarkBit))):
            continue
        more = bit.link in ("plus", "and", "+", "&") or (isinstance(previous, WordBit) and previous.low in ("plus", "and")) or (isinstance(previous, MarkBit) and previous.text in "+&")
        if more and another_helping(items[index : index + 2]):
            parts.append(items[start:index])
            start = index
            continue
        new = following_name(page, items, index)
        old = following_name(page, items, start) or _own_name(page, [part for part in items[start : min(index, start + _MOST_OF_A_NAME)] if not isinstance(part, MarkBit)])
        if new is None and old is not None and old.role != "meat" and _unknown_name(items, index):
            parts.append(items[start:index])  # 1c blk pep, 1/2c cor: a name that is not known is a name
            start = index
            continue
        if old is None and new is not None and new.role in _WEIGHED_APART and separated and bit.dimension in ("mass", "volume") and any(isinstance(part, WordBit) and part.depth == 0 and part.low not in STATES for part in items[start:index]):
            parts.append(items[start:index])  # 10 oz jaggery, 1.6 oz cure #1: nor is what stands before it
            start = index
            continue
        if new is None or old is None or new.noun == old.noun:
            continue
        if new.role == "meat" and old.role == "meat" and not (any(isinstance(part, AmountBit) and part.dimension == "mass" for part in items[start:index]) and _another_weight(items, index) and _two_cuts(new, old)):
            continue
        if bit.dimension == "thing" and bit.unit == "piece":
            continue
        parts.append(items[start:index])
        start = index
    parts.append(items[start:])
    return parts


_WEIGHED_APART = frozenset(["salt", "cure1", "cure2", "nitrite", "nitrate", "ready-mix"])


def _another_weight(items: list[Bit], index: int) -> bool:
    """Whether what begins there has a weight of its own, before the next comma: ``3 lb back fat``, ``4 trotters 1.6 kg``."""
    rest = itertools.takewhile(lambda bit: not (isinstance(bit, MarkBit) and bit.text in ",;"), items[index:])
    return any(isinstance(bit, AmountBit) and bit.dimension == "mass" and not bit.depth for bit in rest)


def _two_cuts(one: lexicon.Name, other: lexicon.Name) -> bool:
    """Pork butt and pork back fat are two, brisket and brisket flat one."""
    mine, theirs = set(one.noun.split()), set(other.noun.split())
    return not (mine <= theirs or theirs <= mine)


def known_words(page: Page, items: list[Bit]) -> lexicon.Name | None:
    return lexicon.known(lexicon.plain_words(" ".join(_word(bit) for bit in items if isinstance(bit, (WordBit, LabelBit)) and bit.depth == 0)))


def _word(bit: Bit) -> str:
    return bit.text if isinstance(bit, (WordBit, LabelBit)) else ""


def following_name(page: Page, items: list[Bit], index: int) -> lexicon.Name | None:
    words: list[str] = []
    for bit in items[index + 1 : index + 8]:
        if (isinstance(bit, WordBit) and bit.low not in ("for", "to", "in", "from", "or", "plus", "more", "at", "with", "each")) or (isinstance(bit, LabelBit) and bit.form == "numbered"):
            words.append(bit.text)
        else:
            break
    return lexicon.known(lexicon.plain_words(" ".join(words)))
