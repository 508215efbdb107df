"""One ingredient line: how much of what, how prepared, and what else the line says about it."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec.structs import replace

from overhaul import facts
from overhaul.reading import lexicon, units
from overhaul.reading.tree import unit_word
from overhaul.recipe import pieces
from overhaul.recipe.bits import METRIC, AmountBit, Bit, LabelBit, MarkBit, RateBit, WordBit
from overhaul.recipe.model import Amount, Column, Instead, Per, Strength
from overhaul.recipe.naming import Draft, left_over, named, said_of, with_unit
from overhaul.span import between
from overhaul.text import Page, Place

_ABOUT = frozenset(["about", "approx", "approximately", "abt", "roughly", "ca", "circa", "scant", "heaping", "heaped", "level", "rounded", "generous", "some", "nearly", "around", "almost", "good", "plus", "=", "~"])
_LEADS = _ABOUT | {"a", "an", "the"}  # a 4- to 5-pound brisket
_EACH = frozenset(["each", "apiece", "per", "every", "ea", "avg", "average"])
_TOTAL = frozenset(["all", "total", "together", "altogether", "pair", "both", "combined"])
_STRENGTH = re.compile(r"\b(?:sodium |potassium )?(nitrite|nitrate)s?\b", re.I)
_GAP = re.compile(r"\t|\s{3,}|\s*\|\s*|\s*\.{3,}\s*|(?:\s\.){3,}\s*")


def read_line(page: Page, items: list[Bit], place: Place) -> list[Draft]:
    """The ingredients of one line; usually one. ``items`` are its bits, ``place`` its words."""
    if pieces.simple(items):
        draft = _one(page, items)
        if draft is None:
            return []
        draft.place = place
        return [draft]
    items, was = pieces.without_struck(page, pieces.bare_units(items))
    if not items:
        return []
    listed = pieces.each_list(page, items, place) or _row(page, items, place) or pieces.ratio(page, items) or pieces.equal_parts(page, items)
    if listed:
        return listed
    items, lead = pieces.without_rate(items)
    items = pieces.without_lead(page, items)
    drafts: list[Draft] = []
    for part in pieces.slashed(page, items) or pieces.semicolons(page, items) or pieces.names_first(page, items) or pieces.split(page, items):
        if drafts and pieces.another_helping(part):
            drafts.append(_helping(page, part, drafts[-1]))
        elif (draft := _one(page, part)) is not None:
            drafts.append(draft)
            if (ice := _iced(page, draft, part)) is not None:
                drafts.append(ice)
    drafts = [draft for draft in drafts if draft.name or draft.amount is not None]
    if lead is not None:  # per kg of meat: 25 g salt, 12 g sugar
        for draft in drafts:
            if draft.per is None and draft.amount is not None and draft.role != "meat":
                draft.per = Per(lead.amount or Fraction(1), lead.unit, "meat", Place(lead.start, lead.end))
    if not drafts:
        return []
    drafts[0].was.extend(amount if amount.unit != "each" or drafts[0].amount is None else Amount(amount.low, amount.high, drafts[0].amount.unit, amount.place) for amount in was)
    if len(drafts) == 1:
        drafts[0].place = place
    return drafts


def _helping(page: Page, items: list[Bit], first: Draft) -> Draft:
    """More of ``first`` for another use."""
    head = items[0]
    assert isinstance(head, AmountBit)
    place = Place(head.start, items[-1].end)
    return Draft(place, first.name, place, first.role, first.kind, head.amount, state=left_over(page, items[1:], []))


def _iced(page: Page, draft: Draft, items: list[Bit]) -> Draft | None:
    """``2 gal water (half as ice)``, ``1 gal of it as ice``: what of the water is ice, as a line of its own without an amount to add up."""
    amount = draft.amount
    if draft.role != "water" or amount is None or units.dimension(amount.unit) not in ("mass", "volume"):
        return None
    ice = next((index for index, bit in enumerate(items) if isinstance(bit, WordBit) and bit.low == "ice" and index > 1), None)
    if ice is None:
        return None
    told = [bit for bit in items[:ice] if isinstance(bit, (AmountBit, RateBit)) and bit.start >= amount.place.end]
    half = next((bit for bit in items[:ice] if isinstance(bit, WordBit) and bit.low == "half"), None)
    if told:
        share = _share(amount, told[-1])
        place = Place(told[-1].start, items[ice].end)
    elif half is not None:
        share, place = Fraction(1, 2), Place(half.start, items[ice].end)
    else:
        return None
    if share is None or not 0 < share < 1:
        return None
    rest = 1 - share
    draft.poured = Amount(amount.low * rest, amount.high * rest, amount.unit, amount.place)
    draft.per = None
    draft.also = [other for other in draft.also if not place.start <= other.place.start < place.end]
    where = Place(items[ice].start, items[ice].end)
    state = page.words(place).lstrip("/,;+& ") if told and units.dimension(told[-1].unit) in ("mass", "volume") else None
    return Draft(place, "ice", where, "ice", "ice_unspecified_bulk", state=state, poured=Amount(amount.low * share, amount.high * share, amount.unit, where))


def _share(whole: Amount, told: AmountBit | RateBit) -> Fraction | None:
    """What fraction of ``whole`` an amount of ice is: ½, 50 %, or so many of the same kind of unit."""
    value = (told.amount or Fraction(1)) if isinstance(told, RateBit) else told.amount.high
    if told.unit == "percent":
        return value / 100
    if told.unit in ("each", "part"):
        return value if value < 1 or not whole.high else value / whole.high  # "½ as ice", "2 of them as ice"
    if units.dimension(told.unit) != units.dimension(whole.unit) or not whole.high or {told.unit, whole.unit} & units.WORD_MEASURES:
        return None
    return value * units.factor(told.unit) / (whole.high * units.factor(whole.unit))


def _row(page: Page, items: list[Bit], place: Place) -> list[Draft]:
    """One row of a table with bars: the name in the first cell, amounts in the others."""
    cells: list[list[Bit]] = [[]]
    for bit in items:
        if isinstance(bit, MarkBit) and bit.text == "|":
            cells.append([])
        else:
            cells[-1].append(bit)
    cells = [cell for cell in cells if cell]
    if len(cells) < 2 or not any(isinstance(bit, (WordBit, LabelBit)) for bit in cells[0]) or page.plain[place.start : place.start + 1] != "|":
        return []
    draft = named(page, cells[0])
    draft.place = place
    found = [bit for cell in cells[1:] for bit in cell if isinstance(bit, AmountBit)]
    first = [bit for bit in cells[1] if isinstance(bit, AmountBit)]
    if len(first) == 2 and first[0].dimension == "thing" and first[1].dimension == "mass" and first[1].depth:  # 2 ea. (3.5 lb)
        draft.count, draft.each, draft.amount = first[0].amount, not any(isinstance(bit, WordBit) and bit.low in _TOTAL for bit in cells[1]), first[1].amount
        draft.columns = [Column(bit.amount.low / draft.count.low if draft.count.low else None, bit.amount) for bit in found if bit is not first[1]]
    elif found:
        draft.amount = found[0].amount
        if len(found) > 1:
            _set_columns(draft, found)
    _tail(page, draft, cells[0])
    draft.state = left_over(page, items, _taken(draft))
    return [draft]


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


def _one(page: Page, items: list[Bit]) -> Draft | None:
    while items and isinstance(items[0], MarkBit) and items[0].text in ",;&+/-–—.:":
        items = items[1:]
    while items and isinstance(items[0], WordBit) and items[0].low in ("and", "plus"):
        items = items[1:]
    if not items:
        return None
    draft = _read(page, items)
    if draft is None:
        return None
    draft.state = left_over(page, items, _taken(draft))
    if isinstance(items[0], RateBit) or (draft.per is not None and draft.state == draft.per.of):
        draft.state = None  # the words of a rate, which is kept as one
    draft.in_all = draft.role == "water" and draft.amount is not None and bool(_TO_MAKE.search(page.low, items[0].start, draft.amount.place.start))
    _vague(draft, items)
    said_of(page, draft, Place(items[0].start, items[-1].end))
    if draft.doubt is None:
        draft.doubt = lexicon.two_meanings(draft.name)
    if draft.role == "cure1" and _TABLE_PINK.search(page.low, items[0].start, items[-1].end):
        draft.role, draft.kind = "salt", "rock_salt_crushed"
    return draft


def _read(page: Page, items: list[Bit]) -> Draft | None:
    lead = 0
    while lead < len(items) and ((isinstance(items[lead], WordBit) and items[lead].low in _LEADS) or (isinstance(items[lead], MarkBit) and items[lead].text in "~≈(")):  # type: ignore[attr-defined]
        lead += 1
    if lead < len(items) and isinstance(items[lead], AmountBit) and items[lead].dimension not in ("length", "temperature", "time"):  # type: ignore[attr-defined]
        return _amount_first(page, items, lead)
    if (isinstance(items[0], WordBit) and items[0].low in ("for", "to")) or isinstance(items[0], RateBit):
        return _lead_in(page, items)
    return _name_first(page, items)


def _taken(draft: Draft) -> list[Place]:
    """The places of all that ``draft`` holds beside its leftover words."""
    amounts = (draft.amount, draft.count, *draft.also, *draft.was, *(column.amount for column in draft.columns))
    places = [amount.place for amount in amounts if amount is not None]
    places += [other.place for other in draft.instead]
    if draft.per is not None:
        places.append(draft.per.place)
    if draft.strength is not None:
        places.append(draft.strength.place)
    return draft.core + places


_TABLE_PINK = re.compile(r"(?<!not )(?<!not the )(?<!no )\bhimalayan?\b")
_TO_MAKE = re.compile(r"\b(?:to make|to make up|make up to|enough to make|to bring (?:it|the \w+) to|up to)\b")
_NEARLY = frozenset(["about", "abt", "approx", "approximately", "roughly", "nearly", "almost", "around", "circa", "ca"])
_VAGUE = frozenset(["scant", "heaping", "heaped", "level", "rounded", "generous"])


def _vague(draft: Draft, items: list[Bit]) -> None:
    """``4 tsp level cure``, ``1 c salt, scant``: how full, said behind the unit."""
    if draft.amount is None or draft.amount.vague is not None or units.dimension(draft.amount.unit) not in ("volume", "mass"):
        return
    word = next((bit.low for bit in items if isinstance(bit, WordBit) and bit.low in _VAGUE), None)
    if word is None and any(isinstance(bit, WordBit) and bit.low in _NEARLY and bit.start < draft.amount.place.start for bit in items):
        draft.amount = replace(draft.amount, vague="about")
    if word is not None:
        draft.amount = replace(draft.amount, vague=word)
        draft.state = re.sub(rf"^{word}$|\b{word}\b[,\s]*|,?\s*\b{word}$", "", draft.state or "", flags=re.I).strip() or None


def _amount_first(page: Page, items: list[Bit], lead: int) -> Draft | None:
    head = items[lead]
    assert isinstance(head, AmountBit)
    rest = items[lead + 1 :]
    count: AmountBit | None = None
    each: bool | None = None
    amount: AmountBit = head
    thing: str | None = None
    thing_place: list[Place] = []
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
                    thing_place, rest = [Place(rest[0].start, rest[0].end)], rest[1:]
    # 2 200 g breasts, 2 x 400 g, 3 @ 5-6 lb, 1 28-ounce can
    elif head.bare and rest and isinstance(rest[0], AmountBit) and rest[0].link in ("", "x", "×", "@") and rest[0].dimension in ("mass", "volume"):
        count, amount, each, rest = head, rest[0], True, rest[1:]
        if rest and isinstance(rest[0], WordBit):
            thing = _thing(rest[0].low)
            if thing is not None:
                thing_place, rest = [Place(rest[0].start, rest[0].end)], rest[1:]
    elif head.bare and rest and isinstance(rest[0], AmountBit) and rest[0].dimension == "length":
        rest = rest[1:]
    elif head.bare and (behind := _behind_size(rest)):
        unit = _thing(behind[0].low) if isinstance(behind[0], WordBit) else None
        if unit is not None:
            amount = replace(head, amount=with_unit(head.amount, unit))
            thing_place, rest = [Place(behind[0].start, behind[0].end)], behind[1:]
    if not rest:
        draft = Draft(Place(items[0].start, items[-1].end), "", Place(items[-1].end, items[-1].end))
    else:
        draft = named(page, rest)
        draft.place = Place(items[0].start, items[-1].end)
    draft.amount = amount.amount
    draft.core += thing_place
    if not draft.name and amount.unit in _ITSELF and not any(isinstance(bit, WordBit) and not bit.depth for bit in rest):
        draft.amount = with_unit(amount.amount, "each")  # "8 cloves": the unit was the name
        found = lexicon.known((amount.unit,))
        draft.name, draft.name_place = amount.unit, amount.amount.place
        if found is not None:
            draft.role, draft.kind = found.role, found.kind  # type: ignore[assignment]
    if amount.bare and count is None and draft.role != "meat":
        _unit_in_name(draft)
        _unit_in_brackets(draft, rest)
    if count is not None:
        draft.count = with_unit(count.amount, thing or "piece" if draft.role == "meat" else thing or "each")
        draft.each = each
        if thing is not None:
            draft.also.append(with_unit(count.amount, thing))
    draft.doubt = draft.doubt or amount.amount.doubt or (count.amount.doubt if count else None)
    _tail(page, draft, rest)
    return draft


_ITSELF = frozenset(["clove", "sprig", "leaf"])
_SIZES = frozenset(["count", "ct", "pack", "pk", "size"])


def _behind_size(rest: list[Bit]) -> list[Bit]:
    """What stands behind a size that is neither weight nor volume: ``2 (8 count) packets``, ``1 - No. 10 can``; else nothing."""
    if rest and isinstance(rest[0], MarkBit) and rest[0].text in "([" and _closes(rest, 1):
        inside, after = rest[1 : _close_index(rest, 1)], rest[_close_index(rest, 1) + 1 :]
        return after if any(isinstance(bit, LabelBit) or (isinstance(bit, WordBit) and bit.low in _SIZES) for bit in inside) else []
    while rest and isinstance(rest[0], MarkBit) and rest[0].text in "-–":
        rest = rest[1:]
    return rest[1:] if rest and isinstance(rest[0], LabelBit) and rest[0].form == "numbered" and len(rest) > 1 else []


def _unit_in_brackets(draft: Draft, rest: list[Bit]) -> None:
    """``2 baking powder (teaspoons)``: the unit stands in brackets behind the name."""
    for index, bit in enumerate(rest):
        if isinstance(bit, MarkBit) and bit.text == "(" and draft.amount is not None:
            words = [part.low for part in rest[index + 1 : index + 4] if isinstance(part, WordBit)]
            if words and words[0] in _VAGUE:
                words = words[1:]
            unit = unit_word(words[0]) if words else None
            if unit is not None and (units.dimension(unit) in ("mass", "volume") or unit == "part") and len(words[0]) > 1:
                draft.amount = with_unit(draft.amount, unit)
                draft.core += [Place(part.start, part.end) for part in rest[index + 1 : index + 4] if isinstance(part, WordBit) and part.low == words[0]]
            return


# "4 garlic cloves": the unit stands behind the name. A bay leaf or a cinnamon stick is counted as itself.
_UNITS_BEHIND = frozenset(["clove", "leaf", "stick", "slice", "stalk", "sprig", "packet", "head"])


def _unit_in_name(draft: Draft) -> None:
    words = draft.name.split()
    if len(words) < 2 or "bay" in words or draft.amount is None:
        return
    unit = unit_word(words[-1])
    if unit in _UNITS_BEHIND:
        draft.amount = with_unit(draft.amount, unit)
        draft.name = " ".join(words[:-1])


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
        if isinstance(bit, (AmountBit, RateBit)) and bit.unit in ("pound", "kilogram", "gram", "ounce", "hundredweight", "stone"):
            if isinstance(bit, RateBit):
                value = bit.amount or Fraction(1)
                number = _number_place(page, bit)
                amount = Amount(value, value, bit.unit, number)
            else:
                amount = bit.amount
            after = named(page, items[index + 1 :]) if index + 1 < len(items) else None
            front = [part for part in items[:index] if not (isinstance(part, WordBit) and part.low in ("for", "to", "a", "an", "the", "about", "of"))]
            before = named(page, front) if front else None
            for draft in (after, before):
                if draft is not None and draft.role == "meat":
                    draft.amount = amount
                    return draft
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
        draft = named(page, items)
        _tail(page, draft, items)
        return draft
    head = items[first]
    assert isinstance(head, AmountBit)
    before, after = items[:first], items[first + 1 :]
    if not any(isinstance(bit, (WordBit, LabelBit)) for bit in before):
        return None
    draft = named(page, before)
    last = before[-1]
    if isinstance(last, WordBit) and last.low == "of" and after:
        inner = named(page, after)
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
    draft.lengths.extend(bit.amount for bit in before if isinstance(bit, AmountBit) and bit.dimension == "length")  # brisket, 50 mm thick, 3.2 kg
    columns = _columns(page, items, first)
    if len(columns) > 1 and draft.role == "meat" and columns[0].unit == "piece" and columns[1].bare:
        draft.count, columns = columns[0].amount, columns[1:]  # 2 pcs   800   100
        draft.amount, draft.each = columns[0].amount, False
        if len(columns) == 1:
            return draft
    if columns:
        _set_columns(draft, columns)
        take_strength(page, draft, before)
        _own_strength(draft)
        draft.state = draft.state or left_over(page, items[first:], _taken(draft))
        return draft
    if head.bare and after and isinstance(after[0], AmountBit) and after[0].link in ("", "x", "×", "@") and after[0].dimension in ("mass", "volume"):
        draft.count = with_unit(head.amount, "piece" if draft.role == "meat" else "each")
        draft.amount, draft.each, after = after[0].amount, True, after[1:]
    _tail(page, draft, after, before=before)
    return draft


def _columns(page: Page, items: list[Bit], first: int) -> list[AmountBit]:
    """Amounts that stand in columns: nothing but gaps between them, to the end of the line or to words behind the last."""
    found: list[AmountBit] = []
    previous_end = items[first - 1].end
    for number, bit in enumerate(items[first:], first):
        if len(found) > 1 and not any(isinstance(other, (AmountBit, RateBit)) for other in items[number:]) and len({one.dimension for one in found}) == 1 and _GAP.search(page.text[found[0].end : found[1].start]):
            break
        gap = page.text[previous_end : bit.start]
        if isinstance(bit, MarkBit) and bit.text in ".|…·":
            continue
        if not isinstance(bit, AmountBit) or (found and bit.link.lower() in ("@", "x", "×")):  # 4 @ 3 lb, 2 x 3.2 kg: so many of that
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
    here = units.dimension(unit)
    other = [
        column.amount for column in columns[1:]
        if {column.dimension, here} == {"mass", "volume"} or (column.dimension == here and here in ("mass", "volume") and (column.unit in METRIC) != (unit in METRIC))
    ]  # fmt: skip
    if here in ("mass", "volume") and all(column.unit == "percent" for column in columns[1:]):  # 44 g (2.2 %)
        draft.also.extend(column.amount for column in columns[1:])
        return
    if len(other) == len(columns) - 1:  # weight | measure, ounces | grams: the same told again
        draft.also.extend(other)
        return
    for column in columns:
        amount = column.amount if column.unit != "each" or unit == "each" else with_unit(column.amount, unit)
        factor = _share(head, AmountBit(0, amount.place.start, amount.place.end, amount, "", False, False)) if amount.unit not in (unit, "each") else amount.low / head.low if head.low and amount.unit == unit else None
        draft.columns.append(Column(factor, amount))


def _tail(page: Page, draft: Draft, items: list[Bit], before: list[Bit] | None = None) -> None:
    """Everything after the first amount: sizes, second amounts, rates, alternatives, strengths."""
    everything = (before or []) + items
    take_strength(page, draft, everything)
    for index, bit in enumerate(items):
        previous = items[index - 1] if index else None
        following = items[index + 1] if index + 1 < len(items) else None
        if isinstance(bit, RateBit):
            if draft.amount is not None and draft.per is None and draft.role != "meat":
                draft.per = Per(bit.amount or Fraction(1), bit.unit, _of(items, index) or _base(page, draft), Place(bit.start, bit.end))
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
            elif draft.amount is not None and bit.unit == "percent" and bit.depth and draft.amount.unit != "percent" and draft.strength is None:
                draft.also.append(bit.amount)
            continue
        previous_word = previous.low if isinstance(previous, WordBit) else ""
        if draft.instead and draft.instead[-1].amount is not None and draft.instead[-1].amount.place.end <= bit.start < draft.instead[-1].place.end:
            other = draft.instead[-1]  # what follows "or ½ cup (80 g) kosher" is of the kosher
            draft.instead[-1] = replace(other, also=(*other.also, bit.amount))
            continue
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
        if bit.depth and previous_word in ("was", "were", "formerly", "originally", "orig", "not") and draft.amount is not None:
            draft.was.append(bit.amount if not bit.bare else with_unit(bit.amount, draft.amount.unit))
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
            if _counted(draft, bit, items, index):
                continue
            if dimension == "thing" and bit.unit not in ("stick", "clove", "head", "can", "bottle"):
                continue
            if bit.hyphen:
                continue
            draft.also.append(bit.amount)
    _named_instead(page, draft, items)
    _own_strength(draft)
    if draft.amount is not None and draft.amount.unit == "percent" and draft.per is None:
        draft.per = Per(None, None, _base(page, draft), draft.amount.place)


_HOLDERS = frozenset(["bottle", "can", "jar", "box", "bag", "carton", "container", "packet", "each", "piece", "slab", "rack"])


def _counted(draft: Draft, bit: AmountBit, items: list[Bit], index: int) -> bool:
    """``2 bottles (12 oz each) stout``: so many, and how much is in each."""
    if draft.amount is None or draft.count is not None or draft.amount.unit not in _HOLDERS or bit.dimension not in ("mass", "volume"):
        return False
    total, each = _near(items, index, _TOTAL), _near(items, index, _EACH)
    if not each and not total and (draft.amount.unit == "each" or not bit.depth):
        return False
    draft.count, draft.amount, draft.each = draft.amount, bit.amount, not total
    if draft.count.unit != "each":
        draft.also.append(draft.count)
    return True


def _base(page: Page, draft: Draft) -> str | None:
    line = page.plain[draft.place.start : draft.place.end].lower()
    match = next((match for pattern in _OF_WHAT if (match := pattern.search(line))), None)
    return match[1] if match else None


_OF_WHAT = tuple(re.compile(words) for words in (
    r"(?:%|percent|per cent)\s+\(?(?:by weight\s+)?(?:of|on)\s+(?:the\s+)?(?!weight|total)([a-z]+(?:\s*\+\s*[a-z]+)?)",
    r"\b(meat|water|brine|beef|pork|belly|fish)(?:'s)?\s+(?:wt\b|weight)",
    r"\b(?:weight|wt\.?)\s+of\s+(?:the\s+)?([a-z]+(?:\s*\+\s*[a-z]+)?)",
))  # fmt: skip


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


_SHARE_OF = re.compile(r"\s*(?:of|by)\b(?! (?:it|which|this|that)\b)")  # "0.25 % of meat and water" is no strength


def take_strength(page: Page, draft: Draft, items: list[Bit]) -> None:
    """``(6.25 % sodium nitrite)``, ``half nitrite, half nitrate, 0.5% each``."""
    if draft.role not in ("cure1", "cure2", "ready-mix", "nitrite", "nitrate", "salt", "other"):
        return
    percents = [bit for bit in items if isinstance(bit, AmountBit) and bit.unit == "percent"]
    if not percents:
        bare = next((bit for bit in items if isinstance(bit, AmountBit) and bit.depth and bit.bare and _usual_strength(bit.amount)), None)
        if bare is not None and draft.role == "cure1" and draft.strength is None:
            draft.strength = Strength(between(float(bare.amount.low), float(bare.amount.high)), None, bare.amount.place)  # "(the 6.25 one)"
        return
    place = Place(items[0].start, items[-1].end)
    text = page.plain[place.start : place.end]
    named = list(_STRENGTH.finditer(text))
    if not named:
        bracketed = [bit for bit in percents if bit.depth and not _SHARE_OF.match(page.low, bit.end)]
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


def _usual_strength(amount: Amount) -> bool:
    """A figure that a label of curing salt no. 1 has."""
    span = facts.fact("cure_no1.nitrite").span
    return span.low <= amount.low <= amount.high <= span.high and amount.low.denominator > 1


_NO_SHARE = 3  # percent: nobody puts so much curing salt to meat, so it is what the salt itself holds


def _own_strength(draft: Draft) -> None:
    """``6 % nitrite salt 90 g``: beside a weight the percentage before a curing salt's name is its strength."""
    weight = next((amount for amount in draft.also if units.dimension(amount.unit) == "mass"), None)
    if draft.role not in ("cure1", "cure2", "ready-mix") or draft.amount is None or draft.amount.unit != "percent" or weight is None or (draft.amount.place.start > draft.name_place.start and draft.amount.low < _NO_SHARE):
        return
    if draft.strength is None:
        draft.strength = Strength(between(float(draft.amount.low), float(draft.amount.high)), None, draft.amount.place)
    draft.also = [amount for amount in draft.also if amount is not weight]
    draft.amount, draft.per = weight, None


def _meat_amount(draft: Draft, bit: AmountBit, items: list[Bit], index: int) -> None:
    """``2 brisket flats, 8 lb 4 oz for the pair (each near 4 lb)``: the first weight counts, the count is pieces."""
    assert draft.amount is not None
    if bit.dimension != "mass" or bit.hyphen:
        return
    if units.dimension(draft.amount.unit) == "mass":
        if draft.count is None and bit.depth == 0 and not _near(items, index, _EACH):
            draft.also.append(bit.amount)
        return
    draft.count = with_unit(draft.amount, "piece" if draft.amount.unit == "each" else draft.amount.unit)
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
    rest = _beside(items, index)
    if bit.bare and not (rest and isinstance(rest[0], WordBit)):
        return
    other = named(page, rest) if any(isinstance(part, WordBit) for part in rest[:2]) else None
    if other is None or not other.name:
        other = Draft(Place(bit.start, bit.end), draft.name, draft.name_place, draft.role, draft.kind)
    elif other.role == "other" and draft.role == "salt" and _KIND_OF_SALT.search(other.name):
        other.role, other.kind = "salt", _salt_kind(other.name)
    draft.instead.append(Instead(other.name, other.role, other.kind, bit.amount, None, Place(bit.start, items[-1].end if items[-1].depth == bit.depth or rest else bit.end)))


_KIND_OF_SALT = re.compile(r"\b(?:light|dense|flake|flaked|table|fine|coarse|rolled|kosher)\b")


def _salt_kind(words: str) -> str:
    """``1 c kosher or 1¾ c light flake``: a kind of salt without the word."""
    for noun in (f"{words} salt", f"{words} kosher salt"):
        found = lexicon.known(lexicon.plain_words(noun))
        if found is not None and found.noun == " ".join(lexicon.plain_words(noun)) and found.kind is not None:
            return found.kind
    return "salt_kind_unknown"


def _beside(items: list[Bit], index: int) -> list[Bit]:
    """What follows ``items[index]`` in the same brackets, as if there were none."""
    depth = items[index].depth
    rest: list[Bit] = []
    for bit in items[index + 1 :]:
        if bit.depth < depth or (isinstance(bit, MarkBit) and bit.text in ")]" and bit.depth <= depth - 1):
            break
        rest.append(replace(bit, depth=bit.depth - depth))
    return rest


def _named_instead(page: Page, draft: Draft, items: list[Bit]) -> None:
    """``½ c honey or molasses``: another thing in the same amount."""
    if draft.instead or draft.role in ("meat", "other", "spice", "aromatic"):
        return
    for index, bit in enumerate(items[:-1]):
        if isinstance(bit, WordBit) and bit.low == "or" and isinstance(items[index + 1], WordBit):
            rest = _beside(items, index)
            end = next((number for number, part in enumerate(rest) if not isinstance(part, WordBit)), len(rest))
            found = lexicon.known_at([lexicon.singular(part.low) for part in rest[:end] if isinstance(part, WordBit)], 0)
            if found is not None and found.role != "other" and found.noun not in (draft.name, lexicon.singular(draft.name)):
                draft.instead.append(Instead(found.noun, found.role, found.kind, None, None, Place(rest[0].start, rest[found.end - 1].end)))  # type: ignore[arg-type]
            return
