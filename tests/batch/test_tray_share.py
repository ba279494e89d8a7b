"""How many of a tray misbehave: by hand, by brute force, and never more for wider limits."""

from __future__ import annotations

from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.batch.target import Limits, Target
from baitwright.batch.tray_share import TRAY, misfits
from baitwright.terms.quantity import unwrap
from tests.batch.kitchen import BENCH, planned

G = 1e-3
OPEN = Limits(-np.inf, np.inf)
UP = Target(alone=Limits(0.0, np.inf), rig=OPEN)
NO_RIG = np.zeros((1, 1))


def told(lift: np.ndarray, taken: np.ndarray = NO_RIG, target: Target = UP) -> np.ndarray:
    return np.asarray(misfits.function(lift, taken, target))


def test_by_hand() -> None:
    """Alike batches, middle 0.1 g, scatter 0.1 g: one in 6.3 of them lies below nothing."""
    lift = np.tile([0.0, 0.2], (8, 1)) * G
    scatter = float(np.std([0.0, 0.2], ddof=1)) * G
    below = NormalDist().cdf(-0.1 * G / scatter)
    np.testing.assert_array_equal(told(lift), np.full((8, 1), np.rint(TRAY * below)))


def test_batches_made_at_random_and_counted() -> None:
    """Middles scatter by 0.1 g, baits by 0.05 g; four of each are enough to tell trays of 50."""
    generator = np.random.default_rng(7)
    middles = generator.normal(0.08, 0.1, (4000, 1)) * G
    lift = middles + generator.normal(0.0, 0.05, (4000, 4)) * G
    trays = middles + generator.normal(0.0, 0.05, (4000, TRAY)) * G
    counted = (trays < 0.0).sum(axis=1)
    found = told(lift).ravel()
    assert found.mean() == pytest.approx(counted.mean(), abs=0.6)
    for share in (0.5, 0.75, 0.9):
        assert np.quantile(found, share) == pytest.approx(np.quantile(counted, share), abs=2.0)


def test_the_rig_narrows_the_limits() -> None:
    lift = np.tile([0.05, 0.15], (4, 1)) * G
    taken = np.full((4, 1), 0.1 * G)
    rig = Target(alone=OPEN, rig=Limits(0.0, np.inf))
    np.testing.assert_array_equal(told(lift, taken, rig), np.full((4, 1), 25.0))
    both = Target(alone=Limits(-np.inf, 0.1 * G), rig=Limits(0.0, np.inf))
    np.testing.assert_array_equal(told(lift, taken, both), np.full((4, 1), 50.0))


@given(st.floats(-0.3, 0.3), st.floats(0.0, 0.3))
def test_wider_limits_leave_fewer(low: float, more: float) -> None:
    lift = np.random.default_rng(3).normal(0.0, 0.1, (32, 4)) * G
    narrow, wide = (
        Target(alone=Limits(limit * G, np.inf), rig=OPEN) for limit in (low, low - more)
    )
    assert (told(lift, target=wide) <= told(lift, target=narrow)).all()


def test_baits_all_alike_do_it_or_do_not() -> None:
    lift = np.array([[0.1], [0.2], [-0.1]]) * G
    assert told(lift).ravel().tolist() == [0.0, 0.0, 50.0]


def test_the_plan_tells_it_beside_the_share_of_baits() -> None:
    made = planned()
    found = np.asarray(unwrap(made.water.misfits.value))
    wish = float(unwrap(made.water.wish.value))
    assert found.mean() / TRAY == pytest.approx(1.0 - wish, abs=0.03)


def test_hardly_a_hook_leaves_more_that_hold_it_up() -> None:
    hooked = planned()
    bare = planned(bench=replace(BENCH, hook=replace(BENCH.hook, mass=0.05 * G)))
    means = [np.mean(np.asarray(unwrap(one.water.misfits.value))) for one in (hooked, bare)]
    assert means[1] > means[0]
