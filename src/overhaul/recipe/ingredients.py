"""One ingredient line: how much of what, how prepared, and what else the line says about it."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from overhaul.reading import lexicon, units
from overhaul.reading.tree import parse, unit_word
from overhaul.recipe.bits import AmountBit, Bit, LabelBit, MarkBit, RateBit, WordBit, bits
from overhaul.recipe.model import Amount, Column, Instead, Per, Role, Strength
from overhaul.span import between
from overhaul.text import Page, Place

_ABOUT = frozenset(["about", "approx", "approximately", "abt", "roughly", "ca", "circa", "scant", "heaping", "heaped", "level", "rounded", "generous", "some", "nearly", "around", "almost", "good", "plus", "=", "~"])
_STATES = frozenset(
    ["cold", "fresh", "freshly", "dried", "dry", "crushed", "chopped", "minced", "sliced", "smashed", "cracked", "toasted", "ground", "grated", "peeled", "halved", "quartered", "diced", "packed", "pkd", "loosely", "firmly", "lightly", "finely", "coarsely", "roughly", "thinly", "thickly", "whole", "large", "small", "medium", "big", "fat", "fine-chopped", "bruised", "rubbed", "crumbled", "crumpled", "softened", "melted", "soft", "warm", "hot", "boiling", "lukewarm", "chilled", "cooled", "frozen", "thawed", "boneless", "skinless", "bone-in", "skin-on", "trimmed", "untrimmed", "squared", "split", "weighed", "level", "heaping", "rounded", "scant", "about", "approx", "abt", "extra", "good", "best", "clean", "flat", "strong", "plain", "peeled", "shredded", "cubed", "cut", "torn", "picked", "washed", "drained", "rinsed", "well", "optional", "divided", "ripe", "organic", "homemade", "store-bought", "prepared", "raw", "cooked", "pounded", "beaten", "sifted", "your", "favorite", "favourite", "any", "other", "more", "new"]
)
_KEPT = frozenset(["dry", "ground", "whole", "dried", "fresh", "cracked", "crushed", "plain", "flat", "toasted", "rubbed", "frozen", "boneless", "skinless", "bone-in", "skin-on", "boiling", "hot", "cold"])
_STOP = frozenset(["or", "and", "plus", "for", "to", "if", "from", "such", "as", "with", "in", "at", "into", "cut", "until", "per", "then", "but", "not", "no", "without", "weighing", "about", "approx", "abt", "which", "that", "each", "apiece", "@", "of", "over", "on", "under", "above", "below", "by"])
_NAME_STOP = _STOP - {"of", "and", "no"}
_EACH = frozenset(["each", "apiece", "per", "every", "ea"])
_TOTAL = frozenset(["all", "total", "together", "altogether", "pair", "both", "combined"])
_OPTIONAL = re.compile(r"\b(?:optional|opt\b\.?|if (?:you )?(?:like|desired|wanted|wish|using|you have))")
_STRENGTH = re.compile(r"\b(?:sodium |potassium )?(nitrite|nitrate)s?\b", re.I)
_LOOSE = re.compile(r"\b(?:to taste|to cover|as needed|as nec|q\.?s\.?|as required|enough to cover|for (?:serving|garnish|dusting)|to serve)\b")
_GAP = re.compile(r"\t|\s{3,}|\s*\|\s*|\s*\.{3,}\s*|(?:\s\.){3,}\s*")


class Draft(Struct):
    """An ingredient before its grams are worked."""

    place: Place
    name: str
    name_place: Place
    role: Role = "other"
    kind: str | None = None
    amount: Amount | None = None
    count: Amount | None = None
    each: bool | None = None
    per: Per | None = None
    also: list[Amount] = field(default_factory=list)
    instead: list[Instead] = field(default_factory=list)
    columns: list[Column] = field(default_factory=list)
    was: list[Amount] = field(default_factory=list)
    lengths: list[Amount] = field(default_factory=list)
    state: str | None = None
    optional: bool = False
    doubt: str | None = None
    strength: Strength | None = None
    loose: bool = False  # "to cover", "to taste"


def read_line(page: Page, items: list[Bit], place: Place) -> list[Draft]:
    """The ingredients of one line; usually one. ``items`` are its bits, ``place`` its words."""
    if not items:
        return []
    items, was = _without_struck(page, items)
    if not items:
        return []
    listed = _each_list(page, items, place) or _row(page, items, place)
    if listed:
        return listed
    items = _without_lead(page, items)
    parts = _slashed(page, items) or _split(page, items)
    drafts = [draft for part in parts if (draft := _one(page, part)) is not None]
    if not drafts:
        return []
    drafts[0].was.extend(amount if amount.unit != "each" or drafts[0].amount is None else Amount(amount.low, amount.high, drafts[0].amount.unit, amount.place) for amount in was)
    if len(drafts) == 1:
        drafts[0].place = place
    return drafts


def _without_struck(page: Page, items: list[Bit]) -> tuple[list[Bit], list[Amount]]:
    """What was crossed out (~~5~~ 3, [5] 3) is history: apart from the rest."""
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


def _each_list(page: Page, items: list[Bit], place: Place) -> list[Draft]:
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
    groups: list[list[Bit]] = [[]]
    for bit in rest:
        if bit.depth == 0 and ((isinstance(bit, MarkBit) and bit.text in ",;&+/") or (isinstance(bit, WordBit) and bit.low == "and")):
            groups.append([])
        else:
            groups[-1].append(bit)
    groups = [group for group in groups if any(isinstance(bit, WordBit) for bit in group)]
    if len(groups) < 2:
        return []
    drafts = []
    for group in groups:
        draft = _named(page, group)
        draft.amount = head.amount
        drafts.append(draft)
    return drafts


def _row(page: Page, items: list[Bit], place: Place) -> list[Draft]:
    """One row of a table with bars: the name in the first cell, amounts in the others."""
    cells: list[list[Bit]] = [[]]
    for bit in items:
        if isinstance(bit, MarkBit) and bit.text == "|":
            cells.append([])
        else:
            cells[-1].append(bit)
    cells = [cell for cell in cells if cell]
    if len(cells) < 2 or not any(isinstance(bit, WordBit | LabelBit) for bit in cells[0]) or page.plain[place.start : place.start + 1] != "|":
        return []
    draft = _named(page, cells[0])
    draft.place = place
    found = [bit for cell in cells[1:] for bit in cell if isinstance(bit, AmountBit)]
    if found:
        draft.amount = found[0].amount
        if len(found) > 1:
            _set_columns(draft, found)
    _tail(page, draft, cells[0], skip=None)
    return [draft]


def _without_lead(page: Page, items: list[Bit]) -> list[Bit]:
    """``Rub: 1/2 c pepper, 1/3 c coriander``: what stands before the colon heads the line, and names nothing in it."""
    colon = next((index for index, bit in enumerate(items[:4]) if isinstance(bit, MarkBit) and bit.text == ":"), None)
    if not colon or colon + 1 >= len(items) or not all(isinstance(bit, WordBit) for bit in items[:colon]):
        return items
    return items[colon + 1 :] if isinstance(items[colon + 1], AmountBit) and _following_name(page, items, colon + 1) is not None else items


def _slashed(page: Page, items: list[Bit]) -> list[list[Bit]]:
    """``belly 5 lb / salt 55 g / pepper 10 g``: a list written along one line."""
    parts: list[list[Bit]] = [[]]
    for bit in items:
        if bit.depth == 0 and isinstance(bit, MarkBit) and bit.text == "/" and page.plain[bit.start - 1 : bit.start].isspace() and page.plain[bit.end : bit.end + 1].isspace():
            parts.append([])
        else:
            parts[-1].append(bit)
    return parts if len(parts) > 2 and all(parts) else []


def under_columns(draft: Draft, columns: tuple[str | None, ...]) -> None:
    """A row under a heading that gives units to its bare figures. A share of the meat beside a weight is the weight told again."""
    if draft.amount is None or not any(columns):
        return
    told = [column.amount for column in draft.columns] or [draft.amount]
    if len(told) < len(columns):  # empty cells: a weight is the likelier of the two
        columns = tuple(sorted(columns, key=lambda unit: unit == "percent"))
    units_told = [*columns, *[next((unit for unit in columns if unit is not None and unit != "percent"), None)] * len(told)]
    told = [replace(amount, unit=unit) if amount.unit == "each" and unit is not None else amount for amount, unit in zip(told, units_told, strict=False)]
    weights = [amount for amount in told if units.dimension(amount.unit) in ("mass", "volume")]
    shares = [amount for amount in told if amount.unit == "percent"]
    if weights:
        draft.amount = weights[0]
        draft.columns = [Column(amount.low / weights[0].low if weights[0].low else None, amount) for amount in weights] if len(weights) > 1 else []
        draft.also.extend(shares)
    elif shares and draft.role != "meat":
        draft.amount, draft.per, draft.columns = shares[0], Per(None, None, "meat", shares[0].place), []


_STRENGTH_WORDS = frozenset(["nitrite", "nitrate", "sodium", "strength", "solution"])


def _tells_strength(items: list[Bit], index: int) -> bool:
    """``cure #1, 6.25 % nitrite – 11.2 g``: the percentage is the salt's own, not an amount of it."""
    bit, after = items[index], items[index + 1] if index + 1 < len(items) else None
    return isinstance(bit, AmountBit) and bit.unit == "percent" and isinstance(after, WordBit) and after.low in _STRENGTH_WORDS


def _split(page: Page, items: list[Bit]) -> list[list[Bit]]:
    """A line of several ingredients (``½ t clove, ½ t mace``) cut where a new amount of a new thing begins."""
    parts: list[list[Bit]] = []
    start = 0
    for index in range(1, len(items)):
        bit = items[index]
        if not isinstance(bit, AmountBit) or bit.depth or bit.dimension not in ("mass", "volume", "thing") or bit.hyphen:
            continue
        before = items[start:index]
        if not any(isinstance(part, AmountBit) and part.depth == 0 for part in before):
            continue
        previous = items[index - 1]
        separated = (isinstance(previous, MarkBit) and previous.text in ",;&+/") or (isinstance(previous, WordBit) and previous.low in ("and", "plus")) or bit.link in (",", ";", "&", "+", "/", "and", "plus")
        if not separated:
            continue
        new = _following_name(page, items, index)
        old = _following_name(page, items, start) or _known_words(page, before)
        if new is None or old is None or new.noun == old.noun or (new.role == "meat" and old.role == "meat"):
            continue
        if bit.dimension == "thing" and bit.unit == "piece":
            continue
        parts.append(before)
        start = index
    parts.append(items[start:])
    return parts


def _known_words(page: Page, items: list[Bit]) -> lexicon.Name | None:
    return lexicon.known(lexicon.plain_words(" ".join(_word(bit) for bit in items if isinstance(bit, WordBit | LabelBit) and bit.depth == 0)))


def _word(bit: Bit) -> str:
    return bit.text if isinstance(bit, WordBit | LabelBit) else ""


def _following_name(page: Page, items: list[Bit], index: int) -> lexicon.Name | None:
    words: list[str] = []
    for bit in items[index + 1 : index + 8]:
        if (isinstance(bit, WordBit) and bit.low not in ("for", "to", "in", "from", "or", "plus", "more", "at", "with", "each")) or (isinstance(bit, LabelBit) and bit.form == "numbered"):
            words.append(bit.text)
        else:
            break
    return lexicon.known(lexicon.plain_words(" ".join(words)))


def _one(page: Page, items: list[Bit]) -> Draft | None:
    while items and isinstance(items[0], MarkBit) and items[0].text in ",;&+/-–—.:":
        items = items[1:]
    while items and isinstance(items[0], WordBit) and items[0].low in ("and", "plus"):
        items = items[1:]
    if not items:
        return None
    lead = 0
    while lead < len(items) and ((isinstance(items[lead], WordBit) and items[lead].low in _ABOUT) or (isinstance(items[lead], MarkBit) and items[lead].text in "~≈(")):  # type: ignore[attr-defined]
        lead += 1
    if lead < len(items) and isinstance(items[lead], AmountBit) and items[lead].dimension not in ("length", "temperature", "time"):  # type: ignore[attr-defined]
        return _amount_first(page, items, lead)
    if (isinstance(items[0], WordBit) and items[0].low in ("for", "to")) or isinstance(items[0], RateBit):
        return _lead_in(page, items)
    return _name_first(page, items)


# Marks and a hanging "of" at either end; the point of ".5" stays.
_BEFORE_MARK = re.compile(r"\s+([,;:.)])")
_EDGES = re.compile(r"^(?:[\s,;:–—-]|\.(?!\d)|of\b)+|(?:[\s,;:.–—-]|\bof)+$")


def _named(page: Page, items: list[Bit]) -> Draft:
    """A draft from the words of ``items``: name, role, kind, state, optional."""
    place = Place(items[0].start, items[-1].end)
    name_bits: list[Bit] = []
    for bit in items:
        if bit.depth or (isinstance(bit, MarkBit) and bit.text in "(,;:"):
            if any(not (isinstance(part, WordBit) and part.low in _STATES) for part in name_bits):
                break
            if bit.depth == 0 and isinstance(bit, MarkBit) and bit.text == "(":
                continue
            continue
        if isinstance(bit, WordBit) and bit.low in _NAME_STOP and name_bits:
            break
        if isinstance(bit, WordBit) and bit.low == "and" and name_bits:
            break
        if isinstance(bit, AmountBit | RateBit):
            if name_bits:
                break
            continue
        if isinstance(bit, WordBit) or (isinstance(bit, LabelBit) and bit.form == "numbered"):
            name_bits.append(bit)
        elif isinstance(bit, MarkBit) and bit.text in "-–—=" and name_bits:
            break
    while name_bits and isinstance(name_bits[0], WordBit) and name_bits[0].low in ("of", "a", "an", "the", "x", "each", "ea"):
        name_bits = name_bits[1:]
    whole = " ".join(page.plain[bit.start : bit.end] for bit in items if isinstance(bit, WordBit | LabelBit) and bit.depth == 0)
    name_text = " ".join(_word(bit) for bit in name_bits)
    found = lexicon.known(lexicon.plain_words(name_text))
    fuller = lexicon.known(lexicon.plain_words(whole)) if whole != name_text else found
    if found is None or (fuller is not None and set(found.noun.split()) < set(fuller.noun.split())):
        found = fuller
    core = [bit for bit in name_bits if not (isinstance(bit, WordBit) and bit.low in _STATES and bit.low not in _KEPT)] or name_bits
    while len(core) > 1 and isinstance(core[0], WordBit) and core[0].low in _STATES and found is not None and core[0].low not in found.noun.split():
        core = core[1:]
    words = [_word(bit).lower() for bit in core]
    if words:
        words[-1] = lexicon.singular(words[-1])
    name = " ".join(words).replace("\u00ad", "").strip(" .-")
    name_place = Place(core[0].start, core[-1].end) if core else Place(place.start, place.start)
    draft = Draft(place, name, name_place)
    if found is not None:
        draft.role = found.role  # type: ignore[assignment]
        draft.kind = _kind(found, page.low[place.start : place.end])
        if not name:
            draft.name = found.noun
    used = {(bit.start, bit.end) for bit in core}
    state = [page.plain[bit.start : bit.end] for bit in items if (bit.start, bit.end) not in used and isinstance(bit, WordBit | MarkBit | LabelBit | AmountBit)]
    text = _EDGES.sub("", _BEFORE_MARK.sub(r"\1", " ".join(state)))
    draft.state = text or None
    draft.optional = bool(_OPTIONAL.search(page.low, place.start, place.end))
    draft.loose = bool(_LOOSE.search(page.low, place.start, place.end))
    return draft


_SALT_MODIFIERS = (("light flake", "kosher_light_flake"), ("dense", "kosher_dense_rolled"), ("rolled", "kosher_dense_rolled"))


def _kind(found: lexicon.Name, line: str) -> str | None:
    """The row of facts/measures.tsv or facts/cuts.tsv, narrowed by what the rest of the line says."""
    kind = found.kind
    if kind is not None and kind.startswith(("kosher", "salt_kind")) and "kosher" in line:
        for words, narrowed in _SALT_MODIFIERS:
            if words in line:
                return narrowed
    if kind == "sugar_brown_packed" and "loose" in line:
        return "sugar_brown_loose"
    if kind == "ice_unspecified_bulk":
        for words, narrowed in (("crushed", "ice_crushed"), ("flake", "ice_flake"), ("cube", "ice_cubes")):
            if words in line:
                return narrowed
    if kind == "bay_leaf" or kind is None:
        return kind
    if kind == "black_pepper_ground" and ("whole" in line or "corns" in line):
        return "black_pepper_whole"
    if kind == "black_pepper_ground" and ("coarse" in line or "cracked" in line):
        return "black_pepper_cracked"
    if kind in {"thyme_leaves_dried", ""}:
        return kind
    return kind


def _amount_first(page: Page, items: list[Bit], lead: int) -> Draft | None:
    head = items[lead]
    assert isinstance(head, AmountBit)
    rest = items[lead + 1 :]
    count: AmountBit | None = None
    each: bool | None = None
    amount: AmountBit = head
    thing: str | None = None
    # 2 (14 oz) bottles
    if head.bare and len(rest) >= 3 and isinstance(rest[0], MarkBit) and rest[0].text in "([" and isinstance(rest[1], AmountBit) and rest[1].dimension in ("mass", "volume", "length") and _closes(rest, 1):
        size = rest[1]
        after = rest[_close_index(rest, 1) + 1 :]
        if size.dimension == "length":
            rest = after
        else:
            count, amount, each, rest = head, size, True, after
            if rest and isinstance(rest[0], WordBit):
                thing = _thing(rest[0].low)
                if thing is not None:
                    rest = rest[1:]
    # 2 200 g breasts, 2 x 400 g, 3 @ 5-6 lb, 1 28-ounce can
    elif head.bare and rest and isinstance(rest[0], AmountBit) and rest[0].link in ("", "x", "×", "@") and rest[0].dimension in ("mass", "volume"):
        count, amount, each, rest = head, rest[0], True, rest[1:]
        if rest and isinstance(rest[0], WordBit):
            thing = _thing(rest[0].low)
            if thing is not None:
                rest = rest[1:]
    elif head.bare and rest and isinstance(rest[0], AmountBit) and rest[0].dimension == "length":
        rest = rest[1:]
    if not rest:
        draft = Draft(Place(items[0].start, items[-1].end), "", Place(items[-1].end, items[-1].end))
    else:
        draft = _named(page, rest)
        draft.place = Place(items[0].start, items[-1].end)
    draft.amount = amount.amount
    if amount.bare and count is None and draft.role != "meat":
        _unit_in_name(draft)
    if count is not None:
        draft.count = _with_unit(count.amount, thing or "piece" if draft.role == "meat" else thing or "each")
        draft.each = each
        if thing is not None:
            draft.also.append(_with_unit(count.amount, thing))
    draft.doubt = draft.doubt or amount.amount.doubt or (count.amount.doubt if count else None)
    _tail(page, draft, rest, skip=None)
    return draft


# "4 garlic cloves": the unit stands behind the name. A bay leaf or a cinnamon stick is counted as itself.
_UNITS_BEHIND = frozenset(["clove", "leaf", "stick", "slice", "stalk", "sprig", "packet", "head"])


def _unit_in_name(draft: Draft) -> None:
    words = draft.name.split()
    if len(words) < 2 or "bay" in words or draft.amount is None:
        return
    unit = unit_word(words[-1])
    if unit in _UNITS_BEHIND:
        draft.amount = _with_unit(draft.amount, unit)
        draft.name = " ".join(words[:-1])


def _with_unit(amount: Amount, unit: str) -> Amount:
    return Amount(amount.low, amount.high, unit, amount.place, amount.parts, amount.vague, amount.doubt)


def _thing(word: str) -> str | None:
    unit = unit_word(word)
    return unit if unit is not None and units.dimension(unit) == "thing" and unit not in ("each", "head", "ear", "leaf", "clove", "part") else None


def _closes(items: list[Bit], start: int) -> bool:
    return _close_index(items, start) > 0


def _close_index(items: list[Bit], start: int) -> int:
    for index in range(start, len(items)):
        bit = items[index]
        if isinstance(bit, MarkBit) and bit.text in ")]" and bit.depth == items[0].depth:
            return index
    return -1


def _lead_in(page: Page, items: list[Bit]) -> Draft | None:
    """``For every hundred pounds of beef, take:`` the meat, in a line that leads into the list."""
    for index, bit in enumerate(items):
        if isinstance(bit, AmountBit | RateBit) and bit.unit in ("pound", "kilogram", "gram", "ounce", "hundredweight", "stone"):
            if isinstance(bit, RateBit):
                value = bit.amount or Fraction(1)
                number = _number_place(page, bit)
                amount = Amount(value, value, bit.unit, number)
            else:
                amount = bit.amount
            after = _named(page, items[index + 1 :]) if index + 1 < len(items) else None
            front = [part for part in items[:index] if not (isinstance(part, WordBit) and part.low in ("for", "to", "a", "an", "the", "about", "of"))]
            before = _named(page, front) if front else None
            for named in (after, before):
                if named is not None and named.role == "meat":
                    named.amount = amount
                    return named
    return None


def _number_place(page: Page, bit: RateBit) -> Place:
    text = page.plain[bit.start : bit.end]
    skip = re.match(r"(?:per|for|to|in|every|each|/|\s)*", text, re.I)
    start = bit.start + (skip.end() if skip else 0)
    return Place(min(start, bit.end), bit.end)


def _name_first(page: Page, items: list[Bit]) -> Draft | None:
    """``salt – 350 g``, ``bay leaves, 6``, ``juice of 1 lemon``, ``Kosher .... 12 oz .... 1# 8``, or no amount at all."""
    first = next((index for index, bit in enumerate(items) if isinstance(bit, AmountBit) and bit.depth == 0 and bit.dimension not in ("length", "temperature", "time") and not bit.article and not _tells_strength(items, index)), None)
    if first is None:
        first = next((index for index, bit in enumerate(items) if isinstance(bit, AmountBit) and bit.depth == 0 and bit.article and bit.dimension not in ("length", "temperature", "time")), None)
    if first is None:
        if not any(isinstance(bit, WordBit) for bit in items):
            return None
        draft = _named(page, items)
        _tail(page, draft, items, skip=None)
        return draft
    head = items[first]
    assert isinstance(head, AmountBit)
    before, after = items[:first], items[first + 1 :]
    if not any(isinstance(bit, WordBit | LabelBit) for bit in before):
        return None
    draft = _named(page, before)
    last = before[-1]
    if isinstance(last, WordBit) and last.low == "of" and after:
        inner = _named(page, after)
        draft.name = draft.name.removesuffix(" of")
        if draft.name in ("juice", "peel", "zest", "rind"):
            draft.name = f"{inner.name} {draft.name}".strip()
            whole = lexicon.known(draft.name.split())
            if whole is not None and whole.noun == draft.name:
                draft.role, draft.kind = whole.role, whole.kind  # type: ignore[assignment]
            else:
                draft.role, draft.kind = inner.role, None
        elif draft.role == "other":
            draft.name = inner.name
            if inner.role != "other":
                draft.role, draft.kind = inner.role, None
    draft.place = Place(items[0].start, items[-1].end)
    draft.amount = head.amount
    draft.doubt = draft.doubt or head.amount.doubt
    columns = _columns(page, items, first)
    if columns:
        _set_columns(draft, columns)
        take_strength(page, draft, before)
        return draft
    if head.bare and after and isinstance(after[0], AmountBit) and after[0].link in ("", "x", "×", "@") and after[0].dimension in ("mass", "volume"):
        draft.count = _with_unit(head.amount, "piece" if draft.role == "meat" else "each")
        draft.amount, draft.each, after = after[0].amount, True, after[1:]
    _tail(page, draft, after, skip=None, before=before)
    return draft


def _columns(page: Page, items: list[Bit], first: int) -> list[AmountBit]:
    """Amounts that stand in columns: nothing but gaps between them, to the end of the line."""
    found: list[AmountBit] = []
    previous_end = items[first - 1].end
    for bit in items[first:]:
        gap = page.text[previous_end : bit.start]
        if isinstance(bit, MarkBit) and bit.text in ".|…·":
            continue
        if not isinstance(bit, AmountBit) or (found and bit.link == "@"):
            return []
        if found and not _GAP.search(page.text[found[-1].end : bit.start]) and gap.strip(" ") == gap:
            if found[-1].dimension == bit.dimension == "mass" or bit.bare:
                continue
            return []
        found.append(bit)
        previous_end = bit.end
    return found if len(found) > 1 else []


def _set_columns(draft: Draft, columns: list[AmountBit]) -> None:
    head = columns[0].amount
    draft.amount = head
    if head.unit == "percent":
        draft.per = Per(None, None, "meat", head.place)
        draft.also.extend(column.amount for column in columns[1:])
        return
    unit = head.unit
    for column in columns:
        amount = column.amount if column.unit != "each" or unit == "each" else _with_unit(column.amount, unit)
        factor = amount.low / head.low if head.low and amount.unit == unit else None
        draft.columns.append(Column(factor, amount))


def _tail(page: Page, draft: Draft, items: list[Bit], skip: Place | None, before: list[Bit] | None = None) -> None:
    """Everything after the first amount: sizes, second amounts, rates, alternatives, strengths."""
    everything = (before or []) + items
    take_strength(page, draft, everything)
    for index, bit in enumerate(items):
        previous = items[index - 1] if index else None
        following = items[index + 1] if index + 1 < len(items) else None
        if isinstance(bit, RateBit):
            if draft.amount is not None and draft.per is None and draft.role != "meat":
                draft.per = Per(bit.amount or Fraction(1), bit.unit, _of(items, index), Place(bit.start, bit.end))
            elif draft.role == "meat":
                draft.each = True
            continue
        if not isinstance(bit, AmountBit):
            continue
        dimension = bit.dimension
        if dimension == "length":
            draft.lengths.append(bit.amount)
            continue
        if dimension in ("temperature", "time"):
            continue
        if dimension == "share":
            if draft.strength is not None and draft.strength.place == bit.amount.place:
                continue
            if draft.amount is None and bit.depth == 0 and bit.unit == "percent":
                draft.amount = bit.amount
            continue
        previous_word = previous.low if isinstance(previous, WordBit) else ""
        if bit.article and previous_word != "or" and bit.link != "or":
            if bit.link == "" and isinstance(previous, AmountBit) and draft.per is None:
                draft.per = Per(Fraction(1), bit.unit, None, bit.amount.place)
            continue
        if previous_word in ("into", "in", "serves", "makes", "step", "to", "for", "per", "with", "from"):
            if previous_word == "in" and bit.unit in ("piece", "slab", "each", "part"):
                continue
            continue
        if draft.role == "meat" and draft.amount is not None:
            _meat_amount(draft, bit, items, index)
            continue
        if previous_word == "or" or bit.link == "or":
            _instead(page, draft, bit, items, index)
            continue
        if bit.bare and not (isinstance(following, WordBit) and bit.depth == 0 and draft.amount is None):
            continue
        if draft.amount is None:
            if bit.depth == 0 or dimension in ("mass", "volume"):
                draft.amount = bit.amount
            continue
        previous_mark = previous.text if isinstance(previous, MarkBit) else ""
        if previous_word in ("plus", "and") or bit.link in ("plus", "+", "and", "&"):
            continue
        if bit.depth or previous_word in _ABOUT or previous_mark in "=/≈~,([" or bit.link in ("=", "/", "", ",", "~"):
            if dimension == "thing" and bit.unit not in ("stick", "clove", "head", "can", "bottle"):
                continue
            if bit.hyphen:
                continue
            draft.also.append(bit.amount)
    if draft.amount is not None and draft.amount.unit == "percent" and draft.per is None:
        draft.per = Per(None, None, _base(page, draft), draft.amount.place)


def _base(page: Page, draft: Draft) -> str | None:
    line = page.plain[draft.place.start : draft.place.end].lower()
    match = re.search(r"(?:%|percent|per cent)\s+(?:by weight\s+)?(?:of|on)\s+(?:the\s+)?([a-z]+(?:\s*\+\s*[a-z]+)?)", line)
    return match[1] if match else None


def _of(items: list[Bit], index: int) -> str | None:
    after = items[index + 1 : index + 6]
    if after and isinstance(after[0], WordBit) and after[0].low == "of":
        words = []
        for bit in after[1:]:
            if isinstance(bit, WordBit):
                words.append(bit.low)
            elif isinstance(bit, MarkBit) and bit.text == "+":
                words.append("+")
            else:
                break
        return " ".join(words) or None
    if after and isinstance(after[0], WordBit) and lexicon.known((lexicon.singular(after[0].low),)) is not None:
        return after[0].low
    return None


def take_strength(page: Page, draft: Draft, items: list[Bit]) -> None:
    """``(6.25 % sodium nitrite)``, ``half nitrite, half nitrate, 0.5% each``."""
    if draft.role not in ("cure1", "cure2", "ready-mix", "nitrite", "nitrate", "salt", "other"):
        return
    percents = [bit for bit in items if isinstance(bit, AmountBit) and bit.unit == "percent"]
    if not percents:
        return
    place = Place(items[0].start, items[-1].end)
    text = page.plain[place.start : place.end]
    named = list(_STRENGTH.finditer(text))
    if not named:
        bracketed = [bit for bit in percents if bit.depth]
        if bracketed and draft.role in ("cure1", "cure2", "ready-mix") and draft.amount is not None and draft.amount.unit != "percent":
            draft.strength = Strength(between(float(bracketed[0].amount.low), float(bracketed[0].amount.high)), None, bracketed[0].amount.place)
        return
    values: dict[str, AmountBit] = {}
    kinds = list(dict.fromkeys(match[1].lower() for match in named))
    if len(percents) == 1 and len(kinds) == 2 and re.search(r"\beach\b", text, re.I):
        values = dict.fromkeys(kinds, percents[0])
    else:
        for percent in percents:
            nearest = min(named, key=lambda match: abs(place.start + match.start() - percent.end))
            if abs(place.start + nearest.start() - percent.end) < 30:
                values.setdefault(nearest[1].lower(), percent)
    if not values or (draft.amount is not None and draft.amount.unit == "percent" and all(bit.amount == draft.amount for bit in values.values())):
        return
    nitrite, nitrate = values.get("nitrite"), values.get("nitrate")
    first = nitrite or nitrate
    assert first is not None
    draft.strength = Strength(
        between(float(nitrite.amount.low), float(nitrite.amount.high)) if nitrite else None,
        between(float(nitrate.amount.low), float(nitrate.amount.high)) if nitrate else None,
        first.amount.place,
    )
    if draft.role in ("salt", "other") and nitrite is not None:
        draft.role = "ready-mix"
        draft.kind = None


def _meat_amount(draft: Draft, bit: AmountBit, items: list[Bit], index: int) -> None:
    """``2 brisket flats, 8 lb 4 oz for the pair (each near 4 lb)``: the first weight counts, the count is pieces."""
    assert draft.amount is not None
    if bit.dimension != "mass" or bit.hyphen:
        return
    if units.dimension(draft.amount.unit) == "mass":
        if draft.count is None and bit.depth == 0 and not _near(items, index, _EACH):
            draft.also.append(bit.amount)
        return
    draft.count = _with_unit(draft.amount, "piece" if draft.amount.unit == "each" else draft.amount.unit)
    draft.amount = bit.amount
    if _near(items, index, _TOTAL):
        draft.each = False
    elif _near(items, index, _EACH):
        draft.each = True
    else:
        draft.each = None if draft.count.high > 1 else False


def _near(items: list[Bit], index: int, words: frozenset[str]) -> bool:
    around = items[max(0, index - 2) : index] + items[index + 1 : index + 5]
    for bit in around:
        if isinstance(bit, AmountBit):
            continue
        if isinstance(bit, WordBit) and bit.low in words:
            return True
        if isinstance(bit, RateBit) and words is _EACH:
            return True
        if isinstance(bit, MarkBit) and bit.text == "(" and bit.start > items[index].start:
            return False
    return False


def _instead(page: Page, draft: Draft, bit: AmountBit, items: list[Bit], index: int) -> None:
    rest = items[index + 1 :]
    if bit.bare and not (rest and isinstance(rest[0], WordBit)):
        return
    named = _named(page, rest) if any(isinstance(part, WordBit) for part in rest[:2]) else None
    if named is None or not named.name:
        named = Draft(Place(bit.start, bit.end), draft.name, draft.name_place, draft.role, draft.kind)
    draft.instead.append(Instead(named.name, named.role, named.kind, bit.amount, None, Place(bit.start, items[-1].end)))
