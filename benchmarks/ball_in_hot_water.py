"""Heat into balls with a sealed core: the radial engine against LSODA, both judged by the series.

The same seeded balls, outputs and error for both. The error is the largest difference from the
exact series at the inner wall, at the surface and on average, over all outputs, per step of
temperature. A side that misses it gets no ratio.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from statistics import median
from time import perf_counter
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.integrate import odeint

from baitwright.physics.radial import HeatHow, Leg, heat
from baitwright.physics.radial_ball import Ball, Layer
from baitwright.physics.series import sphere_series

if TYPE_CHECKING:
    from collections.abc import Callable

SEED = 20_261_125
OUTPUTS = 60
DURATION = 120.0  # s
OUTSIDE, START = 372.0, 300.0  # K
JUDGED = 64  # draws whose error is taken; the peer is timed on them too
ROUNDS = 5
Array = np.ndarray[Any, np.dtype[np.float64]]


@dataclass(frozen=True)
class Accuracy:
    """An error to reach, and the cheapest settings found that reach it, for either side."""

    error: float
    cells: int
    step: float
    peer_cells: int
    peer_grading: float
    peer_tolerance: float


ACCURACIES = (
    Accuracy(2e-3, cells=36, step=0.25, peer_cells=20, peer_grading=1.5, peer_tolerance=1e-4),
    Accuracy(5e-4, cells=72, step=0.125, peer_cells=40, peer_grading=1.5, peer_tolerance=1e-5),
)
GOAL = "1500x with the modal series, at 1e-4"


@dataclass(frozen=True)
class Balls:
    """Radii [m], conductivity [W/m/K], density [kg/m3], heat capacity [J/kg/K], film [W/m2/K]."""

    outer: Array
    core: Array
    conductivity: Array
    density: Array
    heat_capacity: Array
    film: Array

    @classmethod
    def drawn(cls, count: int) -> Balls:
        """Seeded draws; the first of many are the same as of few."""
        low = np.array([7e-3, 4e-3, 0.30, 1100.0, 2900.0, 500.0])
        high = np.array([10e-3, 5.5e-3, 0.45, 1200.0, 3400.0, 2000.0])
        unit = np.random.default_rng(SEED).random((count, 6))
        return cls(*(low + unit * (high - low)).T)

    def __len__(self) -> int:
        return len(self.outer)


def exact(balls: Balls) -> Array:
    """Excess at wall, surface and on average, (draws, 3, outputs)."""
    times = np.linspace(0.0, DURATION, OUTPUTS + 1)[1:]
    found = []
    for i in range(len(balls)):
        biot = float(balls.film[i] * balls.outer[i] / balls.conductivity[i])
        series = sphere_series(float(balls.outer[i]), float(balls.core[i]), biot=biot, terms=120)
        diffused = times * balls.conductivity[i] / (balls.density[i] * balls.heat_capacity[i])
        found.append([series.innermost(diffused), series.surface(diffused), series.mean(diffused)])
    return np.array(found)


def ours(balls: Balls, accuracy: Accuracy) -> Array:
    """The radial engine, all draws at once."""
    shell = Layer(balls.conductivity, balls.density, balls.heat_capacity)
    ball = Ball(balls.outer, balls.core, shell)
    legs = [Leg(DURATION, OUTSIDE, balls.film)]
    run = heat(ball, legs, start=START, step=accuracy.step, how=HeatHow(cells=(0, accuracy.cells)))
    every = round(DURATION / OUTPUTS / accuracy.step)
    kept = np.array([run.innermost_shell, run.surface, run.shell_mean])[:, every::every]
    return ((OUTSIDE - kept) / (OUTSIDE - START)).transpose(2, 0, 1)


def peer(balls: Balls, accuracy: Accuracy) -> Array:
    """LSODA with its banded Jacobian on finite volumes, draw after draw."""
    return np.array([_peer_draw(balls, i, accuracy) for i in range(len(balls))])


def _peer_draw(balls: Balls, i: int, accuracy: Accuracy) -> Array:
    cells, conductivity = accuracy.peer_cells, balls.conductivity[i]
    place = 1.0 - (1.0 - np.linspace(0.0, 1.0, cells + 1)) ** accuracy.peer_grading
    faces = balls.core[i] + place * (balls.outer[i] - balls.core[i])
    areas, volumes = 4.0 * np.pi * faces**2, 4.0 / 3.0 * np.pi * np.diff(faces**3)
    half = 0.5 * np.diff(faces) / conductivity
    capacity = balls.density[i] * balls.heat_capacity[i] * volumes
    inner, skin, film = areas[1:-1] / (half[1:] + half[:-1]), areas[-1] / half[-1], balls.film[i]
    outer = 1.0 / (1.0 / skin + 1.0 / (film * areas[-1]))
    leaving = (np.append(inner, outer) + np.append(0.0, inner)) / capacity
    bands = np.array(
        [np.append(0.0, inner / capacity[:-1]), -leaving, np.append(inner / capacity[1:], 0.0)]
    )
    flow = np.zeros(cells + 1)

    def rate(excess: Array, _time: float) -> Array:
        np.multiply(inner, excess[1:] - excess[:-1], out=flow[1:-1])
        flow[-1] = -outer * excess[-1]
        return (flow[1:] - flow[:-1]) / capacity

    excess = odeint(
        rate,
        np.ones(cells),
        np.linspace(0.0, DURATION, OUTPUTS + 1),
        Dfun=lambda _excess, _time: bands,
        ml=1,
        mu=1,
        rtol=accuracy.peer_tolerance,
        atol=accuracy.peer_tolerance,
    )[1:]
    near, far = 0.5 * (faces[:2] + faces[1:3]) - faces[0]
    wall = (far**2 * excess[:, 0] - near**2 * excess[:, 1]) / (far**2 - near**2)
    surface = excess[:, -1] * skin / (skin + film * areas[-1])
    return np.array([wall, surface, excess @ volumes / volumes.sum()])


def seconds_per_draw(work: Callable[[], object], draws: int) -> float:
    """Wall time of one call, per draw."""
    began = perf_counter()
    work()
    return (perf_counter() - began) / draws


def report(counts: tuple[int, ...] = (1, 1024, 4096), rounds: int = ROUNDS) -> list[str]:
    """Lines of the comparison: errors first, then times per draw, interleaved, and the ratio."""
    lines = [f"heat into balls with a sealed core, {OUTPUTS} outputs, goal {GOAL}"]
    judged = Balls.drawn(JUDGED)
    truth = exact(judged)
    for accuracy in ACCURACIES:
        errors = [float(np.abs(side(judged, accuracy) - truth).max()) for side in (ours, peer)]
        names = [f"ours {errors[0]:.1e}", f"LSODA {errors[1]:.1e}"]
        lines.append(f"  error to reach {accuracy.error:.0e}: " + ", ".join(names))
        if missed := [n for n, e in zip(names, errors, strict=True) if e > accuracy.error]:
            lines.append(f"    no ratio: {', '.join(missed)} missed it")
            continue
        for count in counts:
            mine, theirs = (
                partial(ours, Balls.drawn(count), accuracy),
                partial(peer, judged, accuracy),
            )
            pairs = [
                (seconds_per_draw(mine, count), seconds_per_draw(theirs, JUDGED))
                for _ in range(rounds)
            ]
            us, them = median(pair[0] for pair in pairs), median(pair[1] for pair in pairs)
            lines.append(
                f"    {count:5} draws: ours {us * 1e6:8.1f} us, LSODA {them * 1e6:8.1f} us a draw,"
                f" {them / us:.2g}x"
            )
    return lines


if __name__ == "__main__":
    print("\n".join(report()))
