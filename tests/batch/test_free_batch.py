"""Kilograms of free bait: everything that goes by weight scales, lots and loads are whole."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.free_batch import FreeBatch, free_batch, given_off, water_share
from baitwright.batch.match import Hookbait, MatchStage, match_free_bait
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.recipe.free_bait import Matching, free_recipe
from baitwright.recipe.model import FreeBait
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.terms.quantity import given as stated
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import RECIPE, planned

TINY = Draws(batches=16, baits=2)
UNKNOWNS = Unknowns(TINY, prior_factors())


def values(quantity: Quantity) -> Any:
    return np.asarray(unwrap(quantity.value))


def free_plan() -> BatchPlan:
    return planned(free_recipe(RECIPE, Matching(FreeBait(0.018, 0.5, 2.0))), draws=TINY)


def made(kilos: float, mixer: float | None = None) -> tuple[MatchStage, FreeBatch]:
    plan = planned(draws=TINY)
    stages = Hookbait(plan.eggs, plan.doses, plan.mix, free_plan().rolled)
    match = match_free_bait(FreeBait(0.018, 0.5, kilos), stages, unknowns=UNKNOWNS)
    return match, free_batch(match, free_plan(), unknowns=UNKNOWNS, mixer=mixer)


@settings(max_examples=20)
@given(st.floats(0.5, 20.0), st.floats(1.5, 10.0))
def test_litres_baits_and_hours_scale_with_kilograms(kilos: float, times: float) -> None:
    (one, little), (other, much) = made(kilos), made(kilos * times)
    for name in ("room", "bagged"):
        np.testing.assert_allclose(
            values(getattr(much, name)), times * values(getattr(little, name)), rtol=1e-9
        )
    np.testing.assert_allclose(values(other.eggs), times * values(one.eggs), rtol=1e-9)
    assert median_of(much.loads) >= median_of(little.loads)


@settings(max_examples=20)
@given(st.floats(0.5, 20.0), st.floats(0.3, 6.0))
def test_lots_in_the_mixer_hold_the_paste_and_none_is_spare(kilos: float, mixer: float) -> None:
    match, batch = made(kilos, mixer)
    paste, lots = median_of(match.paste), median_of(batch.lots)
    assert lots == math.floor(lots)
    assert (lots - 1) * mixer < paste <= lots * mixer * (1 + 1e-9)


def test_base_and_coarse_part_are_the_dry_mix() -> None:
    match, batch = made(5.0)
    assert median_of(match.coarse) > 0.0
    np.testing.assert_allclose(values(batch.raw) + values(match.coarse), 5.0)


def test_baits_fill_less_than_the_bag_and_weigh_no_more_than_their_paste() -> None:
    match, batch = made(5.0)
    density = median_of(batch.bagged) / median_of(batch.room)
    assert 500.0 < density < 0.7 * 1300.0  # kg of baits in a m3 of bag
    assert median_of(batch.bagged) < median_of(match.paste)
    assert 0.0 < median_of(water_share(free_plan())) < 0.5


@given(st.floats(0.0, 1.0), st.floats(1e-7, 1e-2))
def test_what_is_left_and_what_was_given_off_are_the_level(left: float, level: float) -> None:
    told = {"level": stated("a", level, label="a"), "left": stated("b", left, label="b")}
    off = float(unwrap(given_off(**told).value))
    assert off + left * level == pytest.approx(level)
