"""Ratios of rates, and effects drawn together, against what statsmodels makes of the same nights.

It is a general-purpose library of statistics: generalised linear models, rates and meta-analysis.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from statsmodels.genmod.families import Poisson
from statsmodels.genmod.generalized_linear_model import GLM
from statsmodels.stats.meta_analysis import combine_effects
from statsmodels.stats.rates import test_poisson_2indep as two_rates

from baitwright.learning.pairs import Pair, Split
from baitwright.learning.pooling import Measured, SideBySide, pooled
from baitwright.learning.rate_tests import e_test
from baitwright.learning.rates import Fished

NIGHTS = (
    ((3, 11.0), (1, 11.0)),
    ((0, 9.0), (2, 10.0)),
    ((5, 12.0), (2, 9.5)),
    ((1, 8.0), (0, 8.0)),
)


def test_a_ratio_given_each_nights_total_is_that_of_a_model_with_night_effects() -> None:
    """Poisson regression with an effect of every night: its likelihood splits into both parts."""
    pairs = [Pair(Fished(*first), Fished(*second)) for first, second in NIGHTS]
    rows = [
        (night, bait, *one) for night, both in enumerate(NIGHTS) for bait, one in enumerate(both)
    ]
    night, bait, bites, hours = np.array(rows).T
    design = np.column_stack([night[:, None] == np.arange(len(NIGHTS)), bait == 0]).astype(float)
    model = GLM(bites, design, family=Poisson(), offset=np.log(hours)).fit(tol=1e-12)
    assert Split(pairs).ratio == pytest.approx(math.exp(model.params[-1]), rel=1e-6)


def test_many_baits_have_the_slopes_and_errors_of_the_same_model() -> None:
    """At the regression's own effects our slopes vanish, and our curvature is its covariance's."""
    dice, baits, nights = np.random.default_rng(11), 4, 60
    made, rows = [], []
    for night in range(nights):
        mood = dice.gamma(2.0, 1.0)
        out = dice.choice(baits, 3, replace=False)
        bites = dice.poisson(mood * np.exp(0.3 * out) * 0.8)
        made.append({int(b): Fished(int(k), 11.0) for b, k in zip(out, bites, strict=True)})
        rows += [(night, b, k) for b, k in zip(out, bites, strict=True) if bites.sum()]
    night, bait, bites = np.array(rows).T
    told = np.unique(night)
    design = np.column_stack([night[:, None] == told, bait[:, None] == np.arange(1, baits)])
    model = GLM(bites, design.astype(float), family=Poisson()).fit(tol=1e-12)
    effects = np.concatenate([[0.0], model.params[-(baits - 1) :]])
    _, slopes, curvature = SideBySide.of(made, count=baits).at(effects - effects.mean())
    assert np.allclose(slopes, 0.0, atol=1e-6)
    beside_first = np.column_stack([-np.ones(baits - 1), np.eye(baits - 1)])
    ours = beside_first @ np.linalg.inv(curvature) @ beside_first.T
    assert np.allclose(ours, model.cov_params()[-(baits - 1) :, -(baits - 1) :], rtol=1e-6)


@pytest.mark.parametrize(("first", "second"), [((12, 240.0), (6, 240.0)), ((9, 100.0), (2, 130.0))])
def test_chances_of_a_split_are_those_of_two_rates(
    first: tuple[int, float], second: tuple[int, float]
) -> None:
    """The exact conditional test, its mid-p, and the E-test."""
    one, other = Fished(*first), Fished(*second)
    split = Split([Pair(one, other)])
    asked = (first[0], first[1], second[0], second[1])
    theirs = {how: two_rates(*asked, method=how).pvalue for how in ("exact-cond", "cond-midp")}
    assert split.as_unlikely() == pytest.approx(theirs["exact-cond"], rel=1e-9)
    assert split.as_unlikely(mid=True) == pytest.approx(theirs["cond-midp"], rel=1e-9)
    e_value = two_rates(*asked, method="etest-wald", compare="diff").pvalue
    assert e_test(one, other) == pytest.approx(e_value, rel=1e-6)


def test_effects_drawn_together_have_the_middle_of_random_effects() -> None:
    """By DerSimonian and Laird's spread, which stands in the middle of ours: the same middle."""
    values, errors = np.array([0.1, 0.5, -0.2, 0.3]), np.array([0.15, 0.2, 0.1, 0.3])
    theirs = combine_effects(values, errors**2, method_re="dl")
    spread = math.sqrt(theirs.tau2)
    made = pooled(Measured(values, errors), widest=2.0 * spread)
    (at,) = np.flatnonzero(np.isclose(made.spreads, spread, rtol=1e-12))
    assert made.means[at].mean() == pytest.approx(theirs.mean_effect_re, rel=1e-6)
    # Each effect lies between its own value and that middle, by its own share of the variance.
    own = spread**2 / (spread**2 + errors**2)
    drawn = theirs.mean_effect_re + own * (values - theirs.mean_effect_re)
    assert np.allclose(made.means[at], drawn, rtol=1e-6)
