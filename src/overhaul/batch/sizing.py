"""How large the batch is: the factor that each thing goes by, from the meat, the tub, the portions or a factor."""

from __future__ import annotations

from math import inf, log

from msgspec import Struct
from msgspec.structs import replace

from overhaul import facts
from overhaul.batch.asking import Asked, Piece
from overhaul.findings import Cite
from overhaul.house import House
from overhaul.recipe import masses, weighing
from overhaul.recipe.meats import species_of
from overhaul.recipe.model import CURING_SALTS, Ingredient, Meat, Recipe
from overhaul.span import Span, exactly
from overhaul.sums import scaling, vessel
from overhaul.sums.work import Sums
from overhaul.sums.worked import figure, round_

IN_BRINE = frozenset(["water", "ice", "liquid", "acid", "salt", "sugar", "accelerator", "phosphate", *CURING_SALTS])
SPICES = frozenset(["spice", "aromatic"])
_STEP_TO_BUY = 100.0  # gram: what a butcher cuts to


class CannotMake(Exception):
    """Why no batch can be made of it, in plain words."""


class Size(Struct, frozen=True):
    """The base to scale from, and by what. ``meat`` and ``brine`` are factors of the base; ``spices`` is None where they go with the meat."""

    base: Recipe
    meat: float
    brine: float
    told: str  # the size in words
    pieces: tuple[Piece, ...] = ()  # the meat in hand
    column: int = 0
    column_factor: float = 1.0  # of that column, on the first
    spices: float | None = None
    meat_gram: float | None = None  # green weight of the batch, where it is known
    count: int | None = None  # pieces to buy
    notes: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = ()

    def of(self, item: Ingredient) -> float:
        """The factor for one ingredient, of the amount in the column that is scaled from."""
        one_column = self.column > 0 and len(item.columns) <= self.column
        if item.role in SPICES and self.spices is not None:
            return self.spices / (1.0 if one_column else self.column_factor)
        factor = self.brine if item.role in IN_BRINE and item.use == "cure" else self.meat
        return factor * (self.column_factor if one_column else 1.0)


def meat_items(recipe: Recipe) -> tuple[Ingredient, ...]:
    """The meat that is cured, line by line."""
    return tuple(item for item in recipe.ingredients if item.role == "meat" and item.use in ("cure", "blend"))


def stated_meat(recipe: Recipe) -> Span | None:
    """Gram of all the meat whose weight the page states, or None."""
    known = [item.mass for item in meat_items(recipe) if item.mass is not None]
    if known:
        return Span(sum(one.low for one in known), sum(one.likely for one in known), sum(one.high for one in known))
    meat = recipe.process.meat
    return meat.mass if meat is not None and meat.mass_stated else None


def stated_pieces(recipe: Recipe) -> int | None:
    """Whole pieces of meat that the page states, all its meats together."""
    counts = [meat.pieces for meat in recipe.process.meats]
    if not counts or any(one is None or one[0] != one[1] for one in counts):
        return None
    return sum(one[0] for one in counts if one is not None)


def size(recipe: Recipe, asked: Asked, house: House) -> Size:
    """The size asked for, from the column that is nearest to it. Raises CannotMake with what is missing."""
    first = _size(recipe, asked, house)
    factors = _column_factors(recipe)
    if len(factors) < 2:
        return replace(first, spices=asked.spices)
    index = min(range(len(factors)), key=lambda at: (round(abs(log(first.meat / factors[at])), 9), at))
    if not index:
        return replace(first, spices=asked.spices)
    base = at_column(recipe, index, house)
    again = _size(base, replace(asked, times=asked.times / factors[index]) if asked.times is not None else asked, house)
    note = f"worked from the column of {factors[index]:g} times, which is nearest; times the recipe are times its first column"
    return replace(again, told=first.told, column=index, column_factor=factors[index], spices=asked.spices, notes=(*first.notes, note))


def _column_factors(recipe: Recipe) -> list[float]:
    """How many times the first column each column is, by its heading or by its meat; the first alone where neither tells."""
    listed = [item for item in recipe.ingredients if len(item.columns) > 1]
    if not listed:
        return [1.0]
    meat = next((item for item in listed if item.role == "meat"), listed[0])
    found: list[float] = []
    for column in meat.columns:
        one, first = column.amount, meat.columns[0].amount
        ratio = float(one.low / first.low) if one.unit == first.unit and first.low else None
        by_head = float(column.factor / meat.columns[0].factor) if column.factor and meat.columns[0].factor else None
        factor = by_head if by_head is not None else ratio
        if factor is None or not 0 < factor < inf:
            return [1.0]
        found.append(factor)
    return found


def at_column(recipe: Recipe, index: int, house: House) -> Recipe:
    """``recipe`` as its column ``index`` has it."""

    def taken(item: Ingredient) -> Ingredient:
        if len(item.columns) <= index:
            return item
        amount = item.columns[index].amount
        mass, weighed = masses.in_grams(amount, item.role, item.kind, house)
        return replace(item, amount=amount, mass=mass if mass is not None or item.role != "meat" else None, weighed=weighed, also=())

    sections = tuple(replace(section, ingredients=tuple(taken(item) for item in section.ingredients)) for section in recipe.sections)
    by_line = {item.line: item.mass for section in sections for item in section.ingredients if item.role == "meat" and item.columns}
    meats = tuple(replace(meat, mass=by_line.get(meat.line) or meat.mass) for meat in recipe.process.meats)
    main = recipe.process.meat
    if main is not None and main.mass is not None and main.mass_stated:
        own = [meat.mass for meat in meats if meat.mass is not None]
        main = replace(main, mass=(by_line.get(main.line) or main.mass) if len(meats) == 1 else exactly(sum(one.likely for one in own)))
    changed: Recipe = replace(recipe, sections=sections, process=replace(recipe.process, meats=meats, meat=main))
    return changed


def _size(recipe: Recipe, asked: Asked, house: House) -> Size:
    if asked.meats:
        return _for_meat(recipe, asked, house)
    if asked.tub is not None:
        return _for_tub(recipe, asked.tub, asked.tub_words or "", house)
    if asked.portions is not None:
        return _for_portions(recipe, asked, house)
    return _for_times(recipe, asked.times if asked.times is not None else 1.0, house)


def _for_times(recipe: Recipe, factor: float, house: House) -> Size:
    stated = stated_meat(recipe)
    salted = any(item.role in ("salt", *CURING_SALTS) and item.use == "cure" for item in recipe.ingredients)
    water = any(item.mass is not None for item in recipe.of_role("water", "ice", "liquid"))
    if not any(item.amount is not None for item in recipe.ingredients):
        raise CannotMake("the recipe has no amounts to scale")
    if salted and stated is None and not water:
        if all(item.per is not None for item in recipe.ingredients if item.role in ("salt", *CURING_SALTS) and item.use == "cure"):
            raise CannotMake(f"{_unsaid_meat(recipe)}, and its amounts are shares of it; say --meat with what is in hand")
        raise CannotMake(f"{_unsaid_meat(recipe)} and the water is not stated either: nothing tells what its amounts are for. Write the weight of the meat that it is for")
    told = "the recipe as it is" if factor == 1 else f"{factor:g} times the recipe"
    gram = stated.likely * factor if stated is not None else None
    return Size(recipe, factor, factor, told, meat_gram=gram)


def _unsaid_meat(recipe: Recipe) -> str:
    meats = meat_items(recipe)
    return f"line {meats[0].line} (“{meats[0].text.strip()}”) does not say how much meat" if meats else "the recipe does not say how much meat"


def _for_meat(recipe: Recipe, asked: Asked, house: House) -> Size:
    pieces = asked.meats
    if any(piece.gram is None for piece in pieces):
        return _by_pieces(recipe, pieces)
    gram = sum(piece.gram for piece in pieces if piece.gram is not None)
    base, factor, pieces, notes = _base_for(recipe, gram, pieces, house)
    gram = sum(piece.gram for piece in pieces if piece.gram is not None)
    told = "; ".join(piece.words.strip() for piece in pieces)
    if asked.tub is None:
        return Size(base, factor, factor, f"{told}: {_times(factor)}", pieces, meat_gram=gram, notes=notes)
    brine, room = _brine_for_tub(base, gram, asked.tub, house)
    named = f"{told} in the tub of {round_(asked.tub)} litres"
    notes = (*notes, f"the brine fills the tub besides the meat ({room}): {_times(brine, 'the recipe’s brine')}, of the same strength; curing salt so that its nitrite in meat and brine as one stays what it was. The salt in the meat goes with how much brine there is to it: see the sums")
    covering = facts.table("sums")["cover.brine_per_meat"]
    made = Sums(base, house).need("brine_mass").value.likely * brine
    if made < covering.low * gram:
        notes = (*notes, f"{round_(made / gram)} of the meat’s weight in brine hardly covers it; what covers is {covering.low:g} to {covering.high:g}: take a larger tub or less meat")
    return Size(base, factor, brine, named, pieces, meat_gram=gram, notes=notes, sources=(covering.cite, facts.table("sums")["tub.head_room"].cite))


def _times(factor: float, of: str = "the recipe") -> str:
    return of if abs(factor - 1) < 5e-4 else f"{factor:.3g} times {of}"


def _base_for(recipe: Recipe, gram: float, pieces: tuple[Piece, ...], house: House) -> tuple[Recipe, float, tuple[Piece, ...], tuple[str, ...]]:
    """What to scale, and by what, for ``gram`` of meat; a recipe that is all rates and shares of the meat needs no weight of its own."""
    stated = stated_meat(recipe)
    if stated is not None and stated.likely > 0:
        named, notes = _one_of_several(recipe, pieces)
        if named is not None:
            factor = (pieces[0].gram or 0.0) / named
            whole = stated.likely * factor
            return recipe, factor, (replace(pieces[0], gram=whole, pieces=None, name=None),), notes
        notes = () if stated.exact else (f"the recipe is for {figure(stated, 'gram')} of meat; the factor is from the likely",)
        return recipe, gram / stated.likely, pieces, notes
    fixed = [item for item in recipe.ingredients if item.per is None and item.amount is not None and item.role != "meat" and item.role not in SPICES]
    if fixed or not any(item.per is not None for item in recipe.ingredients):
        where = f" Line {fixed[0].line} (“{fixed[0].text.strip()}”) is for some weight of meat, and nothing tells which." if fixed else ""
        raise CannotMake(f"{_unsaid_meat(recipe)}, so that nothing tells what its amounts are for.{where} Write that weight on the page, or say --times")
    meat = recipe.process.meat or _meat_of(recipe, pieces[0])
    process = replace(recipe.process, meat=replace(meat, mass=exactly(gram), mass_stated=True))
    base = replace(recipe, process=process, sections=tuple(weighing.rates(recipe.page, list(recipe.sections), process, house)))
    return base, 1.0, pieces, ("the recipe is all in shares and rates of the meat, and is worked straight from its weight",)


def _meat_of(recipe: Recipe, piece: Piece) -> Meat:
    """The meat in hand, for a page that names none."""
    name = piece.name or "meat"
    cut = facts.cut(piece.kind) if piece.kind is not None else None
    thickness = piece.thickness or (cut.thickness if cut is not None else None)
    return Meat(1, recipe.title_place, name, species_of(f"{name} {recipe.title}"), piece.kind, None, None, False, thickness, piece.thickness is not None)


def _one_of_several(recipe: Recipe, pieces: tuple[Piece, ...]) -> tuple[float | None, tuple[str, ...]]:
    """The recipe's gram of the one meat that is named, where it has several meats and one is in hand."""
    items = meat_items(recipe)
    if len(items) < 2 or len(pieces) != 1 or pieces[0].name is None:
        return None, ()
    same = [item for item in items if item.kind is not None and item.kind == pieces[0].kind] or [item for item in items if pieces[0].name in item.name]
    if len(same) != 1 or same[0].mass is None:
        raise CannotMake(f"the recipe has several meats ({', '.join(item.name for item in items)}), and “{pieces[0].name}” is not one of them; name one as it is written, or give the weight of all together without a name")
    others = ", ".join(item.name for item in items if item is not same[0])
    return same[0].mass.likely, (f"the weight is of the {same[0].name} alone; {others} in the proportion of the recipe",)


def _by_pieces(recipe: Recipe, pieces: tuple[Piece, ...]) -> Size:
    has, wanted = stated_pieces(recipe), [piece.pieces for piece in pieces]
    if any(one is None for one in wanted) or any(piece.gram is not None for piece in pieces):
        raise CannotMake("some of the meat has a weight and some has not; weigh all of it, or count all of it")
    if not has:
        raise CannotMake("the recipe does not count its meat in pieces; weigh what is in hand")
    count = sum(one for one in wanted if one is not None)
    factor, stated = count / has, stated_meat(recipe)
    gram = stated.likely * factor if stated is not None else None
    given = tuple(replace(piece, gram=gram * (piece.pieces or 0) / count if gram is not None else None) for piece in pieces)
    note = f"by the piece: {count} for {has} of the recipe, taken to be as heavy as those; weigh them, and say their weight"
    return Size(recipe, factor, factor, f"{'; '.join(piece.words.strip() for piece in pieces)}: {_times(factor)}", given, meat_gram=gram, notes=(note,))


def _litres(recipe: Recipe, house: House) -> tuple[float, float, Sums]:
    """Litres of brine and of meat in the recipe as it is."""
    sums = Sums(recipe, house)
    if sums.method not in ("immersion", "pumped-immersion"):
        raise CannotMake("the meat does not lie in a brine; a tub tells nothing about a dry or pumped cure")
    made, strength, meat = sums.get("brine_mass"), sums.get("brine_strength"), stated_meat(recipe)
    for name, found in (("brine_mass", made), ("brine_strength", strength)):
        if found is None:
            raise CannotMake(f"what the brine comes to cannot be worked: {sums.why_not(name)}")
    if meat is None:
        raise CannotMake(f"{_unsaid_meat(recipe)}, so that nothing tells how much of the tub is meat. Write it on the page, or say --meat with --tub")
    assert made is not None
    assert strength is not None
    return vessel.litres(made.value.likely, strength.value.likely, 0.0), vessel.litres(0.0, 0.0, meat.likely), sums


def _for_tub(recipe: Recipe, tub: float, words: str, house: House) -> Size:
    head = facts.table("sums")["tub.head_room"]
    brine, meat, _ = _litres(recipe, house)
    factor = scaling.factor_for_tub(tub, head.value, brine, meat)
    gram = stated_meat(recipe)
    assert gram is not None
    grams = gram.likely * factor
    notes = (
        f"{round_(tub)} litres less {100 * head.value:g} % left empty hold {_times(factor)}: {round_(meat * factor)} litres of meat and {round_(brine * factor)} of brine",
        f"up to {grams:,.0f} g of meat; for less meat say --meat with --tub",
    )
    return Size(recipe, factor, factor, f"the tub of {round_(tub)} litres" + (f" ({words.strip()})" if "lit" not in words.lower() else ""), meat_gram=grams, notes=notes, sources=(head.cite, facts.fact("meat_density").cite))


def _brine_for_tub(recipe: Recipe, gram: float, tub: float, house: House) -> tuple[float, str]:
    head = facts.table("sums")["tub.head_room"].value
    brine, _, _ = _litres(recipe, house)
    meat = vessel.litres(0.0, 0.0, gram)
    factor = scaling.factor_for_brine(tub, head, brine, meat)
    if not factor > 0:
        raise CannotMake(f"{gram:,.0f} g of meat is {round_(meat)} litres and leaves no room for brine in {round_(tub)} litres, of which {100 * head:g} % stays empty")
    return factor, f"{round_(meat)} litres of meat, {100 * head:g} % left empty"


def yield_of(recipe: Recipe) -> facts.Fact | None:
    """Served over green for this cut, else this product, else this species."""
    rows = facts.table("yields")
    meat = recipe.process.meat
    product = recipe.product if recipe.product not in ("corned beef", "pastrami") else None
    names = (product if product in ("jerky", "ground", "gravlax") else None, meat.cut if meat is not None else None, recipe.product, meat.species if meat is not None else None)
    found = next((rows[name] for name in names if name in rows), None)
    if found is None and meat is not None and meat.species in ("chicken", "turkey", "duck", "goose"):
        return rows["poultry"]
    return found


def _for_portions(recipe: Recipe, asked: Asked, house: House) -> Size:
    portions = asked.portions
    assert portions is not None
    if portions.gram is None:
        return _by_yield(recipe, portions.count, house)
    found = yield_of(recipe)
    if found is None:
        raise CannotMake("nothing tells how much of this meat is left to serve; weigh one batch before and after, and say --meat")
    green = Span(*(scaling.green_for_portions(portions.count, portions.gram, share) for share in (found.high, found.value, found.low)))
    served = portions.count * portions.gram
    stated, has = stated_meat(recipe), stated_pieces(recipe)
    cut = facts.cut(recipe.process.meat.cut) if recipe.process.meat is not None and recipe.process.meat.cut else None
    count: int | None = None
    if stated is not None and has:
        piece, whose = stated.likely / has, "as heavy as the recipe’s"
    elif cut is not None:
        piece, whose = cut.mass.likely, "a typical one"
    else:
        piece, whose = None, ""
    notes = [f"{portions.count} portions of {portions.gram:,.0f} g are {served:,.0f} g to serve; at {100 * found.value:g} % of green weight ({100 * found.low:g} to {100 * found.high:g}) that is {green.likely:,.0f} g green ({green.low:,.0f} to {green.high:,.0f})"]
    if piece is not None and has and stated is not None:
        count = scaling.pieces_for(green.likely, piece)
        most = scaling.pieces_for(green.high, piece)
        gram = count * piece
        notes.append(f"buy {_pieces(count)} of {piece:,.0f} g, {whose}: {gram:,.0f} g" + (f"; at the lowest yield it takes {most}" if most != count else ", which is enough at the lowest yield too"))
    else:
        gram = scaling.pieces_for(green.likely, _STEP_TO_BUY) * _STEP_TO_BUY
        by_cut = f", some {_pieces(scaling.pieces_for(green.likely, piece))} of {piece:,.0f} g, {whose}" if piece is not None else ""
        notes.append(f"buy {gram:,.0f} g{by_cut}; at the lowest yield it takes {green.high:,.0f} g")
    notes.append("weigh what is left to serve once, and go by that")
    base, factor, pieces, more = _base_for(recipe, gram, (Piece(f"{gram:,.0f} g", None, None, count, gram, None),), house)
    return Size(base, factor, factor, f"{portions.words.strip()}: {_times(factor)}", pieces, meat_gram=gram, count=count, notes=(*notes, *more), sources=(found.cite,))


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"


def _by_yield(recipe: Recipe, count: int, house: House) -> Size:
    told = recipe.yields
    if told is None or told.unit != "portion" or not told.low > 0:
        raise CannotMake("the recipe does not say how many portions it makes; say how large they are: “60 at 5 oz”")
    factor = count / float(told.low)
    note = f"the recipe says “{told.text.strip()}”; that is taken at its word" + (", at the low end" if told.low != told.high else "")
    found = _for_times(recipe, factor, house)
    return replace(found, told=f"{count} portions: {_times(factor)}", notes=(note,))

