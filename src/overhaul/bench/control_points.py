"""Points where the work is measured against a limit: suggestions, for the person in charge to confirm or strike.

What is said to do where a limit is missed is in our own words and comes after the kitchen's plan. Limits are those the rules check against.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from overhaul import facts
from overhaul.bench.weights import Called, called_for
from overhaul.recipe.model import CURING_SALTS, Cooling, Fact, Recipe
from overhaul.rules import words
from overhaul.rules.cold_and_time import judging
from overhaul.rules.cold_and_time.judging import degrees, named
from overhaul.rules.curing_salt import judging as cure_judging
from overhaul.rules.rule import Case
from overhaul.rules.smoke_and_cook.judging import CODE, hold_met, hold_wanted, meat_class, seconds, told
from overhaul.sums.work import Sums

_HOW_SURE = {"seen-2nd": "second-hand", "memory": "from memory", "assumed": "our reckoning", "mixed": "partly from memory", "common-practice": ""}


class Control(Struct, frozen=True):
    """One point: what the page says, the limit with its source, what is read, and what to do where it is missed."""

    key: str
    phases: tuple[str, ...]  # of the steps where it acts
    what: str
    danger: str
    called: str | None  # what the page says
    line: int | None
    limit: str
    source: str | None  # None where ``limit`` names it
    read: tuple[str, ...]  # what is written down: "°", "time", "g" …
    wrong: str


def control_points(recipe: Recipe, sums: Sums) -> tuple[Control, ...]:
    """In the order of the work."""
    case = Case(recipe, sums, sums.house)
    return tuple(point for points in (_thaw, _curing_salt, _brine, _pump, _cold, _days, _end, _cooling, _hold, _reheat, _keep) for point in points(case))


def source_of(*found: facts.Fact) -> str:
    """``Food Code 2022, 3-501.14(A)(1)``; what was not read in the source itself says so."""
    return "; ".join(dict.fromkeys(f"{named(fact.cite)}{f' ({sure})' if (sure := _HOW_SURE.get(fact.status)) else ''}" for fact in found))


def is_cooked(case: Case) -> bool:
    """Whether heat is to make it fit to eat."""
    return not judging.fried_before_eating(case) and not judging.dried_on_purpose(case) and case.recipe.product != "gravlax" and (case.process.cook is not None or case.process.smoke is not None or case.process.final_temperature is not None)


def _words(case: Case, fact: Fact | None) -> tuple[str | None, int | None]:
    if fact is None:
        return None, None
    return " ".join(case.recipe.page.words(fact.place).split()), fact.line


def _thaw(case: Case) -> Iterator[Control]:
    thaw, meat = case.process.thaw, case.process.meat
    if thaw is None and not (meat is not None and meat.frozen):
        return
    limit = judging.figure("thaw_max_f")
    yield Control(
        "thaw", ("thaw",), "Thawed all through, in the cold", "germs grow on thawed faces; a cure does not go into ice", " ".join(thaw.words.split()) if thaw is not None else None, thaw.line if thaw is not None else None,
        f"{degrees(case.recipe, limit.value)} or colder", source_of(limit), ("°", "time"), "Back into the cold. Write how warm it was and since when; the person in charge decides.",
    )  # fmt: skip


def _curing_salt(case: Case) -> Iterator[Control]:
    limit = cure_judging.limit_for(case, "nitrite") or cure_judging.limit_for(case, "nitrate")
    for row in called_for(case.recipe, case.sums):
        if not row.cure:
            continue
        most = f"; at most {limit.told}" if limit is not None else ""
        yield Control(
            "curing salt", ("make-spice", "make-brine", "cure"), f"Weigh the {row.name}, two persons", "too much is a poison; too little does not hold germs back", weighed_words(row), row.line,
            f"what is called for, to a tenth of a gram{most}" if row.grams is not None else f"weighed in grams before it goes in{most}", None, ("g",),
            "Not the weight, not this strength, or nobody watched: stop, weigh again. Already in: keep the batch apart, write the weight, have the ppm worked again before it is cooked.",
        )  # fmt: skip


def weighed_words(row: Called) -> str:
    """What to weigh of one ingredient in a few words."""
    if row.grams is not None:
        return row.grams
    return f"{row.written}: weigh it once{f', {row.spread}' if row.spread is not None else ''}"


def _salted(case: Case) -> bool:
    return bool(case.recipe.of_role(*CURING_SALTS))


def stand_of(recipe: Recipe) -> str:
    """What the meat stands in, in a word: cure, brine or salt."""
    if recipe.of_role(*CURING_SALTS):
        return "cure"
    return "salt" if recipe.process.cure is not None and recipe.process.cure.method == "dry" else "brine"


def _brined(case: Case) -> bool:
    return case.process.cure is not None and case.process.cure.method in ("immersion", "pumped", "pumped-immersion")


def _brine(case: Case) -> Iterator[Control]:
    if not _brined(case):
        return
    limit = facts.fact("brine_into_meat_max_f")
    told_, line = _words(case, case.process.brine_temperature)
    yield Control(
        "brine", ("cool-brine", "make-brine"), "Brine cold before the meat goes in", "a warm brine warms the meat, and germs grow before the salt is in", told_, line,
        f"{degrees(case.recipe, limit.value)} or colder", source_of(limit), ("°", "time"), "No meat in. Ice bath or freezer, stir, read again; the meat waits in the cold.",
    )  # fmt: skip


def _pump(case: Case) -> Iterator[Control]:
    pump = case.process.pump
    if case.process.cure is None or not case.process.cure.method.startswith("pumped"):
        return
    told_, line = _words(case, pump)
    yield Control(
        "pump", ("pump",), "Weight gained by the needle", "nitrite goes up with what is pumped", told_, line,
        f"{words.span(pump.low, pump.high, 'percent')} of the green weight, no more" if pump is not None else "write the percent before anybody pumps", None, ("g", "%"),
        "Under: pump again. Over: let it drain and weigh again; still over, keep it apart and have the ppm worked with the weights as they are.",
    )  # fmt: skip


def _cold(case: Case) -> Iterator[Control]:
    if case.process.cure is None or case.process.cure.method == "none":
        return
    limit, target = facts.fact("cure_max_f"), judging.figure("cure_target_f")
    told_, line = _words(case, case.process.cure_temperature)
    if told_ is None and case.process.cure_cold is not None:
        told_, line = case.process.cure_cold.words, case.process.cure_cold.line
    yield Control(
        "cure", ("cure", "overhaul"), f"{stand_of(case.recipe).capitalize()} stays cold, read every day", f"salt{' and nitrite do' if _salted(case) else ' does'} not stand in for the cold", told_, line,
        f"{degrees(case.recipe, limit.value)} or colder; aim at {degrees(case.recipe, target.low, target.high)}", source_of(limit, target), ("°", "time"),
        "Move it to the cold. Write how warm and since when. Keep the batch apart; the person in charge decides.",
    )  # fmt: skip


def _days(case: Case) -> Iterator[Control]:
    stay = case.process.cure_time
    if case.process.cure is None or case.process.cure.method == "none" or not _salted(case) or judging.is_ground(case):
        return  # a plain brine seasons, and mixed in is there at once
    told_, line = _words(case, stay)
    yield Control(
        "days", ("cure",), "Time in the cure", "the middle is still raw meat without cure when it comes out early", told_, line,
        f"no less than {words.span(stay.low, stay.low, stay.unit)}" if stay is not None else "the page gives none; write it before the meat goes in", "the recipe" if stay is not None else None,
        ("date",), "Early: leave it in, or keep it apart and treat it as fresh meat. Warm, slimy or sour: keep it apart; nobody tastes it.",
    )  # fmt: skip


def _end(case: Case) -> Iterator[Control]:
    if not is_cooked(case):
        return
    kind, final = meat_class(case), case.process.final_temperature
    told_, line = _words(case, final)
    if final is not None and final.dwell is not None:
        told_ = f"{told_}, held {words.told(final.dwell)}"
    rest = facts.fact("minimum.whole_rest_min")
    limit = f"{degrees(case.recipe, kind.minimum.value)} inside{f' and {rest.value:g} minutes of rest' if kind.words == 'whole cuts' else ''}, for {kind.words}"
    source = source_of(kind.minimum)
    if final is not None and final.low < kind.minimum.value and (wanted := hold_wanted(kind, final.low)) is not None and (hold_met(kind, final) or wanted == 0):
        limit += f"; or {degrees(case.recipe, final.low)}" + (f" held {told(seconds(wanted / 60))}" if wanted else "")
        source = f"{source}; {named(kind.holds)}"
    elif _pumped(case) and kind.words == "whole cuts":
        source = f"{source}; {named(CODE)}"
    yield Control(
        "end", ("cook", "smoke", "wrap"), "Heat inside, at the thickest place", "heat is the step that kills", told_, line, limit, source, ("°", "time"),
        "Back on the heat until it is there, read again with a probe that was checked. Cannot be brought there: keep it apart; the person in charge decides.",
    )  # fmt: skip


def _pumped(case: Case) -> bool:
    return case.process.cure is not None and case.process.cure.method.startswith("pumped")


def _cooling(case: Case) -> Iterator[Control]:
    if not (is_cooked(case) or case.process.cooling or case.process.cool is not None):
        return
    recipe, legs = case.recipe, case.process.cooling
    one, whole = facts.fact("cooling.stage1_h"), facts.fact("cooling.total_h")
    hot, warm, cold = facts.fact("cooling.start_f"), judging.figure("cooling.stage_end_f"), judging.figure("cooling.cold_end_f")
    again = judging.figure("reheat_f")
    first, later = _leg(recipe, legs[0] if legs else None), _leg(recipe, legs[-1] if len(legs) > 1 else None)
    yield Control(
        "cool 1", ("cool",), "Cooling, first part", "what lived through the heat wakes up between these", first, legs[0].line if legs else None,
        f"from {degrees(recipe, hot.value)} to {degrees(recipe, warm.value)} within {one.value:g} hours", source_of(one), ("°", "time"),
        f"Smaller pieces, shallow pans, ice bath at once. Not there in {one.value:g} hours: keep it apart; heated again to {degrees(recipe, again.value)} and cooled anew, or thrown away, as the plan and the person in charge decide.",
    )  # fmt: skip
    yield Control(
        "cool 2", ("cool",), "Cooling, all of it", "the slow end of a cool-down has made the most people ill", later, legs[-1].line if len(legs) > 1 else None,
        f"to {degrees(recipe, cold.value)} within {whole.value:g} hours in all", source_of(whole), ("°", "time"),
        f"Not there in {whole.value:g} hours: keep it apart, nobody tastes it, tell the person in charge.",
    )  # fmt: skip


def _leg(recipe: Recipe, leg: Cooling | None) -> str | None:
    """``135 F to 70 F: 2 hours``, the time in the page's own words."""
    if leg is None:
        return None
    return f"{judging.plain_degrees(recipe, leg.start)} to {judging.plain_degrees(recipe, leg.end)}: {' '.join(recipe.page.words(leg.place).split())}"


def _hold(case: Case) -> Iterator[Control]:
    if case.process.hold is None:
        return
    limit, again = facts.fact("hot_hold_min_f"), judging.figure("reheat_f")
    told_, line = _words(case, case.process.hold)
    yield Control(
        "hold", ("hold",), "Held hot", "lukewarm food grows germs", told_, line, f"{degrees(case.recipe, limit.value)} or hotter", source_of(limit), ("°", "time"),
        f"Write since when it was under. Whether it is heated to {degrees(case.recipe, again.value)} or thrown away, the plan and the person in charge decide.",
    )  # fmt: skip


def _reheat(case: Case) -> Iterator[Control]:
    step = next((step for step in case.recipe.steps if "reheat" in step.actions), None)
    if step is None:
        return
    limit = judging.figure("reheat_f")
    yield Control(
        "reheat", ("cook", "hold", "store"), "Heated again for the hot case", "what grew in the cold has to be killed again", None, step.line, f"{degrees(case.recipe, limit.value)} inside, within two hours", source_of(limit), ("°", "time"),
        "Keep on heating until it is there. Longer than two hours: keep it apart; the person in charge decides.",
    )  # fmt: skip


def _keep(case: Case) -> Iterator[Control]:
    if judging.dried_on_purpose(case):
        return
    kept, limit = case.process.storage, facts.fact("cure_max_f")
    told_ = " ".join(case.recipe.page.words(kept.place).split()) if kept is not None else None
    yield Control(
        "keep", ("store",), "Kept cold, with its date", "one germ grows in the refrigerator too", told_, kept.line if kept is not None else None,
        f"{degrees(case.recipe, limit.value)} or colder, until the date on the label", source_of(limit), ("°", "date"), "Warmer, or past its date: keep it apart, it is not served; the person in charge decides.",
    )  # fmt: skip
