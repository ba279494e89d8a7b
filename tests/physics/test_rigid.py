"""Rigid balls: what a film lets out, moments of a cell, and that draws do not meet."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.compact import _square_moment
from baitwright.physics.compiled import Backend
from baitwright.physics.radial_laws import ExponentialLaw
from baitwright.physics.radial_rigid import (
    CHUNK,
    Cut,
    FilmLeg,
    FilmSurface,
    RigidBall,
    RigidRun,
    run_rigid,
)


@given(st.floats(0.0, 0.01), st.floats(1e-4, 0.01))
def test_a_square_moment_is_its_integral(wall: float, depth: float) -> None:
    """Gauss-Legendre with three points is exact up to the fifth power."""
    nodes, weights = np.polynomial.legendre.leggauss(3)
    radius = wall + 0.5 * depth * (1.0 + nodes)
    integral = 0.5 * depth * (weights * radius**2 * (radius - wall) ** 2).sum()
    moment = _square_moment(np.array(wall), np.array(depth))
    assert float(moment) == pytest.approx(integral, rel=1e-12)


def test_a_film_lets_out_by_newton_and_none_holds_the_surface() -> None:
    """Flow = h A (surface - outside); without a resistance the surface is what is outside."""
    area, coefficient = np.full(4, 7e-4), np.array([12.0, 1e-9, np.inf, np.inf])
    surface = FilmSurface(FilmLeg(60.0, np.array([20.0, 20.0, 20.0, 35.0]), coefficient), area)
    surface.meet(np.full(4, 35.0))
    np.testing.assert_array_equal(surface.content, [35.0, 35.0, 20.0, 35.0])
    np.testing.assert_allclose(
        surface.leaving, [12.0 * 7e-4 * 15.0, 1e-9 * 7e-4 * 15.0, np.inf, 0.0], rtol=1e-12
    )


def rigid(part: slice, draws: int) -> RigidRun:
    """Some of many balls, no two alike, from a warm into a cold bath."""
    size = np.linspace(0.0, 1.0, draws)[part]
    ball = RigidBall(
        0.006 + 0.004 * size,
        0.001 + 0.002 * size,
        2e6 + 1e6 * size,
        ExponentialLaw(0.3 + 0.2 * size, 0.002 + 0.003 * size, 300.0),
    )
    legs = [
        FilmLeg(60.0, 360.0 + 10.0 * size, np.full(size.shape, 500.0)),
        FilmLeg(40.0, 280.0 + 10.0 * size, 50.0 + 100.0 * size),
    ]
    return run_rigid(
        ball,
        legs,
        start=285.0 + 10.0 * size,
        times=np.array([0.0, 30.0, 60.0, 100.0]),
        cut=Cut(cells=8, steps=24, backend=Backend.NUMPY),
    )


def test_no_draw_knows_how_many_run_beside_it() -> None:
    """More draws than are taken together: each comes out as it does in other company."""
    draws = 2 * CHUNK + 5
    together = rigid(slice(None), draws)
    for part in (slice(0, 3), slice(CHUNK - 1, CHUNK + 2), slice(draws - 3, None)):
        alone = rigid(part, draws)
        for name in (field.name for field in fields(RigidRun) if field.name != "profiles"):
            np.testing.assert_allclose(
                getattr(together, name)[..., part], getattr(alone, name), rtol=1e-11, atol=1e-11
            )
