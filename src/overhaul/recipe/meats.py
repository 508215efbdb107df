"""Which meat the sums are for: its weight, its thickness and its faces, stated or typical."""

from __future__ import annotations

import re
from typing import Literal

from msgspec.structs import replace

from overhaul import facts
from overhaul.reading import lexicon, units
from overhaul.reading.patterns import Pattern
from overhaul.reading.tree import Chain, Measure, parse
from overhaul.recipe.bits import AmountBit
from overhaul.recipe.model import Amount, Ingredient, Meat, Process, Product
from overhaul.span import Span, added, between, exactly
from overhaul.text import Page, Place

_SPECIES = tuple((Pattern(rf"\b(?:{words})"), species) for words, species in (
    ("venison|deer|elk|moose|haunch|caribou|antelope", "venison"),
    ("turkey", "turkey"), ("duck|mallard|magret", "duck"), ("goose", "goose"),
    ("chicken|hen|capon|poussin|fowl|bird|pheasant|quail|poultry", "chicken"),
    ("salmon|trout|fish|mackerel|herring|cod|char|sturgeon|eel|tuna|halibut|sablefish|shad|bass|pike|steelhead|haddock|lox", "fish"),
    ("lamb|mutton", "lamb"),
    ("pork|ham|bacon|belly|bellies|loin|butt|hock|picnic|gammon|jowl|hog|pig|trotter", "pork"),
    ("beef|brisket|flat|point|navel|round|tongue|packer|silverside|topside|chuck|plate|rump|veal|eye", "beef"),
))  # fmt: skip
_FAT_NONE = Pattern(r"\b(?:fat (?:all )?(?:cut|trimmed|taken) (?:away|off)|outside fat all cut away|no fat|fat (?:and silverskin )?off|trimmed (?:of )?(?:all )?(?:fat|lean)|fat cap off|no cap|lean)\b", re.I)
_SKIN_ON = Pattern(r"\b(?:rind[- ]on|skin[- ]on|with (?:the )?(?:rind|skin)|rind and all|in its skin)\b", re.I)
_ROLLED = Pattern(r"\b(?:rolled|roll(?: it)?) (?:and |& )?tied?\b|\brolled (?:brisket|roast|joint|loin|shoulder|beef|piece|navel|flank|plate)\b|\btied (?:in|into) a roll\b", re.I)
_SIZE = r"(\d+(?: ?[½¼¾⅓⅔⅛⅜⅝⅞]| \d/\d|\.\d+|/\d)?|[½¼¾⅓⅔⅛⅜⅝⅞]) ?(in(?:ch(?:es)?|\.)?|\"|”|cm|mm|centimet(?:re|er)s?|millimet(?:re|er)s?)?"
_SIZES = Pattern(rf"(?<![\d/.]){_SIZE} ?(?:x|×|by) ?{_SIZE}(?: ?(?:x|×|by) ?{_SIZE})?(?![\w/])", re.I)
_SLAB_MM = 90  # of two sizes the lesser is a thickness up to here; above, it is a width
_FROZEN = Pattern(r"\bfrozen\b")
_BONE = Pattern(r"\b(?:bone[- ]in|on the bone|with (?:the )?bone|whole ham|bone left)\b", re.I)


def species_of(words: str) -> str | None:
    low = words.lower()
    return next((species for pattern, species in _SPECIES if pattern.search(low)), None)


def _millimetres(amount: Amount) -> Span:
    factor = units.size(amount.unit)
    return between(float(amount.low) * factor, float(amount.high) * factor)


def find_meats(
    page: Page, process: Process, ingredients: list[Ingredient], lengths: dict[tuple[int, int], list[Amount]], told: list[AmountBit], title: str, title_place: Place, product: Product | None
) -> Process:
    """``process`` with its meats. Weight from the list, else the title; thickness stated, else typical for the cut."""
    listed = [item for item in ingredients if item.role == "meat" and item.use in ("cure", "blend")]
    meats = [_meat(page, item, lengths.get((item.name_place.start, item.name_place.end), []), told, title) for item in listed]
    if not meats:
        guessed = _from_title(page, title, title_place, told)
        meats = [guessed] if guessed is not None else []
    if not meats:
        return process
    main = next((meat for meat in meats if meat.mass_stated), meats[0])
    if len(meats) > 1 and (product == "ground" or any(meat.ground for meat in meats) or len({meat.species for meat in meats if meat.mass_stated}) == 1):
        stated = [meat for meat in meats if meat.mass is not None and meat.mass_stated]
        if len(stated) > 1 and len({meat.place for meat in stated}) > 1:
            masses = [meat.mass for meat in stated if meat.mass is not None]
            main = replace(main, mass=added(masses))
    return replace(process, meats=tuple(meats), meat=main)


def _meat(page: Page, item: Ingredient, lengths: list[Amount], told: list[AmountBit], title: str) -> Meat:
    line = page.plain[item.place.start : item.place.end]
    kind = item.kind
    cut = facts.cut(kind) if kind else None
    count = item.count or (item.amount if item.amount is not None and item.amount.unit in ("each", "piece", "slab", "head", "rack") else None)
    pieces = (int(count.low), int(count.high)) if count is not None and count.high >= 1 else None
    mass, stated = item.mass, item.mass is not None
    if mass is None and cut is not None:
        low, high = pieces or (1, 1)
        mass = Span(cut.mass.low * low, cut.mass.likely * (low + high) / 2, cut.mass.high * high)
    thickness, thick_stated = None, False
    sizes = _sizes(line)
    thick = [amount for amount in lengths if not _is_fat(page, amount) and not sizes]
    if not thick and told:
        thick = [told[0].amount]
    if thick:
        thickness, thick_stated = _millimetres(max(thick, key=lambda amount: amount.high * units.factor(amount.unit))), True
        if len(thick) > 1 and re.search(r"cube|piece|chunk", line, re.I):
            thickness = _millimetres(thick[0])
    elif sizes and (len(sizes) > 2 or sizes[0] <= _SLAB_MM):
        thickness, thick_stated = exactly(sizes[0]), True
    elif cut is not None:
        thickness = cut.thickness
    skin = bool(_SKIN_ON.search(line)) or (kind == "pork_belly_whole" and bool(re.search(r"\b(?:rind|skin)\b", page.told)) and not re.search(r"\b(?:rind|skin)(?:less| off| removed)", page.told))
    fat: Literal["none", "thin", "thick"] | None = None
    if _FAT_NONE.search(line):
        fat = "none"
    elif any(_is_fat(page, amount) for amount in lengths):
        cap = max(float(amount.high * units.factor(amount.unit)) for amount in lengths if _is_fat(page, amount))
        fat = "thick" if cap >= facts.fact("fat_sealed_mm").value else "thin"
    elif re.search(r"\bfat cap|cap (?:on|up)|fat on\b", line, re.I):
        fat = "thin"
    return Meat(
        line=item.line, place=item.place, name=item.name, species=species_of(item.name) or species_of(line) or species_of(title), cut=kind, pieces=pieces, mass=mass, mass_stated=stated,
        thickness=thickness, thickness_stated=thick_stated, skin=skin, bone=bool(_BONE.search(line)) or (kind in ("fresh_ham_whole_bone_in", "turkey_breast_bone_in_whole", "turkey_whole", "chicken_whole") and not re.search(r"bone(?:less|d)", line, re.I)),
        fat_cap=fat, frozen=bool(_FROZEN.search(page.low, max(0, item.place.start - 20), item.place.end)), ground=bool(re.search(r"\b(?:ground|minced?|trim(?:mings?)?|sausage meat)\b", line, re.I)),
        rolled=bool(_ROLLED.search(line)), sides=sizes[1:] if len(sizes) > 2 and not thick else (),
    )  # fmt: skip


def _sizes(line: str) -> tuple[float, ...]:
    """Millimetre, least first: ``3 x 5 x 12 in``, ``30 cm by 12 cm``; none where no length is told that way."""
    found = _SIZES.search(line)
    if found is None:
        return ()
    told = [(found[place], found[place + 1]) for place in (1, 3, 5) if found[place]]
    unit = told[-1][1]
    if unit is None or re.match(r"\s*thick", line[found.end() :], re.I):
        return ()
    read = [next((part for item in parse(f"{number} {own or unit}") if isinstance(item, Chain) for part in item.parts if isinstance(part, Measure) and part.unit is not None), None) for number, own in told]
    return tuple(sorted(float(one.low * units.factor(one.unit)) for one in read if one is not None and one.unit is not None))


def _is_fat(page: Page, amount: Amount) -> bool:
    head, tail = page.low[max(0, amount.place.start - 30) : amount.place.start], page.low[amount.place.end : amount.place.end + 12]
    return bool(re.search(r"\b(?:cap|fat|trim\w*)\b[^,;\n]*$", head) or re.match(r"\s*(?:cap|fat|of fat)\b", tail)) and "thick" not in tail


def _from_title(page: Page, title: str, place: Place, told: list[AmountBit]) -> Meat | None:
    """The meat that only the title or the first words name: "enough for 100# of meat"."""
    name = lexicon.known(lexicon.plain_words(title))
    whole = page.plain[place.start : place.end]
    amount = next((part for item in parse(whole, place.start) if isinstance(item, Chain) for part in item.parts if isinstance(part, Measure) and part.unit in ("pound", "kilogram")), None)
    if amount is None and (name is None or name.role != "meat"):
        return None
    mass = between(float(amount.low) * units.size(amount.unit or "pound"), float(amount.high) * units.size(amount.unit or "pound")) if amount is not None else None
    kind = name.kind if name is not None and name.role == "meat" else None
    cut = facts.cut(kind) if kind else None
    where = Place(amount.start, amount.end) if amount is not None else place
    return Meat(
        page.line_at(place.start), where, name.noun if name is not None and name.role == "meat" else "meat", species_of(title), kind, None, mass, mass is not None,
        _millimetres(told[0].amount) if told else cut.thickness if cut is not None else None, bool(told),
    )  # fmt: skip
