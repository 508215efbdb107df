"""The method as sentences, each with its phase of the work.

What a verb does depends on where in the work it stands: "simmer" before the meat is in makes a brine, after
the cure it cooks. The phases are settled in order, with a small memory of what has happened so far.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from itertools import pairwise

from msgspec import Struct, field
from msgspec.structs import replace

from overhaul import facts
from overhaul.reading import lexicon, phrases
from overhaul.reading.patterns import Pattern
from overhaul.recipe.bits import AmountBit, Bit, LabelBit, MarkBit, RateBit, WordBit
from overhaul.recipe.model import Amount, Phase
from overhaul.text import Page, Place

LONG = frozenset(["day", "night", "week", "fortnight", "month"])  # units of a stay rather than of a task
_ABBREVIATIONS = frozenset(["abt", "approx", "no", "nos", "uncov", "cov", "chg", "gr", "incl", "min", "max", "temp", "refrig", "reg", "e.g", "i.e", "vs", "dr", "mrs", "mr", "st", "o", "ref", "cont", "pkg", "yd", "blk", "wht", "yel", "sd", "gran", "med", "lg", "sm"])
_NOT = frozenset(["not", "no", "never", "don't", "without", "nor", "dont", "cannot", "can't", "neither", "nothing", "instead", "avoid", "skip"])
_NOUN_BEFORE = frozenset(["the", "a", "an", "of", "this", "that", "its", "your", "our", "no", "own", "some", "any", "his", "her", "their", "each", "every", "same", "weak", "weaker", "strong", "stronger", "cold", "hot", "fresh", "dry", "wet", "light", "spice", "pastrami", "clean", "first"])
_DONE = frozenset(["smoked", "cooked", "roasted", "baked", "steamed", "fried", "corned", "cured", "brined", "salted", "pickled"])  # told of, not done, where no figure stands
_NOUNS = frozenset(["cure", "brine", "smoke", "rub", "rest", "cover", "pickle", "cut", "roast", "cook", "coat", "season", "salt", "stand", "spread", "finish", "corn", "set", "lie", "chill", "crush", "slice", "steam", "label", "date", "needle", "skin", "bone", "store", "drain", "heat", "boil", "simmer", "foil", "turn", "dry"])

# All of these, and every pattern given to ``Sentence.says``, are for text in lower case.
COLD_PLACE = Pattern(r"\b(?:refrigerat\w*|fridge|frig\b|walk-?in|(?<=the )walk in|walk in(?=\s*(?:\d|[,.;@(]|$|overnight\b|o/n\b|for \d))|coolers?|cold[- ]room|reach-?in|low-?boy|ice[- ]?(?:chest|house)|snow[- ]?house|cold larder|cold store|chiller|ice ?box|wi\b|w/i\b|ri\b|reach in\b)")
WARM_PLACE = Pattern(r"\b(?:at|in|on) (?:the )?(?:room temp\w*|room temperature|kitchen (?:counter|table)|counter(?:top)?|worktop|(?:kitchen )?table|bench|sink|sideboard|dresser|draining board|window ?sill|kitchen(?! (?:scale|paper|towel|string|twine)))\b|\b(?:near|by|beside) (?:the )?(?:kitchen )?(?:range|stove|fire|hearth|chimney)\b|\broom temp(?:erature)?\b|\bcounter(?:top)?\b")
OUT_OF_THE_COLD = Pattern(r"\b(?:cellar|garage|porch|spring ?house|basement|shed|barn|larder|pantry|outhouse|meat house|smokehouse)\b")
UNSURE_PLACE = Pattern(rf"{OUT_OF_THE_COLD.pattern}|\b(?:cool place|somewhere cool|cool spot|cold place|cool)\b")
MEAT_WORD = Pattern(r"\b(?:meat|beef|pork|briskets?|flats?|points?|bell(?:y|ies)|loins?|hams?|tongues?|turkeys?|breasts?|ducks?|salmon|fish|fillets?|sides?|birds?|chickens?|venison|pieces?|slabs?|rounds?|roasts?|trout|joints?|shoulders?|butts?|chunks?|it(?!')|them|navels?|legs?|eye|everything|hocks?|jowls?)\b")
_THEN_MEAT = Pattern(rf"\bthen (?:the |in )?(?!it\b|them\b){MEAT_WORD.pattern}|\b(?:and|then) (?:add|put in|lower in|drop in) (?:the )?(?:\w+ )?(?!it\b|them\b){MEAT_WORD.pattern}")


@cache
def _compiled(pattern: str) -> Pattern:
    return Pattern(pattern)


class Hit(Struct):
    """A verb at its place: what it does, and whether it is negated."""

    index: int
    phase: str
    verb: str
    negated: bool
    bit: WordBit


class Sentence(Struct):
    bits: list[Bit]
    amounts: list[AmountBit]  # those of the bits
    place: Place
    line: int
    end_line: int
    text: str
    low: str  # the same in lower case, same length
    block: int
    section: str | None
    numbered: bool = False
    hits: list[Hit] = field(default_factory=list)
    phase: Phase = "other"
    whole: Place | None = None  # of the sentence, where this is one clause of it

    def says(self, pattern: str | Pattern) -> re.Match[str] | None:
        return (_compiled(pattern) if isinstance(pattern, str) else pattern).search(self.low)

    def find(self, pattern: str | Pattern) -> Place | None:
        match = self.says(pattern)
        return Place(self.place.start + match.start(), self.place.start + match.end()) if match else None

    def has(self, *phases: str) -> bool:
        for hit in self.hits:  # noqa: SIM110 - any() takes twice as long
            if hit.phase in phases and not hit.negated:
                return True
        return False

    @property
    def times(self) -> list[AmountBit]:
        return [bit for bit in self.amounts if bit.dimension == "time" and not (bit.article and bit.unit in ("day", "time", "week") and self._often(bit))]

    def _often(self, bit: AmountBit) -> bool:
        index = self.bits.index(bit)
        before = self.bits[index - 1] if index else None
        return (isinstance(before, WordBit) and before.low in ("once", "twice", "times", "time", "thrice")) or isinstance(before, LabelBit)


def sentences(page: Page, flat: list[Bit], block: int, section: str | None, numbered: bool) -> list[Sentence]:
    """One block cut into sentences."""
    flat = _times_over(flat)
    ovens = bool(flat) and page.low.find("oven", flat[0].start, flat[-1].end) >= 0
    flat = [_meant(page, flat, index) if isinstance(bit, AmountBit) else _oven_words(page, flat, index) if ovens else bit for index, bit in enumerate(flat)]
    cut: list[list[Bit]] = [[]]
    for index, bit in enumerate(flat):
        cut[-1].append(bit)
        if bit.depth == 0 and not isinstance(bit, WordBit) and index + 1 < len(flat) and _ends(page, flat, index):
            cut.append([])
    made = []
    for part in cut:
        if not part:
            continue
        place = Place(part[0].start, part[-1].end)
        made.append(Sentence(part, [bit for bit in part if isinstance(bit, AmountBit)], place, page.line_at(place.start), page.line_at(max(place.start, place.end - 1)), _one_line(page.plain[place.start : place.end]), _one_line(page.low[place.start : place.end]), block, section, numbered))
    for sentence in made:
        sentence.hits = _hits(sentence)
        refused: set[str] = set()
        for hit in sentence.hits:  # "Do not rinse: rinsing only …", but "Smoke 4 hours without smoke"
            hit.negated = hit.negated or hit.verb in refused
            if hit.negated and hit.phase in ("rinse", "soak", "dry", "smoke"):
                refused.add(hit.verb)
    return [clause for sentence in made for clause in _clauses(page, sentence)]


_OUT = frozenset(["rinse", "soak"])
_FIRE = frozenset(["smoke", "cook"])


def _clauses(page: Page, sentence: Sentence) -> list[Sentence]:
    """``A week in the brine, then rinse and simmer 3 hours``: a sentence of several jobs, cut where the next begins."""
    rank, cuts = 0, []
    for hit in sentence.hits:
        if hit.negated or hit.bit.depth:
            continue
        before = sentence.bits[hit.index - 1] if hit.index else None
        joined = before is None or (isinstance(before, MarkBit) and before.text in ",;:–—") or (isinstance(before, WordBit) and before.low in ("and", "then", "&"))
        own = 2 if hit.phase in _OUT else 3 if hit.phase in _FIRE or (hit.verb in ("simmer", "boil") and rank == 2) else 1 if hit.phase in ("in", "cold", "overhaul", "pump") else 0
        if own > rank:
            if joined and ((rank == 2 and own == 3) or (rank == 1 and own == 2 and any(bit.unit in LONG and bit.start < hit.bit.start for bit in sentence.times))):
                cuts.append(hit.index)
            rank = own
    if not cuts:
        return [sentence]
    made = []
    for start, end in pairwise([0, *cuts, len(sentence.bits)]):
        part = sentence.bits[start:end]
        place = Place(part[0].start, part[-1].end)
        clause = Sentence(part, [bit for bit in part if isinstance(bit, AmountBit)], place, page.line_at(place.start), page.line_at(max(place.start, place.end - 1)), _one_line(page.plain[place.start : place.end]), _one_line(page.low[place.start : place.end]), sentence.block, sentence.section, sentence.numbered, whole=sentence.place)
        clause.hits = [Hit(hit.index - start, hit.phase, hit.verb, hit.negated, hit.bit) for hit in sentence.hits if start <= hit.index < end]
        made.append(clause)
    return made


def _one_line(text: str) -> str:
    return text.replace("\n", " ").replace("\r", " ")


_AT = frozenset(["at", "to", "below", "under", "above", "over", "until", "till", "til", "reaches", "reads", "hits"])


_TIMES = frozenset(["x", "×"])


def _times_over(flat: list[Bit]) -> list[Bit]:
    """``soak 2 x 30 min``: so often so long is one time."""
    if not any(isinstance(bit, AmountBit) and bit.link in _TIMES for bit in flat):
        return flat
    made: list[Bit] = []
    for bit in flat:
        often = made[-1] if made else None
        if isinstance(bit, AmountBit) and bit.link in _TIMES and bit.dimension == "time" and isinstance(often, AmountBit) and often.bare and often.amount.low == often.amount.high and often.amount.high <= 12:
            times = often.amount.high
            amount = replace(bit.amount, low=bit.amount.low * times, high=bit.amount.high * times, place=Place(often.start, bit.end))
            made[-1] = replace(bit, start=often.start, link=often.link, amount=amount)
        else:
            made.append(bit)
    return made


def _meant(page: Page, flat: list[Bit], index: int) -> Bit:
    """What only the words around it settle: degrees or cups, and ``a second tub``, which is no time."""
    bit = flat[index]
    if isinstance(bit, AmountBit) and bit.bare and index > 2 and (unit := _unit_of_range(page, flat, index)) is not None:
        return replace(bit, amount=replace(bit.amount, unit=unit))
    if isinstance(bit, AmountBit) and bit.article and bit.unit in ("second", "stone"):
        return WordBit(bit.depth, bit.start, bit.end, page.plain[bit.start : bit.end], bit.unit)  # "a second tub", "a board and a stone"
    if isinstance(bit, AmountBit) and bit.bare and index and isinstance(before := flat[index - 1], WordBit) and before.low in ("rest", "rests") and 5 <= bit.amount.low <= 90:
        return replace(bit, amount=replace(bit.amount, unit="minute"))  # "REST 20."
    return _degrees_meant(page, flat, index)


_LONGER = 8  # "one hour, then up to 200" is a heat


def _unit_of_range(page: Page, flat: list[Bit], index: int) -> str | None:
    """``at least 5 days, up to 10``: the bare figure that ends a range has the unit of the time before it."""
    if not re.search(r"\b(?:up to|at most|maximum|max)\s*$", page.low[max(0, flat[index].start - 12) : flat[index].start]):
        return None
    for bit in reversed(flat[max(0, index - 8) : index]):
        if isinstance(bit, MarkBit) and bit.text in ".;":
            return None
        if isinstance(bit, AmountBit) and bit.dimension == "time" and bit.amount.high < flat[index].amount.low <= _LONGER * bit.amount.high:  # type: ignore[attr-defined]
            return bit.unit
    return None


_DEGREES = Pattern(r".*(?:\sC\.?|\d[Cc]\.?)", re.S)  # 3 C, 3C, 3c; a space before a small c makes it cups
_OVEN_HEATS = {"slow": "oven.slow_f", "low": "oven.slow_f", "moderate": "oven.moderate_f", "medium": "oven.moderate_f", "hot": "oven.hot_f", "quick": "oven.hot_f"}


def _oven_words(page: Page, flat: list[Bit], index: int) -> Bit:
    """``in a slow oven``: the heat that the word stands for."""
    bit, after, before = flat[index], flat[index + 1] if index + 1 < len(flat) else None, flat[index - 1] if index else None
    if not (isinstance(bit, WordBit) and bit.low in _OVEN_HEATS and isinstance(after, WordBit) and after.low == "oven" and isinstance(before, WordBit) and before.low in ("a", "an", "very", "rather")):
        return bit
    heat = facts.fact(_OVEN_HEATS[bit.low])
    return AmountBit(bit.depth, bit.start, bit.end, Amount(Fraction(heat.low), Fraction(heat.high), "degF", Place(bit.start, bit.end), vague=bit.low), "", False, True)


_IN = frozenset(["in", "within", "inside"])


def _degrees_meant(page: Page, flat: list[Bit], index: int) -> Bit:
    """``in the fridge at 3 C``: a capital C in the method is degrees where it stands after "at" and names no food."""
    bit = flat[index]
    if not isinstance(bit, AmountBit) or bit.unit != "cup" or not index or not _DEGREES.fullmatch(page.plain[bit.start : bit.end]) or bit.amount.parts:
        return bit
    before = flat[index - 1]
    in_table = isinstance(before, AmountBit) and before.dimension == "time"  # 14 days   3 C
    timed = index + 2 < len(flat) and isinstance(joint := flat[index + 1], WordBit) and (joint.low in _IN or joint.low == "for") and isinstance(long := flat[index + 2], AmountBit) and long.dimension == "time"  # 3C in 90 min
    after_place = isinstance(before, MarkBit) and before.text == "," and COLD_PLACE.search(page.low[flat[max(0, index - 3)].start : before.start]) is not None  # fridge drawer, 2-4 C
    if not (in_table or timed or after_place or (isinstance(before, WordBit) and before.low in _AT) or (isinstance(before, MarkBit) and before.text in "@<≤")):
        return bit
    after = [word.low for word in flat[index + 1 : index + 4] if isinstance(word, WordBit)]
    if after and (after[0] == "of" or lexicon.known_at([lexicon.singular(word) for word in after], 0) is not None):
        return bit
    return replace(bit, amount=replace(bit.amount, unit="degC"))


def _ends(page: Page, flat: list[Bit], index: int) -> bool:
    bit, after = flat[index], flat[index + 1]
    if isinstance(bit, MarkBit) and bit.text not in "!?.":
        return False
    if page.plain[bit.end:after.start].strip(" \n\r>") != "" or bit.end == after.start:
        return False
    begins = "\n" in page.plain[bit.end : after.start] or (isinstance(after, WordBit) and after.text[:1].isupper()) or isinstance(after, (AmountBit, LabelBit, RateBit)) or (isinstance(after, MarkBit) and after.text in "\"'([")
    if not begins and isinstance(after, WordBit) and isinstance(flat[0], WordBit) and flat[0].text[:1].islower():
        begins = lexicon.actions().get(after.low) is not None  # a cook who writes no capitals
    if isinstance(bit, MarkBit) and bit.text in "!?":
        return True
    if isinstance(bit, MarkBit) and bit.text == ".":
        before = flat[index - 1] if index else None
        if isinstance(before, WordBit) and before.low in ("max", "min") and index > 1 and isinstance(flat[index - 2], AmountBit):
            return begins
        if isinstance(before, WordBit) and (before.low in _ABBREVIATIONS or (len(before.low) == 1 and before.low not in "i")):
            return False
        return begins
    if isinstance(bit, AmountBit) and page.plain[bit.end - 1 : bit.end] == ".":
        return begins and isinstance(after, WordBit) and len(after.text) > 1
    return False


def _hits(sentence: Sentence) -> list[Hit]:
    table = lexicon.actions()
    found: list[Hit] = []
    bits = sentence.bits
    for index, bit in enumerate(bits):
        if not isinstance(bit, WordBit):
            continue
        action = table.get(bit.low)
        if action is None:
            continue
        previous = bits[index - 1] if index else None
        following = bits[index + 1] if index + 1 < len(bits) else None
        previous_word = previous.low if isinstance(previous, WordBit) else ""
        brought = bit.low in ("boil", "simmer") and previous_word in ("a", "the", "bare", "full", "rolling", "gentle", "to") and any(isinstance(word, WordBit) and word.low in ("bring", "brought", "come", "comes", "heat", "to") for word in bits[:index])
        if bit.low in _NOUNS and not brought and ((previous_word in _NOUN_BEFORE and not (bit.low == "smoke" and previous_word in ("light", "cold", "hot"))) or (bit.low in ("cure", "brine", "smoke", "pickle") and (isinstance(following, LabelBit) or (isinstance(following, WordBit) and following.low in ("is", "goes", "has", "must", "away", "spices", "spice", "salt", "time", "bk")) or (isinstance(following, WordBit) and bit.low != "smoke" and following.low in ("on", "in", "until")) or previous_word in ("in", "with", "for", "add", "warm") or (previous_word in ("hot", "cold") and bit.low != "smoke")))):
            continue
        if bit.low == "rest" and isinstance(following, WordBit) and following.low == "of":
            continue
        if bit.low == "cool" and previous_word in ("somewhere", "when", "until", "a", "is", "till", "til", "completely", "pretty", "nice", "nicely", "fairly", "very", "so", "quite", "stays", "airy", "and"):
            continue
        if bit.low in ("dry", "dried", "ground", "cracked", "crushed", "cooked", "smoked", "sliced") and isinstance(following, WordBit) and lexicon.known((lexicon.singular(following.low),)) is not None and bit.low != "dry":
            continue
        if bit.low in _DONE and not any(isinstance(part, AmountBit) and part.dimension in ("temperature", "time") for part in bits):
            continue
        before = bits[max(0, index - 4) : index]
        negated = False
        for word in reversed(before):
            if isinstance(word, MarkBit) and word.text in ",;:.":
                break
            if isinstance(word, WordBit) and word.low in ("until", "till", "before"):
                break
            if isinstance(word, WordBit) and word.low in _NOT:
                negated = True
                break
        found.append(Hit(index, action.phase, action.verb, negated, bit))
    return found


class Story(Struct):
    """What has happened so far."""

    immersion: bool  # the page has water for a brine
    dry_cure: bool
    has_cure_section: bool
    fish: bool = False
    meat_in: bool = False
    after: bool = False  # out of the cure
    heated: bool = False  # smoked or cooked
    stored: bool = False
    meats: frozenset[str] = frozenset()  # the words that the page's own list has for its meat, each as one of it


def settle(page: Page, all_sentences: list[Sentence], story: Story) -> None:
    """Give every sentence its phase, in order."""
    for number, sentence in enumerate(all_sentences):
        sentence.phase = _phase(sentence, story, all_sentences[number + 1 :])
        story.stored = story.stored or (sentence.phase == "store" and story.heated)


def _long(sentence: Sentence) -> bool:
    return any(bit.unit in LONG for bit in sentence.times) or bool(sentence.says(r"\b(?:few|several) (?:weeks|days)\b"))


_HEATED = Pattern(r"\b(?:oven|smoker|smkr|pit|grill|hot box|roasting pan)\b")


def _phase(sentence: Sentence, story: Story, later: list[Sentence]) -> Phase:
    has = sentence.has
    meat = bool(MEAT_WORD.search(sentence.low))
    section = (sentence.section or "").lower()
    if "signed off" in sentence.low or sentence.low.lstrip().startswith(("note", "nb ")) or sentence.says(r"\bsame as\b.{0,40}\b(?:thr(?:ough|u)|step|steps|until|till|above|card|page|p\.)|\b(?:save|keep|strain) (?:the )?(?:used |old )?brine (?:for|and use)\b"):
        return "other"
    if story.stored and sentence.says(r"\b(?:re-?steam|re-?heat\w*|warm (?:it |them )?(?:up|through)|steam to order)\b"):
        return "other"
    if not story.heated:
        if ((has("thaw") and not sentence.says(phrases.HALF_THAWED)) or sentence.says(r"\bfrozen\b.{0,60}\b(?:thaw|refrigerat|fridge|cooler|walk-?in|overnight|cold water)")) and not story.meat_in:
            return "thaw"
        if has("pump"):
            story.meat_in = True
            return "pump"
    if "spice" in section and not story.meat_in and not has("cure", "smoke", "cook") and not _long(sentence):
        return "make-spice"
    if sentence.says(r"\bbefore (?:putting|going|it goes|they go|you put)\b.{0,20}\b(?:brine|pickle)\b") and not has("cool"):
        return "trim"
    if not story.meat_in and not story.after and not story.heated:
        return _before(sentence, story, meat, later)
    if story.meat_in and not story.after and not story.heated:
        return _during(sentence, story, meat)
    return _afterwards(sentence, story, meat)


_INTO = r"[^.]{0,25}\b(?:in|into|under|goes in|go in)\b(?! (?:pieces|half|chunks|two\b(?! (?:\d|\w+ (?:tubs?|buckets?|bags?|pails?|pots?|crocks?)|tubs?|buckets?|bags?|pails?|pots?|crocks?))|strips|the (?:refrigerator|fridge|middle|smoker|oven)))"
_GOES_IN = Pattern(rf"\b(?:meat|beef|pork|briskets?|flats?|points?|bell(?:y|ies)|loins?|hams?|tongues?|turkey|breasts?|ducks?|salmon|fish|fillets?|birds?|chicken|venison|pieces|slabs?|joints?|legs?|sides?|halves|rounds?|navels?|roasts?|eyes?|trout|chunks|hocks?)\b{_INTO}")
_GOES = Pattern(_INTO.replace("[^.]", "[^.,;]", 1))  # in its own clause: "season the ribs, leave in the walk-in" brines nothing


def _own_goes_in(sentence: Sentence, story: Story) -> bool:
    """``Quarters in, plate on top``, ``Trotters into the brine``: what the page's own list calls its meat, at the head of a clause."""
    for index, bit in enumerate(sentence.bits):
        before = sentence.bits[index - 1] if index else None
        begins = before is None or isinstance(before, (MarkBit, LabelBit)) or (isinstance(before, WordBit) and before.low in ("the", "and", "all", "put", "lay", "then"))
        if begins and isinstance(bit, WordBit) and lexicon.singular(bit.low) in story.meats and _GOES.match(sentence.low, bit.end - sentence.place.start):
            return True
    return False


_BRINE_CHILLS = Pattern(r"\b(?:brine|pickle|liquid|mixture|pot|stockpot|it)\b[^.;]{0,20}\b(?:in|into|to)\b[^.;]{0,12}\b(?:refrigerator|fridge|cooler|walk-?in|freezer)\b[^.;]{0,12}\b(?:until|till?)\b[^.;]{0,24}(?:\b(?:cold|cool|chilled)\b|\b\d+ ?(?:°|deg|[fc]\b))")


def _enters(sentence: Sentence, story: Story) -> bool:
    """The meat goes into the cure here."""
    if sentence.says(_BRINE_CHILLS):
        return False
    if sentence.says(r"\bbefore (?:the |any )?(?:\w+ )?(?:goes|go) in\b|\bbefore (?:the |any )?(?:meat|beef|pork|anything|a fillet|it|they|flats?|fish|bird)\b|\bmay\b.*\btouch\b|\bstraight from\b(?! the (?:deep[- ]?)?(?:freezer|fridge|refrigerator))|\bon ice\b|\bwhile the (?:brine|pickle|cure)\b"):
        return False
    if sentence.says(_GOES_IN) or _own_goes_in(sentence, story):
        return True
    if sentence.says(r"\b(?:submerge|immerse)\b|^\W*(?:\d+\W+)?in (?:they|it|she|he) go(?:es)?\b"):
        return True
    if sentence.says(r"\b(?:cover|pour|sink|pack|lay|put|place|add|lower|drop|set|ladle|poured|packed|covered|covers|slip|ease|fit|return)\b") and sentence.says(MEAT_WORD) and (story.immersion or story.dry_cure) and not sentence.says(r"\b(?:smoker|oven|rack|water boiler|steamer|salt and sugar in)\b"):
        return bool(sentence.says(r"\b(?:meat|beef|pork|briskets?|flats?|bell(?:y|ies)|loins?|hams?|tongues?|turkey|breasts?|ducks?|salmon|fish|fillets?|birds?|chicken|venison|pieces|slabs?|joints?|legs?|sides|it all|trout|chunks|roasts?)\b") or (sentence.says(r"\b(?:it(?!')|them|everything)\b") and not sentence.has("mix", "heat")))
    if sentence.says(r"\bpour(?:ed)?\b.*\bover\b|\bcover(?:ed)? (?:it |them )?with (?:the )?(?:cold |cool |cooled )?(?:brine|pickle)\b"):
        return True
    if story.dry_cure and sentence.says(r"^\W*(?:\d+\W+)?rub(?: well)?\b\s*(?:[,&.]|and\b|$)(?!.*\btogether\b)"):
        return True  # "Rub, bag, cooler 36F."
    if story.dry_cure and _long(sentence) and sentence.says(r"\b(?:vac(?:uum)?[- ]?(?:bag|pack|seal)\w*|vac(?:uum)?(?=,? \d)|(?:zip[- ]?)?bag(?:s|ged)?|seal(?:ed)?)\b") and not sentence.says(COLD_PLACE):
        return True  # "Vacuum bag with the cure, 7 days at 3 °C"
    if story.dry_cure and sentence.has("rub") and sentence.says(r"\b(?:over|into|onto|on|all (?:over|sides)|both|every|well|meat|belly|ham|loin|beef|pork|each|it)\b"):
        return True
    return bool(sentence.says(r"^\s*(?:brin(?:e|ing)|cur(?:e|ing(?! salt))|corn(?:ing)?|pickl(?:e|ing))\b") and (sentence.times or sentence.says(COLD_PLACE)))


_READS_COLD = Pattern(r"\b(?:reads?|is|at|be|check(?:ed)?) (?:3[2-9]|40)\b[^.;]{0,8}\bor (?:below|less|under|colder|lower)\b")
_CURE_LAST = Pattern(r"^\W*(?:the )?(?:pink|cure|nitrite)(?: salt)?(?: ?#1)?(?: goes)? in (?:last|after|when|once|now|cold)\b")


def _before(sentence: Sentence, story: Story, meat: bool, later: list[Sentence]) -> Phase:
    has = sentence.has
    cold = bool(sentence.says(COLD_PLACE))
    if _enters(sentence, story):
        story.meat_in = True
        return "cure"
    if sentence.says(_CURE_LAST):
        return "cool-brine"
    if sentence.says(r"\bhang\b") and meat and _long(sentence) and has("rub"):
        story.meat_in = True
        return "cure"
    # an uncured or plain roast may go straight to the fire
    if (has("smoke") or (has("cook") and not has("heat", "mix"))) and (meat or sentence.amounts) and not sentence.says(r"\bspices?\b") and not (story.immersion and not story.meat_in and has("cook") and not sentence.says(_HEATED) and not _final(sentence)):
        story.heated = True
        return "smoke" if has("smoke") else "cook"
    brine_word = bool(sentence.says(r"\b(?:brine|pickle|liquid|pot|tub|liquor|cure)\b")) or story.immersion
    chilled = has("cool", "cold") or cold or bool(sentence.says(_READS_COLD)) or (bool(sentence.says(r"\b(?:must be|should be|down to|below|or (?:less|colder|below|lower|under)|under|at least as cold)\b")) and any(bit.dimension == "temperature" for bit in sentence.amounts))
    if has("heat") and not (chilled and not has("heat")) and not has("cool", "cold"):
        return "make-brine" if not meat or story.immersion else "other"
    if chilled and brine_word and not (_long(sentence) and (cold or _kept_cold(sentence)) and not has("cool")):
        story.meat_in = bool(_THEN_MEAT.search(sentence.low))
        return "cool-brine"
    if (cold or _kept_cold(sentence)) and _long(sentence) and (story.immersion or story.dry_cure):
        story.meat_in = True
        return "cure"
    if sentence.says(r"\bice\b") and story.immersion and (has("in", "mix") or sentence.says(r"\bmelt")):
        return "cool-brine"
    if has("heat", "mix") and not meat:
        return "make-brine" if story.immersion else "make-spice"
    if has("spice") and not meat:
        return "make-spice"
    if has("mix") and story.immersion:
        return "make-brine"
    if has("mix") and story.dry_cure and (_long(sentence) or sentence.says(r"\b(?:overnight|over night|o/n)\b")) and sentence.says(r"\b(?:stand|sit|leave|let|rest)\b"):
        story.meat_in = True  # "mix well with the salts and let stand overnight"
        return "cure"
    if has("mix") and story.dry_cure:
        return "make-spice"
    if has("trim") and (meat or sentence.amounts):
        return "trim"
    if sentence.says(r"^\s*(?:cur(?:e|ing) |brin(?:e|ing) )?time\s*:") and (_long(sentence) or sentence.times):
        story.meat_in = True
        return "cure"
    if _long(sentence) and (has("in", "cold") or sentence.says(r"^\s*(?:hold|leave|brine|cure|let)\b")):
        story.meat_in = True
        return "cure"
    if sentence.says(r"\b(?:chunks|pieces)\b.*:") and _long(sentence):
        story.meat_in = True
        return "cure"
    if has("in") and story.immersion:
        return "make-brine"
    return "other"


_DEGREES_OF_COLD = Pattern(r"\b(?:at|@) (?:3[2-9]|4[0-2])\b(?! ?(?:c\b|°c|g\b|oz|lb|%))|\b(?:3[2-9]|4[0-2]) ?°?f\b|\b[1-5] ?°?c\b")


def _kept_cold(sentence: Sentence) -> bool:
    """``Bag or tub, 10 days at 38.``"""
    return bool(sentence.says(_DEGREES_OF_COLD))


_WOOD = Pattern(r"^\W*(?:\d+\W+)?(?:post )?(?:oak|hickory|apple ?wood|cherry ?wood|maple|pecan|alder|mesquite|beech|fruit ?wood)\b[^.;]{0,12}\b[12]\d\d\b")


def _over_wood(sentence: Sentence) -> bool:
    """``Hickory at 190 until they hit 160``: the wood and its heat, and no verb."""
    return sentence.says(_WOOD) is not None


def _final(sentence: Sentence) -> bool:
    return any(bit.dimension == "temperature" and bit.amount.low > 100 for bit in sentence.amounts)


_HANGS = Pattern(r"^\W*(?:\d+\W+)?(?:then |now )?(?:hang|air[- ]?dry)\b")


def _during(sentence: Sentence, story: Story, meat: bool) -> Phase:
    has = sentence.has
    if sentence.says(r"\b(?:when|before) (?:it is |they are )?to (?:be )?(?:dressed?|cook\w*|serve\w*|eaten)\b|\bfor the table\b"):
        story.after = True
        return _afterwards(sentence, story, meat) if not sentence.says(r"\bdip\b") else "rinse"
    first = next((hit for hit in sentence.hits if not hit.negated and hit.phase not in ("in", "mix", "cold", "store", "spice")), None)
    cold = bool(sentence.says(COLD_PLACE))
    if has("rinse") and not sentence.says(r"\b(?:before (?:the )?brine)\b"):
        story.after = True
        return "rinse"
    if has("soak") and not has("overhaul"):
        story.after = True
        return "soak"
    if sentence.says(r"^\W*(?:\d+\W+)?wash\b"):
        story.after = True
        return "rinse"
    if _long(sentence) and not cold and not has("smoke", "cook") and sentence.says(_HANGS):
        story.after = True
        return "dry"
    if (_long(sentence) or (cold and sentence.times)) and not has("smoke", "cook") and not (first and first.phase == "dry" and sentence.says(r"\b(?:rack|uncovered|uncov|bare|tacky|pellicle)\b")):
        return "cure" if not has("overhaul") or _long_without_every(sentence) else "overhaul"
    if has("overhaul"):
        return "overhaul"
    if sentence.says(r"\b(?:brine|pickle)\b.{0,30}\b(?:boil|sink|away|thrown|discard|drain|pour(?:ed)? off|pour off)|\b(?:discard|throw|pour off)\b.{0,30}\bbrine\b"):
        return "other"
    if sentence.says(r"\bdehydrat\w+|\boven\b") and _final(sentence):
        story.after = story.heated = True
        return "cook"
    if has("smoke") or _over_wood(sentence) or (sentence.says(r"\b(?:smoker|smkr|smokehouse|pit)\b") and _final(sentence)):
        story.after = story.heated = True
        return "smoke"
    if has("cook") or (has("heat") and (_final(sentence) or (sentence.times and not sentence.says(r"\bbrine\b"))) and not sentence.says(r"\bwater(?:,| and)? salt\b")):
        story.after = story.heated = True
        return "cook"
    if has("dry") and sentence.says(r"\b(?:rack|uncovered|uncov|bare|tacky|pellicle|drain|pat|blot|wipe|hang|dry)\b") and not sentence.says(r"\bdry cure\b"):
        story.after = True
        return "dry"
    if sentence.says(r"\b(?:take|pull|lift|remove|drain)\b.*\b(?:out|from|it|them|meat)\b") and sentence.says(r"\b(?:out|from the (?:brine|cure|bag|tub))\b"):
        story.after = True
        if sentence.says(r"\bkeep\b|\bstore\b"):
            return "store"
        return "other"
    if has("cool") and not sentence.says(r"\bbrine\b|\bpickle\b"):
        return "cool"
    if sentence.says(r"\b(?:keeps?|warranted)\b") and not cold and not sentence.says(r"\b(?:under|below|beneath|cold)\b"):
        return "store"
    if has("rub") and story.dry_cure:
        return "cure"
    if has("slice"):
        story.after = story.heated = True
        return "slice"
    return "cure"


def _long_without_every(sentence: Sentence) -> bool:
    for bit in sentence.times:
        index = sentence.bits.index(bit)
        before = sentence.bits[index - 1] if index else None
        if not (isinstance(before, WordBit) and before.low in ("every", "each")) and not bit.article:
            return True
    return False


_STORE = Pattern(r"\b(?:keeps?|kept|good (?:for|\d+)|store[sd]?|freez(?:e|es|er)|frozen|eat (?:it |them )?within|use (?:it |them |inside|within|by)|use-by|lasts?|shelf|date the|date them|will keep|discard after|hold(?:s)? \d+ d)\b")


def _afterwards(sentence: Sentence, story: Story, meat: bool) -> Phase:
    has = sentence.has
    cold = bool(sentence.says(COLD_PLACE))
    hot = any(bit.dimension == "temperature" and _warm(bit) for bit in sentence.amounts) or _bare_heat(sentence)
    first = next((hit for hit in sentence.hits if not hit.negated), None)
    if story.heated:
        if sentence.says(r"\b(?:holds?|hot box|warmer|keep (?:it |them |slices )?(?:hot|warm)|steam table|for service|hot[- ]hold|bain)\b") and (hot or sentence.says(r"\b(?:hot|warm\w*|service|hot box|on the pass|served|all (?:day|evening))\b")) and not has("rest", "smoke") and not sentence.says(r"\bhold (?:that|it there|there)\b"):
            return "hold"
        cooling = has("cool") or _falls(sentence) or bool(sentence.says(_TWO_LEGS)) or (sentence.says(r"\b(?:135|57)\b") and len([b for b in sentence.amounts if b.dimension == "temperature" or b.bare]) >= 2) or sentence.says(r"\b(?:ice bath|shallow pans?|shallow dish)\b")
        if cooling and not (first and first.phase in ("rest", "smoke", "cook")):
            return "cool"
        if _STORE.search(sentence.low) and not has("smoke") and (sentence.times or cold or has("store") or sentence.says(r"\bfreez|keep")) and not sentence.says(r"\bkeep (?:it |the smoker )?(?:there|at|going|stirring)\b") and not hot:
            return "store"
        if not hot and sentence.times and any(bit.unit in LONG and bit.unit != "night" for bit in sentence.times) and not has("smoke", "cook", "dry"):
            return "store"
        if has("rest") or (sentence.says(r"\b(?:stand|sit)\b") and sentence.times and not has("cook", "smoke")):
            return "rest" if not (has("smoke", "cook") and first and first.phase in ("smoke", "cook")) else ("smoke" if has("smoke") else "cook")
    if has("smoke") or _over_wood(sentence) or sentence.says(r"\b(?:smoker|smkr)\b"):
        story.heated = True
        return "smoke"
    if not story.heated and not cold and _long(sentence) and sentence.says(_HANGS):
        return "dry"
    if has("wrap") and not sentence.says(r"\bunder foil\b") and (hot or not has("cook")):
        return "wrap" if story.heated else "other"
    if has("rinse") and not story.heated:
        return "rinse"
    if has("soak") and not story.heated:
        return "soak"
    if has("heat") or (has("cook") and not (first and first.phase == "slice")):
        if has("cook", "heat") and (first is None or first.phase not in ("dry", "rub", "slice", "rest") or hot):
            in_the_pot = sentence.says(r"\b(?:fresh|clean|new) (?:cold )?water\b") or any(bit.unit == "hour" for bit in sentence.times)
            if not has("cook") and sentence.says(r"\bbrine\b|\bspice") and not story.heated and not hot and not in_the_pot:
                return "other"
            if has("cook") and sentence.says(r"\bfry\b.*\b(?:slice|piece)\b.*\b(?:taste|off)\b"):
                return "other"
            story.heated = True
            return "cook"
    if (story.heated or _bare_heat(sentence) or sentence.says(r"\boven\b")) and hot and not has("dry", "rub"):
        story.heated = True
        return "cook"
    if (has("rub") and not has("dry")) or (has("rub") and first is not None and first.phase == "rub"):
        return "season"
    if not story.heated and (has("dry") or sentence.says(r"\b(?:rack|uncovered|uncov|tacky|pellicle|bare)\b")) and not sentence.says(r"\bequali[sz]e\b"):
        return "dry"
    if sentence.says(r"\bequali[sz]e\b"):
        return "equalize"
    if not story.heated and cold and sentence.times:
        return "dry" if sentence.says(r"\b(?:rack|nothing over|open)\b") else "store" if _STORE.search(sentence.low) else "equalize"
    if has("slice"):
        return "slice"
    if has("store") or (_STORE.search(sentence.low) and (sentence.times or cold)):
        return "store"
    if has("trim"):
        return "trim"
    return "other"


_TWO_LEGS = Pattern(r"\b(?:70|21) ?°?[cf]? (?:in|inside|within|by) \d[^.;]{0,20}\b(?:41|40|38|5|4|3) ?°?[cf]? (?:in|inside|within|by) ")  # "70F in 2 hr, 41F in 4 more"


def _falls(sentence: Sentence) -> bool:
    """``from 135 to 41 F``, ``135-70``: a temperature of cooked meat that runs down to one of cooled meat."""
    found = [bit for bit in sentence.amounts if bit.dimension == "temperature" or bit.bare]
    hot, cold = (50, 25) if any(bit.unit == "degC" for bit in found) else (110, 80)
    if any(bit.amount.high >= hot and bit.amount.low <= cold and sentence.text.startswith(f"{bit.amount.high}", bit.start - sentence.place.start) for bit in found):
        return True  # one range, the high end first: "reheat from 38 to 165 F" runs up
    for first, last in pairwise(found):
        between = sentence.bits[sentence.bits.index(first) + 1 : sentence.bits.index(last)]
        runs = last.link in ("to", "-", "–") or (bool(between) and all(isinstance(bit, WordBit) and bit.low in ("down", "to") for bit in between))
        if runs and first.amount.low >= hot and last.amount.high <= cold:
            return True
    return False


def _bare_heat(sentence: Sentence) -> bool:
    """``Hold 140+``, ``325 for 3 hrs``, ``Gas mark 4``: heat told by a bare figure, or an oven by its own scale."""
    if any(bit.unit == "gas_mark" for bit in sentence.amounts) or sentence.says(_OVEN):
        return True
    return bool(sentence.says(r"\bholds?\b[^.;]{0,20}\b1[2-9]\d\b|^\W*[2-4][0-9][05]\b(?:\s?-\s?[2-4]\d[05])?\s*,?\s*(?:for|until|till?|\d+(?:-\d+)? ?h)"))


_OVEN = Pattern(r"\b(?:slow|low|moderate|medium|hot|quick) oven\b|\boven (?:that is )?(?:slow|low|moderate|hot)\b")


def _warm(bit: AmountBit) -> bool:
    if bit.unit == "gas_mark":
        return True
    value = float(bit.amount.high)
    if bit.unit == "degC":
        return value > 50
    return value > 110
