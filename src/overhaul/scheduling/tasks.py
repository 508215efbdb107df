"""The work of one recipe, in its order: what is done with the meat, what is made beforehand, and what comes after the serving."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.recipe.method import COLD_PLACE
from overhaul.recipe.model import CURING_SALTS, Measured, Recipe, Step
from overhaul.scheduling import lasting
from overhaul.scheduling.lasting import Lasting
from overhaul.sums.work import Sums

Kind = Literal[
    "thaw", "spice", "rub-mix", "brine", "chill", "cure-mix", "grind", "pump", "cure", "out", "soak", "equalize", "dry", "hang", "stand", "season", "smoke", "wrap", "cook",
    "rest", "cool", "slice", "fry", "reheat", "serve", "hold", "cool-left", "keep",
]  # fmt: skip
BESIDE: frozenset[Kind] = frozenset(["thaw"])  # goes on while other things are made
AFTER: frozenset[Kind] = frozenset(["hold", "cool-left", "keep"])

_LEFT = re.compile(r"\b(?:left ?over|leftovers|what(?:'s| is) (?:left|not)|what remains|(?:cool )?the rest\b|rest of it|(?:for )?another day|surplus|not served|not eaten)", re.I)
_SERVED = re.compile(r"\bserve[sd]?\b(?! cold| chilled)|\beat (?:it |them )?(?:hot|warm|at once)\b", re.I)
_COOKS = ("simmer", "boil", "steam", "braise", "roast", "fry", "cook")
_ACTION_KINDS: dict[str, Kind] = {
    "soak": "soak", "dry": "dry", "smoke": "smoke", "wrap": "wrap", "rest": "rest", "cool": "cool", "slice": "slice", "reheat": "reheat", "rub": "season",
    **dict.fromkeys(_COOKS, "cook"),
}  # fmt: skip
_PHASE_KINDS: dict[str, Kind] = {
    "soak": "soak", "equalize": "equalize", "dry": "dry", "season": "season", "smoke": "smoke", "wrap": "wrap", "cook": "cook", "rest": "rest", "cool": "cool",
    "slice": "slice", "hold": "hold",
}  # fmt: skip
# The phase of a step takes these verbs for its own; anything else in its words is a task beside it.
_BELONGS: dict[str, frozenset[str]] = {
    "smoke": frozenset(["smoke", "wrap"]), "cook": frozenset([*_COOKS, "rest"]), "cool": frozenset(["cool"]), "rest": frozenset(["rest", "slice"]),
    "slice": frozenset(["slice"]), "store": frozenset(), "hold": frozenset(["hold"]), "wrap": frozenset(["wrap"]), "season": frozenset(["rub"]),
}  # fmt: skip


class Task(Struct, frozen=True):
    """One thing to do. ``after`` is how many hours it may stand before the next task begins, ``lines`` where the page tells of it."""

    kind: Kind
    lasts: Lasting
    words: str = ""  # of the page
    lines: tuple[int, ...] = ()
    after: float = 0
    notes: tuple[str, ...] = ()
    verb: str = ""
    heats: tuple[Measured, ...] = ()  # of a smoke or a cook, as its step tells them


class Work(Struct, frozen=True):
    """``main`` in order up to the serving; ``thaw`` beside it, ending where ``main[meat_in]`` begins; ``after`` the serving."""

    main: tuple[Task, ...]
    thaw: Task | None
    meat_in: int
    after: tuple[Task, ...]
    unplaced: tuple[Step, ...]  # steps that no task takes up
    keeps_days: int | None  # of what is cooked ahead, the day of cooking counted as the first
    keep_words: str = ""


def work(recipe: Recipe, sums: Sums) -> Work:
    """What there is to do for ``recipe``."""
    steps = list(recipe.steps)
    taken: set[int] = set()
    ground = recipe.product == "ground" or (recipe.process.meat is not None and recipe.process.meat.ground)
    ahead = list(_ground(recipe, steps, taken) if ground else _ahead(recipe, sums, steps, taken))
    meat_in = next((index for index, task in enumerate(ahead) if task.kind in ("pump", "cure", "grind")), len(ahead))
    main = [*ahead, *_from_there(recipe, steps, taken)]
    if not ground and not lies_in_it(recipe, sums) and not is_mix(recipe) and not any(task.kind == "season" for task in main) and any(item.use == "cure" and item.role != "meat" for item in recipe.ingredients):
        main.insert(0, Task("season", lasting.hands("season"), after=lasting.figure("wait.raw").value))
    ahead_of_service = any(task.kind == "cool" for task in main)
    keeps, keep_words = _keeping(recipe, sums)
    main = [replace(task, after=_raw_wait(main[index + 1 :])) if task.kind == "out" else task for index, task in enumerate(main)]
    if ahead_of_service:
        main = _cooked_ahead(main, keeps)
    elif not any(task.kind == "slice" for task in main) and any(task.kind in ("smoke", "cook") for task in main):
        main.append(Task("slice", lasting.hands("slice")))
    after = tuple(_afterwards(recipe, steps, taken, ahead_of_service, keep_words))
    unplaced = tuple(step for index, step in enumerate(steps) if index not in taken and step.text.strip())
    return Work(tuple(main), _thaw(recipe), meat_in, after, unplaced, keeps if ahead_of_service else None, keep_words)


def lies_in_it(recipe: Recipe, sums: Sums) -> bool:
    """Whether the meat lies in a brine or a salt for its time; what is only salted before the fire does not."""
    if sums.method in ("immersion", "pumped", "pumped-immersion") or recipe.process.cure_time is not None:
        return True
    return any(item.role in CURING_SALTS for item in recipe.ingredients) or any(step.does("cure", "pump", "overhaul") for step in recipe.steps)


def is_mix(recipe: Recipe) -> bool:
    """A rub or a spice by itself: no meat is weighed, and nothing is put into it."""
    return not recipe.of_role("meat", use=None) and not any(step.does("cure", "pump", "smoke", "cook") for step in recipe.steps)


def _thaw(recipe: Recipe) -> Task | None:
    meat, told = recipe.process.meat, recipe.process.thaw
    if told is None and (meat is None or not meat.frozen):
        return None
    words = told.words if told is not None else ""
    line = told.line if told is not None else meat.line if meat is not None else 0
    lasts, note = lasting.thaw(recipe)
    return Task("thaw", lasts, words, (line,), lasting.figure("wait.thawed").value, (note,) if note is not None else ())


def _told(steps: list[Step], taken: set[int], *phases: str) -> tuple[str, tuple[int, ...]]:
    """The words of every step whose own phase is one of these, and their lines; they are taken up by it."""
    found = [(index, step) for index, step in enumerate(steps) if step.phase in phases and index not in taken]
    taken.update(index for index, _ in found)
    return " ".join(step.text.strip() for _, step in found), tuple(dict.fromkeys(step.line for _, step in found))


def _ahead(recipe: Recipe, sums: Sums, steps: list[Step], taken: set[int]) -> Iterator[Task]:
    """Up to the moment it comes out of the brine or the salt."""
    method = sums.method
    wet = method in ("immersion", "pumped", "pumped-immersion")
    taken.update(index for index, step in enumerate(steps) if step.phase in ("thaw",))
    blends = [item for item in recipe.ingredients if item.use == "blend"]
    cured = [item for item in recipe.ingredients if item.use == "cure" and item.role != "meat"]
    if not wet and is_mix(recipe):
        if cured or blends:
            yield Task("spice", lasting.hands("spice"), *_told(steps, taken, "make-spice", "make-brine"))
        return
    if blends:
        words, lines = _told(steps, taken, "make-spice") if wet else ("", ())
        yield Task("spice", lasting.hands("spice"), words, lines, lasting.figure("wait.spice").value)
    if method == "none" or not lies_in_it(recipe, sums):
        return
    if wet and cured:
        words, lines = _told(steps, taken, "make-brine", "make-spice")
        chilled = _told(steps, taken, "cool-brine")
        if not words:  # "stir it up and chill it" is one sentence
            (words, lines), chilled = chilled, ("", ())
        boiled = lasting.hands("boil").high if recipe.process.brine_heated is not None else 0.0
        makes = lasting.hands("brine").high + boiled
        yield Task("brine", Lasting(makes, makes, "assumed", f"{lasting.in_words(makes)} assumed"), words, lines)
        yield Task("chill", lasting.chill(recipe), *chilled, lasting.figure("wait.brine").value)
    elif cured:
        words, lines = _told(steps, taken, "make-spice", "make-brine", "cool-brine")
        yield Task("cure-mix", lasting.hands("cure_mix"), words, lines, lasting.figure("wait.spice").value)
    words, lines = _told(steps, taken, "trim")
    trimmed = (words, lines)
    if method.startswith("pumped"):
        words, lines = _told(steps, taken, "pump")
        yield Task("pump", lasting.hands("pump"), " ".join(part for part in (trimmed[0], words) if part), (*trimmed[1], *lines))
        trimmed = ("", ())
    words, lines = _told(steps, taken, "cure", "overhaul")
    yield Task("cure", lasting.cure(recipe, sums), " ".join(part for part in (trimmed[0], words) if part), tuple(dict.fromkeys((*trimmed[1], *lines))))
    first = next((index for index, step in enumerate(steps) if index not in taken and step.phase == "rinse"), None)
    words, lines = ("", ())
    if first is not None:
        step = steps[first]
        words, lines = step.text.strip(), (step.line,)
    yield Task("out", lasting.hands("out"), words, lines)


def _ground(recipe: Recipe, steps: list[Step], taken: set[int]) -> Iterator[Task]:
    """Ground, mixed and stuffed in one go, and hung where the page says so."""
    before = next((index for index, step in enumerate(steps) if step.does("smoke", "cook")), len(steps))
    if any(item.use in ("blend", "rub") for item in recipe.ingredients):
        yield Task("spice", lasting.hands("spice"), after=lasting.figure("wait.spice").value)
    early = [(index, step) for index, step in enumerate(steps[:before]) if step.phase not in ("dry", "other") or not step.actions or not step.times]
    hung = next(((index, step) for index, step in early if re.search(r"\bhang\w*|\bhung\b", step.text, re.I)), None)
    taken.update(index for index, _ in early)
    words = " ".join(step.text.strip() for _, step in early if step.phase != "other" or step.actions)
    yield Task("grind", lasting.hands("grind"), words, tuple(dict.fromkeys(step.line for _, step in early if step.phase != "other" or step.actions)))
    if hung is not None:
        found = lasting.stated(recipe, hung[1], "hang", ()) or lasting.assumed(lasting.figure("overnight"), lasting.figure("overnight").high)
        yield Task("hang", replace(found, stretched=found.high + lasting.figure("stretch.rack").value), hung[1].text.strip(), (hung[1].line,))


def _kinds(step: Step) -> list[Kind]:
    """What is done in one step, in the order of its words."""
    if step.phase in ("make-spice", "make-brine", "cool-brine", "thaw", "trim", "pump", "cure", "overhaul"):
        return []
    found: list[Kind] = []
    own = _PHASE_KINDS.get(step.phase)
    allowed = _BELONGS.get(step.phase)
    for phase in step.then:
        allowed = allowed | _BELONGS.get(phase, frozenset()) if allowed is not None else None
    if own is not None and not any(_ACTION_KINDS.get(action) == own for action in step.actions):
        found.append(own)
    for action in step.actions:
        kind = _ACTION_KINDS.get(action)
        if kind is None or (allowed is not None and action not in allowed) or (step.phase == "other" and kind not in ("dry", "soak", "rest", "reheat", "season")):
            continue
        if kind == "dry" and not _racks(step):
            continue
        found.append(kind)
    if step.phase == "other" and "dry" not in found and _stands(step):
        found.append("stand")
    found += [kind for phase in step.then if (kind := _PHASE_KINDS.get(phase)) is not None and kind not in found]
    return list(dict.fromkeys(found))


def _stands(step: Step) -> bool:
    """Left in the cold for a time, before anything else is done with it."""
    long = any(one.amount.unit in ("hour", "night", "day") for one in step.times) or bool(re.search(r"\b(?:overnight|o/n)\b", step.text, re.I))
    return long and bool(COLD_PLACE.search(step.text.lower())) and bool({"leave", "refrigerate", "rub"} & {*step.actions})


def _racks(step: Step) -> bool:
    """Dried for a while; a pat with a towel is part of the task before it."""
    return bool(step.phase == "dry" and step.times) or bool(step.times) or bool(re.search(r"\b(?:overnight|o/n|rack\w*|uncovered|air[- ]dry|tacky|hang|hung)\b", step.text, re.I))


def _from_there(recipe: Recipe, steps: list[Step], taken: set[int]) -> list[Task]:
    """From the brine, or from the start where nothing is cured, to the plate, in the order of the page."""
    found: list[Task] = []
    eaten = False  # what is cooled from here on is what is left
    for index, step in enumerate(steps):
        if index in taken:
            continue
        if step.does("cool") and (eaten or _LEFT.search(step.text)):
            eaten = True
            continue
        eaten = eaten or (step.does("slice", "rest", "cook", "hold") and _SERVED.search(step.text) is not None)
        kinds = _kinds(step)
        if step.phase == "rinse":
            taken.add(index)
        timed = lasting.kinds_with_time(tuple(kinds))
        for kind in kinds:
            if kind == "hold":
                continue
            taken.add(index)
            told = next((at for at, task in enumerate(found) if task.kind == kind), None)
            if told is not None and kind in ("slice", "rest", "wrap", "cool"):
                found[told] = _more_of(found[told], step)
                continue
            if kind == "season" and not any(task.kind == "season" for task in found) and any(item.use == "rub" for item in recipe.ingredients):
                found.append(Task("rub-mix", lasting.hands("spice"), after=lasting.figure("wait.raw").value))
            found.append(_task(recipe, step, kind, tuple(other for other in timed if other != kind), {task.kind for task in found}))
    return found


def _more_of(task: Task, step: Step) -> Task:
    """The same task told on: ``Cold shower. From 57 to 21 °C in 1 hour.``"""
    words = step.text.strip()
    return task if words in task.words else replace(task, words=f"{task.words} {words}", lines=tuple(dict.fromkeys((*task.lines, step.line))))


def _task(recipe: Recipe, step: Step, kind: Kind, others: tuple[str, ...], done: set[Kind]) -> Task:
    words, lines = step.text.strip(), (step.line,)
    raw = lasting.figure("wait.raw").value
    cold = bool(COLD_PLACE.search(step.text.lower()))
    if kind == "season":
        return Task("season", lasting.hands("season"), words, lines, raw)
    if kind == "slice":
        return Task("slice", lasting.hands("slice"), words, lines)
    if kind == "wrap":
        goes_on = lasting.stated(recipe, step, kind, others) if step.phase == "wrap" else None
        return Task("wrap", goes_on or Lasting(0, 0, "page"), words, lines, heats=step.temperatures)
    if kind == "cool":
        lasts, note = lasting.cooling(recipe)
        return Task("cool", lasts, words, lines, notes=(note,) if note is not None else ())
    if kind == "reheat":
        most = lasting.figure("reheat.most")
        return Task("reheat", lasting.assumed(most, most.value), words, lines)
    found = lasting.stated(recipe, step, kind, others)
    if kind == "soak":
        usual = facts.table("rules")["soak_after_brine_h"]
        return Task("soak", found or lasting.assumed(usual, usual.value), words, lines, raw)
    if kind in ("dry", "equalize", "stand"):
        found = found or lasting.assumed(lasting.figure("overnight"), lasting.figure("overnight").high)
        return Task(kind, replace(found, stretched=found.high + lasting.figure("stretch.rack").value) if cold or found.low >= lasting.figure("stretch.from").value else found, words, lines)
    if kind == "rest":
        usual = facts.table("rules")["rest_for_slicing_min"]
        return Task("rest", found or lasting.assumed(usual, usual.value / 60), words, lines)
    verb = next((action for action in step.actions if action in _COOKS), "")
    if kind == "cook" and done & {"slice", "cool"} and (verb == "fry" or (found is None and not step.temperatures)):
        return Task("fry", lasting.hands("fry"), words, lines, verb=verb)
    if found is None:
        tender = facts.fact("tender_from_f").value
        final = recipe.process.final_temperature
        found = lasting.room("cook" if kind == "cook" or "smoke" in done else "smoke_tender" if final is not None and final.high >= tender - facts.fact("tender_slack_f").value else "smoke")
    return Task(kind, found, words, lines, verb=verb, heats=step.temperatures)


def _raw_wait(rest: list[Task]) -> float:
    """What is rinsed goes straight into its soak or on to its rack; before the fire it may stand in the cold."""
    return 0.0 if rest and rest[0].kind in ("soak", "dry", "equalize") else lasting.figure("wait.raw").value


def _cooked_ahead(main: list[Task], keeps: int) -> list[Task]:
    """What is cooled stands in the cold until its day, and is served cold or heated again."""
    cooled = next(index for index, task in enumerate(main) if task.kind == "cool")
    # Day 1 is the day of cooking: rest and cool-down are within its days, and what stands after them is less by that much.
    before = sum(task.lasts.most for task in main[cooled - 1 : cooled + 1])
    stands = max(0.0, (keeps - 1) * 24 - before)
    main[cooled] = replace(main[cooled], after=stands)
    return main


def _keeping(recipe: Recipe, sums: Sums) -> tuple[int, str]:
    """Days that it keeps cold, as the page says and no longer than the limit; and the words for it."""
    sold = sums.house.sold if sums.house.sold is not None else recipe.sold
    kept = recipe.process.storage
    silent = kept is None or kept.kept == "frozen"
    # As the audit has it, where the page gives days; where it gives none, the fewer.
    limit = facts.fact("keep_raw_bacon_d") if recipe.raw_on_purpose else facts.fact("keep_sold_d" if sold or (sold is None and not silent) else "keep_home_d")
    source = facts.source(limit.source).title
    if kept is None or kept.kept == "frozen":
        return int(limit.value), f"{limit.value:g} days, {source}; the page does not say"
    if kept.high > limit.value:
        return int(limit.value), f"{limit.value:g} days, {source}; the page says {kept.high:g}"
    return max(1, int(kept.high)), f"{kept.high:g} day{'' if kept.high == 1 else 's'}, as the page says"


def _afterwards(recipe: Recipe, steps: list[Step], taken: set[int], ahead: bool, keep_words: str) -> Iterator[Task]:
    if recipe.process.hold is not None:
        words, lines = _told(steps, taken, "hold")
        yield Task("hold", Lasting(0, 0, "page"), words, lines or (recipe.process.hold.line,))
    if ahead:
        _told(steps, taken, "store")
        return
    left = [(index, step) for index, step in enumerate(steps) if index not in taken and step.does("cool")]
    taken.update(index for index, _ in left)
    heated = any(step.does("smoke", "cook") for step in steps)
    if heated:
        lasts, note = lasting.cooling(recipe)
        yield Task("cool-left", lasts, " ".join(step.text.strip() for _, step in left), tuple(step.line for _, step in left), notes=(note,) if note is not None else ())
    words, lines = _told(steps, taken, "store")
    if is_mix(recipe) and not words:
        return
    yield Task("keep", Lasting(0, 0, "page"), words, lines)
