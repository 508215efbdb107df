"""Small recipes, findings and sums made by hand, so that what is shown can be checked to the letter."""

from __future__ import annotations

from fractions import Fraction

from overhaul.findings import Cite, Edit, Finding, Grade, Remedy, SignOff
from overhaul.pipeline import Audited
from overhaul.recipe.model import (
    Amount,
    Branch,
    Column,
    Cooling,
    Cure,
    Fact,
    Ingredient,
    Instead,
    LineKind,
    Measured,
    Meat,
    Mention,
    Note,
    Per,
    Process,
    ReadLine,
    Recipe,
    Section,
    Step,
    Storage,
    Taken,
    Unread,
    Yield,
)
from overhaul.span import Span, exactly
from overhaul.sums.worked import Input, Sum
from overhaul.text import Page, Place

TEXT = """\
Corned flat
about 20 portions
Brine
3 cups salt
2 (14 oz) bottles stout
Cure 7 to 10 days at 38 F, weighed down.
Then cook to 203 F ¿4.
"""
PAGE = Page(TEXT, "corned.txt")


def at(words: str) -> Place:
    """Where ``words`` stand in TEXT."""
    start = TEXT.index(words)
    return Place(start, start + len(words))


def amount(low: int | str, unit: str, words: str, high: int | str | None = None) -> Amount:
    return Amount(Fraction(low), Fraction(low if high is None else high), unit, at(words))


SALT = Ingredient(
    4, "3 cups salt", at("3 cups salt"), "salt", at("salt"), "salt", "table_salt", amount(3, "cup", "3 cups"),
    also=(amount("12.5", "ounce", "3"),), instead=(Instead("kosher salt", "salt", None, amount(4, "cup", "3"), None, at("salt")),),
    columns=(Column(Fraction(1), amount(3, "cup", "3")), Column(Fraction(2), amount(6, "cup", "3"))), was=(amount(5, "cup", "3"),),
    state="fine", optional=True, doubt="3 or 8?", mass=Span(800, 876.5, 900),
)  # fmt: skip
STOUT = Ingredient(
    5, "2 (14 oz) bottles stout", at("2 (14 oz) bottles stout"), "stout", at("stout"), "liquid", None, amount(14, "ounce", "14 oz"),
    count=amount(2, "bottle", "2 (14 oz) bottles"), each=True, per=Per(Fraction(1), "gallon", "water", at("14 oz")),
)  # fmt: skip
STEP = Step(
    6, 6, "Cure 7 to 10 days at 38 F, weighed down.", at("Cure 7 to 10 days at 38 F, weighed down."), "cure", ("cure",), (Measured(amount(7, "day", "7 to 10 days", 10)),),
    (Measured(amount(38, "degF", "38 F"), "fridge"),), uses=(Taken("brine", None, at("Cure")),),
)  # fmt: skip
PROCESS = Process(
    meat=Meat(1, at("flat"), "flat", "beef", "beef_brisket_flat", (2, 2), exactly(4000), True, Span(40, 50.8, 60), False),
    cure=Cure("immersion", "gradient", 6, at("Cure")),
    cure_time=Fact(7, 10, "day", 6, at("7 to 10 days")),
    brine_temperature=Fact(38, 38, "degF", 6, at("38 F"), stated=False),
    weighed_down=Mention(6, at("weighed down"), "weighed down"),
    final_temperature=Fact(203, 203, "degF", 7, at("203 F"), dwell=Fact(30, 30, "minute", 7, at("203 F"))),
    cooling=(Cooling(135, 70, 2, 2, 7, at("Then")),),
    storage=Storage(4, 4, 7, at("Then"), Fact(38, 40, "degF", 7, at("Then")), "cold"),
)
KINDS: tuple[LineKind, ...] = ("title", "note", "heading", "ingredient", "ingredient", "step", "step")
RECIPE = Recipe(
    PAGE, "Corned flat", at("Corned flat"), "corned beef", (Section("Brine", 3, at("Brine"), (SALT, STOUT)),), (STEP,), PROCESS,
    branches=(Branch("Pot", (7,), Process(cure=Cure("immersion", None, 6, at("Cure")))),),
    yields=Yield("about 20 portions", Fraction(20), Fraction(20), "portion", 2, at("about 20 portions")),
    notes=(Note(7, "Then cook", at("Then cook")),),
    lines=tuple(ReadLine(line.number, kind, PAGE.line(line.number)) for line, kind in zip(PAGE.lines, KINDS, strict=True)),
    unread=(Unread(at("4."), "4"),), last_line=7,
)  # fmt: skip
STRENGTH = Sum(
    "brine_strength", Span(4, 5, 6.25), "percent", "salt ÷ all the brine", (Input("salt", Span(800, 876.5, 900), "gram", 4), Input("water", exactly(4000), "gram", None, False, "assumed")),
    ("ice melts whole",), (Cite("inspectors-handbook", "p. 1"),),
)  # fmt: skip

HAZARD = Finding(
    "curing-salt-over-limit", Grade.HAZARD, True, at("3 cups"), "Far over.", sum="3 ÷ 1 = 3", remedy=Remedy("Weigh 2.", (Edit(at("3 cups"), "2 ounces"),)),
    sources=(Cite("cfr-424-21", "(c)"),), signed_off=SignOff("jb", "2026-11-02", "made it for years"),
)  # fmt: skip
POSSIBLE = Finding("brine-warm", Grade.HAZARD, False, at("38 F"), "It may be warm.")
FAULT = Finding("cure-time-short", Grade.FAULT, False, at("7 to 10 days"), "Too few days.", signed_off=SignOff("jb", "2026-11-02", "thin", stale=True))
QUERY = Finding("rest-missing", Grade.QUERY, False, PAGE.end_of(7), "No rest is written.", absent=True)


def audited(*findings: Finding, file: str = "corned.txt") -> Audited:
    return Audited(file, PAGE, titles=(RECIPE.title,), findings=findings)


UNREADABLE = Audited("scan.txt", unreadable="a binary file, not text")
