"""The page of a batch: the recipe's own page with its amounts by weight, read again like any other.

Each line is first tried with its amounts alone changed, so that its other words stay; where that reads as something else, it is
written anew from what was read of it. What no words can carry is laid over the reading.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Any, Literal

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from overhaul.batch.sizing import meat_items, stated_meat
from overhaul.house import House
from overhaul.reading import lexicon, units
from overhaul.reading.tree import parse
from overhaul.recipe import masses, read_page
from overhaul.recipe.bits import AmountBit, bits
from overhaul.recipe.model import Amount, Fact, Ingredient, Meat, Process, Recipe, Section, Strength
from overhaul.span import Span, exactly
from overhaul.sums import scaling
from overhaul.text import Page, Place

How = Literal["weigh", "count", "measure", "kept"]
Edit = tuple[int, int, str]
_STRUCK = re.compile(r"\s*~~[^~\n]*~~|\s*\[[^\]\n]*\](?=\s*\d)")
_BEFORE = re.compile(r"(?:\s*[,/=~≈|]|\s*\b(?:or|about)\b)*\s*$")
FACTORS = re.compile(r"[ \t|]*(?:(?:x|×)?[ \t]*\d+(?:\.\d+)?[ \t]*(?:x|×|times|batch(?:es)?)?[ \t|]+)*(?:(?:x|×)[ \t]*\d+|\d+[ \t]*(?:x|×))[ \t|]*", re.I)
_FAT = re.compile(r"\b(?:cap|fat|trim\w*)\b")
_HEADS = {"cure": "For the cure:", "rub": "For the rub:", "cook": "For the pot:", "blend": "Spice mix:", "soak": "For the soak:", "serve": "To serve:", "aside": "Variations:"}
_EACH = frozenset(["ea", "ea.", "each", "apiece"])
_TRIES = 4


class Target(Struct, frozen=True):
    """What one ingredient is to be in the batch. ``words`` are its amount as the page is to have it, ``gram`` what that weighs where it is known."""

    item: Ingredient
    how: How
    gram: float | None
    words: str | None
    factor: float
    name: str | None = None  # another name than the item's
    strength: Strength | None = None  # of another curing salt
    pieces: int | None = None  # of a meat
    thickness: Span | None = None  # of a meat, where it is another than the item's


class Extra(Struct, frozen=True):
    """One more meat than the page has, to stand below the first."""

    name: str
    gram: float
    pieces: int | None
    thickness: Span | None


class Wanted(Struct, frozen=True):
    """All that the batch's page is to say."""

    targets: tuple[Target, ...]
    extras: tuple[Extra, ...]
    meat_gram: float | None  # of all meat; for a page whose meat stands in its title
    days: tuple[int, int] | None  # in the cure, where they are other than the recipe's
    portions: float | None  # by this factor
    thickness: Span | None  # of the meat the sums are for, where it is another than the recipe's
    takes: float  # the factor of what the method takes from a list
    tub: float | None = None  # litre, where the batch is for a tub of its own
    below: int = 1  # the line that the extras stand under


def number(value: float) -> str:
    """A figure as a page has it: no exponent, no trailing noughts."""
    return f"{value:.4f}".rstrip("0").rstrip(".")


def grams(gram: float) -> str:
    return f"{number(gram)} g"


def scaled_amount(amount: Amount, factor: float) -> str:
    """``amount`` times ``factor`` in its own unit, as words: ``3.75 tablespoons``."""
    low, high = float(amount.low) * factor, float(amount.high) * factor
    span = _short(low) if low == high else f"{_short(low)} to {_short(high)}"
    return f"{span} {units.in_words(amount.unit, several=high > 1)}".rstrip()


def _short(value: float) -> str:
    return number(float(f"{value:.3g}"))


def millimetres(span: Span) -> str:
    return f"{number(round(span.low, 1))} mm" if span.exact else f"{number(round(span.low, 1))} to {number(round(span.high, 1))} mm"


def written(recipe: Recipe, wanted: Wanted, house: House) -> Recipe:
    """``recipe`` by weight: its page written anew and read, checked against ``wanted``, and what words cannot carry laid over it."""
    plain = _only(read_page(recipe.page, house))
    process = _wanted_process(recipe, wanted)
    levels: dict[int, int] = {}
    made: Recipe | None = None
    for _ in range(_TRIES):
        made = _only(read_page(_page(recipe, wanted, levels, house), house))
        wrong = _wrong(made, wanted)
        again = {line for line in wrong if levels.get(line, 0) < 1}
        if not again:
            break
        levels |= dict.fromkeys(again, 1)
    assert made is not None
    return _laid_over(recipe, plain, made, wanted, process)


def _only(recipes: list[Recipe]) -> Recipe:
    """The one recipe of a page; where the page is cut otherwise, the one with most on it."""
    return max(recipes, key=lambda one: len(one.ingredients))


# -- the page


def _page(recipe: Recipe, wanted: Wanted, levels: dict[int, int], house: House) -> Page:
    page = recipe.page
    edits: list[Edit] = []
    whole: set[int] = set()
    for target in wanted.targets:
        line = target.item.line
        if levels.get(line) and not target.item.in_method:
            if line not in whole:
                whole.add(line)
                edits.append(_line_anew(page, line, [one for one in wanted.targets if one.item.line == line and not one.item.in_method]))
            edits += [edit for edit in _told_again(page, target, house) if page.line_at(edit[0]) != line]
        else:
            edits += _amount_edits(page, target, house)
    edits += _meat_edits(recipe, wanted, whole)
    edits += _heads(recipe, wanted.targets)
    edits += _method_edits(recipe, wanted, house)
    return Page(_edited(page.text, edits), page.name)


def _edited(text: str, edits: Iterable[Edit]) -> str:
    """``text`` with ``edits`` made; of two that overlap the first given stands."""
    taken: list[tuple[int, int]] = []
    kept: list[Edit] = []
    for start, end, new in edits:
        if any(start < other_end and other < end for other, other_end in taken) or (start, end) in taken:
            continue
        taken.append((start, end))
        kept.append((start, end, new))
    for start, end, new in sorted(kept, reverse=True):
        broken = "\n" if "\n" in text[start:end] and "\n" not in new else ""  # every other line stays where it was
        text = text[:start] + new + broken + text[end:]
    return text


def _line_anew(page: Page, line: int, targets: list[Target]) -> Edit:
    """Everything on a line in plain words."""
    place = page.lines[line - 1].place
    return place.start, place.end, "; ".join(_plain_words(target) for target in targets)


def _plain_words(target: Target) -> str:
    item = target.item
    name = target.name or item.name or item.role
    amount = target.words or (_words_of(item.amount) if item.amount is not None else "")
    if item.role == "meat" and target.gram is not None:
        return _meat_words(name, target.gram, target.pieces, target.thickness, item.state)
    agents = _agents(target.strength or item.strength)
    state = None if item.role == "water" and item.state is not None and "ice" in item.state else item.state  # the ice is weighed by itself
    share = f", {_words_of(item.amount)} of {item.per.of or 'meat'}" if item.per is not None and item.amount is not None and item.amount.unit == "percent" else ""
    return f"{amount} {name}".strip() + (f" ({agents})" if agents else "") + share + (f", {state}" if state else "")


def _meat_words(name: str, gram: float, pieces: int | None, thickness: Span | None, state: str | None) -> str:
    said = f"{pieces} {_several(name, pieces)}, {grams(gram)}{' in all' if pieces > 1 else ''}" if pieces else f"{grams(gram)} {name}"
    return said + (f", {millimetres(thickness)} thick" if thickness is not None else "") + (f", {state}" if state and state not in _EACH else "")


def _several(name: str, count: int) -> str:
    return name if count == 1 or name.endswith("s") else f"{name}s" if not name.endswith(("half", "loaf")) else f"{name[:-1]}ves"


def _words_of(amount: Amount) -> str:
    return scaled_amount(amount, 1.0)


def _percent(span: Span) -> str:
    return f"{number(span.low)} %" if span.exact else f"{number(span.low)} to {number(span.high)} %"


def _amount_edits(page: Page, target: Target, house: House) -> list[Edit]:
    """The amounts of one ingredient changed where they stand; the rest of its words stay."""
    item, amount = target.item, target.item.amount
    if target.how == "kept" or target.words is None or amount is None:
        return []
    edits: list[Edit] = []
    place = amount.place
    line = page.line_at(place.start)
    per = item.per
    weights = [one for one in item.also if units.dimension(one.unit) == "mass" and page.line_at(one.place.start) == line]
    if amount.unit in ("percent", "permille") and per is not None:
        if weights:
            edits.append((weights[0].place.start, weights[0].place.end, target.words))
        else:
            end = max(place.end, per.place.end if page.line_at(per.place.start) == line else 0)
            edits.append((end, end, f" ({target.words})"))
    elif per is not None and page.line_at(per.place.start) == line and place.start < per.place.end:
        edits.append((place.start, max(place.end, per.place.end), target.words))
    else:
        edits.append((place.start, place.end, target.words))
    if target.name is not None:
        names = [item.name_place.start, item.name_place.end]
        if item.strength is not None:
            end = page.lines[line - 1].place.end
            closing = page.text.find(")", item.strength.place.start, end)
            names[1] = max(names[1], closing + 1 if closing > 0 else item.strength.place.end)
        edits.append((names[0], names[1], _named(target)))
    if item.count is not None and item.role != "meat":
        edits.append((item.count.place.start, item.count.place.end, ""))
    for column in item.columns:
        if column.amount.place != place:
            edits.append(_removal(page, column.amount.place) or (column.amount.place.start, column.amount.place.end, ""))
    if item.was:
        here = page.lines[line - 1].place
        edits += [(here.start + found.start(), here.start + found.end(), "") for found in _STRUCK.finditer(page.words(here))]
    return edits + _told_again(page, target, house)


def _named(target: Target) -> str:
    agents = _agents(target.strength)
    return f"{target.name} ({agents})" if agents else target.name or ""


def _agents(strength: Strength | None) -> str:
    """``6.25 % nitrite, 4 % nitrate``; nothing where the page does not say."""
    told = (("nitrite", strength.nitrite), ("nitrate", strength.nitrate)) if strength is not None else ()
    return ", ".join(f"{_percent(span)} {agent}" for agent, span in told if span is not None)


def _told_again(page: Page, target: Target, house: House) -> list[Edit]:
    """The same amount in brackets, in the method, or of what may be taken instead."""
    item = target.item
    assert target.words is not None or target.how == "kept"
    if target.words is None:
        return []
    edits: list[Edit] = []
    line = page.line_at(item.amount.place.start) if item.amount is not None else item.line
    for also in item.also:
        if also.unit in ("percent", "permille"):
            continue
        own, _ = masses.in_grams(also, item.role, item.kind, house)
        same = own is None or item.mass is None or scaling.alike(own.likely, item.mass.likely) or (own.low <= item.mass.likely <= own.high)
        told = target.words if same else grams(scaling.shown(own.likely * target.factor, 1.0)) if own is not None else scaled_amount(also, target.factor)
        removal = _removal(page, also.place) if same and page.line_at(also.place.start) == line else None
        edits.append(removal or (also.place.start, also.place.end, told))
    for other in item.instead:
        for amount in (other.amount, *other.also):
            if amount is not None:
                own, _ = masses.in_grams(amount, other.role, other.kind, house)
                edits.append((amount.place.start, amount.place.end, grams(scaling.shown(own.likely * target.factor, 1.0)) if own is not None else scaled_amount(amount, target.factor)))
    return edits


def _removal(page: Page, place: Place) -> Edit | None:
    """``place`` with the brackets or the mark that set it apart, taken out; None where it cannot be told apart."""
    line = page.lines[page.line_at(place.start) - 1].place
    before, after = page.text[line.start : place.start], page.text[place.end : line.end]
    if before.endswith(("(", "[")) and after[:1] in (")", "]"):
        opened = before[:-1].rstrip()
        return line.start + len(opened), place.end + 1, ""
    mark = _BEFORE.search(before)
    if mark is not None and mark[0].strip() in ("/", "=", "or", "~", "≈"):
        return line.start + mark.start(), place.end, ""
    if re.search(r"\s{3,}$|\t$", before):
        return line.start + len(before.rstrip()), place.end, ""
    return None


def _meat_edits(recipe: Recipe, wanted: Wanted, whole: set[int]) -> list[Edit]:
    """Pieces and thickness of the meat, and the meats that the page has not."""
    page = recipe.page
    edits: list[Edit] = []
    items = meat_items(recipe)
    by_item = {id(one.item): one for one in wanted.targets}
    for item in items:
        target = by_item[id(item)]
        if target.pieces is not None and item.count is not None:
            said = page.words(item.count.place)
            edits.append((item.count.place.start, item.count.place.end, re.sub(r"^\S+", str(target.pieces), said.strip(), count=1)))
        if target.thickness is not None and item.line not in whole:
            edits += _thickness_edits(recipe, item, target.thickness)
    if wanted.extras:
        more = [_meat_words(one.name, one.gram, one.pieces, one.thickness, None) for one in wanted.extras]
        end = page.lines[wanted.below - 1].place.end if wanted.below else 0
        edits.append((end, end, "".join(f"\n{words}" for words in more) if wanted.below else "".join(f"{words}\n" for words in more)))
    meat = recipe.process.meat
    if not items and meat is not None and wanted.meat_gram is not None and meat.mass_stated:
        edits.append((meat.place.start, meat.place.end, f"{number(round(wanted.meat_gram) / 1000)} kg"))
    return edits


def _thickness_edits(recipe: Recipe, item: Ingredient, thickness: Span) -> list[Edit]:
    page = recipe.page
    line = page.lines[page.line_at(item.place.start) - 1].place
    told = [bit.amount.place for bit in bits(parse(page.plain[line.start : line.end], line.start)) if isinstance(bit, AmountBit) and bit.dimension == "length" and not _FAT.search(page.low[max(line.start, bit.start - 20) : bit.end + 12])]
    old = next((meat.thickness for meat in recipe.process.meats if meat.line == item.line and meat.thickness_stated), None)
    if not told and old is not None:
        for step in recipe.steps:
            for length in step.lengths:
                mm = units.size(length.amount.unit)
                if length.of is None and abs(float(length.amount.high) * mm - old.high) < 0.05:
                    told.append(length.amount.place)
    if told:
        return [(place.start, place.end, millimetres(thickness)) for place in told]
    return [(item.place.end, item.place.end, f", {millimetres(thickness)} thick")]


def _heads(recipe: Recipe, targets: tuple[Target, ...]) -> list[Edit]:
    """Lines over a list that its weights no longer need: rates for all of it, and the numbers of columns."""
    page = recipe.page
    edits: list[Edit] = []
    for target in targets:
        per = target.item.per
        if per is not None and target.how == "weigh" and per.unit is not None and page.line_at(per.place.start) != target.item.line:
            place = page.lines[page.line_at(per.place.start) - 1].place
            edits.append((place.start, place.end, _HEADS[target.item.use]))
    listed = [target.item.line for target in targets if len(target.item.columns) > 1]
    if listed:
        for line in page.lines[max(0, min(listed) - 5) : min(listed) - 1]:
            if FACTORS.fullmatch(page.plain[line.place.start : line.place.end]):
                edits.append((line.place.start, line.place.end, ""))
    return edits


def _method_edits(recipe: Recipe, wanted: Wanted, house: House) -> list[Edit]:
    """Days, portions, and what the method takes from a list."""
    edits: list[Edit] = []
    stay = recipe.process.cure_time
    if wanted.days is not None and stay is not None:
        edits.append((stay.place.start, stay.place.end, _days_words(wanted.days)))
    tub = _tub(recipe)
    if wanted.tub is not None and tub is not None:
        edits.append((tub.place.start, tub.place.end, f"{number(round(wanted.tub, 1))} litre"))
    told = recipe.yields
    if wanted.portions is not None and told is not None and units.dimension(told.unit) in ("mass", "volume"):
        amount = Amount(told.low, told.high, told.unit, told.place)
        edits.append((told.place.start, told.place.end, scaled_amount(amount, wanted.portions)))
    elif wanted.portions is not None and told is not None and units.dimension(told.unit) == "thing":
        low, high = (max(1, int(float(value) * wanted.portions + 1e-6)) for value in (told.low, told.high))
        own = recipe.page.words(told.place)
        figure = f"{low}" if low == high else f"{low} to {high}"
        edits.append((told.place.start, told.place.end, figure if re.fullmatch(r"[\d\s–-]+", own) else f"{figure} {units.in_words(told.unit, several=high > 1)}"))
    for step in recipe.steps:
        for taken in step.uses:
            if taken.amount is None or taken.amount.unit in ("percent", "permille", "part"):
                continue
            known = lexicon.known(lexicon.plain_words(taken.name))
            grams_of, _ = masses.in_grams(taken.amount, known.role, known.kind, house) if known is not None else (None, False)
            part = units.dimension(taken.amount.unit) == "thing" and taken.amount.unit == "each"
            if part:
                continue
            edits.append((taken.amount.place.start, taken.amount.place.end, grams(scaling.shown(grams_of.likely * wanted.takes, 1.0)) if grams_of is not None else scaled_amount(taken.amount, wanted.takes)))
    return edits


def _tub(recipe: Recipe) -> Fact | None:
    """The tub that the page names with its size; not what its method takes of something ("in 1 gal boiling water")."""
    tub = recipe.process.tub
    taken = {use.amount.place.start for step in recipe.steps for use in step.uses if use.amount is not None}
    return tub if tub is not None and tub.stated and tub.place.start not in taken else None


def _days_words(days: tuple[int, int]) -> str:
    return f"{days[0]} to {days[1]} days" if days[0] != days[1] else f"{days[0]} day{'s' if days[0] != 1 else ''}"


# -- what was read of it


def _wrong(made: Recipe, wanted: Wanted) -> set[int]:
    """The lines of the recipe's page whose ingredients do not read as they were meant."""
    pairs, lost = _pairs(made, wanted)
    return lost | {target.item.line for target, found in pairs if not _as_meant(target, found)}


def _pairs(made: Recipe, wanted: Wanted) -> tuple[list[tuple[Target, Ingredient]], set[int]]:
    """Each target with what was read of it, and the lines on which something else was read."""
    below = wanted.below if wanted.extras else None
    pairs: list[tuple[Target, Ingredient]] = []
    lost: set[int] = set()
    read: dict[int, list[Ingredient]] = {}
    for item in made.ingredients:
        line = item.line
        if below is not None and line > below:
            if line <= below + len(wanted.extras):
                continue
            line -= len(wanted.extras)
        read.setdefault(line, []).append(item)
    lines = dict.fromkeys(target.item.line for target in wanted.targets)
    lost |= set(read) - set(lines)
    for line in lines:
        own = sorted((target for target in wanted.targets if target.item.line == line), key=lambda one: one.item.place)
        found = sorted(read.get(line, []), key=lambda one: one.place)
        if len(own) == len(found):
            pairs += zip(own, found, strict=True)
        else:
            lost.add(line)
    return pairs, lost


def _as_meant(target: Target, found: Ingredient) -> bool:
    item = target.item
    if (found.role, found.use) != (_role(target), item.use) or (target.name is None and found.name != item.name):
        return False
    if target.strength is not None and not same(found.strength, target.strength):
        return False
    if target.strength is None and not same(found.strength, item.strength):
        return False
    if target.how in ("count", "measure") and target.words is not None:
        return found.amount is not None and number(float(found.amount.low)) == target.words.split(" ")[0] and (item.amount is None or found.amount.unit == item.amount.unit)
    if target.gram is None or target.how != "weigh":
        return (found.mass is None) == (item.mass is None)
    return found.mass is not None and abs(found.mass.likely - target.gram) <= 1e-6 * max(1.0, target.gram) and found.mass.exact and found.weighed


def _role(target: Target) -> str:
    if target.strength is None:
        return target.item.role
    return "cure2" if target.strength.nitrate is not None else "cure1"


def bare(value: Any) -> Any:
    """``value`` as plain data without where it stands."""
    tree = msgspec.to_builtins(value, enc_hook=_exact)
    return _unplaced(tree)


def _exact(value: Any) -> Any:
    if isinstance(value, Fraction):
        return float(value)
    raise NotImplementedError(type(value))


def _unplaced(tree: Any) -> Any:
    if isinstance(tree, dict):
        return {key: _unplaced(inner) for key, inner in tree.items() if key not in ("place", "line", "name_place", "words")}
    return [_unplaced(inner) for inner in tree] if isinstance(tree, (list, tuple)) else tree


def same(one: Any, other: Any) -> bool:
    """Whether two records say the same, wherever they stand."""
    return bool(bare(one) == bare(other))


def _wanted_process(recipe: Recipe, wanted: Wanted) -> Process:
    """The process that the batch is to have: the recipe's, with its own meat and days."""
    process = recipe.process
    by_line = {target.item.line: target for target in wanted.targets if target.item.role == "meat"}
    if wanted.extras and not meat_items(recipe):
        return replace(process, meats=(), meat=None)
    meats = [_wanted_meat(meat, by_line.get(meat.line), wanted) for meat in process.meats]
    main = process.meat
    if main is not None:
        main = _wanted_meat(main, by_line.get(main.line), wanted)
        whole = stated_meat(recipe)
        if wanted.meat_gram is not None and (whole is None or process.meat is None or process.meat.mass is None or scaling.alike(whole.likely, process.meat.mass.likely)):
            main = replace(main, mass=exactly(wanted.meat_gram), mass_stated=True)  # the sums are for all of it
    stay = process.cure_time
    if wanted.days is not None:
        place, line = (stay.place, stay.line) if stay is not None else (recipe.title_place, 1)
        stay = Fact(float(wanted.days[0]), float(wanted.days[1]), "day", line, place)
    tub = process.tub
    if wanted.tub is not None and (own := _tub(recipe)) is not None:
        litre = round(wanted.tub, 1)
        tub = replace(own, low=litre, high=litre, unit="litre")
    changed: Process = replace(process, meats=tuple(meats), meat=main, cure_time=stay, tub=tub)
    return changed


def _wanted_meat(meat: Meat, target: Target | None, wanted: Wanted) -> Meat:
    thickness = (target.thickness if target is not None and target.thickness is not None else None) or (wanted.thickness if target is None else None)
    values: dict[str, Any] = {}
    if target is not None and target.gram is not None:
        values |= {"mass": exactly(target.gram), "mass_stated": True}
        if target.pieces is not None:
            values["pieces"] = (target.pieces, target.pieces)
    if thickness is not None:
        values |= {"thickness": thickness, "thickness_stated": True, "sides": ()}
    changed: Meat = replace(meat, **values)
    return changed


def _laid_over(recipe: Recipe, plain: Recipe, made: Recipe, wanted: Wanted, process: Process) -> Recipe:
    """``made`` with what its page does not say as it was meant: weights that read otherwise, and hands on a recipe file."""
    pairs, lost = _pairs(made, wanted)
    good = {id(target): found for target, found in pairs if _as_meant(target, found)}
    sections = made.sections
    if lost or len(good) < len(wanted.targets):
        sections = _sections(recipe, made, wanted, good)
    whole = replace(
        made, sections=sections, process=_process(process, plain.process, made.process, made, wanted), title=recipe.title, product=recipe.product, cured=recipe.cured,
        raw_on_purpose=recipe.raw_on_purpose, bought_done=recipe.bought_done, uncured_on_purpose=recipe.uncured_on_purpose, sold=recipe.sold,
    )  # fmt: skip
    if not recipe.ways or len(made.ways) != len(recipe.ways):
        ways = tuple(replace(whole, ways=(), branches=(), process=_way_process(way.process, process), product=way.product) for way in recipe.ways)
    else:
        plain_ways = plain.ways if len(plain.ways) == len(recipe.ways) else recipe.ways
        ways = tuple(
            replace(new, sections=sections, process=_process(_way_process(old.process, process), was.process, new.process, made, wanted), title=old.title, product=old.product)
            for old, was, new in zip(recipe.ways, plain_ways, made.ways, strict=True)
        )  # fmt: skip
    branches = tuple(replace(branch, process=way.process, lines=own.lines) for branch, way, own in zip(recipe.branches, ways, made.branches if len(made.branches) == len(recipe.branches) else recipe.branches, strict=True))
    final: Recipe = replace(whole, ways=ways, branches=branches, process=ways[0].process if ways else whole.process)
    return final


def _way_process(way: Process, process: Process) -> Process:
    changed: Process = replace(way, meats=process.meats, meat=process.meat, cure_time=process.cure_time if way.cure_time is not None else None)
    return changed


def _process(wanted_process: Process, plain: Process, made: Process, batch: Recipe, wanted: Wanted) -> Process:
    """The process as read of the batch's page, with those facts as they were meant that read otherwise."""
    values: dict[str, Any] = {}
    for name in Process.__struct_fields__:
        old, new = getattr(wanted_process, name), getattr(made, name)
        if wanted.extras and (name == "meat" or (name == "meats" and not wanted_process.meats)):
            continue  # as the lines of all the meat read
        if name == "meats":
            values[name] = _meats(old, new, len(wanted.extras))
        elif name == "meat":
            values[name] = old if new is None or old is None else _meat(old, new)
        elif name == "cure_time" and wanted_process.cure_rate is not None and wanted.days is None:
            continue  # by the page's own rate, for this meat
        elif name == "cure" and old is not None and new is not None and old.method == new.method and old.balance is None:
            continue  # salt that is weighed now levels out, where the spoons of the page did not say
        elif not same(old, new):
            values[name] = old
    changed: Process = replace(made, **values)
    return changed


def _meats(old: tuple[Meat, ...], new: tuple[Meat, ...], extras: int) -> tuple[Meat, ...]:
    if len(new) != len(old) + extras:
        return old
    return (*(_meat(one, other) for one, other in zip(old[:1], new[:1], strict=True)), *new[1 : 1 + extras], *(_meat(one, other) for one, other in zip(old[1:], new[1 + extras :], strict=True)))


def _meat(old: Meat, new: Meat) -> Meat:
    """As read of the batch's page, but for what reads otherwise than it was meant."""
    values = {name: getattr(old, name) for name in Meat.__struct_fields__ if name not in ("line", "place", "name", "cut", "species") and not same(getattr(old, name), getattr(new, name))}
    changed: Meat = replace(new, **values)
    return changed


def _sections(recipe: Recipe, made: Recipe, wanted: Wanted, good: dict[int, Ingredient]) -> tuple[Section, ...]:
    """The recipe's own sections with what was read as meant, and the rest as meant."""
    by_item = {id(target.item): target for target in wanted.targets}
    first = meat_items(recipe)[0] if meat_items(recipe) else recipe.ingredients[0] if recipe.ingredients else None
    extra = [item for item in made.ingredients if wanted.extras and wanted.below < item.line <= wanted.below + len(wanted.extras)]

    def as_meant(item: Ingredient) -> Iterable[Ingredient]:
        target = by_item[id(item)]
        found = good.get(id(target))
        yield found if found is not None else _meant(target)
        if item is first:
            yield from extra

    return tuple(replace(section, ingredients=tuple(one for item in section.ingredients for one in as_meant(item))) for section in recipe.sections)


def _meant(target: Target) -> Ingredient:
    item = target.item
    place = item.amount.place if item.amount is not None else item.place
    values: dict[str, Any] = {}
    if target.how == "weigh" and target.gram is not None:
        gram = Fraction(number(target.gram))
        values = {"amount": Amount(gram, gram, "gram", place), "mass": exactly(target.gram), "weighed": True, "per": None, "count": None, "each": None, "also": (), "columns": (), "was": ()}
    elif item.amount is not None and target.how in ("count", "measure"):
        factor = Fraction(f"{target.factor:.9f}")
        values = {"amount": replace(item.amount, low=item.amount.low * factor, high=item.amount.high * factor), "mass": masses.scaled(item.mass, target.factor, target.factor) if item.mass is not None else None, "columns": ()}
    if target.name is not None:
        values |= {"name": target.name, "strength": target.strength, "role": _role(target)}
    changed: Ingredient = replace(item, **values)
    return changed
