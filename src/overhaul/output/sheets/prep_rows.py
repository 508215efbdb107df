"""The rows of a prep sheet: each task with what to weigh, the tool, the limit and its source, in words for the bench."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta

from msgspec import Struct

from overhaul import facts
from overhaul.findings import Cite
from overhaul.output.clean import clean
from overhaul.output.sheets import Asked, CannotMake
from overhaul.reading import units
from overhaul.recipe.method import COLD_PLACE
from overhaul.recipe.model import CURING_SALTS, Amount, Fact, Ingredient, Recipe
from overhaul.rules.words import degrees, short
from overhaul.scheduling.clock import Clock, NoSuchTime, day_name, served
from overhaul.scheduling.lasting import in_words
from overhaul.scheduling.placing import Placed, Schedule, schedule
from overhaul.scheduling.tasks import Task, is_mix, lies_in_it
from overhaul.sums.solving import weighable
from overhaul.sums.work import Sums

_MOST_WORDS = 120
_TITLES = {
    "thaw": "Out of the freezer, thaw in the cold", "spice": "Weigh and mix the spice", "rub-mix": "Weigh and mix the rub", "stand": "Leave in the cold", "brine": "Make the brine", "chill": "Cool the brine", "cure-mix": "Weigh and mix the cure",
    "grind": "Grind, mix, stuff", "pump": "Weigh green, pump, weigh again", "soak": "Soak", "equalize": "Leave it to even out", "dry": "Dry", "hang": "Hang", "season": "Rub",
    "smoke": "Smoke", "wrap": "Wrap", "cook": "Cook", "rest": "Rest", "cool": "Cool down", "slice": "Slice", "fry": "Fry", "reheat": "Heat again", "hold": "Hold hot",
    "cool-left": "Cool what is left", "keep": "Keep",
}  # fmt: skip
_COOK_TITLES = {"simmer": "Simmer", "boil": "Boil", "steam": "Steam", "braise": "Braise", "roast": "Roast", "fry": "Fry"}
_USES = {"spice": ("blend",), "rub-mix": ("rub",), "brine": ("cure",), "cure-mix": ("cure",), "grind": ("cure",), "soak": ("soak",), "cook": ("cook",), "slice": ("serve",)}
_COLD_STAND = "covered, in the cold"


class Weigh(Struct, frozen=True):
    """One thing to weigh: ``grams`` in words, or what the page has where it gives no weight."""

    name: str
    grams: str
    more: str = ""


class Tick(Struct, frozen=True):
    """One day of turning, with a box of its own."""

    on: date
    words: str
    note: str | None


class Limit(Struct, frozen=True):
    """One limit in words, and where it is from; the page's own have their line in the words."""

    words: str
    source: str | None = None


class Row(Struct, frozen=True):
    """One task. ``day`` and ``clock`` are words for when it is to be done; ``start`` and ``end`` None where it has no time of its own."""

    key: str
    title: str
    day: str
    clock: str
    words: str
    weigh: tuple[Weigh, ...]
    write: tuple[str, ...]
    tool: str
    limits: tuple[Limit, ...]
    lasts: str
    notes: tuple[str, ...]
    ticks: tuple[Tick, ...] = ()
    start: datetime | None = None
    end: datetime | None = None


class Sheet(Struct, frozen=True):
    """All of it for one recipe. ``plan`` None where the page has no work to put into days."""

    rows: tuple[Row, ...]
    summary: tuple[str, ...]
    late: str | None
    plan: Schedule | None
    notes: tuple[str, ...]


def sheet(recipe: Recipe, sums: Sums, asked: Asked) -> Sheet:
    """Raises CannotMake where what was asked for cannot be."""
    try:
        serve = served(asked.serve, asked.zone) if asked.serve is not None else None
    except NoSuchTime as problem:
        raise CannotMake(str(problem)) from None
    clock = Clock(serve, asked.closed) if serve is not None else Clock(datetime(2001, 1, 1, 12), (), False)
    try:
        plan = schedule(recipe, sums, clock, asked.made_on)
    except OverflowError:
        raise CannotMake("the work would begin before the first year of the calendar, or end after its last") from None
    if plan is None:
        return Sheet((), (), None, None, ("The page has no method and nothing to weigh: there is nothing to work back.",))
    rows = [*_rows(recipe, sums, plan), _serving(plan), *(_after(recipe, plan, task) for task in plan.after)]
    return Sheet(tuple(rows), tuple(_summary(sums, plan)), _late(plan, asked.made_on), plan, tuple(_notes(plan, asked, rows)))


# -- when


def full_day(when: date) -> str:
    return f"{day_name(when)} {when.year}"


def _when(clock: Clock, before: int, when: datetime) -> tuple[str, str]:
    if clock.bound:
        return day_name(when), f"{when:%H:%M}"
    days, minutes = divmod(before, 24 * 60)
    hours = f"{minutes // 60} h" + (f" {minutes % 60} min" if minutes % 60 else "")
    return (f"{days} day{'' if days == 1 else 's'} {hours if minutes else ''}".strip() if days else hours), "before serving"


def _moment(clock: Clock, minutes: int) -> str:
    """``Thu 24 Dec 11:00``; without a serving, so long before it."""
    when = clock.at(minutes)
    return f"{day_name(when)} {when:%H:%M}" if clock.bound else " ".join(_when(clock, minutes, when))


# -- rows


def _rows(recipe: Recipe, sums: Sums, plan: Schedule) -> Iterator[Row]:
    told: set[str] = set()
    for one in plan.placed:
        task = one.task
        day, clock = _when(plan.clock, one.before, one.start)
        timed = task.kind != "wrap" or task.lasts.high > 0
        words = _short(task.words) if task.words not in told else ""
        told.add(task.words)
        yield Row(
            task.kind, _title(recipe, sums, task), day if timed else "then", clock if timed else "", words, tuple(_weighed(recipe, sums, task)),
            tuple(_write(recipe, sums, task)), _tool(recipe, sums, task), tuple(_limits(recipe, plan, one)), _lasts(one), tuple(note[:1].upper() + note[1:] for note in _row_notes(recipe, plan, one)),
            start=one.start if timed else None, end=one.end if timed else None,
        )  # fmt: skip
        if task.kind == "cure" and plan.turning is not None:
            yield _turning(plan)


def _short(words: str) -> str:
    line = " ".join(words.split())
    return line if len(line) <= _MOST_WORDS else f"{line[:_MOST_WORDS].rsplit(' ', 1)[0][:_MOST_WORDS]} …"


def vessel(sums: Sums) -> str:
    """What it cures in: a brine, a dry cure."""
    return "brine" if sums.method in ("immersion", "pumped-immersion") else "cure"


def _title(recipe: Recipe, sums: Sums, task: Task) -> str:
    if task.kind == "cure":
        return f"Into the {vessel(sums)}"
    if task.kind == "out":
        return f"Out of the {vessel(sums)}{', rinse' if recipe.process.rinse is not None else ''}"
    if task.kind == "fry" and task.verb != "fry":
        return "Cook to serve"
    if task.kind == "cook" and task.verb:
        return _COOK_TITLES.get(task.verb, "Cook")
    if task.kind == "spice" and is_mix(recipe):
        return "Weigh and mix"
    if task.kind == "cure-mix" and not recipe.of_role(*CURING_SALTS):
        return "Weigh and mix the salt"
    if task.kind == "brine" and recipe.process.brine_heated is not None:
        return "Boil the brine" if recipe.process.brine_heated.words.lower().startswith(("boil", "bring")) else "Heat the brine"
    return _TITLES[task.kind]


def _lasts(one: Placed) -> str:
    task = one.task
    if not task.lasts.words:
        return ""
    if task.lasts.said == "unknown":
        return task.lasts.words
    free = task.lasts.low != task.lasts.high
    if free:
        planned = _near(one.takes)
        end = "the long end" if abs(one.takes - task.lasts.high) < 0.26 else "the short end" if abs(one.takes - task.lasts.low) < 0.26 else "longer than that" if one.takes > task.lasts.high else "between its ends"
        return f"{task.lasts.words}; {planned} planned, {end}"
    if one.takes > task.lasts.high + 0.26 and task.kind in ("cure", "dry", "hang", "equalize", "stand"):
        return f"{task.lasts.words}; {_near(one.takes)} planned"
    return task.lasts.words


def _near(hours: float) -> str:
    """To the quarter of an hour."""
    return in_words(round(hours * 4) / 4)


def _row_notes(recipe: Recipe, plan: Schedule, one: Placed) -> Iterator[str]:
    yield from one.notes
    task, clock = one.task, plan.clock
    if task.lasts.said == "unknown" and clock.bound:
        yield f"must fit between {_moment(clock, one.before)} and {_moment(clock, one.before - round(one.takes * 60))}"
    if task.kind == "cure" and one.latest_in is not None and task.lasts.low != task.lasts.high:
        least = in_words(task.lasts.low)
        yield f"at the latest {_moment(clock, clock.before(one.latest_in))}, for {least}"
    if task.kind == "out" and (cure := plan.of("cure")) is not None and cure.earliest_out is not None and cure.task.lasts.low != cure.task.lasts.high:
        yield f"not before {_moment(clock, clock.before(cure.earliest_out))}"
    if one.waits >= 1 and clock.bound:
        until = one.before - round((one.takes + one.waits) * 60)
        end = _moment(clock, clock.quarter(max(until, 0)))
        yield f"then stands, {_COLD_STAND if task.kind != 'spice' else 'closed'}, until {end}"
    if task.kind == "cool" and plan.work.keeps_days is not None and clock.bound:
        made = _cooked_on(plan)
        if made is not None:
            yield f"made {day_name(made)}, day 1; use by {full_day(made + timedelta(days=plan.work.keeps_days - 1))} ({plan.work.keep_words})"


def _cooked_on(plan: Schedule) -> date | None:
    """The day that counts as the first: when it comes off the fire before it is cooled, or out of the salt where there is none."""
    kinds = [one.task.kind for one in plan.placed]
    until = kinds.index("cool") if "cool" in kinds else len(kinds)
    done = [one for one in plan.placed[:until] if one.task.kind in ("smoke", "cook", "wrap")] or [one for one in plan.placed if one.task.kind == "out"]
    return done[-1].end.date() if done else None


def _turning(plan: Schedule) -> Row:
    turned = plan.turning
    assert turned is not None
    ticks = tuple(Tick(turn.on, f"{day_name(turn.on)} (d{turn.day})", turn.note) for turn in turned.turns)
    notes = tuple(turn.note for turn in turned.turns if turn.note)
    words = f"{turned.words}{'; twice each of these days' if turned.twice else ''}" if ticks else turned.words
    return Row("turn", "Overhaul: look over, turn", "these days" if ticks else "in the cure", "", "", (), (), "clean hands", (Limit("covered, no slime, clean smell"),), words, notes, ticks)


def _serving(plan: Schedule) -> Row:
    clock = plan.clock
    notes = list(plan.notes)
    kinds = [one.task.kind for one in plan.placed]
    ahead = "cool" in kinds and not {"fry", "reheat", "cook"} & {*kinds[kinds.index("cool") :]}
    limits: tuple[Limit, ...] = ()
    if ahead:
        heat = _rule("reheat_f")
        limits = (Limit(f"cold, or heated again to {degrees(heat.value)} within 2 h", _source(heat.cite)),)
    day, at = (day_name(clock.serve), f"{clock.serve:%H:%M}") if clock.bound else ("0 h", "before serving")
    return Row("serve", "Serve", day, at, "", (), (), "", limits, "", tuple(notes), start=clock.serve if clock.bound else None)


def _after(recipe: Recipe, plan: Schedule, task: Task) -> Row:
    limits: tuple[Limit, ...] = ()
    notes: tuple[str, ...] = task.notes
    if task.kind == "hold":
        least = facts.fact("hot_hold_min_f")
        told = (_page(recipe, recipe.process.hold, "held at"),) if recipe.process.hold is not None and recipe.process.hold.low >= least.value else ()
        limits = (*told, Limit(f"{degrees(least.value)} or more", _source(least.cite)))
    if task.kind == "cool-left":
        limits = tuple(_cooling_limits(recipe))
    if task.kind == "keep":
        cold = facts.fact("cure_max_f")
        limits = (Limit(f"{degrees(cold.value)} or less", _source(cold.cite)),)
        made = _cooked_on(plan)
        days = re.match(r"\d+", plan.work.keep_words)
        if made is not None and plan.clock.bound and days is not None:
            notes = (*notes, f"Made {day_name(made)}, day 1; use by {full_day(made + timedelta(days=int(days[0]) - 1))}")
    return Row(task.kind, _TITLES[task.kind], "after", "", _short(task.words), (), (), "probe" if task.kind != "keep" else "label", limits, plan.work.keep_words if task.kind == "keep" else "", notes)


# -- what to weigh


def _weighed(recipe: Recipe, sums: Sums, task: Task) -> Iterator[Weigh]:
    if task.kind == "pump":
        pump, meat = recipe.process.pump, recipe.process.meat
        if pump is not None and meat is not None and meat.mass is not None and meat.mass_stated:
            gram = meat.mass.likely * pump.span.likely / 100
            yield Weigh("brine for the needle", _gram(gram, sums, False), f"{pump.span.likely:g} % of green weight")
    if task.kind == "cure" and sums.method != "none":
        for item in recipe.of_role("meat"):
            yield _one(item, sums)
        return
    uses = _USES.get(task.kind) if task.kind != "spice" or not is_mix(recipe) else ("blend", "rub", "cure")
    if task.kind == "season" and not lies_in_it(recipe, sums):
        uses = ("cure",)  # salted before the fire
    if uses is None:
        return
    rubbed = {id(item) for section in recipe.sections if section.rubbed for item in section.ingredients}
    for item in recipe.ingredients:
        if item.use not in uses or (item.role == "meat" and task.kind != "grind"):
            if not (task.kind == "season" and id(item) in rubbed):
                continue
        if task.kind == "brine" and id(item) in rubbed:
            continue
        yield _one(item, sums)


def _one(item: Ingredient, sums: Sums) -> Weigh:
    name = f"{item.name or item.role}{' (if wanted)' if item.optional else ''}"
    if item.mass is None:
        return Weigh(name, _counted(item.amount) if item.amount is not None else "as needed", "no weight on the page" if item.amount is not None else "")
    if item.mass.low < 0:
        return Weigh(name, "?", "less than nothing on the page: ask")
    fine = item.role in CURING_SALTS or item.role == "accelerator"
    gram = _gram(item.mass.likely, sums, fine)
    if item.amount is not None and not item.weighed and units.dimension(item.amount.unit) == "thing" and not fine:
        return Weigh(name, _counted(item.amount), f"about {gram}")
    low, high = (_gram(end, sums, fine).removesuffix(" g") for end in (item.mass.low, item.mass.high))
    return Weigh(name, gram, "" if item.weighed or low == high else f"{low} to {high}")


def _counted(amount: Amount) -> str:
    low, high = float(amount.low), float(amount.high)
    return f"{low:g}{f' to {high:g}' if high != low else ''} {units.in_words(amount.unit, several=high > 1)}".strip()


def _gram(gram: float, sums: Sums, fine: bool) -> str:
    """To what the kitchen's scale shows; a pinch to the tenth, for none of it is no amount."""
    scale = sums.house.scale.get("cure" if fine else "other", facts.table("sums")["scale.cure" if fine else "scale.other"].value)
    if not fine and gram < 5 * scale:
        scale = min(scale, facts.table("sums")["scale.cure"].value)
    shown = weighable(gram, scale)
    return f"{shown:,.1f} g" if scale < 1 else f"{shown:,.0f} g"


def _write(recipe: Recipe, sums: Sums, task: Task) -> Iterator[str]:
    """What is found at the bench and written down there."""
    if task.kind in ("pump", "cure") and not (task.kind == "cure" and sums.method.startswith("pumped")):
        yield "green weight ______ g"
    if task.kind == "pump":
        yield "pumped ______ g"
    if task.kind == "cure":
        if vessel(sums) == "brine":
            yield "brine ____ °"
        yield "thickest ____ mm"
    if task.kind in ("smoke", "cook"):
        yield "inside ____ °"
    if task.kind == "cool":
        yield "2 h ____ °, 6 h ____ °"


_TOOLS = {
    "thaw": "pan under it, bottom shelf", "spice": "scale", "rub-mix": "scale", "stand": "covered tray", "brine": "scale, 0.1 g scale for the cure", "chill": "probe, ice bath", "cure-mix": "0.1 g scale", "grind": "scale, 0.1 g scale, grinder",
    "pump": "needle, scale, strained brine", "soak": "tub, cold water", "equalize": "rack", "dry": "rack", "hang": "rack", "season": "tray", "smoke": "smoker, two probes", "wrap": "paper or foil",
    "cook": "pot or oven, probe", "rest": "board or tray", "cool": "shallow pans or ice bath, probe, clock", "slice": "knife, board", "fry": "pan", "reheat": "oven or steamer, probe",
}  # fmt: skip


def _tool(recipe: Recipe, sums: Sums, task: Task) -> str:
    if task.kind in ("brine", "cure-mix", "grind") and not recipe.of_role(*CURING_SALTS):
        return "scale, grinder" if task.kind == "grind" else "scale"
    if task.kind == "cure":
        process = recipe.process
        if vessel(sums) != "brine":
            return "bag or tub"
        size = f"{process.tub.high:.0f} litre " if process.tub is not None else ""
        return f"{size}{process.tub_material or ''} tub".replace("  ", " ").strip() + ", plate and weight"
    if task.kind == "out":
        return "sink, clean tub"
    return _TOOLS.get(task.kind, "")


# -- limits


def _rule(name: str) -> facts.Fact:
    return facts.table("rules")[name]


def _source(cite: Cite) -> str:
    return f"{short(cite)}, {cite.where}" if cite.key == "food-code-2022" and cite.where else short(cite)


def _page(recipe: Recipe, fact: Fact, words: str, more: str = "") -> Limit:
    return Limit(f"{words} {degrees(fact.low, fact.high)}{more} (line {fact.line})")


def _limits(recipe: Recipe, plan: Schedule, one: Placed) -> Iterator[Limit]:
    process, kind = recipe.process, one.task.kind
    cold = facts.fact("cure_max_f")
    wet = any(task.kind == "brine" for task in plan.work.main)
    if kind == "thaw":
        most = _rule("thaw_max_f")
        yield Limit(f"{degrees(most.value)} or less, never on the counter", _source(most.cite))
    elif kind in ("brine", "cure-mix", "grind") and recipe.of_role(*CURING_SALTS):
        yield Limit("curing salt to 0.1 g, never by the spoon; two people read the scale")
    elif kind == "chill":
        into = facts.fact("brine_into_meat_max_f")
        if process.brine_temperature is not None:
            yield _page(recipe, process.brine_temperature, "to")
        yield Limit(f"{degrees(into.value)} or less before meat goes in", _source(into.cite))
    elif kind == "pump":
        if process.pump is not None:
            yield Limit(f"{process.pump.low:g}{f' to {process.pump.high:g}' if process.pump.high != process.pump.low else ''} % of green weight (line {process.pump.line})")
    elif kind == "cure":
        if process.cure_temperature is not None:
            yield _page(recipe, process.cure_temperature, "at")
        yield Limit(f"{degrees(cold.value)} or less", _source(cold.cite))
        if wet and not any(task.kind == "pump" for task in plan.work.main):
            yield Limit("all of it under the brine")
        if one.task.lasts.said == "page":
            yield Limit(f"no less than {in_words(one.task.lasts.low)}")
    elif kind == "out":
        yield Limit(f"throw the {'brine' if wet else 'juices'} away")
    elif kind in ("soak", "dry", "equalize", "hang", "stand"):
        if kind == "soak" and process.soak_warm is not None:
            most = _rule("soak_out_h")
            yield Limit(f"no more than {most.value:g} h out of the cold", _source(most.cite))
        elif kind == "soak" or COLD_PLACE.search(one.task.words.lower()):
            yield Limit(f"in the cold, {degrees(cold.value)} or less", _source(cold.cite))
    elif kind in ("smoke", "cook"):
        yield from _heat_limits(recipe, plan, one)
    elif kind == "wrap" and (inside := _told_heats(one.task, "meat")):
        yield Limit(f"until inside {degrees(*inside[-1])} (line {one.task.lines[0]})")
    elif kind == "rest":
        final, least, minimum = process.final_temperature, facts.fact("minimum.whole_rest_min"), facts.fact("minimum.whole_f")
        if final is not None and minimum.value <= final.low < facts.fact("instant_meat_f").value and not _bird(recipe):
            yield Limit(f"{least.value:g} min at the least", _source(least.cite))
    elif kind == "cool":
        yield from _cooling_limits(recipe, plan.clock if plan.clock.bound else None, one.before)
    elif kind == "reheat":
        heat = _rule("reheat_f")
        yield Limit(f"{degrees(heat.value)} within 2 h", _source(heat.cite))


def _bird(recipe: Recipe) -> bool:
    return recipe.process.meat is not None and recipe.process.meat.species in ("chicken", "turkey", "duck", "goose", "poultry")


def _heat_limits(recipe: Recipe, plan: Schedule, one: Placed) -> Iterator[Limit]:
    """The air and the end inside, as the step itself tells them; the least of the chart stands at the last heat before it is cooled or eaten."""
    process, final = recipe.process, recipe.process.final_temperature
    airs, inside = _told_heats(one.task, "smoker", "oven", "air"), _told_heats(one.task, "meat")
    line = one.task.lines[0] if one.task.lines else 0
    if airs:
        yield Limit(f"air {degrees(min(low for low, _ in airs), max(high for _, high in airs))} (line {line})")
    elif one.task.kind == "smoke" and process.smoke_temperature is not None:
        yield _page(recipe, process.smoke_temperature, "air")
    hot = [placed for placed in plan.placed if placed.task.kind in ("smoke", "cook")]
    last = one is hot[-1]
    held = f", held {in_words(final.dwell.span.likely / 60)}" if final is not None and final.dwell is not None else ""
    if inside:
        low, high = inside[-1]
        ends = final is not None and (low, high) == (final.low, final.high)
        yield Limit(f"until inside {degrees(low, high)}{held if ends else ''} (line {line})")
    elif final is not None and last and not any(_told_heats(placed.task, "meat") for placed in plan.placed if placed.task.kind in ("smoke", "cook", "wrap")):
        yield _page(recipe, final, "until inside", held)
    if not last or recipe.raw_on_purpose:
        return
    least = _least_inside(recipe)
    # Where the page goes well past it, the page's own end is the limit to cook to.
    if final is None or final.low < facts.fact("instant_meat_f").value or final.low < least.value:
        rest = facts.fact("minimum.whole_rest_min")
        yield Limit(f"no less than {degrees(least.value)}{f' and {rest.value:g} min rest' if least.name == 'minimum.whole_f' else ''}", _source(least.cite))


def _told_heats(task: Task, *of: str) -> list[tuple[float, float]]:
    """°F of what the step says of these, in its order."""
    heats = [one.amount for one in task.heats if one.of in of and one.amount.unit in ("degF", "degC", "gas_mark")]
    return [(units.fahrenheit(one.low, one.unit), units.fahrenheit(one.high, one.unit)) for one in heats]


def _least_inside(recipe: Recipe) -> facts.Fact:
    meat = recipe.process.meat
    if _bird(recipe):
        return facts.fact("minimum.poultry_f")
    if recipe.product == "ground" or (meat is not None and meat.ground):
        return facts.fact("minimum.ground_f")
    return facts.fact("minimum.fish_f" if meat is not None and meat.species == "fish" else "minimum.whole_f")


def _cooling_limits(recipe: Recipe, clock: Clock | None = None, before: int = 0) -> Iterator[Limit]:
    """The legs with their limits, and the hours of the clock where it is known when it begins."""
    start, middle, cold = facts.fact("cooling.start_f"), _rule("cooling.stage_end_f"), _rule("cooling.cold_end_f")
    first, whole = facts.fact("cooling.stage1_h"), facts.fact("cooling.total_h")
    by = [f", by {_moment(clock, before - round(leg.value * 60))}" if clock is not None else "" for leg in (first, whole)]
    yield Limit(f"{start.value:g} to {middle.value:g} °F ({(start.value - 32) * 5 / 9:.0f} to {(middle.value - 32) * 5 / 9:.0f} °C) in {first.value:g} h{by[0]}", _source(first.cite))
    yield Limit(f"to {degrees(cold.value)} in {whole.value:g} h in all{by[1]}", _source(whole.cite))
    legs = recipe.process.cooling
    if legs and sum(leg.high for leg in legs) < whole.value:
        yield Limit(f"the page wants it faster: {', '.join(f'{leg.start:.0f} to {leg.end:.0f} °F in {leg.high:g} h' for leg in legs)} (line {legs[0].line})")


# -- round the rows


def _summary(sums: Sums, plan: Schedule) -> Iterator[str]:
    clock = plan.clock
    if clock.bound:
        yield f"Served {full_day(clock.serve)}, {clock.serve:%H:%M}"
    cure = plan.of("cure")
    if cure is None:
        return
    place = vessel(sums)
    if not clock.bound:
        yield f"In the {place} for {_near(cure.takes)}"
    elif cure.earliest_out is not None and cure.earliest_out.date() < cure.end.date():
        yield f"In the {place} by {day_name(cure.start)}, out {day_name(cure.earliest_out)} to {day_name(cure.end)}"
    else:
        yield f"In the {place} by {day_name(cure.start)}, out {day_name(cure.end)}"


def _late(plan: Schedule, today: date) -> str | None:
    if plan.too_late is None:
        return None
    following = plan.too_late.next_serve
    then = f"next possible serving {full_day(following)}, {following:%H:%M}, begun after today" if following is not None else "no serving within the months ahead could be found that can be met"
    return f"This had to be started on {full_day(plan.too_late.latest)} at {plan.too_late.latest:%H:%M}; it is too late: {then}."


def _notes(plan: Schedule, asked: Asked, rows: Iterable[Row]) -> Iterator[str]:
    cure, clock = plan.of("cure"), plan.clock
    day, end = facts.table("prep")["day.start"].value, facts.table("prep")["day.end"].value
    if cure is not None and cure.task.lasts.low >= 48:
        out = (cure.end.date() - cure.start.date()).days if clock.bound else int(cure.takes // 24)
        yield f"Day 1 is the day it goes in, and it comes out on day {out + 1}; a day of cure is 24 hours."
    if any(one.task.lasts.said != "unknown" and one.task.lasts.low != one.task.lasts.high for one in plan.placed):
        yield "Where there is a range, the short end is planned, for the long one would begin before today." if plan.short else "Where there is a range, the long end is planned, or as near to it as the days allow."
    assumed = any(one.task.lasts.said == "assumed" for one in plan.placed)
    if assumed:
        yield "“Assumed” is not from the page: put your own time beside it."
    if any(one.task.lasts.said == "unknown" for one in plan.placed):
        yield "“Time not on the page”: the plan only leaves room for it; go by the probe, and write the time on the recipe."
    if clock.bound:
        yield f"Hands-on work is put between {day:.0f}:00 and {end:.0f}:00 where it can be; this program does not know the kitchen's hours."
        yield f"Times are by the clocks of {asked.zone}." if asked.zone is not None else "Times are by the clock on the wall; a change of the clocks is not counted in (--zone does that)."
    else:
        yield "Give --serve for days and times; closed days count only then."
    if any(" to " in weigh.more for row in rows for weigh in row.weigh):
        yield "Grams with a span in brackets are worked from a spoon, a cup or a count: weigh them once and write the weight on the recipe."
    if asked.closed and clock.bound:
        yield f"Closed: {', '.join(asked.closed)}."
    if plan.work.unplaced:
        yield f"On no row of this sheet: {'; '.join(f'line {step.line} (“{_cut(step.text)}”)' for step in plan.work.unplaced[:6])}{' and more' if len(plan.work.unplaced) > 6 else ''}."


def _cut(words: str) -> str:
    line = " ".join(words.split())
    return line if len(line) <= 40 else f"{line[:38].rstrip()} …"


def cleaned(lines: Iterable[str]) -> str:
    return "\n".join(clean(line) for line in lines if line)
