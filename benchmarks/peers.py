"""The same balls by general solvers: finite volumes in place, somebody else's method in time.

Flow between neighbours is the difference of the integral of diffusivity over content, so that a
peer needs one exponential a cell; its Jacobian is exact and banded.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.integrate import odeint, solve_ivp

from benchmarks.balls import Array, Balls

Solver = Callable[["Cells", Array, float], Array]


@dataclass(frozen=True)
class Setting:
    """Cells, their grading toward the surface, and the tolerance in time."""

    cells: int
    grading: float
    tolerance: float


class Cells:
    """One ball cut into cells, as an ordinary differential equation."""

    def __init__(self, balls: Balls, draw: int, setting: Setting) -> None:
        outer, core = float(balls.outer[draw]), float(balls.core[draw])
        count = setting.cells
        place = 1.0 - (1.0 - np.linspace(0.0, 1.0, count + 1)) ** setting.grading
        faces = core + place * (outer - core)
        middles = 0.5 * (faces[1:] + faces[:-1])
        self.volumes = np.diff(faces**3) / 3.0
        self._per_volume = 1.0 / self.volumes
        self._reach = faces[1:-1] ** 2 / np.diff(middles)
        self._skin = outer**2 / (outer - middles[-1])
        self._film = float(balls.film[draw]) * outer**2
        self._base, steep = float(balls.diffusivity[draw]), float(balls.steepness[draw])
        self._steep = steep if abs(steep) > 1e-6 else 1e-6
        self._flow, self.bands = np.zeros(count + 1), np.zeros((3, count))
        self._near = middles[0] - core, middles[1] - core
        self._last = 1.0
        self.count = count

    def _grown(self, content: Any) -> Any:
        return self._base * np.exp(self._steep * (content - 1.0))

    def surface(self, outermost: float) -> float:
        """Content at the surface: a rising convex equation, by Newton."""
        outermost = min(max(outermost, -2.0), 3.0)  # a solver's trial may be anywhere
        within = self._skin / self._steep
        inside = within * self._grown(outermost)
        content = self._last
        for _ in range(50):
            grown = self._grown(content)
            miss = self._film * content - inside + within * grown
            step = miss / (self._film + self._skin * grown)
            content -= step
            if abs(step) < 1e-12:
                break
        self._last = content
        return float(content)

    def rate(self, content: Array) -> Array:
        """Rate of change of each cell."""
        integral = self._grown(np.minimum(content, 3.0)) * (1.0 / self._steep)
        np.multiply(self._reach, integral[1:] - integral[:-1], out=self._flow[1:-1])
        self._flow[-1] = -self._film * self.surface(content[-1])
        return (self._flow[1:] - self._flow[:-1]) * self._per_volume

    def jacobian(self, content: Array) -> Array:
        """Its derivative, the bands from above to below."""
        grown = self._grown(content)
        bands, per_volume = self.bands, self._per_volume
        bands[0, 1:] = self._reach * grown[1:]
        bands[2, :-1] = self._reach * grown[:-1]
        bands[1, :-1] = -bands[2, :-1]
        bands[1, -1] = 0.0
        bands[1, 1:] -= bands[0, 1:]
        at_surface = self._skin * self._grown(self.surface(content[-1]))
        bands[1, -1] -= self._film * self._skin * grown[-1] / (self._film + at_surface)
        bands[0, 1:] *= per_volume[:-1]
        bands[1] *= per_volume
        bands[2, :-1] *= per_volume[1:]
        return bands

    def full_jacobian(self, content: Array) -> Array:
        """The same as a matrix."""
        bands = self.jacobian(content)
        return np.diag(bands[1]) + np.diag(bands[0, 1:], 1) + np.diag(bands[2, :-1], -1)

    def read(self, contents: Array) -> Array:
        """Wall, surface and mean of profiles (outputs, cells), as (3, outputs)."""
        near, far = self._near
        wall = (far**2 * contents[:, 0] - near**2 * contents[:, 1]) / (far**2 - near**2)
        surface = [self.surface(outermost) for outermost in contents[:, -1]]
        mean = contents @ self.volumes / self.volumes.sum()
        return np.array([wall, surface, mean])


def lsoda(cells: Cells, times: Array, tolerance: float) -> Array:
    """LSODA with its banded Jacobian."""
    found = odeint(
        lambda content, _: cells.rate(content),
        np.ones(cells.count),
        np.append(0.0, times),
        Dfun=lambda content, _: cells.jacobian(content),
        ml=1,
        mu=1,
        rtol=tolerance,
        atol=tolerance,
        mxstep=5000,
    )
    return np.asarray(found[1:])


def _ivp(cells: Cells, times: Array, tolerance: float, *, method: str) -> Array:
    found = solve_ivp(
        lambda _, content: cells.rate(content),
        (0.0, float(times[-1])),
        np.ones(cells.count),
        t_eval=times,
        method=method,
        jac=lambda _, content: cells.full_jacobian(content),
        rtol=tolerance,
        atol=tolerance,
    )
    return np.asarray(found.y.T)


def bdf(cells: Cells, times: Array, tolerance: float) -> Array:
    """BDF with a dense Jacobian, which is what it can use."""
    return _ivp(cells, times, tolerance, method="BDF")


def radau(cells: Cells, times: Array, tolerance: float) -> Array:
    """Radau IIA with a dense Jacobian."""
    return _ivp(cells, times, tolerance, method="Radau")


def cvode(cells: Cells, times: Array, tolerance: float) -> Array:
    """SUNDIALS' CVODE with its banded solver, where scikit-sundae is installed."""
    from sksundae.cvode import CVODE

    def rate(_time: float, content: Array, into: Array) -> None:
        into[:] = cells.rate(content)

    def jacobian(_time: float, content: Array, _rate: Array, into: Array) -> None:
        bands, count = cells.jacobian(content), cells.count
        into.flat[1 :: count + 1] = bands[0, 1:]
        into.flat[:: count + 1] = bands[1]
        into.flat[count :: count + 1] = bands[2, :-1]

    solver = CVODE(
        rate,
        rtol=tolerance,
        atol=tolerance,
        linsolver="band",
        lband=1,
        uband=1,
        jacfn=jacobian,
    )
    return np.asarray(solver.solve(np.append(0.0, times), np.ones(cells.count)).y[1:])


def follow(balls: Balls, solver: Solver, setting: Setting) -> Array:
    """All draws, one after the other: (draws, 3, outputs)."""
    found = []
    for draw in range(len(balls)):
        cells = Cells(balls, draw, setting)
        found.append(cells.read(solver(cells, balls.times, setting.tolerance)))
    return np.array(found)


def fine(balls: Balls, *, cells: int = 100, tolerance: float = 1e-8) -> Array:
    """The judge: LSODA on two fine cuts, extrapolated to none."""
    one, two = (
        follow(balls, lsoda, Setting(count, 2.0, tolerance)) for count in (cells, 2 * cells)
    )
    return (4.0 * two - one) / 3.0
