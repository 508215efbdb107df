"""A batch put together: weights to what a scale shows, the page by weight, the sums and the audit worked again."""

from __future__ import annotations

import re
from math import ceil, floor, inf
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts, pipeline, signing
from overhaul.batch.asking import Asked, Piece
from overhaul.batch.curing import Exchanged, cure_for_size, exchanged
from overhaul.batch.days import Days, days_for
from overhaul.batch.sizing import CannotMake, Size, meat_items, size, stated_meat, stated_pieces
from overhaul.batch.writing import FACTORS, Extra, How, Target, Wanted, grams, number, scaled_amount, written
from overhaul.findings import Cite, Finding
from overhaul.house import House
from overhaul.reading import lexicon, units
from overhaul.recipe.model import CURING_SALTS, Ingredient, Recipe, Step
from overhaul.span import Span
from overhaul.sums import scaling
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, Sum, figure

_CURES = frozenset([*CURING_SALTS, "accelerator", "phosphate"])
_HALVED = frozenset(["head", "bunch", "stick", "bottle", "can", "packet", "loaf"])
_BY_EYE = frozenset(["pinch", "dash", "handful", "drop"])
_MATTERS = frozenset(["salt", "sugar", "water", "ice", *_CURES])
_COMPARED = (
    "brine_mass", "brine_strength", "nitrite_direct", "nitrite_pump", "nitrite_equilibrium", "nitrite_added", "nitrate_direct", "nitrate_equilibrium", "accelerator_pump",
    "accelerator_direct", "salt_equilibrium", "salt_as_eaten", "days_to_middle", "vessel_volume",
)  # fmt: skip
_WIDE = 1.05  # from low to high: a spread worth telling


class Line(Struct, frozen=True):
    """One ingredient of the batch. ``gram`` is what the scale is to show; None for what is counted, measured or left as written."""

    line: int
    section: str | None
    name: str
    role: str
    written: str
    how: How
    weigh: str  # what to weigh or count, in words
    gram: float | None
    exact: float | None  # gram before rounding
    step: float | None  # of the scale, gram
    spread: Span | None = None  # gram that the measure as written may weigh, at this size; None where it is exact
    notes: tuple[str, ...] = ()


class NotScaled(Struct, frozen=True):
    """A figure of the page that stays what it is, and why."""

    line: int
    words: str
    why: str


class Compared(Struct, frozen=True):
    """One sum of the recipe as written and of the batch as weighed; None where it cannot be worked."""

    name: str
    unit: str
    before: Span | None
    after: Span | None


class Found(Struct, frozen=True):
    """A finding of the batch, and whether the recipe as written has it too."""

    finding: Finding
    line: int
    known: bool


class Batch(Struct, frozen=True):
    """``recipe`` by weight. ``factor`` is of the recipe as written (its first column), ``brine`` and ``spices`` where they go by another."""

    recipe: Recipe
    source: Recipe
    size: str
    factor: float
    brine: float
    spices: float
    meat_gram: float | None
    lines: tuple[Line, ...]
    days: Days | None
    not_scaled: tuple[NotScaled, ...]
    notes: tuple[str, ...]
    sums: tuple[Compared, ...]
    findings: tuple[Found, ...]
    settled: int  # findings of the recipe that the batch no longer has
    sources: tuple[Cite, ...]


class NotMade(Struct, frozen=True):
    """Why there is no batch."""

    why: str


def make(recipe: Recipe, house: House, asked: Asked) -> Batch | NotMade:
    """``recipe`` by weight as ``asked``; what is missing for it where it cannot be made. Never raises for what a recipe holds."""
    try:
        with lexicon.house_names(house.names):
            return _made(recipe, house, asked)
    except (CannotMake, CannotTell) as reason:
        return NotMade(str(reason))
    except (OverflowError, ZeroDivisionError):
        return NotMade("the amounts do not make sense")


def _made(recipe: Recipe, house: House, asked: Asked) -> Batch:
    sized = size(recipe, asked, house)
    for value in (sized.meat, sized.brine):
        if not 0 < value < inf:
            raise CannotMake("the amounts do not make sense: they come to nothing, or to no end")
    _refuse(sized)
    other = exchanged(sized, asked.cure, house) if asked.cure is not None else None
    cures = cure_for_size(sized, house)
    targets: list[Target] = []
    lines: list[Line] = []
    meats = _Meats(sized, recipe)
    for section in sized.base.sections:
        for item in section.ingredients:
            target, line = _item(item, section.name, sized, house, other, cures, meats)
            targets.append(target)
            lines.append(line)
    _within_its_list(sized.base, targets, lines, house)
    lines[_after_meat(lines) : _after_meat(lines)] = [_extra_line(one, meats.first_line) for one in meats.extras]
    meat_gram = meats.gram if meats.gram is not None else sized.meat_gram
    thick = max((one.thickness for one in sized.pieces if one.thickness is not None), key=lambda span: span.high, default=None)
    wanted = Wanted(
        tuple(targets), tuple(meats.extras), meat_gram, None, sized.meat * sized.column_factor, thick, sized.brine * sized.column_factor, asked.tub, meats.first_line,
    )  # fmt: skip
    batch = written(sized.base, wanted, house)
    stay = days_for(sized, recipe, batch, house)
    if stay is not None and stay.change is not None:
        batch = written(sized.base, replace(wanted, days=stay.change), house)
    findings, settled = _audited(recipe, batch, len(meats.extras), meats.first_line, house)
    spices = asked.spices if asked.spices is not None else sized.meat * sized.column_factor
    return Batch(
        batch, recipe, sized.told, sized.meat * sized.column_factor, sized.brine * sized.column_factor, spices, meat_gram, tuple(lines), stay,
        tuple(_not_scaled(sized.base, targets, stay)), (*sized.notes, *_spice_note(asked), *meats.notes, *(other.notes if other is not None else ()), *_tub_note(batch, house)),
        tuple(_compared(recipe, batch, house)), findings, settled, _sources(sized, stay),
    )  # fmt: skip


def _within_its_list(base: Recipe, targets: list[Target], lines: list[Line], house: House) -> None:
    """What is taken from a list of the page is no more than the list makes, where the measures leave room for that."""
    for made in Sums(base, house).section_yields():
        own = {one.line for one in made.makes.inputs}
        in_list = [target for target in targets if target.item.line in own]
        makes = sum(target.gram if target.gram is not None else target.item.mass.likely * target.factor for target in in_list if target.item.mass is not None)
        for taken in made.takes:
            index = next((at for at, target in enumerate(targets) if target.item.line == taken.line and target.how == "weigh" and target.item.name == taken.name), None)
            if index is None or made.makes.value.high < taken.value.low:
                continue
            target = targets[index]
            if target.gram is not None and target.gram > makes > 0:
                gram = float(floor(makes)) or makes
                targets[index] = replace(target, gram=gram, words=grams(gram))
                lines[index] = replace(lines[index], gram=gram, weigh=_told(gram), notes=(*lines[index].notes, "all that its list makes"))


def _spice_note(asked: Asked) -> tuple[str, ...]:
    if asked.spices is None:
        return ()
    return (f"spices and aromatics are {asked.spices:g} times the recipe as written, as asked",)


def _sources(sized: Size, stay: Days | None) -> tuple[Cite, ...]:
    return tuple(dict.fromkeys((*sized.sources, *(stay.sources if stay is not None else ()))))


def _refuse(sized: Size) -> None:
    """A curing salt whose grams nothing tells is never made more or less of."""
    for item in sized.base.ingredients:
        if item.role in CURING_SALTS and item.mass is None and item.amount is not None:
            raise CannotMake(f"line {item.line}: nothing tells the grams of the curing salt in “{item.text.strip()}”. Write its weight, and make the batch again")
        if item.mass is not None and (item.mass.low < 0 or not item.mass.high < inf):
            raise CannotMake(f"line {item.line}: “{item.text.strip()}” is less than nothing")


class _Meats:
    """The meat of the batch, shared out over the lines that the page has for it."""

    def __init__(self, sized: Size, recipe: Recipe) -> None:
        items = meat_items(sized.base)
        self.sized = sized
        self.first_line = items[0].line if items else 1
        self.extras: list[Extra] = []
        self.notes: list[str] = []
        self.gram: float | None = None
        self.by_item: dict[int, tuple[float | None, int | None, Span | None, str | None]] = {}
        pieces = sorted(sized.pieces, key=lambda one: -(one.thickness.high if one.thickness is not None else 0.0))  # the sums are for the first
        if not items:
            self.gram = _to_gram(sized.meat_gram)
            if pieces and stated_meat(recipe) is None:  # the page names no meat to weigh: it is written over the list
                self.first_line = max(0, min(item.line for item in sized.base.ingredients) - 1)
                self.extras = [Extra(piece.name or "meat", _to_gram(piece.gram) or 0.0, piece.pieces, piece.thickness) for piece in pieces]
            return
        if pieces and len(items) == 1:
            name = meat_name(items[0])
            for index, piece in enumerate(pieces):
                gram = _to_gram(piece.gram)
                other = piece.name if piece.kind is not None and piece.kind != items[0].kind else None
                if index:
                    self.extras.append(Extra(other or piece.name or name, gram or 0.0, piece.pieces, piece.thickness))
                else:
                    self.by_item[id(items[0])] = (gram, piece.pieces, piece.thickness, other)
        elif len(pieces) > 1 and len(pieces) != len(items):
            raise CannotMake(f"the recipe has {len(items)} meats; say one weight for all of them, or one --meat for each")
        elif len(pieces) > 1:
            self._each(items, sized.pieces)
        else:
            for item in items:
                share = item.mass.likely * sized.meat if item.mass is not None else None
                self.by_item[id(item)] = (_to_gram(share), self._count(item), pieces[0].thickness if pieces else None, None)
        known = [gram for gram, _, _, _ in self.by_item.values()]
        if all(gram is not None for gram in known):
            self.gram = sum(gram for gram in known if gram is not None) + sum(one.gram for one in self.extras)
        self._pieces_note()

    def _each(self, items: tuple[Ingredient, ...], pieces: tuple[Piece, ...]) -> None:
        """One --meat for each meat of the page: by its name, else in the order given."""
        left = list(pieces)
        for item in items:
            piece = next((one for one in left if one.name is not None and ((one.kind is not None and one.kind == item.kind) or one.name in item.name)), left[0])
            left.remove(piece)
            self.by_item[id(item)] = (_to_gram(piece.gram), piece.pieces, piece.thickness, None)

    def _count(self, item: Ingredient) -> int | None:
        """Whole pieces; the weight stays what the factor makes it, for the cure goes by weight."""
        count = _pieces_of(item)
        if count is None:
            return None
        exact = count * self.sized.meat
        whole = max(1, ceil(exact - 1e-6))
        if abs(exact - whole) > 1e-6:
            self.notes.append(f"{number(round(exact, 2))} pieces are no whole pieces: {whole} that weigh as much together; weigh what is bought, and say --meat")
        return whole

    def _pieces_note(self) -> None:
        if self.sized.count is not None:
            self.notes = [note for note in self.notes if "no whole pieces" not in note]

    def of(self, item: Ingredient) -> tuple[float | None, int | None, Span | None, str | None]:
        return self.by_item.get(id(item), (None, None, None, None))


def meat_name(item: Ingredient) -> str:
    return item.name or "meat"


def _pieces_of(item: Ingredient) -> int | None:
    told = item.count or (item.amount if item.amount is not None and units.dimension(item.amount.unit) == "thing" else None)
    return int(told.low) if told is not None and told.low == told.high and told.low == int(told.low) and told.low >= 1 else None


def _to_gram(gram: float | None) -> float | None:
    """Meat is weighed to the gram, as it comes."""
    return scaling.shown(gram, 1.0) if gram is not None else None


def _after_meat(lines: list[Line]) -> int:
    return next((index + 1 for index, line in enumerate(lines) if line.role == "meat"), 0)


def _extra_line(extra: Extra, line: int) -> Line:
    count = f"{extra.pieces} pieces, " if extra.pieces is not None and extra.pieces > 1 else "1 piece, " if extra.pieces else ""
    return Line(line, None, extra.name, "meat", "(in hand)", "weigh", f"{count}{_told(extra.gram)} in all" if count else _told(extra.gram), extra.gram, extra.gram, 1.0)


def scale_steps(house: House) -> tuple[float, float]:
    """Gram that the small scale and the other one show."""
    rows = facts.table("sums")
    return house.scale.get("cure", rows["scale.cure"].value), house.scale.get("other", rows["scale.other"].value)


def step_for(gram: float, role: str, house: House) -> float:
    """The scale to use: the small one for curing salt, and for what the other shows no better than to a tenth."""
    small, other = scale_steps(house)
    if role in _CURES or (scaling.too_fine(gram, other) and small < other):
        return small
    return other


def _told(gram: float) -> str:
    return f"{gram:,.4f}".rstrip("0").rstrip(".") + " g"


def _item(item: Ingredient, section: str | None, sized: Size, house: House, other: Exchanged | None, cures: dict[int, float], meats: _Meats) -> tuple[Target, Line]:
    factor = sized.of(item)
    if item.role == "meat" and id(item) in meats.by_item:
        return _meat_line(item, section, sized, meats)
    notes = [f"read as {item.amount.doubt}"] if item.amount is not None and item.amount.doubt is not None else []
    if item.mass is None or item.amount is None:
        if item.amount is not None and item.mass is None and item.role not in CURING_SALTS:
            return _unweighed(item, section, factor, notes)
        if item.mass is None or not (item.mass.high > 0):
            return Target(item, "kept", None, None, factor), Line(item.line, section, item.name or item.role, item.role, _one(item.text), "kept", "as written", None, None, None, None, tuple(notes))
    if _by_eye(item):
        return Target(item, "kept", None, None, factor), Line(item.line, section, item.name or item.role, item.role, _one(item.text), "kept", "by eye", None, None, None, None, tuple(notes))
    if _countable(item):
        return _counted(item, section, factor, notes)
    mass = item.mass
    assert mass is not None
    gram = mass.likely * factor
    if id(item) in cures:
        gram = cures[id(item)]
    name, strength, agents = None, None, None
    if other is not None and item is other.item:
        gram, name, strength, agents = other.gram, other.name, other.strength, other.told
    elif other is not None and id(item) in other.salts:
        gram = other.salts[id(item)]
        more = f"less {_told(scaling.shown(abs(other.off), 1.0))} that the curing salt in hand brings" if other.off > 0 else f"and {_told(scaling.shown(abs(other.off), 1.0))} that the curing salt in hand does not bring"
        notes.append(f"{_told(scaling.shown(mass.likely * factor, 1.0))} by the factor, {more}")
    if gram <= 0:
        return Target(item, "kept", None, None, factor), Line(item.line, section, item.name or item.role, item.role, _one(item.text), "kept", "none", 0.0, 0.0, None, None, tuple(notes))
    step = step_for(gram, item.role, house)
    shown = scaling.shown(gram, step if item.role not in _CURES or not scaling.too_fine(gram, step) else step / 100)
    if scaling.too_fine(shown, step):
        notes.append(f"a scale that shows {step:g} g may be out by a tenth and more here: make a larger mix and weigh of that, or use a finer scale")
    elif step < scale_steps(house)[1] and item.role not in _CURES:
        notes.append("on the small scale")
    spread = Span(mass.low * factor, mass.likely * factor, mass.high * factor) if name is None and id(item) not in cures and mass.low * _WIDE < mass.high else None
    if item.per is not None:
        notes.append(_follows(item))
    if item.optional:
        notes.append("if it is used")
    target = Target(item, "weigh", shown, grams(shown), factor, name, strength)
    label = f"{name} ({agents})" if name is not None else item.name or item.role
    return target, Line(item.line, section, label, item.role, _one(item.text), "weigh", _told(shown), shown, gram, step, spread, tuple(notes))


def _follows(item: Ingredient) -> str:
    assert item.per is not None
    amount = scaled_amount(item.amount, 1.0) if item.amount is not None else ""
    of = item.per.of or ("meat" if item.per.unit is None or units.dimension(item.per.unit) == "mass" else "water")
    if item.per.unit is None:
        return f"{amount} of the {of}, which follows by itself"
    rate = f"{number(float(item.per.amount))} {item.per.unit}" if item.per.amount not in (None, 1) and item.per.amount is not None else item.per.unit
    return f"{amount} per {rate} of {of}, which follows by itself"


def _by_eye(item: Ingredient) -> bool:
    return item.amount is not None and item.amount.unit in _BY_EYE and item.role not in _MATTERS


def _countable(item: Ingredient) -> bool:
    """A count of bay leaves is told as a count; salt and curing salt never."""
    amount = item.amount
    if amount is None or item.role in _MATTERS or item.role == "meat" or item.weighed:
        return False
    return units.dimension(amount.unit) == "thing" and amount.unit != "part" and item.count is None


def _counted(item: Ingredient, section: str | None, factor: float, notes: list[str]) -> tuple[Target, Line]:
    amount = item.amount
    assert amount is not None
    count = scaling.counted(float(amount.low + amount.high) / 2, factor, halves=amount.unit in _HALVED)
    figure_ = number(float(count))
    unit = units.in_words(amount.unit, several=count > 1)
    own = float(amount.low + amount.high) / 2
    mass = item.mass
    told = f"{figure_} {unit}".strip()
    if mass is not None and own:
        told += f", some {_told(scaling.shown(mass.likely / own * float(count), 1.0))}"
    target = Target(item, "count", None, f"{figure_} {unit}".strip(), float(count) / own if own else factor)
    return target, Line(item.line, section, item.name or item.role, item.role, _one(item.text), "count", told, None, None, None, None, tuple(notes))


def _unweighed(item: Ingredient, section: str | None, factor: float, notes: list[str]) -> tuple[Target, Line]:
    """What has an amount and no weight: in its own measure, larger or smaller."""
    amount = item.amount
    assert amount is not None
    if item.per is not None or units.dimension(amount.unit) not in ("volume", "thing", "mass", "length") or amount.unit == "part":
        words = "as written"
        return Target(item, "kept", None, None, factor), Line(item.line, section, item.name or item.role, item.role, _one(item.text), "kept", words, None, None, None, None, tuple(notes))
    if amount.unit in _BY_EYE:
        return Target(item, "kept", None, None, factor), Line(item.line, section, item.name or item.role, item.role, _one(item.text), "kept", "by eye", None, None, None, None, tuple(notes))
    if units.dimension(amount.unit) == "thing":
        return _counted(item, section, factor, notes)
    words = scaled_amount(amount, factor)
    notes.append("nothing tells its weight: measure it, weigh it once, and write it down")
    return Target(item, "measure", None, words, factor), Line(item.line, section, item.name or item.role, item.role, _one(item.text), "measure", words, None, None, None, None, tuple(notes))


def _meat_line(item: Ingredient, section: str | None, sized: Size, meats: _Meats) -> tuple[Target, Line]:
    gram, pieces, thickness, name = meats.of(item)
    label = name or meat_name(item)
    if gram is None:
        target = Target(item, "kept", None, None, sized.meat, None, None, pieces, thickness)
        words = f"{pieces} pieces" if pieces is not None else "as written"
        if pieces is not None and item.amount is not None and item.count is None and units.dimension(item.amount.unit) == "thing":
            target = Target(item, "count", None, f"{pieces} {units.in_words(item.amount.unit, several=pieces > 1)}".strip(), pieces / float(item.amount.low), None, None, pieces, thickness)
        return target, Line(item.line, section, label, "meat", _one(item.text), "count" if pieces is not None else "kept", words, None, None, None, None, ("the page gives no weight; weigh it, and say --meat",))
    stated = _pieces_of(item) or stated_pieces(sized.base)
    words = grams(gram)
    counted = f"{pieces} piece{'s' if pieces != 1 else ''}, {_told(gram)}{' in all' if pieces > 1 else ''}" if pieces is not None else _told(gram)
    notes = [] if pieces is not None or not stated or sized.pieces else [f"the recipe has {stated}"]
    target = Target(item, "weigh", gram, words, sized.meat, name, None, pieces, thickness)
    spread = item.mass if item.mass is not None and item.mass.low * _WIDE < item.mass.high and not sized.pieces else None
    shown = Span(spread.low * sized.meat, spread.likely * sized.meat, spread.high * sized.meat) if spread is not None else None
    return target, Line(item.line, section, label, "meat", _one(item.text), "weigh", counted, gram, gram, 1.0, shown, tuple(notes))


def _one(text: str) -> str:
    return " ".join(text.split())


# -- what stays


def _not_scaled(recipe: Recipe, targets: list[Target], stay: Days | None) -> list[NotScaled]:
    """Line by line: what has no measure, what follows by itself, times and heats, notes with figures."""
    found: list[NotScaled] = []
    for target in targets:
        item = target.item
        if target.how != "kept" or (item.role == "meat" and target.pieces is not None):
            continue
        if item.amount is None:
            why = "no amount is written: to taste, or as it comes"
        elif item.amount.unit in _BY_EYE:
            why = f"a {units.in_words(item.amount.unit, several=False)} is no measure: by eye, for {target.factor:.3g} times as much"
        elif item.amount.unit in ("percent", "permille") or item.per is not None:
            why = "a share, which follows by itself; nothing here tells of how much"
        else:
            why = "nothing tells how much it is"
        found.append(NotScaled(item.line, _one(item.text), why))
    taken = {target.item.amount.place.start for target in targets if target.item.amount is not None} | {also.place.start for target in targets for also in target.item.also}
    for step in recipe.steps:
        found += _of_step(recipe, step, stay, taken)
    for note in recipe.notes:
        if re.search(r"\d", note.text) and not FACTORS.fullmatch(note.text) and (recipe.yields is None or note.line != recipe.yields.line):
            found.append(NotScaled(note.line, _one(note.text), "a note: read it, its figures are those of the recipe"))
    return sorted(found, key=lambda one: one.line)


def _of_step(recipe: Recipe, step: Step, stay: Days | None, taken: set[int]) -> list[NotScaled]:
    page = recipe.page
    cured = recipe.process.cure_time
    found: list[NotScaled] = []
    kinds: list[tuple[str, Literal["time", "heat", "length"], int]] = []
    for measured in step.times:
        if cured is None or measured.amount.place != cured.place:
            kinds.append((page.words(measured.amount.place), "time", measured.amount.place.start))
    kinds += [(page.words(measured.amount.place), "heat", measured.amount.place.start) for measured in step.temperatures]
    kinds += [(page.words(measured.amount.place), "length", measured.amount.place.start) for measured in step.lengths]
    if kinds:
        told = ", ".join(dict.fromkeys(_one(words) for words, _, _ in sorted(kinds, key=lambda one: one[2])))
        what = {kind for _, kind, _ in kinds}
        why = "times go by the thickness and the place they end at, not by the weight" if what == {"time"} else "heat does not grow with the batch" if what == {"heat"} else "a thickness is of one piece" if what == {"length"} else "times and heats go by the piece, not by the weight"
        found.append(NotScaled(step.line, told, why))
    shares = [measured.amount for measured in step.amounts if measured.amount.unit in ("percent", "permille")]
    if shares:
        found.append(NotScaled(step.line, ", ".join(_one(page.words(amount.place)) for amount in shares), "a share, which follows by itself"))
    others = [measured.amount for measured in step.amounts if units.dimension(measured.amount.unit) in ("mass", "volume") and measured.amount.place.start not in taken]
    if others:
        found.append(NotScaled(step.line, ", ".join(_one(page.words(amount.place)) for amount in others), "the size of a vessel or of a piece, or water that is not counted: see whether it still does"))
    return found


# -- worked again


def _compared(before: Recipe, after: Recipe, house: House) -> list[Compared]:
    one, other = Sums(before, house), Sums(after, house)
    found: list[Compared] = []
    for name in _COMPARED:
        old, new = one.get(name), other.get(name)
        if old is None and new is None:
            continue
        known: Sum = new if new is not None else old  # type: ignore[assignment]
        found.append(Compared(name, known.unit, old.value if old is not None else None, new.value if new is not None else None))
    return found


def _tub_note(batch: Recipe, house: House) -> tuple[str, ...]:
    """Whether it still goes into the tub that the page names."""
    tub = batch.process.tub
    room = Sums(batch, house).get("vessel_volume")
    if tub is None or room is None:
        return ()
    head = facts.table("sums")["tub.head_room"].value
    if room.value.likely > tub.span.likely * (1 - head):
        return (f"the recipe’s tub of {figure(tub.span, 'litre')} is too small for {figure(room.value, 'litre')} of meat and brine with {100 * head:g} % left empty; take a larger one, or several",)
    return ()


def _audited(recipe: Recipe, batch: Recipe, extras: int, below: int, house: House) -> tuple[tuple[Found, ...], int]:
    """The findings of the batch, each known from the recipe or new, and how many of the recipe's are gone."""
    old = list(pipeline.findings_of((recipe,), house))
    known = [(one.rule, recipe.page.line_at(one.place.start)) for one in old]
    rules = [rule for rule, _ in known]
    found: list[Found] = []
    for one in signing.applied(batch.page, list(pipeline.findings_of((batch,), house))):
        line = batch.page.line_at(one.place.start)
        found.append(Found(one, line - extras if line > below + extras else min(line, below) if line > below and extras else line, one.rule in rules))
    left = [one.finding.rule for one in found]
    settled = sum(max(0, rules.count(rule) - left.count(rule)) for rule in set(rules))
    return tuple(found), settled


