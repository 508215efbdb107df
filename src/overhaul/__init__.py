"""Overhaul reads cured-meat recipes as they are written, works their sums and reports line by line.

    import overhaul

    recipes = overhaul.read(Path("flat.txt"))
    for finding in overhaul.audit(Path("flat.txt")).findings: ...

``read``, ``audit``, ``sums``, ``convert`` and ``batch`` are told of in ``overhaul.library``; the rest are the values they give and take, and
what a rule of one's own is made of (``overhaul.rules.plug_ins``). Each is imported when it is first asked for.
"""

from typing import TYPE_CHECKING

__version__ = "0.1.0"

if TYPE_CHECKING:
    from overhaul.findings import Cite, Edit, Finding, Grade, Remedy, SignOff, placed
    from overhaul.house import House
    from overhaul.library import CannotDo, Worked, audit, batch, convert, read, sums
    from overhaul.pipeline import Audited
    from overhaul.recipe.model import Amount, Ingredient, Recipe, Section, Step
    from overhaul.rules.rule import Case, Rule
    from overhaul.span import Span
    from overhaul.sums.worked import Sum
    from overhaul.text import Page, Place

__all__ = [
    "Amount", "Audited", "CannotDo", "Case", "Cite", "Edit", "Finding", "Grade", "House", "Ingredient", "Page", "Place", "Recipe", "Remedy", "Rule",
    "Section", "SignOff", "Span", "Step", "Sum", "Worked", "audit", "batch", "convert", "placed", "read", "sums",
]  # fmt: skip

_FROM = {
    "library": ("CannotDo", "Worked", "audit", "convert", "read"),
    "findings": ("Cite", "Edit", "Finding", "Grade", "Remedy", "SignOff", "placed"),
    "house": ("House",),
    "pipeline": ("Audited",),
    "recipe.model": ("Amount", "Ingredient", "Recipe", "Section", "Step"),
    "rules.rule": ("Case", "Rule"),
    "span": ("Span",),
    "sums.worked": ("Sum",),
    "text": ("Page", "Place"),
}
_CALLED = ("batch", "sums")  # packages that are the function of their name too (``called``)

if not TYPE_CHECKING:

    def __getattr__(name: str) -> object:
        from importlib import import_module

        if name in _CALLED:
            return import_module(f"{__name__}.{name}")
        for module, names in _FROM.items():
            if name in names:
                found = globals()[name] = getattr(import_module(f"{__name__}.{module}"), name)
                return found
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})
