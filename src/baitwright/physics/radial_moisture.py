"""Water out of balls in air and into balls in water, in shells that shrink and swell with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.moist_shells import MoistBall, MoistShells, cut_moist_ball
from baitwright.physics.moist_surface import (
    AirLeg,
    Diffusivity,
    HeldSurface,
    MoistureLaws,
    OpenSurface,
    WaterLeg,
)
from baitwright.physics.shells import ShellSystem, sphere_area, sphere_volume

_Surface: TypeAlias = OpenSurface | HeldSurface

_FEWEST_STEPS = 24  # of any leg, however short
_HALVINGS = 5  # of the first steps after each change of surroundings
_CORRECTED = 32  # steps solved twice, while the surface dries faster than a step can follow

# Backward differences of order 1 to 3: weight of the new level, then of those before it.
_DIFFERENCES = ((1.0, (1.0,)), (1.5, (2.0, -0.5)), (11.0 / 6.0, (3.0, -1.5, 1.0 / 3.0)))


@dataclass(frozen=True, slots=True)
class MoistureRun:
    """What ``dry`` or ``absorb`` found; t time levels, n draws.

    Times (t,) [s]; each (t, n): water in the ball and water it has lost since the start [kg], water
    per solids on average and at the surface [kg/kg], water activity [1] (not a number where the
    surface is held) and temperature [K] of the surface, outer radius [m], air in the shell [m3];
    and the shells at the end, from which the next run can start.
    """

    times: Array
    water: Array
    evaporated: Array
    mean_content: Array
    surface_content: Array
    surface_activity: Array
    surface_temperature: Array
    outer_radius: Array
    air_volume: Array
    final: MoistShells


def dry(
    ball: MoistBall | MoistShells,
    legs: Sequence[AirLeg],
    *,
    laws: MoistureLaws,
    steps: int = 160,
    output_times: Array | None = None,
) -> MoistureRun:
    """Water leaving (or entering) a ball in air, hour after hour.

    Parameters
    ----------
    ball: what the ball is, or the shells an earlier run left [MoistBall or MoistShells]
    legs: the surroundings in order [AirLeg]
    laws: diffusivity, water activity, saturation pressure and latent heat [MoistureLaws]
    steps: time steps over all legs, uniform in the square root of each leg's time [1]
    output_times: times to report, all steps where not given [s]

    Returns
    -------
    The run [MoistureRun]

    Raises
    ------
    RangeError: a radius, property, leg or output time is not possible.
    ComputationError: no surface temperature above 253 K closes the balance of heat.

    Notes
    -----
    Finite volumes in the solids' own coordinates, third-order backward differences in the square
    root of time, diffusivity and geometry extrapolated to the new level. At the surface, water
    arriving = k (a_w p(T_s) - RH p(T_a)) / (R_w T_film) and heat arriving, h (T_a - T_s), = latent
    heat times that, both solved with each step. The ball is taken to be as warm as its surface.
    Against grids four times as fine, 1,024 balls of every sort kept within 0.001 of their first
    water, and balls with constant diffusivity within 0.0005 of the exact series.

    Reference: crank-1975, sec. 10.6 (solids' coordinates); bird-stewart-lightfoot, sec. 22.3.
    """
    values = [value for leg in legs for value in leg.values()]
    shells = _start(ball, values)
    return _march(
        shells,
        [(leg.duration, OpenSurface(leg, laws, shells.core_radius.shape)) for leg in legs],
        diffusivity=laws.diffusivity,
        steps=steps,
        output_times=output_times,
    )


def absorb(
    ball: MoistBall | MoistShells,
    legs: Sequence[WaterLeg],
    *,
    diffusivity: Diffusivity,
    steps: int = 160,
    output_times: Array | None = None,
) -> MoistureRun:
    """Water entering (or leaving) a ball whose surface is held at a water content.

    Parameters
    ----------
    ball: what the ball is, or the shells an earlier run left [MoistBall or MoistShells]
    legs: the surroundings in order [WaterLeg]
    diffusivity: of water in the solids, from temperature and water content [m2/s]
    steps: time steps over all legs, uniform in the square root of each leg's time [1]
    output_times: times to report, all steps where not given [s]

    Returns
    -------
    The run; what it ``evaporated`` is negative while water enters [MoistureRun]

    Raises
    ------
    RangeError: a radius, property, leg or output time is not possible.

    Reference: crank-1975, sec. 6.3 and 10.6.
    """
    values = [value for leg in legs for value in leg.values()]
    shells = _start(ball, values)
    return _march(
        shells,
        [(leg.duration, HeldSurface(leg, shells.core_radius.shape)) for leg in legs],
        diffusivity=diffusivity,
        steps=steps,
        output_times=output_times,
    )


def _start(ball: MoistBall | MoistShells, around: Sequence[Values]) -> MoistShells:
    outside = [np.shape(value) for value in around]
    if isinstance(ball, MoistShells):
        return ball.spread(np.broadcast_shapes(ball.core_radius.shape, *outside))
    shapes = (*(np.shape(value) for value in ball.values()), *outside)
    shape = np.broadcast_shapes((1,), np.shape(ball.water_content)[-1:], *shapes)
    return cut_moist_ball(ball, shape)


def _march(
    shells: MoistShells,
    legs: Sequence[tuple[float, _Surface]],
    *,
    diffusivity: Diffusivity,
    steps: int,
    output_times: Array | None,
) -> MoistureRun:
    within("steps", float(steps), low=8, high=100_000)
    durations = np.array([duration for duration, _ in legs])
    spans = np.sqrt(within("leg.duration", durations, low=1.0, high=1e8, unit="s"))
    wanted = output_times
    if wanted is not None:
        last = float(durations.sum()) * (1.0 + 1e-12)
        wanted = within("output_times", wanted, low=0.0, high=last, unit="s")
    state = _State(shells, diffusivity)
    record = _Record(shells)
    began = 0.0
    for (duration, surface), span in zip(legs, spans, strict=True):
        count = max(_FEWEST_STEPS, round(steps * span / spans.sum()))
        state.meet(surface)
        if not record.times:
            record.note(0.0, 0.0, state)
        for place in state.go(span / count, count):
            record.note(began, place, state)
        began += duration
    return record.run(state.levels[-1].content[:-1], wanted)


@dataclass(frozen=True, slots=True)
class _Level:
    """One time level: water content of the cells and, last row, of the surface; water lost."""

    content: Array
    lost: Array
    temperature: Array


class _State:
    """The last levels, evenly spaced in the square root of the leg's time, and the next step."""

    def __init__(self, shells: MoistShells, diffusivity: Diffusivity) -> None:
        self.shells, self.diffusivity = shells, diffusivity
        content = np.vstack((shells.water_content, shells.water_content[-1:]))
        draws = shells.core_radius.shape
        self.levels = [_Level(content, np.zeros(draws), np.zeros(draws))]
        self.system = ShellSystem(*shells.solids.shape)
        self.pairs = shells.solids.copy()  # solids on both sides of each cell's outer face
        self.pairs[:-1] += shells.solids[1:]
        # Core, outer faces of the cells, and the surface again: a cell of no thickness beyond it.
        self.reach = np.empty((len(shells.solids) + 2, *draws))
        self.reach[0] = shells.core_radius

    def meet(self, surface: _Surface) -> None:
        """Enter new surroundings: what came before is no guide to the rates to come."""
        self.surface = surface
        level = self.levels[-1]
        surface.meet(level.content[-1])
        content = level.content.copy()
        content[-1] = surface.content
        self.levels = [_Level(content, level.lost, surface.temperature)]

    def go(self, spacing: float, count: int) -> Iterator[float]:
        """Take the steps of one leg; yields the root of the leg's time at each.

        The first steps are fine, and whenever four of a size are done every other level is
        dropped, so that the size doubles until it is the wanted one.
        """
        halvings, place = _HALVINGS, 0
        while place < count or halvings:
            place += 1
            size = spacing / 2.0**halvings
            self._step(place * size, size)
            yield place * size
            if halvings and place == 4:
                self.levels = self.levels[::2]
                halvings, place = halvings - 1, 2
            else:
                self.levels = self.levels[-5:]

    def _step(self, place: float, size: float) -> None:
        known = self.levels[:-4:-1]
        weight, past = _DIFFERENCES[len(known) - 1]
        # The first step of a leg is implicit in time itself: d/ds = 2 s d/dt is not known at 0.
        rate = weight / (2.0 * place * size) if len(known) > 1 else 1.0 / size**2
        before = _blend([share / weight for share in past], known)
        # A straight line on: a parabola would swing about where diffusivity falls steeply.
        guess = _blend((2.0, -1.0), known[:2]) if len(known) > 1 else known[0]
        for _ in range(2 if place <= _CORRECTED * size else 1):
            guess = self._solve(before, guess, rate)
        self.levels.append(guess)

    def _solve(self, before: _Level, guess: _Level, rate: float) -> _Level:
        """The level at which each cell's gain since ``before`` is what flows into it."""
        system, surface = self.system, self.surface
        conductance, area = self._conductances(guess)
        capacity = rate * self.shells.solids
        content = np.empty_like(guess.content)
        load = np.multiply(capacity, before.content[:-1], out=content[:-1])
        system.factor(capacity, conductance[:-1])
        folded = system.fold(load)
        still = folded / system.outer
        flow = surface.flow(still, 1.0 / system.outer + 1.0 / conductance[-1], area)
        system.unfold(load, still - flow / system.outer)
        content[-1] = surface.content
        return _Level(content, before.lost + flow / rate, surface.temperature)

    def _conductances(self, guess: _Level) -> tuple[Array, Array]:
        """Water passed per difference of content at each cell's outer face [kg/s]; outer area."""
        # An extrapolated content may fall below none; the solution itself cannot.
        content = np.maximum(guess.content, 0.0)
        reach = self.reach
        reach[1:-1] = self.shells.faces(content[:-1])
        reach[-1] = reach[-2]
        inside, face, outside = reach[:-2], reach[1:-1], reach[2:]
        # Solids per volume and distance between middles, both over the two cells at the face.
        spread = (outside - inside) ** 2 * (outside * (outside + inside) + inside * inside)
        content[1:] += content[:-1]
        content *= 0.5
        diffusivity = self.diffusivity(guess.temperature, content[1:])
        return 6.0 * diffusivity * self.pairs * face * face / spread, sphere_area(face[-1])


def _blend(shares: Sequence[float], levels: Sequence[_Level]) -> _Level:
    """A sum of levels, each with its share."""
    content, lost, temperature = (
        sum(share * values for share, values in zip(shares, column, strict=True))
        for column in zip(
            *((level.content, level.lost, level.temperature) for level in levels), strict=True
        )
    )
    return _Level(np.asarray(content), np.asarray(lost), np.asarray(temperature))


class _Record:
    """The time levels as they are reached."""

    def __init__(self, shells: MoistShells) -> None:
        self.shells = shells
        self.times: list[float] = []
        self.began: list[float] = []  # when the leg began that leads to this level
        self.rows: list[Array] = []

    def note(self, began: float, place: float, state: _State) -> None:
        level, shells, surface = state.levels[-1], self.shells, state.surface
        content = level.content[:-1]
        water = np.einsum("cn,cn->n", shells.solids, content)
        air = np.einsum("cn,cn->n", shells.solids, shells.air(content))
        self.times.append(began + place**2)
        self.began.append(began)
        self.rows.append(
            np.array(
                (water, level.lost, air, surface.content, surface.activity, surface.temperature)
            )
        )

    def run(self, content: Array, wanted: Array | None) -> MoistureRun:
        times, rows = np.array(self.times), np.array(self.rows)
        if wanted is not None:
            times, rows = self._between(times, rows, wanted)
        water, lost, air, surface, activity, temperature = np.moveaxis(rows, 1, 0)
        shells = self.shells
        solids = shells.solids.sum(axis=0)
        volume = solids / shells.solids_density + water / shells.water_density + air
        return MoistureRun(
            times=times,
            water=water,
            evaporated=lost,
            mean_content=water / solids,
            surface_content=surface,
            surface_activity=activity,
            surface_temperature=temperature,
            outer_radius=np.cbrt(shells.core_radius**3 + volume / sphere_volume(np.ones(1))),
            air_volume=air,
            final=shells.with_water(content),
        )

    def _between(self, times: Array, rows: Array, wanted: Array) -> tuple[Array, Array]:
        """Rows at other times: straight lines over the root of the leg's time, as water goes."""
        following = np.clip(np.searchsorted(times, wanted), 1, len(times) - 1)
        began = np.array(self.began)[following]
        first, last, at = (
            np.sqrt(np.maximum(of - began, 0.0))
            for of in (times[following - 1], times[following], wanted)
        )
        share = ((at - first) / (last - first))[:, None, None]
        return wanted, rows[following - 1] + share * (rows[following] - rows[following - 1])
