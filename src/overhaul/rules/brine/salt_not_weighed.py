"""Salt by the cup where the cup decides."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul import facts
from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.rules import words
from overhaul.rules.brine import brine_weak, more_salt_than_water_holds, too_salty_as_eaten
from overhaul.rules.rule import Case, Rule
from overhaul.rules.texts import CORNED, changed
from overhaul.sums.worked import Sum
from overhaul.text import Place

_TASTE = ("salt_band.bland", "salt_band.mild", "salt_band.salty", "salt_band.too_salty")
_BRINE = ("brine_weak_percent", "brine_saturation_percent")
_NO_MEASURE = ("handful", "bucket", "pinch", "dash")


def check(case: Case) -> Iterator[Finding]:
    if all(item.amount is None or item.mass is None or item.weighed for item in case.recipe.of_role("salt")):
        return  # most pages weigh it: then no sum is asked for
    strength = case.sums.get("brine_strength")
    level = case.sums.get("salt_as_eaten") or case.sums.get("salt_equilibrium")
    shown = strength or level
    if shown is None or not _decides(strength, level) or any(item.amount is not None and item.amount.unit in _NO_MEASURE for item in case.recipe.of_role("salt")):
        return
    for item in case.recipe.of_role("salt"):
        if item.amount is None or item.mass is None or item.weighed or item.mass.low <= 0:
            continue
        width = item.mass.high / item.mass.low
        if width < facts.fact("salt_span_that_decides").value:
            continue
        if _said_harder(case, item.amount.place):
            return
        kind = "the kind of salt is not named" if item.kind in ("kosher_kind_unknown", "salt_kind_unknown") else "spoons and cups differ"
        message = f"{words.amount_words(case.recipe, item.amount)} of {item.name} may weigh {words.figure(item.mass, 'gram')}, because {kind}; that moves the salt {width:.1f} times"
        if strength is not None:
            message += f": the brine may be {words.figure(strength.value, 'percent')}"
        if level is not None:
            message += f"{',' if strength is not None else ':'} the meat {words.figure(level.value, 'percent')}"
        likely = words.gram(item.mass.likely)
        yield Finding(
            RULE.name, Grade.QUERY, False, item.amount.place, message + ".", sum=shown.worked(),
            remedy=Remedy(f"Weigh it once and write the grams; {likely} is the likely figure. Or name the salt in the house sheet.", words.weighed_instead(item, likely)),
            sources=(Cite("kitchen-weighings", "a cup of salt by kind"),), settled_by="salt.kosher" if item.kind == "kosher_kind_unknown" else None,
        )  # fmt: skip
        return


def _decides(strength: Sum | None, level: Sum | None) -> bool:
    """Whether the span crosses something: 2 %, saturation, or a band of taste.

    The bands of taste lie closer together than a cup of salt is wide, so without a weight of meat it does.
    """
    crossed = [(strength, name) for name in _BRINE] + [(level, name) for name in _TASTE]
    return level is None or any(found is not None and found.value.low < facts.fact(name).value < found.value.high for found, name in crossed)


def _said_harder(case: Case, place: Place) -> bool:
    """Whether a fault is found on the same amount: it shows the whole span, and says it better."""
    others = (brine_weak.check, more_salt_than_water_holds.check, too_salty_as_eaten.check)
    return any(finding.place == place and finding.grade is not Grade.QUERY for other in others for finding in case.found_by(other))


RULE = Rule(
    name="salt-not-weighed",
    family="brine",
    check=check,
    reports="Salt by the cup or spoon, where its kind decides how salty the meat will be.",
    why="A cup of light flake kosher salt weighs half of a cup of table salt. The brand alone doubles the brine.",
    silent="Weighed salt; a kind whose cup is known closely; a span that crosses nothing; a fault found on the same amount.",
    sources=(Cite("kitchen-weighings", "a cup of salt by kind"),),
    sum="the strength of the brine, with the lightest and the heaviest cup",
    sound=CORNED,
    faulty=changed(CORNED, ("10 oz kosher", "1 1/2 cups kosher")),
    expect=("7:1-11", "1 1/2 cups of kosher salt may weigh 188 to 382 g (likely 278), because the kind of salt is not named; that moves the salt 2.0 times: the brine may be 5.01 to 9.3 % (likely 7.04), the meat 1.07 to 2.61 % (likely 1.82)."),
)
