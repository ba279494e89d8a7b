"""Steady from batch to batch? Individuals and EWMA charts, and two rules for what stands out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean

from baitwright.terms.errors import InputError, RangeError

D2_OF_TWO = 1.128
"""Mean range of two values by their standard deviation, as the handbook prints it."""
WIDTH = 3.0
"""Limits lie so many standard deviations off."""
BATCHES_FOR_LIMITS = 10
"""Batches from which limits are told (judgement)."""
IN_A_ROW = 8
"""Batches in a row on one side of the centre that stand out: 1 in 128 by chance alone."""


@dataclass(frozen=True, slots=True)
class Chart:
    """Values in order, their centre and a low and a high limit for each.

    ``single`` are the values behind smoothed ones; ``sd`` the standard deviation of a single one.
    """

    values: tuple[float, ...]
    centre: float
    low: tuple[float, ...]
    high: tuple[float, ...]
    sd: float
    single: tuple[float, ...] = ()

    @property
    def beyond(self) -> tuple[int, ...]:
        """Places of the values beyond a limit: the first rule."""
        rows = enumerate(zip(self.low, self.values, self.high, strict=True))
        return tuple(at for at, (low, value, high) in rows if not low <= value <= high)

    @property
    def on_one_side(self) -> tuple[int, ...]:
        """Places where a run on one side of the centre has become long: the second rule.

        Smoothed values run by nature and are not asked.
        """
        found, side, run = [], 0.0, 0
        for at, value in enumerate(() if self.single else self.values):
            now = math.copysign(1.0, value - self.centre) if value != self.centre else 0.0
            run = run + 1 if now and now == side else int(bool(now))
            side = now
            if run >= IN_A_ROW:
                found.append(at)
        return tuple(found)


def individuals(values: Sequence[float], *, settled: int | None = None) -> Chart:
    """A chart of single values, its limits from the moving range.

    Parameters
    ----------
    values: batch after batch.
    settled: limits are of the first so many; of all unless told.

    Notes
    -----
    limits = mean +- 3 (mean moving range) / 1.128.

    Raises
    ------
    InputError: fewer than two values.

    Reference: nist-handbook, section 6.3.2.2.
    """
    base = _several(values)[:settled]
    centre = fmean(_several(base))
    sd = _moving_range(base) / D2_OF_TWO
    low, high = centre - WIDTH * sd, centre + WIDTH * sd
    return Chart(tuple(values), centre, (low,) * len(values), (high,) * len(values), sd)


def ewma(
    values: Sequence[float],
    *,
    centre: float,
    sd: float,
    memory: float = 0.3,
    opening: bool = True,
) -> Chart:
    """A chart of exponentially weighted means, which sees a slow drift sooner.

    Parameters
    ----------
    values: batch after batch.
    centre: where they should lie.
    sd: standard deviation of a single value.
    memory: weight of the newest value, above 0 and at most 1.
    opening: limits start narrow and open; else those of a long series throughout.

    Notes
    -----
    z = memory y + (1 - memory) z before; limits = centre +- 3 sd sqrt(memory / (2 - memory)),
    opening by 1 - (1 - memory)^(2 t).

    Raises
    ------
    InputError: no values; RangeError: a memory beyond its limits.

    Reference: nist-handbook, section 6.3.2.4.
    """
    if not 0.0 < memory <= 1.0:
        raise RangeError("memory", memory, low=0.01, high=1.0)
    if not values:
        raise InputError("values", None, "one at least")
    smooth, last = [], centre
    for value in values:
        last = memory * value + (1.0 - memory) * last
        smooth.append(last)
    endless = WIDTH * sd * math.sqrt(memory / (2.0 - memory))
    open_by = [
        endless * (math.sqrt(1.0 - (1.0 - memory) ** (2 * at)) if opening else 1.0)
        for at in range(1, len(values) + 1)
    ]
    low, high = (tuple(centre + sign * one for one in open_by) for sign in (-1.0, 1.0))
    return Chart(tuple(smooth), centre, low, high, sd, tuple(values))


def _several(values: Sequence[float]) -> Sequence[float]:
    if len(values) < 2:
        raise InputError("values", len(values), "two at least, for a range between them")
    return values


def _moving_range(values: Sequence[float]) -> float:
    return fmean(abs(b - a) for a, b in pairwise(values))
