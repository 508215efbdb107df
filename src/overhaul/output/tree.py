"""The recipe as plain data, in the shape and key order of the recipe file. Keys without a value are left out."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

from overhaul.recipe.model import (
    Amount,
    Branch,
    Cooling,
    CureRate,
    Fact,
    Ingredient,
    Instead,
    Measured,
    Meat,
    Mention,
    Process,
    Recipe,
    Section,
    Step,
    Storage,
    Strength,
)
from overhaul.span import Span
from overhaul.sums.worked import Sum

FORMAT = "overhaul/1"


def number(value: Fraction | float) -> int | float:
    """A number as a page would print it: whole numbers whole, the rest to nine figures."""
    short = float(f"{float(value):.9g}")
    return int(short) if short == int(short) and abs(short) < 1e15 else short


def _bare(**keys: Any) -> dict[str, Any]:
    return {key.rstrip("_"): value for key, value in keys.items() if value is not None and value not in ([], {})}


def recipe_tree(recipe: Recipe, sums: Mapping[str, Sum], raw: bytes | None = None, branch_sums: Sequence[Mapping[str, Sum]] = ()) -> dict[str, Any]:
    """``recipe`` with its worked ``sums``, and those of each of its branches. ``raw`` are the bytes of the source, for its checksum."""
    page = recipe.page
    data = raw if raw is not None else page.text.encode("utf-8", "surrogatepass")
    yields = recipe.yields
    return _bare(
        format=FORMAT,
        title=recipe.title,
        product=recipe.product,
        source={"file": page.name, "sha256": hashlib.sha256(data).hexdigest()},
        yield_=None if yields is None else {"text": yields.text, "low": number(yields.low), "high": number(yields.high), "unit": yields.unit, "line": yields.line},
        sections=[_section(section, recipe) for section in recipe.sections if section.ingredients],
        steps=[_step(step) for step in recipe.steps],
        process=_process(recipe.process),
        branches=[_branch(branch, worked) for branch, worked in zip(recipe.branches, branch_sums or ({},) * len(recipe.branches), strict=True)],
        references=[_bare(line=one.line, text=one.text, to=one.to, page=one.page, step=one.step) for one in recipe.references],
        notes=[{"line": note.line, "text": note.text} for note in recipe.notes],
        lines=[{"line": line.line, "kind": line.kind, "text": line.text} for line in recipe.lines],
        unread=[dict(zip(("line", "column"), page.position(unread.place.start), strict=True), text=unread.text) for unread in recipe.unread],
        sums=sums_tree(sums),
    )


def _amount(amount: Amount | None) -> dict[str, Any] | None:
    if amount is None:
        return None
    return _bare(low=number(amount.low), high=number(amount.high), unit=amount.unit, parts=[_amount(part) for part in amount.parts], about=amount.vague)


def _span(span: Span | None, unit: str, **more: Any) -> dict[str, Any] | None:
    return None if span is None else {"low": number(span.low), "likely": number(span.likely), "high": number(span.high), "unit": unit, **more}


def _section(section: Section, recipe: Recipe) -> dict[str, Any]:
    return {"name": section.name, "line": section.line, "use": section.use, "ingredients": [_ingredient(item, recipe) for item in section.ingredients]}


def _ingredient(item: Ingredient, recipe: Recipe) -> dict[str, Any]:
    per = None
    if item.per is not None:
        per = _bare(amount=number(item.per.amount) if item.per.amount is not None else None, unit=item.per.unit, of=item.per.of)
    return _bare(
        line=item.line,
        text=item.text,
        name=item.name,
        role=item.role,
        count=_amount(item.count),
        amount=_amount(item.amount),
        each=item.each if item.count is not None else None,
        per=per,
        also=[_amount(amount) for amount in item.also],
        instead=[_instead(other) for other in item.instead],
        columns=[_bare(factor=number(column.factor) if column.factor is not None else None, amount=_amount(column.amount)) for column in item.columns],
        was=[_amount(amount) for amount in item.was],
        strength=_strength(item.strength),
        state=item.state,
        optional=item.optional or None,
        in_method=item.in_method or None,
        doubt=item.doubt,
        mass=_span(item.mass, "gram"),
    )


def _strength(strength: Strength | None) -> dict[str, Any] | None:
    return None if strength is None else _bare(nitrite=_span(strength.nitrite, "percent"), nitrate=_span(strength.nitrate, "percent"))


def _instead(other: Instead) -> dict[str, Any]:
    return _bare(name=other.name, role=other.role, amount=_amount(other.amount), also=[_amount(amount) for amount in other.also])


def _measured(all_of: Iterable[Measured]) -> list[dict[str, Any]]:
    return [_bare(low=number(one.amount.low), high=number(one.amount.high), unit=one.amount.unit, of=one.of) for one in all_of]


def _step(step: Step) -> dict[str, Any]:
    return _bare(
        line=step.line,
        end_line=step.end_line,
        text=step.text,
        phase=step.phase,
        then=list(step.then),
        actions=list(step.actions),
        times=_measured(step.times),
        temperatures=_measured(step.temperatures),
        lengths=_measured(step.lengths),
        uses=[_bare(name=taken.name, amount=_amount(taken.amount)) for taken in step.uses],
        amounts=_measured(step.amounts),
    )


def _fact(fact: Fact | None, **more: Any) -> dict[str, Any] | None:
    if fact is None:
        return None
    dwell = None if fact.dwell is None else {"low": number(fact.dwell.low), "high": number(fact.dwell.high), "unit": fact.dwell.unit, "line": fact.dwell.line}
    return _bare(low=number(fact.low), high=number(fact.high), unit=fact.unit, line=fact.line, **more, dwell=dwell)


def _cure_rate(rate: CureRate | None) -> dict[str, Any] | None:
    if rate is None:
        return None
    return _bare(low=number(rate.low), high=number(rate.high), unit=rate.unit, per={"amount": number(rate.per), "unit": rate.per_unit}, more=number(rate.more) if rate.more else None, line=rate.line)


def _mention(mention: Mention | None) -> dict[str, Any] | None:
    return None if mention is None else {"line": mention.line}


def _meat(meat: Meat | None) -> dict[str, Any] | None:
    if meat is None:
        return None
    return _bare(
        line=meat.line,
        name=meat.name,
        species=meat.species,
        cut=meat.cut,
        pieces=None if meat.pieces is None else {"low": meat.pieces[0], "high": meat.pieces[1]},
        mass=_span(meat.mass, "gram", stated=meat.mass_stated),
        thickness=_span(meat.thickness, "millimetre", stated=meat.thickness_stated),
    )


def _cooling(leg: Cooling) -> dict[str, Any]:
    return {"from": number(leg.start), "to": number(leg.end), "unit": "degF", "low": number(leg.low), "high": number(leg.high), "time_unit": "hour", "line": leg.line}


def _storage(storage: Storage | None) -> dict[str, Any] | None:
    if storage is None:
        return None
    return _bare(low=number(storage.low), high=number(storage.high), unit="day", line=storage.line, temperature=_fact(storage.temperature), kept=storage.kept)


def _process(process: Process) -> dict[str, Any]:
    brine = process.brine_temperature
    return _bare(
        meat=_meat(process.meat),
        meats=[_meat(meat) for meat in process.meats] if len(process.meats) > 1 else None,
        cure=None if process.cure is None else {"method": process.cure.method, "balance": process.cure.balance, "line": process.cure.line},
        pump=_fact(process.pump),
        cure_time=_fact(process.cure_time, stated=None if process.cure_time.stated else False, in_a_hurry=_fact(process.cure_time_hurried)) if process.cure_time is not None else None,
        cure_rate=_cure_rate(process.cure_rate),
        cure_temperature=_fact(process.cure_temperature),
        brine_temperature=_fact(brine, stated=brine.stated) if brine is not None else None,
        tub=_fact(process.tub, material=process.tub_material) if process.tub is not None else _bare(material=process.tub_material) or None,
        weighed_down=_mention(process.weighed_down),
        turning=None if process.turning is None else _bare(line=process.turning.line, days=list(process.turning_days) or None),
        thaw=_mention(process.thaw),
        rinse=_mention(process.rinse),
        soak=_fact(process.soak, waters=process.soak_waters if process.soak_waters > 1 else None),
        dry=_fact(process.dry),
        smoke_temperature=_fact(process.smoke_temperature),
        smoke_time=_fact(process.smoke_time),
        final_temperature=_fact(process.final_temperature),
        cook_time=_fact(process.cook_time),
        hold=_fact(process.hold),
        rest=_fact(process.rest),
        cooling=[_cooling(leg) for leg in process.cooling],
        storage=_storage(process.storage),
    )


def _branch(branch: Branch, sums: Mapping[str, Sum]) -> dict[str, Any]:
    return {"name": branch.name, "steps": list(branch.lines), "process": _process(branch.process), "sums": sums_tree(sums)}


def sums_tree(sums: Mapping[str, Sum]) -> dict[str, Any]:
    """Sums by name."""
    return {name: sum_tree(worked) for name, worked in sums.items()}


def sum_tree(worked: Sum) -> dict[str, Any]:
    """One sum in the shape of the recipe file."""
    return _bare(
        **(_span(worked.value, worked.unit) or {}),
        formula=worked.formula,
        inputs=[_bare(name=given.name, **(_span(given.value, given.unit) or {}), line=given.line, stated=given.stated, source=given.source) for given in worked.inputs],
        assumed=list(worked.assumed),
        sources=[cite.key for cite in worked.sources],
        beside=[sum_tree(one) for one in worked.beside] or None,
    )
