"""What to weigh out for a wanted figure, as a cook reads it and as data."""

from __future__ import annotations

from typing import Any

from overhaul.findings import Cite
from overhaul.output.clean import clean, wrapped
from overhaul.output.plain import source_words
from overhaul.output.tree import number, sums_tree
from overhaul.recipe.model import Recipe
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case
from overhaul.span import exactly
from overhaul.sums.answers import Answer, Bound, NoAnswer, Wanted, Weighed, answers
from overhaul.sums.work import Sums
from overhaul.sums.worked import figure, pencilled

Given = list[Answer | NoAnswer]


def given(recipe: Recipe, sums: Sums, wanted: Wanted) -> Given:
    """The answers for one recipe, under the limit that it stands under."""
    limit = judging.limit_for(Case(recipe, sums, sums.house), "nitrite")
    return list(answers(sums, wanted, Bound(limit.ppm, limit.told, limit.fact.cite) if limit is not None else None))


def lines(found: Given, width: int) -> list[str]:
    """The part of the page; nothing where nothing can be told."""
    if not found:
        return []
    said = ["To weigh out"]
    sources: dict[str, Cite] = {}
    for one in found:
        if isinstance(one, NoAnswer):
            said.append(wrapped(f"{one.asked}: cannot be told; {clean(one.why)}", width, "    "))
            continue
        what = "; ".join(_weighed(part) for part in one.weigh)
        said.append(wrapped(clean(f"For {one.asked}: {what}." if what else f"For {one.asked}: any amount of meat."), width))
        said.append(wrapped(clean(f"{pencilled(one.pencil)} = {figure(exactly(one.result[0]), one.result[1])}"), width, "    "))
        if one.again:
            again = "; ".join(f"{worked.name.replace('_', ' ')} {figure(worked.value, worked.unit)}" for worked in one.again)
            said.append(wrapped(f"Worked again from that: {again}.", width, "    "))
        if one.assumed:
            said.append(wrapped(f"Assumed: {clean('; '.join(one.assumed))}.", width, "    "))
        sources |= {cite.key: Cite(cite.key) for cite in one.sources}
    said += [wrapped(f"Sources: {source_words(sources.values())}", width, "    "), ""]
    return said


def _weighed(part: Weighed) -> str:
    """``18.5 g curing salt no. 1 (line 9: now 42 g)``."""
    now = [f"line {part.line}" if part.line is not None else "", f"now {figure(part.now, part.unit)}" if part.now is not None else "no amount now"]
    return f"{figure(exactly(part.value), part.unit)} {part.name} ({': '.join(word for word in now if word)})" if part.value else f"no {part.name} (line {part.line})"


def tree(found: Given) -> list[dict[str, Any]]:
    """``[{asked, weigh: [{name, amount, unit, line}], formula, again, assumed, sources}]``; ``why`` in place of them where it cannot be told."""
    return [
        {"name": one.name, "asked": one.asked, "why": one.why}
        if isinstance(one, NoAnswer)
        else {
            "name": one.name, "asked": one.asked,
            "weigh": [{"name": part.name, "amount": number(part.value), "unit": part.unit, "line": part.line} for part in one.weigh],
            "formula": pencilled(one.pencil), "result": {"value": number(one.result[0]), "unit": one.result[1]}, "again": sums_tree({worked.name: worked for worked in one.again}), "assumed": list(one.assumed),
            "sources": [cite.key for cite in one.sources],
        }
        for one in found
    ]  # fmt: skip
