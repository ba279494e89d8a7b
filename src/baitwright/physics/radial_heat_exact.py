"""Heat in held surroundings by exact modes, in the shape of a run by finite volumes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from baitwright.physics.limits import Array, Values
from baitwright.physics.modal import FAINT, HELD, HeldStretch, ModalState, Sums, run_modes
from baitwright.physics.modes import Layers
from baitwright.physics.radial_ball import Ball, CutBall, Layer, ball_values, cut_ball
from baitwright.physics.radial_legs import Bath, HeatRun, Leg
from baitwright.physics.radial_problem import CHUNK, Method


def exact_heat(
    ball: Ball,
    legs: Sequence[Leg],
    *,
    steps: Sequence[int],
    start: Values,
    keep_profiles: bool = False,
    faint: float = FAINT,
) -> HeatRun:
    """The exact answer at every step of every leg.

    Parameters
    ----------
    ball: radii and materials, numbers or one per draw [Ball]
    legs: the surroundings in order, no bath among them [Leg]
    steps: number of steps of each leg [1]
    start: temperature at first, a number or one per draw [K]
    keep_profiles: whether to keep every profile [bool]
    faint: logarithm of the decay beyond which a mode is left out [1]

    Returns
    -------
    The run; its profiles are values in the middles of the cells, the last one means [HeatRun]
    """
    around = [value for leg in legs for value in (leg.surroundings, leg.coefficient)]
    bare = [value for value in around if not isinstance(value, Bath)]
    shapes = [np.shape(value) for value in (start, *ball_values(ball), *bare)]
    shape = np.broadcast_shapes((1,), *shapes)
    body = cut_ball(ball, shape, cells=None)
    layers = _layers(ball, shape, cored=bool(body.core_cells))
    first = np.broadcast_to(np.asarray(start, dtype=np.float64), shape)
    times = _times(legs, steps)
    kinds = 6 if body.core_cells else 4
    series = np.empty((kinds, times.size, *shape))
    profiles = np.empty((times.size, *body.radii.shape)) if keep_profiles else None
    profile = np.empty_like(body.radii)
    held = _held(legs, layers)
    for begin in range(0, first.size, CHUNK):
        part = slice(begin, begin + CHUNK)
        some = None if profiles is None else profiles[..., part]
        state = run_modes(
            layers.part(part),
            [HeldStretch(leg.duration, leg.outside[part], leg.biot[part]) for leg in held],
            start=first[part],
            times=times,
            into=Sums(series[..., part], some, body.radii[:, part]),
            faint=faint,
        )
        profile[:, part] = _cell_means(state, body.faces[:, part], core_cells=body.core_cells)
    wall, surface, mean = series[:3]
    return HeatRun(
        times=times,
        innermost_shell=wall,
        surface=surface,
        shell_mean=mean,
        surroundings=_surroundings(held, steps),
        heat_in=_heat_in(body, mean - first, series[5] - first if body.core_cells else None),
        heat_vented=np.zeros_like(wall),
        radii=body.radii,
        capacities=body.capacity,
        core_cells=body.core_cells,
        profile=profile,
        profiles=profiles,
        method=Method.MODES,
    )


def _layers(ball: Ball, shape: tuple[int, ...], *, cored: bool) -> Layers:
    def properties(layer: Layer) -> tuple[Array, Array]:
        conductivity = np.asarray(layer.conductivity, dtype=np.float64)
        diffusivity = conductivity / (np.asarray(layer.density) * layer.heat_capacity)
        return np.broadcast_to(conductivity, shape), np.broadcast_to(diffusivity, shape)

    outer = np.broadcast_to(np.asarray(ball.outer_radius, dtype=np.float64), shape)
    inner = np.broadcast_to(np.asarray(ball.core_radius, dtype=np.float64), shape)
    if not cored or ball.core is None:
        return Layers(outer, inner, *properties(ball.shell))
    return Layers(outer, inner, *properties(ball.shell), *properties(ball.core))


def _held(legs: Sequence[Leg], layers: Layers) -> list[HeldStretch]:
    held = []
    for leg in legs:
        assert not isinstance(leg.surroundings, Bath)
        outside = np.asarray(leg.surroundings, dtype=np.float64)
        biot = leg.coefficient * layers.outer_radius / layers.conductivity
        outside = np.broadcast_to(outside, layers.outer_radius.shape)
        held.append(HeldStretch(leg.duration, outside, np.minimum(biot, HELD)))
    return held


def _times(legs: Sequence[Leg], steps: Sequence[int]) -> Array:
    times, began = [0.0], 0.0
    for leg, count in zip(legs, steps, strict=True):
        times += [began + number * (leg.duration / count) for number in range(1, count + 1)]
        began += leg.duration
    return np.array(times)


def _surroundings(held: Sequence[HeldStretch], steps: Sequence[int]) -> Array:
    rows = [held[0].outside[None]]
    rows += [
        np.broadcast_to(leg.outside, (count, leg.outside.size))
        for leg, count in zip(held, steps, strict=True)
    ]
    return np.concatenate(rows)


def _heat_in(body: CutBall, shell: Array, core: Array | None) -> Array:
    """Heat taken up [J] from the rises of both means [K]."""
    gained = shell * body.capacity[body.core_cells :].sum(axis=0)
    if core is not None:
        gained += core * body.capacity[: body.core_cells].sum(axis=0)
    return np.asarray(gained)


def _cell_means(state: ModalState, faces: Array, *, core_cells: int) -> Array:
    """Means over the cells between these faces."""
    modes = state.modes
    means = np.empty((len(faces) - 1, faces.shape[1]))
    for cell, (inside, outside) in enumerate(pairwise(faces)):
        kind = modes.mean_between(inside, outside, core=cell < core_cells)
        means[cell] = state.outside + (kind * state.amplitudes).sum(axis=0)
    return means
