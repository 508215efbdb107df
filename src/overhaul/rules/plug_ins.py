"""Rules of a kitchen's own: installed distributions give them through the entry point group ``overhaul.rules``.

An entry point is one ``Rule``, a list of them, or a module with one as ``RULE`` or several as ``RULES``. They run after our own
and are shown by ``overhaul grounds``. A plug-in that does not load is left out and told of in one line; one that fails on a page,
or says what no finding can be, is told of there. Only what is installed counts, never a file in the folder that is worked in;
``OVERHAUL_PLUG_INS=off`` in the environment leaves all of them out.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import TYPE_CHECKING

import msgspec
from msgspec import Struct

from overhaul import entry_points, facts
from overhaul.findings import Cite, Finding
from overhaul.rules.rule import Case, Rule
from overhaul.text import Place

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

_TEXTS = ("family", "reports", "why", "silent", "sound", "faulty")


class PlugIn(Struct, frozen=True):
    """One rule of a plug-in: the entry point that gave it, and the name and version of its distribution."""

    rule: Rule
    entry: str
    distribution: str


class Found(Struct, frozen=True):
    """What is installed: the rules that will run, in order, and a line on each plug-in that is left out."""

    plug_ins: tuple[PlugIn, ...] = ()
    left_out: tuple[str, ...] = ()


class Bad(Exception):
    """Why a plug-in, or what it says, cannot stand."""


@cache
def found() -> Found:
    """The plug-ins of this environment, loaded once a process, by distribution and then by entry point."""
    entries = entry_points.entries()
    if not entries:
        return Found()
    from overhaul.rules import across, all_rules

    taken = {rule.name: "a rule of Overhaul itself" for rule in (*all_rules(), *across.RULES)}
    good: list[PlugIn] = []
    left_out: list[str] = []
    for distribution, entry in entries:
        try:
            own = _rules(entry)
            for rule in own:
                _check(rule, taken)
            if len({rule.name for rule in own}) < len(own):
                raise Bad("two of its rules have one name")
        except (Exception, SystemExit) as problem:  # whatever an installed module does, the audit goes on
            why = str(problem) if isinstance(problem, Bad) else f"{type(problem).__name__}: {problem}"
            left_out.append(f"the plug-in “{entry.name}” of {distribution} is left out: {why}")
            continue
        good += [PlugIn(rule, entry.name, distribution) for rule in own]
        taken |= {rule.name: f"a rule of {distribution}" for rule in own}
    return Found(tuple(good), tuple(left_out))


def _rules(entry: EntryPoint) -> tuple[Rule, ...]:
    given = entry.load()
    for name in ("RULES", "RULE"):
        given = getattr(given, name, given)
    own = tuple(given) if isinstance(given, (list, tuple)) else (given,)
    if not own or not all(isinstance(rule, Rule) for rule in own):
        raise Bad(f"“{entry.value}” is neither a Rule nor a module with RULE or RULES")
    return own


def _check(rule: Rule, taken: dict[str, str]) -> None:
    if not isinstance(rule.name, str) or not all(part.isascii() and part.isalpha() and part.islower() for part in rule.name.split("-")):
        raise Bad(f"{rule.name!r} is no name for a rule: plain words in small letters, joined by hyphens")
    if rule.name in taken:
        raise Bad(f"“{rule.name}” is {taken[rule.name]} already")
    if not callable(rule.check) or not all(isinstance(getattr(rule, key), str) for key in _TEXTS) or not isinstance(rule.sum, str | None):
        raise Bad(f"“{rule.name}”: a function to check and texts for {', '.join(_TEXTS)} are wanted")
    if not (isinstance(rule.expect, tuple) and len(rule.expect) == 2 and all(isinstance(one, str) for one in rule.expect)):
        raise Bad(f"“{rule.name}”: expect is a place and the message there")
    _check_sources(rule.name, rule.sources)


def _check_sources(name: str, cites: tuple[Cite, ...]) -> None:
    for cite in cites:
        if not isinstance(cite, Cite) or cite.key not in facts.sources():
            raise Bad(f"“{name}”: there is no source {cite!r}; a kitchen's own binder is Cite(\"house-rule\", \"where in it\")")


def rules() -> tuple[Rule, ...]:
    """The rules of all plug-ins."""
    return tuple(one.rule for one in found().plug_ins)


def whose(rule: Rule) -> str | None:
    """The distribution, with its version, that a rule comes from; None for one of ours."""
    return next((one.distribution for one in found().plug_ins if one.rule is rule), None)


def said_by(rule: Rule, case: Case) -> Iterator[Finding]:
    """What a plug-in's rule says of ``case``, each finding checked. Raises Bad for one that cannot stand, and what the rule raises."""
    for finding in rule.check(case):
        if not isinstance(finding, Finding):
            raise Bad(f"it gave {type(finding).__name__} where a Finding is wanted")
        try:
            whole = msgspec.convert(msgspec.to_builtins(finding), Finding)
        except (msgspec.ValidationError, TypeError) as problem:
            told = str(problem)
            for number, name in enumerate(Finding.__struct_fields__):  # kept by position, and so told of by position
                told = told.replace(f"$[{number}]", name)
            raise Bad(f"what it gave is no whole Finding: {told}") from None
        if whole.rule != rule.name:
            raise Bad(f"it spoke in the name of “{whole.rule}”")
        for place in (whole.place, *(edit.place for edit in (whole.remedy.edits if whole.remedy is not None else ()))):
            if not _on_page(place, case):
                raise Bad(f"a place outside the page: {place.start} to {place.end}")
        _check_sources(rule.name, whole.sources)
        yield whole


def _on_page(place: Place, case: Case) -> bool:
    return place.end <= len(case.recipe.page.text) or any(place == one.place for one in case.recipe.edited)
