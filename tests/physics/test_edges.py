"""Where one way of computing ends and the next begins: both must be met there."""

from __future__ import annotations

import numpy as np
import pytest

from baitwright.physics import compiled
from baitwright.physics.compiled import Backend
from baitwright.physics.leaching import leached_share
from baitwright.physics.modes import Layers, find_modes
from baitwright.physics.radial import (
    ExponentialLaw,
    How,
    Medium,
    Method,
    Sphere,
    Stretch,
    transport,
)
from baitwright.physics.radial_march import between

LAW = ExponentialLaw(1e-9, 1.0, 1.0)


def test_a_level_is_read_as_it_was_recorded() -> None:
    """The first after the start too, where what has passed no longer goes by its root."""
    count, duration = 6, 216.0
    levels = duration * (np.arange(count + 1) / count) ** 3
    rows = np.arange(count + 1.0)[:, None] ** 2 + 1.0
    assert between([(duration, count)], levels).of(rows) == pytest.approx(rows, rel=1e-12)


def test_a_run_by_cells_tells_the_times_it_was_asked_for() -> None:
    times = np.array([0.0, 100.0, 900.0])
    ball = Sphere(0.008, 0.0, Medium(LAW))
    run = transport(ball, [Stretch(900.0, 0.0)], start=1.0, times=times, how=How(Method.CELLS))
    np.testing.assert_array_equal(run.times, times)


@pytest.mark.parametrize("core", [0.0, 0.5])
@pytest.mark.parametrize("diffused", [0.001, 0.02, 0.05, 0.2])
def test_what_has_leached_goes_by_the_square_of_the_size(core: float, diffused: float) -> None:
    """Only D t / b^2 and a / b tell (Crank 1975, p. 91): 10 m lose what 1 m does."""
    small = float(leached_share(diffused, outer_radius=1.0, core_radius=core))
    large = float(leached_share(100.0 * diffused, outer_radius=10.0, core_radius=10.0 * core))
    assert large == pytest.approx(small, rel=1e-12)


def test_a_ball_without_a_conducting_core_has_its_centre_at_its_wall() -> None:
    layers = Layers(*(np.array([value]) for value in (1.0, 0.0, 1.0, 1.0)))
    modes = find_modes(layers, np.array([3.0]), count=8)
    np.testing.assert_array_equal(modes.at_centre(), modes.at_wall())


@pytest.mark.skipif(not compiled.installed(), reason="numba, the extra `fast`, is not installed")
def test_machine_code_that_is_asked_for_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    def reached(*_: object, **__: object) -> None:
        raise LookupError("machine code")

    monkeypatch.setattr(compiled, "march", reached)
    ball, until = Sphere(0.008, 0.0, Medium(LAW)), [Stretch(900.0, 0.0)]
    for backend, met in ((Backend.NUMBA, True), (Backend.NUMPY, False)):
        how = How(Method.CELLS, backend=backend)
        try:
            transport(ball, until, start=1.0, times=np.array([900.0]), how=how)
        except LookupError:
            assert met
        else:
            assert not met
