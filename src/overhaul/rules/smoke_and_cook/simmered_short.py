"""Corned beef out of the pot before it is tender."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Finding, Grade, Remedy
from overhaul.reading import phrases
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.span import between
from overhaul.sums.tender import hours_a_pound, pounds_a_piece

_IN_THE_POT = frozenset(["simmer", "boil", "poach"])


def check(case: Case) -> Iterator[Finding]:
    process, recipe = case.process, case.recipe
    meat, stay = process.meat, process.cook_time
    if meat is None or meat.mass is None or not meat.mass_stated or meat.species != "beef" or meat.ground or stay is None or process.smoke is not None or process.final_temperature is not None:
        return
    if recipe.product != "corned beef" or not any(step.does("cook") and _IN_THE_POT & set(step.actions) for step in recipe.steps):
        return
    if any(step.does("cook", "rest", "slice") and phrases.TENDER.search(step.text) for step in recipe.steps):
        return
    usual, least, most = judging.figure("simmer.usual_h_per_lb"), judging.figure("simmer.least_h_per_lb"), judging.figure("simmer.counts_to_lb")
    fewest, many = meat.pieces or (1, 1)
    pounds = pounds_a_piece(meat.mass, between(max(fewest, 1), max(fewest, many, 1)), most.value)
    rate = hours_a_pound(between(*judging.hours(stay)), pounds)
    if rate.high >= least.value:
        return
    yield Finding(
        RULE.name, Grade.FAULT, False, stay.place,
        f"{words.told(stay)} in the pot is {words.figure(rate, 'hours a pound')} for this piece. Corned beef takes about {usual.value:g} hour a pound to come tender ({judging.named(usual.cite)}), and here nothing else says when it is done.",
        sum=f"{words.told(stay)} ÷ {words.figure(pounds, 'lb')} a piece = {words.figure(rate, 'hours a pound')}; {most.value:g} lb at most are counted",
        remedy=Remedy("Simmer it until a fork slides in, and write that beside the hours."), sources=(usual.cite,),
    )  # fmt: skip


RULE = Rule(
    name="simmered-short",
    family="smoke_and_cook",
    check=check,
    reports="Corned beef simmered for far less than an hour a pound, with no other sign of when it is tender.",
    why="Corned brisket is done long before it is tender, and chews until it is.",
    silent="Three quarters of an hour a pound and more, of five pounds at most; “until tender”, a fork or a probe; a temperature inside; smoked or braised meat; no stated weight.",
    sources=(judging.figure("simmer.usual_h_per_lb").cite,),
    sum="hours in the pot ÷ pounds of one piece",
    sound=changed(CORNED, ("Simmer in fresh water 3 1/2 hours, until 195 F inside.", "Simmer in fresh water 3 1/2 hours.")),
    faulty=changed(CORNED, ("Simmer in fresh water 3 1/2 hours, until 195 F inside.", "Simmer in fresh water 1 1/2 hours.")),
    expect=("17:26-37", "1.5 hours in the pot is 0.33 hours a pound for this piece. Corned beef takes about 1 hour a pound to come tender (Corned Beef and Food Safety), and here nothing else says when it is done."),
)
