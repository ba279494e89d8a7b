"""Where the next value of a steady kitchen should lie, by the few it has told."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from baitwright.learning.as_usual import STEADY, WORTH, as_usual
from baitwright.terms.errors import InputError


def test_many_values_lead_to_the_t_interval_of_their_own() -> None:
    """With as many as the memory holds the prior has a share of 4 in 24, as worked out by hand."""
    logs = np.random.default_rng(1).normal(3.5, 0.02, 16)
    band = as_usual(list(np.exp(logs)), name="bait", unit="g")
    squares = WORTH * STEADY**2 + 15 * logs.var(ddof=1)
    scale = math.sqrt(squares / 20.0 * (1.0 + 1.0 / 16.0))
    low, high = stats.t.interval(0.95, 20.0, logs.mean(), scale)
    assert (band.low95, band.high95) == pytest.approx((math.exp(low), math.exp(high)), rel=1e-6)


def test_one_value_alone_leaves_room() -> None:
    band = as_usual([33.0], name="bait", unit="g")
    assert band.median == pytest.approx(33.0)
    assert 0.80 < band.low95 / 33.0 < 0.90


@pytest.mark.parametrize("values", [[], [33.0, 0.0]])
def test_values_that_cannot_be(values: list[float]) -> None:
    with pytest.raises(InputError):
        as_usual(values, name="bait", unit="g")
