"""The recipe: its model, and building it from a page."""

from overhaul.recipe.build import read_page

__all__ = ["read_page"]
