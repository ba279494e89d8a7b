"""Laws of release: the same as the exact series, never more than there was, fat only slows."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.leaching import leached_share
from baitwright.physics.release import held_in_fat, shell_remaining
from baitwright.physics.series import sphere_series
from baitwright.terms.errors import RangeError

OUTER = 8e-3
CORES = st.floats(0.0, 0.98 * OUTER)
# The short-time form and the series meet within one part in a million where one hands over.
JOINT = 2e-6


@given(core=CORES, reach=st.floats(0.0, 3.0))
def test_it_is_the_exact_series(core: float, reach: float) -> None:
    diffused = reach * (OUTER - core) ** 2
    left = shell_remaining(diffused, outer_radius=OUTER, core_radius=core)
    exact = sphere_series(OUTER, core, terms=400).mean(diffused)
    assert left == pytest.approx(float(exact), abs=2e-3 if reach < 1e-4 else JOINT)
    gone = leached_share(diffused, outer_radius=OUTER, core_radius=core)
    assert left == pytest.approx(1.0 - float(gone), abs=1e-9)


@given(core=CORES)
def test_less_is_left_later_and_never_less_than_none(core: float) -> None:
    times = np.linspace(0.0, 3.0, 200)[:, None] * (OUTER - core) ** 2
    left = shell_remaining(times, outer_radius=np.array([OUTER]), core_radius=np.array([core]))
    assert left.shape == (200, 1)
    assert left[0] == 1.0
    assert np.all(np.diff(left, axis=0) < JOINT)
    assert np.all(left > 0.0)


def test_many_balls_at_many_times_as_each_alone() -> None:
    outer, core = np.array([7e-3, 8e-3, 9e-3]), np.array([0.0, 4e-3, 5e-3])
    times = np.array([[1e-8], [1e-6], [1e-5]])
    together = shell_remaining(times, outer_radius=outer, core_radius=core)
    alone = [
        [
            float(shell_remaining(time, outer_radius=ball, core_radius=inner))
            for ball, inner in zip(outer, core, strict=True)
        ]
        for time in times.ravel()
    ]
    np.testing.assert_allclose(together, alone, rtol=1e-12)


@given(partition=st.floats(0.0, 1e4), fat=st.floats(0.0, 0.5), water=st.floats(0.05, 0.9))
def test_fat_only_slows(partition: float, fat: float, water: float) -> None:
    slowed = held_in_fat(partition, fat=fat, water=water)
    assert slowed >= 1.0
    assert held_in_fat(partition, fat=fat, water=0.5 * water) >= slowed
    assert held_in_fat(0.0, fat=fat, water=water) == 1.0


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(RangeError):
        shell_remaining(-1.0, outer_radius=OUTER)
    with pytest.raises(RangeError):
        shell_remaining(1.0, outer_radius=OUTER, core_radius=OUTER)
    with pytest.raises(RangeError):
        held_in_fat(-1.0, fat=0.1, water=0.5)
    with pytest.raises(RangeError):
        held_in_fat(1.0, fat=0.1, water=0.0)
