"""Laws of release: the same as the exact series, never more than there was, fat only slows."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import diags, identity
from scipy.sparse.linalg import splu

from baitwright.physics.leaching import leached_share
from baitwright.physics.release import held_in_fat, layer_remaining, shell_remaining
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


DEPTHS = st.floats(0.01, 1.0)


@given(core=CORES, reach=st.floats(0.0, 3.0))
def test_a_layer_as_thick_as_the_shell_is_the_shell(core: float, reach: float) -> None:
    shell = OUTER - core
    diffused = reach * shell**2
    left = layer_remaining(diffused, layer=shell, outer_radius=OUTER, core_radius=core)
    whole = shell_remaining(diffused, outer_radius=OUTER, core_radius=core)
    assert left == pytest.approx(float(whole), abs=JOINT)


@given(core=CORES, depth=DEPTHS, reach=st.floats(0.0, 3.0), more=st.floats(1.0, 2.0))
def test_the_nearer_the_surface_the_sooner_it_leaves(
    core: float, depth: float, reach: float, more: float
) -> None:
    shell = OUTER - core
    ball = {"outer_radius": OUTER, "core_radius": core}
    left = layer_remaining(reach * shell**2, layer=depth * shell, **ball)
    deeper = layer_remaining(reach * shell**2, layer=min(more * depth, 1.0) * shell, **ball)
    assert -JOINT <= left <= deeper + JOINT <= 1.0 + 2.0 * JOINT


@given(core=CORES, depth=DEPTHS)
def test_of_a_layer_less_is_left_later(core: float, depth: float) -> None:
    shell = OUTER - core
    times = np.linspace(0.0, 1.0, 200) * shell**2
    left = layer_remaining(times, layer=depth * shell, outer_radius=OUTER, core_radius=core)
    assert left[0] == pytest.approx(1.0, abs=1e-12)
    assert np.all(np.diff(left) < JOINT)


@pytest.mark.parametrize("depth", [0.1, 0.5, 0.9])
@pytest.mark.parametrize("reach", [0.005, 0.05, 0.3])
@pytest.mark.parametrize("core", [0.0, 4.5e-3])
def test_a_layer_by_finite_volumes(core: float, reach: float, depth: float) -> None:
    shell = OUTER - core
    left = layer_remaining(
        reach * shell**2, layer=depth * shell, outer_radius=OUTER, core_radius=core
    )
    assert left == pytest.approx(by_volumes(core, reach * shell**2, depth * shell), abs=2e-6)


def by_volumes(core: float, diffused: float, layer: float) -> float:
    """The same by Crank and Nicolson on 2,000 shells, damped at first for the edge of the layer."""
    edges = np.linspace(core, OUTER, 2001)
    rooms = np.diff(edges**3) / 3.0
    held = np.clip(np.diff(np.maximum(edges, OUTER - layer) ** 3) / 3.0, 0.0, None) / rooms
    step = edges[1] - edges[0]
    ways = edges[1:] ** 2 / step
    ways[-1] *= 2.0  # from the middle of the outermost shell to its surface
    loss = np.concatenate(([0.0], ways[:-1])) + ways
    moves = diags(
        [ways[:-1] / rooms[1:], -loss / rooms, ways[:-1] / rooms[:-1]], [-1, 0, 1], format="csc"
    )
    count = 1000
    half = splu(identity(rooms.size, format="csc") - 0.5 * diffused / count * moves)
    for _ in range(2):
        held = half.solve(held)
    for _ in range(count - 1):
        held = half.solve(held + 0.5 * diffused / count * (moves @ held))
    return float((held * rooms).sum() / ((OUTER**3 - (OUTER - layer) ** 3) / 3.0))


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
        layer_remaining(1.0, layer=1.01 * OUTER, outer_radius=OUTER)
    with pytest.raises(RangeError):
        layer_remaining(1.0, layer=0.0, outer_radius=OUTER)
    with pytest.raises(RangeError):
        held_in_fat(-1.0, fat=0.1, water=0.5)
    with pytest.raises(RangeError):
        held_in_fat(1.0, fat=0.1, water=0.0)
