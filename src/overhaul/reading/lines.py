"""Which kind each line of a page is, and which lines run on as one paragraph.

A page is read twice: once line by line for what each looks like by itself, then in order, because a line
under "Ingredients" is an ingredient whatever it looks like.
"""

from __future__ import annotations

import itertools
import re
from typing import Literal

from msgspec import Struct

from overhaul.reading import lexicon
from overhaul.reading.tree import Chain, Item, Label, Mark, Measure, Word, parse, unit_word
from overhaul.text import Page, Place, bare

Kind = Literal["title", "heading", "ingredient", "step", "note", "blank"]


class Block(Struct, frozen=True):
    """One line, or several that run on. ``place`` leaves out the list mark; ``gaps`` are the columns' gaps."""

    kind: Kind
    first: int
    last: int
    place: Place
    numbered: bool = False
    items: tuple[Item, ...] | None = None


_MARKER = re.compile(r"\s*(?:(?P<bullet>[-*•·–—+o►▪◦□☐▢❏❑❒◻■●○✓✔➤▸‣⁃♦]\s+(?:\[[ xX]\]\s*)?|[-•·–—](?=[A-Z][a-z])|\[[ xX]\]\s+|>\s+)|(?P<number>\(?\d{1,2}[.)]\s+|\(?\d{1,2}\)\s*|\(?[a-z]\)\s+|[a-z]\.\s+(?=[A-Z]\S)|[Ss][Tt][Ee][Pp]\s+\d+\s*[:.)-]*\s*))")
# Marks of a quoted letter, and of a chat: [12/12/2023, 18:04] Tess:
_QUOTED = re.compile(r"\s*(?:(?:>\s?)+|\[?\d{1,4}[/.-]\d{1,2}[/.-]\d{2,4},? \d{1,2}:\d{2}(?::\d{2})?(?: ?[ap]m)?\]?(?: -)? [^:\n]{1,25}:\s)")
_LETTER_BEGINS = 8  # lines
_HEADER = re.compile(r"(?:from|to|cc|subject|sent|date|reply-to|forwarded by|on .{6,60} wrote)\s*:", re.I)  # of a letter
_HALF = re.compile(r"(?:\d|[¼½¾⅐-⅞])\s*(?:[-–—]|\bto|\bor)$")  # a range whose other end is on the next line
_BATCH_HEAD = re.compile(r"(?:(?:per|each|one|single|double|half|small|large|full|big)\s+)*batch\b.*:$|for (?:a (?:batch of )?)?\d+ ?(?:#|lbs?\.?|pounds|kg|kilos?|gal(?:lons)?|portions|people)\s*:$", re.I)
_BRACKETS = re.compile(r"\([^()\n]*\)")  # what stands in them makes no sentence of a line of the list
_STRUCK = re.compile(r"~~[^~\n]+~~")
_BOLD = re.compile(r"\s*\*\*[^*]+\*\*:?\s*$")
_SLASH = re.compile(r"\s/\s+(?=\D)")  # one ingredient / another / a third
_RULE = re.compile(r"\s*[-=_*~.#|:\s]{3,}$|\s*[-=_*~]+\s*$")
_GAP = re.compile(r"\t|\s{3,}|\s\|\s|\.{4,}|(?:\s\.){3,}")
_METHOD_HEADING = re.compile(r"\b(?:method|directions?|instructions?|procedure|preparation|how(?:\s?to)?|to do|steps?|process|what (?:i|we|you|to) do|(?:mon|tues|wednes|thurs|fri|satur|sun)day|day \d+|day (?:one|two|three)|the (?:day|night) before|making|^do$|morning|evening|night)\b", re.I)
_METHOD_LEAD = re.compile(r"(?:method|directions?|instructions?|procedure)\s*:", re.I)
_LIST_HEADING = re.compile(r"\b(?:ingredients?|what (?:i|we|you) (?:weigh|need|use)|you(?:'ll)? need|you will need|shopping|list|take)\b", re.I)
_NOTE = re.compile(r"[\s*_]*(?:\(.*\)\.?\s*$|for \d+ ?(?:#|lbs?\b|pounds\b|kg\b).{0,20}\b(?:dbl|double|triple|halve|half)\b|(?:dbl|double|triple|halve)\b|(?:prep|cook|cooking|total|active|hands-on|ready in|curing)\s*time\s*:|(?:notes?|nb|n\.b\.|tip|source|from|adapted|yields?|yld|makes|serves|servings|enough for|gives|for \d+ (?:people|portions)|signed[ -]off|remember|warning|meat (?:\+|&|and|plus) water\s*[=:]\s*100|allergens?|equipment|nutrition\w*|calories|kcal|per serving|rating|jump to)\b)", re.I)
_CURE_BY_NUMBER = re.compile(r"\s*cure\s*(?:(?:#|no\.?|number)\s*\d\b|[12]\s+(?:[\d½¼¾.]|[-–—:]))(?!\s*(?:days?|hours?|hrs?|weeks?)\b)", re.I)
_REMARK = re.compile(r"[\s*_]*(?:tips?|notes?|nb|remember|warning)\b\s*[:.–-]", re.I)
_OF_THE_END = re.compile(r"\b(?:keeps?|leftovers?|store[sd]?|cool\w*|chill\w*|counter|freez\w*|refrigerat\w*|fridge|hold|rest)\b", re.I)
_SENTENCES = re.compile(r"[.!?;]\s+[A-Z\"'(]")
_FINITE = frozenset(["is", "are", "was", "were", "be", "been", "has", "have", "had", "goes", "go", "comes", "come", "will", "must", "may", "can", "should", "stays", "stay", "lies", "lie", "stands", "stand", "gets", "get", "takes", "take", "keeps", "keep", "makes", "make", "does", "do", "until", "when", "then", "if", "before", "after", "while"])
_LEAD_IN = re.compile(r"\s*(?:for|to)\s+(?:each|every|an?|one|two|the|\d|five|hundred|twenty|fifty|ten|twelve)\b", re.I)
_HEADING_WORDS = 9
_LONG = 55  # a line this long has probably been wrapped


def _letters(text: str) -> str:
    return "".join(letter for letter in text if letter.isalpha())


def _half_a_range(text: str) -> bool:
    return text.endswith(("-", "–", "—", "to", "or")) and _HALF.search(text) is not None


def _is_caps(text: str) -> bool:
    return text.isupper() and len(_letters(text)) >= 3


class _Look(Struct):
    """What one line looks like by itself. ``amounts`` : how many; ``sentence`` : whether it is one, or several; ``imperative`` : whether it begins by telling what to do."""

    number: int
    place: Place
    text: str
    indent: int
    bullet: bool
    numbered: bool
    items: list[Item]
    words: list[Word]  # of the items
    chains: list[Chain]  # of the items
    amounts: int
    starts_with_amount: bool
    sentence: bool
    imperative: bool
    raw: str  # as the page has it, tabs and all

    @property
    def bold(self) -> bool:
        return self.raw.lstrip().startswith("**") and _BOLD.match(self.raw) is not None

    @property
    def gapped(self) -> bool:
        """Parts of it stand in columns: tabs, runs of blanks, bars or dots between them."""
        raw = self.raw.strip()
        if raw.isprintable() and not ("   " in raw or "|" in raw or "...." in raw or " . " in raw):
            return False  # as nearly every line; a tab is not printable
        return _GAP.search(raw) is not None

    @property
    def ends_with_amount(self) -> bool:
        return any(isinstance(item, Chain) for item in self.items[-3:])


def _imperative(text: str, items: list[Item], words: list[Word]) -> bool:
    if not words or items[0] is not words[0] or _CURE_BY_NUMBER.match(text):
        return False  # "Cure #1 3 oz" names the salt; it does not tell anyone to cure
    first = words[0].low
    action = lexicon.actions().get(first)
    if action is None and len(words) > 1 and ((first.endswith("ly") and first != "belly") or first in _LEADS):
        action = lexicon.actions().get(words[1].low)
        return first in _STARTERS or action is not None
    return (action is not None and action.verb == first) or first in _STARTERS


_ABOUT = frozenset(["about", "approx", "abt", "roughly", "scant", "heaping", "ca", "level", "rounded", "some", "plus"])


def _starts_with_amount(items: list[Item]) -> bool:
    left = [item for item in items[:4] if not (isinstance(item, Label) and item.form == "struck")]
    if left and isinstance(left[0], Word) and left[0].low in _ABOUT:
        left = left[1:]
    if left and isinstance(left[0], Mark) and left[0].text in "[(~≈":
        left = left[1:]
    return bool(left) and isinstance(left[0], Chain)


# Before the verb: "then rinse", "the next day soak".
_LEADS = frozenset(["then", "now", "next", "first", "gently", "meanwhile", "finally", "when", "once", "after", "while", "in", "bring", "use", "take", "make", "mix", "using", "set", "let", "allow", "do", "don't", "never", "if", "the", "on", "at", "out", "up", "start", "begin", "turn", "continue", "repeat", "check", "taste", "preheat", "light", "load", "pull", "hang", "throw", "discard", "save", "hold", "good", "same", "pick", "work", "weigh", "close", "hot", "wait", "read", "date", "bottom", "whole", "fold", "lift"])
_STARTERS = frozenset(["bring", "stir", "chill", "whisk", "flip", "lay", "lower", "pat", "inject", "sprinkle", "use", "take", "make", "let", "allow", "preheat", "light", "load", "pull", "hang", "throw", "discard", "save", "continue", "repeat", "check", "taste", "wait", "when", "once", "after", "while", "begin", "start", "turn", "do", "don't", "never", "if", "hold", "weigh", "fit", "set", "place", "put", "get", "keep", "remove", "lift", "tip", "strain", "dissolve", "massage", "trim"])


def _outside(body: str) -> str:
    """``body`` without what stands in brackets or is crossed out: they make no sentence of a line, and hide none."""
    if "~~" in body:
        body = _STRUCK.sub("", body).rstrip()
    return _BRACKETS.sub("", body).rstrip() if "(" in body else body


def _looks(page: Page) -> list[_Look]:
    looks = []
    plain = page.plain
    for line in page.told_lines:
        text = plain[line.place.start : line.place.end]
        quoted = _QUOTED.match(text) if text and (">" in text[:8] or (":" in text[:24] and text.lstrip()[:1] in "[0123456789")) else None
        past = quoted.end() if quoted else 0
        marker = _MARKER.match(text, past)
        skip = marker.end() if marker and marker.end() < len(text.rstrip()) else max(past, len(text) - len(text.lstrip()))
        body = text[skip:].rstrip()
        if body and not body[-1].isalnum() and _RULE.match(text):
            body = ""
        start = line.place.start + skip
        items = parse(body, start) if body else []
        words = [item for item in items if isinstance(item, Word)]
        chains = [item for item in items if isinstance(item, Chain)] if len(words) < len(items) else []
        looks.append(
            _Look(
                line.number,
                Place(start, start + len(body)),
                body,
                len(text) - len(text.lstrip()),
                bool(marker and marker["bullet"]),
                bool(marker and marker["number"]),
                items,
                words,
                chains,
                sum([len(chain.parts) for chain in chains]) if chains else 0,
                _starts_with_amount(items),
                (outside := _outside(body)).endswith((".", "!", "?")) or bool(_SENTENCES.search(outside)),
                _imperative(body, items, words),
                page.text[line.place.start : line.place.end] if body else "",
            )
        )
    return looks


def _heading_like(look: _Look, following: _Look | None, shouted: bool = False) -> bool:
    """``shouted`` : the whole page is in capitals, which then head nothing."""
    text = look.text.strip()
    if look.numbered or not text:
        return False
    if look.bullet and not text.endswith(":"):
        return False
    if _NOTE.match(text) and text.partition(":")[2].strip():
        return False
    if text.startswith("#"):
        return True
    words = len(look.words)
    if _ASIDE.fullmatch(text.strip(": ")):
        return True
    if following is not None and following.starts_with_amount and _BATCH_HEAD.match(text):
        return True
    if words == 0 or look.starts_with_amount:
        return False
    _before, colon, after = text.partition(":")
    if colon and not after.strip():
        return words <= _HEADING_WORDS and look.amounts == 0
    if look.amounts > 1 and look.gapped:
        return False
    if look.amounts and ":" in text and text.partition(":")[2].strip() and (named := lexicon.known(lexicon.plain_words(text))) is not None and named.role == "meat":
        return False  # "BATCH: 20 LB HOCKS"
    if _led(look):
        return False
    if look.amounts and not _is_caps(re.split(r"\s[-–—(]|[:,]", text)[0]):
        if look.gapped and _known_cell(look):
            return False
        return look.gapped and not look.sentence and following is not None and following.gapped and look.amounts == 1 and following.amounts > 1 and words >= 3
    if not shouted and _is_caps(re.split(r"\s[-–—(]", text)[0]) and len(_letters(re.split(r"\s[-–—(]", text)[0])) >= 3:
        return words <= _HEADING_WORDS and not (look.sentence and words > 4) and not (look.ends_with_amount and look.amounts and not re.search(r"\s[-–—(]", text))
    if look.bold or (text.startswith(("*", "_")) and text.rstrip("*_: ") != text):
        return words <= _HEADING_WORDS
    if look.gapped and following is not None and following.gapped and following.amounts and not look.amounts:
        return True
    if words <= 5 and not look.sentence and (_METHOD_HEADING.fullmatch(text) or _LIST_HEADING.fullmatch(text) or _SECTION.fullmatch(text)):
        return True
    return False


def _known_cell(look: _Look) -> bool:
    """Whether what stands in the first column, up to a comma, is a known name."""
    cells = [cell for cell in _GAP.split(look.raw.strip(" |\t")) if cell.strip(" .|")]
    return len(cells) > 1 and lexicon.known(lexicon.plain_words(cells[0].partition(",")[0])) is not None


def _led(look: _Look) -> bool:
    """``BRINE - 3 qt water``: the first of a list stands on the line that heads it."""
    mark = next((index for index, item in enumerate(look.items) if isinstance(item, Mark) and item.text in "-–—:"), 0)
    if not mark or len(look.items) < mark + 3 or not isinstance(look.items[mark + 1], Chain) or not all(isinstance(item, Word) for item in look.items[:mark]):
        return False
    named = lexicon.known(lexicon.plain_words(look.text[look.items[mark + 1].end - look.place.start :]))
    return named is not None and named.role != "meat"


_SECTION = re.compile(r"(?:for )?(?:the )?(?:brine|cure|rub|crust|spice(?:s| mix| rub)?|pickling spice|dry cure|meat|beef|pork|glaze|pot|to (?:finish|serve|cook|smoke|cure|order)|finish|finishing|smoke|smoking|pickle|sauce|marinade|method|what i do|what i weigh|wet cure|curing|cooking|notes?|equipment|service|holding|storage)(?: \d+)?:?", re.I)


_COMPONENT = re.compile(r"(?:for )?(?:the )?(?:[a-z]+ ){0,2}(?:brine|rub|cure|glaze|crust|sauce|pickle|marinade|spice mix|spice blend|mop)( (?:to|for) (?:\w+ ?){1,3})?", re.I)


def _row_of_words(look: _Look, before: _Look) -> bool:
    """``| fine salt | to taste |``, a row of a table without a figure, right below one that has it."""
    if look.amounts or look.numbered or not look.gapped or not before.gapped or look.number != before.number + 1:
        return False
    cells = [cell for cell in _GAP.split(look.raw.strip(" |\t")) if cell.strip(" |.")]
    return len(cells) > 1 and not _is_caps(cells[0]) and lexicon.known(lexicon.plain_words(cells[0])) is not None and not any(unit_word(cell.strip().lower()) for cell in cells[1:])


def _plain_heading(look: _Look, before: _Look | None, following: _Look | None) -> bool:
    """``Pastrami rub``, ``Pickle to pump``, by itself behind a blank line and over a list of amounts."""
    if look.amounts or look.bullet or look.numbered or before is None or look.number - before.number <= 1:
        return False
    if following is None or following.number != look.number + 1 or not following.starts_with_amount:
        return False
    named = _COMPONENT.fullmatch(look.text.strip())
    return named is not None and not (look.sentence and named[1] is None)


def _left_out(look: _Look) -> bool:
    """``No curing salt in this one``: what is left out is no ingredient."""
    first = look.items[0] if look.items else None
    return isinstance(first, Word) and first.low in ("no", "without")


_IN_BRACKETS = re.compile(r"\([^()]*\)")
_NAME_THEN_WEIGHT = re.compile(r"(?P<name>[^\d].*?)\s*\d[\d.,/]*\s?[A-Za-z]+")
_LONGEST_PIECE = 200
_FEWEST_ALONG = 3  # two names with their weights may stand in any sentence


def _list_along(look: _Look) -> bool:
    """``Cold water 2.8 kg, fine salt 230 g, cure no. 1 15 g.``: a list along one line, each name before its weight, full stop or not."""
    if look.amounts < _FEWEST_ALONG:
        return False
    pieces = re.split(r"[,;]\s+", _IN_BRACKETS.sub("", look.text).strip(" ."))
    if len(pieces) < _FEWEST_ALONG or look.amounts < len(pieces) or max(map(len, pieces)) > _LONGEST_PIECE:
        return False
    told = [_NAME_THEN_WEIGHT.fullmatch(piece) for piece in pieces]
    return all(one is not None and lexicon.known(lexicon.plain_words(one["name"])) is not None for one in told)


def _ingredient_like(look: _Look) -> bool:
    words = look.words
    if _left_out(look):
        return False
    if _list_along(look):
        return True
    if look.amounts > 1 and not look.sentence and len(_SLASH.findall(look.text)) > 1:
        return True
    if look.starts_with_amount:
        if _only_heat_and_time(look):
            return False
        if look.sentence and _SENTENCES.search(look.text) and any(word.low in ("are", "is", "was", "were") for word in words):
            return False
        if look.sentence and len(words) > 9 and (_SENTENCES.search(look.text) or any(word.low in _FINITE for word in words[:12])):
            return False
        return len(look.text) < 220
    if not look.amounts or _only_heat_and_time(look):
        return False
    if words and (action := lexicon.actions().get(words[0].low)) is not None and action.phase == "pump":
        return False
    if look.numbered and any((action := lexicon.actions().get(word.low)) is not None and action.verb == word.low and word.low not in _ALSO_FOOD for word in words):
        return False  # "5. x 8 days @ 38, flip day 4"
    if look.imperative and len(words) <= _FEW_WORDS and words[0].low in _ALSO_FOOD and not any(word.low in _OF_AN_ORDER for word in words) and (named := _named_weight(look)) is not None and named.role not in ("meat", "water", "ice"):
        return True  # "cure (pink) 2.7 oz" tells nobody to cure
    if look.imperative and not (look.gapped and look.ends_with_amount) and not re.search(r"[:–—|]|\.{3,}|\s-\s", look.text):
        return False
    if look.gapped and not look.sentence and _weight(look.items[-1]) and _known_cell(look):
        return True  # "leg of lamb, boned, butterflied to an even 50 mm ...... 3.2 kg"
    breaks = len(_SENTENCES.findall(look.text))
    if breaks > 1 and _does(look):
        return False  # "Blend cold. Inject 15%. Cover w/ remaining."
    if breaks and words and isinstance(look.items[0], Word) and words[0].low not in _ALSO_FOOD and lexicon.actions().get(words[0].low) is not None:
        return False  # "Drain, rinse. Rub: coriander/pepper 60/40, 1.2 kg"
    first = next(index for index, item in enumerate(look.items) if isinstance(item, Chain))
    before = [item for item in look.items[:first] if isinstance(item, Word)]
    if before and before[-1].low in _TOWARDS and isinstance(part := look.chains[0].first, Measure) and part.unit is None:
        return False  # "ice shower to 110"
    if _SENTENCES.search(look.text) and len(words) > 12:
        return False
    if _LEAD_IN.match(look.text) and len(words) <= 10 and not any(lexicon.actions().get(word.low, lexicon.Action("", "")).verb == word.low for word in words[1:]):
        return True
    if any(word.low in _FINITE for word in before):
        return False
    if _SENTENCES.search(look.text) and _does(look) and all(part.unit in _NO_INGREDIENT for chain in look.chains for part in chain.parts if isinstance(part, Measure)):
        return False  # "WED   Rinse. Soak for a day on the bench."
    if 0 < len(before) <= 4 and not look.imperative and _weight(look.items[first]) and (named := lexicon.known(lexicon.plain_words(" ".join(word.text for word in before)))) is not None and named.role == "meat" and not _SENTENCES.search(look.text):
        return True  # "pork butt 7 lb deboned, split so it is about 2.5 in thick"
    separated = (first > 0 and isinstance(look.items[first - 1], (Mark, Label))) or look.gapped
    if len(before) <= 6 and (separated or len(words) - len(before) <= 3) and not (look.sentence and len(words) > 9):
        return lexicon.known(lexicon.plain_words(look.text[: look.items[first].start - look.place.start])) is not None or bool(separated)
    return False


def _named_weight(look: _Look) -> lexicon.Name | None:
    """The name in ``cure (pink) 2.7 oz``, ``salt ..... 22 g``: one known name and its weight, and nothing besides."""
    if len(look.chains) != 1 or look.items[-1] is not look.chains[0] or not _weight(look.items[-1]) or look.sentence:
        return None
    return lexicon.known(lexicon.plain_words(look.text[: look.chains[0].start - look.place.start]))


def _weight(item: Item) -> bool:
    return isinstance(item, Chain) and isinstance(item.first, Measure) and item.first.unit in ("pound", "kilogram", "gram", "ounce")


_FEW_WORDS = 4
_OF_AN_ORDER = frozenset(["the", "it", "them", "on", "in", "over", "with", "all", "each", "every", "this", "that", "your", "our"])
_TOWARDS = frozenset(["to", "until", "till", "til", "at", "below", "under", "above", "past"])
_ALSO_FOOD = frozenset(["cure", "salt", "brine", "rub", "smoke", "pickle", "corn", "crust", "skin", "bone", "roast", "steam", "spread", "stand"])
_NO_INGREDIENT = frozenset(["degF", "degC", "degree", "second", "minute", "hour", "day", "night", "week", "fortnight", "month", "year"])


_AT_DEGREES = re.compile(r"\b(?:(?:at|to|below|under)\s+|(?i:fridge|refrigerator|cooler|walk-?in|cold room|chiller)(?: \w+)?,\s+)-?\d+(?:\s?[-–]\s?\d+)?\s?C\b")  # no cups


def _only_heat_and_time(look: _Look) -> bool:
    """Times and temperatures and no other unit: a step, however short."""
    if not look.amounts:
        return False
    found = [part.unit for chain in look.chains for part in chain.parts if isinstance(part, Measure) and part.unit is not None and not part.article]
    if "cup" in found and _AT_DEGREES.search(look.text):
        found = [unit for unit in found if unit != "cup"] + ["degC"]
    return bool(found) and all(unit in _NO_INGREDIENT for unit in found)


def blocks(page: Page) -> list[Block]:
    """The page as blocks in order; every line is in exactly one."""
    looks = _looks(page)
    kinds = _kinds(looks)
    widest = max((look.indent + len(look.text) for look, kind in zip(looks, kinds, strict=True) if kind == "step"), default=0)
    made: list[Block] = []
    index = 0
    while index < len(looks):
        look, kind = looks[index], kinds[index]
        last = index
        if kind in ("step", "ingredient"):
            while last + 1 < len(looks) and kinds[last + 1] == kind and looks[last + 1].starts_with_amount and _half_a_range(looks[last].text):
                last += 1
        if last > index:
            pass
        elif kind in ("step", "note"):
            while last + 1 < len(looks) and kinds[last + 1] == kind and _runs_on(looks[last], looks[last + 1]) and not _starts_anew(look, looks[last], looks[last + 1], widest):
                last += 1
        elif kind == "ingredient":
            while last + 1 < len(looks) and kinds[last + 1] == "ingredient" and _hangs(looks[last], looks[last + 1]):
                last += 1
        if last == index:
            made.append(_block(kind, look, look, look.items))
        else:
            made.append(_block(kind, look, looks[last], parse(_run_together(page, looks[index : last + 1]), look.place.start)))
        index = last + 1
    return made


def _block(kind: Kind, first: _Look, last: _Look, items: list[Item]) -> Block:
    if kind == "ingredient" and sum(len(item.parts) for item in items if isinstance(item, Chain)) > _MOST_ON_A_LINE:
        kind = "step"  # a page that lost its line ends, or no page
    return Block(kind, first.number, last.number, first.place if first is last else first.place.to(last.place), first.numbered, tuple(items))


_MOST_ON_A_LINE = 300  # amounts, of a list along one line: each is compared with those before it


def _run_together(page: Page, looks: list[_Look]) -> str:
    """The text of several lines as one, list and quotation marks blanked so that every place stays what it is."""
    text = ""
    for look, following in itertools.pairwise([*looks, None]):
        assert look is not None
        text += page.plain[look.place.start : look.place.end]
        if following is not None:
            text += re.sub(r"[^\r\n]", " ", page.plain[look.place.end : following.place.start])
    return text


def _runs_on(look: _Look, following: _Look) -> bool:
    if look.gapped and following.gapped and (look.amounts or following.amounts):
        return False  # rows of a table
    if following.bullet or following.numbered or not following.text:
        return False
    text = look.text.rstrip()
    if text.endswith((".", "!", "?", ":")):
        return following.text[:1].islower()
    return len(text) >= 35 or following.text[:1].islower() or following.indent > look.indent


_JOINS = frozenset(["and", "or", "to", "then", "the", "a", "an", "of", "in", "with", "for", "until", "till", "til", "at", "on", "not", "you", "it", "&"])
_FEW = 4  # lines
_ROOM = 12  # letters left on a line that its writer, wrapping, would have used


def _starts_anew(begun: _Look, look: _Look, following: _Look, widest: int) -> bool:
    """Where a cook writes no capitals, a line begins a step if the last had room for more, or if it tells what to do; where he does, if it tells so with one."""
    if look.text.endswith(",") or (look.words and look.items[-1] is look.words[-1] and look.words[-1].low in _JOINS):
        return False
    first = following.words[0].low if following.words else ""
    if first in _JOINS:
        return False
    if not begun.text[:1].islower():
        return following.imperative and following.text[:1].isupper() and not following.text.isupper()
    return following.imperative or look.indent + len(look.text) + 1 + len(first) + _ROOM <= widest


def _hangs(look: _Look, following: _Look) -> bool:
    """The second line of a wrapped ingredient: set in, lower case, no amount of its own."""
    return (
        following.indent > look.indent
        and not following.bullet
        and not following.starts_with_amount
        and not (following.amounts and (following.gapped or _named_weight(following) is not None))
        and (following.text[:1].islower() or following.text[:1] == "(")
        and bool(look.text)
    )


def _kinds(looks: list[_Look]) -> list[Kind]:
    kinds: list[Kind] = ["blank"] * len(looks)
    filled = [index for index, look in enumerate(looks) if look.text]
    if not filled:
        return kinds
    shouted = len(filled) > _FEW and looks[filled[-1]].text.isupper() and sum(_is_caps(looks[index].text) for index in filled) * 10 > 9 * len(filled) and sum(len(looks[index].text) > _LONG for index in filled) * 3 > len(filled)
    headers = set(itertools.takewhile(lambda index: _HEADER.match(looks[index].text), filled))
    headers |= {index for index in filled[:_LETTER_BEGINS] if looks[index].raw.lstrip().startswith(">") and _HEADER.match(looks[index].text)}  # of a letter that was pasted below a title
    first = next((index for index in filled if index not in headers), filled[0])
    likely = {index: _ingredient_like(looks[index]) for index in filled}
    begins = next((index for index in filled if _INGREDIENTS.fullmatch(looks[index].text.strip(" #*_:"))), 0)
    for index in filled:
        if first < index < begins and likely[index] and not _of_a_cure(looks[index]):
            likely[index] = False  # "only 10 ingredients": what praises the recipe before its list begins
    flowing = _flowing(looks)
    has_list = sum(likely[index] for index in filled if index not in flowing) >= 2
    mode: Literal["start", "list", "named list", "method", "aside"] = "start"
    bulleted_list = listed = False
    for position, index in enumerate(filled):
        look = looks[index]
        listed = listed or (position > 0 and kinds[filled[position - 1]] == "ingredient")
        following = looks[filled[position + 1]] if position + 1 < len(filled) else None
        if index in headers:
            kinds[index] = "note"
            continue
        if index == first and (_title_like(look, likely[index], following) or _title_of_numbers(look, following)):
            kinds[index] = "title"
            continue
        if index in flowing and mode != "aside":
            kinds[index] = "step"
            continue
        if position and kinds[filled[position - 1]] in ("step", "ingredient") and look.starts_with_amount and _half_a_range(looks[filled[position - 1]].text):
            kinds[index] = kinds[filled[position - 1]]
            continue
        if position and kinds[filled[position - 1]] == "ingredient" and _row_of_words(look, looks[filled[position - 1]]):
            kinds[index] = "ingredient"
            continue
        if _heading_like(look, following, shouted) or _plain_heading(look, looks[filled[position - 1]] if position else None, following):
            kinds[index] = "heading"
            name = bare(look.text, "#*", "*:")
            if _ASIDE.fullmatch(name):
                mode = "aside"
            elif (_METHOD_HEADING.search(name) and not _LIST_HEADING.search(name)) or re.fullmatch(r"(?:notes?|tips?|equipment|storage)", name, re.I):
                mode = "method"
            elif re.search(r"\bingredients?\b", name, re.I):
                mode = "named list"
            else:
                mode = "list"
            continue
        kinds[index] = "note" if mode == "aside" else _kind(look, likely[index], mode, has_list, begun=position > 0 and kinds[filled[position - 1]] == "step" and has_list and len(look.words) > 2, listed=listed)
        if mode != "aside" and kinds[index] == "note" and index and kinds[index - 1] == "ingredient" and not look.sentence and len(look.words) <= 8 and not _NOTE.match(look.text) and not _left_out(look) and mode != "method":
            kinds[index] = "ingredient"
        if kinds[index] == "step" and mode != "start" and (look.numbered or look.sentence):
            mode = "method" if look.numbered else mode
        if kinds[index] == "ingredient":
            bulleted_list = bulleted_list or look.bullet
        elif kinds[index] == "step" and look.bullet and look.imperative and not bulleted_list and has_list and mode in ("start", "list"):
            mode = "method"  # only the steps have marks
    return kinds


_INGREDIENTS = re.compile(r"(?:the )?ingredients?", re.I)


def _of_a_cure(look: _Look) -> bool:
    name = lexicon.known(lexicon.plain_words(look.text))
    return name is not None and name.role in ("meat", "salt", "water", "cure1", "cure2", "ready-mix", "nitrate", "nitrite")


def _title_like(look: _Look, likely: bool, following: _Look | None) -> bool:
    if len(look.text) >= 120 or _LIST_HEADING.fullmatch(look.text.strip(": #")) or look.bullet:
        return False
    if look.words and look.words[0].low in _OVER_COLUMNS and look.gapped:
        return False  # the names of columns, over the first row
    if not likely:
        return not (look.sentence and len(look.words) > 9)
    if look.starts_with_amount and (look.number > 1 or any(part.unit for chain in look.chains for part in chain.parts) or lexicon.known([word.low for word in look.words])):
        return False  # "Two ways" may head a page; "2 flats" does not
    return not look.text.rstrip().endswith(":") and (following is None or following.number > look.number + 1) and not _LEAD_IN.match(look.text)


def _title_of_numbers(look: _Look, following: _Look | None) -> bool:
    """``One brine, two dinners``, by itself at the top: numbers in words, and of nothing that is weighed or poured."""
    amounts = [part for chain in look.chains for part in chain.parts]
    return (
        look.number == 1 and not look.bullet and not look.text.rstrip().endswith((":", ".")) and len(look.text) < 90 and following is not None and following.number > 2
        and all(isinstance(part, Measure) and part.unit is None and look.text[part.start - look.place.start].isalpha() for part in amounts)
    )  # fmt: skip


def _flowing(looks: list[_Look]) -> set[int]:
    """Lines of wrapped prose: runs of full lines, unmarked, in which sentences cross the line ends."""
    found: set[int] = set()
    index = 0
    while index < len(looks):
        end = index
        while end < len(looks) and looks[end].text and not looks[end].bullet and not (looks[end].numbered and end > index):
            end += 1
        run = looks[index:end]
        if len(run) >= 2 and not any(look.gapped for look in run):
            crossing = [len(look.text) >= _LONG and not look.text.rstrip().endswith((".", "!", "?")) and not _ingredient_start(after) for look, after in itertools.pairwise(run)]
            full = [len(look.text) >= _LONG for look in run[:-1]]
            if sum(full) * 5 >= len(full) * 4 and any(crossing) and sum(crossing) * 2 >= len(crossing):
                found.update(range(index, end))
        index = max(end, index + 1)
    return found


def _ingredient_start(look: _Look) -> bool:
    """A full line that an ingredient list could go on with: an amount of something, no sentence."""
    return look.starts_with_amount and _ingredient_like(look) and not look.text.rstrip().endswith((",", "in", "of", "the", "a", "and"))


_ASIDE = re.compile(r"(?:some )?(?:variations?|substitut\w+|nutrition\w*(?: \w+)*|options?|alternatives?|what to do with leftovers|the page itself says)", re.I)
_OVER_COLUMNS = frozenset(["ingredient", "ingredients", "material", "materials", "item", "items", "portions", "portion", "covers", "servings", "serves", "batch", "yield", "persons", "quantity"])
_BATCH = re.compile(r"(?:batch|lot)\b", re.I)


def _does(look: _Look) -> bool:
    """``Day 1. Drop the flat in the brine.``: something is done, wherever in the line its verb stands."""
    return any((action := lexicon.actions().get(word.low)) is not None and action.verb == word.low for word in look.words)


def _kind(look: _Look, likely: bool, mode: str, has_list: bool, begun: bool = False, listed: bool = False) -> Kind:
    """``begun`` : the line before it is a step of the method, under a list. ``listed`` : an ingredient stands above it."""
    words = look.words
    if _left_out(look):
        return "step" if look.sentence else "note"
    if "86'" in look.text:
        return "note"  # struck from the menu
    if look.text[:1] in "TtNnRrWw*_" and _REMARK.match(look.text) and _OF_THE_END.search(look.text):
        return "step"  # "Tip: left overs keep a week": it is judged like any other line
    if _NOTE.match(look.text) and not (likely and look.starts_with_amount):
        if re.match(r"\s*(?:from)\b", look.text, re.I) and look.amounts:
            return "ingredient" if likely and mode != "method" else "step"
        return "note"
    if look.gapped and look.amounts and words and words[0].low in _OVER_COLUMNS:
        return "note"
    if not look.words and look.items and all(isinstance(item, (Label, Mark)) for item in look.items):
        return "note"  # the 1x and 2x over columns
    if look.amounts == 0 and mode != "method" and not look.imperative and any(isinstance(item, Label) and (item.form == "date" or _BATCH.match(item.text)) for item in look.items) and lexicon.known(lexicon.plain_words(look.text)) is None:
        return "note"  # a date, a batch number, initials
    if mode == "named list":
        if (look.numbered and look.sentence and len(words) > 4) or (look.imperative and look.sentence and len(words) > 5):
            return "step"
        if look.sentence and not look.starts_with_amount and not look.bullet and (_only_heat_and_time(look) or _SENTENCES.search(look.text) or _METHOD_LEAD.match(look.text)):
            return "step"
        return "ingredient"
    if mode == "method":
        if likely and look.starts_with_amount and not look.sentence and not look.numbered:
            return "ingredient"
        return "step"
    if likely and not (look.numbered and look.sentence):
        return "ingredient"
    if mode in ("start", "list") and look.amounts and (len(words) > 2 or look.amounts > 1 or (words and words[0].low in lexicon.actions())) and _only_heat_and_time(look):
        return "step"
    if look.imperative or look.sentence or look.numbered:
        if mode == "start" and has_list and not look.imperative and not look.numbered and look.amounts == 0 and not begun and not (listed and _does(look)):
            return "note"
        return "step"
    if mode == "list" and len(words) <= 8:
        return "ingredient"
    if len(words) > 8:
        return "step"
    if mode == "start" and not has_list:
        return "step"
    if look.bullet and has_list:
        return "ingredient"
    return "step" if begun else "note"
