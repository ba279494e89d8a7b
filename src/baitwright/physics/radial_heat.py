"""Heat in and out of balls with or without a core, many draws at once, in water that may cool."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.radial_ball import Ball, CutBall, ball_values, cut_ball
from baitwright.physics.shells import ShellSystem

_DAMPED_STEPS = 2  # steps after each change of surroundings taken as two implicit halves


@dataclass(frozen=True, slots=True)
class Bath:
    """A finite, well mixed bath that boils at its ceiling.

    Its heat capacity [J/K], the net power it gets [W] (negative where it only loses heat), the
    ceiling [K], the number of balls in it [1], and its temperature at first [K], the ceiling where
    none is given.
    """

    heat_capacity: Values
    net_power: Values
    ceiling: Values
    bodies: Values
    start: Values | None = None


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of time in the same surroundings.

    Duration [s]; temperature [K] or a bath; surface coefficient [W/m2/K]; its own time step [s]
    where the run's is too fine or too coarse.
    """

    duration: float
    surroundings: Values | Bath
    coefficient: Values
    step: float | None = None


@dataclass(frozen=True, slots=True)
class HeatRun:
    """What ``heat`` found; t time levels, n draws, cells from the centre outward.

    Times (t,) [s]; temperatures [K] of the shell's inner wall (of the centre in a solid ball), of
    the surface, of the shell on average and of the surroundings, each (t, n); heat taken up by one
    ball and heat its bath lost as vapour since the start (t, n) [J]; radii [m] and heat capacities
    [J/K] of the cells (cells, n), the first ``core_cells`` of which are core; the last profile
    (cells, n) [K], and all of them (t, cells, n) where they were asked for.
    """

    times: Array
    innermost_shell: Array
    surface: Array
    shell_mean: Array
    surroundings: Array
    heat_in: Array
    heat_vented: Array
    radii: Array
    capacities: Array
    core_cells: int
    profile: Array
    profiles: Array | None = field(default=None)


def heat(
    ball: Ball,
    legs: Sequence[Leg],
    *,
    start: Values,
    step: float = 0.25,
    keep_profiles: bool = False,
    cells: tuple[int, int] | None = None,
) -> HeatRun:
    """Temperatures inside a ball as it goes through one surrounding after another.

    Parameters
    ----------
    ball: radii and materials, numbers or one per draw [Ball]
    legs: the surroundings in order [Leg]
    start: temperature at first: a number, one per draw, or a profile (cells, n) [K]
    step: longest time step, 1e-4 to 60 [s]
    keep_profiles: whether to keep every profile [bool]
    cells: number of cells in the core and in the shell, chosen to suit where not given [1]

    Returns
    -------
    The run [HeatRun]

    Raises
    ------
    RangeError: a radius, property or leg is not possible.

    Notes
    -----
    Finite volumes with centred faces, half-cell resistances in series across the core's wall, and
    Crank-Nicolson in the form u' = 2 v - u, v an implicit half step; each leg starts with four
    implicit half steps, which damp the jump at the surface. A bath is one more cell around the
    ball, held at its ceiling while it has power to spare. Properties are constant.

    Reference: crank-nicolson-1947; rannacher-1984 (implicit start).
    """
    within("step", step, low=1e-4, high=60.0, unit="s")
    around = [value for leg in legs for value in _leg_values(leg)]
    shapes = (np.shape(value) for value in (*ball_values(ball), *around))
    shape = np.broadcast_shapes((1,), np.shape(start)[-1:], *shapes)
    body = cut_ball(ball, shape, cells=cells)
    steps = [_step_count(leg, step) for leg in legs]
    record = _Record(body, 1 + sum(steps), keep_profiles)
    march = _March(body, record, start)
    for leg, count in zip(legs, steps, strict=True):
        march.go_through(leg, count)
    return record.run(march.profile)


def _step_count(leg: Leg, step: float) -> int:
    within("leg.duration", leg.duration, low=1e-6, high=1e7, unit="s")
    if leg.step is not None:
        within("leg.step", leg.step, low=1e-4, high=3600.0, unit="s")
    return max(_DAMPED_STEPS, math.ceil(leg.duration / (leg.step or step) - 1e-9))


def _leg_values(leg: Leg) -> list[Values]:
    within("leg.coefficient", leg.coefficient, low=1e-3, high=1e9, unit="W/m2/K")
    if not isinstance(leg.surroundings, Bath):
        within("leg.surroundings", leg.surroundings, low=150.0, high=700.0, unit="K")
        return [leg.surroundings, leg.coefficient]
    bath = leg.surroundings
    within("bath.heat_capacity", bath.heat_capacity, low=1e-3, high=1e9, unit="J/K")
    within("bath.ceiling", bath.ceiling, low=250.0, high=700.0, unit="K")
    within("bath.bodies", bath.bodies, low=1e-6, high=1e9)
    if bath.start is not None:
        within("bath.start / bath.ceiling", np.divide(bath.start, bath.ceiling), low=0.3, high=1.0)
    return [bath.heat_capacity, bath.net_power, bath.ceiling, bath.bodies, leg.coefficient]


class _Record:
    """The time levels as they are reached."""

    def __init__(self, body: CutBall, levels: int, keep_profiles: bool) -> None:
        self.body = body
        cells, draws = body.radii.shape
        self.times = np.zeros(levels)
        self.wall, self.surface, self.mean, self.around, self.heat_in, self.vented = np.zeros(
            (6, levels, draws)
        )
        self.profiles = np.empty((levels, cells, draws)) if keep_profiles else None
        self.level = -1

    def note(self, time: float, profile: Array, *, surface: Array, around: Array) -> None:
        body = self.body
        self.level += 1
        level = self.level
        self.times[level] = time
        for cell, weight in zip(body.wall_cells, body.wall_weights, strict=True):
            self.wall[level] += weight * profile[cell]
        self.surface[level] = surface
        np.einsum("cn,cn->n", body.mean_weights, profile[body.core_cells :], out=self.mean[level])
        self.around[level] = around
        if self.profiles is not None:
            self.profiles[level] = profile

    def run(self, profile: Array) -> HeatRun:
        return HeatRun(
            times=self.times,
            innermost_shell=self.wall,
            surface=self.surface,
            shell_mean=self.mean,
            surroundings=self.around,
            heat_in=self.heat_in,
            heat_vented=self.vented,
            radii=self.body.radii,
            capacities=self.body.capacity,
            core_cells=self.body.core_cells,
            profile=profile,
            profiles=self.profiles,
        )


class _March:
    """The state between steps: the profile, what surrounds it, and the ledgers of heat."""

    def __init__(self, body: CutBall, record: _Record, start: Values) -> None:
        within("start", start, low=150.0, high=700.0, unit="K")
        self.body, self.record = body, record
        cells, draws = body.radii.shape
        self.profile = np.array(np.broadcast_to(start, (cells, draws)), dtype=np.float64)
        self.system = ShellSystem(cells, draws)
        self.load = np.empty((cells, draws))
        self.heat_in, self.vented = np.zeros(draws), np.zeros(draws)
        self.time = 0.0

    def go_through(self, leg: Leg, steps: int) -> None:
        body, record = self.body, self.record
        step = leg.duration / steps
        film = leg.coefficient * body.area
        outside = _Outside(leg, film * body.skin / (film + body.skin), step)
        rate = body.capacity * (2.0 / step)
        self.system.factor(rate, body.conductance)
        began = self.time
        if record.level < 0:
            self._note(film, outside)
        for number in range(1, steps + 1):
            if number <= _DAMPED_STEPS:
                self._half(rate, outside, reach=1.0)
                self._half(rate, outside, reach=1.0)
            else:
                self._half(rate, outside, reach=2.0)
            self.time = began + number * step
            self._note(film, outside)

    def _half(self, rate: Array, outside: _Outside, *, reach: float) -> None:
        """An implicit half step, kept as it is or carried twice as far."""
        load, profile = self.load, self.profile
        np.multiply(rate, profile, out=load)
        folded = self.system.fold(load)
        outermost, gained, vented = outside.exchange(self.system.outer, folded, reach=reach)
        self.system.unfold(load, outermost)
        if reach == 1.0:
            self.profile, self.load = load, profile
        else:
            np.add(load, load, out=load)
            np.subtract(load, profile, out=profile)
        self.heat_in += gained
        self.vented += vented

    def _note(self, film: Array, outside: _Outside) -> None:
        skin = self.body.skin
        surface = (skin * self.profile[-1] + film * outside.temperature) / (skin + film)
        self.record.note(self.time, self.profile, surface=surface, around=outside.temperature)
        self.record.heat_in[self.record.level] = self.heat_in
        self.record.vented[self.record.level] = self.vented


class _Outside:
    """What lies around the ball during one leg: a held temperature, or its share of a bath."""

    def __init__(self, leg: Leg, conductance: Array, step: float) -> None:
        self.conductance = conductance
        self.half_step = 0.5 * step
        bath = leg.surroundings
        self.is_bath = isinstance(bath, Bath)
        if isinstance(bath, Bath):
            start = bath.ceiling if bath.start is None else bath.start
            self.capacity = np.asarray(bath.heat_capacity) / bath.bodies
            self.power = np.asarray(bath.net_power) / bath.bodies
            self.ceiling = np.broadcast_to(bath.ceiling, conductance.shape)
            self.temperature = np.array(np.broadcast_to(start, conductance.shape))
        else:
            self.temperature = np.array(np.broadcast_to(bath, conductance.shape))

    def exchange(
        self, held: Array, folded: Array, *, reach: float
    ) -> tuple[Array, Array, Array | float]:
        """The outermost cell after a half step; heat into the ball and off the bath in the step.

        The cell obeys held x - (flow in) = folded. The bath obeys the same implicit half step, and
        its ceiling is an obstacle: what it would rise above it goes off as vapour.
        """
        share = self.conductance / (held + self.conductance)
        before = self.temperature
        if not self.is_bath:
            flow = share * (held * before - folded)
            return (folded + flow) / held, reach * self.half_step * flow, 0.0
        inertia = self.capacity / self.half_step
        free = (inertia * before + self.power + share * folded) / (inertia + share * held)
        middle = np.minimum(free, self.ceiling)
        flow = share * (held * middle - folded)
        after = np.minimum(before + reach * (middle - before), self.ceiling)
        self.temperature = after
        time = reach * self.half_step
        spare = time * (self.power - flow) - self.capacity * (after - before)
        vented = np.where(after < self.ceiling, 0.0, spare)
        return (folded + flow) / held, time * flow, vented
