"""Two conducting layers: exact modes against an independent fine cut, and the limits they share."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import eigh_tridiagonal

from baitwright.physics.limits import Array
from baitwright.physics.modes import Layers, find_modes
from baitwright.physics.radial import (
    Ball,
    HeatHow,
    Layer,
    Leg,
    Medium,
    Method,
    Sphere,
    Stretch,
    Transported,
    heat,
    transport,
)
from baitwright.physics.series import sphere_series
from benchmarks.balls import spread

few = settings(max_examples=20, deadline=None)
DURATION, OUTPUTS = 120.0, 60
TIMES = np.linspace(0.0, DURATION, OUTPUTS + 1)


@dataclass(frozen=True)
class Layered:
    """One ball: radii [m], conductivities [W/m/K], capacities [J/m3/K] of shell and core, film."""

    outer: float
    inner: float
    shell: tuple[float, float]
    core: tuple[float, float]
    film: float


def fine(ball: Layered, cells: int) -> Array:
    """Excess at wall, centre, surface and on average by finite volumes, exact in time.

    Written for this test alone: uniform cells in each layer, two-point flows, all eigenvalues of
    the symmetric matrix between them.
    """
    core = np.linspace(0.0, ball.inner, cells + 1)
    shell = np.linspace(ball.inner, ball.outer, cells + 1)
    faces = np.concatenate((core, shell[1:]))
    k = np.repeat((ball.core[0], ball.shell[0]), cells)
    volumes = 4.0 / 3.0 * np.pi * np.diff(faces**3)
    capacity = np.repeat((ball.core[1], ball.shell[1]), cells) * volumes
    half = 0.5 * np.diff(faces) / k
    area = 4.0 * np.pi * faces**2
    inner = area[1:-1] / (half[1:] + half[:-1])
    outer = area[-1] / (half[-1] + 1.0 / ball.film)
    diagonal = np.append(inner, outer) + np.append(0.0, inner)
    root = np.sqrt(capacity)
    rates, modes = eigh_tridiagonal(diagonal / capacity, -inner / (root[1:] * root[:-1]))
    amplitudes = modes.T @ root
    excess = (modes * amplitudes) @ np.exp(-np.outer(rates, TIMES[1:])) / root[:, None]
    surface = excess[-1] / half[-1] / (1.0 / half[-1] + ball.film)
    near, far = half[cells - 1], half[cells]
    wall = (excess[cells - 1] / near + excess[cells] / far) / (1.0 / near + 1.0 / far)
    # Level in the centre: the means of the two innermost cells on a parabola of r squared.
    centre = excess[0] - (excess[1] - excess[0]) * 0.6 / (0.6 * 31.0 / 7.0 - 0.6)
    paste = volumes[cells:] / volumes[cells:].sum()
    return np.array([wall, centre, surface, paste @ excess[cells:]])


def judged(ball: Layered) -> Array:
    """The same without its first error."""
    return np.asarray((4.0 * fine(ball, 320) - fine(ball, 160)) / 3.0)


def exact(balls: list[Layered]) -> Transported:
    def row(values: list[float]) -> Array:
        return np.array(values)

    sphere = Sphere(
        row([one.outer for one in balls]),
        row([one.inner for one in balls]),
        Medium(row([one.shell[0] for one in balls]), row([one.shell[1] for one in balls])),
        Medium(row([one.core[0] for one in balls]), row([one.core[1] for one in balls])),
    )
    film = row([one.film for one in balls])
    return transport(sphere, [Stretch(DURATION, 0.0, film)], start=1.0, times=TIMES)


def seeded(count: int) -> list[Layered]:
    """Balls of 14 to 20 mm on cores of 8 to 11 mm, from cork to something denser than paste."""
    random = np.random.default_rng(3)
    numbers = [
        spread(random, 7e-3, 10e-3, count=count),
        spread(random, 4e-3, 5.5e-3, count=count),
        spread(random, 0.3, 0.45, count=count),
        spread(random, 2.6e6, 3.6e6, count=count),
        10.0 ** spread(random, np.log10(0.04), np.log10(0.6), count=count),
        10.0 ** spread(random, np.log10(3e5), np.log10(3e6), count=count),
        spread(random, 500.0, 3000.0, count=count),
    ]
    return [
        Layered(outer, inner, (k, c), (core_k, core_c), film)
        for outer, inner, k, c, core_k, core_c, film in zip(*numbers, strict=True)
    ]


@pytest.mark.simulation
def test_every_place_is_that_of_an_independent_fine_cut(
    sample_size: Callable[[int, int], int],
) -> None:
    """3e-4 was promised everywhere, the centre of the core too; what is left is the cut's own."""
    balls = seeded(sample_size(12, 200))
    found = exact(balls)
    series = (found.innermost_shell, found.centre, found.surface, found.shell_mean)
    for draw, ball in enumerate(balls):
        for one, other in zip(series, judged(ball), strict=True):
            assert np.abs(one[1:, draw] - other).max() < 3e-5


def test_a_core_of_the_same_stuff_is_no_core() -> None:
    ball = Layered(0.0085, 0.005, (0.37, 3.02e6), (0.37, 3.02e6), 1500.0)
    found = exact([ball])
    series = sphere_series(0.0085, biot=1500.0 * 0.0085 / 0.37, terms=400)
    gone = 0.37 / 3.02e6 * TIMES[1:]
    assert found.centre[1:, 0] == pytest.approx(series.innermost(gone), abs=1e-6)
    assert found.innermost_shell[1:, 0] == pytest.approx(series.local(gone, 0.005), abs=1e-6)
    assert found.surface[1:, 0] == pytest.approx(series.surface(gone), abs=1e-6)


def test_a_core_of_nothing_lets_nothing_in() -> None:
    ball = Layered(0.0085, 0.005, (0.37, 3.02e6), (1e-9, 1e-2), 1500.0)
    series = sphere_series(0.0085, 0.005, biot=1500.0 * 0.0085 / 0.37, terms=400)
    gone = 0.37 / 3.02e6 * TIMES[1:]
    found = exact([ball])
    assert found.innermost_shell[1:, 0] == pytest.approx(series.innermost(gone), abs=1e-5)
    assert found.shell_mean[1:, 0] == pytest.approx(series.mean(gone), abs=1e-5)


def test_a_tiny_core_is_no_core() -> None:
    ball = Layered(0.0085, 1e-6, (0.37, 3.02e6), (0.045, 3.8e5), 1500.0)
    series = sphere_series(0.0085, biot=1500.0 * 0.0085 / 0.37, terms=400)
    found = exact([ball])
    gone = 0.37 / 3.02e6 * TIMES[1:]
    assert found.innermost_shell[1:, 0] == pytest.approx(series.innermost(gone), abs=1e-4)
    assert found.shell_mean[1:, 0] == pytest.approx(series.mean(gone), abs=1e-6)


@few
@given(st.integers(0, 10_000), st.floats(0.01, 100.0), st.floats(0.03, 30.0))
def test_what_the_ball_loses_leaves_through_its_film(
    seed: int, conducts: float, holds: float
) -> None:
    """Both layers' ledgers against the flow, whatever the core is made of."""
    outer = 0.007 + 3e-7 * seed
    ball = Layered(outer, 0.0045, (0.37, 3e6), (0.37 * conducts, 3e6 * holds), 1200.0)
    found = exact([ball])
    area, inner = 4.0 * np.pi * outer**2, 4.0 / 3.0 * np.pi * 0.0045**3
    assert found.flux == pytest.approx(-1200.0 * found.surface, rel=1e-6, abs=1e-6)
    shell = 3e6 * (4.0 / 3.0 * np.pi * outer**3 - inner) * (found.shell_mean - 1.0)
    core = 3e6 * holds * inner * (found.core_mean - 1.0)
    assert found.taken_up == pytest.approx(shell + core, rel=1e-9)
    through = (area * found.flux)[20:, 0]
    passed = np.sum(through[:-1] + through[1:]) * 0.5 * (TIMES[1] - TIMES[0])
    assert found.taken_up[-1, 0] - found.taken_up[20, 0] == pytest.approx(passed, rel=5e-3)


@few
@given(st.floats(0.02, 50.0), st.floats(0.05, 20.0), st.floats(0.02, 0.9))
def test_no_mode_is_missed(conducts: float, holds: float, share: float) -> None:
    """A moment after the start all places but the surface still hold what they were given."""
    values = (0.009, share * 0.009, 0.4, 0.4 / 3e6, 0.4 * conducts, 0.4 * conducts / (3e6 * holds))
    layers = Layers(*(np.array([value]) for value in values))
    modes = find_modes(layers, np.array([20.0]), count=300)
    moment = 18.0 / modes.rate[-1]
    left = modes.uniform() * np.exp(-modes.rate * moment)
    for place in (modes.at_centre(), modes.at_wall(), modes.core_mean()):
        assert (place * left).sum() == pytest.approx(1.0, abs=1e-5)
    assert 0.9 < (modes.shell_mean() * left).sum() < 1.0


def test_out_of_the_pot_and_into_the_air() -> None:
    """Two legs behind different films, against the engine of cells cut finely."""
    paste, cork = Layer(0.37, 1130.0, 2675.0), Layer(0.045, 200.0, 1900.0)
    legs = [Leg(60.0, 373.15, 1500.0), Leg(60.0, 293.15, 40.0)]
    found = heat(Ball(0.0085, 0.005, paste, cork), legs, start=293.15)
    assert found.method is Method.MODES
    fine_cut = HeatHow(cells=(150, 220))
    cells = heat(Ball(0.0085, 0.005, paste, cork), legs, start=293.15, step=0.025, how=fine_cut)
    every = np.searchsorted(cells.times, found.times - 1e-9)
    assert np.abs(found.innermost_shell - cells.innermost_shell[every]).max() < 80.0 * 3e-5
    assert np.abs(found.shell_mean - cells.shell_mean[every])[4:].max() < 80.0 * 3e-5
    assert found.heat_in == pytest.approx(cells.heat_in[every], abs=1e-4 * cells.heat_in.max())
