"""What cooks say in so many words, as patterns: for what a lexicon of single words does not hold. The rules ask for them by name."""

from __future__ import annotations

import re

from overhaul.reading.patterns import Pattern

OF_IT = Pattern(r"\s*(?:out )?of (?:the|your|that|this)\b", re.I)
SOME_OF_IT = Pattern(r"\b(?:half|rest|remain(?:s|ing|der)?|others?|left(?:over)?|reserved?|sav(?:e|ed|ing)|divided?|split|each|per|first|second|part)\b", re.I)
NUMBERED_STEP = Pattern(r"^[ \t>*_-]*(\d{1,2})[.)]\s", re.M)
SENT_TO_STEP = Pattern(r"\bsteps?\s+(?:no\.?\s*)?(\d{1,2})\b")
SENT_ELSEWHERE = Pattern(r"\bsame as\b|\bas for\b|\brecipe\b|\bcard\b|\bp(?:age|g)?\.?\s?\d|\s*(?:of (?:the )?\w|\(?p(?:age|g)?\.?\s?\d|on (?:card|page|p\.))")
FLOATS_AN_EGG = Pattern(r"\b(?:(?:to )?(?:float|bear|swim)s? (?:up )?(?:an?|the)(?: fresh)? egg|egg (?:will )?(?:floats?|swims?))\b")
KEPT_WARM = Pattern(r"\b(?:at room temp\w*|on the (?:shelf|counter)|out of the (?:fridge|refrigerator))\b", re.I)
KEPT_COOL = Pattern(r"\b(?:somewhere cool|(?:in )?a cool,? (?:dry )?place|(?:in )?the (?:cellar|pantry|larder|basement|garage))\b", re.I)
MOIST_HEAT = Pattern(r"\b(?:steam|brais|wrap|foil|simmer|boil|poach|paper|covered|lid|water bath|fry|sear|grill|broil)", re.I)
COLD_SMOKE = Pattern(r"\bcold[- ]smok", re.I)
LIQUID_SMOKE = Pattern(r"\bliquid smoke\b|\bsmoke (?:flavou?r|essence)\b", re.I)
SMOKES = Pattern(r"\bsmok(?:e[ds]?|ing|er)\b", re.I)
TENDER_OR_THIN = Pattern(r"\btender\b|\bshav(?:e|ed|ing)\b|\b(?:paper|wafer|deli)[- ]thin\b|\bcold[- ]cuts?\b|\bslicer\b|\bslices? (?:it )?(?:very |as )?thin", re.I)
_MORE = r"(?:(?:take|use|put in|add)\s+(?:half|a third|a quarter|twice) (?:as much |the )?salt (?:again|more)|(?:half|a third|a quarter) as much salt again|(?:raise|increase|step up|strengthen)\s+(?:\w+\s+){0,3}(?:salt|brine)|(?:more|extra|additional)\s+(?:\w+\s+){0,2}salt|salt (?:it|them|the meat) (?:heavier|harder|more)|salt\s+(?:\w+\s+){0,3}(?:heavier|harder|stronger))"
_WEATHER = r"(?:(?:warm|hot)(?:er)?\s+(?:weather|days?|months?|climates?|places?|rooms?|cellars?|spells?|seasons?|countr\w+)|summer(?:time)?|(?:it|weather|cellar|room) (?:is|be|gets|turns) (?:warm|hot)\w*|each \d+ deg\w*|every \d+ deg\w*)"
_NO_COLD = r"(?:no (?:fridge|refrigerator|refrigeration|cooler)|(?:if|when) the (?:fridge|refrigerator|cooler) (?:dies|fails|breaks|is (?:broken|down|out)))"
SALT_FOR_COLD = Pattern(
    rf"\b(?:(?:can't|cannot|can not|not|isn't) be kept (?:that |so )?(?:cold|cool)[^.]{{0,20}}\b{_MORE}|{_MORE}\b[^.]{{0,60}}\b{_WEATHER}|(?:in|for|during|if|when|where)(?: the)? {_WEATHER}[^.]{{0,30}}\b{_MORE}|{_NO_COLD}\b[^.]{{0,30}}\b{_MORE})\b"
)
SPOKEN_AGAINST = Pattern(r"\b(?:do not|don't|never|no amount of|cannot|can't|does not|doesn't|not)\b")
SALT_FOR_COLD_NOT = Pattern(r"\b(?:do not|don't|never)\s+(?:just\s+)?(?:raise|increase|add|use|take|put)|\b(?:does not|doesn't|is no|not|never) (?:\w+ ){0,2}(?:for|in place|stand|replace|make up|instead)")
UNTIL_COLD = Pattern(r"\b(?:till?|until)\b[^.;]{0,40}\b(?:cold|cool|chilled|under|below)\b", re.I)
NOT = Pattern(r"\b(?:not?|never|don't|without|nor)\b", re.I)
WEIGHED = Pattern(r"\b(?:weigh\w*|ounces?|oz|grams?|lbs?|pounds?|percent|%|ml|cups?)\b", re.I)
_NEXT = r"(?:(?:the |a |your )?(?:next|another|second|following|new|later|more)\s*(?:one|batch\w*|lot|piece\w*|time|brisket\w*|beef|meat|ham\w*|use|round)?|again|twice)"
BRINE_AGAIN = Pattern(
    rf"\b(?:(?:save|keep)\s+(?:the |this |that |your )?(?:brine|pickle)\b(?:\s+(?:for|and|to)\b[^.]{{0,24}}?\b{_NEXT}\b)|save\s+(?:the |this |that |your )?(?:brine|pickle)\b"
    rf"|(?:re-?use[sd]?|use)\s+(?:the |this |that |your )?(?:same |old )?(?:brine|pickle)\b(?:[^.]{{0,20}}?\b{_NEXT}\b)?"
    rf"|(?:brine|pickle)\b[^.]{{0,30}}\b(?:re-?used|used (?:again|twice|a second time|for {_NEXT})|use (?:it )?again|kept for {_NEXT}|good for {_NEXT}|serves? again|do(?:es)? for {_NEXT}|will do {_NEXT})\b"
    rf"|(?:brine|pickle)\b[^.]{{0,40}}\b(?:boil(?:ed)?|scald(?:ed)?) (?:it )?(?:up )?(?:for|again)\b[^.]{{0,40}}\b(?:{_NEXT}|use it (?:over|again))\b|(?:brine|pickle)\b[^.]{{0,40}}\b(?:use(?:d)? (?:it )?over\b|(?:left )?(?:over )?from (?:the )?last (?:month|time|year|week|batch|lot|season)\w*)"
    rf"|(?:skim and boil again|(?:brine|pickle) (?:should )?mould\w*[^.]{{0,30}}again))"
)
_SEVERAL = r"(?:\d+|two|three|four|five|six|several|many|(?:a )?(?:few|couple)(?: of)?)"
_LOTS = r"(?:batch|brisket|piece|ham|joint|tongue|lot|use|round|time|week)(?:e?s)?"
BRINE_KEPT_GOING = Pattern(
    rf"\b(?:brine|pickle)\b[^.;]{{0,30}}\b(?:good|enough|does|do|lasts?|serves?) (?:for )?(?:up to )?{_SEVERAL} (?:more |further |other )?{_LOTS}\b|\b(?:top(?:ped)?|make|made|freshen(?:ed)?) up (?:the |this |that |your )?(?:old |used )?(?:brine|pickle|bucket|tub|crock)\b[^.;]{{0,40}}\b{_NEXT}\b"
    rf"|\b(?:strain|pour|tip|ladle|put) (?:the |this |your )?(?:brine|pickle)\b[^.;]{{0,40}}\bnext (?:week|month|batch|time|one|brisket|piece|lot)\b|\blast (?:week|month|time|batch|lot)'?s? (?:brine|pickle)\b|\byesterday'?s (?:brine|pickle)\b"
    rf"|\b(?:start|put|lay|drop) (?:the |your )?next (?:one|piece|brisket|lot|batch|ham|joint)[^.;]{{0,20}}\b(?:in|into) (?:it|the same|the (?:old |used |same )?(?:brine|pickle))\b"
)
BRINE_USED_ONCE = Pattern(r"^use\s+(?:the |this |that |your )?(?:brine|pickle)$")  # "use the brine cold" uses it once
SAME_BATCH = Pattern(r"\b(?:put|lay|pack|pour|goes|go)\b[^.]*\bback\b|\brepack|\breturn")
DISCARDED = Pattern(r"\b(?:do not|don't|never|not|cannot|can't|no)\b|\bdiscard\b|\bthrow\b")
HALF_THAWED = Pattern(
    r"\b(?:half|part|partly|partially|barely|nearly|not (?:quite |fully |all )?|un)[- ]?(?:thawed|defrosted)\b|\b(?:still|half|part|partly|partially|semi)[- ]?frozen\b|\bfrozen (?:hard|solid|is (?:fine|all right|ok)|will do)\b|\b(?:rock|still)[- ]hard from\b"
    r"|\b(?:no need|needn't|need not|don't (?:bother|need|wait)|do not (?:bother|need|wait)|without|never mind|no) (?:to |for it to |for them to )?(?:thaw|defrost)\w*"
)
OUT_OF_THE_FREEZER = Pattern(r"\b(?:from|out of) the (?:deep[- ]?)?freezer\b|\bfrom frozen\b|\bfrozen as (?:it is|they are)\b")
ANSWERED = Pattern(r"\b(?:goes|go) back\b|\bnot (?:yet )?ready\b|\bwait\b|\bthaw it\b|\bis no good\b")
REACTIVE_METAL = Pattern(r"galvani[sz]ed|zinc|alumin(?:i)?um|copper|cast[- ]iron|\biron\b", re.I)
LEFT_OUT = Pattern(r"\b(?:leav(?:e|ing)|left|sit|stand)\s+(?:it |them |(?:the )?\w+ )?out\b|\bin the kitchen\b", re.I)
LEFT_OVERNIGHT = Pattern(r"\b(?:leave|left|stand|sit)\b[^.;]{0,60}\b(?:overnight|o/n)\b")
COLD_IN_THE_POT = Pattern(r"\b(?:go|get|turn|until|till?) (?:quite |stone |completely )?cold\b[^.;]{0,20}\b(?:in (?:the|its|their) (?:pot|broth|liquor|water|stock|pan)|on the (?:stove|hob))\b|\bcool\w*\b[^.;]{0,30}\bon the (?:stove|hob)\b")
CHILLED = Pattern(r"\b(?:ice|iced|cold water)\b")
DOWN_TO_ROOM = Pattern(r"\b(?:come|comes|came|gone|goes|go|get|gets|drop|drops|dropped|fallen|falls?|is|are|reach\w*) (?:back )?(?:down )?(?:to |at )?(?:room|kitchen) temp\w*")
EATEN_COLD = Pattern(r"\b(?:slice[sd]? (?:it |them )?(?:when |thin |once )?cold|when cold|serve(?:d)? cold|cold slices|sliced cold|chill (?:it )?before slicing|for (?:cold )?sandwiches|next day|leftovers?|keeps?(?! (?:(?:it|them|the meat) )?(?:hot|warm)\b)|store|refrigerate)\b", re.I)
SERVED = Pattern(r"\b(?:serv(?:e|ed|ing)|carve|eat)\b", re.I)
TENDER = Pattern(r"\btender\b|\bfork\w*\b|\bprobe\w*\b|\bfalls? (?:apart|off)\b|\b(?:slides?|slips?|goes) (?:in|off|out)\b|\b(?:skin|bone) (?:lifts|slips|pulls)\b|\bgive(?:s)? (?:easily|no resistance)\b", re.I)
BOILED_HARD = Pattern(r"\b(?:(?:full |good |hard |fast )*(?:rolling|galloping|furious|fast|hard|rapid|brisk) boil(?:ing)?|boil(?:ed|ing)?(?: it| them| the \w+| gently)? (?:hard|fast|rapidly|furiously|briskly|vigorously))\b", re.I)
SIMMERED = Pattern(r"\bsimmer\w*|\bturn(?:ed)? (?:it )?down\b|\blower the\b|\breduce\b|\bbarely\b|\bthen gently\b|\bno (?:hard )?boil|\bnot? (?:at )?a (?:hard |rolling )?boil", re.I)
HALF_COOKED = Pattern(r"\b(?:par|part|half|partly|partially)[- ]?(?:cook|roast|smoke|bake|done)\w*", re.I)
COOKED_AGAIN = Pattern(r"\bfinish\w*|\bnext (?:day|morning)\b|\bto serve\b|\bwhen (?:wanted|needed|ordered)\b|\bbefore serv\w+|\bto order\b", re.I)
USE_BY_DAY = Pattern(r"\b(?:use[- ]by|discard(?:ed)?(?: it)? (?:after|on)|throw (?:it )?(?:out|away) (?:after|on)|good (?:until|through)|sell[- ]by)(?: date)?(?: is| of|:)?(?: the end of)?(?: day)? ?(\d{1,2})\b(?: ?(days?|weeks?))?", re.I)
DRIED_OFF = Pattern(r"\bdr(?:y|ied|ies|ying)\b(?!\W+(?:rub|cure|brine|heat|spice))|\bpat\b|\bblot\w*|\bwip(?:e|ed)\b|\buncovered\b|\bon (?:a |the )?(?:rack|screen|hook)s?\b|\bfan\b|\bhang\b|\bhung\b|\btacky\b|\bpellicle\b|\bair(?:ed|ing)?\b|\btowel\w*|\bdrain\w*|\bovernight\b|\bdamp\b|\bopen (?:damper|vent)s?\b|\b(?:damper|vent)s? open\b|\bno smoke (?:for|yet)\b|\bwithout smoke\b", re.I)
STANDS_OUT = Pattern(r"\b(?:leave|left|sits?|stands?|keeps?|lies?|goes|put) (?:it |them |the \w+ )?(?:out\b(?! of)|on (?:the|a) (?:buffet|sideboard|pass|counter|carving board))|\bon the buffet\b", re.I)
STRUCK = Pattern(r"~~[^~\n]*~~")
AFTER_THAT = Pattern(r"\b(?:more|another|further|additional|again|after that|the next|then)\b", re.I)
