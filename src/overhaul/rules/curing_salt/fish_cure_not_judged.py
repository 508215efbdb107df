"""Nitrite or nitrate in fish: said once, not judged by the limits for meat."""

from __future__ import annotations

from collections.abc import Iterator

from overhaul.findings import Cite, Finding, Grade, Remedy
from overhaul.recipe.model import CURING_SALTS
from overhaul.rules.curing_salt import judging
from overhaul.rules.rule import Case, Rule

_SOUND = """\
Hot-smoked trout

2 lb trout fillets
1 quart cold water
3 oz sea salt

Stir the salt into the cold water and chill to 38 F. Refrigerate the fillets in it for 8 hours under a plate. Rinse, dry on a rack.
Smoke at 225 F until 150 F inside, and hold there 30 minutes.
"""


def check(case: Case) -> Iterator[Finding]:
    if judging.product_class(case) is not None:
        return
    for item in case.recipe.of_role(*sorted(CURING_SALTS))[:1]:
        yield Finding(
            RULE.name, Grade.QUERY, False, item.name_place,
            f"“{item.name}” in fish was not judged: fish stands under other law than meat, and only some kinds (salmon, sablefish, shad, tuna, chub) may be cured with nitrite at all.",
            remedy=Remedy("Ask your authority which rule applies to this fish, or make it with salt alone."), sources=(Cite("cfr-172-170", "(a)(1)"),),
        )  # fmt: skip


RULE = Rule(
    name="fish-cure-not-judged",
    family="curing_salt",
    check=check,
    reports="Curing salt in fish, which the limits for meat do not cover.",
    why="The limits for fish are set on the finished product and for a few kinds only; the sums here say nothing about them.",
    silent="Meat and poultry; fish cured with salt alone.",
    sources=(Cite("cfr-172-170", "(a)(1)"),),
    sound=_SOUND,
    faulty=_SOUND.replace("3 oz sea salt\n", "3 oz sea salt\n4 g cure #1\n"),
    expect=("6:5-12", "“cure #1” in fish was not judged: fish stands under other law than meat, and only some kinds (salmon, sablefish, shad, tuna, chub) may be cured with nitrite at all."),
)
