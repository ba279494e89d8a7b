"""Water out of balls in air and into balls in water, in shells that shrink and swell with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from baitwright.physics.limits import Array, Values, within
from baitwright.physics.moist_shells import MoistBall, MoistShells, cut_moist_ball
from baitwright.physics.moist_surface import (
    AirLeg,
    HeldSurface,
    MoistureLaws,
    OpenSurface,
    WaterLeg,
)
from baitwright.physics.radial_laws import Diffusivity, MoistureDiffusivity
from baitwright.physics.radial_march import March, between, steps_of
from baitwright.physics.shell_conductor import ShellConductor, shell_holdings
from baitwright.physics.shells import sphere_volume
from baitwright.terms.errors import ComputationError

MOIST_STEPS = 88
"""Time steps of a run: drying surfaces and shrinking shells ask for more than rigid ones [1]."""

_ASTRAY = 0.001
"""Water below none, per first water, that is no rounding: the accuracy told in ``dry`` [1]."""

_Surface: TypeAlias = OpenSurface | HeldSurface


@dataclass(frozen=True, slots=True)
class MoistureRun:
    """What ``dry`` or ``absorb`` found; t time levels, n draws.

    Times (t,) [s]; each (t, n): water in the ball and water it has lost since the start [kg], water
    per solids on average and at the surface [kg/kg], water activity [1] (not a number where the
    surface is held) and temperature [K] of the surface, outer radius [m], air in the shell [m3];
    the shells at the end, from which the next run can start; and an upper estimate of the error
    (n,) of the water, per first water [1], where asked for.
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
    error: Array | None = None


def dry(
    ball: MoistBall | MoistShells,
    legs: Sequence[AirLeg],
    *,
    laws: MoistureLaws,
    steps: int = MOIST_STEPS,
    output_times: Array | None = None,
    check: bool = False,
) -> MoistureRun:
    """Water leaving (or entering) a ball in air, hour after hour.

    Parameters
    ----------
    ball: what the ball is, or the shells an earlier run left [MoistBall or MoistShells]
    legs: the surroundings in order [AirLeg]
    laws: diffusivity, water activity, saturation pressure and latent heat [MoistureLaws]
    steps: time steps over all legs, uniform in the cube root of each leg's time [1]
    output_times: times to report; all steps and their middles where not given [s]
    check: whether to estimate the error by a run with half the shells and steps [bool]

    Returns
    -------
    The run [MoistureRun]

    Raises
    ------
    RangeError: a radius, property, leg or output time is not possible.
    ComputationError: no surface temperature above 253 K closes the balance of heat, or diffusivity
    differs too much from shell to shell.

    Notes
    -----
    Finite volumes in the solids' own coordinates, compact to fourth order while diffusivity is
    even; third-order backward differences in the cube root of time, diffusivity and geometry
    extrapolated to the new level and, in the first steps, corrected. At the surface, water
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
        check=check,
    )


def absorb(
    ball: MoistBall | MoistShells,
    legs: Sequence[WaterLeg],
    *,
    diffusivity: Diffusivity,
    steps: int = MOIST_STEPS,
    output_times: Array | None = None,
    check: bool = False,
) -> MoistureRun:
    """Water entering (or leaving) a ball whose surface is held at a water content.

    Parameters
    ----------
    ball: what the ball is, or the shells an earlier run left [MoistBall or MoistShells]
    legs: the surroundings in order [WaterLeg]
    diffusivity: of water in the solids, from temperature and water content [m2/s]
    steps: time steps over all legs, uniform in the cube root of each leg's time [1]
    output_times: times to report; all steps and their middles where not given [s]
    check: whether to estimate the error by a run with half the shells and steps [bool]

    Returns
    -------
    The run; what it ``evaporated`` is negative while water enters [MoistureRun]

    Raises
    ------
    RangeError: a radius, property, leg or output time is not possible.
    ComputationError: diffusivity differs too much from shell to shell.

    Notes
    -----
    As ``dry``. Where diffusivity grows 150-fold with the water taken up, the mean content was
    within 0.005 of a grid four times as fine; of 1,024 balls of every sort 95 in 100 within 0.0015.

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
        check=check,
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
    check: bool,
) -> MoistureRun:
    """One run, and where wanted a coarser one beside it."""
    if isinstance(diffusivity, MoistureDiffusivity):
        diffusivity.check("diffusivity")
    run = _through(shells, legs, diffusivity=diffusivity, steps=steps, output_times=output_times)
    if not check:
        return run
    coarse = _through(
        shells.halved(), legs, diffusivity=diffusivity, steps=steps // 2, output_times=run.times
    )
    apart = np.abs(run.water - coarse.water).max(axis=0) / run.water[0]
    return replace(run, error=apart)


def _through(
    shells: MoistShells,
    legs: Sequence[tuple[float, _Surface]],
    *,
    diffusivity: Diffusivity,
    steps: int,
    output_times: Array | None,
) -> MoistureRun:
    within("steps", float(steps), low=8, high=100_000)
    durations = np.array([duration for duration, _ in legs])
    within("leg.duration", durations, low=1.0, high=1e8, unit="s")
    wanted = output_times
    if wanted is not None:
        last = float(durations.sum()) * (1.0 + 1e-12)
        wanted = within("output_times", wanted, low=0.0, high=last, unit="s")
    march = March(shell_holdings(shells), ShellConductor(shells, diffusivity), shells.water_content)
    record = _Record(shells)
    counts = steps_of(durations, steps)
    for (duration, surface), count in zip(legs, counts, strict=True):
        march.meet(surface)
        if not record.rows:
            record.note(march, surface)
        for _ in march.go(np.cbrt(duration) / count, count):
            record.note(march, surface)
    plan = list(zip(durations.tolist(), counts, strict=True))
    return record.run(march.cells, plan, wanted=wanted)


class _Record:
    """The time levels as they are reached."""

    def __init__(self, shells: MoistShells) -> None:
        self.shells = shells
        self.rows: list[Array] = []

    def note(self, march: March, surface: _Surface) -> None:
        content, shells = march.cells, self.shells
        water = np.einsum("cn,cn->n", shells.solids, content)
        air = np.einsum("cn,cn->n", shells.solids, shells.air(content))
        self.rows.append(
            np.array(
                (water, march.lost, air, surface.content, surface.activity, surface.temperature)
            )
        )

    def run(
        self, content: Array, legs: Sequence[tuple[float, int]], *, wanted: Array | None
    ) -> MoistureRun:
        times = _steps_and_middles(legs) if wanted is None else wanted
        rows = between(legs, times).of(np.array(self.rows))
        water, lost, air, surface, activity, temperature = np.moveaxis(rows, 1, 0)
        if not np.all(water > -_ASTRAY * np.abs(water[0])):
            raise ComputationError(
                "water moves so much more readily in one shell than in the next that the run went "
                "astray"
            )
        np.maximum(air, 0.0, out=air)  # where it runs out the cubic would pass below none
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


def _steps_and_middles(legs: Sequence[tuple[float, int]]) -> Array:
    """All steps of each leg, and the middles between them in the root of its time."""
    times, began = [np.zeros(1)], 0.0
    for duration, count in legs:
        places = np.arange(1, 2 * count + 1) / (2.0 * count)
        times.append(began + duration * places**3)
        began += duration
    return np.concatenate(times)
