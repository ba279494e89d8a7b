"""The update of a factor against a textbook's worked example and a recomputed figure."""

from __future__ import annotations

import math
from statistics import fmean, variance

import numpy as np
import pytest
from scipy import stats

from baitwright.learning.score import score
from baitwright.learning.update import MEMORY, with_batches, with_one_batch
from baitwright.terms.evidence import Evidence
from baitwright.terms.factors import Factor
from baitwright.terms.quantity import Origin, PerBatch, Quantity
from baitwright.uncertainty.draws import Draws

pytestmark = pytest.mark.published

MIDGES = (1.64, 1.70, 1.72, 1.74, 1.82, 1.82, 1.82, 1.90, 2.08)
BEFORE = Factor("wing", "", mu=1.9, kappa=1.0, nu=1.0, sigma2=0.01, source="hoff-2009")


def after_midges() -> Factor:
    return with_batches(BEFORE, mean=fmean(MIDGES), variance=variance(MIDGES), count=len(MIDGES))


def test_the_midges_of_the_textbook() -> None:
    """hoff-2009, section 5.3: nine wing lengths in mm; printed to 1e-3, recomputed to 1e-5."""
    after = after_midges()
    assert fmean(MIDGES) == pytest.approx(1.8044, abs=5e-5)
    assert variance(MIDGES) == pytest.approx(0.016878, abs=1e-6)
    assert (after.kappa, after.nu) == (10.0, 10.0)
    assert after.mu == pytest.approx(1.814, abs=1e-5)
    assert after.sigma2 == pytest.approx(0.015324, abs=1e-5)
    assert after.nu / 2 == 5.0
    assert after.nu * after.sigma2 / 2 == pytest.approx(0.07662, abs=1e-5)


def test_the_midges_interval() -> None:
    """hoff-2009, section 5.3: the mean lies in 1.727 to 1.901 mm in 19 cases of 20 (t, 10)."""
    after = after_midges()
    ends = stats.t.interval(0.95, after.nu, after.mu, math.sqrt(after.sigma2 / after.kappa))
    assert ends == pytest.approx((1.727, 1.901), abs=5e-4)


def test_the_midges_one_after_another() -> None:
    """hoff-2009, section 5.3: a conjugate update does not mind the order; arithmetic only."""
    one_by_one = BEFORE
    for wing in MIDGES:
        one_by_one = with_one_batch(one_by_one, log_ratio=wing, share=1.0)
    together = after_midges()
    assert one_by_one.mu == pytest.approx(together.mu, rel=1e-12)
    assert one_by_one.sigma2 == pytest.approx(together.sigma2, rel=1e-12)
    assert one_by_one.batches == together.batches == len(MIDGES)


def test_five_batches_move_a_full_memory_a_fifth_of_the_way() -> None:
    """Recomputed: with a memory of 20, five batches of +15 % move a factor 22 % of the way."""
    factor = Factor("dry_mix_per_egg", "", 0.0, MEMORY, MEMORY, 0.01, "judgement")
    for _ in range(5):
        factor = with_one_batch(factor, log_ratio=math.log(1.15), share=1.0)
    assert factor.kappa == factor.nu == MEMORY
    assert factor.mu / math.log(1.15) == pytest.approx(0.22, abs=0.005)


def test_the_next_batch_is_predicted_as_student_says() -> None:
    """hoff-2009, section 5.3, next observation: t with scale sigma sqrt(1 + 1 / kappa).

    Against scipy's quantiles; 20,000 draws hold a percentile to about half of one.
    """
    after = after_midges()
    draws = Draws(batches=20_000)
    values = draws.student_log("wing", mu=after.mu, scale=after.scale, nu=after.nu)
    predicted = Quantity(
        name="wing",
        label="wing",
        value=PerBatch(np.log(values.values)),
        unit="m",
        shown="mm",
        origin=Origin.FACTOR,
        source="hoff-2009",
        evidence=Evidence.MEASURED,
    )
    for probability in (0.1, 0.25, 0.5, 0.75, 0.9):
        reading = stats.t.ppf(probability, after.nu, after.mu, after.scale)
        assert score(predicted, reading).percentile == pytest.approx(probability, abs=0.01)
