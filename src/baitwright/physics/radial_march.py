"""Steps uniform in the cube root of time: the nonlinear engine under moisture and transport.

A profile in new surroundings changes with the square root of time at first; evenly spaced in the
cube root, third-order steps see both that and the slow end with a few dozen steps.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from baitwright.physics.limits import Array
from baitwright.physics.shells import DenseSystem, ShellSystem

STEPS = 52
"""Time steps of a run [1]."""
FEWEST_STEPS = 24
"""Time steps of any leg, however short [1]."""
CORRECTED = 0.27
"""Share of a leg's steps, the first, solved twice: there the conductances outrun what is foretold
of them [1]."""
FEW_DRAWS = 3
"""Up to so many draws full matrices are quicker than loops over rows [1]."""

# Backward differences of order 1 to 3: weight of the new level, then of those before it.
DIFFERENCES = ((1.0, (1.0,)), (1.5, (2.0, -0.5)), (11.0 / 6.0, (3.0, -1.5, 1.0 / 3.0)))
# What the levels so far foretell of the next.
FORETELL = ((1.0,), (2.0, -1.0), (3.0, -3.0, 1.0))


class Surface(Protocol):
    """What closes the equations at the surface.

    Its content [K or kg/kg] and temperature [K] are those of the last answer.
    """

    content: Array
    temperature: Array

    def meet(self, content: Array) -> None:
        """Take over a surface of this content [K or kg/kg]."""

    def flow(self, still: Array, resistance: Array, area: Array) -> Array:
        """Flow out [W or kg/s] from the content without any [K or kg/kg], the fall of content per
        flow [s/kg], and the area [m2].
        """


class Conductor(Protocol):
    """How well each face conducts at a level."""

    def __call__(self, content: Array, temperature: Array) -> tuple[Array, Array]:
        """Conductances of the faces [W/K or kg/s] and the outer area [m2].

        At contents of the cells and the surface [K or kg/kg], which it may overwrite, and the
        temperature [K].
        """


@dataclass(frozen=True, slots=True)
class Holdings:
    """What the cells hold per content, and by how much the flow at each inner face lags, inside
    and outside of it; (cells, draws) and (cells - 1, draws) [J/K or kg].
    """

    cells: Array
    lag_inside: Array
    lag_outside: Array


class March:
    """The last levels, evenly spaced in the cube root of the leg's time, and the next step.

    A level is one array: contents of the cells, then of the surface [K or kg/kg], then what has
    been lost [J or kg] and the temperature of the surface [K].
    """

    def __init__(self, holdings: Holdings, conductor: Conductor, content: Array) -> None:
        self.holdings, self.conductor = holdings, conductor
        cells, draws = content.shape
        first = np.zeros((cells + 3, draws))
        first[:-3], first[-3] = content, content[-1]
        self.levels = [first]
        few = draws <= FEW_DRAWS
        self._dense = DenseSystem(cells, draws) if few else None
        self._rows = ShellSystem(cells, draws)
        self._before, self._guess, self._work = np.empty((3, cells + 3, draws))
        self._lags = np.array((holdings.lag_inside, -holdings.lag_outside))
        self._lag_rates, self._exchange = np.empty((2, 2, cells - 1, draws))
        self._capacity, self._load = np.empty((2, cells, draws))

    @property
    def cells(self) -> Array:
        """Contents of the cells [K or kg/kg]."""
        return self.levels[-1][:-3]

    @property
    def surface_content(self) -> Array:
        """Content of the surface [K or kg/kg]."""
        return np.asarray(self.levels[-1][-3])

    @property
    def lost(self) -> Array:
        """What has been lost since the march began [J or kg]."""
        return np.asarray(self.levels[-1][-2])

    def meet(self, surface: Surface) -> None:
        """Enter new surroundings: what came before is no guide to the rates to come."""
        self.surface = surface
        level = self.levels[-1].copy()
        surface.meet(level[-3])
        level[-3], level[-1] = surface.content, surface.temperature
        self.levels = [level]

    def go(self, spacing: float, count: int) -> Iterator[float]:
        """Take so many steps [1] of a spacing [s^(1/3)]; yields the root [s^(1/3)] at each."""
        corrected = corrected_steps(count)
        for place in range(1, count + 1):
            self._step(place, spacing, solves=2 if place <= corrected else 1)
            yield place * spacing

    def _step(self, place: int, size: float, *, solves: int) -> None:
        known = self.levels[::-1]
        weight, past = DIFFERENCES[len(known) - 1]
        # The first step of a leg is implicit in time itself: its rate in the root is none at 0.
        rate = weight / (3.0 * (place * size) ** 2 * size) if len(known) > 1 else 1.0 / size**3
        self._blend([share / weight for share in past], known, out=self._before)
        self._blend(FORETELL[len(known) - 1], known, out=self._guess)
        self._lay_out(rate)
        content, temperature = self._guess[:-2], self._guess[-1]
        for _ in range(solves):
            level = self._next(content, temperature, rate)
            content, temperature = np.array(level[:-2]), level[-1]
        self.levels = [*self.levels[-2:], level]

    def _blend(self, shares: Sequence[float], levels: Sequence[Array], *, out: Array) -> None:
        """A sum of levels, each with its share."""
        np.multiply(levels[0], shares[0], out=out)
        for share, level in zip(shares[1:], levels[1:], strict=True):
            np.multiply(level, share, out=self._work)
            out += self._work

    def _lay_out(self, rate: float) -> None:
        """What the cells and the lagging flows hold of before, and their capacities, per step."""
        holdings, before, load = self.holdings, self._before[:-3], self._load
        lagging, work = self._exchange
        np.multiply(holdings.lag_inside, before[:-1], out=lagging)
        np.multiply(holdings.lag_outside, before[1:], out=work)
        lagging += work
        np.multiply(holdings.cells, before, out=load)
        load[:-1] += lagging
        load[1:] -= lagging
        load *= rate
        np.multiply(holdings.cells, rate, out=self._capacity)
        np.multiply(self._lags, rate, out=self._lag_rates)

    def _next(self, content: Array, temperature: Array, rate: float) -> Array:
        """The level at which each cell's gain since before is what flows into it."""
        conductance, area = self.conductor(content, temperature)
        np.add(self._lag_rates, conductance[:-1], out=self._exchange)
        level = np.empty_like(self._before)
        flow = self._solve(1.0 / conductance[-1], area, into=level[:-3])
        level[-3], level[-1] = self.surface.content, self.surface.temperature
        np.divide(flow, rate, out=level[-2])
        level[-2] += self._before[-2]
        return np.asarray(level)

    def _solve(self, skin: Array, area: Array, *, into: Array) -> Array:
        """The contents of the cells, into their place, and the flow out."""
        terms = self._capacity, *self._exchange
        if self._dense is not None:
            plain, per_flow = self._dense.solve(*terms, load=self._load)
            flow = self.surface.flow(plain[-1], per_flow[-1] + skin, area)
            np.multiply(per_flow, -flow, out=into)
            into += plain
            return flow
        rows = self._rows
        rows.factor(*terms)
        np.copyto(into, self._load)
        ease = 1.0 / rows.outer
        still = rows.fold(into) * ease
        flow = self.surface.flow(still, ease + skin, area)
        rows.unfold(into, still - flow * ease)
        return flow


@dataclass(frozen=True, slots=True)
class Between:
    """For each wanted time, the first of four recorded levels and their shares in it [1]."""

    first: Array
    shares: Array

    def of(self, rows: Array) -> Array:
        """Rows [unit] at the wanted times, from the recorded ones (levels, ...) [unit]."""
        found = np.empty((len(self.first), *rows.shape[1:]))
        for at, (first, shares) in enumerate(zip(self.first, self.shares, strict=True)):
            np.multiply(rows[first], shares[0], out=found[at])
            for ahead in range(1, shares.size):
                if shares[ahead]:
                    found[at] += shares[ahead] * rows[first + ahead]
        return found


def between(legs: Sequence[tuple[float, int]], wanted: Array) -> Between:
    """How to read the levels of a run at other times.

    Parameters
    ----------
    legs: duration and number of steps of each leg, the record having a level before all [s]
    wanted: times from the start of the first leg [s]

    Returns
    -------
    Where and with which shares [Between]

    Notes
    -----
    Cubics through four levels of one leg, in the cube root of its time.
    """
    return _between(tuple(legs), np.ascontiguousarray(wanted, dtype=np.float64).tobytes())


@lru_cache(maxsize=16)
def _between(legs: tuple[tuple[float, int], ...], times: bytes) -> Between:
    wanted = np.frombuffer(times)
    durations, counts = (np.array(column) for column in zip(*legs, strict=True))
    ends = np.cumsum(durations)
    leg = np.minimum(np.searchsorted(ends, wanted), len(legs) - 1)
    duration, count = durations[leg], counts[leg]
    local = np.maximum(wanted - (ends[leg] - duration), 0.0)
    place = np.cbrt(local / duration) * count
    whole = np.round(place)
    place = np.where(np.abs(place - whole) < 1e-9, whole, place)
    # The level at 0 had the surface of what came before: left out as soon as can be.
    first = np.clip(np.ceil(place).astype(np.intp) - 2, place >= 1.0, count - 3)
    shares = np.ones((wanted.size, 4))
    for level in range(4):
        for other in range(4):
            if other != level:
                shares[:, level] *= (place - first - other) / (level - other)
    # Before the first level what has passed goes with the square root of time.
    early = place < 1.0
    root = place[early] ** 1.5
    shares[early] = 0.0
    shares[early, 0], shares[early, 1] = 1.0 - root, root
    before = np.cumsum(counts) - counts
    return Between(first + before[leg], shares)


def corrected_steps(count: int) -> int:
    """How many of a leg's steps [1] are solved twice [1]."""
    return round(CORRECTED * count)


def steps_of(durations: Array, steps: int) -> list[int]:
    """How many [1] of the steps [1] each leg gets, by the roots of their durations [s]."""
    roots = np.cbrt(durations)
    return [max(FEWEST_STEPS, round(steps * root / roots.sum())) for root in roots]
