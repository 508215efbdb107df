"""The pictures of a recipe's sums, as places on a drawing; the templates in ``templates/pictures/`` put them down as SVG.

A drawing is WIDE units across and small enough for a phone. Each says in words all that it shows: ``title`` and ``telling``
stand in it for who cannot see it, ``told`` beside it for everybody.
"""

from __future__ import annotations

from msgspec import Struct

from overhaul import facts
from overhaul.output.bars import round_above
from overhaul.output.sums_page import limit_of
from overhaul.recipe.model import Recipe
from overhaul.span import Span, corners
from overhaul.sums import taste
from overhaul.sums.of_salt import after_soak
from overhaul.sums.of_time import middle_by, stay
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, Sum, figure, round_

WIDE, LEFT, RIGHT = 360.0, 8.0, 352.0
_ROW, _THICK = 38.0, 12.0  # from row to row; of a bar
_CURVE_TOP, _CURVE_FLOOR = 22.0, 150.0
_POINTS = 32
_LAST_MARK = 66.0  # the last mark of an axis, with its unit, is about as wide
_NITRITE = {
    "nitrite_direct": "On green weight", "nitrite_pump": "By the needle", "nitrite_pick_up": "By pick-up", "nitrite_equilibrium": "Meat and pickle as one",
    "nitrite_estimate": "By diffusion",
}  # fmt: skip
_SALT = {"brine_strength": "In the brine", "salt_after_cure": "In the meat, cured", "salt_after_soak": "In the meat, soaked", "salt_as_eaten": "On the plate"}


class Scale(Struct, frozen=True):
    """Values from ``low`` to ``high`` laid from ``left`` to ``right``; what is beyond stands at the end."""

    low: float
    high: float
    left: float = LEFT
    right: float = RIGHT

    def at(self, value: float) -> float:
        """Where ``value`` stands, to a tenth of a unit."""
        share = (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)
        return round(self.left + share * (self.right - self.left), 1)


class Mark(Struct, frozen=True):
    """A word at a place of an axis; ``anchor`` is SVG's."""

    x: float
    words: str
    anchor: str = "middle"


class Row(Struct, frozen=True):
    """A span as a bar, with a mark at its likely value; the part ``over`` its limit apart. ``usual`` : a stretch to compare with."""

    label: str
    figure: str
    y: float  # of the bar's upper edge
    start: float
    end: float
    likely: float
    limit: float | None = None
    over: float | None = None  # where the part over the limit begins
    usual: tuple[float, float] | None = None


class Spans(Struct, frozen=True, tag=True):
    """Spans one under the other on one scale."""

    name: str
    title: str
    telling: str
    told: tuple[str, ...]
    rows: tuple[Row, ...]
    marks: tuple[Mark, ...]
    height: float
    thick: float = _THICK
    template: str = "pictures/spans.svg.j2"


class Days(Struct, frozen=True, tag=True):
    """The middle of the piece over the days."""

    name: str
    title: str
    telling: str
    told: tuple[str, ...]
    band: str  # points of a polygon: low to high
    likely: str  # points of a line
    wanted: float  # height of the line to reach
    wanted_words: str
    stated: tuple[float, float] | None
    needed: tuple[float, float, float]  # least, typical, most days
    levels: tuple[Mark, ...]
    marks: tuple[Mark, ...]
    top: float = _CURVE_TOP
    floor: float = _CURVE_FLOOR
    height: float = _CURVE_FLOOR + 46
    template: str = "pictures/days.svg.j2"


Picture = Spans | Days


def pictures(recipe: Recipe, sums: Sums) -> list[Picture]:
    """Those that can be drawn of this recipe, in the order of the work."""
    drawn = (brine_temperature(sums), nitrite(recipe, sums), middle(sums), salt(recipe, sums))
    return [one for one in drawn if one is not None]


def nitrite(recipe: Recipe, sums: Sums) -> Spans | None:
    """Nitrite by each sum, against the limit that the sum stands under."""
    found = [one for name in _NITRITE if (one := sums.get(name)) is not None]
    if not found:
        return None
    limits = [limit_of(recipe, sums, one.name) for one in found]
    scale = Scale(0, round_above(max(*(one.value.high for one in found), *(limit.ppm for limit in limits if limit is not None), 1.0)))
    rows = [_row(_NITRITE[one.name], one.value, one.unit, index, scale, limit.ppm if limit is not None else None, top=limit.top if limit is not None else None) for index, (one, limit) in enumerate(zip(found, limits, strict=True))]
    words = list(dict.fromkeys(f"The dashed line is the limit, {limit.told}." for limit in limits if limit is not None)) or ["No limit is set for it here."]
    if any(row.over is not None for row in rows):
        words.append("What is dark is over it.")
    if any(one.name in ("nitrite_pick_up", "nitrite_estimate") for one in found) and len(found) > 1:
        words.append("The sums answer different questions; none of them measures the meat.")
    return _spans("nitrite", "Nitrite that goes in, by each sum", found, _NITRITE, rows, scale, "ppm", tuple(words))


def brine_temperature(sums: Sums) -> Spans | None:
    """The brine when the meat goes in, where ice makes it what it is, against the most it may be."""
    found = sums.get("brine_temperature")
    if found is None or not any(one.name == "ice at" for one in found.inputs):
        return None
    degf = corners(lambda celsius: celsius * 9 / 5 + 32, found.value)
    limit = facts.fact("brine_into_meat_max_f").value
    scale = Scale(min(20.0, 10 * (degf.low // 10)), 10 * (max(degf.high, limit) // 10 + 1))
    row = _row("After the ice", degf, "degF", 0, scale, limit)
    told = (f"The dashed line is {limit:g} °F: under it the brine is cold enough for meat.", *("What is dark is too warm." for _ in [row.over] if row.over is not None), *(f"{one[0].upper()}{one[1:]}." for one in found.assumed))
    return _spans("temperature", "The brine's temperature after the ice", [Sum("", degf, "degF", "", ())], {"": "After the ice"}, [row], scale, "°F", told)


def salt(recipe: Recipe, sums: Sums) -> Spans | None:
    """Salt on its way: the brine, the cured meat, the soaked meat, the plate."""
    found = [one for name in _SALT if (one := _soaked(sums) if name == "salt_after_soak" else sums.get(name)) is not None]
    if len(found) < 2 or found[-1].name != "salt_as_eaten":
        return None
    scale = Scale(0, round_above(max(one.value.high for one in found)))
    usual = taste.usual(recipe)
    rows = [_row(_SALT[one.name], one.value, one.unit, index, scale, None, usual if one.name == "salt_as_eaten" else None) for index, one in enumerate(found)]
    told = (f"The frame on the plate is what is usual for it: {figure(Span(usual.low, usual.low, usual.low), '')} to {figure(Span(usual.high, usual.high, usual.high), 'percent')} (our own figures).",)
    return _spans("salt", "Salt, from the brine to the plate" if found[0].name == "brine_strength" else "Salt, from the cure to the plate", found, _SALT, rows, scale, "%", told)


def _soaked(sums: Sums) -> Sum | None:
    try:
        return after_soak(sums)
    except CannotTell:
        return None


def middle(sums: Sums) -> Days | None:
    """Nitrite in the middle of the piece over the days, and the days that the page states."""
    needed, meat = sums.get("days_to_middle"), sums.recipe.process.meat
    if needed is None or sums.method.startswith("pumped") or sums.recipe.product == "ground" or (meat is not None and meat.ground):
        return None  # what is pumped or mixed in has no way to go
    try:
        stated = stay(sums).value
    except CannotTell:
        stated = None
    wanted = facts.fact("colour_ppm").value
    last = needed.value.high if stated is None else max(1.25 * stated.high, min(1.05 * needed.value.high, 3 * stated.high))
    end = round_above(max(last, 1.2 * needed.value.likely))
    try:
        curve = [(day, middle_by(sums, day)) for day in (end * step / _POINTS for step in range(_POINTS + 1))]
        reached = middle_by(sums, stated.likely) if stated is not None else None
    except (CannotTell, ValueError, OverflowError, ZeroDivisionError):
        return None
    across = Scale(0, end, 34.0, RIGHT)
    up = Scale(0, round_above(max(curve[-1][1].likely * 1.15, wanted * 1.5)), _CURVE_FLOOR, _CURVE_TOP)
    told = [f"Cure reaches the middle in {figure(needed.value, 'day')}."]
    if stated is not None:
        told.append(f"The page states {figure(stated, 'day')}." if reached is None else f"The page states {figure(stated, 'day')}; then the middle holds {figure(reached, 'ppm')}.")
    else:
        told.append("The page states no days.")
    low, high = [(across.at(day), up.at(span.low)) for day, span in curve], [(across.at(day), up.at(span.high)) for day, span in curve]
    return Days(
        "days", "Cure on its way to the middle", f"{' '.join(told)} A cured colour in the middle wants about {wanted:g} ppm.", tuple(told),
        _points(low + high[::-1]), _points([(across.at(day), up.at(span.likely)) for day, span in curve]),
        up.at(wanted), f"{wanted:g} ppm colours the middle",
        (across.at(stated.low), across.at(stated.high)) if stated is not None else None,
        (across.at(needed.value.low), across.at(needed.value.likely), across.at(needed.value.high)),
        tuple(Mark(up.at(value), round_(value)) for value in (0.0, up.high)),
        _axis(across, "days"),
    )  # fmt: skip


def _points(places: list[tuple[float, float]]) -> str:
    return " ".join(f"{x:g},{y:g}" for x, y in places)


def _row(label: str, span: Span, unit: str, index: int, scale: Scale, limit: float | None, usual: Span | None = None, top: float | None = None) -> Row:
    """``top`` : the limit with what its printed figure is rounded by, where that is more."""
    over = scale.at(max(span.low, limit)) if limit is not None and span.high > (top if top is not None else limit) else None
    return Row(
        label, figure(span, unit), 20 + index * _ROW, scale.at(span.low), scale.at(span.high), scale.at(span.likely), scale.at(limit) if limit is not None else None, over,
        (scale.at(usual.low), scale.at(usual.high)) if usual is not None else None,
    )  # fmt: skip


def _spans(name: str, title: str, found: list[Sum], labels: dict[str, str], rows: list[Row], scale: Scale, unit: str, told: tuple[str, ...]) -> Spans:
    telling = "; ".join(f"{labels[one.name]}: {figure(one.value, one.unit)}" for one in found)
    return Spans(name, title, f"{telling}. {' '.join(told)}", told, tuple(rows), _axis(scale, unit), 20 + len(rows) * _ROW + 8)


def _axis(scale: Scale, unit: str) -> tuple[Mark, ...]:
    """The ends of the scale and what is between in round steps, the unit at the last."""
    step = _step(scale.high - scale.low)
    count = int((scale.high - scale.low) / step + 1e-9)
    values = [scale.low + step * index for index in range(count + 1)]
    if scale.high - values[-1] < step / 2:
        values[-1] = scale.high
    else:
        values.append(scale.high)
    room = scale.right - _LAST_MARK
    marks = [Mark(scale.at(value), round_(value), "start" if value == scale.low and scale.left == LEFT else "middle") for value in values[:-1] if scale.at(value) <= room]
    return (*marks, Mark(scale.at(values[-1]), f"{round_(values[-1])} {unit}", "end"))


def _step(width: float) -> float:
    """A round step that cuts ``width`` into three to six."""
    size = 1.0
    while size > width:
        size /= 10
    while size * 10 <= width:
        size *= 10
    return next(step for step in (size / 5, size / 2, size, 2 * size, 5 * size) if width / step <= 6)

