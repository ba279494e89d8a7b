"""Liquids and size for cold water: carriers, poured oil, levels within what is usual."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.recipe.cold import cold_carriers, cold_levels, cold_size, less_oil
from baitwright.recipe.dosing import Judged, per_egg, usual_range
from baitwright.recipe.levels import Bridge, read_level, times
from baitwright.recipe.liquid import Liquid, Purpose
from baitwright.recipe.model import Recipe
from tests.batch.kitchen import CARAWAY, MALT, RECIPE, with_bait

EGG = Bridge(egg_volume=50e-6, egg_mass=0.0515, dry_mix=0.08)
LAKES = ("5 °C", "18 °C")
PLUM = replace(MALT, name="Plum", carrier="vegetable-oil", density=930.0)
HEMP = replace(PLUM, name="Hemp oil", level=read_level("25 ml per kg dry mix", "level"))


def with_liquids(*liquids: Liquid) -> Recipe:
    return replace(RECIPE, liquids=liquids)


def test_a_flavour_in_oil_is_asked_for_in_glycol_and_an_oil_is_not() -> None:
    counted = replace(
        PLUM, name="Fig", level=read_level("9 drops per kg dry mix", "level"), drops_per_volume=3e7
    )
    made = cold_carriers(with_liquids(MALT, PLUM, HEMP, CARAWAY, counted))
    carriers = [one.carrier for one in made.recipe.liquids]
    assert carriers == [
        *("propylene-glycol", "propylene-glycol", "vegetable-oil"),
        *("essential-oil", "vegetable-oil"),
    ]
    assert made.recipe.liquids[1].density is None
    assert [one.about for one in made.turns] == ["carrier of Plum"]
    assert [one.split(":")[0] for one in made.left] == [
        f"The carrier of {name}" for name in ("Hemp oil", "Caraway", "Fig")
    ]


def test_oil_is_poured_by_the_kilogram_of_mix() -> None:
    by_egg = replace(HEMP, name="Oil", level=read_level("2 ml per egg of 50 ml", "level"))
    little = replace(HEMP, name="Poppy oil", level=read_level("8 g per kg dry mix", "level"))
    made = less_oil(with_liquids(HEMP, by_egg, little, PLUM), EGG)
    texts = [one.level.text for one in made.recipe.liquids]
    assert texts == [
        *("10 ml per kg dry mix", "0.8 ml per egg of 50 ml", "8 g per kg dry mix"),
        PLUM.level.text,
    ]
    assert len(made.turns) == 2


@given(st.floats(0.2, 30.0), st.floats(0.01, 3.0))
def test_a_level_rises_no_further_than_usual_and_never_falls(rise: float, amount: float) -> None:
    malt = replace(MALT, level=read_level(f"{amount:.3f} ml per egg of 50 ml", "level"))
    made = cold_levels(with_liquids(malt), {"Malt": rise}, EGG, lakes=LAKES)
    before, after = (per_egg(one.level, EGG) for one in (malt, made.recipe.liquids[0]))
    _, most = usual_range(Judged("Malt", malt.level, malt.strength), "hookbait", EGG)
    assert after >= before
    assert after <= max(before, most) * 1.05  # two digits
    assert after <= before * max(rise, 1.0) * 1.05
    assert len(made.turns) + len(made.left) == 1


def test_a_level_that_is_held_back_says_what_it_would_have_to_be_and_why_it_is_not() -> None:
    (turn,) = cold_levels(with_liquids(MALT), {"Malt": 9.0}, EGG, lakes=LAKES).turns
    assert "900 % of it would give a lake of 5 °C as much as it gave one of 18 °C" in turn.why
    assert "; held to what is usual" in turn.why


@pytest.mark.parametrize(
    ("liquid", "said"),
    [
        (replace(MALT, purpose=Purpose.DYE), "label"),
        (replace(MALT, limit=MALT.level), "its own maker"),
        (HEMP, "no more of an oil"),
    ],
)
def test_levels_that_stay_say_why(liquid: Liquid, said: str) -> None:
    made = cold_levels(with_liquids(liquid), {liquid.name: 1.4}, EGG, lakes=LAKES)
    assert made.recipe.liquids == (liquid,)
    assert said in made.left[0]


@pytest.mark.parametrize(
    ("text", "factor", "told"),
    [
        ("0.8 ml per egg of 50 ml", 1.5, "1.2 ml per egg of 50 ml"),
        ("0,8 % of paste", 0.5, "0.4 % of paste"),
        ("1/2 tsp per egg of 50 ml", 2.0, "1 tsp per egg of 50 ml"),
        ("12 drops per kg dry mix", 1.25, "15 drops per kg dry mix"),
    ],
)
def test_a_level_is_told_in_its_own_words(text: str, factor: float, told: str) -> None:
    made = times(read_level(text, "level"), factor)
    assert made.text == told
    assert made.amount == pytest.approx(factor * read_level(text, "level").amount)


def test_a_bait_without_a_core_is_made_smaller_with_its_free_bait() -> None:
    made = cold_size(with_bait(core=None, diameter=0.020)).recipe
    assert made.bait.diameter == pytest.approx(0.016)
    assert made.free_bait is not None
    assert made.free_bait.diameter == pytest.approx(0.014)
    assert cold_size(RECIPE).recipe is RECIPE
    small = with_bait(core=None, diameter=0.010)
    assert cold_size(small).recipe is small
