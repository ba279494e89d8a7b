"""Seeded balls for tests and benchmarks: the same few are the first of the many.

Corners of every range come often: three draws in ten, either end.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

Array = np.ndarray[Any, np.dtype[np.float64]]
SEED = 20_261_125
OUTPUTS = 60


def spread(random: np.random.Generator, low: float, high: float, *, count: int) -> Array:
    """Draws from a range, three in ten of them at one of its ends."""
    ends = np.where(random.random(count) < 0.5, low, high)
    return np.where(random.random(count) < 0.3, ends, random.uniform(low, high, count))


@dataclass(frozen=True)
class Balls:
    """Balls that lose what is in them, from 1 toward 0, (draws,); sealed core, or none where 0.

    Outer radius and core radius [m]; diffusivity at 1 [m2/s] and growth of its logarithm up to
    there [1]; Biot number at 1; duration of the run [s].
    """

    outer: Array
    core: Array
    diffusivity: Array
    steepness: Array
    biot: Array
    duration: float

    @property
    def film(self) -> Array:
        """Film coefficient [m/s]."""
        return self.biot * self.diffusivity / self.outer

    @property
    def times(self) -> Array:
        """Output times, even and without 0 [s]."""
        return np.linspace(0.0, self.duration, OUTPUTS + 1)[1:]

    def __len__(self) -> int:
        return len(self.outer)

    def some(self, count: int) -> Balls:
        """The first so many."""
        arrays = (self.outer, self.core, self.diffusivity, self.steepness, self.biot)
        return Balls(*(array[:count] for array in arrays), self.duration)


def even_balls(count: int, *, solid: bool = False) -> Balls:
    """Constant diffusivity: heat into balls of 14 to 20 mm, two minutes."""
    random = np.random.default_rng(SEED)
    outer, core = (
        spread(random, 7e-3, 10e-3, count=65_536),
        spread(random, 4e-3, 5.5e-3, count=65_536),
    )
    diffusivity = spread(random, 0.9e-7, 1.5e-7, count=65_536)
    biot = spread(random, 8.0, 80.0, count=65_536)
    flat = np.zeros_like(outer)
    return Balls(outer, flat if solid else core, diffusivity, flat, biot, 120.0).some(count)


def steep_balls(count: int, *, solid: bool = False) -> Balls:
    """Diffusivity that follows the content: water out of balls of 14 to 20 mm, a day."""
    random = np.random.default_rng(SEED + 1)
    outer, core = (
        spread(random, 7e-3, 10e-3, count=65_536),
        spread(random, 4e-3, 5.5e-3, count=65_536),
    )
    steepness = spread(random, -1.0, 4.0, count=65_536)
    mean = 10.0 ** spread(random, -11.0, -10.0, count=65_536)  # over the range of contents
    gentle = np.where(np.abs(steepness) < 1e-6, 1e-6, steepness)
    diffusivity = mean * gentle / -np.expm1(-gentle)
    biot = 10.0 ** spread(random, 0.0, 3.0, count=65_536)
    core = np.zeros_like(core) if solid else core
    return Balls(outer, core, diffusivity, steepness, biot, 86_400.0).some(count)
