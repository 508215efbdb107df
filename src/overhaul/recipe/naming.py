"""What an ingredient is called: its name, its role and what is left of its words."""

from __future__ import annotations

import re

from msgspec import Struct, field

from overhaul.reading import lexicon
from overhaul.reading.patterns import Pattern
from overhaul.recipe.bits import AmountBit, Bit, LabelBit, MarkBit, RateBit, WordBit
from overhaul.recipe.model import Amount, Column, Instead, Per, Role, Strength
from overhaul.text import Page, Place

STATES = frozenset(
    ["cold", "fresh", "freshly", "dried", "dry", "crushed", "chopped", "minced", "sliced", "smashed", "cracked", "toasted", "ground", "grated", "peeled", "halved", "quartered", "diced", "packed", "pkd", "loosely", "firmly", "lightly", "finely", "coarsely", "roughly", "thinly", "thickly", "whole", "large", "small", "medium", "big", "fat", "fine-chopped", "bruised", "rubbed", "crumbled", "crumpled", "softened", "melted", "soft", "warm", "hot", "boiling", "lukewarm", "chilled", "cooled", "frozen", "thawed", "boneless", "skinless", "bone-in", "skin-on", "trimmed", "untrimmed", "squared", "split", "weighed", "level", "heaping", "rounded", "scant", "about", "approx", "abt", "extra", "good", "best", "clean", "flat", "strong", "plain", "peeled", "shredded", "cubed", "cut", "torn", "picked", "washed", "drained", "rinsed", "well", "optional", "divided", "ripe", "organic", "homemade", "store-bought", "prepared", "raw", "cooked", "pounded", "beaten", "sifted", "your", "favorite", "favourite", "any", "other", "more", "new"]
)
_KEPT = frozenset(["dry", "ground", "whole", "dried", "fresh", "cracked", "crushed", "plain", "flat", "toasted", "rubbed", "frozen", "boneless", "skinless", "bone-in", "skin-on", "boiling", "hot", "cold"])
_STOP = frozenset(["or", "and", "plus", "for", "to", "if", "from", "such", "as", "with", "in", "at", "into", "cut", "until", "per", "then", "but", "not", "no", "without", "weighing", "about", "approx", "abt", "which", "that", "each", "apiece", "@", "of", "over", "on", "under", "above", "below", "by"])
_NAME_STOP = _STOP - {"of", "and", "no"}
_OR = re.compile(r"\bor\b")
_OPTIONAL = Pattern(r"\b(?:optional|opt\b\.?|if (?:you )?(?:like|desired|wanted|wish|using|you have))")


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
    core: list[Place] = field(default_factory=list)  # the words of the name
    poured: Amount | None = None  # what of the amount is of this role: "2 gal water, half of it ice"
    in_all: bool = False  # "water to make 6 gallons in all": the amount is the whole brine's


# Marks and a hanging "of" at either end; the point of ".5" stays.
_EDGES = re.compile(r"^(?:[\s,;:|=+/–—-]|\.(?!\d)|of\b)+|(?:[\s,;:.|=+/–—-]|\(?\bor\b|\bof|\bplus|\babout|\()+$", re.I)
_NOTHING = frozenset(["a", "an", "the", "to", "as", "with", "and", "of", "in all"])
_HOLLOW = re.compile(r"[(\[](?:[\s,;:=/~≈+-]|\b(?:about|abt\.?|approx\.?|each|apiece|ea|in|all|total|or|so|per|for|the|pair)\b)*[)\]]", re.I)
_BEFORE_MARK, _AFTER_MARK, _LETTER = re.compile(r"\s+([,;:)\]])"), re.compile(r"([(\[])\s+"), re.compile(r"[^\W_]")
_MARKED = re.compile(r"[][(),;:|/]")
_REPEATED = re.compile(r"([,;|/])(?:\s*[,;|/.])+")


def left_over(page: Page, items: list[Bit], taken: list[Place]) -> str | None:
    """The words of ``items`` that are neither in the name nor in an amount, as the page has them; None where nothing is left."""
    words = ""
    end: int | None = None
    for bit in items:
        for place in taken:
            if place.start <= bit.start < place.end:
                break
        else:
            place = None
        if place is not None:
            end = None
            continue
        if isinstance(bit, RateBit) and bit.amount is None:
            continue
        words += (" " if end is None or page.plain[end : bit.start].strip() else page.plain[end : bit.start]) + page.plain[bit.start : bit.end]
        end = bit.end
    if not words or not any(map(str.isalnum, words)):
        return None
    text = " ".join(words.split())
    if _MARKED.search(text):
        text = _REPEATED.sub(r"\1", _HOLLOW.sub("", _BEFORE_MARK.sub(r"\1", _AFTER_MARK.sub(r"\1", text))))
    low = text.lower()
    if not (text[:1].isalnum() and text[-1:].isalnum()) or low.startswith("of") or low.endswith(("of", "or", "plus", "about")):
        text = _EDGES.sub("", text)
    if text.startswith("(") and text.endswith(")") and "(" not in text[1:]:
        text = text[1:-1].strip()
    return text if _LETTER.search(text) and text.lower() not in _NOTHING else None


def said_of(page: Page, draft: Draft, place: Place) -> None:
    """What the whole of its words, at ``place``, say of an ingredient."""
    draft.optional = bool(_OPTIONAL.search(page.low, place.start, place.end))


def named(page: Page, items: list[Bit]) -> Draft:
    """A draft from the words of ``items``: name, role, kind, state, optional."""
    place = Place(items[0].start, items[-1].end)
    name_bits: list[WordBit | LabelBit] = []
    for bit in items:
        if bit.depth or (isinstance(bit, MarkBit) and bit.text in "(,;:"):
            if any(not (isinstance(part, WordBit) and part.low in STATES) for part in name_bits):
                break
            if bit.depth == 0 and isinstance(bit, MarkBit) and bit.text == "(":
                continue
            continue
        if name_bits and ((isinstance(bit, WordBit) and (bit.low in _NAME_STOP or bit.low == "and")) or _apart(page, name_bits, bit)):
            break
        if isinstance(bit, WordBit) or (isinstance(bit, LabelBit) and bit.form == "numbered"):
            name_bits.append(bit)
        elif isinstance(bit, (AmountBit, RateBit)):
            if name_bits:
                break
        elif isinstance(bit, MarkBit) and bit.text in "-–—=" and name_bits:
            break
    while name_bits and isinstance(name_bits[0], WordBit) and name_bits[0].low in ("of", "a", "an", "the", "x", "each", "ea"):
        name_bits = name_bits[1:]
    name_text = " ".join([_said(bit) for bit in name_bits])
    whole = name_text if len(name_bits) == len(items) else " ".join([page.plain[bit.start : bit.end] for bit in items if bit.depth == 0 and isinstance(bit, (WordBit, LabelBit))])
    found = lexicon.known(lexicon.plain_words(name_text))
    fuller = lexicon.known(lexicon.plain_words(whole)) if whole != name_text else found
    if found is None or (fuller is not None and set(found.noun.split()) < set(fuller.noun.split())):
        found = fuller
    core = [bit for bit in name_bits if not (isinstance(bit, WordBit) and bit.low in STATES and bit.low not in _KEPT and not (bit.low == "fat" and bit is name_bits[-1]))] or name_bits  # back fat
    while len(core) > 1 and isinstance(core[0], WordBit) and core[0].low in STATES and found is not None and core[0].low not in found.noun.split():
        core = core[1:]
    if found is not None and core and all(isinstance(bit, WordBit) and bit.low in STATES for bit in core):  # "one head, halved, 4 trotters"
        core = [bit for bit in items if isinstance(bit, WordBit) and bit.depth == 0 and lexicon.singular(bit.low) in found.noun.split()] or core
    words = [_said(bit).lower() for bit in core]
    if words:
        words[-1] = lexicon.singular(words[-1])
    name = " ".join(words).replace("\u00ad", "").strip(" .-")
    name_place = Place(core[0].start, core[-1].end) if core else Place(place.start, place.start)
    draft = Draft(place, name, name_place)
    if found is not None:
        draft.role = found.role  # type: ignore[assignment]
        own = page.low[place.start : place.end]
        own = _OR.split(own)[0] if "or" in own else own  # another name's words say nothing of this one
        draft.kind = _kind(found, own)
        if found.role in ("cure1", "cure2", "ready-mix") and "#" not in found.noun and (number := lexicon.number_aside(own)) is not None:
            draft.role, draft.kind = ("cure1", "cure_no1") if number == "1" else ("cure2", "cure_no2")
        if not name:
            draft.name = found.noun
    draft.core = [Place(bit.start, bit.end) for bit in core]
    return draft


def _said(bit: WordBit | LabelBit) -> str:
    """``cure 1`` is ``cure #1``."""
    return f"#{bit.text}" if isinstance(bit, LabelBit) and bit.text.isdigit() else bit.text


def _apart(page: Page, name_bits: list[WordBit | LabelBit], bit: Bit) -> bool:
    """Whether ``bit`` stands in a column of its own, behind a name that is complete: ``cure #1   JR 3/09``."""
    last = name_bits[-1]
    return len(page.plain[last.end : bit.start]) > 1 and page.plain[last.end : bit.start].isspace() and lexicon.known(lexicon.plain_words(" ".join(part.text for part in name_bits))) is not None


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
    if kind == "black_pepper_ground" and ("whole" in line or "corns" in line):
        return "black_pepper_whole"
    if kind == "black_pepper_ground" and ("coarse" in line or "cracked" in line):
        return "black_pepper_cracked"
    return kind


def with_unit(amount: Amount, unit: str) -> Amount:
    return Amount(amount.low, amount.high, unit, amount.place, amount.parts, amount.vague, amount.doubt, amount.other)
