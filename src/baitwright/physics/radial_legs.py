"""What ``heat`` takes and gives: surroundings, the run, and the choices between."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.physics.limits import Array, Values
from baitwright.physics.radial_problem import Method


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
    (cells, n) [K], and all of them (t, cells, n) where they were asked for; how the ball was
    followed, and the estimated error (n,) [K] where asked for.
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
    profiles: Array | None = None
    method: Method = Method.CELLS
    error: Array | None = None


@dataclass(frozen=True, slots=True)
class HeatHow:
    """Choices a caller of ``heat`` may leave alone.

    The method, chosen by the problem where not given; number of cells in the core and in the shell,
    chosen to suit where not given [1]; whether to estimate the error by a second run.
    """

    method: Method | None = None
    cells: tuple[int, int] | None = None
    check: bool = False
