"""Intervals, factors and baits drawn together, against the same worked out over scipy alone.

Each peer is the textbook's integral or likelihood in general-purpose code: it shares none of ours.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import integrate, optimize, stats

from baitwright.learning.capability import capability
from baitwright.learning.gauge import gauge_study
from baitwright.learning.pooling import Measured, SideBySide, pooled
from baitwright.learning.rates import Fished, chance_greater, dispersion_of, rate_after
from baitwright.learning.trials import power_of
from baitwright.learning.update import with_batches
from baitwright.materials.factors import prior_factors
from benchmarks.learning import BAITS, EQUAL, apart, by_scipy, invented_nights


def test_many_baits_as_scipys_optimiser_finds_them() -> None:
    nights = invented_nights(400)
    assert apart(pooled(SideBySide.of(nights, count=BAITS)), by_scipy(nights)) < 2.0 * EQUAL


def test_a_spread_is_integrated_as_scipy_integrates_it() -> None:
    """Three measured effects: the mean spread by quadrature over the exact marginal."""
    values, errors = np.array([0.1, 0.5, -0.2]), np.array([0.15, 0.2, 0.1])

    def likely(spread: float) -> float:
        varied = spread**2 + errors**2
        middle = (values / varied).sum() / (1.0 / varied).sum()
        off = ((values - middle) ** 2 / varied).sum()
        return math.exp(-0.5 * off) / math.sqrt(varied.prod() * (1.0 / varied).sum())

    whole, _ = integrate.quad(likely, 0.0, 1.5)
    mean, _ = integrate.quad(lambda spread: spread * likely(spread), 0.0, 1.5)
    assert pooled(Measured(values, errors)).spread == pytest.approx(mean / whole, rel=1e-3)


@pytest.mark.parametrize(("first", "second"), [((12, 120.0), (6, 120.0)), ((0, 40.0), (3, 90.0))])
def test_a_chance_is_the_integral_over_both_rates(
    first: tuple[int, float], second: tuple[int, float]
) -> None:
    one, other = (rate_after(Fished(*each)) for each in (first, second))
    its, others = (stats.gamma(each.shape, scale=1.0 / each.hours) for each in (one, other))
    top = its.ppf(1.0 - 1e-13)
    # The root of a rate has no peak at nothing, where that of a blank's rate has no end.
    whole, _ = integrate.quad(
        lambda root: 2.0 * root * its.pdf(root**2) * others.cdf(root**2), 0.0, math.sqrt(top)
    )
    assert chance_greater(one, other) == pytest.approx(whole, abs=1e-8)


def test_scatter_is_pearsons_chi_squared() -> None:
    bites = np.array([3, 0, 2, 7, 1, 0, 4])
    hours = np.array([12.0, 10.0, 12.0, 14.0, 9.0, 12.0, 11.0])
    expected = bites.sum() * hours / hours.sum()
    peer = stats.chisquare(bites, expected)
    nights = [Fished(int(k), float(t)) for k, t in zip(bites, hours, strict=True)]
    made = dispersion_of([nights])
    assert made.ratio * made.degrees == pytest.approx(peer.statistic, rel=1e-12)
    assert made.chance == pytest.approx(peer.pvalue, rel=1e-9)


def test_a_factors_middle_maximises_its_own_posterior() -> None:
    """Centre and spread that scipy finds where prior times likelihood is highest."""
    prior = prior_factors().find("paste_density")
    logs = np.random.default_rng(7).normal(0.03, 0.02, 6)
    after = with_batches(prior, mean=logs.mean(), variance=logs.var(ddof=1), count=len(logs))

    def unlikely(at: np.ndarray) -> float:
        mu, sigma = at[0], math.exp(at[1])
        of_mu = stats.norm.logpdf(mu, prior.mu, sigma / math.sqrt(prior.kappa))
        shape, scale = 0.5 * prior.nu, 0.5 * prior.nu * prior.sigma2
        of_sigma = stats.invgamma.logpdf(sigma**2, shape, scale=scale)
        return -float(of_mu + of_sigma + stats.norm.logpdf(logs, mu, sigma).sum())

    found = optimize.minimize(
        unlikely,
        np.array([0.0, math.log(0.02)]),
        method="Nelder-Mead",
        options={"xatol": 1e-10, "fatol": 1e-12, "maxiter": 4000},
    )
    highest = after.nu * after.sigma2 / (after.nu + 3.0)  # of its variance, centre and all
    assert found.x[0] == pytest.approx(after.mu, abs=1e-7)
    assert math.exp(2.0 * found.x[1]) == pytest.approx(highest, rel=1e-5)


def test_power_is_the_sum_over_both_baits_bites() -> None:
    first, second = 24.0, 12.0
    bites = np.arange(90)
    one, other = (stats.poisson.pmf(bites, mean) for mean in (first, second))
    fewer, total = np.minimum.outer(bites, bites), np.add.outer(bites, bites)
    shows = 2.0 * stats.binom.cdf(fewer, total, 0.5) <= 0.05
    shown = (np.outer(one, other) * shows).sum()
    assert power_of(first, second) == pytest.approx(shown, rel=1e-6)


def test_capability_and_a_gauge_by_numpy_and_scipy() -> None:
    random = np.random.default_rng(3)
    values = random.normal(15.0, 0.2, 40)
    made = capability(values.tolist(), low=14.5, high=15.5)
    assert made.cp == pytest.approx(1.0 / (6.0 * values.std(ddof=1)), rel=1e-12)
    table = random.normal(0.0, 1.0, (8, 1, 1)) + random.normal(0.0, 0.1, (8, 1, 4))
    study = gauge_study(table)
    within = stats.f_oneway(*table[:, 0, :]).statistic
    assert study.repeat == pytest.approx(table[:, 0, :].var(axis=1, ddof=1).mean(), rel=1e-9)
    assert 1.0 + 4.0 * study.thing / study.repeat == pytest.approx(within, rel=1e-9)
