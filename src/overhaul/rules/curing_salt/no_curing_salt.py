"""A cured product with no curing salt."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed


def check(case: Case) -> Iterator[Finding]:
    recipe, process = case.recipe, case.process
    if recipe.of_role(*CURING_SALTS, use=None) or recipe.uncured_on_purpose:
        return
    if any("celery" in item.name for item in recipe.ingredients):
        return
    fish = recipe.product in ("fish", "gravlax") or (process.meat is not None and process.meat.species == "fish")
    cold = facts.fact("cold_smoke_max_f")
    cold_smoked = (process.smoke is not None and process.smoke_temperature is not None and process.smoke_temperature.high < cold.value) or (recipe.page.plain.lower().find("cold smoke") >= 0 and process.smoke is not None)
    if cold_smoked and not fish:
        yield words.missing(
            recipe, RULE.name, _line(case), "Smoked cold with no curing salt: the meat lies for hours at a heat that grows the germ of botulism, without air and without nitrite.",
            "Cure it first with weighed curing salt, or smoke it hot and cook it through.", None, Grade.HAZARD, False, (cold.cite, Cite("cfr-424-21", "(c)")),
        )  # fmt: skip
        return
    if not recipe.cured or fish or (process.cure is None and not recipe.of_role("salt")):
        return
    yield words.missing(
        recipe, RULE.name, _line(case), f"{recipe.title}: staff will expect a cured, pink product, and there is no curing salt on the page. Is it left out on purpose?",
        "Add the weighed curing salt to the list, or write that it is made without on purpose.", None, sources=(Cite("nchfp", "6.1"),),
    )  # fmt: skip


def _line(case: Case) -> int:
    sections = [section for section in case.recipe.sections if section.ingredients]
    salted = [section for section in sections if any(item.role == "salt" for item in section.ingredients)]
    for section in salted or sections[-1:]:
        lines = [item.line for item in section.ingredients if not item.in_method] or [item.line for item in section.ingredients]
        return max(lines)
    return case.recipe.first_line


RULE = Rule(
    name="no-curing-salt",
    family="curing_salt",
    check=check,
    reports="A product that its name says is cured, or meat smoked cold, with no curing salt on the page.",
    why="Without nitrite the product is fresh meat: grey, and with nothing against botulism in a long low smoke.",
    silent="Fish; plain poultry brines; a page that says it is made without on purpose; a vegetable cure.",
    sources=(Cite("nchfp", "6.1"),),
    sound=CORNED,
    faulty=changed(CORNED, ("20 g cure #1 (6.25 % nitrite)\n", ""), (" Stir in the cure #1.", "")),
    expect=("9:22-22", "Corned brisket, the house way: staff will expect a cured, pink product, and there is no curing salt on the page. Is it left out on purpose?"),
)
