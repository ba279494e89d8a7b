"""Dye, sweetener and preservative as lines of a recipe, with the cautions they call for."""

from __future__ import annotations

from typing import Any

import pytest

from baitwright.materials.cautions import cautions
from baitwright.recipe.liquid import Purpose
from baitwright.recipe.model import Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.demo import demo_recipe
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from tests.batch.kitchen import planned

DYE = {"name": "Red", "level": "2 g per 500 g egg", "powder": True, "purpose": "dye"}


def recipe(**line: Any) -> Recipe:
    data = demo_recipe()
    return recipe_from({**data, "liquid": [*data["liquid"], {**DYE, **line}]}, where="file")


def test_each_purpose_has_a_caution_of_its_own() -> None:
    purposes = ("dye", "sweetener", "preservative")
    for purpose in purposes:
        assert [one.trigger for one in cautions().values()].count(purpose) == 1
    lines = [{**DYE, "name": purpose, "purpose": purpose} for purpose in purposes]
    made = planned(recipe_from({**demo_recipe(), "liquid": lines}, where="file"))
    assert {*purposes} <= {one.trigger for one in made.care.cautions}
    plain = planned(recipe_from({**demo_recipe(), "liquid": []}, where="file"))
    assert {one.trigger for one in plain.care.cautions}.isdisjoint(purposes)


def test_dye_goes_by_the_egg_and_by_its_label() -> None:
    def said(**line: Any) -> str:
        made = planned(recipe_from({**demo_recipe(), "liquid": [{**DYE, **line}]}, where="file"))
        return " ".join(note.text for note in made.notes)

    assert "dye goes by the egg" in said(level="4 g per kg dry mix")
    by_egg = said()
    assert "dye goes by the egg" not in by_egg
    assert "Red: its strength is not stated" not in said(powder=False)
    assert "Red: its strength is not stated" in said(powder=False, purpose="flavour")


def test_a_liquid_sweetener_is_judged_as_one() -> None:
    line = recipe(purpose="sweetener", level="3 ml per kg dry mix", powder=False).liquids[-1]
    assert (line.strength, line.strength_assumed) == ("sweetener", False)
    assert recipe().liquids[-1].purpose is Purpose.DYE
    with pytest.raises(InputError, match="flavour, dye, sweetener, preservative"):
        recipe(purpose="magic")
