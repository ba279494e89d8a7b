"""The set front in the pot: how deep the paste has set, second after second."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.physics.limits import Array
from baitwright.physics.protein_set import albumen_rate, running_integral, set_extent
from baitwright.physics.radial import Ball, Bath, HeatRun, Leg, heat
from baitwright.terms.quantity import declared
from baitwright.terms.units import MILLIMETRES

_SET = 0.95
"""A place counts as set when this share of its albumen is."""
_STEPS = 120
"""Time steps of the run with its profiles; twice as many move its bands by less than 0.1 mm."""
_AT_ONCE = 64
"""Baits whose profiles are worked through together, which is quicker than all at once."""


def per_ball(values: Any, ball: Ball) -> Any:
    """Draws per batch, once for each bait of the batch."""
    bare = np.asarray(values)
    if bare.ndim == 0:
        return float(bare)
    count = np.asarray(ball.outer_radius).size
    return np.repeat(bare.ravel(), count // bare.size) if bare.size < count else bare.ravel()


@dataclass(frozen=True, slots=True)
class SetFront:
    """Depth of set paste from the surface [m] at some seconds."""

    seconds: tuple[float, ...]
    depths: tuple[float, ...]


@declared(
    "set_front",
    label="set front",
    unit=MILLIMETRES,
    equation="depth from the surface at which 95 % of the albumen has set, by time",
    source="di-lorenzo-2025",
)
def set_front(run: HeatRun, seconds: Any) -> SetFront:
    """How deep the set has gone, at eight times up to the advised one."""
    times = np.linspace(seconds / 8.0, seconds, 8)
    depths = _depths(run, slice(0, 1))[np.searchsorted(run.times, times), 0]
    return SetFront(tuple(map(float, times)), tuple(map(float, depths)))


@dataclass(frozen=True, slots=True)
class DepthRun:
    """Depths (t, n) of set paste [m] at times (t,) of the heat model [s]."""

    times: Array
    depths: Array


@declared(
    "depth_run",
    label="set going deeper, by the heat model",
    equation="depth from the surface at which 95 % of the albumen has set, in every bait drawn",
    source="di-lorenzo-2025",
    note="followed for as long as the seconds in the pot are",
)
def depth_run(ball: Ball, pot: Bath, film: Any, start: Any, followed: Any) -> DepthRun:
    """Every bait in the boiling pot, with its profiles."""
    leg = Leg(followed, pot, per_ball(film, ball))
    run = heat(ball, [leg], start=start, step=followed / _STEPS, keep_profiles=True)
    count = run.surface.shape[1]
    lots = [slice(at, at + _AT_ONCE) for at in range(0, count, _AT_ONCE)]
    return DepthRun(run.times, np.concatenate([_depths(run, lot) for lot in lots], axis=1))


def _depths(run: HeatRun, lot: slice) -> Array:
    """Depth of the set skin of some baits [m], from profiles that grow outward."""
    assert run.profiles is not None
    shell = run.radii[run.core_cells :, lot]
    profiles = run.profiles[:, run.core_cells :, lot]
    extent = -np.expm1(-running_integral(run.times, np.asarray(albumen_rate(profiles))))
    wall, surface = (
        set_extent(run.times, series[:, lot], albumen_rate)
        for series in (run.innermost_shell, run.surface)
    )
    edge = shell[-1] + 0.5 * (shell[-1] - shell[-2])
    inner = shell[0] - 0.5 * (shell[1] - shell[0])
    radii = np.concatenate((inner[None], shell, edge[None]))
    along = np.concatenate((wall[:, None], extent, surface[:, None]), axis=1)
    along = np.maximum.accumulate(along, axis=1)
    after = np.maximum(np.argmax(along >= _SET, axis=1), 1)
    before = after - 1
    low, high = (np.take_along_axis(along, at[:, None], axis=1)[:, 0] for at in (before, after))
    near, far = (np.take_along_axis(radii, at, axis=0) for at in (before, after))
    part = np.clip((_SET - low) / np.maximum(high - low, 1e-12), 0.0, 1.0)
    inside = np.where(wall >= _SET, inner, near + part * (far - near))
    return np.asarray(np.where(surface < _SET, 0.0, edge - inside))


@declared(
    "set_depth",
    label="set deep",
    unit=MILLIMETRES,
    equation="depth by the heat model at seconds / factor",
    source="di-lorenzo-2025",
)
def set_depth(run: DepthRun, seconds: Any, factor: Any, diameter: Any) -> Any:
    """How deep each bait has set after some seconds in the pot, in the maker's kitchen."""
    when = np.broadcast_to(seconds / factor, np.shape(diameter)).ravel()
    after = np.clip(np.searchsorted(run.times, when), 1, run.times.size - 1)
    before, bait = after - 1, np.arange(when.size)
    part = (when - run.times[before]) / (run.times[after] - run.times[before])
    part = np.clip(part, 0.0, 1.0)
    depth = (1.0 - part) * run.depths[before, bait] + part * run.depths[after, bait]
    return depth.reshape(np.shape(diameter))
