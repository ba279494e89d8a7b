"""Weight gained in water: one run for every pace, against the plan's own soak at that pace."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from baitwright.batch.soak import Lake, soak
from baitwright.batch.soak_gain import gains_by_pace
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.recipe.model import Recipe
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import RECIPE, planned, with_bait

TINY = Draws(batches=16, baits=2)
TAP = 291.15
PACES = np.array([0.1, 0.4, 1.0, 3.0, 12.0])
TIMES = (3600.0, 12 * 3600.0, 48 * 3600.0)


@pytest.mark.parametrize("recipe", [RECIPE, with_bait(core=None)], ids=["on a core", "solid"])
def test_a_run_stretched_is_the_run_at_that_pace(recipe: Recipe) -> None:
    """The plan's soak, solved at each pace by itself, to a thousandth of the bait's weight."""
    made, usual = planned(recipe, draws=TINY), prior_factors()
    dried = made.dry.bait
    gains = gains_by_pace(dried, TAP, times=TIMES, paces=PACES, unknowns=Unknowns(TINY, usual))
    before = np.asarray(unwrap(dried.mass.value))
    for at, pace in enumerate(PACES):
        known = replace(usual.find("soak"), mu=math.log(pace), sigma2=0.0)
        others = tuple(one for one in usual.factors if one.key != "soak")
        unknowns = Unknowns(TINY, replace(usual, factors=(*others, known)))
        for row, time in enumerate(TIMES):
            lake = Lake(TAP, time, made.water.hook, "wafter")
            after = unwrap(soak(dried, lake, unknowns=unknowns).bait.mass.value)
            assert gains[row, at] == pytest.approx(after / before - 1.0, abs=1.5e-3)


def test_more_is_gained_the_longer_and_the_faster() -> None:
    made = planned(RECIPE, draws=TINY)
    gains = gains_by_pace(
        made.dry.bait,
        TAP,
        times=(3600.0, 4 * 3600.0, 10 * 3600.0),
        paces=PACES,
        unknowns=Unknowns(TINY, prior_factors()),
    ).mean(axis=(2, 3))
    assert np.all(np.diff(gains[:, :4], axis=0) > 0.0)
    assert np.all(np.diff(gains, axis=1) > 0.0)
