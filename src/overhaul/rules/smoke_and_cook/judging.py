"""What a cooked piece is held to: its usual end point, and the published tables of holds below it."""

from __future__ import annotations

from math import ceil

from msgspec import Struct

from overhaul import facts
from overhaul.findings import Cite
from overhaul.recipe.model import CURING_SALTS, Fact
from overhaul.rules.cold_and_time.judging import is_fish, is_ground, is_poultry
from overhaul.rules.rule import Case
from overhaul.sums import lethality

TABLES = Cite("fsis-appendix-a-2021", "Tables 2 to 4")
CODE = Cite("food-code-2022", "3-401.11(A)(2)")
WHOLE = ("meat", "roast")


class MeatClass(Struct, frozen=True):
    """What the meat is held to: its usual end point, and the tables of which any one will do."""

    words: str
    minimum: facts.Fact
    tables: tuple[str, ...]
    holds: Cite = TABLES


def meat_class(case: Case) -> MeatClass:
    meat = case.process.meat
    if is_fish(case):
        return MeatClass("fish", facts.fact("minimum.fish_f"), ())
    if is_poultry(case):
        species = meat.species if meat is not None else None
        # Other birds: the longer of the two tables.
        return MeatClass("poultry", facts.fact("minimum.poultry_f"), (species if species in ("chicken", "turkey") else "poultry",))
    if is_ground(case):
        return MeatClass("ground meat", facts.fact("minimum.ground_f"), ("meat", "injected"), CODE)
    return MeatClass("whole cuts", facts.fact("minimum.whole_f"), WHOLE)


def hold_wanted(kind: MeatClass, degf: float) -> float | None:
    """The shortest hold any of its tables wants, in seconds; None where none gives credit."""
    found = [hold for table in kind.tables if (hold := lethality.wanted_seconds(table, degf)) is not None]
    return min(found, default=None)


def hold_met(kind: MeatClass, final: Fact) -> bool:
    return final.dwell is not None and any(lethality.passes(table, final.low, seconds(final.dwell.low)) for table in kind.tables)


def older_end_point(case: Case, final: Fact) -> bool:
    """The older instant end points for poultry, kept but not preferred."""
    if not is_poultry(case):
        return False
    cured_and_smoked = bool(case.recipe.of_role(*CURING_SALTS)) and case.process.smoke is not None
    return final.low >= facts.fact("poultry_cured_instant_f" if cured_and_smoked else "poultry_instant_f").value


def seconds(minutes: float) -> float:
    """To the thousandth, or 17 seconds told in minutes fall short of 17."""
    return round(minutes * 60, 3)


def told(hold: float) -> str:
    if hold < 180 and hold % 60:
        return f"{hold:.0f} seconds"
    minutes = ceil(hold / 60)
    return "1 minute" if minutes == 1 else f"{minutes} minutes"
