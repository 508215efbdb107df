"""What the method says, as the facts that rules read: times, temperatures, what was done and what was not."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import ceil

from msgspec import Struct, field

from overhaul import facts
from overhaul.reading import lexicon, phrases, units
from overhaul.reading.patterns import Pattern
from overhaul.recipe.bits import AmountBit, LabelBit, MarkBit, RateBit, WordBit
from overhaul.recipe.method import COLD_PLACE, LONG, UNSURE_PLACE, WARM_PLACE, Sentence
from overhaul.recipe.model import Cooling, CureRate, Fact, Mention, Process, Storage
from overhaul.text import Page, Place

_INSIDE_BEFORE = Pattern(r"(?:\b(?:inside|internal|it(?:'s)? (?:is|reads|hits)|reads?|reach(?:es)?|probe|meat (?:is|at|reads|hits)|out at|pull(?:ed)? at|until|till?|to|past|hits|shows?|registers?|internal temp\w*(?: of)?|temp(?:erature)? of|middle|centre|center|thickest|(?-i:IT)(?: is)?(?: of)?|finish(?:ed)?(?: at)?|get to|comes? to|@)\s*(?:the\s+)?(?:(?-i:IT)\s+)?(?:is\s+)?(?:at\s+)?(?:an?\s+)?(?:internal\s+)?(?:temp(?:erature)?\s+)?(?:of\s+)?(?:about\s+|at least\s+|around\s+)?)$", re.I)
_INSIDE_AFTER = Pattern(r"^\s*(?:or (?:more|higher|above|so)\s*)?,?\s*(?:inside|internal\w*|in the (?:middle|cent\w+|thickest|deepest|meat)|at (?:its|the) (?:cent\w+|middle|thickest)|(?-i:IT)\b|int\b|on (?:a|the) probe|core|through)", re.I)
_AIR_BEFORE = Pattern(r"\b(?:air|smoker|smkr|pit|oven|smokehouse|chamber|smoke|roast|bake|cook|preheat\w*|set|running|run|keep|bring the smoker|hold the smoker|temp(?:erature)?)\s*(?:it|them|is|at|to|of|over \w+(?: wood)?|\w+ wood|with \w+ wood|in the smoker|overnight|hot|low)?,?\s*(?:air\s+)?(?:at|to|around|about|set at|@)?\s*(?:about\s+|around\s+)?$", re.I)
_AIR_AFTER = Pattern(r"^\s*(?:oven|smoker|pit|air|smoke(?!d)|heat|grill|smokehouse)\b", re.I)
_PASSING = Pattern(r"^\s*(?:before|within|inside of|in under|by the time)\b", re.I)
_PASSING_BEFORE = Pattern(r"\b(?:pass|beyond|past|above|over|through)\s*$", re.I)


_HOT = facts.fact("cooling.start_f").value
_COLD_WITHIN = Pattern(r"\b(?:fridge|refrigerat\w*|chill\w*|cooler)\b[^.;]{0,20}\b(?:within|inside|in under)\b[^.;]{0,10}\b(?:2|two) (?:hours?|hrs?|h)\b|\bin there within (?:2|two) (?:hours?|hrs?|h)\b|\brest\b[^.;]{0,40}\b(?:min\w*|1 hour|an hour)\b[^.;]{0,40}\b(?:fridge|walk-?in|refrigerat\w*|cooler)\b|\bwithin (?:2|two) (?:hours?|hrs?|h)\b[^.;]{0,30}\b(?:fridge|refrigerat\w*|chill\w*|cooler)\b")
_POURED_WARM = Pattern(r"\b(?:(?:just|barely|hand[- ]?|still a (?:bit|little) )\s?warm\b|warm to the (?:hand|touch)|milk[- ]?warm|lukewarm|luke-warm|blood[- ]warm|while (?:still )?(?:hot|warm)|still (?:hot|warm)|(?:while |throw it |pour it )?scalding (?:hot |over |upon |on )?|boiling (?:hot )?(?:over|upon|on) (?:the |it\b)|hot brine over (?:the )?(?:meat|beef|it)|pour(?:ed)? (?:it )?(?:over )?(?:the meat )?hot)\b")


class Temperature(Struct):
    """One temperature of the method: degF, and of what."""

    low: float
    high: float
    of: str
    bit: AmountBit
    sentence: Sentence
    passing: bool = False


_CHANGES = Pattern(r"\b(?:chang\w+|renew\w*|freshen\w*)\b[^.;]{0,24}\bwater\b|\bwater\b[^.;]{0,12}\bchang\w+|\bchanges? of (?:the |cold |fresh )*water\b")
_EVERY = Pattern(r"\b(?:(?:every|each)(?: (\d+))? ?(hours?|hrs?|h|minutes?|mins?|half hour)\b|hourly\b)")
_TIMES = Pattern(r"\b(once|twice|(?:\d|two|three|four|five|six)(?= (?:times|changes)))\b")
_HOW_OFTEN = {"once": 1, "twice": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_MOST_WATERS = 12  # more change nothing that a sum could show
_AIR_TO_INSIDE = Pattern(r"\d+ ?°? ?[cf]? to \d+ ?°? ?[cf]\b")
_FIRE_BEFORE = Pattern(r"\b(?:smoke|roast|bake|cook)\w*(?: it| the \w+)?(?: at)?\s*$", re.I)
_OF_THE_COLD = Pattern(r"\b(?:refrigerat\w*|fridge|walk-?in|coolers?|w/?i|cold room|cure|cured|stays?|keep|kept|bag)\b[^.;]{0,28}$", re.I)
_FOR_A = Pattern(r"\b(?:keeps?|kept|good|lasts?|within|up to|store[sd]?|holds?)(?: \w+)?(?: for)? an?\b|^\W*an? (?:week|month)\b")
_REHEATS = Pattern(r"\bre-?(?:heat|warm)\w*")
_THAWS = Pattern(r"\b(?:thaw\w*|defrost\w*|slack(?:ed)? out)\b")
_STANDS = Pattern(r"\b(?:leave|left|let|stand|stands|sit|sits|hang|hung|lay|lie|lies|dry|air-dry|temper|come up|put)\b")
_NOT_WARM = Pattern(r"\b(?:not|never|don't|nor|no)\b[^.;]{0,30}\b(?:counter\w*|room|bench|sink|table|kitchen)\b")
_RESINOUS = Pattern(r"(?<!no )(?<!not )(?<!never )\b(?:pine|spruce|fir|larch|cypress|redwood|cedar(?! plank))\b(?! nuts?\b| honey\b| plank)")
_HEAT = ("smoke", "cook", "wrap")
_LOOSE_TIME = Pattern(r"\b(few|several) (weeks|days|hours)\b")
_HURRY = Pattern(r"\s*(?:days?\b|d\b)?\s*\(?(?:if|when|in a|at a|will do)\b[^.;)]{0,18}\b(?:hurr\w*|rush\w*|pinch|push|short|pressed|needed)\b")
_PER = Pattern(r"\s*(?:per|for (?:each|every)|each|every|a|an|to the|/)\s*")
_MORE = Pattern(r"\bplus\s*(?:an? extra |another )?$|\+\s*$")
_LIKE_AIR = frozenset(["smoke", "cook"])


def temperatures(page: Page, sentences: list[Sentence]) -> list[Temperature]:
    """Every temperature of the method, with its scale settled and what it is the temperature of."""
    found: list[Temperature] = []
    for sentence in sentences:
        scales = {bit.unit for bit in sentence.amounts if bit.unit in ("degF", "degC")}
        for _index, bit in enumerate(sentence.bits):
            if not isinstance(bit, AmountBit) or (bit.unit not in _HEATS and not bit.bare):
                continue
            before = page.plain[sentence.place.start : bit.start].replace("\n", " ")[-60:]
            after = page.plain[bit.end : sentence.place.end].replace("\n", " ")[:40]
            value = _degrees(bit, sentence, scales, before, after, found)
            if value is None:
                continue
            low, high = value
            of = _of(sentence, low, high, before, after)
            passing = of == "meat" and bool(_PASSING.match(after) or (_PASSING_BEFORE.search(before) and re.search(r"\b(?:before|within)\b", after)))
            if bit.unit == "degree" and low < 30 and re.search(r"\b(?:above|for (?:each|every)|each|every)\b", after[:14]):
                continue
            if of == "meat" and sentence.phase in ("smoke", "cook") and low < high and _AIR_TO_INSIDE.match(page.low, bit.start) and _FIRE_BEFORE.search(before):
                found.append(Temperature(low, low, "oven" if sentence.phase == "cook" else "smoker", bit, sentence))
                low = high  # "Smoke at 60 °C to 66 °C inside": the air, and where it ends
            elif sentence.phase in _LIKE_AIR and low < high and (bit.unit == "degF" or bit.bare) and _falling(sentence, bit, before):
                of = "meat"
                found.append(Temperature(high, high, "oven" if sentence.phase == "cook" else "smoker", bit, sentence))
                high = low
            found.append(Temperature(low, high, of, bit, sentence, passing))
    return found


_HEATS = frozenset(["degF", "degC", "degree", "gas_mark"])
_FALLING = re.compile(r"(\d{3}) ?°? ?f? ?(?:to|till?|until|-|→) {0,2}(\d{3}) ?°? ?f?\s*(?:[,;.]|$|then\b|and\b|wrap\b|inside|internal|it\b|in the)")
_LOWERED = re.compile(r"\b(?:from|lower\w*|drop\w*|turn\w*|reduce\w*|down|back)\b[^,;.]{0,16}$", re.I)
_WARMER, _DONE_BY = 20, 212  # the air by so many degrees than where the meat ends; no meat is done hotter


def _falling(sentence: Sentence, bit: AmountBit, before: str) -> bool:
    """``225 to 160``: two figures that fall by the fire are the air, and where the meat ends; not an oven that is turned down."""
    match = _FALLING.match(sentence.low, bit.start - sentence.place.start)
    return match is not None and not _LOWERED.search(before) and int(match[2]) + _WARMER <= int(match[1]) and int(match[2]) <= _DONE_BY


_COLD_IN_C = 12
_IN_THE_COLD = frozenset(["make-brine", "cool-brine", "cure", "overhaul", "pump", "equalize", "thaw", "soak", "store"])


def _degrees(bit: AmountBit, sentence: Sentence, scales: set[str], before: str, after: str, earlier: list[Temperature]) -> tuple[float, float] | None:
    low, high = bit.amount.low, bit.amount.high
    if bit.unit in ("degF", "degC", "gas_mark"):
        return units.fahrenheit(low, bit.unit), units.fahrenheit(high, bit.unit)
    if bit.unit == "degree":
        frozen_in_f = high <= _COLD_IN_C and sentence.phase in _IN_THE_COLD  # "2-3 deg" in a cold room is no Fahrenheit
        scale = "degC" if scales == {"degC"} or frozen_in_f else "degF"
        return units.fahrenheit(low, scale), units.fahrenheit(high, scale)
    if bit.bare and low >= 130 and high <= 500 and re.match(r"\s?-?ish\b", after):
        return float(low), float(high)  # "smoke 200-ish"
    if not bit.bare or bit.hyphen:
        return None
    if scales == {"degC"}:
        if _CORE.match(after) or _CORE_BEFORE.search(before):
            return units.fahrenheit(low, "degC"), units.fahrenheit(high, "degC")  # "smoke 120C to 68 core"
        fan = re.search(r"\bfan\s*(?:oven\s*)?$", before, re.I) or re.match(r"\s*fan\b", after, re.I)
        return (units.fahrenheit(low, "degC"), units.fahrenheit(high, "degC")) if fan and low >= 80 else None
    # a bare figure where only degrees make sense: "until 165", "Hold 140+", "<40", "135-70 in 2"
    if low >= 130 and high <= 500 and sentence.phase in ("smoke", "cook", "wrap", "hold", "rest", "cool", "other", "season") and not re.match(r"\s*(?:g\b|ml|lb|pound|people|portion|each|piece|percent|%)", after):
        if sentence.phase in ("smoke", "cook") and (re.match(r"\s*(?:till?|until)\b", after) or (re.search(r"\bup to\s*$", before, re.I) and re.match(r"\s*(?:[,;.]|$|for\b)", after))):
            return float(low), float(high)  # "w/ hickory 200-225 till it hits 150"
        if re.search(r"\b(?:internal|inside|it|temp\w*|meat|cent(?:er|re)|middle|breast|thighs?|smoker|smkr|pit|grill|smokehouse)\s*(?:is|=|hits|reads|reaches|at|of|around|about)?\s*$", before, re.I) and not re.match(r"\s*(?:lb|pound|kg|oz|piece|inch|cm)", after):
            return float(low), float(high)  # "till internal is 145-150", "SMKR 225"
        if re.search(r"(?:\b(?:at|to|til|till|until|hits?|reads|past|wrap|smoke|finish|hold|(?:held|hold) (?:it |them )?(?:above|over)|pull|oven|inside|internal|IT|from|-)|@|=|<|>|^)\s*$", before, re.I) or re.match(r"\s*(?:\+|inside|internal|in the|IT\b|or (?:more|higher))", after):
            return float(low), float(high)
        if sentence.phase in ("smoke", "cook") and re.search(r"(?:,|;|\b(?:then|and|start|first|finish|down|back|drop|raise|up|internal(?: temp\w*)?(?: of)?|braise|roast|bake|smoke))\s*(?:at |to )?$", before, re.I) and re.match(r"\s*(?:[,;.]|$|for\b|until\b|till?\b|to (?:an? )?(?:internal|finish|IT)|then\b|\d+(?:\s?-\s?\d+)?\s?(?:h|hrs?|hours?|min\w*)\b|an? hour|one hour|(?:no |with |in |light |heavy )?smoke\b)", after, re.I):
            return float(low), float(high)  # "350 1 hr then 250", "130 for 1 hr, 150 for 2 hrs"
        if sentence.phase in ("smoke", "cook") and ((re.search(r"[,/]\s*$", before) and re.match(r"\s*(?:[,;./]|$)", after)) or (re.search(r"\(\s*$", before) and re.match(r"\s*\)", after)) or (re.search(r"\bthen\s*$", before) and re.match(r"\s*(?:till?|until)\b", after))):
            return float(low), float(high)  # "Smoke over oak, 225, about 8 hrs", "until it is tender (200 or so)"
    if sentence.phase in _LIKE_AIR and _falling(sentence, bit, before):
        return float(low), float(high)  # "Smoke oak 250 to 160, wrap"
    if sentence.phase == "cool" and ((low < 90 and high >= 110 and re.match(r"\s*(?:in|within|inside)\b|\s*\d+ ?h", after)) or (low >= 30 and high <= 75 and re.match(r"\s*(?:in|within|inside)\s+(?:\d|another|two|four|six)|\s*\d+ ?h", after))):
        return float(low), float(high)  # "135-70 in 2, 41 in 4"
    if sentence.phase == "cool" and low >= 30 and high <= 160 and re.search(r"\b(?:to|below|under|from)\s*$", before, re.I) and not re.match(r"\s*(?:g\b|ml|lb|more|hours?|hrs?|min|days?|portion|piece)", after, re.I):
        return float(low), float(high)
    if sentence.phase in ("cure", "overhaul", "pump") and low >= 32 and high <= 45 and any(other.unit in LONG for other in sentence.times) and re.search(r"(?:\bat|@)\s*$", before, re.I) and re.match(r"\s*(?:[,;.]|$)", after):
        return float(low), float(high)  # "Bag or tub, 10 days at 38."
    if low >= 30 and high <= 60 and re.search(r"\b(?:fridge|cooler|walk-?in|w/?i|reach-?in|ice ?box)\s*(?:is|at|@|runs)?\s*$", before, re.I) and not re.match(r"\s*(?:g\b|ml|lb|hours?|hrs?|h\b|min|days?|d\b|portion|quart|qt)", after, re.I):
        return float(low), float(high)  # "Cooler 38."
    if low >= 32 and high <= 40 and sentence.phase in ("make-brine", "cool-brine") and re.search(r"\b(?:reads?|is|at|be)\s*$", before, re.I) and re.match(r"\s*or (?:below|less|under|colder|lower)\b", after, re.I):
        return float(low), float(high)  # "it must read 38 or below"
    if low >= 30 and high <= 60 and sentence.phase == "make-brine" and re.search(r"(?:<|\b(?:below|under|down to))\s*$", before, re.I) and re.match(r"\s*(?:[,;.)]|$|(?!(?:g|ml|lb|in|l)\b)[a-z]{2})", after, re.I):
        return float(low), float(high)  # "when it's under 40 whisk in the cure"
    if low >= 30 and high <= 60 and re.search(r"(?:<|\b(?:below|under|to|at|till?|until)\s*)$", before, re.I) and sentence.phase in ("cool-brine", "cure", "cool", "store") and not re.match(r"\s*(?:g\b|ml|lb|hours?|min|days?|in\b)", after):
        return float(low), float(high)
    return None


def _of(sentence: Sentence, low: float, high: float, before: str, after: str) -> str:
    phase = sentence.phase
    if phase in ("cool-brine", "make-brine"):
        return "brine"
    if sentence.says(_REHEATS) and not _AIR_AFTER.match(after):
        return "meat"
    if phase in ("cure", "overhaul", "thaw", "pump", "equalize", "dry"):
        # "Refrigerate at 38 C" is said of the cold place, however warm the figure makes it.
        return "fridge" if low < 80 or _OF_THE_COLD.search(before) else "brine"
    if phase == "soak":
        return "water"
    if phase in ("store",):
        return "fridge" if high <= 60 else "meat"
    if phase in ("hold", "cool", "rest"):
        return "meat"
    if _INSIDE_AFTER.match(after):
        return "meat"
    if _AIR_AFTER.match(after):
        return "oven" if phase == "cook" else "smoker"
    if re.search(r"\b(?:until|till?|inside|internal|reads|reach\w*|out at|pull\w* at|probe|thermometer|finish\w*|pass|beyond|(?-i:IT))\b[^.;]{0,45}$", before, re.I) and not re.search(r"\b(?:air|oven|smoker) (?:at|to|reads|is|reaches)\s*$", before, re.I):
        return "meat"
    if _AIR_BEFORE.search(before):
        return "oven" if phase == "cook" else "smoker"
    if phase in ("smoke", "cook"):
        if re.search(r"\b(?:raise|raised|increase|bring|turn(?:ed)?|up|heat|drop|lower|reduce)\b(?: (?:it|the \w+|up|down))* to\s*$", before, re.I) and not re.search(r"\b(?:internal|meat|beef|pork|inside)\b[^.;]{0,20}$", before, re.I):
            return "oven" if phase == "cook" else "smoker"
    if phase == "smoke":
        if re.search(r"\bto\s*$|\bcore(?: of)?\s*$", before) and re.search(r"\d", before):
            return "meat"
        return "smoker"
    if phase == "wrap":
        return "meat"
    if phase == "cook":
        if re.search(r"\b(?:to|until|past)\s*(?:about )?$", before, re.I):
            return "meat"
        return "oven" if high > 212 or (re.search(r"\b(?:at|@)\s*$", before) and not re.search(r"\bsimmer\b", before, re.I)) else "water" if re.search(r"\b(?:simmer|water|poach)\b", before, re.I) and re.search(r"\bat\s*$", before) else "meat"
    return "other"


class Reader(Struct, dict=True):
    """Builds a Process from settled sentences."""

    page: Page
    sentences: list[Sentence]
    temps: list[Temperature] = field(default_factory=list)

    @cached_property
    def temps_by_sentence(self) -> dict[int, list[Temperature]]:
        """By where the sentence starts."""
        found: dict[int, list[Temperature]] = {}
        for told in self.temps:
            found.setdefault(told.sentence.place.start, []).append(told)
        return found

    def line(self, offset: int) -> int:
        return self.page.line_at(offset)

    def in_phase(self, *phases: str) -> list[Sentence]:
        return [sentence for sentence in self.sentences if sentence.phase in phases]

    def mention(self, sentence: Sentence, place: Place | None = None) -> Mention:
        place = place or sentence.place
        return Mention(self.line(place.start), place, self.page.words(place))

    def time(self, bit: AmountBit) -> Fact:
        return Fact(units.plain(bit.amount.low), units.plain(bit.amount.high), bit.unit, self.line(bit.start), bit.amount.place)

    def temperature(self, low: Temperature, high: Temperature | None = None) -> Fact:
        high = high or low
        return Fact(min(low.low, high.low), max(low.high, high.high), "degF", self.line(low.bit.start), low.bit.amount.place)

    # -- the cure

    def cure_time(self) -> Fact | None:
        found: Fact | None = None
        last: Sentence | None = None
        rated = self.cure_rate() is not None
        for sentence in self.sentences:
            if rated and sentence.phase == "equalize":
                continue  # "2 days per lb. Wash. Equalize 20 days.": the rate gives the days
            if sentence.phase not in ("cure", "overhaul", "pump", "equalize") and not (found is None and sentence.says(r"\bat the end of\b")):
                continue
            candidates = [bit for bit in self._times(sentence) if self._is_stay(sentence, bit)]
            if sentence.phase == "pump" and len(candidates) > 1:
                candidates = candidates[-1:]
            for bit in candidates:
                days = bit.unit in LONG
                if found is None or (days and found.unit in ("hour", "minute") and not self._cold_hours(last)):
                    found, last = self.time(bit), sentence
                elif last is not None and sentence is not last and days and sentence.phase in ("cure", "overhaul") and units.hours(bit.amount.low, bit.unit) > 2 * units.size(found.unit) * found.high:
                    found, last = self.time(bit), sentence  # "leave it two days; then … every day for a fortnight": the long stay counts
                elif last is not None and sentence is not last and days and found.unit == bit.unit and sentence.says(r"\b(?:larger|bigger|thicker|small\w*|chunks|pieces|over \d+)\b") and sentence.block - last.block <= 1:
                    found = Fact(min(found.low, float(bit.amount.low)), max(found.high, float(bit.amount.high)), found.unit, found.line, found.place)
            overnight = sentence.find(r"\b(?:overnight|o/n|over night)\b")
            if found is None and overnight and not candidates:
                found, last = Fact(8, 12, "hour", self.line(overnight.start), overnight), sentence
            loose = sentence.says(_LOOSE_TIME)
            if found is None and loose and not candidates and sentence.phase in ("cure", "overhaul"):
                span = facts.fact("few" if loose[1] == "few" else "several")
                found, last = Fact(span.low, span.high, loose[2].rstrip("s"), self.line(sentence.place.start + loose.start()), Place(sentence.place.start + loose.start(), sentence.place.start + loose.end()), stated=False), sentence
            if found is not None and last is not None and sentence.phase == "cure" and not candidates and sentence.says(r"\b(?:chunks|pieces|larger|thicker)\b"):
                found = self._up_to(sentence, found)
            if last is sentence and found is not None:
                found = self._up_to(sentence, found)
        return found if found is not None else self._dated_days()

    def _dated_days(self) -> Fact | None:
        """``Day 1. … into the brine. Day 8. Out, rinse.``: the days between two that are numbered. Unnumbered, the first is day 0 or day 1."""
        label: LabelBit | None = None
        inside = False
        into: int | None = None
        for sentence in self.sentences:
            if sentence.phase == "overhaul":
                continue
            label = next((bit for bit in sentence.bits if isinstance(bit, LabelBit) and _NUMBERED_DAY.fullmatch(bit.text)), label)
            day = int(re.sub(r"\D", "", label.text)) if label is not None else None
            if not inside and sentence.phase in ("cure", "pump"):
                inside, into = True, day
            elif inside and sentence.phase in _OUT_OF_THE_CURE:
                if label is None or day is None or day <= (into or 1):
                    return None
                low, high = (day - into, day - into) if into is not None else (day - 1, day)
                return Fact(low, high, "day", self.line(label.start), Place(label.start, label.end))
        return None

    def _cold_hours(self, sentence: Sentence | None) -> bool:
        return sentence is not None and sentence.says(COLD_PLACE) is not None

    def _up_to(self, sentence: Sentence, found: Fact) -> Fact:
        """``allow up to 16``, ``18 at the most``: a bare figure that ends the range."""
        for _index, bit in enumerate(sentence.bits):
            if not isinstance(bit, AmountBit) or not (bit.bare or bit.unit == found.unit) or (bit.start < found.place.start and sentence.place.start <= found.place.start <= sentence.place.end):
                continue
            before = self.page.plain[sentence.place.start : bit.start].lower()[-16:]
            after = self.page.plain[bit.end : sentence.place.end].lower()[:14]
            if re.search(r"\b(?:up to|at most|maximum)\s*$", before) or re.match(r"\s*(?:at (?:the )?most|max)", after):
                high = float(bit.amount.high)
                if found.high < high < 10 * found.high:
                    return Fact(found.low, high, found.unit, found.line, found.place)
        return found

    def cure_time_hurried(self, usual: Fact | None) -> Fact | None:
        """``7-10 days (4 if in a hurry)``: the escape that somebody will take."""
        if usual is None:
            return None
        for sentence in self.in_phase("cure", "overhaul", "pump"):
            for bit in sentence.amounts:
                after = self.page.low[bit.end : sentence.place.end].replace("\n", " ")
                if (bit.bare or bit.unit in LONG) and _HURRY.match(after) and bit.amount.place != usual.place:
                    return Fact(float(bit.amount.low), float(bit.amount.high), usual.unit if bit.bare else bit.unit, self.line(bit.start), bit.amount.place)
        return None

    def cure_rate(self) -> CureRate | None:
        """``7 days per inch``, ``1 day a pound``, ``1 day per quarter inch, plus 2``."""
        for sentence in self.in_phase("cure", "overhaul"):
            for index, bit in enumerate(sentence.bits[:-1]):
                if not (isinstance(bit, AmountBit) and bit.dimension == "time" and bit.unit in (*LONG, "hour")):
                    continue
                per = next((part for part in sentence.bits[index + 1 : index + 4] if isinstance(part, (RateBit, AmountBit))), None)
                between = self.page.low[bit.end : per.start] if per is not None else ""
                if per is None or units.dimension(per.unit) not in ("mass", "length") or not (isinstance(per, RateBit) or _PER.fullmatch(between) or (per.article and between.isspace())):
                    continue
                amount = float(per.amount or 1) if isinstance(per, RateBit) else float(per.amount.high)
                more = next((part for part in sentence.amounts if part.start > per.end and (part.bare or part.unit == bit.unit) and _MORE.search(self.page.low[per.end : part.start])), None)
                return CureRate(float(bit.amount.low), float(bit.amount.high), bit.unit, amount, per.unit, float(more.amount.high) if more else 0.0, self.line(bit.start), bit.amount.place)
        return None

    def _times(self, sentence: Sentence) -> list[AmountBit]:
        return [bit for bit in sentence.times if bit.unit != "second"]

    def _is_stay(self, sentence: Sentence, bit: AmountBit) -> bool:
        """A time that the meat stays, not how often it is turned or how long to wait for something else."""
        index = sentence.bits.index(bit)
        before = [part.low for part in sentence.bits[max(0, index - 3) : index] if isinstance(part, WordBit)]
        following = sentence.bits[index + 1 : index + 3]
        if before and before[-1] in ("every", "each", "first", "hang"):
            return False
        if len(before) > 1 and before[-2] in ("every", "each", "hang", "hung") and before[-1] in ("other", "about"):
            return False
        if "hang" in before:
            return False
        if bit.article and (before and before[-1] in ("once", "twice", "times", "time")):
            return False
        if any(isinstance(part, RateBit) for part in following[:1]):
            return False
        after = self.page.plain[bit.end : sentence.place.end].lower().replace("\n", " ")[:24]
        if re.match(r"\s*(?:per|a pound|a lb|/|an inch|for (?:each|every)|before|over do|extra|more does)", after):
            return False
        if bit.unit in ("minute",) and sentence.says(r"\b(?:stir|simmer|boil|whisk)\b"):
            return False
        if sentence.phase == "overhaul" and bit.unit in ("day", "hour") and not sentence.says(COLD_PLACE) and bit.amount.high <= 2:
            return False
        return True

    def cure_temperature(self) -> Fact | None:
        own = [t for t in self.temps if t.sentence.phase in ("cure", "overhaul", "equalize", "pump") and t.of == "fridge" and t.low >= 20]
        if not own:
            own = [t for t in self.temps if t.sentence.phase in ("other", "cool-brine") and t.sentence.says(r"\b(?:cur(?:e|ing)|corn(?:ing)?|brining) temp") and t.low < 80]
        if not own:
            return None
        first = own[0]
        return self._at_most(first)

    def _at_most(self, told: Temperature) -> Fact:
        """The temperature, from the coldest a brine is kept at where only the upper end is told."""
        fact = self.temperature(told)
        below = re.search(r"(?:<|\b(?:below|under|no warmer than|not above|colder than|at most|max\w*))\s*$", self.page.plain[told.sentence.place.start : told.bit.start], re.I)
        return Fact(min(34.0, fact.low), fact.high, fact.unit, fact.line, fact.place) if below else fact

    def brine_temperature(self) -> Fact | None:
        for sentence in self.sentences:
            poured = sentence.phase == "other" and sentence.says(r"\b(?:brine|pickle)\b") and sentence.says(r"\bover\b|\bon to\b|\bonto\b")
            if (poured or sentence.phase in ("make-brine", "cool-brine", "cure", "pump")) and not sentence.says(r"\b(?:soak|rinse|ice)\b"):
                match = sentence.says(_POURED_WARM)
                if match and (sentence.phase in ("cure", "pump") or sentence.says(r"\bover\b|\bmeat\b|\bbeef\b")):
                    place = Place(sentence.place.start + match.start(), sentence.place.start + match.end())
                    low, high = (90.0, 105.0) if re.search("milk|luke|blood|just|barely|hand|touch|little|bit", match[0]) else (140.0, 212.0)
                    return Fact(low, high, "degF", self.line(place.start), place)
        own = [t for t in self.temps if (t.of == "brine" and t.low < 120) or t.sentence.phase == "cool-brine"]
        cold = [t for t in own if t.high <= 130]
        if not cold:
            return None
        return self._at_most(cold[-1])

    # -- afterwards

    def soak(self) -> tuple[Fact | None, Mention | None]:
        for sentence in self.in_phase("soak", "rinse", "cool", "other"):
            if sentence.phase != "soak" and not any(hit.phase == "soak" and not hit.negated for hit in sentence.hits):
                continue
            place = next((Place(hit.bit.start, hit.bit.end) for hit in sentence.hits if hit.phase == "soak" and not hit.negated), sentence.place)
            start = place.start
            times = [bit for bit in self._times(sentence) if bit.start > start] or self._times(sentence)
            times = [bit for bit in times if bit.unit in ("hour", "minute", "day", "night")]
            if times:
                bit = times[0]
                low, high = units.hours(bit.amount.low, bit.unit), units.hours(bit.amount.high, bit.unit)
                return Fact(low, high, "hour", self.line(bit.start), bit.amount.place), self.mention(sentence, place)
            overnight = sentence.find(r"\b(?:overnight|o/n)\b")
            if overnight:
                return Fact(8, 12, "hour", self.line(overnight.start), overnight), self.mention(sentence, place)
            return None, self.mention(sentence, place)
        return None, None

    def soak_waters(self, soak: Fact | None) -> int:
        """``changing the water twice`` is three waters; ``every hour`` as many as the hours have; a change without a number is one."""
        if soak is None:
            return 1
        at = next((index for index, sentence in enumerate(self.sentences) if sentence.place.start <= soak.place.start < sentence.place.end), None)
        for sentence in self.sentences[at : at + 2] if at is not None else ():
            if sentence.says(_CHANGES) is None:
                continue
            if (every := sentence.says(_EVERY)) is not None:
                hours = float(every[1] or 1) * (1 / 60 if (every[2] or "h").startswith("m") else 1) * (0.5 if every[0].endswith("half hour") else 1)
                return min(_MOST_WATERS, max(1, ceil(soak.high / hours))) if hours > 0 else 1
            count = sentence.says(_TIMES)
            return min(_MOST_WATERS, 1 + (_HOW_OFTEN.get(count[1]) or int(count[1]))) if count is not None else 2
        return 1

    def left_out(self) -> Fact | None:
        """``Let it stand at room temperature overnight``, before the fire or after the soak."""
        for sentence in self.in_phase("dry", "other", "equalize", "smoke", "trim", "season"):
            warm = sentence.says(WARM_PLACE)
            if warm is None or not sentence.says(_STANDS) or sentence.says(_NOT_WARM):
                continue
            times = [bit for bit in self._times(sentence) if bit.unit in ("hour", "minute", "day", "night")]
            if times:
                bit = max(times, key=lambda one: units.hours(one.amount.high, one.unit))
                return Fact(units.hours(bit.amount.low, bit.unit), units.hours(bit.amount.high, bit.unit), "hour", self.line(bit.start), bit.amount.place)
            if (overnight := sentence.find(r"\b(?:overnight|o/n|all night)\b")) is not None:
                return Fact(8, 12, "hour", self.line(overnight.start), overnight)
        for sentence in self.in_phase("slice", "store", "hold", "other", "cool"):
            times = [bit for bit in self._times(sentence) if bit.unit == "hour"]
            if times and sentence.says(phrases.STANDS_OUT) and not sentence.says(_NOT_WARM):
                return Fact(float(times[0].amount.low), float(times[0].amount.high), "hour", self.line(times[0].start), times[0].amount.place)
        return None

    def rinse(self) -> Mention | None:
        for sentence in self.sentences:
            for hit in sentence.hits:
                if hit.phase == "rinse" and not hit.negated and sentence.phase not in ("make-brine", "trim", "make-spice"):
                    return self.mention(sentence, Place(hit.bit.start, hit.bit.end))
            if sentence.phase in ("cure", "other", "rinse", "season", "cook", "dry") and (place := sentence.find(r"\bdip (?:it|them) in (?:cold|clear|fresh) water\b|\bwash(?:ed)? (?:it |them )?(?:off|well|in cold)\b")):
                return self.mention(sentence, place)
        return None

    def dry(self) -> Fact | None:
        for sentence in self.in_phase("dry", "equalize", "rinse", "soak"):
            if sentence.phase != "dry" and not sentence.says(r"\b(?:rack|uncovered|uncov|air[- ]dry)\b"):
                continue
            times = [bit for bit in self._times(sentence) if bit.unit in ("hour", "day", "night")]
            rack = sentence.says(r"\b(?:dry|rack|uncov\w*|bare|nothing over)\b")
            times = [bit for bit in times if not rack or sentence.phase == "dry" or bit.start - sentence.place.start > rack.start()]
            explicit = [bit for bit in times if bit.unit == "hour"] or times
            if explicit:
                bit = explicit[-1] if any(not b.article for b in explicit) else explicit[0]
                return Fact(units.hours(bit.amount.low, bit.unit), units.hours(bit.amount.high, bit.unit), "hour", self.line(bit.start), bit.amount.place)
            overnight = sentence.find(r"\b(?:overnight|o/n)\b")
            if overnight:
                return Fact(8, 12, "hour", self.line(overnight.start), overnight)
        return None

    def smoke_temperature(self) -> Fact | None:
        own = [t for t in self.temps if t.sentence.phase == "smoke" and t.of in ("smoker", "oven", "air")]
        if not own:
            return None
        return Fact(min(t.low for t in own), max(t.high for t in own), "degF", self.line(own[0].bit.start), own[0].bit.amount.place)

    def heat_time(self, *phases: str) -> Fact | None:
        best: Fact | None = None
        for sentence in self.in_phase(*phases):
            for bit in self._times(sentence):
                index = sentence.bits.index(bit)
                before = self.page.plain[sentence.place.start : bit.start].lower()[-22:]
                after = self.page.plain[bit.end : sentence.place.end].lower().replace("\n", " ")[:22]
                if re.search(r"\b(?:before|hold|held|more|rest|every|within|no less than|stand|another)\s*(?:than\s*|about\s*|it\s*|that\s*|for\s*|it for\s*|that for\s*|there\s*)*$", before) or re.match(r"\s*(?:are (?:up|out)|more|before|is up|a day|per|or (?:it|more))", after) or (bit.article and bit.unit == "day"):
                    continue
                following = sentence.bits[index + 1 : index + 2]
                if following and isinstance(following[0], RateBit):
                    continue
                if bit.unit == "minute" and bit.amount.high < 15 and best is not None:
                    continue
                hours = units.hours(bit.amount.high, bit.unit)
                if best is None or hours > units.hours(_fraction(best.high), best.unit):
                    best = self.time(bit)
            if best is None and (overnight := sentence.find(r"\b(?:overnight|o/n)\b")):
                best = Fact(8, 12, "hour", self.line(overnight.start), overnight)
        return best

    def final_temperature(self) -> Fact | None:
        own = [t for t in self.temps if t.of == "meat" and t.sentence.phase in (*_HEAT, "rest") and not t.passing and t.low > 90]
        own = [t for t in own if not t.sentence.says(r"\bdanger zone\b") and not t.sentence.says(_REHEATS)]
        if not own:
            own = [t for t in self.temps if t.sentence.phase == "other" and t.of in ("other", "meat") and 120 <= t.low <= 212 and t.sentence.says(r"\b(?:middle|inside|internal|it|probe|cent(?:er|re))\b")]
        if not own:
            return None
        final = own[-1]
        if final.sentence.phase == "wrap" and len(own) > 1 and final.high < own[-2].high:
            final = own[-2]
        parts = [t for t in own if t.sentence is final.sentence and _PART_BEFORE.search(self.page.low[t.sentence.place.start : t.bit.start])]
        if len(parts) > 1:
            final = min(parts, key=lambda part: part.low)  # "until breast 160 and thigh 170"
        fact = self.temperature(final)
        return Fact(fact.low, fact.high, fact.unit, fact.line, fact.place, dwell=self._dwell(final))

    def _dwell(self, final: Temperature) -> Fact | None:
        index = self.sentences.index(final.sentence)
        for sentence in self.sentences[index : index + 2]:
            for bit in self._times(sentence):
                if bit.unit not in ("minute", "second", "hour") or (sentence is final.sentence and bit.start < final.bit.start):
                    continue
                before = self.page.plain[sentence.place.start : bit.start].lower()[-40:].replace("\n", " ")
                after = self.page.plain[bit.end : sentence.place.end].lower().replace("\n", " ")[:30]
                if re.search(r"\b(?:hold|held|keep it there|kept there|give it|stay\w* there|there)\b[^.;]*$", before) or re.match(r"\s*(?:more )?at (?:that|this) (?:heat|temp)", after):
                    minutes = (units.hours(bit.amount.low, bit.unit) * 60, units.hours(bit.amount.high, bit.unit) * 60)
                    return Fact(*minutes, "minute", self.line(bit.start), bit.amount.place)
        return None

    def rest(self) -> tuple[Fact | None, Mention | None]:
        for sentence in self.sentences:
            rests = [hit for hit in sentence.hits if hit.phase == "rest" and not hit.negated]
            stands = sentence.phase == "rest"
            if not rests and not stands:
                continue
            if sentence.phase in ("make-brine", "cool-brine", "cure", "dry", "make-spice"):
                continue
            place = Place(rests[0].bit.start, rests[0].bit.end) if rests else sentence.place
            after = [bit for bit in self._times(sentence) if not rests or bit.start > rests[0].bit.start] or (self._times(sentence) if stands else [])
            for bit in after:
                if bit.unit in ("minute", "hour"):
                    low, high = units.hours(bit.amount.low, bit.unit) * 60, units.hours(bit.amount.high, bit.unit) * 60
                    return Fact(low, high, "minute", self.line(bit.start), bit.amount.place), self.mention(sentence, place)
            bare = [bit for bit in sentence.amounts if bit.bare and rests and bit.start > rests[0].bit.start]
            minutes = [bit for bit in self._times(sentence) if bit.unit == "minute"]
            if bare and minutes:
                return Fact(float(bare[0].amount.low), float(bare[0].amount.high), "minute", self.line(bare[0].start), bare[0].amount.place), self.mention(sentence, place)
            return None, self.mention(sentence, place)
        return None, None

    def hold(self) -> Fact | None:
        own = [t for t in self.temps if t.sentence.phase == "hold"]
        if not own:
            own = [t for t in self.temps if t.sentence.phase in ("slice", "rest") and t.sentence.says(r"\b(?:hot box|hold)\b") and t.low < 200]
        return self.temperature(own[0]) if own else None

    def cooling(self) -> tuple[Cooling, ...]:
        legs: list[Cooling] = []
        for sentence in self.in_phase("cool", "rest", "other", "store"):
            own = [t for t in self.temps_by_sentence.get(sentence.place.start, ()) if 30 <= t.low <= 212]
            points = sorted({round(value, 1) for t in own for value in ((t.low, t.high) if t.bit.amount.low != t.bit.amount.high else (t.low,))}, reverse=True)
            if not points or points[-1] > 90:
                continue
            times = [bit for bit in sentence.bits if isinstance(bit, AmountBit) and ((bit.dimension == "time" and bit.unit in ("hour", "minute")) or (bit.bare and bit.amount.high <= 12 and self._bare_hours(sentence, bit)))]
            if sentence.phase == "cool" and points[0] <= 90 and len(times) == len(points):
                points.insert(0, _HOT)  # "2 hours to 70, then 4 more to 41" counts from where cooling is counted
            elif legs and points[0] < legs[-1].end and len(times) == len(points) and sentence.says(_GOES_ON):
                points.insert(0, legs[-1].end)  # a line of its own: "Then to 41 F in 5 hours"
            if points[0] < 100 and not (legs and points[0] == legs[-1].end):
                continue
            own_legs: list[Cooling] = []
            for (start, end), bit in zip(pairwise(points), times, strict=False):
                unit = bit.unit if bit.dimension == "time" else "hour"
                low, high = units.hours(bit.amount.low, unit), units.hours(bit.amount.high, unit)
                before = sum(leg.high for leg in own_legs)
                if own_legs and before < high and _IN_ALL.match(self.page.low, bit.end):  # "to 41 in 6 h total"
                    low, high = max(0.0, low - before), high - sum(leg.low for leg in own_legs)
                own_legs.append(Cooling(start, end, low, high, self.line(bit.start), bit.amount.place))
            legs += own_legs
        return _slowest(legs)

    def _bare_hours(self, sentence: Sentence, bit: AmountBit) -> bool:
        before = self.page.plain[sentence.place.start : bit.start].lower()[-10:]
        after = self.page.plain[bit.end : sentence.place.end].lower()[:10]
        return bit.amount.vague == "more" or bool(re.search(r"\b(?:in|inside|within|another|and)\s*$", before) or re.match(r"\s*(?:more|h\b)", after))

    def storage(self) -> Storage | None:
        for sentence in self.in_phase("store", "hold", "cool", "slice"):
            if sentence.phase != "store" and not sentence.says(r"\bkeeps?\b|\bgood (?:for )?\d|\beat within\b"):
                continue
            told = [bit for bit in self._times(sentence) if bit.unit in (*LONG, "year") and not (bit.article and not sentence.says(_FOR_A))]
            # "2 months frozen, 1 week in the fridge": the time in the cold, where there are both
            thawed = [bit for bit in told if not _FROZEN_SO.match(self.page.low, bit.end, sentence.place.end) and not _FROZEN_FOR.search(self.page.low[sentence.place.start : bit.start])]
            for bit in thawed or told:
                before = self.page.plain[sentence.place.start : bit.start].lower()[-30:]
                if re.search(r"\bafter\s*$", before):
                    continue
                days = units.hours(bit.amount.low, bit.unit) / 24, units.hours(bit.amount.high, bit.unit) / 24
                temps = [t for t in self.temps_by_sentence.get(sentence.place.start, ()) if t.low < 60]
                froze = re.search(r"\bfr(?:eez|oz)", sentence.text[: bit.start - sentence.place.start + 40], re.I)
                cold = bool(sentence.says(COLD_PLACE)) or bool(temps)
                kept = "frozen" if froze and not cold else "cold" if cold or not sentence.says(r"\b(?:shelf|room|pantry|cellar)\b") else "shelf"
                return Storage(*days, self.line(bit.start), bit.amount.place, self.temperature(temps[0]) if temps else None, kept)  # type: ignore[arg-type]
        return None


def _fraction(value: float) -> Fraction:
    return Fraction(value).limit_denominator(1000)


WEIGHT = Pattern(
    r"\b(?:weigh(?:t|ted|ed)?(?: it| them)? down|weight(?:ed)? (?:on|on top|with|it|w/)|(?:a|w/|with|kg|lb|pound|kilo) weight|drop[- ]?lids?\b|weighted|stone on|and a stone\b|a (?:heavy |flat |clean )?(?:stone|board)\b[^.;]{0,20}\b(?:on|top|over)\b|lay (?:on )?a (?:board|stone)|(?:can|jug|jar|bowl|lid)\b[^.;]{0,24}\bon (?:top|it|them)|plates?|saucers?|submerge\w*|under the (?:brine|pickle|surface|liquid)|below the (?:surface|brine)|h[eo]ld (?:it |them |the \w+ )?under|"
    r"holds? the \w+ under|keep\w* (?:it |them |the \w+ )?(?:under|below|down|submerged)|stays? under|press (?:a|the)|no \w+ floats|nothing (?:can )?floats?|(?:can't|cannot|won't|doesn't|don't) float|(?:from|stops? (?:it|them)) floating|rock|brick|air (?:out|pushed out|pressed out)|(?:push|press|squeez)\w* (?:out )?(?:all )?(?:of )?(?:the )?air|vacuum bag|zip bag|zipper bag|freezer bag|brining bag|bagged (?:up )?(?:with|in) (?:the |its |their )?(?:brine|pickle|liquid)|sunk|sink the|go(?:es)? under\b(?= with\b)|(?:pans?|trays?)\b[^.;]{0,12}\bon top)\b",
)
TURN = Pattern(r"\b(?:turn(?:ing|ed|s)?|flip(?:ping|ped)?|overhaul\w*|o'haul\w*|over (?:daily|(?:every|each) (?:(?:other|second) )?(?:day|morning|night|evening))|stir(?:ring)? (?:the (?:bottom|brine)|daily|every)|(?:mov(?:e|ing)|shuffl(?:e|ing)|shift(?:ing)?|rearrang(?:e|ing)|swap(?:ping)?) (?:it|them|the \w+|everything|pieces)(?: all)? (?:about|around|round|every|each|daily)|swap(?:ping)? (?:the )?tops? and bottoms?|rotat\w+|repack\w*|re-?stack\w*|change the upper)\b")
TURN_NOT = Pattern(r"\b(?:turn(?:s|ed|ing)? (?:out|off|on(?! (?:the )?(?:days?|\w+ day)\b)|up|brown|grey|gray|pink|in it|clear|slimy)|return)\b")
VESSEL = Pattern(r"\b(?:tub|pot|bucket|crock|pail|container|bag|barrel|tote|bin|pan|dish|kettle|stockpot|vat|jar|cooler)\b")
MATERIAL = Pattern(r"\b(?:galvani[sz]ed|zinc|alumin(?:i)?um|copper|cast[- ]iron|iron kettle|stainless|food[- ]?(?:grade|gr\.?)?\s*plastic|food plastic|food-gr|plastic|glass|crock|stoneware|earthenware|enamel\w*|wood(?:en)?|barrel)\b")


_GOES_ON = Pattern(r"^\W*(?:\d+\W+)?(?:and )?(?:then|from there|after that|next)\b")


def _slowest(legs: list[Cooling]) -> tuple[Cooling, ...]:
    """Of several cool-downs, each of which begins hot again, the one that takes longest."""
    runs: list[list[Cooling]] = []
    cold = facts.fact("cure_max_f").value
    for leg in legs:
        if not runs or (runs[-1][-1].end <= cold < leg.start):
            runs.append([leg])
        else:
            runs[-1].append(leg)
    return tuple(max(runs, key=lambda run: sum(leg.high for leg in run), default=[]))


_FROZEN_FOR = re.compile(r"\b(?:froz\w*|freez\w*)[ :-]*(?:for |up to )?$")
_FROZEN_SO = re.compile(r"\s*(?:\w+ ){0,2}(?:frozen|in the freezer|freezer)\b")
_IN_ALL = re.compile(r"[\s,(]*(?:tot(?:al)?|in all|in total|altogether|overall|all told|all in|from the start)\b")
_CORE = Pattern(r"\s*(?:core|internal|inside|in the (?:middle|cent(?:er|re)))\b", re.I)
_PART_BEFORE = Pattern(r"\b(?:breasts?|thighs?|legs?)\s*(?:is|are|=|hits?|reads?|reach(?:es)?|at|to)?\s*$")
_CORE_BEFORE = Pattern(r"\b(?:core|internal|inside)(?: temp\w*\.?)?(?: of| to| at| is| =)?\s*$", re.I)
_NUMBERED_DAY = Pattern(r"d(?:ay)?\.?\s*\d{1,2}", re.I)
_OUT_OF_THE_CURE = frozenset(["rinse", "soak", "dry", "smoke", "cook"])
# What is kept for another piece, not for a second rub of this one.
_KEPT_BACK = Pattern(
    r"\b(?:other half|rest|remainder|remaining|leftover|left over|what is left|extra|surplus)\b[^.;]{0,30}\b(?:next (?:one|time|batch|belly|piece|ham)|another (?:time|batch|belly|piece|ham)|later use|keeps? (?:in|for)|(?:in|to) a jar)\b"
    r"|\b(?:save|keep|store|reserve)\b[^.;]{0,25}\b(?:rest|remainder|other half|extra|leftover|surplus)\b[^.;]{0,20}\b(?:for (?:the )?(?:next|another)|for later|in a jar|for other)\b"
)


def read_process(page: Page, sentences: list[Sentence]) -> tuple[Process, list[Temperature]]:
    """The process of settled ``sentences`` (meats and cure are added by the builder), and their temperatures."""
    temps = temperatures(page, sentences)
    reader = Reader(page, sentences, temps)
    cures = reader.in_phase("cure", "overhaul", "pump")
    cure_time = reader.cure_time()
    soak, soak_mention = reader.soak()
    rest, rest_mention = reader.rest()
    weighed = _first(reader, cures, WEIGHT) or _first(reader, _round_the_cure(sentences, cures), WEIGHT)
    turning = _turning(reader, cures, sentences)
    cold = next((s.find(COLD_PLACE) for s in cures if s.find(COLD_PLACE)), None)
    warm = next((s.find(WARM_PLACE) for s in cures if s.find(WARM_PLACE) and not s.says(r"\b(?:not|never|don't)\b.{0,20}\b(?:counter|room)\b")), None)
    if warm is None and cold is None:
        warm = next((s.find(UNSURE_PLACE) for s in cures if s.find(UNSURE_PLACE) and (s.times or s.says(r"\bin (?:a|the)\b|\bsomewhere\b"))), None)
    heated = next((hit for s in reader.in_phase("make-brine", "cool-brine", "make-spice", "other") if not s.says(r"\b(?:no heat|without heat|cold-made)\b") for hit in s.hits if hit.phase == "heat" and hit.verb != "dissolve" and not hit.negated and s.phase in ("make-brine", "cool-brine")), None)
    cooled = next((s for s in reader.in_phase("cool-brine", "make-brine", "cure") if _cools(s)), None)
    smokes, cooks = reader.in_phase("smoke"), reader.in_phase("cook", "wrap")
    cools = reader.in_phase("cool")
    tub, material = _tub(reader, sentences)
    process = Process(
        pump=_pump(reader),
        cure_time=cure_time,
        cure_rate=reader.cure_rate(),
        cure_time_hurried=reader.cure_time_hurried(cure_time),
        cure_temperature=reader.cure_temperature(),
        cure_cold=Mention(page.line_at(cold.start), cold, page.words(cold)) if cold else None,
        cure_warm=Mention(page.line_at(warm.start), warm, page.words(warm)) if warm else None,
        brine_temperature=reader.brine_temperature(),
        brine_heated=Mention(page.line_at(heated.bit.start), Place(heated.bit.start, heated.bit.end), heated.bit.text) if heated else None,
        brine_cooled=reader.mention(cooled) if cooled else None,
        tub=tub,
        tub_material=material,
        weighed_down=weighed,
        kept_back=_first(reader, [s for s in sentences if s.phase in ("make-brine", "cool-brine", "make-spice", "cure", "other")], _KEPT_BACK),
        turning=turning,
        turning_days=_turning_days(cures) if turning is not None else (),
        thaw=next((reader.mention(s) for s in reader.in_phase("thaw") if s.says(_THAWS) or s.times), None),
        rinse=reader.rinse(),
        soak=soak,
        soak_mention=soak_mention,
        soak_warm=_first(reader, reader.in_phase("soak"), WARM_PLACE),
        soak_waters=reader.soak_waters(soak),
        thaw_warm=_first(reader, [s for s in sentences if s.says(_THAWS) and not s.says(_NOT_WARM)], WARM_PLACE) if _THAWS.may_match(page.told) else None,
        left_out=reader.left_out(),
        wood=_first(reader, [s for s in sentences if s.phase in ("smoke", "other") and s.says(r"\bsmok\w+|\bover\b|\bwood\b|\bchips\b")], _RESINOUS),
        dry=reader.dry(),
        smoke=reader.mention(smokes[0]) if smokes else None,
        smoke_temperature=reader.smoke_temperature(),
        smoke_time=reader.heat_time("smoke"),
        cook=reader.mention(cooks[0]) if cooks else None,
        final_temperature=reader.final_temperature(),
        cook_time=reader.heat_time("cook"),
        hold=reader.hold(),
        rest=rest,
        rest_mention=rest_mention,
        cool=reader.mention(cools[0]) if cools else next((reader.mention(s) for s in reader.in_phase("store", "slice", "rest", "other") if s.says(_COLD_WITHIN) or s.says(phrases.DOWN_TO_ROOM)), None),
        cooling=reader.cooling(),
        storage=reader.storage(),
    )
    return process, temps


def _cools(sentence: Sentence) -> bool:
    if sentence.phase == "cool-brine":
        return True
    return any(hit.phase == "cool" and not hit.negated for hit in sentence.hits) or bool(sentence.says(r"\b(?:cold brine|when (?:it is |quite |perfectly )?cold|let it cool|until cold|cooled|(?:get|go|grow|stand till|gone) (?:quite |stone |perfectly |completely |thoroughly )?cold)\b"))


def _round_the_cure(sentences: list[Sentence], cures: list[Sentence]) -> list[Sentence]:
    """What does nothing by itself between the brine and the end of the cure: ``Drown them in it. Saucer on top. A week in the fridge.``"""
    quiet = ("other", "make-brine", "cool-brine")
    if not cures:
        return [sentence for sentence in sentences if sentence.phase in quiet]
    made = [index for index, sentence in enumerate(sentences[: sentences.index(cures[-1])]) if sentence.phase in ("make-brine", "cool-brine")]
    first = min(made[-1], sentences.index(cures[0])) if made else sentences.index(cures[0])
    return [sentence for sentence in sentences[first : sentences.index(cures[-1])] if sentence.phase in quiet]


def _first(reader: Reader, sentences: list[Sentence], pattern: Pattern) -> Mention | None:
    for sentence in sentences:
        place = sentence.find(pattern)
        if place is not None:
            return reader.mention(sentence, place)
    return None


def _turning(reader: Reader, cures: list[Sentence], sentences: list[Sentence]) -> Mention | None:
    for sentence in cures:
        for match in TURN.finditer(sentence.low):
            if not TURN_NOT.match(sentence.low, match.start()):
                place = Place(sentence.place.start + match.start(), sentence.place.start + match.end())
                return reader.mention(sentence, place)
    return None


def _turning_days(cures: list[Sentence]) -> tuple[int, ...]:
    """``O'haul d3, d6``, ``turn on the 3rd, 7th and 14th day``."""
    for sentence in cures:
        if not sentence.says(TURN):
            continue
        days = [int(figure) for bit in sentence.bits if isinstance(bit, LabelBit) and (bit.form == "ordinal" or (bit.form == "page" and bit.text[:1].lower() == "d")) for figure in re.findall(r"\d+", bit.text)]
        if days:
            return tuple(days)
    return ()


def _pump(reader: Reader) -> Fact | None:
    for sentence in reader.in_phase("pump"):
        for bit in sentence.amounts:
            if bit.unit == "percent":
                whole = 100 if bit.amount.low > 100 else 0  # "to 110 % of green weight" is a tenth pumped in
                return Fact(float(bit.amount.low) - whole, float(bit.amount.high) - whole, "percent", reader.line(bit.start), bit.amount.place)
    return None


_INTO = frozenset(["in", "into"])


def _container(sentence: Sentence, index: int) -> re.Match[str] | None:
    """``submerge in 22 qt …``: whatever the word, what is gone into is a vessel, if it is no food."""
    before = [bit.low for bit in sentence.bits[max(0, index - 2) : index] if isinstance(bit, WordBit)]
    after = sentence.bits[index + 1] if index + 1 < len(sentence.bits) else None
    if _INTO.isdisjoint(before) or not isinstance(after, WordBit) or after.low == "of" or lexicon.known((lexicon.singular(after.low),)) is not None:
        return None
    return re.match(r"\s*\w+", after.text)


def _tub(reader: Reader, sentences: list[Sentence]) -> tuple[Fact | None, str | None]:
    tub: Fact | None = None
    material: str | None = None
    for sentence in sentences:
        if sentence.phase in ("cook", "smoke", "store", "hold", "cool", "slice", "rest", "season"):
            continue
        if material is None and (sentence.says(VESSEL) or sentence.phase == "cure") and (match := sentence.says(MATERIAL)):
            material = match[0].lower()
        for index, bit in enumerate(sentence.bits):
            if not isinstance(bit, AmountBit) or bit.dimension != "volume" or tub is not None or bit.unit in units.WORD_MEASURES:
                continue
            after = reader.page.low[bit.end : bit.end + 32].replace("\n", " ")
            vessel = VESSEL.search(after) or _container(sentence, index)
            if vessel and not re.search(r"[.,;:(]|\b(?:of|in|into|with|on|water|brine|over)\b", after[: vessel.start()].replace("food-gr.", "")):
                litre = units.size(bit.unit)
                tub = Fact(float(bit.amount.low) * litre, float(bit.amount.high) * litre, "litre", reader.line(bit.start), bit.amount.place)
            elif index and isinstance(sentence.bits[index - 1], (MarkBit, WordBit, LabelBit)):
                continue
    return tub, material
