"""Recipes told as data, by a page or a program, kept as the text of a file."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.recipe.model import Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from baitwright.workshop.recipes.recipe_changes import text_of
from baitwright.workshop.recipes.recipe_shelf import KIND, Kept, written_recipe
from baitwright.workshop.recipes.recipe_texts import recipe_of
from baitwright.workshop.typed.toml_text import toml_text


def keep_told(book: Notebook, told: Mapping[str, Any], *, now: datetime, reason: str = "") -> Kept:
    """Keep a recipe that was told as data; one that says what its newest version says stays.

    Raises
    ------
    InputError: it is no recipe, or the notebook cannot be written to.
    """
    recipe = recipe_from(told, where="")
    with book.writing() as page:
        return written_recipe(page, text_to_keep(page, told, recipe), now=now, reason=reason)


def text_to_keep(page: Page, told: Mapping[str, Any], recipe: Recipe) -> str:
    """The text of a recipe that was told as data: the newest version's where that says the same."""
    latest = page.latest(KIND, recipe.name)
    if latest is not None and latest.body is not None:
        try:
            if recipe_of(text_of(latest)) == recipe:
                return text_of(latest)
        except InputError:
            pass  # a version that reads no more is followed by one that does
    return toml_text(told)
