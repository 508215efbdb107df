"""A batch as a cook reads it, as a recipe file, and as data with its figures."""

from __future__ import annotations

from typing import Any

from overhaul.batch import Batch, Compared, Found, Line
from overhaul.findings import WEIGHT
from overhaul.output.clean import as_json, clean, wrapped
from overhaul.output.plain import CAUTION, grade_words, source_words
from overhaul.output.tree import number, recipe_tree
from overhaul.span import Span
from overhaul.sums.work import Sums
from overhaul.sums.worked import figure, round_

_MOST_WRITTEN = 44
_FIRST = 160  # characters of a finding's message


def render(batch: Batch, width: int = 100) -> str:
    """The card: what to weigh, line by line beside what was written; days, what stays, the sums and the audit of the batch."""
    said = [clean(batch.recipe.title), wrapped(f"Batch for {clean(batch.size)}.", width), wrapped(clean(f"From {batch.source.page.name}, by weight. Spices and aromatics {_spices(batch)}."), width), ""]
    said += _weigh(batch.lines, width)
    said += _told("Days in the cure", batch.days.told if batch.days is not None else (), width)
    said += _told("To know", batch.notes, width)
    said += _told("Not scaled", tuple(f"line {one.line}  {one.words}: {one.why}" for one in batch.not_scaled), width)
    said += _sums(batch.sums, width)
    said += _audit(batch, width)
    if batch.sources:
        said += [wrapped(f"Sources: {source_words(batch.sources)}", width), ""]
    said.append(wrapped(CAUTION, width))
    return "\n".join(said) + "\n"


def _spices(batch: Batch) -> str:
    return "go with the meat" if abs(batch.spices - batch.factor) < 1e-9 else f"are {batch.spices:.3g} times the recipe, apart from the meat"


def _weigh(lines: tuple[Line, ...], width: int) -> list[str]:
    """Two columns: what to weigh, and what was written."""
    weights = max((len(one.weigh) for one in lines), default=0)
    names = max((len(clean(one.name)) for one in lines), default=0)
    weights, names = min(weights, 32), min(names, 30)
    said: list[str] = []
    before: str | None = ""
    for one in lines:
        if one.section != before and one.section:
            said += [*([""] if said else []), clean(one.section).rstrip(":")]
        before = one.section
        head = f"  {clean(one.weigh):>{weights}}  {clean(one.name):<{names}}  "
        written = clean(one.written)
        if len(written) > _MOST_WRITTEN:
            written = written[: _MOST_WRITTEN - 1].rstrip() + "…"
        said.append(f"{head}line {one.line}: {written}{_spread(one)}".rstrip())
        for note in one.notes:
            said.append(wrapped(clean(note), width, " " * (weights + 4)))
    wide = any(one.spread is not None for one in lines)
    return ["Weigh", *said, *([wrapped("In brackets: what the measure as written may weigh at this size. The likely is taken, and is what the batch is from now on.", width, "  ")] if wide else []), ""]


def _spread(line: Line) -> str:
    if line.spread is None or line.gram is None:
        return ""
    return f" ({round_(line.spread.low)} to {round_(line.spread.high)} g)"


def _told(head: str, parts: tuple[str, ...], width: int) -> list[str]:
    if not parts:
        return []
    return [head, *(wrapped(clean(f"{part[0].upper()}{part[1:]}."), width, "  ") if not part.startswith("line ") else wrapped(clean(f"{part}."), width, "  ") for part in parts), ""]


def _sums(compared: tuple[Compared, ...], width: int) -> list[str]:
    if not compared:
        return []
    lines = ["Worked forward again: as written, then as weighed"]
    for one in compared:
        before, after = (figure(span, one.unit) if span is not None else "cannot be worked" for span in (one.before, one.after))
        lines.append(wrapped(f"{one.name.replace('_', ' ')}: {before} → {after}", width, "  "))
    return [*lines, ""]


def _audit(batch: Batch, width: int) -> list[str]:
    found = sorted(batch.findings, key=lambda one: (WEIGHT[one.finding.grade], not one.finding.certain, one.line))
    head = "Audit of the batch"
    if not found:
        lines = [f"{head}: nothing found"]
    else:
        fresh = sum(1 for one in found if not one.known)
        lines = [f"{head}: {len(found)} found, {fresh if fresh else 'none'} that the recipe has not"]
    lines += [wrapped(_finding(one), width, "  ") for one in found]
    if batch.settled:
        lines.append(f"  {batch.settled} of the recipe’s findings {'is' if batch.settled == 1 else 'are'} settled by weighing.")
    return [*lines, ""]


def _finding(one: Found) -> str:
    message = one.finding.message
    if len(message) > _FIRST:
        message = message[:_FIRST].rsplit(" ", 1)[0] + " …"
    signed = ", signed off" if one.finding.signed_off is not None and not one.finding.signed_off.stale else ""
    return f"line {one.line}: {grade_words(one.finding)}, {one.finding.rule}{', the recipe has it too' if one.known else ', NEW in this batch'}{signed}: {clean(message)}"


def tree(batch: Batch, sums: Sums, raw: bytes | None = None) -> dict[str, Any]:
    """The recipe file of the batch, with its figures under ``batch``."""
    ways = [Sums(way, sums.house).all() for way in batch.recipe.ways]
    told = recipe_tree(batch.recipe, sums.all(), raw, ways)
    made: dict[str, Any] = {key: told.pop(key) for key in ("format", "title", "product", "source", "yield") if key in told}
    return {**made, "batch": figures(batch), **told}


def figures(batch: Batch) -> dict[str, Any]:
    """What the batch is for and how it was worked; sums as written and as weighed, findings by their rule."""
    return {
        "for": batch.size, "factor": number(batch.factor), "brine": number(batch.brine), "spices": number(batch.spices),
        **({"meat": {"gram": number(batch.meat_gram)}} if batch.meat_gram is not None else {}),
        "weigh": [_line(one) for one in batch.lines],
        **({"days": {"told": list(batch.days.told), **({"low": batch.days.change[0], "high": batch.days.change[1]} if batch.days.change is not None else {})}} if batch.days is not None else {}),
        "not_scaled": [{"line": one.line, "text": one.words, "why": one.why} for one in batch.not_scaled],
        "notes": list(batch.notes),
        "sums": [{"name": one.name, "unit": one.unit, "before": _span(one.before), "after": _span(one.after)} for one in batch.sums],
        "findings": [{"rule": one.finding.rule, "grade": str(one.finding.grade), "certain": one.finding.certain, "line": one.line, "in_recipe": one.known} for one in batch.findings],
        "settled": batch.settled,
        "sources": [cite.key for cite in batch.sources],
        "caution": CAUTION,
    }  # fmt: skip


def _line(one: Line) -> dict[str, Any]:
    told: dict[str, Any] = {"line": one.line, "name": one.name, "role": one.role, "written": one.written, "how": one.how, "weigh": one.weigh}
    if one.gram is not None:
        told["gram"] = number(one.gram)
    if one.spread is not None:
        told["as_written"] = _span(one.spread)
    if one.notes:
        told["notes"] = list(one.notes)
    return told


def _span(span: Span | None) -> dict[str, Any] | None:
    return {"low": number(span.low), "likely": number(span.likely), "high": number(span.high)} if span is not None else None


def render_yaml(batch: Batch, sums: Sums, raw: bytes) -> str:
    from overhaul import yaml_text

    return yaml_text.dump([tree(batch, sums, raw)])


def render_json(batch: Batch, sums: Sums, raw: bytes) -> str:
    return as_json(tree(batch, sums, raw))
