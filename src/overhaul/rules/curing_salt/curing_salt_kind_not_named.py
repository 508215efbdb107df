"""A curing salt of unknown kind or strength."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.reading import lexicon
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    for item in case.recipe.of_role("cure1", "cure2", "ready-mix"):
        if item.strength is not None or item.role in case.house.strengths or (item.role != "ready-mix" and lexicon.names_its_kind(item.name, item.state or "")):
            continue
        if item.role == "cure1":
            message = f"“{item.name}” names no kind: cure #1 (6.25 % nitrite), cure #2 (with nitrate), a weak ready mix and pink rock salt with no nitrite at all are all called that. The sums here take it as cure #1."
        else:
            message = f"“{item.name}” does not say how strong it is; such mixes run from 0.4 to 0.9 % nitrite, some with nitrate. The sums here use that span."
        yield Finding(
            RULE.name, Grade.QUERY, False, item.name_place, message,
            remedy=Remedy("Write the kind and the strength off the label beside it, for example “cure #1 (6.25 % nitrite)”; no label, no use."), sources=(Cite("kitchen-weighings", "labels"),),
            settled_by=f"curing_salts.{item.role}",
        )  # fmt: skip


RULE = Rule(
    name="curing-salt-kind-not-named",
    family="curing_salt",
    check=check,
    reports="A curing salt whose name gives neither kind nor strength.",
    why="Strengths on sale differ fifteen times over. People have been poisoned by an order that named the wrong one.",
    silent="A number (#1, #2), a stated percentage, tinted cure, or a house sheet that settles it.",
    sources=(Cite("kitchen-weighings", "labels"),),
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure #1 (6.25 % nitrite)", "20 g pink salt"), ("cure #1", "pink salt")),
    expect=("9:6-15", "“pink salt” names no kind: cure #1 (6.25 % nitrite), cure #2 (with nitrate), a weak ready mix and pink rock salt with no nitrite at all are all called that. The sums here take it as cure #1."),
)
