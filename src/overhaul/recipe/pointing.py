"""A recipe as a binder's index has it: the numbers it bears, what stands in it, where it sends the cook outside itself."""

from __future__ import annotations

import re
from collections.abc import Iterator

from overhaul.listing import Listed, Number, Pointer
from overhaul.reading import phrases
from overhaul.recipe.model import CURING_SALTS, LineKind, Recipe, Reference
from overhaul.text import Place

_NUMBERED = re.compile(r"\b(?:p\.|pg\.?|page|(card))\s*(?:no\.?\s*|#\s*)?(\d{1,4})\b(?!\s*(?:/|of|-of-)\s*\d)(?![\d.]*\d)")
_ONLY_NUMBER = re.compile(r"[\W_]*(?:p\.|pg\.?|page|card)\s*(?:no\.?\s*|#\s*)?\d{1,4}[\W_]*")
_SENT_OR_OLD = re.compile(r"(?:\b(?:see(?: also)?|from|cf\.?|was|formerly|old|of|to|than|with|like|for)|->|→)\W*$")
# A number of something that is no page of this binder, before it and behind it.
_OTHER_KIND = re.compile(r"\b(?:web|home|title|front|facing|back|next|index|credit|time|note|score|business|gift|rate|debit|post|id|punch|sim|report|batch|key)[- ]*$")
_MOVED = re.compile(r"\b(?:copied|copy|was|were|formerly|old|replac\w+|supersed\w+|retyped|moved|cont(?:inued|'?d)?|carried over|turn(?: over)?(?: to)?)\b\.?[^.;]*$|->\s*$")
_BEHIND_ELSEWHERE = re.compile(r"\s*[,)]?\s*(?:of|in|from)\s+(?!(?:this|the|our)\s+(?:binder|file|box|folder|recipes?|cards?)\b)")
_ELSEWHERE = re.compile(
    r"\b(?:food codes?|codes?|manuals?|(?:cook|hand|text|note|log|guide|work)[- ]?books?|books?|bks?\.|guides?|guidelines?|regulations?|regs?|rules|cfr|fsis|fda|usda|efsa|leaflets?|booklets?|pamphlets?|brochures?|magazines?|journals?"
    r"|bulletins?|instructions?|catalogu?e?s?|labels?|menus?|invoices?|haccp|websites?|articles?|adapted|sources?|courtesy|credit|inspired|based on|isbn|ed\.|edition|vol(?:ume|\.))(?:\b|(?<=\.))"
)
_CUE = re.compile(r"\b(?:see|use|same|as for|as on|as in|per|with|add|make|follow|go(?:es)? (?:to|with)|recipe|batch|brines?|rub|cure|spice\w*|mix|blend|sauce|glaze|pickle|method|steps?|from|on)\b|[(:]\s*$")
_STEP_BEFORE = re.compile(r"\bsteps?\s+(?:\d{1,2}\s*(?:-|to|and|&|thr(?:ough|u))\s*)?(\d{1,2})\s*(?:on|of|from|in|at|,|\()?\s*(?:the\s+)?$")
_ENDS = re.compile(r"(?<!\b\w)(?<!\bpg)(?<!\bcont)(?<!\bno)[.;!?](?:\s|$)|\n|\r")
_SIGNED = re.compile(r"[ \t>*_#-]*signed[ -]off\b")
# A recipe named without a number: “1 recipe pickling spice”, “as for the pastrami”, “our corned beef brine”.
_NAMED = re.compile(
    r"\b(?:(?:recipe|batch)(?:e?s)?(?:\s+of)?|(?:same|brine|cure|rub|cook|smoke|season|spice|finish|done?)\s+as(?:\s+(?:for|in|with))?|as\s+(?:for|in|with)|like|see|follow|our|house)\s+(?:the\s+|our\s+|my\s+|house\s+)*(?!p\.|pg\b|page\b|cards?\b|steps?\b)([a-z][a-z0-9.#'& -]{2,60})"
    r"|\b(?:use|make|mix|with|add)\s+(?:the\s+|our\s+|my\s+|a\s+)+([a-z][a-z0-9.#'& -]{2,60}?)\s+recipe\b"
)
_NAMES = ("recipe", "batch", " as ", " like ", " see ", "(see ", " follow ", " our ", " house ")  # each form of _NAMED has one
_SAME_AS = re.compile(r"\b(?:same as|as for)\b(?!\s+(?:the\s+)?(?:above|below|before|last|first|second|third|next|other|others|previous|usual|always|ever|that|this|it|them|any|all|every\w*)\b)")
_MOST = 200  # pointers of one recipe
_MOST_STEPS = 9_999
_MOST_WORDS = 120  # characters
_MOST_NAMES = 20
_HEAD, _FOOT = 3, 2  # lines, blank ones not counted, that may be a page number alone


def listed(recipe: Recipe) -> Listed:
    """What the index has of ``recipe``; places are its page's."""
    start, text = recipe.own_words
    steps = [(start + found.start(), int(found[1])) for found in phrases.NUMBERED_STEP.finditer(recipe.page.plain[start : start + len(text)])]
    return Listed(_name(recipe), tuple(dict.fromkeys(_numbers(recipe))), max((number for _, number in steps), default=0), _has(recipe, steps), tuple(_pointers(recipe)))


def _name(recipe: Recipe) -> str:
    """The title; of a page whose head is its number, what stands below it."""
    if _ONLY_NUMBER.fullmatch(recipe.title.lower()) is None:
        return recipe.title[:_MOST_WORDS]
    below = (line.text.strip() for line in recipe.lines[:_HEAD] if line.kind != "ingredient")
    return next((text for text in below if text and _ONLY_NUMBER.fullmatch(text.lower()) is None and len(text) <= _MOST_WORDS), recipe.title[:_MOST_WORDS])


def _numbers(recipe: Recipe) -> Iterator[Number]:
    lines = [line for line in recipe.lines if line.text.strip()]
    for line in lines:
        if line.kind != "title":
            continue
        low = line.text.lower()
        for found in _NUMBERED.finditer(low):
            before = low[: found.start()]
            if not _SENT_OR_OLD.search(before) and not _OTHER_KIND.search(before):
                yield Number(int(found[2]), found[1] is not None, True)
    ends = lines if len(lines) <= _HEAD + _FOOT else lines[:_HEAD] + lines[-_FOOT:]
    for line in ends:
        low = line.text.lower()
        if line.kind != "title" and _ONLY_NUMBER.fullmatch(low) and (alone := _NUMBERED.search(low)) is not None:
            yield Number(int(alone[2]), alone[1] is not None, False)


def _has(recipe: Recipe, steps: list[tuple[int, int]]) -> dict[str, int]:
    process, has = recipe.process, {}
    wet = next((item for item in recipe.of_role("water", "ice", "liquid") if item.amount is not None), None)
    cured = next((item for item in recipe.of_role(*CURING_SALTS, use=None) if item.amount is not None), None)
    days = process.cure_time if process.cure_time is not None and process.cure_time.stated else process.cure_rate
    told = {
        "water": wet, "curing salt": cured, "days": days, "cold": process.cure_temperature or process.cure_cold, "weight": process.weighed_down,
        "rinse": process.rinse or process.soak or process.soak_mention, "dry": process.dry, "smoke": process.smoke_temperature, "end": process.final_temperature,
        "rest": process.rest or process.rest_mention, "cooling": next(iter(process.cooling), None) or process.cool,
    }  # fmt: skip
    for what, fact in told.items():
        if fact is not None:
            place = fact.amount.place if what in ("water", "curing salt") and fact.amount is not None else fact.place  # type: ignore[union-attr]
            has[what] = next((number for at, number in reversed(steps) if at <= place.start), 0)
    return has


def _pointers(recipe: Recipe) -> Iterator[Pointer]:
    _, text = recipe.own_words
    if not recipe.references and not any(word in text for word in _NAMES):
        return
    kinds = {line.line: line.kind for line in recipe.lines}
    found = [pointer for one in recipe.references if (pointer := _numbered(recipe, one, kinds.get(one.line, "note"))) is not None]
    yield from found[:_MOST]
    yield from (one for one in _bare(recipe, kinds) if not any(other.line == one.line and one.words in other.words for other in found))


def _numbered(recipe: Recipe, sent: Reference, kind: LineKind) -> Pointer | None:
    """The reference with its number, or with its step and a name; None for one that is not to this binder."""
    low, line = recipe.page.low, recipe.page.lines[sent.line - 1].place
    if _SIGNED.match(low, line.start, line.end) or _ONLY_NUMBER.fullmatch(low[line.start : line.end]):
        return None
    number = next((found for found in _NUMBERED.finditer(low, sent.place.start, line.end) if found.end() <= sent.place.end + 1), None)
    at = number.start() if number is not None else sent.place.start
    if sent.page is not None and number is None:
        return None  # page 2 of 3, and the like
    begin = max((end.end() for end in _ENDS.finditer(low, line.start, at)), default=line.start)
    if number is None:
        begin = min(begin, sent.place.start)
    end = next((end.start() for end in _ENDS.finditer(low, sent.place.end, line.end)), line.end)
    before, clause = low[begin:at], low[begin:end]
    if _ELSEWHERE.search(clause) or _MOVED.search(before) or _BEHIND_ELSEWHERE.match(low, sent.place.end, end):
        return None
    step = sent.step if sent.step is not None and sent.step <= _MOST_STEPS else None
    if number is None:
        if step is None or sent.to is None or _SAME_AS.match(sent.text.lower()) is None:
            return None
        return Pointer(sent.place, sent.line, sent.to[:_MOST_WORDS], step=step)
    if _OTHER_KIND.search(before) or (kind == "note" and not _CUE.search(before)):
        return None
    if step is None and (told := _STEP_BEFORE.search(before)) is not None:
        step = int(told[1])
    words = f"{before} {low[number.end() : end]}".strip()[:_MOST_WORDS]
    return Pointer(Place(number.start(), number.end()), sent.line, words, int(number[2]), number[1] is not None, step)


def _bare(recipe: Recipe, kinds: dict[int, LineKind]) -> Iterator[Pointer]:
    """Names that a recipe of the binder may have. What this recipe calls a list of its own is that list."""
    own = {section.name.lower() for section in recipe.sections if section.name}
    page, count = recipe.page, 0
    for line in _lines_with(recipe, _NAMES):
        place = page.lines[line - 1].place
        if kinds.get(line) in ("title", "blank") or _SIGNED.match(page.low, place.start):
            continue
        for found in _NAMED.finditer(page.low, place.start, place.end):
            group = 1 if found[1] else 2
            name = found[group].split(". ", 1)[0].strip(" .-&'")
            if name in own:
                continue
            yield Pointer(Place(found.start(group), found.start(group) + len(name)), line, name, bare=True)
            count += 1
            if count == _MOST_NAMES:
                return


def _lines_with(recipe: Recipe, words: tuple[str, ...]) -> list[int]:
    """The numbers of the lines in which one of ``words`` stands; a blank at its ends may be the end of a line."""
    start, text = recipe.own_words
    found = set()
    for word in words:
        at = text.find(word)
        while at >= 0:
            found.add(recipe.page.line_at(start + at + len(word) - len(word.lstrip())))
            at = text.find(word, at + 1)
    return sorted(found)
