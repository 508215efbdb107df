"""The recipe: its model, and building it from a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from overhaul.house import House
    from overhaul.recipe.model import Recipe
    from overhaul.text import Page


class TooMuch(Exception):
    """Why a page is not read: it is made so that its lines would be read again and again."""


def read_page(page: Page, house: House) -> list[Recipe]:
    """The recipes of a page, in order; see ``build``, which is imported when a page is read: a report of kept results needs none of it."""
    from overhaul.recipe import build

    return build.read_page(page, house)


__all__ = ["TooMuch", "read_page"]
