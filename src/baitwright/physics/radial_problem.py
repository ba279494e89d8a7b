"""What ``transport`` can be asked: a ball, its surroundings one after the other, and how to go."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from baitwright.physics.compiled import Backend
from baitwright.physics.limits import Array, Values, within
from baitwright.physics.modal import ModalState
from baitwright.physics.moist_shells import CELLS
from baitwright.physics.radial_laws import ExponentialLaw, Law
from baitwright.physics.radial_march import STEPS

CHUNK = 2048
"""Draws whose modes are found and summed together [1]."""


class Method(Enum):
    """How a ball is followed."""

    MODES = "exact modes"
    CELLS = "finite volumes"


@dataclass(frozen=True, slots=True)
class Medium:
    """A material.

    Conductivity, a number, one per draw, or a law of the value [W/m/K or m2/s]; capacity per volume
    [J/m3/K or 1].
    """

    conductivity: Values | Law
    capacity: Values = 1.0

    def numbers(self) -> list[Values]:
        """Everything that may be one number per draw [unit]."""
        if isinstance(self.conductivity, ExponentialLaw):
            return [self.capacity, *self.conductivity.values()]
        return (
            [self.capacity] if callable(self.conductivity) else [self.capacity, self.conductivity]
        )

    def check(self, name: str) -> None:
        """Raise RangeError where a number of the material is none, or not possible."""
        within(f"{name}.capacity", self.capacity, low=1e-9, high=1e10)
        if isinstance(self.conductivity, ExponentialLaw):
            self.conductivity.check(f"{name}.conductivity")
        elif not callable(self.conductivity):
            within(f"{name}.conductivity", self.conductivity, low=1e-16, high=1e4)


@dataclass(frozen=True, slots=True)
class Sphere:
    """A ball: radii [m]; a core radius of 0 is solid, a core of ``None`` lets nothing in."""

    outer_radius: Values
    core_radius: Values
    shell: Medium
    core: Medium | None = None

    def numbers(self) -> list[Values]:
        """Everything that may be one number per draw [unit]."""
        core = [] if self.core is None else self.core.numbers()
        return [self.outer_radius, self.core_radius, *self.shell.numbers(), *core]


@dataclass(frozen=True, slots=True)
class Stretch:
    """Time in the same surroundings.

    Duration [s]; value outside [K or kg/kg]; film coefficient, infinite where the surface is held
    at that value [W/m2/K or m/s].
    """

    duration: float
    outside: Values
    coefficient: Values = math.inf

    def check(self) -> None:
        """Raise RangeError where a number of the stretch is none, or not possible."""
        within("stretch.duration", self.duration, low=1e-6, high=1e10, unit="s")
        within("stretch.outside", self.outside, low=-1e6, high=1e6)
        within("stretch.coefficient", self.coefficient, low=1e-16, high=math.inf)


@dataclass(frozen=True, slots=True)
class How:
    """Choices a caller may leave alone.

    The method and what runs it, chosen by the problem where not given; whether to estimate the
    error by a second run; number of cells and of time steps [1]; places of the profiles wanted, as
    shares of the outer radius, (places,) [1].
    """

    method: Method | None = None
    backend: Backend | None = None
    check: bool = False
    cells: int = CELLS
    steps: int = STEPS
    places: Array | None = None


@dataclass(frozen=True, slots=True)
class Standing:
    """Where balls stand after a run, to go on from.

    Amplitudes of their modes, one part for each ``CHUNK`` of draws; or the cells' means,
    (cells, draws) [K or kg/kg].
    """

    modes: tuple[ModalState, ...] = ()
    cells: Array | None = None


@dataclass(frozen=True, slots=True)
class Problem:
    """What was asked, checked and as arrays of one shape, (draws,).

    Radii [m], values outside [K or kg/kg], film coefficients [W/m2/K or m/s], durations [s], the
    start [K or kg/kg], output times [s], radii of the profiles, (places, draws) [m].
    """

    sphere: Sphere
    outer: Array
    inner: Array
    outside: tuple[Array, ...]
    coefficient: tuple[Array, ...]
    durations: tuple[float, ...]
    start: Array | Standing
    times: Array
    radii: Array | None

    def spread(self, values: Values) -> Array:
        """A number or one per draw [unit] as one per draw [unit]."""
        return np.broadcast_to(np.asarray(values, dtype=np.float64), self.outer.shape)

    def parts(self) -> Iterator[slice]:
        """The draws in parts of ``CHUNK`` [1]."""
        for first in range(0, self.outer.size, CHUNK):
            yield slice(first, first + CHUNK)


def posed(
    sphere: Sphere,
    stretches: Sequence[Stretch],
    start: Values | Standing,
    *,
    times: Array,
    how: How,
) -> Problem:
    """The problem as arrays, once everything in it is known to be possible.

    Parameters
    ----------
    sphere: radii and materials, numbers or one per draw [Sphere]
    stretches: the surroundings in order [Stretch]
    start: the value at first, or where a run of the same balls ended [K or kg/kg]
    times: rising, from 0 to the end of the last stretch [s]
    how: choices that may be left alone [How]

    Returns
    -------
    The problem [Problem]

    Raises
    ------
    RangeError: a radius, property, stretch, place or time is not possible, or not a number.
    """
    sphere.shell.check("sphere.shell")
    if sphere.core is not None:
        sphere.core.check("sphere.core")
    for stretch in stretches:
        stretch.check()
    durations = tuple(stretch.duration for stretch in stretches)
    within("stretches", float(len(durations)), low=1, high=1000)
    wanted = within("times", times, low=0.0, high=sum(durations) * (1.0 + 1e-12), unit="s")
    hint = "Output times have to rise."
    within("times", np.diff(wanted, prepend=0.0), low=0.0, high=math.inf, unit="s", hint=hint)
    within("how.cells", float(how.cells), low=8, high=10_000)
    within("how.steps", float(how.steps), low=8, high=100_000)
    outer, inner = _radii(sphere, _shape(sphere, stretches, start))
    return Problem(
        sphere,
        outer,
        inner,
        tuple(_spread(stretch.outside, outer) for stretch in stretches),
        tuple(_spread(stretch.coefficient, outer) for stretch in stretches),
        durations,
        start if isinstance(start, Standing) else _spread(start, outer),
        np.atleast_1d(wanted),
        _places(how, sphere, outer=outer, inner=inner),
    )


def _spread(values: Values, like: Array) -> Array:
    return np.broadcast_to(np.asarray(values, dtype=np.float64), like.shape)


def _shape(
    sphere: Sphere, stretches: Sequence[Stretch], start: Values | Standing
) -> tuple[int, ...]:
    """The one shape of all draws."""
    around = [value for leg in stretches for value in (leg.outside, leg.coefficient)]
    shapes = [np.shape(value) for value in (*sphere.numbers(), *around)]
    if not isinstance(start, Standing):
        within("start", start, low=-1e6, high=1e6)
        shapes.append(np.shape(start))
    elif start.cells is not None:
        shapes.append(start.cells.shape[1:])
    else:
        shapes.append((sum(part.outside.size for part in start.modes),))
    return np.broadcast_shapes((1,), *shapes)


def _radii(sphere: Sphere, shape: tuple[int, ...]) -> tuple[Array, Array]:
    outer = within("sphere.outer_radius", sphere.outer_radius, low=1e-6, high=10.0, unit="m")
    inner = within("sphere.core_radius", sphere.core_radius, low=0.0, high=10.0, unit="m")
    outer, inner = np.broadcast_to(outer, shape), np.broadcast_to(inner, shape)
    within("sphere.core_radius / sphere.outer_radius", inner / outer, low=0.0, high=0.999)
    if (inner == 0.0).any():
        hint = "Balls with and without a core need a call each."
        within("sphere.core_radius", inner, low=0.0, high=0.0, unit="m", hint=hint)
    return outer, inner


def _places(how: How, sphere: Sphere, *, outer: Array, inner: Array) -> Array | None:
    if how.places is None:
        return None
    lowest = 1e-6 if sphere.core is not None else max(1e-6, float((inner / outer).max()))
    places = within("how.places", how.places, low=lowest, high=1.0)
    return np.multiply.outer(np.atleast_1d(places), outer)
