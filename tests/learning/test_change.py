"""Sums of surprises: scores as rare as they say, and run lengths as published."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from baitwright.learning.change import (
    LIMIT,
    ONE_FALSE_IN,
    SLACK,
    changes,
    standard_score,
)


def run_length(shift: float, *, limit: float, slack: float = SLACK, cells: int = 400) -> float:
    """Batches until one sum passes its limit, in the mean, by a chain of cells (Brook, Evans)."""
    edges = np.linspace(0.0, limit, cells + 1)
    middles = np.concatenate([[0.0], 0.5 * (edges[1:-1] + edges[2:])])
    below = stats.norm.cdf(edges[1:][None, :] - middles[:, None] + slack - shift)
    moves = np.diff(below, axis=1, prepend=0.0)
    return float(np.linalg.solve(np.eye(cells) - moves, np.ones(cells))[0])


@pytest.mark.parametrize(
    ("limit", "shift", "published"),
    [(4.0, 0.0, 336.0), (4.0, 1.0, 8.38), (5.0, 0.0, 930.0), (5.0, 1.0, 10.4)],
)
def test_the_chain_has_the_handbooks_run_lengths(
    limit: float, shift: float, published: float
) -> None:
    """NIST handbook, section 6.3.2.3: one-sided, slack 0.5, as printed to three figures."""
    assert run_length(shift, limit=limit) == pytest.approx(published, rel=5e-3)


def test_false_alarms_come_at_the_stated_rate() -> None:
    """Scores of a steady kitchen by dice; an alarm in a hundred is told to 4 % (two errors)."""
    told = changes(np.random.default_rng(5).standard_normal(300_000).tolist())
    assert 300_000 / len(told) == pytest.approx(ONE_FALSE_IN, rel=0.04)
    # Of these the endless sums alone, each by the chain; neither is high while the other is.
    assert run_length(0.0, limit=LIMIT) / 2.0 == pytest.approx(168.0, rel=0.005)


def test_sums_are_those_worked_out_by_hand() -> None:
    told = changes([0.3, 2.0, 2.0, 2.0, 0.0, -4.7])
    # up: 0, 1.5, 3.0, 4.5 is above 4 at the fourth; then anew, and 4.2 the other way.
    assert [(one.told, one.began, one.goes_up) for one in told] == [(3, 1, True), (5, 5, False)]


def test_the_last_five_together_are_told_as_well() -> None:
    """Five of 1.12 come to 5.6, above 5.45, where the sum since they began is only at 3.1."""
    told = changes([-0.5, -1.12, -1.12, -1.12, -1.12, -1.12, 0.0])
    assert [(one.told, one.began, one.goes_up) for one in told] == [(5, 1, False)]
    assert changes([1.12, 1.12, 1.12, 1.12, -0.9] * 2) == ()


def best_power(scatter: float, *, before: float) -> float:
    """How often the best of all tests would tell a rise of 15 % by its first five batches.

    It knows the scatter, the batch from which on and the size, and has seen so many batches before;
    it may call one steady kitchen in twenty changed in five batches, as one false alarm in a
    hundred batches allows, half of them upwards. By Neyman and Pearson none does better.
    """
    spread = scatter * math.sqrt(1.0 / 5.0 + 1.0 / before)
    return float(stats.norm.sf(stats.norm.isf(0.025) - math.log(1.15) / spread))


def test_no_test_tells_15_per_cent_at_10_per_cent_scatter_as_often_as_19_in_20() -> None:
    """Ten batches, and the one that the table is worth: 74 %; all ever known before: 88 %."""
    assert best_power(0.10, before=11.0) == pytest.approx(0.736, abs=5e-4)
    assert best_power(0.10, before=math.inf) == pytest.approx(0.878, abs=5e-4)
    assert best_power(0.05, before=11.0) > 0.999


@pytest.mark.parametrize("nu", [4.0, 7.5, 20.0])
def test_scores_are_as_rare_as_a_student_t(nu: float) -> None:
    for t in (-4.0, -1.0, -0.2, 0.0, 0.5, 2.0, 4.0, 6.0):
        exact = stats.norm.isf(stats.t.sf(t, nu))
        assert standard_score(t, scale=1.0, nu=nu) == pytest.approx(exact, abs=0.03)
