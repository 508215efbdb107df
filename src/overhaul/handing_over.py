"""What a new cook would ask before working from a page, and what of it the page answers.

The audit says what is wrong and what the sums lack; this says what hands lack: how much, in what, how long, until when, and who answers for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from overhaul.findings import Finding, Grade
from overhaul.house import House
from overhaul.reading import allergens
from overhaul.recipe.model import CURING_SALTS, Fact, Ingredient, Recipe
from overhaul.span import Span
from overhaul.text import Place

_SIGNED = re.compile(r"\b(?:checked|approved|tested|written|signed(?: off)?) by\b|\bsigned[ -]off\b|\bversion \d|\brev(?:ised|ision)?\b|\bv\d+\b|\b(?:19|20)\d\d-\d\d-\d\d\b")
_VARIANCE = re.compile(r"\bvariance(?: no\.? ?\S*\w)?|\bhaccp\b[^.,;\n]{0,30}")
_ALLERGENS = re.compile(r"\ballerg(?:en|ens|ies|y)\b|\bcontains?:")
# What a query of the audit asks already is not asked again.
_ASKED_BY = {
    "batch": ("meat-weight-not-stated",), "weights": ("salt-not-weighed", "curing-salt-not-weighed", "salt-unmeasured", "curing-salt-without-unit", "water-not-stated"),
    "days": ("cure-time-not-stated",), "cold": ("cure-temperature-not-stated",), "heat": ("smoke-temperature-missing",), "end": ("final-temperature-missing",),
    "cooling": ("cool-down-not-written",), "keeping": (),
}  # fmt: skip


class Item(Struct, frozen=True):
    """One thing a new cook would ask: what the page says, and at which line; or the question, where it says nothing."""

    name: str
    words: str
    told: str | None = None
    line: int | None = None
    question: str | None = None
    asked: bool = False  # a query of the audit asks it already


class HandOver(Struct, frozen=True):
    """One recipe: what is to be put right first, what the audit asks, and what a new cook would ask."""

    title: str
    wrong: tuple[Finding, ...]
    asked: tuple[Finding, ...]
    items: tuple[Item, ...]

    @property
    def questions(self) -> int:
        return len(self.asked) + sum(item.question is not None for item in self.items)

    @property
    def ready(self) -> bool:
        return not self.wrong and not self.questions

    @property
    def verdict(self) -> str:
        """``ready``, or ``not ready: 1 hazard and 2 faults to put right, and 4 questions``."""
        if self.ready:
            return "ready to hand over"
        hazards = sum(one.grade is Grade.HAZARD for one in self.wrong)
        counts = [_counted(hazards, "hazard"), _counted(len(self.wrong) - hazards, "fault")]
        wrong = " and ".join(count for count in counts if count)
        parts = [f"{wrong} to put right" if wrong else "", _counted(self.questions, "question")]
        return f"not ready: {', and '.join(part for part in parts if part)}"


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}" if count else ""


def hand_over(recipe: Recipe, findings: Iterable[Finding], house: House | None = None) -> HandOver:
    """What the house sheet tells is told. ``findings`` are those of this recipe; one that is signed off is settled, but never a certain hazard."""
    open_ = [one for one in findings if one.signed_off is None or one.signed_off.stale or (one.certain and one.grade is Grade.HAZARD)]
    wrong = tuple(one for one in open_ if one.grade is not Grade.QUERY)
    asked = tuple(one for one in open_ if one.grade is Grade.QUERY)
    rules = {one.rule for one in open_}
    items = [_without_question(item) if any(rule in rules for rule in _ASKED_BY.get(item.name, ())) else item for item in _items(recipe, house or House())]
    return HandOver(recipe.title, wrong, asked, tuple(items))


def _without_question(item: Item) -> Item:
    return replace(item, question=None, asked=True) if item.question is not None else item


def _items(recipe: Recipe, house: House) -> Iterator[Item]:
    process = recipe.process
    cured = process.cure is not None and process.cure.method != "none"
    yields = recipe.yields
    if yields is not None:
        yield Item("yield", "how much it makes", yields.text.strip(), yields.line)
    else:
        yield Item("yield", "how much it makes", question="How much does it make, in portions or by weight?")
    yield _batch(recipe)
    if (weights := _weights(recipe)) is not None:
        yield weights
    if cured and process.cure is not None and process.cure.method in ("immersion", "pumped-immersion"):
        yield _vessel(recipe)
    if cured:
        yield _fact(recipe, "days", "how long it cures", process.cure_time, "How many days in the cure?")
        yield _cold(recipe, house)
    if process.smoke is not None or process.smoke_temperature is not None:
        if process.smoke_temperature is None and house.smoker is not None:
            yield Item("heat", "heat of the smoker", f"{_degrees(house.smoker)}, by the house sheet")
        else:
            yield _fact(recipe, "heat", "heat of the smoker", process.smoke_temperature, "How hot is the smoker, and on which scale?")
    heated = process.cook is not None or process.smoke is not None
    if process.final_temperature is not None or (heated and not recipe.raw_on_purpose):
        yield _fact(recipe, "end", "when it is done", process.final_temperature, "At what temperature inside is it done?")
    yield from _end(recipe)
    yield _allergens(recipe)
    if (house.sold if house.sold is not None else recipe.sold) and recipe.of_role(*CURING_SALTS):
        yield _variance(recipe)
    signed = _SIGNED.search(_own(recipe))
    yield Item("signed", "who answers for it", _own(recipe)[signed.start() : signed.end()], None) if signed is not None else Item("signed", "who answers for it", question="Who has checked it, and when was it last changed?")
    bare = _scaleless(recipe)
    if bare is not None:
        place, words = bare
        yield Item("scale", "degrees", question=f"“{words}” on line {recipe.page.line_at(place.start)}: Fahrenheit or Celsius?")


def _own(recipe: Recipe) -> str:
    """The page in small letters, from this recipe's first line to its last."""
    lines = recipe.page.lines
    return recipe.page.low[lines[recipe.first_line - 1].place.start : lines[min(recipe.last_line, len(lines)) - 1].place.end]


def _variance(recipe: Recipe) -> Item:
    """Curing food for sale needs written leave in most places that follow the model code (Food Code 2022, 3-502.11)."""
    words, own = "leave to cure for sale", _own(recipe)
    if (told := _VARIANCE.search(own)) is not None:
        start = recipe.page.lines[recipe.first_line - 1].place.start + told.start()
        return Item("variance", words, recipe.page.words(Place(start, start + len(told[0]))), recipe.page.line_at(start))
    return Item("variance", words, question="It is cured for sale: does a variance or HACCP plan of the local authority cover it (Food Code 2022, 3-502.11), and where is it kept?")


def _batch(recipe: Recipe) -> Item:
    meat = recipe.process.meat
    if meat is not None and meat.mass_stated:
        return Item("batch", "one batch", recipe.page.line(meat.line).strip(), meat.line)
    return Item("batch", "one batch", question="How much meat is one batch, weighed after trimming?")


def _weights(recipe: Recipe) -> Item | None:
    """What decides must be weighed: curing salt, salt, and the water they go into."""
    deciding = [item for item in recipe.ingredients if item.use == "cure" and item.role in (*CURING_SALTS, "salt", "water", "ice")]
    if not deciding:
        return None
    spooned = [item for item in deciding if not _weighed(item)]
    if not spooned:
        return Item("weights", "weights for what decides", ", ".join(item.name for item in deciding), deciding[0].line)
    told = " and ".join(f"{item.name} (line {item.line})" for item in spooned)
    return Item("weights", "weights for what decides", question=f"What do these weigh: {told}?")


def _weighed(item: Ingredient) -> bool:
    return item.weighed or (item.per is not None and item.amount is not None and item.amount.unit == "percent")


def _vessel(recipe: Recipe) -> Item:
    process = recipe.process
    words = "the vessel"
    if process.tub is None:
        return Item("vessel", words, question="In what tub, how large, and of what?" if process.tub_material is None else f"How large is the {process.tub_material} vessel?")
    if process.tub_material is None:
        return Item("vessel", words, question=f"What is the tub of {process.tub.high:.0f} litres made of (line {process.tub.line})?")
    return Item("vessel", words, f"{process.tub.high:.0f} litres, {process.tub_material}", process.tub.line)


def _fact(recipe: Recipe, name: str, words: str, fact: Fact | None, question: str) -> Item:
    if fact is None:
        return Item(name, words, question=question)
    return Item(name, words, recipe.page.words(fact.place).replace("\n", " "), fact.line)


def _degrees(span: Span) -> str:
    return f"{span.low:g} to {span.high:g} °F"


def _cold(recipe: Recipe, house: House) -> Item:
    process = recipe.process
    if process.cure_temperature is not None:
        return _fact(recipe, "cold", "how cold it cures", process.cure_temperature, "")
    if process.cure_cold is not None and house.cooler is not None:
        return Item("cold", "how cold it cures", f"{process.cure_cold.words}, {_degrees(house.cooler)} by the house sheet", process.cure_cold.line)
    question = f"“{process.cure_cold.words}” on line {process.cure_cold.line}: how cold is that, and on which scale?" if process.cure_cold is not None else "How cold does it cure, and on which scale?"
    return Item("cold", "how cold it cures", question=question)


def _end(recipe: Recipe) -> Iterator[Item]:
    """Cooling, holding and keeping, where there is something cooked to cool, hold or keep."""
    process = recipe.process
    cooked = process.cook is not None or process.final_temperature is not None
    if cooked and not recipe.raw_on_purpose:
        if process.cooling:
            yield Item("cooling", "how it is cooled", recipe.page.line(process.cooling[0].line).strip(), process.cooling[0].line)
        elif process.storage is not None or process.cool is not None:
            yield Item("cooling", "how it is cooled", question="How is it cooled, from what to what in how many hours?")
    if process.hold is not None:
        yield _fact(recipe, "hold", "held hot at", process.hold, "")
    if process.storage is not None:
        yield Item("keeping", "how long it keeps", recipe.page.words(process.storage.place), process.storage.line)
    else:
        yield Item("keeping", "how long it keeps", question="How long does it keep, how cold, and the day it was made counted as what?")


def _allergens(recipe: Recipe) -> Item:
    named = _ALLERGENS.search(_own(recipe))
    if named is not None:
        at = recipe.page.lines[recipe.first_line - 1].place.start + named.start()
        line = recipe.page.line_at(at)
        return Item("allergens", "allergens", recipe.page.line(line).strip(), line)
    brought: dict[str, Ingredient] = {}
    for item in recipe.ingredients:
        for allergen in allergens.allergens(item.name):
            brought.setdefault(allergen, item)
    if not brought:
        return Item("allergens", "allergens", question="Which allergens are in it? Its words name none; labels may.")
    told = ", ".join(f"{allergen} ({item.name}, line {item.line})" for allergen, item in brought.items())
    return Item("allergens", "allergens", question=f"The page names no allergens. By its words it may hold {told}. Which are in it?")


def _scaleless(recipe: Recipe) -> tuple[Place, str] | None:
    """The first temperature of the method that tells no scale."""
    for step in recipe.steps:
        for measured in step.temperatures:
            if measured.amount.unit not in ("degF", "degC", "gas_mark"):
                return measured.amount.place, recipe.page.words(measured.amount.place)
    return None
