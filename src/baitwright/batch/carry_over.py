"""After the pot: the middle bait lifted out, its carry-over, and how deep the set has gone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.physics.protein_set import albumen_rate, running_integral, set_extent
from baitwright.physics.radial import Ball, Bath, HeatRun, Leg, heat
from baitwright.terms.quantity import declared
from baitwright.terms.units import CELSIUS, MILLIMETRES

_CARRY_OVER = 240.0
"""Seconds watched after lifting out: the centre peaks within 90 s."""
_SET = 0.95
"""A place counts as set when this share of its albumen is."""


@declared(
    "middle_run",
    label="the middle bait, into the pot and out again",
    equation="the same conduction, the advised time in the pot, then in air as warm as the start",
    source="crank-1975",
)
def middle_run(
    ball: Ball, pot: Bath, film: Any, air_film: Any, seconds: Any, start: Any
) -> HeatRun:
    """The middle bait through the pot and its carry-over in air, with all its profiles."""
    middle = Ball(
        np.atleast_1d(np.median(ball.outer_radius)),
        np.atleast_1d(np.median(ball.core_radius)),
        ball.shell,
        ball.core,
    )
    legs = [
        Leg(seconds, pot, float(np.median(film))),
        Leg(_CARRY_OVER, start, air_film),
    ]
    return heat(middle, legs, start=start, step=0.5, keep_profiles=True)


@declared(
    "coldest_when_lifted",
    label="coldest paste when lifted out",
    unit=CELSIUS,
    equation="temperature at the core's wall, or the centre, at the advised time",
    source="crank-1975",
)
def coldest_when_lifted(run: HeatRun, seconds: Any) -> Any:
    """Temperature of the coldest paste at the end of the boil."""
    return float(np.interp(seconds, run.times, run.innermost_shell[:, 0]))


@declared(
    "coldest_peak",
    label="coldest paste at its hottest, carried over",
    unit=CELSIUS,
    equation="highest temperature at the core's wall, or the centre, within 4 min",
    source="crank-1975",
)
def coldest_peak(run: HeatRun) -> Any:
    """Peak of the coldest paste after lifting out."""
    return float(np.max(run.innermost_shell))


@declared(
    "set_front",
    label="set front",
    unit=MILLIMETRES,
    equation="depth from the surface at which 95 % of the albumen has set, by time",
    source="di-lorenzo-2025",
)
def set_front(run: HeatRun, seconds: Any) -> SetFront:
    """How deep the set has gone, at eight times up to the advised one."""
    assert run.profiles is not None
    times = np.linspace(seconds / 8.0, seconds, 8)
    shell = run.radii[run.core_cells :, 0]
    profiles = run.profiles[:, run.core_cells :, 0]
    extent = -np.expm1(-running_integral(run.times, np.asarray(albumen_rate(profiles))))
    wall = set_extent(run.times, run.innermost_shell, albumen_rate)[:, 0]
    surface = set_extent(run.times, run.surface, albumen_rate)[:, 0]
    edge = shell[-1] + 0.5 * (shell[-1] - shell[-2])
    inner = shell[0] - 0.5 * (shell[1] - shell[0])
    radii = np.concatenate(([inner], shell, [edge]))
    depths = []
    for time in times:
        at = int(np.searchsorted(run.times, time))
        along = np.concatenate(([wall[at]], extent[at], [surface[at]]))
        depths.append(_depth(radii, along))
    return SetFront(tuple(map(float, times)), tuple(depths))


def _depth(radii: Any, extent: Any) -> float:
    """Depth of the set skin, from a profile that grows outward."""
    if extent[-1] < _SET:
        return 0.0
    inside = np.interp(_SET, np.maximum.accumulate(extent), radii)
    return float(radii[-1] - (radii[0] if extent[0] >= _SET else inside))


@dataclass(frozen=True, slots=True)
class SetFront:
    """Depth of set paste from the surface [m] at some seconds."""

    seconds: tuple[float, ...]
    depths: tuple[float, ...]
