"""Laws of the update: what one blurred batch may and may not do to a factor."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.learning.update import MEMORY, with_batches, with_one_batch
from baitwright.terms.factors import Factor

FACTORS = st.builds(
    Factor,
    key=st.just("drying"),
    about=st.just(""),
    mu=st.floats(-1, 1),
    kappa=st.floats(0.5, MEMORY),
    nu=st.floats(2.5, MEMORY),
    sigma2=st.floats(1e-4, 1.0),
    source=st.just("judgement"),
    batches=st.integers(0, 50),
)
SHARES = st.floats(0.15, 1.0)
RATIOS = st.floats(-2, 2)


@given(FACTORS, RATIOS, SHARES)
def test_the_centre_moves_toward_the_reading_and_not_past_it(
    factor: Factor, ratio: float, share: float
) -> None:
    after = with_one_batch(factor, log_ratio=ratio, share=share)
    low, high = sorted((factor.mu, ratio))
    assert low - 1e-12 <= after.mu <= high + 1e-12


@given(FACTORS, RATIOS, SHARES)
def test_the_centre_moves_as_far_as_the_exact_posterior_mean(
    factor: Factor, ratio: float, share: float
) -> None:
    """For a known spread v: gain = (v / kappa) / (v / kappa + v + blur)."""
    after = with_one_batch(factor, log_ratio=ratio, share=share)
    v = factor.sigma2
    blur = v * (1 + 1 / factor.kappa) * (1 / share - 1)
    gain = (v / factor.kappa) / (v / factor.kappa + v + blur)
    assert after.mu - factor.mu == pytest.approx(gain * (ratio - factor.mu), rel=1e-9, abs=1e-12)


@given(FACTORS, RATIOS, SHARES)
def test_a_clear_reading_moves_more_than_a_blurred_one(
    factor: Factor, ratio: float, share: float
) -> None:
    clear = with_one_batch(factor, log_ratio=ratio, share=1.0)
    blurred = with_one_batch(factor, log_ratio=ratio, share=share)
    assert abs(blurred.mu - factor.mu) <= abs(clear.mu - factor.mu) + 1e-12
    assert blurred.kappa <= clear.kappa + 1e-12


@given(FACTORS, SHARES)
def test_an_unsurprising_batch_sharpens(factor: Factor, share: float) -> None:
    after = with_one_batch(factor, log_ratio=factor.mu, share=share)
    assert after.mu == pytest.approx(factor.mu, abs=1e-12)
    assert after.scale < factor.scale
    assert after.batches == factor.batches + 1


@given(FACTORS, SHARES)
def test_a_surprising_batch_widens(factor: Factor, share: float) -> None:
    far = factor.mu + 10.0 * factor.scale / math.sqrt(share)
    assert with_one_batch(factor, log_ratio=far, share=share).sigma2 > factor.sigma2


@given(FACTORS, st.lists(RATIOS, min_size=1, max_size=60))
def test_the_memory_is_never_longer_than_twenty(factor: Factor, ratios: list[float]) -> None:
    for ratio in ratios:
        factor = with_one_batch(factor, log_ratio=ratio, share=1.0)
    assert factor.kappa <= MEMORY
    assert factor.nu <= MEMORY


@given(FACTORS, RATIOS)
def test_one_clear_batch_is_the_textbook_update(factor: Factor, ratio: float) -> None:
    seen = with_one_batch(factor, log_ratio=ratio, share=1.0)
    book = with_batches(factor, mean=ratio, variance=0.0, count=1)
    assert seen.mu == pytest.approx(book.mu, rel=1e-12, abs=1e-12)
    assert seen.sigma2 == pytest.approx(book.sigma2, rel=1e-12)
    assert (seen.kappa, seen.nu) == pytest.approx((book.kappa, book.nu))
