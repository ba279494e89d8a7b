"""A mix to be mended, read from whatever file it stands in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.mending.mend_asked import MendAsked, Mishap
from baitwright.workshop.mending.mend_parts import of_mix
from baitwright.workshop.mending.mend_wishes import of_wishes, wishes_kept
from baitwright.workshop.recipe_files.ingredient_tables import IngredientTable
from baitwright.workshop.recipe_files.mix_file import mix_from
from baitwright.workshop.recipe_files.mix_tables import ShelfFile
from baitwright.workshop.typed.reading import parse


def changed_in(data: Mapping[str, Any], *, where: str) -> Mapping[str, IngredientTable]:
    """What new bags say, of a file of ingredients or a mix file.

    Raises
    ------
    InputError: it cannot be read, or tells of none.
    """
    told = parse({"ingredients": data.get("ingredients", {})}, ShelfFile, where=where).ingredients
    if not told:
        accepted = 'what its new bag says, such as [ingredients.fishmeal-65] protein = "60 %"'
        raise InputError("changed", None, accepted, where=where)
    return told


def mend_from(data: Mapping[str, Any], mishap: Mishap, *, where: str) -> MendAsked:
    """What is asked of a recipe, a mix or wishes, by a file's raw contents.

    Raises
    ------
    InputError: the file, a name in it or in the mishap, or nothing that has happened.
    """
    if not mishap.without and not mishap.changed:
        accepted = "an ingredient that is gone, or what a new bag of one says"
        raise InputError("without", None, accepted)
    if "present" in data or "goal" in data:
        return of_wishes(wishes_kept(data, where=where), mishap)
    asked = mix_from(data, where=where, shelf=mishap.shelf)
    if not asked.told.base.parts:
        accepted = "a base told by its parts; of a bought one nobody can take a part out"
        raise InputError("mix", asked.told.base.name, accepted, where=where)
    return of_mix(asked, mishap)
