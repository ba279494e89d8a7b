"""Heat in and out of balls with or without a core, many draws at once, in water that may cool."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.modal import FAINT
from baitwright.physics.radial_ball import Ball, CutBall, ball_values, cut_ball
from baitwright.physics.radial_heat_exact import exact_heat
from baitwright.physics.radial_legs import Bath, HeatHow, HeatRun, Leg
from baitwright.physics.radial_problem import Method
from baitwright.physics.shells import ShellSystem
from baitwright.terms.errors import InputError

_DAMPED_STEPS = 2  # steps after each change of surroundings taken as two implicit halves


def heat(
    ball: Ball,
    legs: Sequence[Leg],
    *,
    start: Values,
    step: float = 0.25,
    keep_profiles: bool = False,
    how: HeatHow | None = None,
) -> HeatRun:
    """Temperatures inside a ball as it goes through one surrounding after another.

    Parameters
    ----------
    ball: radii and materials, numbers or one per draw [Ball]
    legs: the surroundings in order [Leg]
    start: temperature at first: a number, one per draw, or a profile (cells, n) [K]
    step: longest time step, 1e-4 to 60 [s]
    keep_profiles: whether to keep every profile [bool]
    how: choices that may be left alone [HeatHow]

    Returns
    -------
    The run [HeatRun]

    Raises
    ------
    RangeError: a radius, property or leg is not possible, or not a number.
    InputError: the method asked for cannot follow this ball.

    Notes
    -----
    In held surroundings and from an even start, the exact modes of one or two layers, read at every
    step. In a bath, from a profile, or with a number of cells: finite volumes with centred faces,
    half-cell resistances in series across the core's wall, and Crank-Nicolson in the form
    u' = 2 v - u, v an implicit half step; each leg starts with four implicit half steps, which damp
    the jump at the surface. A bath is one more cell around the ball, held at its ceiling while it
    has power to spare. Properties are constant.

    Reference: crank-nicolson-1947; rannacher-1984 (implicit start); carslaw-jaeger-1959, ch. 9.
    """
    how = how or HeatHow()
    within("step", step, low=1e-4, high=60.0, unit="s")
    within("start", start, low=150.0, high=700.0, unit="K")
    steps = [_step_count(leg, step) for leg in legs]
    run = _run(ball, legs, steps=steps, start=start, keep_profiles=keep_profiles, how=how)
    if not how.check:
        return run
    if run.method is Method.MODES:
        finer = exact_heat(ball, legs, steps=steps, start=start, faint=2.0 * FAINT)
        return replace(run, error=_apart(run, finer))
    if np.ndim(start) > 1:
        raise InputError("how.check", "a start from a profile", "an even start")
    halves = [max(_DAMPED_STEPS, count // 2) for count in steps]
    shell = len(run.radii) - run.core_cells
    core = max(3, run.core_cells // 2)
    fewer = HeatHow(Method.CELLS, (core, max(3, shell // 2)))
    coarse = _run(ball, legs, steps=halves, start=start, keep_profiles=False, how=fewer)
    return replace(run, error=_apart(run, coarse) / 3.0)


def _run(
    ball: Ball,
    legs: Sequence[Leg],
    *,
    steps: Sequence[int],
    start: Values,
    keep_profiles: bool,
    how: HeatHow,
) -> HeatRun:
    """One run by the method that fits."""
    shape = _shape(ball, legs, start)
    bath = any(isinstance(leg.surroundings, Bath) for leg in legs)
    exact = not bath and np.ndim(start) < 2 and how.cells is None
    if how.method is Method.MODES and not exact:
        raise InputError("how.method", how.method.value, "finite volumes, for a bath or a profile")
    if exact and how.method is not Method.CELLS:
        return exact_heat(ball, legs, steps=steps, start=start, keep_profiles=keep_profiles)
    body = cut_ball(ball, shape, cells=how.cells)
    record = _Record(body, 1 + sum(steps), keep_profiles)
    march = _March(body, record, start)
    for leg, count in zip(legs, steps, strict=True):
        march.go_through(leg, count)
    return record.run(march.profile)


def _shape(ball: Ball, legs: Sequence[Leg], start: Values) -> tuple[int, ...]:
    """The one shape of all draws, once all legs are known to be possible."""
    around = [value for leg in legs for value in _leg_values(leg)]
    shapes = (np.shape(value) for value in (*ball_values(ball), *around))
    return np.broadcast_shapes((1,), np.shape(start)[-1:], *shapes)


def _apart(run: HeatRun, other: HeatRun) -> Array:
    """Largest difference between two runs at the levels of the one with fewer, per draw [K]."""
    apart = np.zeros(run.surface.shape[1:])
    at = np.minimum(np.searchsorted(run.times, other.times - 1e-9), len(run.times) - 1)
    same = np.abs(run.times[at] - other.times) < 1e-6
    for one, two in (
        (run.innermost_shell, other.innermost_shell),
        (run.surface, other.surface),
        (run.shell_mean, other.shell_mean),
    ):
        np.maximum(apart, np.abs(one[at[same]] - two[same])[1:].max(axis=0), out=apart)
    return apart


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
    within("bath.net_power", bath.net_power, low=-1e9, high=1e9, unit="W")  # any that is one
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
