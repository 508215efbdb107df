"""The kinds of fault: where each applies, how it is worded, which rule must find it, and what may be said besides."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from overhaul.findings import Grade
from overhaul.reading import phrases
from overhaul.recipe.model import CURING_SALTS, Fact, Recipe, Step
from overhaul.text import Place
from tests.conftest import recipe_of
from tests.planted.edits import Planted, added, last_step, one, swapped, without, words_out

_OUNCE = 28.349523125
_NOTHING = Fact(0, 0, "degF", 1, Place(4, 4))


@dataclass(frozen=True)
class Kind:
    """One kind of fault. ``also`` : rules that rightly speak of the same edit. The last wording of each was written after the rule and is no example of the lexicon."""

    name: str
    rules: tuple[str, ...]
    grade: Grade
    plant: Callable[[Recipe], Iterator[Planted]]
    also: tuple[str, ...] = ()
    near: int = 0  # lines that the finding may stand away: something missing stands where it belongs


def _gram(recipe: Recipe, *roles: str) -> float | None:
    item = one(recipe, *roles)
    return item.mass.likely if item is not None and item.mass is not None else None


def _amount(*roles: str, wordings: Callable[[float], tuple[str, ...]], when: Callable[[Recipe], bool] = lambda recipe: True) -> Callable[[Recipe], Iterator[Planted]]:
    """Another amount in place of that of the only ingredient of these roles, from its grams."""

    def plant(recipe: Recipe) -> Iterator[Planted]:
        item, gram = one(recipe, *roles), _gram(recipe, *roles)
        if item is None or item.amount is None or gram is None or not when(recipe):
            return
        for new in wordings(gram):
            yield swapped(recipe, item.amount.place, new)

    return plant


def _named(*roles: str, names: tuple[str, ...]) -> Callable[[Recipe], Iterator[Planted]]:
    """Another name in place of that of the only ingredient of these roles, with what stands behind it on the line."""

    def plant(recipe: Recipe) -> Iterator[Planted]:
        item = one(recipe, *roles)
        if item is None or item.amount is None or item.name_place.start < item.amount.place.end or "|" in recipe.page.line(item.line):
            return
        if sum(other.line == item.line for other in recipe.ingredients) > 1:
            return
        end = recipe.page.lines[item.line - 1].place.end
        for name in names:
            yield swapped(recipe, Place(item.name_place.start, end), name)

    return plant


def _line_out(*roles: str, when: Callable[[Recipe], bool]) -> Callable[[Recipe], Iterator[Planted]]:
    """The whole line of the only ingredient of these roles taken out."""

    def plant(recipe: Recipe) -> Iterator[Planted]:
        item = one(recipe, *roles)
        if item is None or not when(recipe) or sum(other.line == item.line for other in recipe.ingredients) > 1:
            return
        place = recipe.page.lines[item.line - 1].place
        text = recipe.page.text
        old = text[place.start : place.end]
        for wording, new in (("deleted", ""), ("crossed out", f"~~{old}~~"), ("elsewhere", "(on the other card)"), ("a dash", "–")):
            yield Planted(text[: place.start] + new + text[place.end :], item.line, wording)

    return plant


def _fact(get: Callable[[Recipe], Fact | None], wordings: tuple[str, ...], when: Callable[[Recipe], bool] = lambda recipe: True) -> Callable[[Recipe], Iterator[Planted]]:
    """Other words in place of a figure of the method."""

    def plant(recipe: Recipe) -> Iterator[Planted]:
        fact = get(recipe)
        if fact is None or not fact.stated or not when(recipe):
            return
        for new in wordings:
            yield swapped(recipe, fact.place, new)

    return plant


def _steps_out(*phases: str, when: Callable[[Recipe], bool] = lambda recipe: True, idle: str = "Carry on as usual.") -> Callable[[Recipe], Iterator[Planted]]:
    """Every sentence of these phases taken out, where they stand alone in their sentences."""

    def plant(recipe: Recipe) -> Iterator[Planted]:
        steps = [step for step in recipe.steps if step.phase in phases]
        if not steps or not when(recipe) or any(step.then and not set(step.then) <= set(phases) for step in steps):
            return
        yield from without(recipe, steps, idle)

    return plant


def _words(get: Callable[[Recipe], Place | None], new: tuple[str, ...] = ()) -> Callable[[Recipe], Iterator[Planted]]:
    """A few words of the method taken out, or others in their place."""

    def plant(recipe: Recipe) -> Iterator[Planted]:
        place = get(recipe)
        if place is None:
            return
        if new:
            for words in new:
                yield swapped(recipe, place, words)
        else:
            yield from words_out(recipe, place)

    return plant


def _says(sentences: tuple[str, ...], *phases: str, when: Callable[[Recipe], bool] = lambda recipe: True) -> Callable[[Recipe], Iterator[Planted]]:
    """A sentence added behind the last step of these phases."""

    def plant(recipe: Recipe) -> Iterator[Planted]:
        step = last_step(recipe, *phases)
        if step is None or not when(recipe):
            return
        for sentence in sentences:
            yield added(recipe, step, sentence)

    return plant


def _cured(recipe: Recipe) -> bool:
    return bool(recipe.of_role(*CURING_SALTS))


def _wet(recipe: Recipe) -> bool:
    return recipe.process.cure is not None and recipe.process.cure.method == "immersion"


def _method(recipe: Recipe) -> str:
    return recipe.process.cure.method if recipe.process.cure is not None else "none"


def _fish(recipe: Recipe) -> bool:
    return recipe.product in ("fish", "gravlax") or (recipe.process.meat is not None and recipe.process.meat.species == "fish")


def _belly(recipe: Recipe) -> bool:
    return recipe.product == "bacon" and recipe.process.meat is not None and recipe.process.meat.cut == "pork_belly_whole"


def _bird(recipe: Recipe) -> bool:
    return recipe.process.meat is not None and recipe.process.meat.species in ("chicken", "turkey")


def _eaten_cooked(recipe: Recipe) -> bool:
    return not recipe.raw_on_purpose and recipe.process.final_temperature is not None and recipe.product != "bacon"


def _cut_hot(recipe: Recipe) -> bool:
    """Whether it goes to the knife before it goes into the cold."""
    after = next((step for step in recipe.steps if step.phase != "rest" and step.does("cool", "slice", "hold")), None)
    return after is not None and not after.does("cool")


def _one_end(recipe: Recipe) -> bool:
    """Whether the page gives one temperature inside and no more."""
    return sum(one.of == "meat" for step in recipe.steps if step.does("smoke", "cook", "wrap") for one in step.temperatures) == 1


def _dry_fire(recipe: Recipe) -> bool:
    wet = {"simmer", "steam", "braise", "boil", "wrap"}
    return recipe.process.smoke_temperature is not None and not any(wet & set(step.actions) or step.does("wrap") for step in recipe.steps)


def _mention(name: str) -> Callable[[Recipe], Place | None]:
    return lambda recipe: found.place if (found := getattr(recipe.process, name)) is not None else None


def _cooling_place(recipe: Recipe) -> Place | None:
    legs = recipe.process.cooling
    return legs[0].place if legs else None


def _storage_time(recipe: Recipe) -> Place | None:
    kept = recipe.process.storage
    return kept.place if kept is not None and kept.kept == "cold" else None


def _storage_cold(recipe: Recipe) -> Place | None:
    """Where it is kept cold: behind the days, to the end of the sentence."""
    place = _storage_time(recipe)
    step = next((step for step in recipe.steps if place is not None and step.place.start <= place.start < step.place.end), None)
    if place is None or step is None:
        return None
    end = step.place.start + len(step.text.rstrip(" .;"))
    return Place(place.end, max(place.end, end))


def _cure_place(recipe: Recipe) -> Place | None:
    """From the cold place or its temperature to the end of both."""
    process = recipe.process
    places = [one.place for one in (process.cure_cold, process.cure_temperature) if one is not None]
    if not places or len({recipe.page.line_at(place.start) for place in places}) > 1:
        return None
    return Place(min(place.start for place in places), max(place.end for place in places))


def _in_step(recipe: Recipe, place: Place | None) -> Step | None:
    return next((step for step in recipe.steps if place is not None and step.place.start <= place.start < step.place.end), None)


def _clause(recipe: Recipe, place: Place | None) -> Place | None:
    """The words between the marks on both sides of ``place``, with the mark before them."""
    step = _in_step(recipe, place)
    if place is None or step is None:
        return None
    text = recipe.page.text
    start = max(text.rfind(mark, 0, place.start) + (mark == "\n") for mark in ",.;:\n")
    ends = [at for mark in ",.;\n" if (at := text.find(mark, place.end)) >= 0]
    return Place(max(start, 0), min(ends)) if ends else None


def _held_under(recipe: Recipe) -> Iterator[Planted]:
    """What holds it under, out of its sentence: only where nothing else on the page does."""
    place = _clause(recipe, _mention("weighed_down")(recipe))
    if place is None or not _cured(recipe) or not _wet(recipe):
        return
    text = recipe.page.text
    rest = recipe_of(text[: place.start] + text[place.end :])
    if (second := rest.process.weighed_down) is not None and second.line == recipe.page.line_at(place.start) and second.place.start >= place.start:
        place = Place(place.start, place.end + second.place.end - place.start)  # "in a zip bag, air pressed out": both
        rest = recipe_of(text[: place.start] + text[place.end :])
    if rest.process.weighed_down is None and rest.process.cure_time is not None and rest.process.cure_time.span == (recipe.process.cure_time or rest.process.cure_time).span:
        yield from words_out(recipe, place)


def _turning(recipe: Recipe) -> Iterator[Planted]:
    """The turning taken out of its sentence, or the whole sentence where it says nothing else."""
    turning = recipe.process.turning
    step = _in_step(recipe, turning.place if turning is not None else None)
    stay = recipe.process.cure_time
    if turning is None or step is None or stay is None or stay.unit != "day" or stay.high <= 7 or not _cured(recipe):
        return
    if any(other.does("overhaul") for other in recipe.steps if other is not step) or _method(recipe).startswith("pumped"):
        return
    text = recipe.page.text
    if step.phase == "overhaul" and not step.then:
        yield from without(recipe, [step])
        return
    start = max(text.rfind(mark, step.place.start, turning.place.start) for mark in ",.;\n")
    ends = [at for mark in ",.;\n" if (at := text.find(mark, turning.place.end)) >= 0]
    if start >= step.place.start and ends and min(ends) <= step.place.end:
        place = Place(start, min(ends))
        rest = recipe_of(text[: place.start] + text[place.end :]).process
        if rest.turning is None and rest.cure_time is not None:
            yield from words_out(recipe, place)


def _units_dropped(recipe: Recipe) -> Iterator[Planted]:
    item = one(recipe, *CURING_SALTS)
    if item is None or item.amount is None or item.amount.unit == "percent" or "|" in recipe.page.line(item.line):
        return
    figure = f"{float(item.amount.low):g}"
    for new in (figure, f"{figure} of", f"about {figure}", f"{figure} –"):
        yield swapped(recipe, item.amount.place, new)


def _frozen(recipe: Recipe) -> Iterator[Planted]:
    meat = recipe.process.meat
    item = next((item for item in recipe.ingredients if item.role == "meat" and item.use == "cure"), None)
    if item is not None and item.in_method:
        return
    if meat is None or item is None or recipe.process.thaw is not None or recipe.process.cure is None or "thaw" in recipe.page.low or "|" in recipe.page.line(item.line):
        return
    yield swapped(recipe, Place(item.name_place.start, item.name_place.start), "frozen ", "frozen NAME")
    end = recipe.page.lines[item.line - 1].place.end
    for new in (", frozen", ", straight from the freezer, still frozen", " (frozen solid)"):
        yield swapped(recipe, Place(end, end), new)


def _celsius_inside(recipe: Recipe) -> Iterator[Planted]:
    final = recipe.process.final_temperature
    if final is None:
        return
    said = recipe.page.words(final.place)
    figure = next((word for word in said.replace("°", " ").split() if word.isdigit()), None)
    if figure is None or int(figure) < 105:
        return
    for new in (f"{figure} C", f"{figure} °C", f"{figure} degrees Celsius", f"{figure} centigrade"):
        yield swapped(recipe, final.place, new)


def _column(recipe: Recipe) -> Iterator[Planted]:
    item = next((item for item in recipe.ingredients if item.role in CURING_SALTS and len(item.columns) > 1), None)
    if item is None:
        return
    for number in range(1, len(item.columns)):
        amount = item.columns[number].amount
        yield swapped(recipe, amount.place, f"{float(amount.low) * 1.5:g} g", f"column {number + 1}, half as much again")
        yield swapped(recipe, amount.place, f"{float(item.columns[0].amount.low):g} g", f"column {number + 1}, as in the first")


def _poured_hot(recipe: Recipe) -> Iterator[Planted]:
    steps = [step for step in recipe.steps if step.phase == "cool-brine"]
    if not _wet(recipe) or len(steps) != 1 or recipe.process.brine_temperature is None or any(item.in_method for item in recipe.ingredients):
        return
    for words in ("Pour the brine boiling hot over the meat.", "The brine goes over the meat while still hot.", "Pour it scalding over the meat.", "Bring it to a boil and pour it over the meat hot."):
        yield swapped(recipe, steps[0].place, words)


def _thawed(recipe: Recipe) -> Iterator[Planted]:
    first = next((step for step in recipe.steps if step.phase in ("make-brine", "make-spice", "cure", "cool-brine")), None)
    if first is None or recipe.process.thaw is not None or "thaw" in recipe.page.low:
        return
    at = first.place.start
    for words in ("Thaw the meat on the counter. ", "Thaw it overnight at room temperature. ", "Defrost it on the kitchen table. ", "Leave it to thaw in the sink overnight. "):
        yield Planted(recipe.page.text[:at] + words + recipe.page.text[at:], recipe.page.line_at(at), words.strip())


def _soaked(recipe: Recipe) -> Iterator[Planted]:
    step = next((step for step in recipe.steps if step.phase == "soak" and not step.then), None)
    if step is None or recipe.process.soak is None:
        return
    for words in ("Soak 8 hours in cold water on the counter.", "Soak overnight at room temperature.", "Soak it for 6 hours on the kitchen table.", "Soak for a day on the bench."):
        yield swapped(recipe, step.place, words)


def _cooled(recipe: Recipe) -> Iterator[Planted]:
    steps = [step for step in recipe.steps if step.phase == "cool"]
    if len(steps) != 1 or not recipe.process.cooling or recipe.raw_on_purpose or steps[0].then:
        return
    for words in ("Cool on the counter.", "Let it cool at room temperature.", "Leave it to cool on the worktop.", "Cool it down in the kitchen overnight."):
        yield swapped(recipe, steps[0].place, words)


def _no_cooling(recipe: Recipe) -> Iterator[Planted]:
    steps = [step for step in recipe.steps if step.phase == "cool"]
    if not steps or recipe.process.storage is None or recipe.raw_on_purpose or recipe.product == "bacon" or any(step.then for step in steps):
        return
    yield from without(recipe, steps)


def _against(recipe: Recipe) -> Iterator[Planted]:
    item = one(recipe, "salt")
    step = next((step for step in recipe.steps if step.phase == "make-brine"), None)
    if item is None or item.amount is None or item.mass is None or step is None or not item.weighed or "|" in recipe.page.line(item.line):
        return
    gram = item.mass.likely * 2
    for words in (f"Stir in the {gram:.0f} g salt.", f"Add {gram / _OUNCE:.0f} oz of the salt.", f"Dissolve {gram:.0f} grams salt in it.", f"Whisk in {gram / 1000:.2f} kg salt."):
        yield added(recipe, step, words)


def _two_amounts(recipe: Recipe) -> Iterator[Planted]:
    item = one(recipe, "salt", "sugar")
    if item is None or item.amount is None or item.mass is None or not item.weighed or item.also or "|" in recipe.page.line(item.line):
        return
    twice = item.mass.likely * 2
    for words in (f" ({twice:.0f} g)", f" ({twice / _OUNCE:.0f} oz)", f" (= {twice / 1000:.2f} kg)", f" ({twice / 453.59:.2f} lb)"):
        end = item.amount.place.end
        yield swapped(recipe, Place(end, end), words)


def _misprint(recipe: Recipe) -> Iterator[Planted]:
    item = one(recipe, "sugar")
    if item is None or item.amount is None or "|" in recipe.page.line(item.line):
        return
    for words in ("11/2 cups", "2 /14 cups", "31/2 cups", "1 1/0 cups"):
        yield swapped(recipe, item.amount.place, words)


def _taken_more(recipe: Recipe) -> Iterator[Planted]:
    lists = {(section.name or "").strip(" :").lower() for section in recipe.sections}
    item = next((item for item in recipe.ingredients if item.name.lower() in lists and item.amount is not None), None)
    if item is None or item.amount is None or not item.weighed:
        return
    for words in ("90 g", "0.2 kg", "5 oz", "150 grams"):
        yield swapped(recipe, item.amount.place, words)


def _lost_step(recipe: Recipe) -> Iterator[Planted]:
    numbered = [line for line in recipe.page.text.splitlines() if line[:1].isdigit() and line[1:2] in ".)"]
    step = last_step(recipe, "store", "rest", "cook", "smoke")
    if len(numbered) < 3 or step is None:
        return
    for words in ("Then go back to step 19.", "See step 21.", "As in step 30.", "The rest is told in step 25."):
        yield added(recipe, step, words)


def _boiled(recipe: Recipe) -> Iterator[Planted]:
    """A hard boil in place of the word of a simmer that goes on for an hour."""
    for step in recipe.steps:
        at = recipe.page.low.find("simmer", step.place.start, step.place.end)
        if at < 0 or not step.does("cook") or not step.times or "boil" in step.text.lower() or (recipe.process.meat is not None and recipe.process.meat.ground):
            continue
        for word in ("Boil hard", "Boil it rapidly", "Keep it at a rolling boil", "Gallop at a furious boil"):
            yield swapped(recipe, Place(at, at + len("simmer")), word)
        return


KINDS = (
    # curing salt
    Kind("ten times the curing salt", ("curing-salt-over-limit", "fish-cure-not-judged"), Grade.HAZARD, _amount(*CURING_SALTS, wordings=lambda gram: (f"{gram * 10:.0f} g", f"{gram / 100:.2f} kg", f"{gram * 10 / _OUNCE:.1f} oz", f"{gram * 10:.0f} grams")), also=("pumped-bacon-without-accelerator", "too-salty-as-eaten", "more-salt-than-water-holds", "curing-salt-not-weighed", "amount-in-doubt", "no-rinse-or-soak")),
    Kind("tablespoons for teaspoons, threefold", ("curing-salt-over-limit", "curing-salt-not-weighed"), Grade.QUERY, _amount(*CURING_SALTS, wordings=lambda gram: tuple(f"{max(1, round(gram / 5.67))} {unit}" for unit in ("tbsp", "T", "tablespoons", "heaping Tbsp."))), also=("too-salty-as-eaten", "amount-in-doubt",)),
    Kind("unit dropped on the curing salt", ("curing-salt-without-unit",), Grade.QUERY, _units_dropped, also=("pumped-bacon-without-accelerator", "amount-in-doubt",)),
    Kind("no. 2 for no. 1", ("nitrate-in-bacon", "nitrate-in-a-short-cure"), Grade.FAULT, _named("cure1", names=("cure #2", "curing salt no. 2", "cure no. 2", "number 2 curing salt")), also=("nitrate-over-limit", "curing-salt-over-limit", "curing-salt-too-little")),
    Kind("saltpetre swapped in, weight for weight", ("nitrate-over-limit", "nitrate-in-bacon"), Grade.FAULT, _named("cure1", names=("saltpetre", "saltpeter", "potassium nitrate", "Chile saltpetre")), also=("too-little-salt-as-eaten", "cure-time-short",)),
    Kind("pure nitrite at the weight of a premix", ("curing-salt-over-limit", "fish-cure-not-judged"), Grade.HAZARD, _named("cure1", names=("sodium nitrite", "pure sodium nitrite", "potassium nitrite", "nitrite of soda")), also=("too-little-salt-as-eaten", "pure-nitrite",)),
    Kind("curing salt of no kind", ("curing-salt-kind-not-named",), Grade.QUERY, _named("cure1", names=("pink salt", "curing salt", "cure", "pink curing salt")), also=("curing-salt-not-weighed", "curing-salt-over-limit")),
    Kind("a tenth of the curing salt", ("curing-salt-too-little",), Grade.QUERY, _amount(*CURING_SALTS, wordings=lambda gram: (f"{gram / 10:.1f} g", f"{gram / 10 / _OUNCE:.2f} oz", f"{gram / 10:.1f} grams", f"{gram / 10000:.4f} kg")), also=("too-little-salt-as-eaten",)),
    Kind("curing salt left out", ("no-curing-salt",), Grade.QUERY, _line_out(*CURING_SALTS, when=lambda recipe: recipe.product in ("corned beef", "pastrami", "ham", "bacon", "tongue") or "cured" in recipe.title.lower()), near=40, also=("too-little-salt-as-eaten", "smoker-cool-for-uncured", "final-temperature-low", "curing-salt-kind-not-named", "curing-salt-without-unit", "list-and-method-disagree", "meat-weight-not-stated")),
    # salt and brine
    Kind("a tenth of the salt", ("brine-weak", "too-little-salt-as-eaten"), Grade.QUERY, _amount("salt", wordings=lambda gram: (f"{gram / 10:.0f} g", f"{gram / 10 / _OUNCE:.2f} oz", f"{gram / 10000:.3f} kg", f"{gram / 10:.0f} grams")), also=("curing-salt-over-limit", "curing-salt-not-weighed", "list-and-method-disagree",)),
    Kind("ten times the salt", ("too-salty-as-eaten", "more-salt-than-water-holds"), Grade.FAULT, _amount("salt", wordings=lambda gram: (f"{gram * 10:.0f} g", f"{gram / 100:.2f} kg", f"{gram * 10 / 453.59:.2f} lb", f"{gram * 10:.0f} grams")), also=("pumped-bacon-without-accelerator", "no-rinse-or-soak", "list-and-method-disagree", "amount-in-doubt", "curing-salt-too-little")),
    Kind("salt by the handful", ("salt-unmeasured",), Grade.QUERY, _amount("salt", wordings=lambda gram: tuple(f"{max(1, round(gram / 100))} {unit}" for unit in ("handfuls", "good handfuls", "handful", "big handfuls"))), also=("curing-salt-over-limit", "curing-salt-not-weighed", "too-salty-as-eaten", "brine-weak", "no-rinse-or-soak", "too-little-salt-as-eaten", "list-and-method-disagree")),
    Kind("salt to float an egg", ("salt-unmeasured",), Grade.QUERY, _amount("salt", wordings=lambda gram: ("enough to float an egg", "to float an egg", "till an egg floats,", "so that a fresh egg floats in it,")), near=1, also=("pumped-bacon-without-accelerator", "curing-salt-over-limit", "too-salty-as-eaten", "no-rinse-or-soak")),
    Kind("water to cover", ("water-not-stated",), Grade.QUERY, _amount("water", when=lambda recipe: _wet(recipe) and not recipe.of_role("ice"), wordings=lambda gram: ("enough", "as needed,", "enough to cover, of", "however much it takes of")), near=1, also=("salt-unmeasured", "list-and-method-disagree")),
    # cold and time
    Kind("cured warm", ("cured-too-warm",), Grade.HAZARD, _fact(lambda recipe: recipe.process.cure_temperature, ("50 F", "55 °F", "12 °C", "60 degrees F"))),
    Kind("cured on the counter", ("cured-too-warm",), Grade.HAZARD, _words(_cure_place, ("on the counter", "at room temperature", "on the kitchen table", "on the worktop")), also=("brine-weak", "cure-temperature-not-stated",)),
    Kind("cured in a cool place with no figure", ("cured-too-warm",), Grade.FAULT, _words(_cure_place, ("in the cellar", "in the garage", "in a cool place", "out in the shed")), also=("brine-weak", "cure-temperature-not-stated",)),
    Kind("cured too cold", ("cured-too-cold",), Grade.FAULT, _fact(lambda recipe: recipe.process.cure_temperature, ("30 F", "-2 °C", "28 °F", "31 degrees F"), when=_cured), also=("cure-time-short",)),
    Kind("fridge unsaid", ("cure-temperature-not-stated",), Grade.QUERY, _words(_cure_place), near=3, also=("brine-weak", "cured-too-warm",)),
    Kind("days cut", ("cure-time-short",), Grade.QUERY, _fact(lambda recipe: recipe.process.cure_time, ("1 day", "12 hours", "24 hrs", "half a day"), when=lambda recipe: _cured(recipe) and not _method(recipe).startswith("pumped") and recipe.product != "ground" and not _fish(recipe)), also=("too-little-salt-as-eaten",)),
    Kind("days left open", ("cure-time-not-stated",), Grade.QUERY, _fact(lambda recipe: recipe.process.cure_time, ("until it is ready", "as long as it takes", "a while", "till it feels firm"), when=lambda recipe: _cured(recipe) and not _method(recipe).startswith("pumped") and recipe.product != "ground" and not _fish(recipe)), near=4),
    Kind("brine poured hot", ("brine-warm",), Grade.FAULT, _poured_hot, near=4, also=("brine-weak",)),
    Kind("brine warmer than the limit", ("brine-warm",), Grade.FAULT, _fact(lambda recipe: recipe.process.brine_temperature, ("75 F", "80 °F", "25 °C", "90 degrees F"))),
    Kind("salt instead of cold", ("salt-instead-of-cold",), Grade.FAULT, _says(("In summer use a third more salt.", "If the weather is warm, add more salt.", "In hot weather take half as much salt again.", "When it is warm out, put in extra salt."), "cure", when=_cured), near=1),
    # handling
    Kind("nothing holds it under", ("nothing-holds-it-under",), Grade.QUERY, _held_under, near=6),
    Kind("never turned", ("never-turned",), Grade.QUERY, _turning, near=6),
    Kind("brine kept for the next", ("brine-used-again",), Grade.FAULT, _says(("Save the brine for the next batch.", "Keep the brine for the next one.", "Reuse the brine once.", "The brine does for a second batch."), "cure", when=_wet), near=1),
    Kind("galvanised tub", ("vessel-not-for-brine",), Grade.FAULT, _says(("Use a galvanized tub for it.", "It stands in a galvanised bucket.", "The tub is copper.", "An aluminum pot is what we cure it in."), "cure", when=lambda recipe: _wet(recipe) and recipe.process.tub_material is None), near=1),
    Kind("frozen into the cure", ("frozen-in-the-cure",), Grade.FAULT, _frozen),
    Kind("frozen still, by the method", ("frozen-in-the-cure",), Grade.FAULT, _says(("It goes in straight from the freezer.", "Half thawed will do.", "No need to thaw the meat first.", "Never mind thawing, it may be part frozen."), "cool-brine", when=lambda recipe: recipe.process.thaw is None and _cured(recipe))),
    Kind("brine kept going", ("brine-used-again",), Grade.FAULT, _says(("The brine is good for three more briskets.", "Top up the brine and start the next piece in it.", "Strain the brine back into the tub for next week.", "Make up the old brine for another lot."), "cure", when=_wet)),
    Kind("boiled hard", ("boiled-hard",), Grade.FAULT, _boiled, also=("final-temperature-missing",)),
    Kind("thawed on the counter", ("thawed-warm",), Grade.HAZARD, _thawed, near=1),
    Kind("left out before the fire", ("left-out-warm",), Grade.HAZARD, _says(("Let it stand at room temperature overnight.", "Leave it on the counter for 6 hours before the fire.", "Let it come up on the bench for 5 hours.", "It sits out on the kitchen table overnight."), "rinse", "dry", when=_eaten_cooked), near=1),
    # rinse and soak
    Kind("soaked on the counter", ("soaked-warm",), Grade.FAULT, _soaked, near=1),
    # smoke and cook
    Kind("soaked in warm water", ("soaked-warm",), Grade.FAULT, _says(("Soak it 20 minutes more in water at 85 F.", "Soak again in lukewarm water, 30 °C.", "Then soak half an hour in water of 90 °F.", "Soak it once more at 80 F for ten minutes."), "soak")),
    Kind("smoked wet", ("smoked-wet",), Grade.QUERY, _steps_out("dry", when=lambda recipe: recipe.process.smoke is not None and recipe.process.rinse is not None and not any(step.does("season", "equalize") or (step.phase != "dry" and phrases.DRIED_OFF.search(step.text)) for step in recipe.steps)), near=4),
    Kind("end point lowered", ("final-temperature-low",), Grade.FAULT, _fact(lambda recipe: recipe.process.final_temperature, ("125 F", "120 °F", "50 °C", "128 degrees F"), when=lambda recipe: _eaten_cooked(recipe) and _one_end(recipe)), also=("rest-missing",)),
    Kind("end point lowered in a bird", ("final-temperature-low",), Grade.FAULT, _fact(lambda recipe: recipe.process.final_temperature, ("145 F", "140 °F", "60 °C", "148 degrees F"), when=_bird), also=("rest-missing",)),
    Kind("end point above the air", ("target-above-air",), Grade.FAULT, _fact(lambda recipe: recipe.process.smoke_temperature, ("145 F", "140 °F", "60 °C", "142 degrees F"), when=lambda recipe: _dry_fire(recipe) and _one_end(recipe) and (recipe.process.final_temperature or _NOTHING).low > 145 and "at " in recipe.page.low[(recipe.process.smoke_temperature or _NOTHING).place.start - 4 : (recipe.process.smoke_temperature or _NOTHING).place.start]), also=("smoker-cool-for-uncured", "come-up-slow")),
    Kind("end point left out", ("final-temperature-missing",), Grade.QUERY, _fact(lambda recipe: recipe.process.final_temperature, ("done", "it is done", "it feels right", "the juices run clear"), when=lambda recipe: _dry_fire(recipe) and _eaten_cooked(recipe)), near=2, also=("rest-missing", "smoke-temperature-missing")),
    Kind("smoker without a figure", ("smoke-temperature-missing",), Grade.QUERY, _fact(lambda recipe: recipe.process.smoke_temperature, ("a low heat", "low", "a gentle heat", "the usual heat"), when=lambda recipe: recipe.process.smoke is not None), near=2, also=("final-temperature-missing",)),
    Kind("uncured in a cool smoker", ("smoker-cool-for-uncured",), Grade.FAULT, _fact(lambda recipe: recipe.process.smoke_temperature, ("185 F", "190 °F", "85 °C", "180 degrees F"), when=lambda recipe: not _cured(recipe) and not _fish(recipe))),
    Kind("resinous wood", ("resinous-wood",), Grade.FAULT, _says(("Smoke over pine.", "Use spruce wood for the smoke.", "Smoke it with cedar chips.", "Fir branches make the smoke."), "smoke"), near=1, also=("smoke-temperature-missing",)),
    Kind("Celsius for Fahrenheit inside", ("hotter-than-boiling-inside",), Grade.QUERY, _celsius_inside, also=("target-above-air",)),
    # rest, hold, cool
    Kind("rest left out", ("rest-missing",), Grade.QUERY, _steps_out("rest", when=lambda recipe: _eaten_cooked(recipe) and _cut_hot(recipe) and recipe.product not in ("ground", "bacon") and not _fish(recipe)), near=6),
    Kind("cooled on the counter", ("cooled-at-room-temperature",), Grade.FAULT, _cooled, near=1, also=("cool-down-not-written",)),
    Kind("cool-down too slow", ("cooling-slow",), Grade.HAZARD, _words(_cooling_place, ("9 hours", "8 hrs", "seven hours", "a good 10 hours"))),
    Kind("cool-down not written", ("cool-down-not-written",), Grade.QUERY, _no_cooling, near=6),
    Kind("held lukewarm", ("hot-hold-low",), Grade.HAZARD, _says(("Hold at 120 F for service.", "Keep it warm at 115 °F until it is served.", "Hold it at 45 °C on the pass.", "Holds at 125 degrees F all evening."), "rest", when=lambda recipe: _eaten_cooked(recipe) and recipe.process.hold is None), near=1),
    Kind("reheated to lukewarm", ("reheated-low",), Grade.FAULT, _says(("Reheat slices to 120 F.", "Reheat it to 130 °F.", "Rewarm the slices to 50 °C.", "Re-heat to 140 degrees F."), "store", "slice", "rest", when=_eaten_cooked), near=1),
    # keep
    Kind("keeps too long", ("keeps-too-long",), Grade.FAULT, _words(lambda recipe: None if _fish(recipe) else _storage_time(recipe), ("21 days", "3 weeks", "a month", "thirty days"))),
    Kind("a use-by of another day", ("keeping-times-differ",), Grade.QUERY, _says(("Label it use by day 30.", "Use-by: 28 days.", "Discard after 25 days.", "Sell-by is day 40."), "store", when=lambda recipe: recipe.process.storage is not None and recipe.process.storage.kept == "cold" and not _fish(recipe)), also=("keeps-too-long",)),
    Kind("kept on the shelf", ("keeping-not-cold",), Grade.FAULT, _words(lambda recipe: None if _fish(recipe) else _storage_cold(recipe), (" on the shelf", " in the pantry", " at room temperature", " out on the counter")), also=("keeps-too-long",)),
    # the page
    Kind("list against method", ("list-and-method-disagree",), Grade.QUERY, _against, near=1),
    Kind("two amounts on one line that differ", ("amounts-disagree",), Grade.QUERY, _two_amounts),
    Kind("a figure that is no figure", ("amount-in-doubt",), Grade.QUERY, _misprint, also=("salt-unmeasured", "list-and-method-disagree", "too-salty-as-eaten", "too-little-salt-as-eaten", "brine-weak", "curing-salt-too-little", "curing-salt-over-limit", "amounts-disagree", "curing-salt-not-weighed")),
    Kind("a column that does not scale", ("columns-do-not-scale",), Grade.FAULT, _column),
    Kind("a list that runs short", ("sub-recipe-short",), Grade.FAULT, _taken_more),
    Kind("a step that is not there", ("step-that-is-not-there",), Grade.QUERY, _lost_step, near=1),
    Kind("needle step left out", ("cure-time-short",), Grade.QUERY, _steps_out("pump", when=lambda recipe: _method(recipe) == "pumped" and recipe.process.meat is not None and recipe.process.meat.thickness_stated), near=8, also=("too-little-salt-as-eaten", "curing-salt-over-limit", "curing-salt-not-weighed", "meat-weight-not-stated", "nothing-holds-it-under")),
    Kind("pumped, and nobody knows how much", ("pumped-share-not-stated",), Grade.QUERY, _fact(lambda recipe: recipe.process.pump, ("it well", "it", "it all over", "until it swells"), when=lambda recipe: _cured(recipe) and "weigh" not in (_in_step(recipe, recipe.process.pump.place if recipe.process.pump else None) or recipe.steps[0]).text), also=("too-little-salt-as-eaten", "too-salty-as-eaten",)),
    Kind("pumped bacon without its accelerator", ("pumped-bacon-without-accelerator",), Grade.FAULT, _line_out("accelerator", when=_belly), near=2, also=("curing-salt-over-limit",)),
    Kind("too long in a cool smoker", ("come-up-slow",), Grade.FAULT, _fact(lambda recipe: recipe.process.smoke_temperature, ("110 F for 9 hours, then at 225 F", "120 °F for 10 hrs, then at 230 °F", "45 °C for 8 hours, then at 110 °C", "100 degrees F for 12 hours, then 240 F"), when=lambda recipe: _eaten_cooked(recipe) and not _fish(recipe)), also=("smoker-cool-for-uncured", "final-temperature-low", "target-above-air")),
    Kind("Celsius for Fahrenheit in the cooler", ("cured-too-warm",), Grade.HAZARD, _fact(lambda recipe: recipe.process.cure_temperature, ("38 C", "38 °C", "36 degrees Celsius", "40 centigrade")), also=("brine-warm",)),
    Kind("pumped and smoked at once", ("pumped-and-not-evened",), Grade.FAULT, _fact(lambda recipe: recipe.process.cure_time, ("4 hours", "6 hrs", "3 h", "half an hour"), when=lambda recipe: _method(recipe) == "pumped")),
    Kind("sign-off in no form", ("sign-off-not-read",), Grade.QUERY, _says(("\nSigned off: looks fine, KM", "\nSigned off: KM 2 March", "\nSigned-off: all of it, KM", "\nSIGNED OFF: ok by me"), "store", "rest", "slice", "cook", "smoke", "cure"), near=2),
)  # fmt: skip
