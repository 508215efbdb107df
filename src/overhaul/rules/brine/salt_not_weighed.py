"""Salt by the cup where the cup decides."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Edit, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed

_BANDS = ("salt_band.bland", "salt_band.mild", "salt_band.salty", "salt_band.too_salty")


def check(case: Case) -> Iterator[Finding]:
    for item in case.recipe.of_role("salt"):
        if item.amount is None or item.mass is None or item.weighed or item.mass.low <= 0:
            continue
        if item.amount.unit in ("handful", "bucket", "pinch", "dash"):
            return
        width = item.mass.high / item.mass.low
        if width < facts.fact("salt_span_that_decides").value:
            continue
        strength = case.sums.get("brine_strength")
        level = case.sums.get("salt_as_eaten") or case.sums.get("salt_equilibrium")
        crossed = [facts.fact(name) for name in _BANDS] if level is not None else []
        if level is not None and not any(level.value.low < band.value < level.value.high for band in crossed):
            continue
        if level is None and strength is None:
            continue
        said = words.amount_words(case.recipe, item.amount)
        kind = "the kind of salt is not named" if item.kind in ("kosher_kind_unknown", "salt_kind_unknown") else "spoons and cups differ"
        message = f"{said} of {item.name} may weigh {words.figure(item.mass, 'gram')}, because {kind}; that moves the salt {width:.1f} times"
        if strength is not None:
            message += f": the brine may be {words.figure(strength.value, 'percent')}"
        if level is not None:
            message += f", the meat {words.figure(level.value, 'percent')}"
        shown = strength or level
        edit = (Edit(item.amount.place, words.gram(item.mass.likely)),) if not item.also else ()
        yield Finding(
            RULE.name, Grade.QUERY, False, item.amount.place, message + ".", sum=shown.worked() if shown is not None else None,
            remedy=Remedy(f"Weigh it once and write the grams; {words.gram(item.mass.likely)} is the likely figure. Or name the salt in the house sheet.", edit), sources=(Cite("kitchen-weighings", "a cup of salt by kind"),),
        )  # fmt: skip
        return


RULE = Rule(
    name="salt-not-weighed",
    family="brine",
    check=check,
    reports="Salt by the cup or spoon, where its kind decides how salty the meat will be.",
    why="A cup of light flake kosher salt weighs half of a cup of table salt. The brand alone doubles the brine.",
    silent="Weighed salt; a kind whose cup is known closely; a span that crosses nothing.",
    sources=(Cite("kitchen-weighings", "a cup of salt by kind"),),
    sum="the strength of the brine, with the lightest and the heaviest cup",
    sound=CORNED,
    faulty=changed(CORNED, ("10 oz kosher", "1 1/2 cups kosher")),
    expect=("7:1-11", "1 1/2 cups of kosher salt may weigh 188 to 382 g (likely 278), because the kind of salt is not named; that moves the salt 2.0 times: the brine may be 5.01 to 9.3 % (likely 7.04), the meat 1 to 2.65 % (likely 1.73)."),
)
