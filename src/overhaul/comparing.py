"""Two recipes side by side: amounts, sums, times and temperatures, steps; what differs first, what is the same afterwards.

What is compared is how strong, how long and how hot, never how much: an amount of a brine by the water it goes into, any other
by the meat, so that a doubled batch is no difference. Sources of the figures are those of the sums themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from overhaul.reading import units
from overhaul.recipe.model import CURING_SALTS, Amount, Fact, Ingredient, Recipe, Role
from overhaul.span import Span
from overhaul.sums.work import NAMES, Sums
from overhaul.sums.worked import CannotTell, figure, round_, total

SAME = 0.02  # of the larger: what scales, spoons and rounding make of one and the same amount
SAME_DEGREES = 0.5
_LIKE_NAMES = 75.0  # percent, by which two words for one thing are taken as one
_LIKE_STEPS = 55.0
# How much is in the tub or comes out depends on the batch; these do not.
COMPARED = tuple(name for name in NAMES if not name.endswith(("_mass", "_volume", "_yield")) and name not in ("brine_salometer", "brine_density", "brine_of_water", "brine_freezing", "brine_fullness"))
_WET: tuple[Role, ...] = ("water", "ice", "liquid", "acid")
_ALONE = ("meat", "cure", "salt", "water", "ice", "sugar")  # one of these on each side is the same thing by another name
_FACTS = {
    "cure_time": "days in the cure", "soak": "soak", "pump": "pumped in", "cure_temperature": "cures at", "brine_temperature": "brine at", "dry": "drying", "smoke_temperature": "smoker at",
    "smoke_time": "time in the smoke", "final_temperature": "done at", "cook_time": "cooking", "hold": "held hot at", "rest": "rest", "left_out": "left out",
}  # fmt: skip
_MENTIONS = {"turning": "turned", "weighed_down": "weighed down", "rinse": "rinsed", "thaw": "thawed"}

Group = Literal["amounts", "sums", "times and temperatures", "steps"]


class Part(Struct, frozen=True):
    """An ingredient: its amount in words, gram where they are known, and else the number of its unit."""

    line: int
    name: str
    role: str  # "cure" for every curing salt
    use: str
    words: str
    mass: Span | None
    count: Span | None
    unit: str | None
    wet: bool  # of a brine: compared by its water


class Told(Struct, frozen=True):
    """One fact of the method; ``span`` in hours, days, degF or percent, None for what is only said."""

    name: str
    words: str
    span: Span | None
    unit: str
    line: int


class StepTold(Struct, frozen=True):
    line: int
    phase: str
    text: str


class SumTold(Struct, frozen=True):
    name: str
    value: Span
    unit: str


class Side(Struct, frozen=True):
    """One recipe, as much of it as a comparison needs; ``meat`` and ``water`` in gram, None where the page does not say."""

    title: str
    file: str
    meat: Span | None
    water: Span | None
    parts: tuple[Part, ...]
    sums: tuple[SumTold, ...]
    lacking: dict[str, str]
    facts: tuple[Told, ...]
    steps: tuple[StepTold, ...]


class Line(Struct, frozen=True):
    """One thing compared; a side that has none of it is None. ``short`` : the two in as few words as there are."""

    group: Group
    name: str
    left: str | None
    right: str | None
    differs: bool
    short: tuple[str, str]
    role: str = ""


class Compared(Struct, frozen=True):
    left: Side
    right: Side
    batch: str | None  # how much more the one makes than the other; the left is A
    lines: tuple[Line, ...]

    @property
    def differences(self) -> list[Line]:
        return [one for one in self.lines if one.differs]

    @property
    def same(self) -> list[Line]:
        return [one for one in self.lines if not one.differs]


def side(recipe: Recipe, sums: Sums, file: str) -> Side:
    """What of ``recipe`` is compared."""
    meat = recipe.process.meat
    worked = {name: sums.get(name) for name in COMPARED}
    return Side(
        recipe.title, file, meat.mass if meat is not None and meat.mass_stated else None, _water(sums),
        tuple(_part(item, sums) for item in recipe.ingredients), tuple(SumTold(name, one.value, one.unit) for name, one in worked.items() if one is not None),
        {name: sums.why_not(name) or "" for name, one in worked.items() if one is None}, tuple(_facts(recipe)),
        tuple(StepTold(step.line, step.phase, " ".join(step.text.split())) for step in recipe.steps),
    )  # fmt: skip


def _water(sums: Sums) -> Span | None:
    try:
        water = total(sums.weights(*_WET))
    except (CannotTell, ValueError):
        return None
    return water if water.likely > 0 else None


def _part(item: Ingredient, sums: Sums) -> Part:
    alone = item.amount or item.count
    number = Span(float(alone.low), (float(alone.low) + float(alone.high)) / 2, float(alone.high)) if alone is not None and 0 <= alone.low <= alone.high else None
    wet = item.use == "cure" and item.role not in ("meat", *_WET) and sums.method.endswith("immersion")
    role = "cure" if item.role in CURING_SALTS else item.role
    return Part(item.line, item.name or item.role, role, item.use, _amounts(item), item.mass, number, alone.unit if alone is not None else None, wet)


def _amounts(item: Ingredient) -> str:
    if item.count is not None and item.amount is not None:
        return f"{_words(item.count)}, {_words(item.amount)} {'each' if item.each else 'in all'}"
    alone = item.amount or item.count
    return _words(alone) if alone is not None else "no amount"


def _words(amount: Amount) -> str:
    low, high = (f"{float(value):.4g}" for value in (amount.low, amount.high))
    return f"{low if low == high else f'{low} to {high}'} {units.in_words(amount.unit, several=amount.high > 1)}".strip()


def _facts(recipe: Recipe) -> Iterator[Told]:
    process = recipe.process
    if process.cure is not None:
        yield Told("cured", process.cure.method.replace("-", " and "), None, "", process.cure.line)
    for key, name in _FACTS.items():
        fact: Fact | None = getattr(process, key)
        if fact is not None:
            span, unit = _in_one_unit(fact, "day" if key == "cure_time" else None)
            yield Told(name, _in_time(span, unit), span, unit, fact.line)
            if fact.dwell is not None:
                dwell, unit = _in_one_unit(fact.dwell, None)
                yield Told("held there", _in_time(dwell, unit), dwell, unit, fact.dwell.line)
    if process.soak is not None and process.soak_waters > 1:
        yield Told("waters of the soak", str(process.soak_waters), None, "", process.soak.line)
    for leg in process.cooling:
        span = Span(leg.low, (leg.low + leg.high) / 2, leg.high)
        yield Told(f"cooled {leg.start:.0f} to {leg.end:.0f} °F", figure(span, "hour"), span, "hour", leg.line)
    if process.storage is not None:
        kept = process.storage
        yield Told(f"keeps {kept.kept}" if kept.kept else "keeps", figure(span := Span(kept.low, (kept.low + kept.high) / 2, kept.high), "day"), span, "day", kept.line)
    for key, name in _MENTIONS.items():
        mention = getattr(process, key)
        if mention is not None:
            yield Told(name, "yes", None, "", mention.line)


def _in_one_unit(fact: Fact, wanted: str | None) -> tuple[Span, str]:
    """A time in days for the cure and in hours elsewhere, or in the fact's own unit for what is no time."""
    if units.dimension(fact.unit) != "time":
        return fact.span, fact.unit
    factor = units.size(fact.unit) / (24 if wanted == "day" else 1)
    return Span(fact.span.low * factor, fact.span.likely * factor, fact.span.high * factor), wanted or "hour"


def _in_time(span: Span, unit: str) -> str:
    """Hours as minutes where that is what a cook would say."""
    return figure(Span(60 * span.low, 60 * span.likely, 60 * span.high), "minute") if unit == "hour" and span.high < 2 and span.high % 1 else figure(span, unit)


def compare(left: Side, right: Side) -> Compared:
    """The two, aligned; what differs first within each group, the groups in the order of Group."""
    lines = [*_amount_lines(left, right), *_sum_lines(left, right), *_fact_lines(left, right), *_step_lines(left.steps, right.steps)]
    return Compared(left, right, _batch(left, right), tuple(lines))


def alike(one: Span, other: Span, unit: str = "") -> bool:
    """Whether two spans are the same, as near as a kitchen measures."""
    ends = ((one.low, other.low), (one.likely, other.likely), (one.high, other.high))
    if unit in ("degF", "degC"):
        return all(abs(first - second) <= SAME_DEGREES for first, second in ends)
    return all(abs(first - second) <= SAME * max(abs(first), abs(second)) for first, second in ends)


def _batch(left: Side, right: Side) -> str | None:
    if left.meat is None or right.meat is None or left.meat.likely <= 0 or right.meat.likely <= 0:
        return None
    if alike(left.meat, right.meat):
        return f"Both are for {figure(left.meat, 'gram')} of meat."
    times = right.meat.likely / left.meat.likely
    much, little, words = ("B", "A", times) if times > 1 else ("A", "B", 1 / times)
    return f"{much} is for {round_(words)} times the meat of {little}: {figure(left.meat, 'gram')} / {figure(right.meat, 'gram')}."


# -- amounts


def _amount_lines(left: Side, right: Side) -> Iterator[Line]:
    for mine, other in _paired(left.parts, right.parts):
        yield _amount_line(left, right, mine, other)


def _paired(left: Sequence[Part], right: Sequence[Part]) -> list[tuple[Part | None, Part | None]]:
    """Each part with its like: by its name, else by a like name of the same kind, else the only one of its kind on either side."""
    from rapidfuzz import fuzz

    free = list(range(len(right)))
    found: dict[int, int] = {}

    def match(mine: int, other: int) -> None:
        found[mine] = other
        free.remove(other)

    for index, part in enumerate(left):
        exact = [other for other in free if right[other].name == part.name and right[other].role == part.role]
        if exact:
            match(index, min(exact, key=lambda other: right[other].use != part.use))
    likes = sorted(
        (-fuzz.token_sort_ratio(part.name, right[other].name), index, other)
        for index, part in enumerate(left) if index not in found for other in free if right[other].role == part.role
    )  # fmt: skip
    for ratio, index, other in likes:
        if -ratio >= _LIKE_NAMES and index not in found and other in free:
            match(index, other)
    for role in _ALONE:
        mine, others = [index for index, part in enumerate(left) if part.role == role and index not in found], [other for other in free if right[other].role == role]
        if len(mine) == len(others) == 1:
            match(mine[0], others[0])
    pairs: list[tuple[Part | None, Part | None]] = [(part, right[found[index]] if index in found else None) for index, part in enumerate(left)]
    return pairs + [(None, right[other]) for other in free]


def _amount_line(left: Side, right: Side, mine: Part | None, other: Part | None) -> Line:
    part = mine or other
    assert part is not None
    name = part.name if mine is None or other is None or mine.name == other.name else f"{mine.name} / {other.name}"
    if part.use != "cure" and part.role != "meat":
        name += f" ({part.use})"
    if mine is None or other is None:
        words = _told_part(left, mine) if mine is not None else None, _told_part(right, other) if other is not None else None
        return Line("amounts", name, *words, differs=True, short=(mine.words if mine is not None else "none", other.words if other is not None else "none"), role=part.role)
    if mine.role == "meat":
        from rapidfuzz import fuzz

        return Line("amounts", name, mine.words, other.words, fuzz.token_set_ratio(mine.name, other.name) < _LIKE_NAMES, (mine.words, other.words), "meat")
    one_kind = mine.name == other.name or mine.role != "cure"
    first, second = _strength(left, mine), _strength(right, other)
    if first is not None and second is not None and first[1] == second[1]:
        differs = not alike(first[0], second[0])
        short = (round_(first[0].likely), f"{round_(second[0].likely)} {first[1]}")
        if differs and abs(first[0].likely - second[0].likely) <= SAME * max(first[0].likely, second[0].likely):
            short = (mine.words, other.words)  # as much, measured another way
        elif differs and left.meat is not None and right.meat is not None and alike(left.meat, right.meat) and mine.mass is not None and other.mass is not None:
            short = (f"{round_(mine.mass.likely)} g", f"{round_(other.mass.likely)} g")
    else:
        differs = mine.words != other.words
        short = (mine.words, other.words)
    return Line("amounts", name, _told_part(left, mine), _told_part(right, other), differs or not one_kind, short, mine.role)


def _strength(of: Side, part: Part) -> tuple[Span, str] | None:
    """So much for each kilogram of what it goes into, and the words for that; None where that is not known."""
    base, words = (of.water, "kg of water") if part.wet and of.water is not None else (of.meat, "kg of meat")
    if base is None or base.likely <= 0:
        return None
    if part.unit == "percent":
        return (part.count, "%") if part.count is not None else None
    amount, unit = (part.mass, "g") if part.mass is not None else (part.count, units.in_words(part.unit, several=True) if part.unit else "")
    if amount is None:
        return None
    kilograms = base.likely / 1000
    return Span(amount.low / kilograms, amount.likely / kilograms, amount.high / kilograms), f"{unit} per {words}".strip()


def _told_part(of: Side, part: Part) -> str:
    strength = _strength(of, part)
    if strength is None or part.unit == "percent":
        return part.words
    return f"{_figures(strength[0])} {strength[1]} ({part.words})"


def _figures(span: Span) -> str:
    low, high = round_(span.low), round_(span.high)
    return round_(span.likely) if low == high else f"{low} to {high} (likely {round_(span.likely)})"


# -- sums, facts, steps


def _sum_lines(left: Side, right: Side) -> Iterator[Line]:
    mine, others = {one.name: one for one in left.sums}, {one.name: one for one in right.sums}
    for name in COMPARED:
        first, second = mine.get(name), others.get(name)
        if first is None and second is None:
            continue
        told = [figure(one.value, one.unit) if one is not None else f"not worked: {of.lacking.get(name, '')}" for one, of in ((first, left), (second, right))]
        differs = first is None or second is None or not alike(first.value, second.value, first.unit)
        short = tuple(round_(one.value.likely) if one is not None else "not worked" for one in (first, second))
        yield Line("sums", name.replace("_", " "), told[0], told[1], differs, (short[0], short[1]))


def _fact_lines(left: Side, right: Side) -> Iterator[Line]:
    names = dict.fromkeys([one.name for one in left.facts] + [one.name for one in right.facts])
    mine, others = {one.name: one for one in left.facts}, {one.name: one for one in right.facts}
    for name in names:
        first, second = mine.get(name), others.get(name)
        if first is not None and second is not None:
            differs = not alike(first.span, second.span, first.unit) if first.span is not None and second.span is not None else first.words != second.words
        else:
            differs = True
        short = tuple(_bare(one) if one is not None else "not said" for one in (first, second))
        yield Line("times and temperatures", name, first.words if first is not None else None, second.words if second is not None else None, differs, (short[0], short[1]))


def _bare(told: Told) -> str:
    """``7`` or ``7 to 10``; of days in the cure the unit is in the name."""
    if told.span is None:
        return told.words
    words = told.words.rsplit(" (likely", 1)[0]
    return words.removesuffix(" days") if told.unit == "day" else words


def _step_lines(left: Sequence[StepTold], right: Sequence[StepTold]) -> Iterator[Line]:
    for mine, other in _aligned(left, right):
        first, second = mine.text if mine is not None else None, other.text if other is not None else None
        differs = first is None or second is None or first.casefold() != second.casefold()
        phase = (mine or other).phase.replace("-", " ")  # type: ignore[union-attr]
        yield Line("steps", phase, first, second, differs, (phase if mine is not None else "none", phase if other is not None else "none"))


def _aligned(left: Sequence[StepTold], right: Sequence[StepTold]) -> list[tuple[StepTold | None, StepTold | None]]:
    """The steps in their order, the likest beside each other: the alignment with the most likeness in all."""
    from rapidfuzz import fuzz

    def likeness(mine: StepTold, other: StepTold) -> float:
        ratio = fuzz.ratio(mine.text, other.text) + (15 if mine.phase == other.phase and mine.phase != "other" else 0)
        return ratio if ratio >= _LIKE_STEPS else 0.0

    rows, columns = len(left), len(right)
    best = [[0.0] * (columns + 1) for _ in range(rows + 1)]
    like = [[likeness(mine, other) for other in right] for mine in left]
    for row in range(rows - 1, -1, -1):
        for column in range(columns - 1, -1, -1):
            paired = like[row][column] + best[row + 1][column + 1] if like[row][column] else 0.0
            best[row][column] = max(paired, best[row + 1][column], best[row][column + 1])
    found: list[tuple[StepTold | None, StepTold | None]] = []
    row = column = 0
    while row < rows or column < columns:
        if row < rows and column < columns and like[row][column] and best[row][column] == like[row][column] + best[row + 1][column + 1]:
            found.append((left[row], right[column]))
            row, column = row + 1, column + 1
        elif row < rows and (column == columns or best[row][column] == best[row + 1][column]):
            found.append((left[row], None))
            row += 1
        else:
            found.append((None, right[column]))
            column += 1
    return found
