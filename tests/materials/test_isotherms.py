"""Classes of dry matter: every powder and carrier has one, and each holds water as it should."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from baitwright.materials.isotherms import (
    BOUGHT,
    isotherm_of,
    isotherm_of_carrier,
    isotherms,
)
from baitwright.materials.liquids import carriers
from baitwright.materials.powders import ingredient, ingredients
from baitwright.physics.sorption import JUDGED

POWDERS = [row for row in isotherms().values() if row.model not in {"solute", "none"}]


def test_every_ingredient_has_one_class() -> None:
    groups = Counter(group for row in isotherms().values() for group in row.groups)
    own = Counter(name for row in isotherms().values() for name in row.ingredients)
    assert set(groups.values()) == {1}
    assert set(own.values()) == {1}
    assert set(own) <= set(ingredients())
    for part in ingredients().values():
        assert isotherm_of(part).id in isotherms(), part.id


def test_every_carrier_has_one_class() -> None:
    named = Counter(name for row in isotherms().values() for name in row.carriers)
    assert named == Counter(list(carriers()))
    assert isotherm_of_carrier("propylene-glycol").model == "solute"
    assert isotherm_of_carrier("vegetable-oil").model == "none"


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("semolina", "semolina"),
        ("maize-meal-fine", "maize"),
        ("rye-flour", "wheat"),
        ("soya-flour-roasted", "soya"),
        ("rennet-casein", "milk"),
        ("egg-albumen", "egg"),
        ("liver-powder", "fish"),
        ("salt", "salt"),
        ("salmon-oil", "nothing"),
        ("oyster-grit", "nothing"),
    ],
)
def test_what_belongs_where(name: str, expected: str) -> None:
    assert isotherm_of(ingredient(name)).id == expected


@pytest.mark.parametrize("row", POWDERS, ids=lambda row: row.id)
def test_a_powder_stands_to_the_joint_and_has_its_constants(row) -> None:  # type: ignore[no-untyped-def]
    assert row.low <= 0.1
    assert row.high >= 0.8
    assert min(row.first, row.second, row.third) > 0.0
    assert row.fat is None or 0.0 <= row.fat < 0.5


def test_the_class_of_a_bought_mix_is_the_judged_default() -> None:
    row = isotherms()[BOUGHT]
    constants = (JUDGED.monolayer, JUDGED.surface, JUDGED.multilayer)
    np.testing.assert_allclose((row.first, row.second, row.third), constants)
    assert row.fat is None
