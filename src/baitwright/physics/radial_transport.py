"""One interface for a ball that takes up or gives off heat or matter, and two ways to follow it.

Constant properties are followed exactly, in place and time, by the modes of one layer or two. A
conductivity that depends on the value goes through finite volumes, as machine code where that pays.
(A ball in a finite bath is ``radial_heat``'s; one that shrinks and dries ``radial_moisture``'s.)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from baitwright.physics.limits import Array, Values
from baitwright.physics.modal import FAINT, HELD, HeldStretch, Sums, run_modes
from baitwright.physics.modes import Layers
from baitwright.physics.moist_shells import GRADING
from baitwright.physics.radial_laws import ExponentialLaw
from baitwright.physics.radial_problem import (
    How,
    Medium,
    Method,
    Problem,
    Sphere,
    Standing,
    Stretch,
    posed,
)
from baitwright.physics.radial_rigid import Cut, FilmLeg, RigidBall, run_rigid
from baitwright.physics.shells import shell_faces, sphere_area, sphere_volume
from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Transported:
    """What ``transport`` found; t output times, n draws.

    Times (t,) [s]; values [K or kg/kg] at the shell's inner wall (the centre of a solid ball), in
    the centre, at the surface, on average over the shell and over a conducting core, each (t, n);
    flux in through the surface (t, n) [W/m2 or kg/m2/s]; what one ball holds more than at first
    (t, n) [J or kg]; profiles (t, places, n) [K or kg/kg] where they were asked for; where the
    balls stand; how they were followed; and an upper estimate of the error (n,) [K or kg/kg], where
    asked for.
    Without a conducting core its values are those of the wall.
    """

    times: Array
    innermost_shell: Array
    centre: Array
    surface: Array
    shell_mean: Array
    core_mean: Array
    flux: Array
    taken_up: Array
    profiles: Array | None
    final: Standing
    method: Method
    error: Array | None = None


def transport(
    sphere: Sphere,
    stretches: Sequence[Stretch],
    *,
    start: Values | Standing,
    times: Array,
    how: How | None = None,
) -> Transported:
    """Values inside a ball as it goes through one surrounding after another.

    Parameters
    ----------
    sphere: radii and materials, numbers or one per draw [Sphere]
    stretches: the surroundings in order [Stretch]
    start: the value at first, or where a run of the same balls ended [K or kg/kg]
    times: rising, from 0 to the end of the last stretch [s]
    how: choices that may be left alone [How]

    Returns
    -------
    The run [Transported]

    Raises
    ------
    RangeError: a radius, property, stretch, place or time is not possible, or not a number.
    InputError: the method asked for cannot follow this ball.

    Notes
    -----
    c du/dt = 1/r^2 d/dr(r^2 k du/dr), -k du/dr = h (u - outside) at the surface. Exact modes are
    chosen for constant k: their error is below 1e-6 of the first difference from the surroundings.
    Finite volumes are chosen for k(u): below 1e-3 of it from a sixtieth of the last stretch on, for
    logarithms of k that change by -1 to 4 over the range, Biot numbers from 1 to 1,000, and so
    many capacities passed in all that nothing but the surface, or next to all, has changed.

    Reference: carslaw-jaeger-1959, ch. 9; crank-1975, ch. 7.
    """
    how = how or How()
    problem = posed(sphere, stretches, start, times=times, how=how)
    method = _method(problem, how)
    follow = _by_modes if method is Method.MODES else _by_cells
    run = follow(problem, how)
    if not how.check:
        return run
    if method is Method.MODES:
        return replace(run, error=_apart(run, _by_modes(problem, how, faint=2.0 * FAINT)))
    coarse = replace(how, cells=how.cells // 2, steps=how.steps // 2)
    halved = replace(problem, start=_coarsened(problem))
    return replace(run, error=_apart(run, _by_cells(halved, coarse)))


def _method(problem: Problem, how: How) -> Method:
    """The method that fits: modes wherever properties are constant."""
    sphere, start = problem.sphere, problem.start
    law = callable(sphere.shell.conductivity)
    if sphere.core is not None and callable(sphere.core.conductivity):
        raise InputError("sphere.core.conductivity", "a law", "a number; only shells have laws")
    method = how.method or (Method.CELLS if law else Method.MODES)
    if how.method is None and isinstance(start, Standing):
        method = Method.MODES if start.modes else Method.CELLS
    if method is Method.MODES and law:
        raise InputError("how.method", method.value, "finite volumes where conductivity varies")
    if method is Method.CELLS and sphere.core is not None and problem.inner.any():
        raise InputError("sphere.core", "one that conducts", "none, for finite volumes")
    return method


def _apart(run: Transported, other: Transported) -> Array:
    """The largest difference between two runs, per draw."""
    series = ("innermost_shell", "centre", "surface", "shell_mean")
    apart = [np.abs(getattr(run, one) - getattr(other, one)).max(axis=0) for one in series]
    return np.asarray(np.max(apart, axis=0))


def _layers(problem: Problem) -> Layers:
    sphere, spread = problem.sphere, problem.spread
    shell = _number(sphere.shell), sphere.shell.capacity
    values = [spread(shell[0]), spread(np.divide(*shell))]
    if sphere.core is not None and problem.inner.any():
        core = _number(sphere.core), sphere.core.capacity
        values += [spread(core[0]), spread(np.divide(*core))]
    return Layers(problem.outer, problem.inner, *values)


def _number(medium: Medium) -> Values:
    """The conductivity of a material that has one."""
    assert not callable(medium.conductivity)
    return medium.conductivity


def _by_modes(problem: Problem, how: How, *, faint: float = FAINT) -> Transported:
    layers, draws = _layers(problem), problem.outer.size
    cored = layers.core_conductivity is not None
    series = np.empty((6 if cored else 4, problem.times.size, draws))
    profiles = None
    if problem.radii is not None:
        profiles = np.empty((problem.times.size, *problem.radii.shape))
    states = []
    for number, part in enumerate(problem.parts()):
        start, places = problem.start, None if problem.radii is None else problem.radii[:, part]
        states.append(
            run_modes(
                layers.part(part),
                [*_held(problem, layers, part)],
                start=start.modes[number] if isinstance(start, Standing) else start[part],
                times=problem.times,
                into=Sums(
                    series[..., part], None if profiles is None else profiles[..., part], places
                ),
                faint=faint,
            )
        )
    wall, surface, mean, fall = series[:4]
    centre, core_mean = series[4:] if cored else (wall, wall)
    fall *= -layers.conductivity
    return Transported(
        times=problem.times,
        innermost_shell=wall,
        centre=centre,
        surface=surface,
        shell_mean=mean,
        core_mean=core_mean,
        flux=fall,
        taken_up=_taken_up(problem, mean, core_mean),
        profiles=profiles,
        final=Standing(modes=tuple(states)),
        method=Method.MODES,
    )


def _held(problem: Problem, layers: Layers, part: slice) -> Iterator[HeldStretch]:
    """The stretches as some of the draws meet them."""
    per_film = layers.outer_radius / layers.conductivity
    for number, duration in enumerate(problem.durations):
        biot = np.minimum(problem.coefficient[number] * per_film, HELD)
        yield HeldStretch(duration, problem.outside[number][part], biot[part])


def _taken_up(problem: Problem, mean: Array, core_mean: Array) -> Array:
    """What one ball holds more than at first, from its means."""
    sphere, start = problem.sphere, problem.start
    if isinstance(start, Standing):
        begun = [state.means() for state in start.modes]
        first, core_first = (np.concatenate(column) for column in zip(*begun, strict=True))
    else:
        first = core_first = start
    inner = sphere_volume(problem.inner)
    taken = (mean - first) * (sphere.shell.capacity * (sphere_volume(problem.outer) - inner))
    if sphere.core is not None and problem.inner.any():
        taken += (core_mean - core_first) * (sphere.core.capacity * inner)
    return np.asarray(taken)


def _by_cells(problem: Problem, how: How) -> Transported:
    shell, spread = problem.sphere.shell, problem.spread
    law = shell.conductivity if callable(shell.conductivity) else ExponentialLaw(shell.conductivity)
    start = problem.start.cells if isinstance(problem.start, Standing) else problem.start
    assert start is not None
    run = run_rigid(
        RigidBall(problem.outer, problem.inner, spread(shell.capacity), law),
        [
            FilmLeg(*leg)
            for leg in zip(problem.durations, problem.outside, problem.coefficient, strict=True)
        ],
        start=start,
        times=problem.times,
        cut=Cut(how.cells, how.steps, how.backend),
        radii=problem.radii,
    )
    run.flow[:] /= -sphere_area(problem.outer)
    return Transported(
        times=problem.times,
        innermost_shell=run.wall,
        centre=run.wall,
        surface=run.surface,
        shell_mean=run.mean,
        core_mean=run.wall,
        flux=run.flow,
        taken_up=np.negative(run.lost, out=run.lost),
        profiles=run.profiles,
        final=Standing(cells=run.final),
        method=Method.CELLS,
    )


def _coarsened(problem: Problem) -> Array | Standing:
    """The start for half as many cells: the means of neighbours."""
    start = problem.start
    if not isinstance(start, Standing) or start.cells is None:
        return start
    cells = len(start.cells)
    faces = shell_faces(problem.inner, problem.outer, cells=cells, grading=GRADING)
    volumes = np.diff(sphere_volume(faces), axis=0)
    pairs = (volumes * start.cells).reshape(cells // 2, 2, -1).sum(axis=1)
    return Standing(cells=pairs / volumes.reshape(cells // 2, 2, -1).sum(axis=1))
