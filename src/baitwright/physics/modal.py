"""Balls of constant properties through held surroundings, exact in place and time, by their modes.

Many draws at once; arrays are (times, draws). What the ball was when a stretch ends is handed on as
amplitudes of its modes, and projected onto the modes behind the next film.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from baitwright.physics.half_space import REACHED, HalfSpace
from baitwright.physics.limits import Array
from baitwright.physics.modes import Layers, Modes, find_modes

HELD = 1e12
"""The Biot number of a surface without a film; its error is one in as many [1]."""
MOST_MODES = 600
FAINT = 16.0
"""A mode is left out when its decay times the time exceeds this: 1e-7 [1]."""


@dataclass(frozen=True, slots=True)
class HeldStretch:
    """Time in the same surroundings: duration [s], their value [K or kg/kg], Biot number [1]."""

    duration: float
    outside: Array
    biot: Array


@dataclass(frozen=True, slots=True)
class ModalState:
    """Where a ball stands: its modes, their amplitudes [K m], the value they decay to [K]."""

    modes: Modes
    amplitudes: Array
    outside: Array

    def means(self) -> tuple[Array, Array]:
        """Means over the shell, and over a conducting core or the shell again [K or kg/kg]."""
        kinds = [self.modes.shell_mean()]
        if self.modes.core_wave is not None:
            kinds.append(self.modes.core_mean())
        means = [self.outside + (kind * self.amplitudes).sum(axis=0) for kind in kinds]
        return means[0], means[-1]


@dataclass(frozen=True, slots=True)
class Sums:
    """What a run fills in: series and profiles, which may be parts of larger arrays.

    Series, (kinds, times, draws): wall, surface, shell's mean [K or kg/kg], fall of the value
    outward at the surface [K/m], and with a conducting core its centre and mean [K or kg/kg].
    Profiles, (times, places, draws) [K or kg/kg] at radii (places, draws) [m], where wanted.
    """

    series: Array
    profiles: Array | None = None
    radii: Array | None = None

    def rows(self, first: int, until: int) -> Sums:
        """The part for some of the outputs [1], from the first [1] until another [1]."""
        profiles = None if self.profiles is None else self.profiles[first:until]
        return Sums(self.series[:, first:until], profiles, self.radii)

    def raise_by(self, outside: Array) -> None:
        """Add what the sums decay to [K or kg/kg]."""
        self.series[:3] += outside
        self.series[4:] += outside
        if self.profiles is not None:
            self.profiles[:] += outside

    def put(
        self, row: int, where: NDArray[np.bool_], *, early: tuple[list[Array], Array | None]
    ) -> None:
        """Replace a row [1] for some of the draws [1] by what the half space gives [record]."""
        values, profile = early
        for series, value in zip(self.series, values, strict=True):
            np.copyto(series[row], value, where=where)
        if self.profiles is not None and profile is not None:
            np.copyto(self.profiles[row], profile, where=where)


def run_modes(
    layers: Layers,
    stretches: Sequence[HeldStretch],
    *,
    start: Array | ModalState,
    times: Array,
    into: Sums,
    faint: float = FAINT,
) -> ModalState:
    """A ball through its surroundings, one stretch after the other.

    Parameters
    ----------
    layers: what the balls are made of, (draws,) [Layers]
    stretches: the surroundings in order [HeldStretch]
    start: the value at first, per draw, or where an earlier run of the same balls ended [K]
    times: rising, from 0 to the end of the last stretch [s]
    into: where the sums go [Sums]
    faint: logarithm of the decay beyond which a mode is left out [1]

    Returns
    -------
    Where the balls stand at the end [ModalState]

    Notes
    -----
    theta(r, t) = sum A U(r)/r exp(-mu^2 D t). While no more than ``REACHED`` L^2 has diffused since
    a uniform start, the surface is that of a half space instead, and what lies a shell's thickness
    L inside is as it was.

    Reference: carslaw-jaeger-1959, ch. 9.
    """
    state: Array | ModalState = start
    began, first = 0.0, 0
    for number, stretch in enumerate(stretches):
        end = (began + stretch.duration) * (1.0 + 1e-12)
        last = number == len(stretches) - 1
        until = len(times) if last else int(np.searchsorted(times, end, side="right"))
        local = np.maximum(times[first:until] - began, 0.0)
        state = _through(
            layers, stretch, state, local=local, into=into.rows(first, until), faint=faint
        )
        began, first = began + stretch.duration, until
    assert isinstance(state, ModalState)
    return state


def _through(
    layers: Layers,
    stretch: HeldStretch,
    start: Array | ModalState,
    *,
    local: Array,
    into: Sums,
    faint: float,
) -> ModalState:
    """One stretch: fills the outputs and gives the state at its end."""
    uniform = not isinstance(start, ModalState)
    if isinstance(start, ModalState) and local.size and local[0] == 0.0:
        still = int(np.searchsorted(local, 0.0, side="right"))
        at_once = into.rows(0, still)
        _sum(start.modes, start.amplitudes, local=local[:still], into=at_once, faint=faint)
        at_once.raise_by(start.outside)
        local, into = local[still:], into.rows(still, len(local))
    reached = REACHED * layers.span**2 / layers.diffusivity if uniform else np.zeros(1)
    later = local[local > reached.min()]
    earliest = np.maximum(reached, later[0] if later.size else stretch.duration)
    earliest = np.minimum(earliest, stretch.duration)
    count = min(layers.modes_needed(faint / earliest), MOST_MODES)
    modes = find_modes(layers, stretch.biot, count=count)
    if isinstance(start, ModalState):
        amplitudes = _projected(start, modes, stretch)
    else:
        amplitudes = modes.uniform() * (start - stretch.outside)
    _sum(modes, amplitudes, local=local, into=into, faint=faint)
    into.raise_by(stretch.outside)
    if not isinstance(start, ModalState):
        for row in np.flatnonzero(local <= reached.max()):
            time = float(local[row])
            early = _early(layers, stretch, start, time=time, radii=into.radii)
            into.put(int(row), time <= reached, early=early)
    return ModalState(modes, amplitudes * np.exp(-modes.rate * stretch.duration), stretch.outside)


def _projected(before: ModalState, modes: Modes, stretch: HeldStretch) -> Array:
    """Amplitudes behind the new film of what the old one left."""
    amplitudes = modes.uniform() * (before.outside - stretch.outside)
    scale = np.abs(before.amplitudes).max(axis=1)
    alive = np.flatnonzero(scale > 1e-13 * max(float(scale.max()), 1e-300))
    for row in alive:
        amplitudes += before.amplitudes[row] * modes.overlap(before.modes, row=int(row))
    return amplitudes


def _sum(modes: Modes, amplitudes: Array, *, local: Array, into: Sums, faint: float) -> None:
    """Sums of the modes at every output, the fast ones only while they last."""
    kinds = [modes.at_wall(), modes.at_surface(), modes.shell_mean(), modes.outflow()]
    if modes.core_wave is not None:
        kinds += [modes.at_centre(), modes.core_mean()]
    series = len(kinds)
    if into.radii is not None:
        kinds += [modes.at(radius) for radius in into.radii]
    weights = np.array(kinds)
    weights *= amplitudes
    slowest = modes.rate.min(axis=1)
    alive = np.searchsorted(slowest, faint / np.maximum(local, 1e-300))
    for row, decay in enumerate(_decays(modes.rate, local, np.maximum(alive, 1))):
        left = weights[:, : len(decay)]
        np.einsum("kmn,mn->kn", left[:series], decay, out=into.series[:, row])
        if into.profiles is not None:
            np.einsum("kmn,mn->kn", left[series:], decay, out=into.profiles[row])


def _decays(rate: Array, local: Array, alive: Array) -> Iterator[Array]:
    """What is left of the modes still alive at each output; by powers where outputs are even."""
    steps = np.diff(local)
    even = local.size > 2 and bool(np.allclose(steps, steps[0], rtol=1e-9, atol=0.0))
    if not even:
        for time, count in zip(local, alive, strict=True):
            yield np.exp(-rate[:count] * time)
        return
    decay, step = np.exp(-rate * local[0]), np.exp(-rate * steps[0])
    for row, count in enumerate(alive):
        decay = decay[:count]
        if row:
            decay *= step[:count]
        yield decay


def _early(
    layers: Layers, stretch: HeldStretch, start: Array, *, time: float, radii: Array | None
) -> tuple[list[Array], Array | None]:
    """One output row while the middle is as it was: the series, and the profile."""
    outer, biot, excess = layers.outer_radius, stretch.biot, start - stretch.outside
    wall = np.broadcast_to(start, outer.shape)
    profile = None if radii is None else np.broadcast_to(start, radii.shape)
    if time > 0.0:
        half = HalfSpace(outer, layers.core_radius, biot, layers.diffusivity * time)
        left, kept = half.surface_and_mean()
        mean, fall = stretch.outside + excess * kept, biot / outer * left * excess
        if radii is not None:
            profile = np.array([stretch.outside + excess * half.local(radius) for radius in radii])
    else:
        left = np.where(biot < HELD, 1.0, 0.0)
        mean = wall
        fall = np.where(biot < HELD, biot / outer, np.inf) * np.where(excess == 0.0, 1e-300, excess)
    values = [wall, stretch.outside + excess * left, mean, fall]
    if layers.core_conductivity is not None:
        values += [wall, wall]
    return values, profile
