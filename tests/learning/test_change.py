"""Sums of surprises: scores as rare as they say, and run lengths as published."""

from __future__ import annotations

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
    """Two sums, each by the chain; neither can be high while the other is."""
    assert run_length(0.0, limit=LIMIT) / 2.0 == pytest.approx(ONE_FALSE_IN, rel=0.02)


def test_sums_are_those_worked_out_by_hand() -> None:
    told = changes([0.3, 2.0, 1.8, 1.4, 0.0, -4.2])
    # up: 0, 1.5, 2.8, 3.7 is above 3.5 at the fourth; then anew, and 3.7 the other way.
    assert [(one.told, one.began, one.goes_up) for one in told] == [(3, 1, True), (5, 5, False)]


@pytest.mark.parametrize("nu", [4.0, 7.5, 20.0])
def test_scores_are_as_rare_as_a_student_t(nu: float) -> None:
    for t in (-4.0, -1.0, -0.2, 0.0, 0.5, 2.0, 4.0, 6.0):
        exact = stats.norm.isf(stats.t.sf(t, nu))
        assert standard_score(t, scale=1.0, nu=nu) == pytest.approx(exact, abs=0.03)
