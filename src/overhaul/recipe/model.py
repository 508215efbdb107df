"""The recipe as data: frozen records, each with its place in the text.

Numbers stay exact (Fraction) as the page has them. Masses and thicknesses are spans of floats, in gram and
millimetre. What the recipe does not say is None; what was filled in from ``facts/`` is marked as not stated.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property
from typing import Literal

from msgspec import Struct, field

from overhaul.span import Span
from overhaul.text import Page, Place

Role = Literal[
    "meat", "salt", "cure1", "cure2", "nitrite", "nitrate", "ready-mix", "accelerator", "phosphate", "sugar",
    "water", "ice", "liquid", "acid", "spice", "aromatic", "fat", "smoke", "other",
]  # fmt: skip
CURING_SALTS: frozenset[Role] = frozenset(["cure1", "cure2", "nitrite", "nitrate", "ready-mix"])

Product = Literal[
    "corned beef", "pastrami", "bacon", "ham", "loin", "tongue", "poultry", "fish", "ground", "jerky", "gravlax", "dried", "other",
]  # fmt: skip

Phase = Literal[
    "make-spice", "make-brine", "cool-brine", "trim", "thaw", "pump", "cure", "overhaul", "rinse", "soak", "equalize", "dry",
    "season", "smoke", "wrap", "cook", "rest", "cool", "slice", "hold", "store", "other",
]  # fmt: skip

LineKind = Literal["title", "heading", "ingredient", "step", "note", "blank"]

# What an ingredient is for. Only "cure" counts in the brine, or in the dry cure.
Use = Literal["cure", "rub", "cook", "blend", "soak", "serve", "aside"]


class Amount(Struct, frozen=True):
    """A number or a range with a unit, as written. ``unit`` is one of ``reading.units`` (``each`` for a bare count)."""

    low: Fraction
    high: Fraction
    unit: str
    place: Place
    parts: tuple[Amount, ...] = ()  # 2 lb 4 oz: the two, when this is their sum
    vague: str | None = None  # about, scant, heaping …, as written
    doubt: str | None = None  # why it may have been read wrongly, with the other reading
    other: Fraction | None = None  # the other reading: sums hold it for as good


class Per(Struct, frozen=True):
    """The second half of a rate: per ``amount`` ``unit`` ``of`` something. For a percentage only ``of`` is set."""

    amount: Fraction | None
    unit: str | None
    of: str | None
    place: Place


class Instead(Struct, frozen=True):
    """The same ingredient another way ("or 2 c table salt"); never added up."""

    name: str
    role: Role
    kind: str | None
    amount: Amount | None
    mass: Span | None
    place: Place
    also: tuple[Amount, ...] = ()


class Column(Struct, frozen=True):
    """One column of a recipe written for several batch sizes."""

    factor: Fraction | None
    amount: Amount


class Strength(Struct, frozen=True):
    """What a curing salt holds, in percent by weight, where the page says so."""

    nitrite: Span | None
    nitrate: Span | None
    place: Place


class Ingredient(Struct, frozen=True):
    line: int
    text: str
    place: Place
    name: str
    name_place: Place
    role: Role
    kind: str | None = None  # row of facts/measures.tsv, or None when nothing there fits
    amount: Amount | None = None
    count: Amount | None = None
    each: bool | None = None  # with a count: the amount is for each piece
    per: Per | None = None
    also: tuple[Amount, ...] = ()  # the same amount told again
    instead: tuple[Instead, ...] = ()
    columns: tuple[Column, ...] = ()
    was: tuple[Amount, ...] = ()  # crossed out
    state: str | None = None
    optional: bool = False
    doubt: str | None = None
    mass: Span | None = None  # gram, for the whole line
    weighed: bool = False  # the mass rests on a weight, not on a spoon or a count
    strength: Strength | None = None
    in_method: bool = False
    use: Use = "cure"


class Section(Struct, frozen=True):
    name: str | None
    line: int
    place: Place
    ingredients: tuple[Ingredient, ...]
    use: Use = "cure"
    rubbed: bool = False  # goes on dry, where another list of the cure is a brine


class Measured(Struct, frozen=True):
    """A time, temperature or length in the method, and of what where that is told (meat air brine fridge fat …)."""

    amount: Amount
    of: str | None = None


class Taken(Struct, frozen=True):
    """What a step takes from a list or a sub-recipe."""

    name: str
    amount: Amount | None
    place: Place


class Step(Struct, frozen=True):
    line: int
    end_line: int
    text: str
    place: Place
    phase: Phase
    actions: tuple[str, ...] = ()
    times: tuple[Measured, ...] = ()
    temperatures: tuple[Measured, ...] = ()
    lengths: tuple[Measured, ...] = ()
    uses: tuple[Taken, ...] = ()
    amounts: tuple[Measured, ...] = ()  # every other figure of the step
    then: tuple[Phase, ...] = ()  # the phases of its further clauses: "rinse, then simmer 3 hours"

    def does(self, *phases: str) -> bool:
        """Whether the step, or one of its clauses, is of one of ``phases``."""
        return self.phase in phases or (bool(self.then) and not set(phases).isdisjoint(self.then))


class Fact(Struct, frozen=True):
    """One thing the process says: a range in one unit, and where. ``stated`` is False for what was worked out."""

    low: float
    high: float
    unit: str
    line: int
    place: Place
    stated: bool = True
    dwell: Fact | None = None  # with a final temperature: how long it is held there

    @property
    def span(self) -> Span:
        return Span(self.low, (self.low + self.high) / 2, self.high)


class CureRate(Struct, frozen=True):
    """So much time for so much meat: ``7 days per inch``, ``1 day to the pound``, and a few ``more`` on top (same unit)."""

    low: float
    high: float
    unit: str
    per: float
    per_unit: str
    more: float
    line: int
    place: Place


class Mention(Struct, frozen=True):
    """A thing the method says without a figure (weighed down, turned, rinsed …)."""

    line: int
    place: Place
    words: str


class Cure(Struct, frozen=True):
    method: Literal["immersion", "dry", "pumped", "pumped-immersion", "none"]
    balance: Literal["gradient", "equilibrium"] | None
    line: int
    place: Place


class Meat(Struct, frozen=True):
    line: int
    place: Place
    name: str
    species: str | None  # beef pork lamb venison chicken turkey duck goose poultry fish game, or None
    cut: str | None  # row of facts/cuts.tsv, or None
    pieces: tuple[int, int] | None
    mass: Span | None  # gram, all pieces together
    mass_stated: bool
    thickness: Span | None  # millimetre, through the thickest part
    thickness_stated: bool
    skin: bool = False
    bone: bool = False
    fat_cap: Literal["none", "thin", "thick"] | None = None
    frozen: bool = False
    ground: bool = False
    rolled: bool = False  # rolled and tied: round, with nothing between its layers
    sides: tuple[float, ...] = ()  # millimetre, the other two sizes of a piece told by three


class Cooling(Struct, frozen=True):
    """One leg of a cool-down; temperatures in degF, time in hour."""

    start: float
    end: float
    low: float
    high: float
    line: int
    place: Place


class Storage(Struct, frozen=True):
    """How long it keeps, in day, and how."""

    low: float
    high: float
    line: int
    place: Place
    temperature: Fact | None = None
    kept: Literal["cold", "frozen", "shelf"] | None = None


class Process(Struct, frozen=True):
    """What the rules read. Temperatures are degF whatever the page has."""

    meats: tuple[Meat, ...] = ()
    meat: Meat | None = None  # the one the sums are for
    cure: Cure | None = None
    pump: Fact | None = None  # percent
    cure_time: Fact | None = None  # day or hour, as the page has it
    cure_rate: CureRate | None = None  # days for the thickness or the weight; ``cure_time`` is worked from it where that is stated
    cure_time_hurried: Fact | None = None  # "4 if in a hurry"
    cure_temperature: Fact | None = None
    cure_cold: Mention | None = None  # "in the walk-in": a cold place without a figure
    cure_warm: Mention | None = None  # "on the counter", "in the garage"
    brine_temperature: Fact | None = None
    brine_heated: Mention | None = None
    brine_cooled: Mention | None = None
    tub: Fact | None = None
    tub_material: str | None = None
    weighed_down: Mention | None = None
    kept_back: Mention | None = None  # "other half is for the next one": not all of the mix goes on
    turning: Mention | None = None
    turning_days: tuple[int, ...] = ()  # "on days 3 and 6"
    thaw: Mention | None = None
    thaw_warm: Mention | None = None  # thawed "on the counter"
    left_out: Fact | None = None  # hour, of standing at room temperature that is neither cure, soak nor cool-down
    rinse: Mention | None = None
    soak: Fact | None = None  # hour
    soak_mention: Mention | None = None
    soak_warm: Mention | None = None  # soaked "on the counter"
    soak_waters: int = 1  # fresh waters in all: one, and one for each change
    dry: Fact | None = None  # hour
    smoke: Mention | None = None
    wood: Mention | None = None  # of a resinous wood
    smoke_temperature: Fact | None = None
    smoke_time: Fact | None = None
    cook: Mention | None = None
    final_temperature: Fact | None = None
    cook_time: Fact | None = None
    hold: Fact | None = None
    rest: Fact | None = None  # minute
    rest_mention: Mention | None = None
    cool: Mention | None = None
    cooling: tuple[Cooling, ...] = ()
    storage: Storage | None = None


class Branch(Struct, frozen=True):
    """One way of finishing a recipe that ends in several."""

    name: str
    lines: tuple[int, ...]
    process: Process


class Yield(Struct, frozen=True):
    text: str
    low: Fraction
    high: Fraction
    unit: str
    line: int
    place: Place


class Note(Struct, frozen=True):
    line: int
    text: str
    place: Place


class Reference(Struct, frozen=True):
    """Where the page sends its reader: another page or card, a step, another recipe by its name."""

    line: int
    place: Place
    text: str
    to: str | None = None  # the recipe's name, as written
    page: int | None = None
    step: int | None = None


class ReadLine(Struct, frozen=True):
    line: int
    kind: LineKind
    text: str


class Unread(Struct, frozen=True):
    """A figure that was not understood."""

    place: Place
    text: str


class Edited(Struct, frozen=True):
    """A field of a recipe file that says another thing than its text: whose it is, and what each says, in words."""

    place: Place
    what: str
    field: str
    text: str


class Recipe(Struct, frozen=True, dict=True):
    page: Page
    title: str
    title_place: Place
    product: Product | None
    sections: tuple[Section, ...]
    steps: tuple[Step, ...]
    process: Process
    branches: tuple[Branch, ...] = ()
    ways: tuple[Recipe, ...] = ()  # the same recipe finished each of these ways; its own process is that of the first
    yields: Yield | None = None
    notes: tuple[Note, ...] = ()
    references: tuple[Reference, ...] = ()
    lines: tuple[ReadLine, ...] = ()
    unread: tuple[Unread, ...] = ()
    edited: tuple[Edited, ...] = ()  # only of a recipe file; its places stand behind the end of the page (recipe_file/places.py)
    cured: bool = False  # the page means this to be a cured product
    raw_on_purpose: bool = False  # "stays raw until somebody fries it"
    uncured_on_purpose: bool = False  # "no curing salt in it, on purpose"
    bought_done: bool = False  # bought cured and cooked, "fully cooked": it is only heated
    sold: bool | None = None
    index: int = 0
    first_line: int = 1
    last_line: int = field(default=1)

    @cached_property
    def own_words(self) -> tuple[int, str]:
        """Where this recipe begins in the page, and its text in lower case with each end of line a blank; offsets add up."""
        lines = self.page.lines
        first = lines[min(max(self.first_line, 1), len(lines)) - 1].place.start
        last = lines[min(max(self.last_line, self.first_line), len(lines)) - 1].place.end
        return first, self.page.low[first:last].replace("\n", " ").replace("\r", " ")

    @cached_property
    def ingredients(self) -> tuple[Ingredient, ...]:
        return tuple(item for section in self.sections for item in section.ingredients)

    def of_role(self, *roles: str, use: Use | None = "cure") -> tuple[Ingredient, ...]:
        """Ingredients of these roles; ``use`` None takes them whatever they are for."""
        told = self._of_role.get((roles, use))
        if told is None:
            told = self._of_role[roles, use] = tuple(item for item in self.ingredients if item.role in roles and (use is None or item.use == use))
        return told

    @cached_property
    def _of_role(self) -> dict[tuple[tuple[str, ...], Use | None], tuple[Ingredient, ...]]:
        """What was asked for by role before: rules ask for the same few again and again."""
        return {}
