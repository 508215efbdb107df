"""From a page to recipes: blocks, ingredients, sentences and facts put together."""

from __future__ import annotations

import re
from bisect import bisect_right
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.house import House
from overhaul.reading import lexicon, units
from overhaul.reading.lines import Block, blocks
from overhaul.reading.tree import Chain, Label, Measure, Rate, unit_word
from overhaul.recipe import masses, split
from overhaul.recipe.bits import AmountBit, RateBit, WordBit, bits
from overhaul.recipe.ingredients import read_line, under_columns
from overhaul.recipe.meats import find_meats
from overhaul.recipe.method import Sentence, Story, sentences, settle
from overhaul.recipe.method_ingredients import Taking, takings, unmeasured
from overhaul.recipe.model import (
    CURING_SALTS,
    Amount,
    Branch,
    Column,
    Cure,
    Fact,
    Ingredient,
    Instead,
    Measured,
    Note,
    Per,
    Process,
    Product,
    ReadLine,
    Recipe,
    Reference,
    Section,
    Step,
    Strength,
    Taken,
    Unread,
    Use,
    Yield,
)  # fmt: skip
from overhaul.recipe.naming import Draft
from overhaul.recipe.process import Temperature, read_process
from overhaul.recipe.products import PRODUCTS, product_of
from overhaul.span import Span, added
from overhaul.text import Page, Place

_SECTION_USES: tuple[tuple[re.Pattern[str], Use], ...] = (
    (re.compile(r"\b(?:variations?|substitut\w*|options?|alternatives?|nutrition\w*|leftovers?)\b"), "aside"),
    (re.compile(r"\b(?:brine|cure|curing|pickle|corning|dry salt|wet cure|meat|beef|pork|fish|salmon|turkey|injection|pump)\b"), "cure"),
    (re.compile(r"\b(?:rub|crust|coat\w*|bark|outside)\b"), "rub"),
    (re.compile(r"\b(?:pot|cook\w*|simmer\w*|braise\w*|boil\w*|glaze|mop|spritz|roast\w*|finish\w*|steam\w*|wrap|baste|oven|smok\w*)\b"), "cook"),
    (re.compile(r"\b(?:serv\w+|sauce|slaw|plate|sandwich|garnish|dress\w*|mustard sauce|accompan\w+)\b"), "serve"),
    (re.compile(r"\b(?:spices?|spice mix|blend|seasoning|mix)\b"), "blend"),
    (re.compile(r"\b(?:soak\w*|rinse)\b"), "soak"),
)
_LINE_USES: tuple[tuple[re.Pattern[str], Use], ...] = (
    (re.compile(r"\bfor (?:the )?(?:pot|glaze|simmer\w*|cook\w*|braise|pan|roast\w*|steam\w*|mop|spritz)\b|\bto (?:cook|simmer|glaze|braise)\b"), "cook"),
    (re.compile(r"\bfor (?:the )?(?:rub|crust|coating|outside)\b|^\W*(?:the )?(?:rub|crust|coating)\s*:"), "rub"),
    (re.compile(r"\bfor (?:serving|garnish)\b|\bto serve\b"), "serve"),
    (re.compile(r"\bfor (?:the )?(?:soak|soaking|rinsing)\b"), "soak"),
)

_PUT_BY = re.compile(r"\(?(?:\b(?:plus|and)|\+)\s+(?:\w+\s+)?(?:more|extra|additional|some)\b.*|\(?\b(?:save|keep|reserve|rest|remainder|leftover)\b.*")

_CURED_WORDS = re.compile(r"\b(?:cur(?:ed|e|ing)|corn(?:ed|ing|)(?! syrup| starch| meal)|pastrami|bacon|ham|gammon|salt beef|pickled)\b", re.I)
_UNCURED = re.compile(r"\b(?:no (?:curing salt|nitrite|cure|pink salt|curing salts)\b[^.]{0,60}|without (?:curing salt|nitrite|cure)\b|uncured|brined white|not (?:a )?cured|no need (?:of|for) (?:nitrite|curing salt|cure))")
_BOUGHT_DONE = re.compile(r"\b(?:fully[- ]cooked|ready[- ]to[- ]eat (?:\w+ )?ham|pre-?cooked|(?:curing|smoking|cooking) (?:has|have) been done|already (?:been )?(?:cured|cooked|smoked))\b")
_RAW = re.compile(r"\b(?:stays? raw|it is raw|raw until|fry (?:first|before)|green bacon|cook before (?:eating|serving)|fry(?:ing)? it|to be fried|fried as wanted|fry as)\b")
_SOLD = re.compile(r"\b(?:for sale|sold|shop|counter sale|service|covers|customers|wholesale|line cook|plates?)\b", re.I)
_YIELD = re.compile(r"\b(?:yields?|yld|makes|serves|servings|enough for|gives|you get|portions|to serve)\b", re.I)
_CELLS = re.compile(r"\||\t|\s{3,}")
_EQUAL_WEIGHT = re.compile(r"\b(?:equal weights?|same weight|by weight|weigh(?:ed|s)?|equal parts by weight)\b")
_ICE_ALIKE = ("equal weight", "equal parts by weight", "the same weight of ice", "the same weight in ice", "weight for weight")
_TOGETHER = ("meat + water", "meat and water", "meat plus water")
_FOR_SALE = ("for sale", "sold by", "to sell")


class _Part(Struct):
    """A section while it is being filled."""

    name: str | None
    line: int
    place: Place
    use: Use
    drafts: list[tuple[Draft, Use, bool]]  # the draft, what for, from the method


def read_page(page: Page, house: House) -> list[Recipe]:
    """The recipes of ``page``, in order. An empty page gives none."""
    with lexicon.house_names(house.names):
        return _read_page(page, house)


def _read_page(page: Page, house: House) -> list[Recipe]:
    found = blocks(page)
    if not any(block.kind != "blank" for block in found):
        return []
    several = split.recipes(page, found)
    if len(several) == 1:
        return [_finished(page, found, house)]
    made = []
    for index, part in enumerate(several):
        recipe = _finished(split.only(page, part.blocks, found), part.blocks, house)
        title = recipe.title if part.version is None else f"{recipe.title}: {part.version.lower()}"
        first, last = part.own[0].first, part.own[-1].last
        lines = tuple(line for line in _lines(page, found) if first <= line.line <= last)
        made.append(replace(recipe, index=index, title=title, first_line=first, last_line=last, lines=lines))
    return made


def _finished(page: Page, found: list[Block], house: House) -> Recipe:
    """One recipe; where it is finished several ways, each of them is read by itself beside it."""
    whole = _recipe(page, found, house)
    ways = split.ways(page, found)
    if not ways:
        return whole
    made: list[Recipe] = []
    for way in ways:
        others = frozenset().union(*(other.own for other in ways if other is not way)) - way.own
        blocks_of = [block for index, block in enumerate(found) if index not in others]
        read = _recipe(split.only(page, blocks_of, found), blocks_of, house)
        made.append(replace(read, product=product_of(way.name) or read.product))
    first = made[0]
    steps = {step.place: step for one in reversed(made) for step in one.steps}
    branches = tuple(Branch(way.name, tuple(sorted({line for index in way.own if found[index].kind == "step" for line in range(found[index].first, found[index].last + 1)})), one.process) for way, one in zip(ways, made, strict=True))
    return replace(whole, process=first.process, steps=tuple(sorted(steps.values(), key=lambda step: step.place)), branches=branches, ways=tuple(made))


def _section_name(text: str) -> str:
    text = re.sub(r"^[#*_\s]+|[*_:\s]+$", "", text)
    return re.split(r"\s+[-–—]\s+|\s{3,}|\(", text)[0].strip() or text


def _use_of(name: str | None) -> Use:
    if name is None:
        return "cure"
    for pattern, use in _SECTION_USES:
        if pattern.search(name.lower()):
            if use == "cure" and re.search(r"\bspices?\b", name, re.I) and not re.search(r"\bbrine (?:and|with)\b", name, re.I):
                return "blend"
            return use
    return "cure"


def _recipe(page: Page, found: list[Block], house: House) -> Recipe:
    title, title_place = _title(page, found)
    parts = [_Part(None, 0, title_place, "cure", [])]
    section: str | None = None
    columns: tuple[str | None, ...] = ()
    story_sentences: list[Sentence] = []
    notes: list[Note] = []
    yields: Yield | None = None
    for number, block in enumerate(found):
        if block.kind == "heading":
            section = _section_name(page.words(block.place))
            parts.append(_Part(section, block.first, block.place, _use_of(section), []))
            yields = yields or _yield(page, block)
            columns = _columns(page, block)
        elif block.kind == "ingredient":
            for draft in read_line(page, bits(block.items or ()), block.place):
                under_columns(draft, columns)
                parts[-1].drafts.append((draft, _line_use(page, draft, parts[-1].use), False))
        elif block.kind == "step":
            story_sentences.extend(sentences(page, bits(block.items or ()), number, section, block.numbered))
        elif block.kind in ("note", "title"):
            yields = yields or _yield(page, block)
            if block.kind == "note":
                notes.append(Note(block.first, page.words(block.place), block.place))
    if yields is None:
        yields = next((found_yield for sentence in story_sentences if (found_yield := _yield_in(page, sentence))), None)
    for part in parts:
        _out_of_hundred([draft for draft, _, _ in part.drafts])
    _restated(parts)
    listed = [draft for part in parts for draft, _, _ in part.drafts]
    method = _OWN_BRINE.sub("", _method_words(page, story_sentences))
    immersion = any(draft.role in ("water", "ice", "liquid") and use == "cure" for part in parts for draft, use, _ in part.drafts) or (bool(re.search(r"\bbrine\b|\bpickle\b", method, re.I)) and bool(re.search(r"\bwater\b|\bgallons?\b|\bboil\b", method, re.I))) or any(draft.role in ("liquid",) for draft in listed)
    salted = any(draft.role in ("salt", *CURING_SALTS) for draft in listed)
    story = Story(immersion, not immersion and salted, salted)
    begins = _method_begins(found)
    settle(page, [sentence for sentence in story_sentences if sentence.block >= begins], story)
    taken = [takings(page, sentence) for sentence in story_sentences]
    _take(page, parts, story_sentences, taken, listed)
    text = page.plain
    product = _product(title, parts, text)
    _settle_uses(parts, immersion, product)
    process, temps = read_process(page, story_sentences)
    sections = _weigh(page, parts, house)
    sections = _strength_in_a_note(page, sections)
    ingredients = [item for part in sections for item in part.ingredients]
    thick = _method_thickness(page, story_sentences)
    cure = _cure(process, ingredients, page, story_sentences)
    if cure is not None and cure.method == "dry":
        process = replace(process, brine_temperature=None, brine_heated=None)  # there is no brine
    process = find_meats(page, replace(process, cure=cure), ingredients, parts_lengths(parts), thick, title, title_place, product)
    process = _by_rate(process)
    sections = _slips(page, _rates(page, sections, process, house), process)
    if process.meat is not None and product is None:
        product = "fish" if process.meat.species == "fish" else "poultry" if process.meat.species in ("chicken", "turkey", "duck", "goose", "poultry") else None
    steps = _steps(page, story_sentences, taken, temps)
    has_cure = any(item.role in CURING_SALTS for part in sections for item in part.ingredients)
    return Recipe(
        page=page,
        title=title,
        title_place=title_place,
        product=product,
        sections=tuple(sections),
        steps=tuple(steps),
        process=process,
        yields=yields,
        notes=tuple(notes),
        references=_references(page, found),
        lines=_lines(page, found),
        unread=_unread(page, found, sections, steps, yields, process),
        cured=has_cure or product in ("corned beef", "pastrami", "bacon", "ham") or (bool(_CURED_WORDS.search(title)) and product not in ("fish", "poultry")),
        raw_on_purpose=bool(_RAW.search(page.low)),
        bought_done=not has_cure and bool(_BOUGHT_DONE.search(page.low)),
        uncured_on_purpose=bool(_UNCURED.search(page.low)) and not has_cure,
        sold=True if any(words in page.low for words in _FOR_SALE) else None,
        first_line=found[0].first,
        last_line=found[-1].last,
    )


def _out_of_hundred(drafts: list[Draft]) -> None:
    """``MEAT 100 / water 60 / salt 2.6``: bare figures beside a hundred of meat are percentages of the meat."""
    meat = next((draft for draft in drafts if draft.role == "meat"), None)
    told = [draft for draft in drafts if draft.amount is not None]
    if meat is None or meat.amount is None or meat.amount.low != 100 or len(told) < 3 or any(draft.amount.unit != "each" for draft in told if draft.amount is not None):
        return
    for draft in told:
        assert draft.amount is not None
        draft.amount = replace(draft.amount, unit="percent")
        draft.per = Per(None, None, "meat", draft.amount.place) if draft is not meat else None


_OWN_BRINE = re.compile(r"\b(?:its|their) own (?:brine|pickle|liquor|liquid)\b", re.I)
_LEAST_ALIKE = 3  # ingredients: two lists with fewer in common may both be meant


def _restated(parts: list[_Part]) -> None:
    """A list told again for another batch (``For 100 lb:``) is a column of the first, and is never added to it."""
    for number, part in enumerate(parts):
        for again in parts[number + 1 :]:
            if again.use != part.use or len(again.drafts) < _LEAST_ALIKE or len(again.drafts) > len(part.drafts):
                continue
            pairs = [(first, draft) for draft, _, _ in again.drafts for first, _, _ in part.drafts if first.role == draft.role and lexicon.plain_words(first.name) == lexicon.plain_words(draft.name)]
            if len(pairs) != len(again.drafts) or len({id(first) for first, _ in pairs}) != len(pairs) or any(first.amount is None or draft.amount is None for first, draft in pairs):
                continue
            for first, draft in pairs:
                assert first.amount is not None
                assert draft.amount is not None
                first.columns = first.columns or [Column(Fraction(1), first.amount)]
                same = first.amount.unit == draft.amount.unit and first.amount.low
                first.columns.append(Column(draft.amount.low / first.amount.low if same else None, draft.amount))
            again.drafts = []


def _columns(page: Page, block: Block) -> tuple[str | None, ...]:
    """What a table's heading says of each column after the name: a unit of mass or volume, ``percent``, or nothing."""
    cells = [cell.strip().lower() for cell in _CELLS.split(page.text[block.place.start : block.place.end]) if cell.strip()]
    found = ["percent" if cell.startswith("%") else unit_word(cell) for cell in cells[1:]]
    return tuple(unit if unit == "percent" or (unit is not None and units.dimension(unit) in ("mass", "volume")) else None for unit in found)


def parts_lengths(parts: list[_Part]) -> dict[tuple[int, int], list[Amount]]:
    """Lengths of each ingredient line, by the place of its name."""
    return {(draft.name_place.start, draft.name_place.end): draft.lengths for part in parts for draft, _, _ in part.drafts}


def _title(page: Page, found: list[Block]) -> tuple[str, Place]:
    for block in found:
        if block.kind == "title":
            text = page.words(block.place)
            head = re.split(r"\s{3,}|\t", text)[0].rstrip()
            clean = re.sub(r"^#+\s*|[\s.#*_]+$", "", head)
            start = block.place.start + head.find(clean[:1]) if clean else block.place.start
            return clean or head, Place(start, start + len(clean))
    first = next((block for block in found if block.kind != "blank"), found[0])
    return page.name.rsplit("/", 1)[-1].rsplit(".", 1)[0], Place(first.place.start, first.place.start)


def _line_use(page: Page, draft: Draft, use: Use) -> Use:
    start = page.lines[page.line_at(draft.place.start) - 1].place.start
    if not any(mark in page.low[start : draft.place.end] for mark in ("for ", "to ", ":")):
        return use
    lead = page.low[start : draft.place.start]
    # What is put by for later ("plus more for the rub", "save the rest for the pot") is not what the amount is for.
    line = (lead if ":" in lead else "") + _PUT_BY.sub("", page.low[draft.place.start : draft.place.end])
    for pattern, found in _LINE_USES:
        if pattern.search(line):
            return found
    return use


def _method_begins(found: list[Block]) -> int:
    """The first block in which anything can be done: what stands before a list that has a method behind it is a story."""
    listed = [index for index, block in enumerate(found) if block.kind == "ingredient"]
    return listed[0] if len(listed) >= _LEAST_ALIKE and any(block.kind == "step" for block in found[listed[-1] :]) else 0


def _method_words(page: Page, told: list[Sentence]) -> str:
    return " ".join(sentence.text for sentence in told)


def _take(page: Page, parts: list[_Part], told: list[Sentence], taken: list[list[Taking]], listed: list[Draft]) -> None:
    """Put what stands only in the method into the section it goes into."""
    known = list(listed)
    method: list[tuple[Draft, Use]] = []
    for in_sentence in taken:
        for taking in in_sentence:
            if _told_before(page, taking, known, listed):
                continue
            if taking.use == "soak":
                continue
            method.append((taking.draft, taking.use))
            known.append(taking.draft)
    method += _rest_as_ice(told, taken, listed)
    has_salt = any(draft.role == "salt" for draft in known)
    has_cure = any(draft.role in CURING_SALTS for draft in known)
    if not listed:
        for sentence in told:
            if sentence.phase in ("cook", "slice", "store", "hold", "cool", "season", "rest"):
                continue
            for taking in unmeasured(page, sentence):
                curing = taking.draft.role in CURING_SALTS
                if (curing and not has_cure) or (not curing and not has_salt):
                    method.append((taking.draft, taking.use))
                    has_cure, has_salt = has_cure or curing, has_salt or not curing
    for draft, use in method:
        part = next((part for part in parts if part.use == use and part.drafts), None)
        if part is None:
            part = _Part(None, page.line_at(draft.place.start), draft.place, use, [])
            parts.append(part)
        part.drafts.append((draft, use, True))


_REST_ICE = re.compile(r"\b(?:rest|remainder|remaining|balance)\b[^.;]{0,24}\b(?:as|in) (?:the form of )?(ice)\b")


def _rest_as_ice(told: list[Sentence], taken: list[list[Taking]], listed: list[Draft]) -> list[tuple[Draft, Use]]:
    """``Bring 2 qts water to the boil. Rest of water as ice.``: what of the listed water is ice, which stands nowhere as an amount."""
    sentence = next((one for one in told if one.says(_REST_ICE)), None)
    water = next((draft for draft in listed if draft.role == "water" and draft.amount is not None), None)
    if sentence is None or water is None or water.amount is None or water.poured is not None or any(draft.role == "ice" for draft in listed):
        return []
    place = sentence.find(_REST_ICE)
    assert place is not None
    whole, dimension = water.amount, units.dimension(water.amount.unit)
    heated = next((taking.draft.amount for one in taken for taking in one if taking.draft.role == "water" and taking.draft.amount is not None), None)
    ice = Draft(place, "ice", Place(place.end - 3, place.end), "ice", "ice_unspecified_bulk")
    if heated is None or units.dimension(heated.unit) != dimension or dimension not in ("mass", "volume") or {heated.unit, whole.unit} & units.WORD_MEASURES:
        return [(ice, "cure")]
    share = heated.high * units.factor(heated.unit) / (whole.high * units.factor(whole.unit)) if whole.high else Fraction(1)
    if not 0 < share < 1:
        return [(ice, "cure")]
    water.poured = replace(whole, low=whole.low * share, high=whole.high * share)
    ice.poured = replace(whole, low=whole.low * (1 - share), high=whole.high * (1 - share), place=place)
    return [(ice, "cure")]


def _told_before(page: Page, taking: Taking, known: list[Draft], listed: list[Draft]) -> bool:
    draft = taking.draft
    for other in known:
        if other.role != draft.role:
            if draft.role in CURING_SALTS and other.role == "salt" and other in listed and _names_less(draft, other):
                return True  # the list has settled what "the pink salt" is: the Himalayan
            continue
        if draft.role == "salt" and other not in listed and taking.sentence.place.start <= other.place.start < taking.sentence.place.end and lexicon.plain_words(draft.name) != lexicon.plain_words(other.name):
            continue  # two pounds of bay salt, one pound of common salt
        if draft.role in ("water", "ice", "salt", "meat", *CURING_SALTS):
            same = True
        else:
            mine, theirs = set(lexicon.plain_words(draft.name)), set(lexicon.plain_words(other.name))
            same = bool(mine & theirs)
        if not same:
            continue
        if draft.role == "water" and taking.use == "cook" and other not in listed:
            continue
        if draft.role == "water" and taking.use == "cook" and not re.search(r"\bpot\b|\bsimmer\b|\bcook\b", page.plain[other.place.start : other.place.end], re.I) and other.amount is not None and taking.bit is not None and other.amount.low < taking.bit.amount.low and other.amount.unit == taking.bit.unit:
            continue
        if other.amount is None and draft.amount is not None and draft.role in ("water", "meat", "ice") and other in listed and taking.use == "cure":
            other.amount, other.place = draft.amount, other.place
        return True
    return False


def _names_less(draft: Draft, other: Draft) -> bool:
    """Whether ``draft`` is called by no more than words of the name of ``other``."""
    return set(lexicon.plain_words(draft.name)) <= set(lexicon.plain_words(other.name))


def _product(title: str, parts: list[_Part], text: str) -> Product | None:
    meats = " ".join(draft.name for part in parts for draft, use, _ in part.drafts if draft.role == "meat" and use in ("cure", "blend"))
    kinds = {draft.kind for part in parts for draft, _, _ in part.drafts if draft.role == "meat"}
    for source in (title.lower(), meats.lower(), text[:400].lower()):
        for pattern, product in PRODUCTS:
            if pattern.search(source):
                if product == "bacon" and "pork_loin_boneless_whole" in kinds and "pork_belly_whole" not in kinds:
                    return "loin"
                if product == "corned beef" and "beef_tongue" in kinds and len(kinds) == 1:
                    return "tongue"
                if product == "other" and source != meats.lower() and re.search(r"\bground\b|\bmince", meats.lower()):
                    return "ground"
                if product == "ham" and source != title.lower() and "hamburger" in source:
                    continue
                return product
    return None


def _settle_uses(parts: list[_Part], immersion: bool, product: Product | None) -> None:
    """A rub with the curing salt in it, and no other cure on the page, is the cure; a spice sub-recipe is a blend."""
    cured = any(use == "cure" and draft.role in ("salt", *CURING_SALTS) for part in parts for draft, use, _ in part.drafts)
    if not cured:
        for part in parts:
            if part.use in ("rub", "blend", "cook") and any(draft.role in ("salt", *CURING_SALTS) for draft, _, _ in part.drafts):
                part.use = "cure"
                part.drafts = [(draft, "cure" if use in ("rub", "blend", "cook") else use, method) for draft, use, method in part.drafts]


def _weigh(page: Page, parts: list[_Part], house: House) -> list[Section]:
    equal = any(words in page.low for words in _ICE_ALIKE)
    sections = []
    for part in parts:
        if not part.drafts and part.name is None:
            continue
        items = []
        for draft, use, from_method in part.drafts:
            items.append(_ingredient(page, draft, use, from_method, house, equal))
        for number, (draft, use, _) in enumerate(part.drafts):
            if draft.in_all and items[number].mass is not None:
                items[number] = replace(items[number], mass=_filled_up(items[number], [item for item in items if item.use == use]), weighed=False)
        sections.append(Section(part.name, part.line or (items[0].line if items else 1), part.place, tuple(items), part.use))
    return sections


def _filled_up(water: Ingredient, items: list[Ingredient]) -> Span | None:
    """The water that fills up to the amount told for the whole brine: the amount less what else is poured and dissolved in it."""
    whole = water.mass
    poured = added([item.mass for item in items if item is not water and item.role in ("water", "ice", "liquid", "acid") and item.mass is not None])
    dissolved = added([item.mass for item in items if item.role in ("salt", "sugar", *CURING_SALTS) and item.mass is not None])
    room = facts.fact("dissolved.room").span
    assert whole is not None
    left = Span(whole.low - poured.high - room.high * dissolved.high, whole.likely - poured.likely - room.likely * dissolved.likely, whole.high - poured.low - room.low * dissolved.low)
    return left if left.low > 0 else None


def _ingredient(page: Page, draft: Draft, use: Use, from_method: bool, house: House, equal: bool) -> Ingredient:
    by_weight = equal or bool(_EQUAL_WEIGHT.search(page.low, draft.place.start, draft.place.end))
    role, kind = draft.role, draft.kind
    mass: Span | None = None
    weighed = False
    by_weight = by_weight or draft.poured is not None
    candidates = [amount for amount in (draft.poured or draft.amount, *(() if draft.poured else draft.also)) if amount is not None]
    for amount in candidates:  # a weight beats the spoon on its line
        span, by_scale = masses.in_grams(amount, role, kind, house, by_weight)
        if span is not None and by_scale:
            mass, weighed = span, True
            break
        mass = mass or span
    if draft.count is not None and mass is not None and draft.each and draft.amount is not None:
        mass = masses.scaled(mass, float(draft.count.low), float(draft.count.high))
    elif draft.count is not None and mass is not None and draft.each is None and draft.count.high > 1:
        cut = facts.cut(kind) if kind else None
        if cut is not None and mass.likely * 0.6 <= cut.mass.high and mass.likely >= cut.mass.low * 0.9 and mass.likely / float(draft.count.high) < cut.mass.low * 0.8:
            mass = masses.scaled(mass, float(draft.count.low), float(draft.count.high))
            draft.each = True  # four flats of 6 to 7 lb are no four of 1 1/2
    instead = tuple(Instead(other.name, other.role, other.kind, other.amount, masses.in_grams(other.amount, other.role, other.kind, house)[0] if other.amount else None, other.place, other.also) for other in draft.instead)
    start = draft.amount.place.start if draft.amount is not None and from_method else draft.place.start
    if role == "meat" and (draft.amount is None or units.dimension(draft.amount.unit) != "mass"):
        mass, weighed = None, False
    return Ingredient(
        line=page.line_at(start), text=page.words(draft.place), place=draft.place, name=draft.name, name_place=draft.name_place, role=role, kind=kind,
        amount=draft.amount, count=draft.count, each=draft.each, per=draft.per, also=tuple(draft.also), instead=instead, columns=tuple(draft.columns),
        was=tuple(draft.was), state=draft.state, optional=draft.optional, doubt=draft.doubt, mass=mass, weighed=weighed, strength=draft.strength,
        in_method=from_method, use=use,
    )  # fmt: skip


def _cure(process: Process, ingredients: list[Ingredient], page: Page, told: list[Sentence]) -> Cure | None:
    wet = [item for item in ingredients if item.use == "cure" and item.role in ("water", "ice", "liquid")]
    salts = [item for item in ingredients if item.use == "cure" and item.role in ("salt", *CURING_SALTS)]
    place = next((sentence.place for sentence in told if sentence.phase == "cure"), None)
    pumped = process.pump is not None or any(sentence.phase == "pump" for sentence in told)
    soaked = bool(wet) or any(sentence.says(r"\bbrine\b|\bpickle\b") for sentence in told if sentence.phase in ("cure", "cool-brine", "make-brine"))
    if not salts and not soaked:
        return None
    where = place or (salts[0].place if salts else told[0].place if told else Place(0, 0))
    text = " ".join(sentence.low for sentence in told)
    if pumped:
        covered = bool(re.search(r"\b(?:cover pickle|cover brine|cover(?:ed)? (?:with|in) (?:the )?(?:rest|remaining|brine|pickle)|submerge|in(?:to)? the (?:rest|remaining|remainder)|then (?:hold )?in|goes in the bucket|(?:rest|remainder) of the (?:brine|pickle)|leftover|immerse|under the (?:rest|remaining|brine))\b", text))
        method = "pumped-immersion" if covered else "pumped"
    else:
        method = "immersion" if soaked else "dry"
    if re.search(r"\b(?:ground|minced?|sausage|links?)\b", " ".join((page.plain[:200], *(item.name for item in ingredients if item.role == "meat"))), re.I) and not re.search(r"\bbrine\b", text):
        method = "dry"  # mixed in: the water is part of the sausage, no brine
    percent = [item for item in salts if item.amount is not None and item.amount.unit == "percent"]
    balance = "equilibrium" if percent or "equilibrium" in page.low or (method == "dry" and any(item.weighed for item in salts) and re.search(r"\bbag\b", text)) else None
    if balance is None and method == "immersion" and wet:
        balance = "gradient"
    return Cure(method, balance, page.line_at(where.start), where)  # type: ignore[arg-type]


_LABEL = re.compile(r"\b(?:curing salt|pink salt|cure)\b[^.%\n]{0,40}?(\d+(?:\.\d+)?) ?%\s*(?:of )?(?:sodium )?nitrite\b")


def _strength_in_a_note(page: Page, sections: list[Section]) -> list[Section]:
    """``Pink curing salt is 6.25 % sodium nitrite``, told anywhere on the page, is the strength of the one curing salt that has none."""
    salts = [item for section in sections for item in section.ingredients if item.role in ("cure1", "cure2", "ready-mix")]
    told = _LABEL.search(page.low) if len(salts) == 1 and salts[0].strength is None and "nitrite" in page.low else None
    if told is None:
        return sections
    value = float(told[1])
    strength = Strength(Span(value, value, value), None, Place(told.start(1), told.end(1)))
    return [replace(section, ingredients=tuple(replace(item, strength=strength) if item is salts[0] else item for item in section.ingredients)) for section in sections]


def _by_rate(process: Process) -> Process:
    """The days that the page's own rate gives this piece, where its thickness or weight is stated."""
    rate, meat = process.cure_rate, process.meat
    if rate is None or process.cure_time is not None or meat is None:
        return process
    per = rate.per * float(units.factor(rate.per_unit))
    if units.dimension(rate.per_unit) == "length":
        size = meat.thickness if meat.thickness_stated else None
    elif meat.mass is not None and meat.mass_stated:
        low, high = meat.pieces or (1, 1)
        size = Span(meat.mass.low / high, meat.mass.likely / max(low, 1), meat.mass.high / max(low, 1)) if high else None
    else:
        size = None
    if size is None or per <= 0:
        return process
    time = Fact(rate.low * size.low / per + rate.more, rate.high * size.high / per + rate.more, rate.unit, rate.line, rate.place)
    return replace(process, cure_time=time)


def _method_thickness(page: Page, told: list[Sentence]) -> list[AmountBit]:
    found = []
    for sentence in told:
        for bit in sentence.amounts:
            if bit.dimension != "length":
                continue
            before = page.plain[max(sentence.place.start, bit.start - 60) : bit.start]
            after = page.plain[bit.start : min(sentence.place.end, bit.end + 30)]
            around, clause = before + after, before.rpartition(",")[2] + after  # "trimmed of its fat, 2 in thick" tells of the meat
            if re.search(r"\b(?:thick|thickest|thickness|deep at|through)\b", around, re.I) and not re.search(r"\b(?:slice[sd]?|apart|needle|of water)\b", around, re.I) and not re.search(r"\b(?:fat|cap)\b", clause, re.I):
                found.append(bit)
    return found


def _rates(page: Page, sections: list[Section], process: Process, house: House) -> list[Section]:
    """Fill in the grams of rates and percentages, now that meat and water are known."""
    items = [item for section in sections for item in section.ingredients]
    water = [item.mass for item in items if item.role in ("water", "ice", "liquid") and item.use == "cure" and item.mass is not None]
    water_mass = added(water) if water else None
    meat_mass = process.meat.mass if process.meat is not None and process.meat.mass_stated else None
    together = any(words in page.low for words in _TOGETHER)

    def base(of: str | None, default: str) -> Span | None:
        word = of or default
        if (together and of is None) or ("meat" in word and "water" in word):
            return _sum(meat_mass, water_mass)
        if re.search(r"water|brine|liquid", word):
            return water_mass
        return meat_mass

    def filled(item: Ingredient) -> Ingredient:
        if item.per is None or item.amount is None or (item.role in ("meat", "water") and item.amount.unit != "percent"):
            return item
        if item.amount.unit == "percent":
            weights = [amount for amount in item.also if units.dimension(amount.unit) == "mass"]
            if weights:
                return item
            whole = base(item.per.of, "water" if process.cure is not None and process.cure.method == "immersion" and water_mass is not None and meat_mass is None else "meat")
            if whole is None:
                return item
            return replace(item, mass=Span(float(item.amount.low) / 100 * whole.low, float(item.amount.low + item.amount.high) / 200 * whole.likely, float(item.amount.high) / 100 * whole.high), weighed=True)
        unit = item.per.unit
        if unit is None:
            return item
        one, weighed = masses.in_grams(item.amount, item.role, item.kind, house)
        if one is None:
            return item
        dimension = units.dimension(unit)
        amount = float(item.per.amount or 1)
        if dimension == "mass":
            whole, share = base(item.per.of, "meat"), float(units.factor(unit)) * amount
        elif dimension == "volume":
            litre = masses.in_grams(Amount(Fraction(1), Fraction(1), unit, item.per.place), "water", "water_cold", house)[0]
            whole, share = water_mass, (litre.likely if litre else 0.0) * amount
        else:
            return item
        if whole is None or share <= 0:
            return replace(item, mass=None, weighed=False)
        return replace(item, mass=Span(one.low * whole.low / share, one.likely * whole.likely / share, one.high * whole.high / share), weighed=weighed and whole.exact)

    if not any(item.per is not None for item in items):
        return sections
    return [replace(section, ingredients=tuple(filled(item) for item in section.ingredients)) for section in sections]


def _slips(page: Page, sections: list[Section], process: Process) -> list[Section]:
    doubted = {id(item): slip for section in sections for item in section.ingredients if item.role in _MATTERING and (slip := _slip(page, item, sections, process)) is not item}
    return [replace(section, ingredients=tuple(doubted.get(id(item), item) for item in section.ingredients)) for section in sections] if doubted else sections


_MATTERING = frozenset(["salt", "cure1", "cure2", "nitrite", "nitrate"])


def _slip(page: Page, item: Ingredient, sections: list[Section], process: Process) -> Ingredient:
    """``item``, its amount doubted where no cook would write so much salt or curing salt."""
    amount = item.amount
    if amount is None or amount.doubt is not None or item.per is not None or units.dimension(amount.unit) != "volume":
        return item
    said = page.words(amount.place).replace("\n", " ")
    if amount.unit in ("teaspoon", "tablespoon") and not amount.parts and float(amount.low) > facts.fact(f"slip.{amount.unit}").value:
        tenth = f", or {float(amount.low / 10):g}" if amount.low % 10 == 0 else ""
        return replace(item, amount=replace(amount, doubt=f"“{said}” is {float(amount.low * units.factor(amount.unit) / units.factor('cup')):.1f} cups: so many spoons{tenth}?"))
    if item.role == "salt" or item.mass is None:
        return item
    wet = [one.mass for section in sections for one in section.ingredients if one.use == "cure" and one.role in ("water", "ice", "liquid") and one.mass is not None]
    meat = process.meat.mass if process.meat is not None and process.meat.mass_stated else None
    whole = sum(mass.likely for mass in (*wet, meat) if mass is not None)
    if whole and item.mass.likely > facts.fact("slip.share").value * whole:
        return replace(item, amount=replace(amount, doubt=f"“{said}” of curing salt is about {item.mass.likely:,.0f} g to {whole / 1000:,.1f} kg of meat and water: a smaller spoon, another salt, or is so much meant?"))
    return item


def _sum(*spans: Span | None) -> Span | None:
    if any(span is None for span in spans):
        return None
    known = [span for span in spans if span is not None]
    return added(known)


def _yield(page: Page, block: Block) -> Yield | None:
    text = page.plain[block.place.start : block.place.end]
    match = _YIELD.search(text)
    if match is None:
        return None
    found = [bit for bit in bits(block.items or ()) if isinstance(bit, AmountBit) and bit.start >= block.place.start + match.start() and not bit.hyphen]
    if not found:
        return None
    bit = next((bit for bit in found if bit.unit == "portion"), found[0])  # "1 hotel / 22 port @ 5 oz / abt 50% yld"
    return Yield(page.words(block.place), bit.amount.low, bit.amount.high, "portion" if bit.bare else bit.unit, block.first, bit.amount.place)


def _yield_in(page: Page, sentence: Sentence) -> Yield | None:
    match = sentence.says(r"\b(?:you get|makes about|serves|yields?)\b")
    if match is None:
        return None
    for bit in sentence.amounts:
        if bit.start > sentence.place.start + match.start() and bit.dimension in ("mass", "volume", "thing"):
            return Yield(page.words(sentence.place), bit.amount.low, bit.amount.high, "portion" if bit.bare else bit.unit, sentence.line, bit.amount.place)
    return None


def _steps(page: Page, told: list[Sentence], taken: list[list[Taking]], temps: list[Temperature]) -> list[Step]:
    of = {temperature.bit.start: temperature.of for temperature in temps}
    steps: list[Step] = []
    for sentence, in_sentence in zip(told, taken, strict=True):
        times: list[Measured] = []
        heats: list[Measured] = []
        lengths: list[Measured] = []
        others: list[Measured] = []
        uses: list[Taken] = []
        by_place = {taking.bit.start: taking for taking in in_sentence if taking.bit is not None}
        for index, bit in enumerate(sentence.bits):
            if not isinstance(bit, AmountBit):
                if isinstance(bit, RateBit) and bit.amount is not None:
                    others.append(Measured(Amount(bit.amount, bit.amount, bit.unit, Place(bit.start, bit.end)), "per"))
                continue
            if bit.start in of:
                heats.append(Measured(bit.amount, of[bit.start] if of[bit.start] in ("meat", "air", "brine", "water", "fridge", "oven", "smoker") else "other"))
            elif bit.start in by_place:
                taking = by_place[bit.start]
                uses.append(Taken(taking.draft.name, bit.amount, Place(bit.start, taking.draft.place.end)))
            elif bit.dimension == "time":
                times.append(Measured(bit.amount))
            elif bit.dimension == "length":
                after = page.plain[bit.end : bit.end + 40].lower()
                lengths.append(Measured(bit.amount, "fat" if re.search(r"\b(?:fat|cap)\b", after) else "water" if "water" in after else None))
            elif not (bit.article and bit.dimension == "thing"):
                following = sentence.bits[index + 1] if index + 1 < len(sentence.bits) else None
                plus = isinstance(before := sentence.bits[index - 1] if index else None, WordBit) and before.low == "plus"
                others.append(Measured(bit.amount, following.low if isinstance(following, WordBit) else "more" if plus else None))
        actions = tuple(dict.fromkeys(hit.verb for hit in sentence.hits if not hit.negated))
        if steps and sentence.whole is not None and sentence.whole.start <= steps[-1].place.start:  # the next clause of one sentence
            last = steps[-1]
            place = last.place.to(sentence.place)
            steps[-1] = Step(last.line, sentence.end_line, page.words(place), place, last.phase, tuple(dict.fromkeys((*last.actions, *actions))), (*last.times, *times), (*last.temperatures, *heats), (*last.lengths, *lengths), (*last.uses, *uses), (*last.amounts, *others), (*last.then, sentence.phase))
            continue
        steps.append(Step(sentence.line, sentence.end_line, page.words(sentence.place), sentence.place, sentence.phase, actions, tuple(times), tuple(heats), tuple(lengths), tuple(uses), tuple(others)))
    return steps


_REFERENCE = re.compile(
    r"(?:\b(?:same as|as for|like|see|from|use)\s+(?:the\s+|our\s+)?(?P<to>[a-z][a-z .'-]{1,30}?)(?:\s+recipe)?\s*,?\s*)?(?:\bthr(?:ough|u)\s+step\s+(?P<step>\d+)(?:\s*\(?\s*(?:p\.?|pg\.?|page)\s*(?P<also>\d+)\)?)?|\b(?:p\.|pg\.|page|card)\s*#?(?P<page>\d+)\b)"
)


_SENDS = re.compile(r"\b(?:p\.|pg\.|page|card|thr(?:ough|u) step)\s*#?\d")


def _references(page: Page, found: list[Block]) -> tuple[Reference, ...]:
    """``see p. 41``, ``same as the corned beef through step 4``. A page number in the title is the page's own."""
    made: list[Reference] = []
    if _SENDS.search(page.low) is None:
        return ()
    for block in found:
        if block.kind in ("title", "blank") or _SENDS.search(page.low, block.place.start, block.place.end) is None:
            continue
        for match in _REFERENCE.finditer(page.low, block.place.start, block.place.end):
            number = match["page"] or match["also"]
            place = Place(match.start(), match.end())
            to = match["to"].strip(" ,.") if match["to"] else None
            made.append(Reference(page.line_at(match.start()), place, page.words(place), to, int(number) if number else None, int(match["step"]) if match["step"] else None))
    return tuple(made)


def _lines(page: Page, found: list[Block]) -> tuple[ReadLine, ...]:
    kinds = {number: block.kind for block in found for number in range(block.first, block.last + 1)}
    return tuple(ReadLine(line.number, kinds.get(line.number, "blank"), page.words(line.place)) for line in page.lines if found[0].first <= line.number <= found[-1].last)


def _unread(page: Page, found: list[Block], sections: list[Section], steps: list[Step], yields: Yield | None, process: Process) -> tuple[Unread, ...]:
    """Figures that nothing above has taken."""
    taken: set[int] = set()

    def take(amount: Amount | None) -> None:
        if amount is not None:
            taken.add(amount.place.start)
            for part in amount.parts:
                taken.add(part.place.start)

    told: dict[int, list[tuple[Place, str]]] = {}  # by line: the words that it keeps beside its amounts
    for section in sections:
        for item in section.ingredients:
            if item.strength is not None:
                taken.add(item.strength.place.start)
            for amount in (item.amount, item.count, *item.also, *item.was, *(amount for other in item.instead for amount in (other.amount, *other.also)), *(column.amount for column in item.columns)):
                take(amount)
            if not item.in_method:
                kept = (item.place, " ".join((item.name, item.state or "", item.doubt or "")))
                for line in range(page.line_at(item.place.start), page.line_at(item.place.end) + 1):
                    told.setdefault(line, []).append(kept)
    for step in steps:
        for measured in (*step.times, *step.temperatures, *step.lengths):
            take(measured.amount)
        for measured in step.amounts:
            if measured.amount.unit != "each" or measured.of is not None:
                take(measured.amount)
        for use in step.uses:
            take(use.amount)
    if yields is not None:
        taken.add(yields.place.start)
    for leg in process.cooling:
        taken.add(leg.place.start)
    closed = _closed(steps, taken)
    unread: list[Unread] = []
    for block in found:
        if block.kind in ("title", "heading", "note"):
            continue
        for item_ in block.items or ():
            if isinstance(item_, Label):
                continue
            if not isinstance(item_, Chain):
                continue
            for part in item_.parts:
                if isinstance(part, Rate) or part.article or part.start in taken:
                    continue
                here = Place(part.start, part.end)
                if any(place.start <= here.start < place.end and page.words(here) in words for place, words in told.get(page.line_at(here.start), ())):
                    continue
                before = bisect_right(closed, (here.start, len(page.text))) - 1
                if (before >= 0 and closed[before][1] > here.start) or _of_meat(page, part, process):
                    continue
                unread.append(Unread(here, page.words(here)))
    return tuple(unread)


def _of_meat(page: Page, part: Measure, process: Process) -> bool:
    """The thickness or the number of pieces of a meat, which stand with the meat and not with its line."""
    if part.unit is None or units.dimension(part.unit) not in ("length", "thing"):
        return False
    line = page.line_at(part.start)
    if units.dimension(part.unit) == "length":
        return any(meat.line == line and meat.thickness_stated for meat in process.meats)
    return any(meat.line == line and meat.pieces is not None and meat.pieces[0] == part.low and meat.pieces[1] == part.high for meat in process.meats)


def _closed(steps: list[Step], taken: set[int]) -> list[tuple[int, int]]:
    """Where amounts that the steps have taken begin and end, in order: ranges and compounds hold more than one number."""
    places = [measured.amount.place for step in steps for measured in (*step.times, *step.temperatures, *step.lengths, *step.amounts) if measured.amount.place.start in taken]
    places += [use.amount.place for step in steps for use in step.uses if use.amount is not None]
    return sorted((place.start, place.end) for place in places)
