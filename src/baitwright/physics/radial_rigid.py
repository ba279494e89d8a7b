"""Balls that keep their shape while their conductivity follows what is in them, by finite volumes.

A sealed core or none; arrays are (cells, draws) and (times, draws).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from baitwright.physics import compiled
from baitwright.physics.compact import compact_faces, wall_weights
from baitwright.physics.compiled import Backend
from baitwright.physics.limits import Array
from baitwright.physics.moist_shells import CELLS, GRADING
from baitwright.physics.radial_laws import ExponentialLaw, Law, face_means
from baitwright.physics.radial_march import (
    STEPS,
    Holdings,
    March,
    between,
    corrected_steps,
    steps_of,
)
from baitwright.physics.shells import shell_faces, sphere_area, sphere_volume

CHUNK = 1024
"""Draws taken together, so that what they need stays near the processor [1]."""


@dataclass(frozen=True, slots=True)
class RigidBall:
    """A ball per draw: radii [m], capacity [J/m3/K or 1], law of its conductivity [function]."""

    outer_radius: Array
    core_radius: Array
    capacity: Array
    law: Law


@dataclass(frozen=True, slots=True)
class FilmLeg:
    """Time in the same surroundings.

    Duration [s]; value outside [K or kg/kg]; film coefficient, infinite for none [W/m2/K or m/s].
    """

    duration: float
    outside: Array
    coefficient: Array


@dataclass(frozen=True, slots=True)
class Cut:
    """How finely to cut: cells [1], time steps over all legs [1]; what runs it [text]."""

    cells: int = CELLS
    steps: int = STEPS
    backend: Backend | None = None


@dataclass(frozen=True, slots=True)
class RigidRun:
    """Series at the wall, at the surface and on average [K or kg/kg], (times, draws).

    What has been lost since the start [J or kg] and flows out [W or kg/s]; profiles where places
    were given, (times, places, draws), and the cells' means at the end, (cells, draws) [K].
    """

    wall: Array
    surface: Array
    mean: Array
    lost: Array
    flow: Array
    profiles: Array | None
    final: Array


class FilmSurface:
    """A surface behind a film, or held where the film's resistance [s/kg] is none."""

    def __init__(self, leg: FilmLeg, area: Array) -> None:
        self.outside = leg.outside
        self.ease = 1.0 / (leg.coefficient * area)
        self.content: Array = leg.outside
        self.temperature: Array = np.zeros_like(leg.outside)
        self.leaving: Array = np.zeros_like(leg.outside)

    def meet(self, content: Array) -> None:
        """Take over a surface of this content [K or kg/kg]."""
        self.content = np.where(self.ease > 0.0, content, self.outside)
        over = content - self.outside
        with np.errstate(divide="ignore", invalid="ignore"):
            self.leaving = np.where(over == 0.0, 0.0, over / self.ease)

    def flow(self, still: Array, resistance: Array, area: Array) -> Array:
        """Flow out [W or kg/s].

        From the content without any [K or kg/kg], its fall per flow [s/kg], and the area [m2].
        """
        self.leaving = (still - self.outside) / (resistance + self.ease)
        self.content = still - resistance * self.leaving
        return self.leaving


class RigidConductor:
    """How well the faces of a rigid ball conduct, by what is on both sides of them."""

    def __init__(self, reach: Array, area: Array, law: Law) -> None:
        self.reach, self.area, self.law = reach, area, law
        self.low, self.high = np.empty(0), np.empty(0)

    def bound(self, low: Array, high: Array) -> None:
        """Between which contents, from [K or kg/kg] to [K or kg/kg], the solution stays."""
        self.low, self.high = low, high

    def __call__(self, content: Array, temperature: Array) -> tuple[Array, Array]:
        """Conductances of the faces [W/K or kg/s] and the outer area [m2].

        At contents of the cells and the surface [K or kg/kg], which it overwrites, and the
        temperature [K], which does not matter here.
        """
        # An extrapolated content may leave these bounds; the solution itself cannot.
        np.maximum(content, self.low, out=content)
        np.minimum(content, self.high, out=content)
        means = face_means(self.law, content)
        means *= self.reach
        return means, self.area


def run_rigid(
    ball: RigidBall,
    legs: Sequence[FilmLeg],
    *,
    start: Array,
    times: Array,
    cut: Cut,
    radii: Array | None = None,
) -> RigidRun:
    """A ball through its surroundings, one leg after the other.

    Parameters
    ----------
    ball: what the balls are, (draws,) [RigidBall]
    legs: the surroundings in order [FilmLeg]
    start: the value at first per draw, or the cells' means an earlier run left [K or kg/kg]
    times: rising, from 0 to the end of the last leg [s]
    cut: how finely, and by what [Cut]
    radii: places of the profiles, (places, draws) [m]

    Returns
    -------
    The run [RigidRun]
    """
    draws = ball.outer_radius.size
    backend = Backend.NUMPY
    if radii is None and cut.cells == CELLS and _gentle(ball.law, legs, start):
        backend = compiled.chosen(cut.backend, draws)
    size = CHUNK if isinstance(ball.law, ExponentialLaw) else draws
    kinds = 5 if radii is None else 5 + len(radii)
    series, final = np.empty((kinds, len(times), draws)), np.empty((cut.cells, draws))
    for first in range(0, draws, size):
        part = slice(first, first + size)
        march = _March(_sliced(ball, part), start[..., part], cut=cut, backend=backend)
        places = None if radii is None else radii[:, part]
        march.through([_sliced_leg(leg, part) for leg in legs], times, places)
        series[..., part], final[:, part] = np.moveaxis(march.series(), 1, 0), march.content
    total, wall, surface, lost, flow = series[:5]
    volume = ball.capacity * (sphere_volume(ball.outer_radius) - sphere_volume(ball.core_radius))
    total /= volume
    profiles = None if radii is None else np.moveaxis(series[5:], 0, 1)
    return RigidRun(wall, surface, total, lost, flow, profiles, final)


def _gentle(law: Law, legs: Sequence[FilmLeg], start: Array) -> bool:
    """Whether machine code knows the law, and conductivity stays in the range it is made for."""
    if not isinstance(law, ExponentialLaw):
        return False
    values = [start, *(leg.outside for leg in legs)]
    span = max(value.max() for value in values) - min(value.min() for value in values)
    return bool(np.max(np.abs(law.steepness)) * span <= 2.0 * compiled.STEEPEST)


def _sliced(ball: RigidBall, part: slice) -> RigidBall:
    if part.stop >= ball.outer_radius.size and not part.start:
        return ball
    law = ball.law
    if isinstance(law, ExponentialLaw):
        shape = ball.outer_radius.shape
        law = ExponentialLaw(*(np.broadcast_to(value, shape)[part] for value in law.values()))
    return RigidBall(ball.outer_radius[part], ball.core_radius[part], ball.capacity[part], law)


def _sliced_leg(leg: FilmLeg, part: slice) -> FilmLeg:
    return FilmLeg(leg.duration, leg.outside[part], leg.coefficient[part])


class _March:
    """Some draws on their way: geometry, contents, and the series so far."""

    def __init__(self, ball: RigidBall, start: Array, *, cut: Cut, backend: Backend) -> None:
        self.cut, self.backend, self.law = cut, backend, ball.law
        shape = ball.outer_radius.shape
        self.faces = shell_faces(
            ball.core_radius, ball.outer_radius, cells=cut.cells, grading=GRADING
        )
        compact = compact_faces(self.faces)
        self.reach, self.area = compact.reach, sphere_area(self.faces[-1])
        volumes = np.diff(sphere_volume(self.faces), axis=0) * ball.capacity
        self.holdings = Holdings(
            volumes, compact.lag_inside * ball.capacity, compact.lag_outside * ball.capacity
        )
        self.wall = wall_weights(self.faces)
        self.content = np.array(np.broadcast_to(start, (cut.cells, *shape)))
        self.surface = self.content[-1]
        self.lost = np.zeros(shape)
        self.rows: list[Array] = []

    def through(self, legs: Sequence[FilmLeg], times: Array, radii: Array | None) -> None:
        durations = np.array([leg.duration for leg in legs])
        ends = np.cumsum(durations)
        first = 0
        for leg, count, end in zip(legs, steps_of(durations, self.cut.steps), ends, strict=True):
            until = int(np.searchsorted(times, end * (1.0 + 1e-9), side="right"))
            local = np.clip(times[first:until] - (end - leg.duration), 0.0, leg.duration)
            take = self._compiled if self.backend is Backend.NUMBA else self._by_numpy
            lost = self.lost
            found = take(leg, count, local=local, radii=radii)
            found[:, 3] += lost
            self.lost = lost + self.lost
            self.rows.append(found)
            first = until

    def series(self) -> Array:
        """All outputs, (times, kinds, draws): total, wall, surface, lost, flow, then profiles."""
        return np.concatenate(self.rows)

    def _bounds(self, leg: FilmLeg) -> tuple[Array, Array]:
        """Lowest and highest content the leg can bring about."""
        low = np.minimum(self.content.min(axis=0), leg.outside)
        return low, np.maximum(self.content.max(axis=0), leg.outside)

    def _by_numpy(self, leg: FilmLeg, count: int, *, local: Array, radii: Array | None) -> Array:
        """The outputs of one leg; leaves contents and what it lost behind."""
        surface = FilmSurface(leg, self.area)
        conductor = RigidConductor(self.reach, self.area, self.law)
        conductor.bound(*self._bounds(leg))
        march = March(self.holdings, conductor, self.content)
        march.levels[-1][-3] = self.surface
        march.meet(surface)
        places = None if radii is None else _Places(self.faces, radii)
        rows = [self._row(march, surface, places)]
        for _ in march.go(np.cbrt(leg.duration) / count, count):
            rows.append(self._row(march, surface, places))
        self.content, self.surface = march.cells, march.surface_content
        self.lost = march.lost
        return between([(leg.duration, count)], local).of(np.array(rows))

    def _row(self, march: March, surface: FilmSurface, places: _Places | None) -> Array:
        cells, at_surface = march.cells, march.surface_content
        total = np.einsum("cn,cn->n", self.holdings.cells, cells)
        wall = self.wall[0] * cells[0] + self.wall[1] * cells[1]
        row = [total, wall, at_surface, march.lost, surface.leaving]
        if places is not None:
            row += [*places.of(np.vstack((cells, at_surface)))]
        return np.array(row)

    def _compiled(self, leg: FilmLeg, count: int, *, local: Array, radii: Array | None) -> Array:
        """The same as machine code; profiles are not among what it gives."""
        assert radii is None
        law = self.law
        assert isinstance(law, ExponentialLaw)
        surface = FilmSurface(leg, self.area)
        surface.meet(self.surface)
        low, high = self._bounds(leg)
        middle = 0.5 * (low + high)
        numbers = [np.sqrt(law(middle) / 6.0), 0.5 * np.asarray(law.steepness), middle]
        numbers += [low, high, leg.outside, surface.ease, *self.wall]
        numbers += [surface.content, surface.leaving]
        per_draw = np.empty((len(numbers), low.size))
        for row, number in zip(per_draw, numbers, strict=True):
            row[:] = number
        holdings = self.holdings
        lags = np.zeros((2, *self.reach.shape))
        lags[0, :-1], lags[1, :-1] = holdings.lag_inside, holdings.lag_outside
        per_cell = np.array([holdings.cells, self.reach, *lags, self.content])
        reading = between([(leg.duration, count)], local)
        size, twice = float(np.cbrt(leg.duration) / count), corrected_steps(count)
        schedule = (size, count, twice, reading.first, reading.shares)
        series, final = compiled.march(per_cell, per_draw, schedule=schedule, outputs=len(local))
        before = np.einsum("cn,cn->n", holdings.cells, self.content)
        self.content, self.surface = final[:-1], final[-1]
        self.lost = before - np.einsum("cn,cn->n", holdings.cells, self.content)
        return series


class _Places:
    """Where profiles are read: cubics through the four nearest middles of cells."""

    def __init__(self, faces: Array, radii: Array) -> None:
        nodes = np.vstack((0.5 * (faces[1:] + faces[:-1]), faces[-1:]))
        above = (nodes[:, None] < radii).sum(axis=0)
        self.first = np.clip(above - 2, 0, len(nodes) - 4)
        near = [np.take_along_axis(nodes, self.first + ahead, axis=0) for ahead in range(4)]
        self.shares = [_share(near, number, radii) for number in range(4)]

    def of(self, content: Array) -> Array:
        """Contents [K or kg/kg] at the places, from those of the cells [K or kg/kg]."""
        return np.asarray(
            sum(
                share * np.take_along_axis(content, self.first + ahead, axis=0)
                for ahead, share in enumerate(self.shares)
            )
        )


def _share(near: Sequence[Array], number: int, radii: Array) -> Array:
    """Share of one of four nodes in the cubic through them."""
    share = np.ones_like(radii)
    for other in range(4):
        if other != number:
            share = share * (radii - near[other]) / (near[number] - near[other])
    return share
