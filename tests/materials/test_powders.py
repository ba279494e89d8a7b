"""Ingredients: what a batch holds and what is true of every row."""

from __future__ import annotations

import pytest

from baitwright.materials.powders import (
    ROLES,
    Ingredient,
    allergens,
    allergens_in,
    gross_energy,
    ingredient,
    ingredients,
)
from baitwright.terms.errors import InputError

EVERY = pytest.mark.parametrize("row", ingredients().values(), ids=lambda row: row.id)


@EVERY
def test_allergens_are_groups_of_the_law(row: Ingredient) -> None:
    assert row.contains | row.may_contain <= allergens().keys()
    assert not row.contains & row.may_contain
    wheaty = "cereals-with-gluten" in row.contains | row.may_contain
    assert bool(row.gluten_cereals) is wheaty
    assert set(row.gluten_cereals) <= {"wheat", "rye", "barley", "oats"}


@EVERY
def test_a_density_is_one_of_a_solid_or_liquid(row: Ingredient) -> None:
    assert 100.0 < row.density < 3000.0
    if row.bulk_density is not None and row.role not in {"liquid", "oil"}:
        assert row.bulk_density < row.density


@EVERY
def test_hazards_are_backed(row: Ingredient) -> None:
    if row.dust_sensitiser or row.pet_hazard:
        assert row.hazard_evidence in {"read", "memory"}


def test_every_role_has_an_ingredient() -> None:
    assert {row.role for row in ingredients().values()} == set(ROLES)


def test_a_given_density_wins() -> None:
    cork, flour = ingredient("cork-granules"), ingredient("wheat-flour")
    assert cork.density == pytest.approx(160.0)
    assert cork.composition_density > 1000.0
    assert flour.given_density is None
    assert flour.density == flour.composition_density


def test_allergens_of_a_batch_follow_the_law() -> None:
    parts = [ingredient(name) for name in ("acid-casein", "breadcrumb", "egg-albumen")]
    contains, may_contain = allergens_in(parts)
    assert [group.id for group in contains] == ["cereals-with-gluten", "eggs", "milk"]
    assert [group.id for group in may_contain] == ["soybeans"]
    assert allergens_in([]) == ((), ())


def test_certain_wins_over_possible() -> None:
    _, possible = allergens_in([ingredient("breadcrumb")])
    assert "milk" in {group.id for group in possible}
    contains, possible = allergens_in([ingredient("breadcrumb"), ingredient("whey-powder")])
    assert "milk" in {group.id for group in contains}
    assert "milk" not in {group.id for group in possible}


def test_energy_needs_something_that_burns() -> None:
    assert gross_energy(ingredient("water")) == 0.0
    assert gross_energy(ingredient("sunflower-oil")) == pytest.approx(39.5e6)


def test_a_missing_figure_is_not_zero() -> None:
    assert ingredient("soya-protein-isolate").bulk_density is None
    assert ingredient("wheat-bran").water_holding is None


def test_a_wrong_name_is_refused() -> None:
    with pytest.raises(InputError, match="fishmeal-65"):
        ingredient("fishmeal")
