"""Laws of the exact series, whatever the ball."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.physics.series import SphereSeries, first_term, sphere_series, sphere_uptake
from baitwright.terms.errors import RangeError

few = settings(max_examples=15, deadline=None)
cores = st.floats(0.0, 0.9)
biots = st.floats(0.01, 1e4) | st.just(math.inf)


@few
@given(cores, biots)
def test_a_uniform_start_is_the_sum_of_its_modes(core: float, biot: float) -> None:
    series = sphere_series(1.0, core, biot=biot, terms=2000)
    assert series.mean(0.0) == pytest.approx(1.0, abs=1e-3)


@few
@given(cores, biots)
def test_what_the_ball_loses_goes_through_its_surface(core: float, biot: float) -> None:
    """d(mean)/dt is the film's flow at the surface; without a film its slope there."""
    series = sphere_series(1.0, core, biot=biot)
    at, step = 0.05 * (1.0 - core) ** 2, 1e-5 * (1.0 - core) ** 2
    lost = (series.mean(at - step) - series.mean(at + step)) / (2.0 * step)
    if math.isinf(biot):
        near = 1e-5 * (1.0 - core)
        flow = (4.0 * series.local(at, 1.0 - near) - series.local(at, 1.0 - 2.0 * near)) / (
            2 * near
        )
    else:
        flow = biot * series.surface(at)
    assert lost == pytest.approx(3.0 / (1.0 - core**3) * flow, rel=1e-4)


@few
@given(cores, st.floats(0.1, 1e3), st.floats(1.05, 20.0), st.floats(0.02, 0.5))
def test_a_thinner_film_and_more_time_leave_less(
    core: float, biot: float, factor: float, at: float
) -> None:
    diffused = at * (1.0 - core) ** 2
    slow = sphere_series(1.0, core, biot=biot)
    fast = sphere_series(1.0, core, biot=biot * factor)
    assert fast.mean(diffused) < slow.mean(diffused)
    assert slow.mean(diffused * factor) < slow.mean(diffused)
    assert slow.surface(diffused) < slow.mean(diffused) < slow.innermost(diffused)


@few
@given(cores, st.floats(0.3, 3e3))
def test_size_enters_only_through_its_square(core: float, size: float) -> None:
    unit = sphere_series(1.0, core, biot=7.0)
    other = sphere_series(size, core * size, biot=7.0)
    assert other.innermost(0.1 * size**2) == pytest.approx(unit.innermost(0.1), rel=1e-9)


@pytest.mark.parametrize("biot", [0.5, 10.0, math.inf])
def test_a_vanishing_core_leaves_the_solid_ball(biot: float) -> None:
    times = np.array([0.02, 0.1, 0.3])
    cored, solid = sphere_series(1.0, 1e-7, biot=biot), sphere_series(1.0, biot=biot)
    assert cored.mean(times) == pytest.approx(solid.mean(times), abs=1e-9)
    assert cored.innermost(times) == pytest.approx(solid.innermost(times), abs=1e-6)


@pytest.mark.parametrize("core", [0.0, 0.6])
def test_a_vanishing_film_leaves_the_held_surface(core: float) -> None:
    times = np.array([0.01, 0.05, 0.2])
    film, held = sphere_series(1.0, core, biot=1e9), sphere_series(1.0, core)
    assert film.innermost(times) == pytest.approx(held.innermost(times), abs=1e-7)
    assert film.mean(times) == pytest.approx(held.mean(times), abs=1e-7)


def test_no_root_is_missed_or_found_twice() -> None:
    for series in (sphere_series(1.0, biot=0.01), sphere_series(1.0, 0.7, biot=30.0)):
        spacing = np.diff(series.roots) * (series.outer_radius - series.core_radius) / np.pi
        assert np.all(spacing > 0.5)
        assert spacing[-1] == pytest.approx(1.0, abs=1e-3)


def test_the_uptake_is_what_the_series_no_longer_holds() -> None:
    times = np.array([0.002, 0.01, 0.0499, 0.0501, 0.2, 1.0])
    left = sphere_series(1.0, terms=400).mean(times)
    assert sphere_uptake(times) == pytest.approx(1.0 - left, abs=1e-9)
    assert sphere_uptake(0.0) == 0.0


def test_one_radius_of_a_slow_ball_is_its_mean() -> None:
    """As the Biot number falls the ball cools as a lump, exp(-3 Bi Fo)."""
    series = sphere_series(1.0, biot=1e-4)
    assert series.local(2e3, 0.5) == pytest.approx(math.exp(-0.6), rel=1e-4)
    assert first_term(1e-4)[1] == pytest.approx(1.0, abs=1e-4)


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: sphere_series(1.0, 1.0), "core_radius"),
        (lambda: sphere_series(-1.0), "outer_radius"),
        (lambda: sphere_series(1.0, biot=0.0), "biot"),
        (lambda: sphere_series(1.0, biot=math.nan), "biot"),
        (lambda: sphere_series(1.0, terms=0), "terms"),
        (lambda: sphere_uptake(-0.1), "fourier"),
        (lambda: sphere_series(1.0, 0.5).local(0.1, 0.4), "radius"),
    ],
)
def test_what_cannot_be_is_refused(ask: type[SphereSeries], field: str) -> None:
    with pytest.raises(RangeError) as refused:
        ask()
    assert refused.value.field == field
