"""The free bait's recipe: nothing of the base is made or lost, and what is left out is named."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.materials.powders import ingredient
from baitwright.materials.tables import CONSTITUENTS, composition_of
from baitwright.recipe.base_mix import analyse
from baitwright.recipe.free_bait import (
    Matching,
    free_recipe,
    left_out,
    on_coarse,
    on_level,
    stirred_back,
)
from baitwright.recipe.model import BaseMix, FreeBait, Hardness, Part
from baitwright.terms.errors import InputError
from tests.batch.kitchen import COPPER, RECIPE

POWDERS = ("semolina", "maize-meal-coarse", "egg-biscuit", "fishmeal-65", "hemp-seed-crushed")
WEIGHTS = st.lists(st.floats(0.01, 1.0), min_size=len(POWDERS), max_size=len(POWDERS))
FREE = FreeBait(0.018, 0.5, 2.0)


def base_of(weights: list[float]) -> BaseMix:
    whole = sum(weights)
    parts = zip(POWDERS, weights, strict=True)
    return BaseMix("Any", tuple(Part(name, one / whole) for name, one in parts))


def holds(base: BaseMix) -> dict[str, float]:
    """Kilograms of each constituent in a kilogram, ingredient by ingredient."""
    rows = [(one.share, composition_of(ingredient(one.ingredient))) for one in base.parts]
    return {
        name: sum(share * row[name] / sum(row.values()) for share, row in rows)
        for name in CONSTITUENTS
    }


@given(WEIGHTS, st.floats(0.1, 20.0), st.floats(1.0, 8.0))
def test_sieved_and_free_together_are_the_base_that_was_weighed(
    weights: list[float], hookbait: float, times: float
) -> None:
    """Fine mix in the hookbaits and the coarse part in the free baits: all of it is somewhere."""
    base = base_of(weights)
    made = analyse(base, sieve="kitchen")
    sieved = hookbait / (1.0 - made.coarse_share)
    coarse = sieved - hookbait
    free = max(coarse, 1e-3) * times
    share = Matching(replace(FREE, dry_mix=free), coarse=coarse).coarse_share
    back = stirred_back(base, "kitchen", share)
    assert sum(one.share for one in back.parts) == pytest.approx(1.0, abs=1e-12)
    weighed, used = sieved + free - share * free, holds(back)
    for name, one in holds(base).items():
        fine = getattr(made.fine.make_up, name)
        assert hookbait * fine + free * used[name] == pytest.approx(weighed * one, rel=1e-9)


def test_a_free_bait_that_is_the_coarse_part_alone_has_no_fines() -> None:
    back = stirred_back(COPPER, "kitchen", 1.0)
    assert analyse(back, sieve=None).raw.make_up.protein == pytest.approx(
        analyse(COPPER, sieve="kitchen").coarse.make_up.protein
    )
    assert Matching(FREE, coarse=9.0).coarse_share == 1.0


def test_a_base_that_cannot_be_taken_apart_stays_as_it_is() -> None:
    sack = BaseMix("Sack")
    assert stirred_back(sack, "kitchen", 0.3) is sack
    assert stirred_back(COPPER, None, 0.3) is COPPER


def test_what_the_hookbaits_sieve_held_is_stirred_into_its_free_bait() -> None:
    made = free_recipe(RECIPE, Matching(FREE, coarse=0.5))
    assert made.base == stirred_back(COPPER, "kitchen", 0.25)
    assert made.base != COPPER


def test_what_the_hookbait_has_and_it_has_not_is_named() -> None:
    made = free_recipe(RECIPE, Matching(FREE, Hardness.HARD))
    assert (made.hardener, made.sieve, made.bait.core) == (None, None, None)
    assert made.bait.hardness is Hardness.HARD
    assert [one.level.amount for one in made.liquids] == [
        0.5 * one.level.amount for one in RECIPE.liquids
    ]
    assert left_out(RECIPE) == ("sieve", "hardener", "core")
    assert left_out(made) == ()


@pytest.mark.parametrize("name", ["dry_mix", "level_share", "diameter"])
def test_a_free_bait_of_nothing_is_refused(name: str) -> None:
    with pytest.raises(InputError, match=name):
        free_recipe(RECIPE, Matching(replace(FREE, **{name: 0.0})))


@pytest.mark.parametrize(("share", "told"), [(0.5, 0), (0.33, 0), (0.67, 0), (0.8, 1), (0.2, 1)])
def test_a_level_outside_the_usual_is_told(share: float, told: int) -> None:
    assert len(on_level(RECIPE, share)) == told


@pytest.mark.parametrize(
    ("coarse", "grains", "told"),
    [(0.0, 0.5, ()), (0.2, 0.1, ()), (0.2, 0.3, ("30 %",)), (2.25, 0.9, ("250 g", "90 %"))],
)
def test_too_much_of_a_coarse_part_is_told(
    coarse: float, grains: float, told: tuple[str, ...]
) -> None:
    notes = on_coarse(Matching(FREE, coarse=coarse), grains)
    assert len(notes) == len(told)
    assert all(one.text.startswith(start) for one, start in zip(notes, told, strict=True))
