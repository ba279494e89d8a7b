"""Grains of a mix with a coarse part stirred back in: those of the base, and all of the part."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.blending.analysis import analyse_mix
from baitwright.blending.bases import Bowl, egg_of_bowl
from baitwright.blending.components import MixTold
from baitwright.blending.stirred_back import with_coarse
from baitwright.recipe.free_bait import stirred_back
from baitwright.terms.quantity import given as stated
from baitwright.uncertainty.bands import median_of
from tests.batch.kitchen import COPPER

BOWL = Bowl(
    egg_of_bowl(mass=stated("a", 0.0515, label="egg"), eggs=stated("b", 1.0, label="eggs")),
    stated("c", 0.08, label="dry mix"),
)


def grains(share: float) -> float:
    base = stirred_back(COPPER, "kitchen", share)
    return median_of(with_coarse(analyse_mix(MixTold(base), BOWL, None), COPPER, share).grains)


@given(st.floats(0.0, 1.0))
def test_grains_lie_between_those_of_the_base_and_of_the_part(share: float) -> None:
    raw = median_of(analyse_mix(MixTold(COPPER), BOWL, None).grains)
    assert grains(0.0) == pytest.approx(raw)
    assert grains(1.0) == pytest.approx(1.0)
    assert grains(share) == pytest.approx(raw + share * (1.0 - raw))
