"""The recipe that a kept text tells."""

from __future__ import annotations

from baitwright.recipe.model import Recipe
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from baitwright.workshop.typed.toml_reading import in_toml


def recipe_of(text: str) -> Recipe:
    """The recipe that a kept file tells.

    Raises
    ------
    InputError: it is no recipe any more.
    """
    return recipe_from(in_toml(text.lstrip("\ufeff"), where=""), where="")
