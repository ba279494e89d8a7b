"""Conductivity that follows the content, against LSODA on fine cuts, and what must hold for any."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.physics.limits import Array
from baitwright.physics.radial import (
    ExponentialLaw,
    How,
    Medium,
    Method,
    Sphere,
    Stretch,
    Transported,
    transport,
)
from baitwright.terms.errors import InputError, RangeError
from benchmarks.balls import Balls, even_balls, steep_balls
from benchmarks.peers import fine

few = settings(max_examples=15, deadline=None)


def followed(balls: Balls, *, times: Array | None = None, **how: object) -> Transported:
    law = ExponentialLaw(balls.diffusivity, balls.steepness, 1.0)
    sphere = Sphere(balls.outer, balls.core, Medium(law))
    until = Stretch(balls.duration, 0.0, balls.film)
    at = balls.times if times is None else times
    return transport(sphere, [until], start=1.0, times=at, how=How(**how))  # type: ignore[arg-type]


def series(run: Transported) -> Array:
    return np.array([run.innermost_shell, run.surface, run.shell_mean]).transpose(2, 0, 1)


@pytest.mark.simulation
@pytest.mark.parametrize("solid", [True, False], ids=["solid", "sealed core"])
def test_any_ball_is_what_lsoda_finds(
    solid: bool,
    sample_size: Callable[[int, int], int],
    record_property: Callable[[str, object], None],
) -> None:
    """1e-3 at the wall, at the surface and on average, at all 60 outputs, corners included.

    LSODA at 1e-8 on cuts of 100 and 200 cells, extrapolated to none: right to 1e-6.
    """
    balls = steep_balls(sample_size(40, 1024), solid=solid)
    apart = np.abs(series(followed(balls)) - fine(balls)).max(axis=(0, 2))
    record_property("largest error at wall, surface, mean", [f"{one:.1e}" for one in apart])
    assert apart.max() < 1e-3


def test_nothing_is_lost_or_made() -> None:
    for solid in (True, False):
        balls = steep_balls(64, solid=solid)
        run = followed(balls)
        volume = 4.0 / 3.0 * np.pi * (balls.outer**3 - balls.core**3)
        assert run.taken_up == pytest.approx((run.shell_mean - 1.0) * volume, abs=1e-9 * 1e-6)
        assert np.abs(run.taken_up / volume - (run.shell_mean - 1.0)).max() < 1e-9
        assert run.flux == pytest.approx(-balls.film * run.surface, rel=1e-3, abs=1e-15)


def test_a_law_that_does_not_follow_is_the_series() -> None:
    balls = even_balls(64)
    law = ExponentialLaw(balls.diffusivity)
    until = Stretch(balls.duration, 0.0, balls.film)
    cells, exact = (
        transport(
            Sphere(balls.outer, balls.core, Medium(conductivity)),
            [until],
            start=1.0,
            times=balls.times,
        )
        for conductivity in (law, balls.diffusivity)
    )
    assert (cells.method, exact.method) == (Method.CELLS, Method.MODES)
    assert np.abs(series(cells) - series(exact)).max() < 1e-3


def test_any_law_will_do() -> None:
    balls = steep_balls(8)

    def grows(value: Array) -> Array:
        return np.asarray(balls.diffusivity * np.exp(balls.steepness * (value - 1.0)))

    until = Stretch(balls.duration, 0.0, balls.film)
    sphere = Sphere(balls.outer, balls.core, Medium(grows))
    run = transport(sphere, [until], start=np.ones(8), times=balls.times)
    known = followed(balls, backend=None)
    assert series(run) == pytest.approx(series(known), abs=1e-12)


def test_one_draw_or_two_are_the_same_among_many() -> None:
    many = series(followed(steep_balls(40)))
    for count in (1, 2, 5):
        assert series(followed(steep_balls(count))) == pytest.approx(many[:count], abs=1e-11)


@few
@given(st.floats(-1.0, 4.0), st.floats(1.02, 1.5), st.integers(0, 60))
def test_what_takes_more_away(steepness: float, factor: float, seed: int) -> None:
    balls = steep_balls(seed + 1)
    outer, core, film = (float(x[seed]) for x in (balls.outer, balls.core, balls.film))
    quick = np.array([1.0, factor, 1.0, 1.0])
    sphere = Sphere(
        outer * np.array([1.0, 1.0, 1.0, factor]),
        core,
        Medium(ExponentialLaw(3e-11 * quick, steepness, 1.0)),
    )
    windy = film * np.array([1.0, 1.0, factor, 1.0])
    run = transport(sphere, [Stretch(4e4, 0.0, windy)], start=1.0, times=np.array([4e4]))
    plain, looser, windier, larger = run.shell_mean[0]
    assert looser < plain
    assert windier < plain
    assert plain < larger


def test_legs_carry_on_where_the_last_one_ended() -> None:
    balls = steep_balls(12)
    law = ExponentialLaw(balls.diffusivity, balls.steepness, 1.0)
    sphere = Sphere(balls.outer, balls.core, Medium(law))
    legs = [Stretch(3e4, 0.0, balls.film), Stretch(5e4, 0.6, balls.film), Stretch(2e4, 0.2)]
    times = np.linspace(0.0, 1e5, 21)
    whole = transport(sphere, legs, start=1.0, times=times, how=How(steps=90))
    many = transport(sphere, legs, start=1.0, times=times, how=How(cells=84, steps=600))
    assert np.abs(series(whole) - series(many))[:, 2].max() < 1e-3
    first = transport(sphere, legs[:1], start=1.0, times=times[times <= 3e4])
    rest = transport(sphere, legs[1:], start=first.final, times=times[times > 3e4] - 3e4)
    assert rest.shell_mean[-1] == pytest.approx(whole.shell_mean[-1], abs=1e-3)


def test_places_inside_join_wall_and_surface() -> None:
    balls = steep_balls(20)
    places = np.array([0.9, 0.95, 0.999999])
    run = followed(balls, places=places)
    finer = followed(balls, places=places, cells=112, steps=300)
    assert run.profiles is not None
    assert finer.profiles is not None
    assert np.abs(run.profiles - finer.profiles).max() < 4e-3
    assert np.abs(finer.profiles[:, 2] - finer.surface).max() < 1e-3


def test_a_run_tells_its_error() -> None:
    balls = steep_balls(24)
    run = followed(balls, check=True)
    finer = followed(balls, cells=112, steps=300)
    error = np.abs(series(run) - series(finer)).max(axis=(1, 2))
    assert run.error is not None
    assert np.all(error < run.error)
    assert np.all(run.error < 0.02)
    later = transport(
        Sphere(
            balls.outer,
            balls.core,
            Medium(ExponentialLaw(balls.diffusivity, balls.steepness, 1.0)),
        ),
        [Stretch(1e4, 0.5)],
        start=run.final,
        times=np.array([5e3, 1e4]),
        how=How(check=True),
    )
    assert later.error is not None
    assert np.all(later.error < 0.02)


@pytest.mark.parametrize(
    ("law", "field"),
    [
        (ExponentialLaw(np.nan), "sphere.shell.conductivity.at_reference"),
        (ExponentialLaw(1e-10, np.nan), "sphere.shell.conductivity.steepness"),
        (ExponentialLaw(1e-10, 99.0), "sphere.shell.conductivity.steepness"),
        (ExponentialLaw(1e-10, 1.0, np.inf), "sphere.shell.conductivity.reference"),
    ],
)
def test_what_cannot_be_is_refused(law: ExponentialLaw, field: str) -> None:
    with pytest.raises(RangeError) as refused:
        transport(
            Sphere(0.008, 0.005, Medium(law)), [Stretch(60.0, 0.0)], start=1.0, times=np.ones(1)
        )
    assert refused.value.field == field


def test_what_no_method_can_follow_is_refused() -> None:
    law, until = ExponentialLaw(1e-10, 1.0), [Stretch(60.0, 0.0)]
    cases = [
        (Sphere(0.008, 0.005, Medium(law), Medium(1e-10)), How()),
        (Sphere(0.008, 0.005, Medium(1e-10), Medium(law)), How()),
        (Sphere(0.008, 0.005, Medium(law)), How(method=Method.MODES)),
    ]
    for sphere, how in cases:
        with pytest.raises(InputError):
            transport(sphere, until, start=1.0, times=np.ones(1), how=how)
