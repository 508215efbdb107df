"""A cured product with no curing salt."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade
from overhaul.reading import lexicon, phrases
from overhaul.recipe.model import CURING_SALTS, Step
from overhaul.rules import words
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    recipe, process = case.recipe, case.process
    if recipe.of_role(*CURING_SALTS, use=None) or recipe.uncured_on_purpose or recipe.bought_done or judging.product_class(case) is None:
        return
    if any(item.kind == "vegetable_cure" for item in recipe.ingredients):
        return
    if (named := _named(case)) is not None:
        yield words.missing(
            recipe, RULE.name, _line(case), f"The page speaks of {named} on line {_step_line(case, named)}, and gives no amount of it: how much goes in cannot be worked.",
            "Write the kind, the strength off the label and the weight in the list.", None, sources=(Cite("nchfp", "6.1"),),
        )  # fmt: skip
        return
    cold = facts.fact("cold_smoke_max_f")
    if _smoked_cold(case, cold.value):
        yield words.missing(
            recipe, RULE.name, _line(case),
            f"Smoked cold, in air under {words.degrees(cold.value)}, with no curing salt: the meat lies for hours at a heat that grows the germ of botulism, without air and without nitrite ({words.short(cold.cite)}).",
            "Cure it first with weighed curing salt, or smoke it hot and cook it through.", None, Grade.HAZARD, False, (cold.cite, Cite("cfr-424-21", "(c)")),
        )  # fmt: skip
    elif recipe.cured and (process.cure is not None or recipe.of_role("salt")):
        yield words.missing(
            recipe, RULE.name, _line(case), f"{recipe.title}: staff will expect a cured, pink product, and there is no curing salt on the page. Is it left out on purpose?",
            "Add the weighed curing salt to the list, or write that it is made without on purpose.", None, sources=(Cite("nchfp", "6.1"),),
        )  # fmt: skip


def _smoked_cold(case: Case, most: float) -> bool:
    """By the stated air; without one, by the words."""
    air = case.process.smoke_temperature
    if air is not None:
        return air.high < most
    return any(phrases.COLD_SMOKE.search(step.text) and not phrases.NOT.search(step.text) for step in case.recipe.steps)


def _curing_salts(step: Step) -> list[str]:
    """Curing salts that a step names beyond doubt: “the cure” alone may be the whole rub, or the work."""
    plain = lexicon.plain_words(step.text)
    names = [found for start in range(len(plain)) if (found := lexicon.known_at(plain, start)) is not None]
    return [one.noun for one in names if one.role in CURING_SALTS and (one.end - one.start > 1 or one.role in ("nitrite", "nitrate"))]


def _named(case: Case) -> str | None:
    return next((name for step in case.recipe.steps if not phrases.NOT.search(step.text) for name in _curing_salts(step)), None)


def _step_line(case: Case, name: str) -> int:
    return next(step.line for step in case.recipe.steps if name in _curing_salts(step))


def _line(case: Case) -> int:
    """The last ingredient line of the section that holds the salt, else of the last section."""
    sections = [section for section in case.recipe.sections if section.ingredients]
    salted = [section for section in sections if any(item.role == "salt" and item.use == "cure" for item in section.ingredients)]
    for section in salted or sections[-1:]:
        return max([item.line for item in section.ingredients if not item.in_method] or [item.line for item in section.ingredients])
    return case.recipe.first_line


RULE = Rule(
    name="no-curing-salt",
    family="curing_salt",
    check=check,
    reports="A product that its name says is cured, or meat smoked cold, with no curing salt on the page.",
    why="Without nitrite the product is fresh meat: grey, and with nothing against botulism in a long low smoke.",
    silent="Fish; plain poultry brines; a page that says it is made without on purpose; a vegetable cure; smoke air of 100 °F and more on a page that is not of a cured product.",
    sources=(Cite("nchfp", "6.1"),),
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure #1 (6.25 % nitrite)\n", ""), (" Stir in the cure #1.", "")),
    expect=("9:22-22", "Corned brisket, the house way: staff will expect a cured, pink product, and there is no curing salt on the page. Is it left out on purpose?"),
)
