"""From a page to recipes: blocks, ingredients, sentences and facts put together."""

from __future__ import annotations

import re

from msgspec.structs import replace

from overhaul import facts
from overhaul.house import House
from overhaul.reading import lexicon, units
from overhaul.reading.lines import Block, blocks
from overhaul.reading.patterns import Pattern
from overhaul.recipe import masses, split
from overhaul.recipe.account import lines_of, references, unread
from overhaul.recipe.bits import AmountBit, RateBit, WordBit, bits
from overhaul.recipe.ingredients import read_line, under_columns
from overhaul.recipe.meats import find_meats
from overhaul.recipe.method import Sentence, Story, sentences, settle
from overhaul.recipe.method_ingredients import Taking, takings
from overhaul.recipe.model import (
    CURING_SALTS,
    Amount,
    Branch,
    Cure,
    Fact,
    Ingredient,
    Measured,
    Note,
    Process,
    Product,
    Recipe,
    Step,
    Taken,
    Yield,
)  # fmt: skip
from overhaul.recipe.naming import Draft
from overhaul.recipe.parts import (
    LEAST_ALIKE,
    Part,
    Rated,
    columns_of,
    lengths_of,
    line_use,
    out_of_hundred,
    rate_above,
    rate_lists,
    restated,
    section_name,
    settle_uses,
    use_of,
)
from overhaul.recipe.process import Temperature, read_process
from overhaul.recipe.products import PRODUCTS, product_of
from overhaul.recipe.taken import take_from_method
from overhaul.recipe.weighing import by_rate, rates, rubbed_apart, slips, strength_in_a_note, weigh
from overhaul.text import Page, Place

_CURED_WORDS = Pattern(r"\b(?:cur(?:ed|e|ing)|corn(?:ed|ing|)(?! syrup| starch| meal)|pastrami|bacon|ham|gammon|salt beef|pickled)\b", re.I)
_SAID_CURED = Pattern(r"(?<!un)\bcured\b|\bham\b|\bpastrami\b", re.I)
_UNCURED = Pattern(r"\b(?:no (?:curing salt|nitrite|cure|pink salt|curing salts)\b[^.]{0,60}|without (?:curing salt|nitrite|cure)\b|uncured|brined white|not (?:a )?cured|no need (?:of|for) (?:nitrite|curing salt|cure))")
_BOUGHT_DONE = Pattern(r"\b(?:fully[- ]cooked|ready[- ]to[- ]eat (?:\w+ )?ham|pre-?cooked|(?:curing|smoking|cooking) (?:has|have) been done|already (?:been )?(?:cured|cooked|smoked))\b")
_RAW = Pattern(r"\b(?:stays? raw|it is raw|raw until|fry (?:first|before)|green bacon|cook before (?:eating|serving)|fry(?:ing)? it|to be fried|fried as wanted|fry as)\b|\bnot cooked\s*[:;,.–-]\s*(?:slice|fry|cook)")
_YIELD = Pattern(r"\b(?:yields?|yld|makes|serves|servings|enough for|gives|you get|portions|to serve)\b", re.I)
_FOR_SALE = ("for sale", "sold by", "to sell")


def read_page(page: Page, house: House) -> list[Recipe]:
    """The recipes of ``page``, in order. An empty page gives none."""
    if not house.names:
        return _read_page(page, house)
    with lexicon.house_names(house.names):
        return _read_page(page, house)


def _read_page(page: Page, house: House) -> list[Recipe]:
    found = blocks(page)
    if not any(block.kind != "blank" for block in found):
        return []
    several = split.recipes(page, found)
    if len(several) == 1:
        return [_finished(page, found, house)]
    made, every = [], {line.line: line for line in lines_of(page, found)}
    for index, part in enumerate(several):
        recipe = _finished(split.only(page, part.blocks, found), part.blocks, house)
        title = recipe.title if part.version is None else f"{recipe.title}: {part.version.lower()}"
        first, last = part.own[0].first, part.own[-1].last
        lines = tuple(every[number] for number in range(first, last + 1))
        made.append(replace(recipe, index=index, title=title, first_line=first, last_line=last, lines=lines))
    return made


def _finished(page: Page, found: list[Block], house: House) -> Recipe:
    """One recipe; where it is finished several ways, each of them is read by itself beside it."""
    whole = _recipe(page, found, house)
    ways = split.ways(page, found)
    if not ways:
        return whole
    every = frozenset().union(*(way.own for way in ways))
    made: list[Recipe] = []
    for way in ways:
        blocks_of = [block for index, block in enumerate(found) if index in way.own or index not in every]
        read = _recipe(split.only(page, blocks_of, found), blocks_of, house)
        made.append(replace(read, product=product_of(way.name) or read.product))
    first = made[0]
    steps = {step.place: step for one in reversed(made) for step in one.steps}
    branches = tuple(Branch(way.name, tuple(sorted({line for index in way.own if found[index].kind == "step" for line in range(found[index].first, found[index].last + 1)})), one.process) for way, one in zip(ways, made, strict=True))
    return replace(whole, process=first.process, steps=tuple(sorted(steps.values(), key=lambda step: step.place)), branches=branches, ways=tuple(made))


def _recipe(page: Page, found: list[Block], house: House) -> Recipe:
    title, title_place = _title(page, found)
    parts = [Part(None, 0, title_place, "cure", [])]
    rated: list[Rated] = []
    section: str | None = None
    columns: tuple[str | None, ...] = ()
    story_sentences: list[Sentence] = []
    notes: list[Note] = []
    yields: Yield | None = None
    for number, block in enumerate(found):
        drafts: list[Draft] = []
        if block.kind == "heading":
            section = section_name(page.words(block.place))
            parts.append(Part(section, block.first, block.place, use_of(section), []))
            yields = yields or _yield(page, block)
            columns = columns_of(page, block)
        elif block.kind == "ingredient":
            drafts = read_line(page, bits(block.items or ()), block.place)
            for draft in drafts:
                under_columns(draft, columns)
                parts[-1].drafts.append((draft, line_use(page, draft, parts[-1].use), False))
        elif block.kind == "step":
            story_sentences.extend(sentences(page, bits(block.items or ()), number, section, block.numbered))
        elif block.kind in ("note", "title"):
            yields = yields or _yield(page, block)
            if block.kind == "note":
                notes.append(Note(block.first, page.words(block.place), block.place))
        above = number + 1 < len(found) and found[number + 1].kind == "ingredient"  # its list stands right below
        if above and block.kind != "blank" and (per := rate_above(bits(block.items or ()))) is not None:
            rated.append(Rated(per, parts[-1], len(parts[-1].drafts), tuple(drafts)))
    if yields is None:
        yields = next((found_yield for sentence in story_sentences if (found_yield := _yield_in(page, sentence))), None) if _MAKES.may_match(page.told) else None
    for part in parts:
        out_of_hundred([draft for draft, _, _ in part.drafts])
    restated(parts)
    rate_lists(parts, rated)
    listed = [draft for part in parts for draft, _, _ in part.drafts]
    method = _OWN_BRINE.sub("", " ".join(sentence.low for sentence in story_sentences))
    immersion = any((draft.role in ("water", "ice", "liquid") or _pours(draft, house)) and use == "cure" for part in parts for draft, use, _ in part.drafts) or (bool(_BRINE.search(method)) and bool(_WATERED.search(method) or _INTO_BRINE.search(method))) or any(draft.role in ("liquid",) for draft in listed)
    salted = any(draft.role in ("salt", *CURING_SALTS) for draft in listed)
    meats = frozenset(word for draft in listed if draft.role == "meat" for word in lexicon.plain_words(draft.name))
    story = Story(immersion, not immersion and salted, salted, meats=meats)
    begins = _method_begins(found)
    settle(page, [sentence for sentence in story_sentences if sentence.block >= begins], story)
    taken = [takings(page, sentence) for sentence in story_sentences]
    take_from_method(page, parts, story_sentences, taken, listed)
    told = page.told
    product = _product(title, parts, told)
    if product in (None, "other", "ham") and _STUFFS.search(method) and (_GRINDS.search(method) or _in_pieces(listed)) and (product != "ham" or _TUMBLED.search(method)):
        product = "ground"  # a pressed ham too: all that is mixed in stays in
    settle_uses(parts, immersion, product)
    process, temps = read_process(page, story_sentences)
    if process.tub is None and house.tubs:
        process = replace(process, tub=_named_tub(page, found, house))
    sections = weigh(page, parts, house)
    sections = strength_in_a_note(page, sections)
    ingredients = [item for part in sections for item in part.ingredients]
    thick = _method_thickness(page, story_sentences)
    cure = _cure(process, ingredients, page, story_sentences, product)
    if cure is not None and cure.method == "dry":
        process = replace(process, brine_temperature=None, brine_heated=None)  # there is no brine
    process = find_meats(page, replace(process, cure=cure), ingredients, lengths_of(parts), thick, title, title_place, product)
    process = by_rate(process)
    sections = rubbed_apart(slips(page, rates(page, sections, process, house), process), process)
    if process.meat is not None and product is None:
        product = "fish" if process.meat.species == "fish" else "poultry" if process.meat.species in ("chicken", "turkey", "duck", "goose", "poultry") else None
    steps = _steps(page, story_sentences, taken, temps)
    if product in ("loin", "ham", "bacon", "ground", "other", None) and process.cook is None and process.smoke is None and process.final_temperature is None and any(_hangs(step) for step in steps):
        product = "dried"
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
        references=references(page, found),
        lines=lines_of(page, found),
        unread=unread(page, found, sections, steps, yields, process),
        cured=has_cure or product in ("corned beef", "pastrami", "bacon", "ham") or (bool(_CURED_WORDS.search(title)) and (product not in ("fish", "poultry") or bool(_SAID_CURED.search(title)))),
        raw_on_purpose=bool(_RAW.search(told)),
        bought_done=not has_cure and bool(_BOUGHT_DONE.search(told)),
        uncured_on_purpose=bool(_UNCURED.search(told)) and not has_cure,
        sold=True if any(words in told for words in _FOR_SALE) else None,
        first_line=found[0].first,
        last_line=found[-1].last,
    )

_INTO_BRINE = Pattern(r"\b(?:into|under) (?:the |a |this |that |our |cold |cooled |chilled )*(?:brine|pickle)\b|\bsubmerged? in (?:the |our )?(?:brine|pickle)\b")  # made on another page
_OWN_BRINE = Pattern(r"\b(?:its|their) own (?:brine|pickle|liquor|liquid)\b")
_GRINDS, _STUFFS = Pattern(r"\b(?:grind|mince)\b"), Pattern(r"\b(?:stuff|casings?|collagen|links?|patties|patty)\b")
_TUMBLED = Pattern(r"\b(?:tumble|knead|mix\b[^.]{0,30}\b(?:sticky|tacky))")
_PIECES = re.compile(r"\b(?:cubes?|cubed|diced?|chunks?|pieces|trim(?:mings)?)\b", re.I)


def _in_pieces(listed: list[Draft]) -> bool:
    return any(draft.role == "meat" and _PIECES.search(f"{draft.name} {draft.state or ''}") for draft in listed)


_BRINE = Pattern(r"\b(?:brine|pickle)\b")
_WATERED = Pattern(r"\b(?:water|gallons?|boil)\b")


_SUBJECT = re.compile(r"[>\s]*subject\s*:\s*(?:(?:re|fwd?|aw)\s*:\s*)*(\S[^\r\n]*?)\s*$", re.I | re.M)  # of a letter


_TITLED = re.compile(r"^\s*(?:recipe|title|name|dish)\s*:\s*(?=\S)", re.I)


def _title(page: Page, found: list[Block]) -> tuple[str, Place]:
    for block in found:
        if block.kind == "title":
            text = page.words(block.place)
            head = re.split(r"\s{3,}|\t", text)[0].rstrip()
            clean = re.sub(r"^#+\s*|[\s.#*_]+$", "", _TITLED.sub("", head))
            start = block.place.start + head.find(clean[:1]) if clean else block.place.start
            return clean or head, Place(start, start + len(clean))
    first = next((block for block in found if block.kind != "blank"), found[0])
    for block in found:
        if block.kind == "note" and (subject := _SUBJECT.match(page.text, block.place.start, block.place.end)) is not None:
            return subject[1], Place(subject.start(1), subject.end(1))
    return page.name.rsplit("/", 1)[-1].rsplit(".", 1)[0], Place(first.place.start, first.place.start)


def _bath_of_vinegar() -> float:
    """Gram of vinegar from which it is no seasoning."""
    return facts.table("rules")["vinegar_bath_least"].value


def _pours(draft: Draft, house: House) -> bool:
    """A pickle of vinegar and no water."""
    mass = masses.in_grams(draft.amount, "acid", draft.kind, house)[0] if draft.role == "acid" and draft.amount is not None else None
    return mass is not None and mass.likely >= _bath_of_vinegar()


def _method_begins(found: list[Block]) -> int:
    """The first block in which anything can be done: what stands before a list that has a method behind it is a story."""
    listed = [index for index, block in enumerate(found) if block.kind == "ingredient"]
    return listed[0] if len(listed) >= LEAST_ALIKE and any(block.kind == "step" for block in found[listed[-1] :]) else 0


_WEEKS_HUNG = 3


def _hangs(step: Step) -> bool:
    """Weeks in the air, with no fire before or after: that is what a dried product is."""
    return step.phase == "dry" and any(units.hours(one.amount.high, one.amount.unit) >= _WEEKS_HUNG * 7 * 24 for one in step.times)


def _product(title: str, parts: list[Part], told: str) -> Product | None:
    meats = " ".join(draft.name for part in parts for draft, use, _ in part.drafts if draft.role == "meat" and use in ("cure", "blend"))
    kinds = {draft.kind for part in parts for draft, _, _ in part.drafts if draft.role == "meat"}
    for source in (title.lower(), meats.lower(), told[:400]):
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


def _named_tub(page: Page, found: list[Block], house: House) -> Fact | None:
    """``in the blue bucket``: a tub that the house sheet knows by name."""
    first, last = found[0].place.start, found[-1].place.end
    for name, litre in house.tubs.items():
        at = page.low.find(name.lower(), first, last)
        if at >= 0:
            return Fact(litre.low, litre.high, "litre", page.line_at(at), Place(at, at + len(name)))
    return None


def _cure(process: Process, ingredients: list[Ingredient], page: Page, told: list[Sentence], product: Product | None) -> Cure | None:
    wet = [item for item in ingredients if item.use == "cure" and (item.role in ("water", "ice", "liquid") or (item.role == "acid" and item.mass is not None and item.mass.likely >= _bath_of_vinegar()))]
    salts = [item for item in ingredients if item.use == "cure" and item.role in ("salt", *CURING_SALTS)]
    place = next((sentence.place for sentence in told if sentence.phase == "cure"), None)
    pumped = process.pump is not None or any(sentence.phase == "pump" for sentence in told)
    soaked = bool(wet) or any(sentence.says(_BRINE) for sentence in told if sentence.phase in ("cure", "cool-brine", "make-brine"))
    if not salts and not soaked:
        return None
    where = place or (salts[0].place if salts else told[0].place if told else Place(0, 0))
    text = " ".join(sentence.low for sentence in told)
    if pumped:
        covered = bool(re.search(r"\b(?:cover pickle|cover brine|cover(?:ed)? (?:with|in) (?:the )?(?:rest|remaining|brine|pickle)|submerge|in(?:to)? (?:the )?(?:rest|remaining|remainder)|then (?:hold )?in|goes in the bucket|(?:rest|remainder) of the (?:brine|pickle)|leftover|immerse|under the (?:rest|remaining|brine))\b", text)) or (process.weighed_down is not None and not re.search(r"\bair\b", process.weighed_down.words, re.I))
        method = "pumped-immersion" if covered else "pumped"
    else:
        method = "immersion" if soaked else "dry"
    if (product == "ground" or re.search(r"\b(?:ground|minced?|sausage|links?)\b", " ".join((page.told[:200], *(item.name for item in ingredients if item.role == "meat"))), re.I)) and not re.search(r"\bbrine\b", text):
        method = "dry"  # mixed in: the water is part of the sausage, no brine
    percent = [item for item in salts if item.amount is not None and item.amount.unit == "percent"]
    balance = "equilibrium" if percent or "equilibrium" in page.told or (method == "dry" and any(item.weighed for item in salts) and re.search(r"\bbag\b", text)) else None
    if balance is None and method == "immersion" and wet:
        balance = "gradient"
    return Cure(method, balance, page.line_at(where.start), where)  # type: ignore[arg-type]


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


_MAKES = Pattern(r"\b(?:you get|makes about|serves|yields?)\b")


def _yield_in(page: Page, sentence: Sentence) -> Yield | None:
    match = sentence.says(_MAKES)
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
