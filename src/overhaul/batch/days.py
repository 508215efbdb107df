"""The days of a batch: by the thickness, never by the weight."""

from __future__ import annotations

from math import ceil

from msgspec import Struct
from msgspec.structs import replace

from overhaul.batch.asking import Piece
from overhaul.batch.sizing import Size
from overhaul.findings import Cite
from overhaul.house import House
from overhaul.recipe.model import Recipe
from overhaul.span import Span
from overhaul.sums.work import Sums
from overhaul.sums.worked import CannotTell, Sum, figure, round_

_SAME = 0.05  # share of the thickness: a piece as thick as that
_INCH = 25.4


class Days(Struct, frozen=True):
    """``told`` in words; ``change`` is what the batch's page is to say in place of the recipe's days, None where those stay."""

    told: tuple[str, ...]
    change: tuple[int, int] | None
    sources: tuple[Cite, ...] = ()


def days_for(sized: Size, source: Recipe, batch: Recipe, house: House) -> Days | None:
    """The days in the cure of ``batch``, which is weighed out already from ``source``; None for a recipe that is neither cured nor brined."""
    recipe = sized.base
    process = recipe.process
    stay = process.cure_time
    sums = Sums(recipe, house)
    if sums.method == "none" and stay is None:
        return None
    asked = [piece for piece in sized.pieces if piece.thickness is not None]
    now = _now(recipe)
    if not asked:
        of = "they go by the thickness, and no other was said" if sized.pieces or sized.meat != 1 else "as the recipe has them"
        thick = process.meat.thickness if process.meat is not None and process.meat.thickness_stated else None
        where = f", for {thick_words(thick)} thick" if thick is not None else ""
        return Days((f"{now}{where}: {of}" if stay is not None else now,), None)
    old = source.process.meat.thickness if source.process.meat is not None and source.process.meat.thickness_stated else None
    if old is not None and all(piece.thickness is not None and alike(old, piece.thickness) for piece in asked):
        return Days((f"{now}: the meat is as thick as the recipe’s ({thick_words(old)})",), None)
    if sums.method in ("pumped",):
        return Days((f"{now}: the needle carries the cure, so that the thickness does not decide",), None)
    if process.cure_rate is not None and (stay is None or stay.place == process.cure_rate.place):
        return _by_own_rate(batch, house)
    return _worked(batch, asked, old, now, house)


def _by_own_rate(batch: Recipe, house: House) -> Days:
    """The page's own days for so much thickness or weight, which it works for this meat by itself; diffusion beside it."""
    days = Sums(batch, house).get("days_to_middle")
    beside = (f"by diffusion: {figure(days.value, 'day')}",) if days is not None else ()
    rate = batch.process.cure_rate
    own = f"{_now(batch)} by the recipe’s own rate, for this meat" if batch.process.cure_time is not None and rate is not None else "the recipe has a rate of its own, and nothing to work it from"
    return Days((own, *beside), None, days.sources if days is not None else ())


def alike(one: Span, other: Span) -> bool:
    return abs(one.high - other.high) <= _SAME * one.high


def _now(recipe: Recipe) -> str:
    stay = recipe.process.cure_time
    if stay is None:
        return "the recipe does not say how long it cures"
    low, high = round_(stay.low), round_(stay.high)
    return f"{low if low == high else f'{low} to {high}'} {stay.unit}{'s' if stay.high != 1 else ''}"


def thick_words(span: Span) -> str:
    """``64 mm (2.5 in)``."""
    mm = round_(span.low) if span.exact else f"{round_(span.low)} to {round_(span.high)}"
    inch = f"{span.low / _INCH:.3g}" if span.exact else f"{span.low / _INCH:.3g} to {span.high / _INCH:.3g}"
    return f"{mm} mm ({inch} in)"


def _worked(batch: Recipe, asked: list[Piece], old: Span | None, now: str, house: House) -> Days:
    """By diffusion for each piece; the thickest decides when all come out together."""
    told: list[str] = []
    found: list[tuple[float, Sum]] = []
    for piece in asked:
        assert piece.thickness is not None
        days = _days_to_middle(batch, piece.thickness, house)
        if isinstance(days, str):
            return Days((f"{now}, for {thick_words(old) if old is not None else 'a thickness that the recipe does not state'}; for {thick_words(piece.thickness)} they cannot be worked: {days}",), None)
        found.append((piece.thickness.high, days))
        if len(asked) > 1:
            told.append(f"{piece.name or 'piece'} of {thick_words(piece.thickness)}: {_range(days)}")
    thickest, longest = max(found, key=lambda one: one[1].value.likely)
    low, high = ceil(longest.value.likely - 1e-9), ceil(longest.value.high - 1e-9)
    whose = thick_words(old) if old is not None else "a thickness that it does not state"
    head = f"{low} to {high} days, typical to slowest, for the middle of {round_(thickest)} mm; the recipe has {now}, for {whose}" if low != high else f"{low} days for the middle of {round_(thickest)} mm; the recipe has {now}, for {whose}"
    how = f"by {longest.formula.removeprefix('time for ')}: {figure(longest.value, 'day')}"
    rest = tuple(f"assumed: {one}" for one in longest.assumed)
    more = ("the thickest decides when all come out together; thinner pieces may come out at their own days",) if len(asked) > 1 else ()
    inserted = () if batch.process.cure_time is not None else ("the page has no line for the days; write it in",)
    return Days((head, *told, *more, how, *rest, *inserted), (low, high) if batch.process.cure_time is not None else None, longest.sources)


def _range(days: Sum) -> str:
    return f"{ceil(days.value.likely - 1e-9)} to {ceil(days.value.high - 1e-9)} days"


def _days_to_middle(batch: Recipe, thickness: Span, house: House) -> Sum | str:
    """The days of one piece of this ``thickness`` in the batch, or why they cannot be worked."""
    process = batch.process
    if process.meat is None:
        return "the recipe names no meat"
    meat = replace(process.meat, thickness=thickness, thickness_stated=True, sides=())
    try:
        return Sums(replace(batch, process=replace(process, meat=meat)), house).need("days_to_middle")
    except CannotTell as reason:
        return str(reason)
