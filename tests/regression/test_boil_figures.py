"""Our own figures of the boil, worked out by another program with a finer cut, and frozen."""

from __future__ import annotations

import numpy as np
import pytest

from baitwright.physics.lethality import log_reduction
from baitwright.physics.protein_set import albumen_rate, set_extent, time_to_reach
from baitwright.physics.radial import Ball, HeatRun, Layer, Leg, heat

PASTE = Layer(0.37, 1130.0, 2675.0)
CORK = Layer(0.045, 200.0, 1900.0)
BOIL, ROOM = 373.15, 293.15


def boiled(diameter: float, core: float, *legs: Leg) -> HeatRun:
    ball = Ball(0.5e-3 * diameter, 0.5e-3 * core, PASTE, CORK if core else None)
    return heat(ball, legs or [Leg(300.0, BOIL, 1500.0)], start=ROOM)


# Diameter and core in mm; seconds to 95 and 99 % of the albumen, to half a second.
SET = [
    (10, 0, 56.5, 58.0),
    (14, 0, 103.0, 106.0),
    (18, 0, 163.0, 168.0),
    (24, 0, 277.0, 284.0),
    (12, 6, 47.0, 49.0),
    (15, 10, 43.0, 44.5),
    (16, 10, 56.0, 58.0),
    (17, 10, 69.5, 72.0),
    (18, 10, 84.0, 87.0),
    (20, 12, 89.0, 92.0),
    (20, 14, 61.0, 63.0),
]


@pytest.mark.parametrize(("diameter", "core", "normal", "hard"), SET)
def test_seconds_to_set(diameter: float, core: float, normal: float, hard: float) -> None:
    """Half a second by which the table is rounded, and half a second of its time step."""
    run = boiled(diameter, core)
    extent = set_extent(run.times, run.innermost_shell, albumen_rate)
    got = [float(time_to_reach(run.times, extent, wanted)[0]) for wanted in (0.95, 0.99)]
    assert got == pytest.approx([normal, hard], abs=1.0)


# Seconds to seven powers of ten in the water, T held from 70 C up.
SEVEN = [(17, 10, 56.0), (16, 10, 47.0), (15, 0, 94.0), (18, 0, 127.5), (20, 0, 153.0)]


@pytest.mark.parametrize(("diameter", "core", "seconds"), SEVEN)
def test_seconds_to_seven_powers_of_ten(diameter: float, core: float, seconds: float) -> None:
    run = boiled(diameter, core)
    fallen = log_reduction(run.times, run.innermost_shell)
    assert float(time_to_reach(run.times, fallen, 7.0)[0]) == pytest.approx(seconds, abs=1.0)


# Out of the pot after so many seconds; the wall or centre then, and its peak in air of film 40.
CARRIED = [
    (18, 0, 90.0, 56.1, 76.5),
    (18, 0, 120.0, 70.7, 83.5),
    (18, 0, 150.0, 80.7, 88.5),
    (17, 10, 45.0, 70.8, 79.0),
    (17, 10, 60.0, 81.1, 85.8),
    (17, 10, 75.0, 87.7, 90.4),
]


@pytest.mark.parametrize(("diameter", "core", "seconds", "lifted", "peak"), CARRIED)
def test_carry_over_in_air(
    diameter: float, core: float, seconds: float, lifted: float, peak: float
) -> None:
    """A tenth of a degree is printed; the other program's cut is good to as much again."""
    legs = (Leg(seconds, BOIL, 1500.0), Leg(240.0, ROOM, 40.0))
    run = boiled(diameter, core, *legs)
    wall = run.innermost_shell[:, 0] - 273.15
    assert np.interp(seconds, run.times, wall) == pytest.approx(lifted, abs=0.2)
    assert wall.max() == pytest.approx(peak, abs=0.2)
